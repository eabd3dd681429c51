package torque

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// DefaultMinForce is the force, in N, under which an arm or a tilt counts as
// undefined unless the caller says otherwise: common practice (no published
// source).
const DefaultMinForce = 20.0

// Arm is the distance at which a force passes a point, in m: in each plane with
// the sign of the moment there, and in space.
type Arm struct {
	Planes
	// ThreeD is |r × F| / |F|, the distance of the point from the line of the
	// force through the centre of pressure; never negative.
	ThreeD float64
}

// Arms returns the moment arms of w about com, m. With M the moment about com
// and free the free moment about the centre of pressure (see cop.Of), N·m:
//
//	frontal    = Mx / √(Fy² + Fz²)
//	sagittal   = My / √(Fx² + Fz²)
//	horizontal = (Mz − free) / √(Fx² + Fy²)
//	3-D        = |M − (0, 0, free)| / |F|
//
// The horizontal and the 3-D arm leave the free moment out: it turns without an
// arm. For the golfer as a whole w is the sum of both feet and free the net free
// moment.
//
// An arm is NaN when the force in its plane is less than minForce newtons or
// zero, or when a value that it is made of is NaN: an undefined free moment (of
// an unloaded plate) leaves the frontal and the sagittal arm.
func Arms(w grf.Wrench, com r3.Vec, free, minForce float64) Arm {
	f, m := w.Force, w.About(com)
	force := m // r × F, with r from com to the centre of pressure
	force.Z -= free
	return Arm{
		Planes: Planes{
			Frontal:    arm(m.X, math.Hypot(f.Y, f.Z), minForce),
			Sagittal:   arm(m.Y, math.Hypot(f.X, f.Z), minForce),
			Horizontal: arm(force.Z, math.Hypot(f.X, f.Y), minForce),
		},
		ThreeD: arm(r3.Norm(force), r3.Norm(f), minForce),
	}
}

func arm(moment, force, minForce float64) float64 {
	if !(force >= minForce) || !(force > 0) {
		return math.NaN()
	}
	return moment / force
}
