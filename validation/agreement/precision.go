package agreement

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Precision is how far one measurement scatters about what it measures: the
// standard error of measurement. Two definitions are in use; they agree only
// roughly, so both are given and named (Weir 2005).
type Precision struct {
	// FromError is √EMS, from the residual of the two-way analysis. It does
	// not depend on how different the targets are, and a constant difference
	// between raters or days is not in it.
	FromError float64
	// FromICC is SD·√(1 − ICC) with the SD of all ratings. It inherits the
	// choice of the ICC's form and the mixture of targets. It is 0 for an ICC
	// of 1.
	FromICC float64
	// SD of all ratings about their mean.
	SD float64
	// ICC that FromICC was computed with.
	ICC Coefficient
}

// StandardError returns the standard error of measurement of
// ratings[target][rater] in both definitions; form is the ICC of the second.
func StandardError(ratings [][]float64, form Form) (Precision, error) {
	c, err := ICC(ratings, form, 0)
	if err != nil {
		return Precision{}, err
	}
	sd := math.Sqrt(c.ANOVA.Total)
	return Precision{
		FromError: math.Sqrt(c.ANOVA.Error),
		FromICC:   sd * math.Sqrt(1-c.Value),
		SD:        sd,
		ICC:       c,
	}, nil
}

// DetectableChange returns the minimal detectable change of one target between
// two measurements with this standard error of measurement: z·√2·sem, where z
// is the two-sided normal quantile of the confidence (0 means
// [DefaultConfidence], z = 1.96). A smaller change is not told from noise
// (Weir 2005, minimal difference).
func DetectableChange(sem, conf float64) (float64, error) {
	c, err := confidence(conf)
	if err != nil {
		return math.NaN(), err
	}
	if !(sem >= 0) || math.IsInf(sem, 0) {
		return math.NaN(), fmt.Errorf("%w: standard error of measurement %g must be zero or more and finite", ErrNotPositive, sem)
	}
	return distuv.UnitNormal.Quantile((1+c)/2) * math.Sqrt2 * sem, nil
}

// Typical is the typical error of a test that was done twice.
type Typical struct {
	N          int
	Change     float64  // mean of retest − test: learning, fatigue, drift
	Error      float64  // SD of the differences / √2, in the data's unit
	CI         Interval // of Error
	Confidence float64
}

// TypicalError returns the typical error of test and retest (Hopkins 2000):
// the standard deviation of the differences over √2, with an interval from the
// chi-squared distribution with N − 1 degrees of freedom. It needs three pairs.
// For two trials it equals [Precision].FromError.
func TypicalError(test, retest []float64, conf float64) (Typical, error) {
	c, err := confidence(conf)
	if err != nil {
		return Typical{}, err
	}
	if err := checkPairs(test, retest, 3); err != nil {
		return Typical{}, err
	}
	mean, sd := stat.MeanStdDev(differences(retest, test), nil)
	dof := float64(len(test) - 1)
	chi := distuv.ChiSquared{K: dof}
	e := sd / math.Sqrt2
	return Typical{
		N: len(test), Change: mean, Error: e, Confidence: c,
		CI: Interval{
			e * math.Sqrt(dof/chi.Quantile((1+c)/2)),
			e * math.Sqrt(dof/chi.Quantile((1-c)/2)),
		},
	}, nil
}

// CV is a within-target coefficient of variation, as a fraction (0.05 = 5 %),
// in three definitions.
type CV struct {
	// RootMeanSquare is √(mean of (SD/mean)² over the targets): each target's
	// own scatter relative to its own mean.
	RootMeanSquare float64
	// Logarithmic is exp(s) − 1 with s the within-target standard deviation of
	// the logarithms: for noise that grows with the value (Hopkins 2000).
	Logarithmic float64
	// OfMean is √WMS over the mean of all ratings: for noise that does not.
	OfMean float64
}

// Variation returns the within-target coefficient of variation of
// ratings[target][trial], a systematic difference between trials included. All
// ratings must be above zero: otherwise the error wraps [ErrNotPositive].
func Variation(ratings [][]float64) (CV, error) {
	a, err := Analyse(ratings)
	if err != nil {
		return CV{}, err
	}
	logs := make([][]float64, len(ratings))
	var sum, mean float64
	for i, row := range ratings {
		logs[i] = make([]float64, len(row))
		for j, x := range row {
			if !(x > 0) {
				return CV{}, fmt.Errorf("%w: ratings[%d][%d] is %g; a coefficient of variation needs a scale with a true zero", ErrNotPositive, i, j, x)
			}
			logs[i][j] = math.Log(x)
		}
		m, v := stat.MeanVariance(row, nil)
		sum += v / (m * m)
		mean += m
	}
	n := float64(len(ratings))
	mean /= n
	al, err := Analyse(logs)
	if err != nil {
		return CV{}, err
	}
	return CV{
		RootMeanSquare: math.Sqrt(sum / n),
		Logarithmic:    math.Expm1(math.Sqrt(al.Within)),
		OfMean:         math.Sqrt(a.Within) / mean,
	}, nil
}
