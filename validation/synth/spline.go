package synth

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// maxDegree is the highest degree of the splines used: 7 for a position whose
// second derivative is a spline of degree 5.
const maxDegree = 7

// forceDegree is the degree of the force and moment curves: four continuous
// derivatives.
const forceDegree = 5

// grid is the knot sequence of all splines of a swing: knot k at start + k step.
type grid struct {
	start, step float64
}

// node returns the instant at which the force spline's coefficient i weighs
// most, the middle of its support.
func (g grid) node(i int) float64 {
	return g.start + float64(i+(forceDegree+1)/2)*g.step
}

// weights holds, for one instant, the values of the cardinal B-splines of
// every degree up to maxDegree: n[d][j] belongs to coefficient k − d + j.
type weights struct {
	k int
	n [maxDegree + 1][maxDegree + 1]float64
}

// at computes the weights of instant t. On equal knots the denominators of the
// recursion of Cox and de Boor are the degree.
func (g grid) at(t float64) (w weights) {
	x := (t - g.start) / g.step
	k := math.Floor(x)
	u := x - k
	w.k = int(math.Max(-1e9, math.Min(1e9, k)))
	w.n[0][0] = 1
	for d := 1; d <= maxDegree; d++ {
		saved := 0.0
		for r := 0; r < d; r++ {
			part := w.n[d-1][r] / float64(d)
			w.n[d][r] = saved + (float64(r+1)-u)*part
			saved = (u + float64(d-r-1)) * part
		}
		w.n[d][d] = saved
	}
	return w
}

// spline holds the coefficients of a spline. Before the first and after the
// last they go on as they are, so that a spline is constant outside.
type spline []float64

func (c spline) at(i int) float64 {
	return c[max(0, min(i, len(c)-1))]
}

// value evaluates the spline of this degree. Equal coefficients give exactly
// their value, which keeps stillness exact.
func (c spline) value(w *weights, degree int) float64 {
	i := w.k - degree
	base := c.at(i)
	sum := 0.0
	for j := 1; j <= degree; j++ {
		sum += w.n[degree][j] * (c.at(i+j) - base)
	}
	return base + sum
}

// slope evaluates the first derivative of the spline of this degree.
func (c spline) slope(w *weights, degree int, step float64) float64 {
	i := w.k - (degree - 1)
	sum := 0.0
	for j := 0; j < degree; j++ {
		sum += w.n[degree-1][j] * (c.at(i+j) - c.at(i+j-1))
	}
	return sum / step
}

// vectorSpline is a spline for each of the three axes.
type vectorSpline [3]spline

func (v *vectorSpline) value(w *weights, degree int) r3.Vec {
	return r3.Vec{X: v[0].value(w, degree), Y: v[1].value(w, degree), Z: v[2].value(w, degree)}
}

// integral returns the coefficients, one degree up, of the integral that
// starts at from. The last coefficient is set to the given end, which the
// caller has made equal to the sum but for rounding.
func (c spline) integral(step, from, end float64) spline {
	s := make(spline, len(c))
	sum := from
	for i, a := range c {
		sum += step * a
		s[i] = sum
	}
	s[len(s)-1] = end
	return s
}

func vec(x, y, z float64) r3.Vec { return r3.Vec{X: x, Y: y, Z: z} }
