package phase

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

// localFit fits a cubic to the samples around an instant by least squares, as a
// fixed set of weights (Savitzky and Golay, Analytical Chemistry 36 (1964)
// 1627–1639). Time counts in seconds from the middle sample.
type localFit struct {
	half    int     // samples on each side
	dt      float64 // s
	weights [4][]float64
}

// newLocalFit returns the fit over ±half samples; at least two of them, so that
// five points carry four coefficients.
func newLocalFit(halfWidth, rate float64) *localFit {
	f := &localFit{half: max(2, int(math.Round(halfWidth*rate))), dt: 1 / rate}
	n := 2*f.half + 1
	// Powers of k/half keep the matrix well conditioned; scaled back below.
	v := mat.NewDense(n, 4, nil)
	for i := range n {
		x := float64(i-f.half) / float64(f.half)
		v.SetRow(i, []float64{1, x, x * x, x * x * x})
	}
	var inv mat.Dense
	if err := inv.Solve(v, eye(n)); err != nil {
		panic("phase: local fit is singular") // cannot happen: distinct abscissae
	}
	scale := 1 / (float64(f.half) * f.dt)
	for j := range f.weights {
		f.weights[j] = mat.Row(nil, j, &inv)
		for i := range f.weights[j] {
			f.weights[j][i] *= math.Pow(scale, float64(j))
		}
	}
	return f
}

func eye(n int) *mat.DiagDense {
	ones := make([]float64, n)
	for i := range ones {
		ones[i] = 1
	}
	return mat.NewDiagDense(n, ones)
}

// at returns the coefficients of the cubic around sample i; ok is false where
// it would reach outside of x.
func (f *localFit) at(x []float64, i int) (c [4]float64, ok bool) {
	lo := i - f.half
	if lo < 0 || i+f.half >= len(x) {
		return c, false
	}
	for j, w := range f.weights {
		var sum float64
		for k, wk := range w {
			sum += wk * x[lo+k]
		}
		c[j] = sum
	}
	return c, !math.IsNaN(c[0])
}

// peak returns where, relative to sample i, the cubic has the extremum that
// sample i is near, and its curvature there; ok is false when there is none
// within the fitted stretch.
func (f *localFit) peak(x []float64, i int) (offset, curvature float64, ok bool) {
	c, ok := f.at(x, i)
	if !ok {
		return 0, 0, false
	}
	reach := float64(f.half) * f.dt
	// Zero of c1 + 2 c2 τ + 3 c3 τ², by Newton from the parabola's vertex.
	offset = -c[1] / (2 * c[2])
	for range 20 {
		d := c[1] + offset*(2*c[2]+3*c[3]*offset)
		curvature = 2*c[2] + 6*c[3]*offset
		step := d / curvature
		offset -= step
		if math.Abs(step) < 1e-12 {
			break
		}
	}
	return offset, curvature, math.Abs(offset) <= reach && curvature != 0
}

// crossing returns where, relative to sample i, the cubic passes level, and its
// slope there.
func (f *localFit) crossing(x []float64, i int, level float64) (offset, slope float64, ok bool) {
	c, ok := f.at(x, i)
	if !ok {
		return 0, 0, false
	}
	reach := float64(f.half) * f.dt
	for range 30 {
		v := c[0] - level + offset*(c[1]+offset*(c[2]+offset*c[3]))
		slope = c[1] + offset*(2*c[2]+3*c[3]*offset)
		step := v / slope
		offset -= step
		if math.Abs(step) < 1e-12 {
			break
		}
	}
	return offset, slope, math.Abs(offset) <= reach && slope != 0
}

// misfit returns the root of the mean square by which x departs from the cubic
// around sample i.
func (f *localFit) misfit(x []float64, i int) (float64, bool) {
	c, ok := f.at(x, i)
	if !ok {
		return 0, false
	}
	var sq float64
	for k := -f.half; k <= f.half; k++ {
		t := float64(k) * f.dt
		r := x[i+k] - (c[0] + t*(c[1]+t*(c[2]+t*c[3])))
		sq += r * r
	}
	return math.Sqrt(sq / float64(2*f.half+1)), true
}

// meanMisfit returns the root mean square misfit over the samples first to last,
// at steps of half a fit.
func (f *localFit) meanMisfit(x []float64, first, last int) float64 {
	var sq float64
	n := 0
	for i := first + f.half; i <= last-f.half; i += f.half {
		if m, ok := f.misfit(x, i); ok {
			sq += m * m
			n++
		}
	}
	return math.Sqrt(sq / float64(n))
}

// scatter returns the standard deviations of the fitted value and slope over
// the samples first to last, in which nothing happens but noise.
func (f *localFit) scatter(x []float64, first, last int) (value, slope float64) {
	var values, slopes []float64
	for i := first + f.half; i <= last-f.half; i++ {
		if c, ok := f.at(x, i); ok {
			values = append(values, c[0])
			slopes = append(slopes, c[1])
		}
	}
	if len(values) < 3 {
		return math.NaN(), math.NaN()
	}
	return stat.StdDev(values, nil), stat.StdDev(slopes, nil)
}
