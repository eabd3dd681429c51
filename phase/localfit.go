package phase

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

// localFit fits a polynomial of fifth degree to the samples around an instant by least squares, as a
// fixed set of weights (Savitzky and Golay, Analytical Chemistry 36 (1964)
// 1627–1639). Time counts in seconds from the middle sample.
type localFit struct {
	half    int     // samples on each side
	dt      float64 // s
	weights [terms][]float64
}

// terms is the number of coefficients of the fitted polynomial.
const terms = 6

// polynomial holds coefficients by power.
type polynomial [terms]float64

// derivatives returns value, slope and curvature at t, by Horner's rule.
func (c *polynomial) derivatives(t float64) (value, slope, curvature float64) {
	for j := terms - 1; j >= 0; j-- {
		curvature = curvature*t + 2*slope
		slope = slope*t + value
		value = value*t + c[j]
	}
	return value, slope, curvature
}

// newLocalFit returns the fit over ±half samples; at least three of them, so that
// seven points carry six coefficients. Of a fit that does not go into a series of
// length samples only as much is kept as shows that it does not.
func newLocalFit(halfWidth, rate float64, length int) *localFit {
	f := &localFit{half: max(3, min(samplesIn(halfWidth, rate), length)), dt: 1 / rate}
	n := 2*f.half + 1
	// Powers of k/half keep the equations well conditioned; scaled back below.
	v := mat.NewDense(n, terms, nil)
	for i := range n {
		x := float64(i-f.half) / float64(f.half)
		p := 1.0
		for j := range terms {
			v.Set(i, j, p)
			p *= x
		}
	}
	// The normal equations need memory for n·terms numbers only, and at this
	// degree they lose three digits of sixteen.
	var normal mat.SymDense
	normal.SymOuterK(1, v.T())
	var chol mat.Cholesky
	if !chol.Factorize(&normal) {
		panic("phase: local fit is singular") // cannot happen: distinct abscissae
	}
	var inv mat.Dense
	if err := chol.SolveTo(&inv, v.T()); err != nil {
		panic("phase: local fit is singular") // likewise
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

// samplesIn returns how many samples t seconds are, rounded; no more than an int32
// holds, whatever the rate.
func samplesIn(t, rate float64) int {
	return int(math.Round(min(t*rate, math.MaxInt32)))
}

// at returns the coefficients around sample i; ok is false where
// it would reach outside of x.
func (f *localFit) at(x []float64, i int) (c polynomial, ok bool) {
	lo := i - f.half
	if lo < 0 || i+f.half >= len(x) {
		return c, false
	}
	for j := range f.weights {
		c[j] = floats.Dot(f.weights[j], x[lo:lo+len(f.weights[j])])
	}
	return c, !math.IsNaN(c[0])
}

// value returns the fitted value at sample i, which must not be near the ends.
func (f *localFit) value(x []float64, i int) float64 {
	return floats.Dot(f.weights[0], x[i-f.half:i+f.half+1])
}

// smooth returns the fitted value at every sample; x itself near the ends and
// where samples were lost.
func (f *localFit) smooth(x []float64) []float64 {
	y := slices.Clone(x)
	for i := f.half; i < len(x)-f.half; i++ {
		if v := f.value(x, i); !math.IsNaN(v) {
			y[i] = v
		}
	}
	return y
}

// best returns the sample in first…last at which the fitted value is better than
// at all others, not counting those too near to the ends of x.
func (f *localFit) best(x []float64, first, last int, better func(a, b float64) bool) int {
	at, most := first, math.NaN()
	for i := max(first, f.half); i <= min(last, len(x)-1-f.half); i++ {
		v := f.value(x, i)
		if better(v, most) || math.IsNaN(most) && !math.IsNaN(v) {
			at, most = i, v
		}
	}
	return at
}

// peak returns where, relative to sample i, the fit has the extremum that
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
		_, d, k := c.derivatives(offset)
		curvature = k
		step := d / curvature
		offset -= step
		if math.Abs(step) < 1e-12 {
			break
		}
	}
	return offset, curvature, math.Abs(offset) <= reach && curvature != 0
}

// crossing returns where, relative to sample i, the fit passes level, and its
// slope there.
func (f *localFit) crossing(x []float64, i int, level float64) (offset, slope float64, ok bool) {
	c, ok := f.at(x, i)
	if !ok {
		return 0, 0, false
	}
	reach := float64(f.half) * f.dt
	for range 30 {
		v, d, _ := c.derivatives(offset)
		slope = d
		step := (v - level) / slope
		offset -= step
		if math.Abs(step) < 1e-12 {
			break
		}
	}
	return offset, slope, math.Abs(offset) <= reach && slope != 0
}

// misfit returns the root of the mean square by which x departs from the fit around
// sample i.
func (f *localFit) misfit(x []float64, i int) (float64, bool) {
	c, ok := f.at(x, i)
	if !ok {
		return 0, false
	}
	var sq float64
	for k := -f.half; k <= f.half; k++ {
		v, _, _ := c.derivatives(float64(k) * f.dt)
		sq += (x[i+k] - v) * (x[i+k] - v)
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
