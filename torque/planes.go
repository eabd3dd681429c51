package torque

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// Planes holds a quantity that belongs to a turn in each of the three planes: a
// moment in N·m, an angular impulse in N·m·s, an arm in m.
type Planes struct {
	Frontal    float64 // about X; positive in the downswing's direction, seen face-on
	Sagittal   float64 // about Y; positive tips forward
	Horizontal float64 // about Z; positive turns toward the target
}

// FromVec returns the components of a vector about X, Y and Z.
func FromVec(v r3.Vec) Planes { return Planes{v.X, v.Y, v.Z} }

// Vec returns p as a vector in swing axes.
func (p Planes) Vec() r3.Vec { return r3.Vec{X: p.Frontal, Y: p.Sagittal, Z: p.Horizontal} }

// Add returns p + q.
func (p Planes) Add(q Planes) Planes {
	return Planes{p.Frontal + q.Frontal, p.Sagittal + q.Sagittal, p.Horizontal + q.Horizontal}
}

// Sub returns p − q.
func (p Planes) Sub(q Planes) Planes {
	return Planes{p.Frontal - q.Frontal, p.Sagittal - q.Sagittal, p.Horizontal - q.Horizontal}
}

// Scale returns k·p.
func (p Planes) Scale(k float64) Planes {
	return Planes{k * p.Frontal, k * p.Sagittal, k * p.Horizontal}
}

// over returns p/q plane by plane, NaN where q is 0.
func (p Planes) over(q Planes) Planes {
	return Planes{ratio(p.Frontal, q.Frontal), ratio(p.Sagittal, q.Sagittal), ratio(p.Horizontal, q.Horizontal)}
}

func ratio(a, b float64) float64 {
	if b == 0 {
		return math.NaN()
	}
	return a / b
}

// About returns the moment of w about com, in N·m, free moments included:
// Moment − com × Force. com may be any point; it is usually the centre of mass.
// No threshold applies: an unloaded plate has a moment near zero. A component is
// NaN when one of the values it is made of is, so without a height of com the
// horizontal moment is still defined.
func About(w grf.Wrench, com r3.Vec) Planes { return FromVec(w.About(com)) }

// AboutTo sets dst to what [About] returns. It is for live systems: nothing is copied
// on the way.
func AboutTo(dst *Planes, w *grf.Wrench, com *r3.Vec) {
	f, m := &w.Force, &w.Moment
	dst.Frontal = m.X - (com.Y*f.Z - com.Z*f.Y)
	dst.Sagittal = m.Y - (com.Z*f.X - com.X*f.Z)
	dst.Horizontal = m.Z - (com.X*f.Y - com.Y*f.X)
}

// InPlane returns the moment in a swing plane that is inclined to the ground by
// inclination rad, about the plane's normal (sin θ, 0, cos θ): Mx sin θ +
// Mz cos θ, in N·m. 0 is the horizontal plane and π/2 the frontal plane.
func InPlane(m Planes, inclination float64) float64 {
	sin, cos := math.Sincos(inclination)
	return m.Frontal*sin + m.Horizontal*cos
}
