package grf

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Wrench is a force and its moment about the origin of the axes that it is
// expressed in: N and N·m. Because the moment always belongs to the same
// point, wrenches of several plates add component by component and filtering
// a wrench is filtering six independent signals. The moment about any other
// point is a question that is asked of it: see [Wrench.About].
type Wrench struct {
	Force, Moment r3.Vec
}

// At returns the wrench of a force that acts at a point, plus a couple: the
// moment about the origin is point × force + couple.
func At(force, point, couple r3.Vec) Wrench {
	return Wrench{Force: force, Moment: r3.Add(r3.Cross(point, force), couple)}
}

// Sum returns the resultant of wrenches about the same origin, and the zero
// Wrench for none.
func Sum(ws ...Wrench) Wrench {
	var sum Wrench
	for _, w := range ws {
		sum = sum.Add(w)
	}
	return sum
}

// Add returns the resultant of w and v.
func (w Wrench) Add(v Wrench) Wrench {
	return Wrench{r3.Add(w.Force, v.Force), r3.Add(w.Moment, v.Moment)}
}

// Sub returns w without v.
func (w Wrench) Sub(v Wrench) Wrench {
	return Wrench{r3.Sub(w.Force, v.Force), r3.Sub(w.Moment, v.Moment)}
}

// Scale returns k times w. Scale(-1) turns an action into its reaction.
func (w Wrench) Scale(k float64) Wrench {
	return Wrench{r3.Scale(k, w.Force), r3.Scale(k, w.Moment)}
}

// About returns the moment of w about p, in N·m: Moment − p × Force.
func (w Wrench) About(p r3.Vec) r3.Vec {
	return r3.Sub(w.Moment, r3.Cross(p, w.Force))
}

// MovedTo returns w with its moment taken about p, for use in axes that are
// parallel to the present ones and have p as their origin.
func (w Wrench) MovedTo(p r3.Vec) Wrench {
	return Wrench{w.Force, w.About(p)}
}

// IsNaN reports whether any of the six components is NaN.
func (w Wrench) IsNaN() bool {
	f, m := w.Force, w.Moment
	return math.IsNaN(f.X) || math.IsNaN(f.Y) || math.IsNaN(f.Z) ||
		math.IsNaN(m.X) || math.IsNaN(m.Y) || math.IsNaN(m.Z)
}

// NaN returns a wrench whose six components are NaN: what an instrument could
// not measure.
func NaN() Wrench {
	n := math.NaN()
	v := r3.Vec{X: n, Y: n, Z: n}
	return Wrench{v, v}
}

// AddSeries sets dst[i] to the resultant of sample i of every series and
// returns dst, grown if it was too short. The series must have one length:
// otherwise the result is a [*LengthError] and nothing is written. dst may be
// one of the series.
func AddSeries(dst []Wrench, series ...[]Wrench) ([]Wrench, error) {
	if len(series) == 0 {
		return dst[:0], nil
	}
	n := len(series[0])
	for _, s := range series[1:] {
		if len(s) != n {
			return nil, &LengthError{What: "wrench series", Want: n, Got: len(s)}
		}
	}
	dst = grow(dst, n)
	for i := range dst {
		sum := series[0][i]
		for _, s := range series[1:] {
			sum = sum.Add(s[i])
		}
		dst[i] = sum
	}
	return dst, nil
}

// grow returns dst with length n, reusing its memory when there is enough.
func grow[T any](dst []T, n int) []T {
	if cap(dst) < n {
		return make([]T, n)
	}
	return dst[:n]
}
