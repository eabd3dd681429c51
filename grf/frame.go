package grf

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Frame is a right-handed set of axes: an origin and three unit vectors,
// written in the coordinates of the surrounding (laboratory) axes.
type Frame struct {
	Origin, X, Y, Z r3.Vec
}

// VectorOut turns a direction or force written in f into the surrounding axes.
func (f Frame) VectorOut(v r3.Vec) r3.Vec {
	return r3.Vec{
		X: f.X.X*v.X + f.Y.X*v.Y + f.Z.X*v.Z,
		Y: f.X.Y*v.X + f.Y.Y*v.Y + f.Z.Y*v.Z,
		Z: f.X.Z*v.X + f.Y.Z*v.Y + f.Z.Z*v.Z,
	}
}

// VectorIn writes a direction or force of the surrounding axes in f.
func (f Frame) VectorIn(v r3.Vec) r3.Vec {
	return r3.Vec{X: r3.Dot(f.X, v), Y: r3.Dot(f.Y, v), Z: r3.Dot(f.Z, v)}
}

// PointOut turns the coordinates of a point in f into the surrounding ones.
func (f Frame) PointOut(p r3.Vec) r3.Vec { return r3.Add(f.Origin, f.VectorOut(p)) }

// PointIn turns the coordinates of a point in the surrounding axes into f's.
func (f Frame) PointIn(p r3.Vec) r3.Vec { return f.VectorIn(r3.Sub(p, f.Origin)) }

// WrenchOut turns a wrench about f's origin, written in f, into one about the
// origin of the surrounding axes.
func (f Frame) WrenchOut(w Wrench) Wrench {
	return At(f.VectorOut(w.Force), f.Origin, f.VectorOut(w.Moment))
}

// WrenchIn turns a wrench about the origin of the surrounding axes into one
// about f's origin, written in f.
func (f Frame) WrenchIn(w Wrench) Wrench {
	m := w.MovedTo(f.Origin)
	return Wrench{f.VectorIn(m.Force), f.VectorIn(m.Moment)}
}

func finite(v r3.Vec) bool {
	return !math.IsNaN(v.X+v.Y+v.Z) && !math.IsInf(v.X+v.Y+v.Z, 0)
}
