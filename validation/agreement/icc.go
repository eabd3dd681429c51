package agreement

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Form is one of the six intraclass correlation coefficients of Shrout and
// Fleiss (1979). The first digit of the name is the model, the second whether
// one rating is used afterwards or the mean of all k. Which form is right
// follows from how the data were taken; a number without its form says little.
type Form int

const (
	// OneWaySingle is ICC(1,1): each target was rated by other raters.
	OneWaySingle Form = iota + 1
	// TwoWayRandomSingle is ICC(2,1): the same raters rated all targets and
	// stand for all raters; absolute agreement, so that a constant difference
	// between raters counts as disagreement.
	TwoWayRandomSingle
	// TwoWayMixedSingle is ICC(3,1): the same raters rated all targets and are
	// the only ones of interest; consistency, so that a constant difference
	// between raters does not count.
	TwoWayMixedSingle
	// OneWayAverage is ICC(1,k).
	OneWayAverage
	// TwoWayRandomAverage is ICC(2,k).
	TwoWayRandomAverage
	// TwoWayMixedAverage is ICC(3,k), equal to Cronbach's alpha.
	TwoWayMixedAverage
)

// String names the form and its model.
func (f Form) String() string {
	switch f {
	case OneWaySingle:
		return "ICC(1,1): one-way random effects, absolute agreement, single rater"
	case TwoWayRandomSingle:
		return "ICC(2,1): two-way random effects, absolute agreement, single rater"
	case TwoWayMixedSingle:
		return "ICC(3,1): two-way mixed effects, consistency, single rater"
	case OneWayAverage:
		return "ICC(1,k): one-way random effects, absolute agreement, mean of k raters"
	case TwoWayRandomAverage:
		return "ICC(2,k): two-way random effects, absolute agreement, mean of k raters"
	case TwoWayMixedAverage:
		return "ICC(3,k): two-way mixed effects, consistency, mean of k raters"
	}
	return fmt.Sprintf("Form(%d)", int(f))
}

// Coefficient is an intraclass correlation with the model that it belongs to.
type Coefficient struct {
	Form       Form
	Value      float64
	CI         Interval
	Confidence float64
	ANOVA      ANOVA
}

// ICC returns the intraclass correlation coefficient of ratings[target][rater]
// and its confidence interval (0 means [DefaultConfidence]): Shrout and Fleiss
// 1979, pp. 422–425; the interval of the two-way random forms is the
// approximate one with Satterthwaite's degrees of freedom given there.
//
// The value may be negative: then the scatter within targets is larger than
// between them. It needs two targets and two raters, and an error wraps
// [ErrNoVariation] when the denominator of the coefficient is zero, as for a
// table of equal numbers, or not positive, as for the mean of raters who disagree
// more than chance would have it. An end of the interval at which that holds is NaN.
func ICC(ratings [][]float64, form Form, conf float64) (Coefficient, error) {
	a, err := Analyse(ratings)
	if err != nil {
		return Coefficient{}, err
	}
	return a.ICC(form, conf)
}

// ICC is [ICC] from mean squares that are known already, such as printed ones.
// RaterMeans and Total are not used.
func (a ANOVA) ICC(form Form, conf float64) (Coefficient, error) {
	c, err := confidence(conf)
	if err != nil {
		return Coefficient{}, err
	}
	if a.Targets < 2 || a.Raters < 2 {
		return Coefficient{}, fmt.Errorf("%w: %d targets by %d raters, need 2 by 2", ErrTooFew, a.Targets, a.Raters)
	}
	if err := checkFinite("mean squares", []float64{a.Between, a.Within, a.Judges, a.Error}); err != nil {
		return Coefficient{}, err
	}
	var single float64
	var ci Interval
	switch form {
	case OneWaySingle, OneWayAverage:
		single, ci = oneF(a, a.Within, float64(a.Targets*(a.Raters-1)), c)
	case TwoWayMixedSingle, TwoWayMixedAverage:
		single, ci = oneF(a, a.Error, float64((a.Targets-1)*(a.Raters-1)), c)
	case TwoWayRandomSingle, TwoWayRandomAverage:
		single, ci = twoWayRandom(a, c)
	default:
		return Coefficient{}, fmt.Errorf("%w: %v", ErrForm, form)
	}
	if form >= OneWayAverage {
		k := float64(a.Raters)
		if 1+(k-1)*single <= 0 {
			return Coefficient{}, fmt.Errorf("%w: %v for mean squares between targets %g, within %g, judges %g, error %g, by which the variance of a mean of %d ratings would not be positive",
				ErrNoVariation, form, a.Between, a.Within, a.Judges, a.Error, a.Raters)
		}
		single = stepUp(single, k)
		ci = Interval{stepUp(ci.Low, k), stepUp(ci.High, k)}
	}
	if math.IsNaN(single) || math.IsInf(single, 0) {
		return Coefficient{}, fmt.Errorf("%w: %v is 0/0 for mean squares between targets %g, within %g, judges %g, error %g",
			ErrNoVariation, form, a.Between, a.Within, a.Judges, a.Error)
	}
	return Coefficient{Form: form, Value: single, CI: ci, Confidence: c, ANOVA: a}, nil
}

// stepUp is the Spearman–Brown formula: the coefficient of the mean of k
// ratings from that of one. It turns each of the single forms of Shrout and
// Fleiss into its average form. It is NaN where the variance of the mean would not
// be positive.
func stepUp(icc, k float64) float64 {
	if d := 1 + (k-1)*icc; d > 0 {
		return k * icc / d
	}
	return math.NaN()
}

// oneF is (B − V)/(B + (k − 1)V), the form of ICC(1,1) and ICC(3,1), whose
// interval follows from one F ratio B/V with n − 1 and dof degrees of freedom.
// The mean squares are scaled, not divided, so that V = 0 gives 1, not NaN.
func oneF(a ANOVA, v, dof, conf float64) (float64, Interval) {
	k := float64(a.Raters)
	rho := func(b, v float64) float64 { return (b - v) / (b + (k-1)*v) }
	d1 := float64(a.Targets - 1)
	p := (1 + conf) / 2
	fl := fQuantile(p, d1, dof)
	fu := fQuantile(p, dof, d1)
	return rho(a.Between, v), Interval{rho(a.Between, fl*v), rho(fu*a.Between, v)}
}

func twoWayRandom(a ANOVA, conf float64) (float64, Interval) {
	n, k := float64(a.Targets), float64(a.Raters)
	b, j, e := a.Between, a.Judges, a.Error
	rho := (b - e) / (b + (k-1)*e + k*(j-e)/n)
	// Satterthwaite's degrees of freedom, multiplied through by e² so that a
	// table without residual is not a division by zero.
	s := e * (n*(1+(k-1)*rho) - k*rho)
	r := k * rho * j
	dof := (k - 1) * (n - 1) * (r + s) * (r + s) / ((n-1)*r*r + s*s)
	if !(dof > 0) {
		// Neither residual nor difference between raters: the interval has no
		// width; where rho itself is 0/0 that is what comes out.
		return rho, Interval{rho, rho}
	}
	p := (1 + conf) / 2
	fl := fQuantile(p, n-1, dof)
	fu := fQuantile(p, dof, n-1)
	den := k*j + (k*n-k-n)*e
	return rho, Interval{
		n * (b - fl*e) / (fl*den + n*b),
		n * (fu*b - e) / (den + n*fu*b),
	}
}

func fQuantile(p, d1, d2 float64) float64 {
	return distuv.F{D1: d1, D2: d2}.Quantile(p)
}
