package agreement

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// RMSE returns the root mean square of a[i] − b[i]. It needs one pair.
func RMSE(a, b []float64) (float64, error) {
	if err := checkPairs(a, b, 1); err != nil {
		return math.NaN(), err
	}
	var sum float64
	for i := range a {
		d := a[i] - b[i]
		sum += d * d
	}
	return math.Sqrt(sum / float64(len(a))), nil
}

// differences returns a − b.
func differences(a, b []float64) []float64 {
	d := make([]float64, len(a))
	for i := range a {
		d[i] = a[i] - b[i]
	}
	return d
}

// CompareOptions says how wide limits of agreement are and how sure their
// intervals. The zero value is the usual 95 % for both.
type CompareOptions struct {
	// Multiplier of the standard deviation of the differences at which the
	// limits stand. 0 means the normal quantile that covers 95 % of the
	// differences, 1.959964. Bland and Altman used 2 in 1986 and 1.96 later.
	Multiplier float64
	// Confidence of the intervals of the bias and of each limit; 0 means
	// [DefaultConfidence].
	Confidence float64
}

func (opt CompareOptions) multiplier() (float64, error) {
	z := opt.Multiplier
	if z == 0 {
		z = distuv.UnitNormal.Quantile(0.975)
	}
	if !(z > 0) || math.IsInf(z, 0) {
		return 0, fmt.Errorf("agreement: multiplier %g must be positive and finite (0 means 1.96)", opt.Multiplier)
	}
	return z, nil
}

// Comparison is how far measurements a and b of the same things differ.
type Comparison struct {
	N          int
	Bias       float64 // mean of a − b
	SD         float64 // of the differences, over N − 1
	Multiplier float64
	Confidence float64

	Lower, Upper     float64  // limits of agreement: Bias ∓ Multiplier · SD
	BiasCI           Interval // of the bias
	LowerCI, UpperCI Interval // of each limit
}

// Compare returns the bias and the limits of agreement of two methods that
// measured the same things: b[i] is the same thing as a[i] by the other method,
// and each thing appears once; for several of one golfer see [CompareRepeated].
// Bland and Altman 1986 for bias, limits and the interval of the bias (t
// distribution with N − 1 degrees of freedom), 1999 (section 2.1) for the standard
// error of a limit: SD·√(1/N + z²/(2(N − 1))).
//
// The limits describe the differences only if these scatter alike over the
// whole range: plot them against the means first. It needs three pairs.
// Differences that are all equal give limits of zero width, which is a result,
// not an error.
func Compare(a, b []float64, opt CompareOptions) (Comparison, error) {
	if err := checkPairs(a, b, 3); err != nil {
		return Comparison{}, err
	}
	conf, err := confidence(opt.Confidence)
	if err != nil {
		return Comparison{}, err
	}
	z, err := opt.multiplier()
	if err != nil {
		return Comparison{}, err
	}
	d := differences(a, b)
	n := float64(len(d))
	bias, sd := stat.MeanStdDev(d, nil)
	t := distuv.StudentsT{Sigma: 1, Nu: n - 1}.Quantile((1 + conf) / 2)
	around := func(x, se float64) Interval { return Interval{x - t*se, x + t*se} }
	seLimit := sd * math.Sqrt(1/n+z*z/(2*(n-1)))
	c := Comparison{
		N: len(d), Bias: bias, SD: sd, Multiplier: z, Confidence: conf,
		Lower: bias - z*sd, Upper: bias + z*sd,
	}
	c.BiasCI = around(bias, sd/math.Sqrt(n))
	c.LowerCI = around(c.Lower, seLimit)
	c.UpperCI = around(c.Upper, seLimit)
	return c, nil
}
