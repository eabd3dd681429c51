package agreement

import (
	"errors"
	"fmt"
	"math"
)

// Sentinels for [errors.Is].
var (
	// ErrTooFew means fewer values than the formula needs.
	ErrTooFew = errors.New("agreement: too few values")
	// ErrLength means series, or rows of a table, of different lengths.
	ErrLength = errors.New("agreement: lengths differ")
	// ErrNotFinite means a value that is NaN or infinite. Leave out incomplete
	// targets before asking: which ones to drop is not for a formula to decide.
	ErrNotFinite = errors.New("agreement: value is not finite")
	// ErrNoVariation means data without the variation that the result is a
	// ratio of, so that it is undefined.
	ErrNoVariation = errors.New("agreement: no variation in the data")
	// ErrConfidence means a confidence that is not between 0 and 1.
	ErrConfidence = errors.New("agreement: confidence must lie between 0 and 1 (0 means 0.95)")
	// ErrForm means an ICC form that does not exist.
	ErrForm = errors.New("agreement: no such form of the ICC")
	// ErrNotPositive means a value or mean that is not above zero where the
	// result is relative to it.
	ErrNotPositive = errors.New("agreement: value is not positive")
	// ErrProbability means a probability that is not one.
	ErrProbability = errors.New("agreement: not a probability")
)

// DefaultConfidence is the confidence of every interval for which the caller
// states none.
const DefaultConfidence = 0.95

// Interval is a confidence interval.
type Interval struct{ Low, High float64 }

func (i Interval) String() string { return fmt.Sprintf("%.4g … %.4g", i.Low, i.High) }

func confidence(c float64) (float64, error) {
	if c == 0 {
		return DefaultConfidence, nil
	}
	if !(c > 0 && c < 1) {
		return 0, fmt.Errorf("%w: %g", ErrConfidence, c)
	}
	return c, nil
}

func checkFinite(what string, x []float64) error {
	for i, v := range x {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%w: %s[%d] is %g", ErrNotFinite, what, i, v)
		}
	}
	return nil
}

func checkPairs(a, b []float64, least int) error {
	if len(a) != len(b) {
		return fmt.Errorf("%w: %d and %d values", ErrLength, len(a), len(b))
	}
	if len(a) < least {
		return fmt.Errorf("%w: %d pairs, need at least %d", ErrTooFew, len(a), least)
	}
	if err := checkFinite("a", a); err != nil {
		return err
	}
	return checkFinite("b", b)
}

func checkTable(ratings [][]float64) error {
	if len(ratings) < 2 {
		return fmt.Errorf("%w: %d targets, need at least 2", ErrTooFew, len(ratings))
	}
	k := len(ratings[0])
	if k < 2 {
		return fmt.Errorf("%w: %d ratings of each target, need at least 2", ErrTooFew, k)
	}
	for i, row := range ratings {
		if len(row) != k {
			return fmt.Errorf("%w: target %d has %d ratings, target 0 has %d", ErrLength, i, len(row), k)
		}
		if err := checkFinite(fmt.Sprintf("ratings[%d]", i), row); err != nil {
			return err
		}
	}
	return nil
}
