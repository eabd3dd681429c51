package agreement

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Repeated is how far measurements a and b differ when each target was measured
// several times by both.
type Repeated struct {
	Targets, Pairs int
	Bias           float64 // mean of a − b over all pairs
	// Between is the standard deviation of the differences that belongs to the
	// target (the methods differ in another way for each), Within that of single
	// differences about the target's own.
	Between, Within float64
	SD              float64 // √(Between² + Within²)
	Multiplier      float64
	Confidence      float64

	Lower, Upper float64  // limits of agreement: Bias ∓ Multiplier · SD
	BiasCI       Interval // of the bias, t distribution with Targets − 1 degrees of freedom
}

// CompareRepeated returns the bias and the limits of agreement of two methods when
// a[i][k] and b[i][k] are the same thing by both, and thing k of target i is one of
// several, such as the swings of a golfer: what is measured may change from one to
// the next. [Compare] would take them for independent, and its limits would be too
// narrow. J. M. Bland and D. G. Altman, Agreement between methods of measurement with
// multiple observations per individual, J. Biopharm. Stat. 17(4):571–582, 2007 (from memory):
// variance components of the one-way analysis of the differences, for different
// numbers of things, too. A negative component between targets counts as zero.
//
// It needs two targets and, in one of them, two pairs. Few targets tell little about
// Between, however many pairs each has.
func CompareRepeated(a, b [][]float64, opt CompareOptions) (Repeated, error) {
	conf, err := confidence(opt.Confidence)
	if err != nil {
		return Repeated{}, err
	}
	z, err := opt.multiplier()
	if err != nil {
		return Repeated{}, err
	}
	if len(a) != len(b) {
		return Repeated{}, fmt.Errorf("%w: %d and %d targets", ErrLength, len(a), len(b))
	}
	if len(a) < 2 {
		return Repeated{}, fmt.Errorf("%w: %d targets, need at least 2", ErrTooFew, len(a))
	}
	var all []float64
	var within, squares float64 // sum of squares within targets, sum of m²
	means := make([]float64, len(a))
	for i := range a {
		if err := checkPairs(a[i], b[i], 1); err != nil {
			return Repeated{}, fmt.Errorf("target %d: %w", i, err)
		}
		d := differences(a[i], b[i])
		means[i] = stat.Mean(d, nil)
		for _, v := range d {
			within += (v - means[i]) * (v - means[i])
		}
		m := float64(len(d))
		squares += m * m
		all = append(all, d...)
	}
	n, pairs := float64(len(a)), float64(len(all))
	if len(all) == len(a) {
		return Repeated{}, fmt.Errorf("%w: one pair of each target; see Compare", ErrTooFew)
	}
	bias := stat.Mean(all, nil)
	var between float64
	for i, mean := range means {
		between += float64(len(a[i])) * (mean - bias) * (mean - bias)
	}
	msb, msw := between/(n-1), within/(pairs-n)
	size := (pairs*pairs - squares) / ((n - 1) * pairs) // m, when all are alike
	vb := math.Max(0, (msb-msw)/size)
	r := Repeated{
		Targets: len(a), Pairs: len(all), Bias: bias, Between: math.Sqrt(vb), Within: math.Sqrt(msw),
		SD: math.Sqrt(vb + msw), Multiplier: z, Confidence: conf,
	}
	r.Lower, r.Upper = bias-z*r.SD, bias+z*r.SD
	se := math.Sqrt(vb*squares/(pairs*pairs) + msw/pairs)
	half := distuv.StudentsT{Sigma: 1, Nu: n - 1}.Quantile((1+conf)/2) * se
	r.BiasCI = Interval{bias - half, bias + half}
	return r, nil
}
