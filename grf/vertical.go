package grf

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// NoHorizontal is the reason that goes with values which are NaN because they need
// horizontal forces and the instrument measures none.
const NoHorizontal = "horizontal forces were not measured"

// Vertical returns the wrench of a vertical force, N, at a point of the standing
// surface, as told by an instrument that measures no horizontal force, such as a
// mat of pressure cells: Force.X, Force.Y and Moment.Z are NaN, not measured. The
// height of the point does not count.
func Vertical(force float64, at r3.Vec) Wrench {
	return Wrench{
		Force:  r3.Vec{Z: force},
		Moment: r3.Vec{X: at.Y * force, Y: -at.X * force},
	}.WithoutHorizontal()
}

// WithoutHorizontal returns w with what needs horizontal force not measured:
// Force.X, Force.Y and Moment.Z are NaN. What is left still says how much load
// there is and, on the surface Z = 0, where.
func (w Wrench) WithoutHorizontal() Wrench {
	n := math.NaN()
	w.Force.X, w.Force.Y, w.Moment.Z = n, n, n
	return w
}

// VerticalOnly reports whether the instrument behind a series measured no
// horizontal force: Force.X, Force.Y and Moment.Z are NaN in every sample while
// Force.Z is not NaN in all of them. The sum of such a series with one of a whole
// force plate is vertical only, too.
func VerticalOnly(ws []Wrench) bool {
	measured := false
	for _, w := range ws {
		if !math.IsNaN(w.Force.X) || !math.IsNaN(w.Force.Y) || !math.IsNaN(w.Moment.Z) {
			return false
		}
		measured = measured || !math.IsNaN(w.Force.Z)
	}
	return measured
}

// VerticalOnly reports whether the net force of the recording has no horizontal
// part, because at least one foot stood on an instrument that measures none; see
// the function of the same name. Such a recording tells loads, shares, centres of
// pressure and what follows from them, and nothing that needs horizontal force.
func (r *Recording) VerticalOnly() bool {
	if r.Net != nil {
		return VerticalOnly(r.Net)
	}
	return VerticalOnly(r.Lead) || VerticalOnly(r.Trail)
}
