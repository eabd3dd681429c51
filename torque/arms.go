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
	return ArmsOf(About(w, com), w.Force, free, minForce)
}

// ArmsOf is [Arms] of a force whose moment about com is known already.
func ArmsOf(moment Planes, force r3.Vec, free, minForce float64) Arm {
	m := moment
	m.Horizontal -= free // r × F, with r from com to the centre of pressure
	xx, yy, zz := float64(force.X*force.X), float64(force.Y*force.Y), float64(force.Z*force.Z)
	all, turn := xx+yy+zz, float64(m.Frontal*m.Frontal)+float64(m.Sagittal*m.Sagittal)+float64(m.Horizontal*m.Horizontal)
	if all < 1e200 && turn > 1e-200 && turn < 1e200 && minForce > 1e-90 {
		// As nearly always. No square has overflowed, nor underflowed where it counts.
		return arms(m, math.Sqrt(turn), math.Sqrt(yy+zz), math.Sqrt(xx+zz), math.Sqrt(xx+yy), math.Sqrt(all), minForce)
	}
	return arms(m, length(m.Frontal, m.Sagittal, m.Horizontal),
		length(0, force.Y, force.Z), length(force.X, 0, force.Z), length(force.X, force.Y, 0), length(force.X, force.Y, force.Z), minForce)
}

// length returns √(x² + y² + z²), by math.Hypot where squares would overflow or
// underflow, and for NaN.
func length(x, y, z float64) float64 {
	if s := float64(x*x) + float64(y*y) + float64(z*z); s > 1e-200 && s < 1e200 {
		return math.Sqrt(s)
	}
	return math.Hypot(x, math.Hypot(y, z))
}

// arms divides a moment without free moment, and its length turn, by the force in each
// plane and in space.
func arms(m Planes, turn, frontal, sagittal, horizontal, force, minForce float64) Arm {
	return Arm{
		Planes: Planes{
			Frontal:    arm(m.Frontal, frontal, minForce),
			Sagittal:   arm(m.Sagittal, sagittal, minForce),
			Horizontal: arm(m.Horizontal, horizontal, minForce),
		},
		ThreeD: arm(turn, force, minForce),
	}
}

func arm(moment, force, minForce float64) float64 {
	if !(force >= minForce) || !(force > 0) {
		return math.NaN()
	}
	return moment / force
}
