package agreement

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// TTest is how far two means differ, and whether chance would do as much.
type TTest struct {
	Difference float64  // mean of after − mean of before
	CI         Interval // of Difference
	Confidence float64

	T, DOF float64 // t statistic and degrees of freedom
	P      float64 // two-sided

	// Effect is Difference in standard deviations: of the differences of the pairs
	// (d_z) in [Paired], of single values, √((s₁² + s₂²)/2), in [Unpaired] (J.
	// Cohen, Statistical Power Analysis for the Behavioral Sciences, 2nd ed. 1988,
	// sect. 2.2 and 2.3; from memory). The two do not compare. It is that of the
	// sample, which overstates a little when there are few values.
	Effect float64
}

// Paired compares two conditions by the paired t-test (Student, Biometrika 6:1–25,
// 1908): before[i] and after[i] belong to the same golfer, or whatever else was the
// same for both. For several swings of each golfer take the mean of each first:
// swings of one golfer are not independent of each other. The differences should
// scatter about normally.
//
// It needs two pairs, and an error wraps [ErrNoVariation] when all differences are
// equal.
func Paired(before, after []float64, conf float64) (TTest, error) {
	c, err := confidence(conf)
	if err != nil {
		return TTest{}, err
	}
	if err := checkPairs(before, after, 2); err != nil {
		return TTest{}, err
	}
	mean, sd := stat.MeanStdDev(differences(after, before), nil)
	n := float64(len(before))
	return tTest(mean, sd/math.Sqrt(n), n-1, mean/sd, c)
}

// Unpaired compares two groups by Welch's t-test, which allows for different scatter
// and different numbers (B.L. Welch, Biometrika 34:28–35, 1947; degrees of freedom of
// F.E. Satterthwaite, Biometrics Bull. 2:110–114, 1946). It needs two values in each,
// and an error wraps [ErrNoVariation] when neither scatters.
func Unpaired(before, after []float64, conf float64) (TTest, error) {
	c, err := confidence(conf)
	if err != nil {
		return TTest{}, err
	}
	for i, x := range [][]float64{before, after} {
		what := [...]string{"before", "after"}[i]
		if len(x) < 2 {
			return TTest{}, fmt.Errorf("%w: %d in %s, need at least 2", ErrTooFew, len(x), what)
		}
		if err := checkFinite(what, x); err != nil {
			return TTest{}, err
		}
	}
	m1, s1 := stat.MeanVariance(before, nil)
	m2, s2 := stat.MeanVariance(after, nil)
	n1, n2 := float64(len(before)), float64(len(after))
	v1, v2 := s1/n1, s2/n2
	dof := (v1 + v2) * (v1 + v2) / (v1*v1/(n1-1) + v2*v2/(n2-1))
	return tTest(m2-m1, math.Sqrt(v1+v2), dof, (m2-m1)/math.Sqrt((s1+s2)/2), c)
}

// tTest is the rest of a t-test of a difference with this standard error.
func tTest(difference, se, dof, effect, conf float64) (TTest, error) {
	if !(se > 0) || !(dof > 0) { // dof is NaN for squares that are too small or large
		return TTest{}, fmt.Errorf("%w: the values do not scatter, so that nothing says how large a chance difference would be", ErrNoVariation)
	}
	d := distuv.StudentsT{Sigma: 1, Nu: dof}
	t := difference / se
	half := d.Quantile((1+conf)/2) * se
	return TTest{
		Difference: difference, CI: Interval{difference - half, difference + half}, Confidence: conf,
		T: t, DOF: dof, P: 2 * d.Survival(math.Abs(t)), Effect: effect,
	}, nil
}
