package filter

import (
	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/mat"
)

// fitCubic fits the cubic spline through the samples (x, y) whose third
// derivative does not jump at the second and the last but one sample (the
// 'not-a-knot' condition; de Boor, A Practical Guide to Splines, 1978,
// chapter IV). Two samples give a line, three a parabola. x must grow and hold
// two samples at least.
//
// interp.NotAKnotCubic is the same curve, but solves a dense system: its cost
// grows with the cube of the number of samples. Here the two outer unknowns are
// eliminated, which leaves a tridiagonal system.
func fitCubic(x, y []float64) (*interp.PiecewiseCubic, error) {
	last := len(x) - 1
	h := make([]float64, last)     // intervals
	slope := make([]float64, last) // of the chords
	for i := range h {
		h[i] = x[i+1] - x[i]
		slope[i] = (y[i+1] - y[i]) / h[i]
	}
	second, err := secondDerivatives(h, slope)
	if err != nil {
		return nil, err
	}
	first := make([]float64, len(x))
	for i := range h {
		first[i] = slope[i] - h[i]/6*(2*second[i]+second[i+1])
	}
	first[last] = slope[last-1] + h[last-1]/6*(second[last-1]+2*second[last])
	spline := new(interp.PiecewiseCubic)
	spline.FitWithDerivatives(x, y, first)
	return spline, nil
}

// secondDerivatives returns the second derivative m of the spline at each
// sample. Continuity of the first derivative at inner sample i reads
//
//	h[i−1] m[i−1] + 2 (h[i−1] + h[i]) m[i] + h[i] m[i+1] = 6 (slope[i] − slope[i−1])
//
// and not-a-knot at sample 1 reads m[0] = m[1] + h[0]/h[1]·(m[1] − m[2]), at the
// other end likewise.
func secondDerivatives(h, slope []float64) ([]float64, error) {
	m := make([]float64, len(h)+1)
	inner := len(h) - 1
	switch inner {
	case 0:
		return m, nil
	case 1: // constant second derivative
		m[0] = 2 * (slope[1] - slope[0]) / (h[0] + h[1])
		m[1], m[2] = m[0], m[0]
		return m, nil
	}
	a := mat.NewTridiag(inner, nil, nil, nil)
	b := mat.NewVecDense(inner, nil)
	for i := range inner {
		left, right := h[i], h[i+1]
		diagonal := 2 * (left + right)
		if i == 0 {
			ratio := left / right
			diagonal += left * (1 + ratio)
			right -= left * ratio
		} else if i == inner-1 {
			ratio := right / left
			diagonal += right * (1 + ratio)
			left -= right * ratio
		}
		a.SetBand(i, i, diagonal)
		if i > 0 {
			a.SetBand(i, i-1, left)
		}
		if i < inner-1 {
			a.SetBand(i, i+1, right)
		}
		b.SetVec(i, 6*(slope[i+1]-slope[i]))
	}
	var solution mat.VecDense
	if err := a.SolveVecTo(&solution, false, b); err != nil {
		return nil, err
	}
	copy(m[1:], solution.RawVector().Data)
	m[0] = m[1] + h[0]/h[1]*(m[1]-m[2])
	e := len(m) - 1
	m[e] = m[e-1] + h[e-1]/h[e-2]*(m[e-1]-m[e-2])
	return m, nil
}
