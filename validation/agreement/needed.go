package agreement

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/stat/distuv"
)

// PairsNeeded returns how many pairs a study needs so that the test of [Paired] finds
// a mean change of this size, when there is one, with the probability power (0 means
// 0.8) at a significance of 1 − conf (0 means [DefaultConfidence]). sd is that of the
// differences of the pairs, as [Comparison].SD of an earlier study, √2 times the
// typical error if the change is alike for all. For m tests by [Holm] take 1 −
// (1 − conf)/m for conf.
//
// The power is that of the noncentral t distribution, exact for differences that
// scatter normally (J. Cohen, Statistical Power Analysis for the Behavioral
// Sciences, 2nd ed. 1988, ch. 2; from memory). The answer is as good as sd is.
//
// An error wraps [ErrNotPositive] for a change or sd that is not positive and
// finite or a change so small that it would take over a million, [ErrConfidence],
// and [ErrProbability] for a power that is not between 0 and 1.
func PairsNeeded(change, sd, power, conf float64) (int, error) {
	return needed(change, sd, power, conf, 1)
}

// EachNeeded is PairsNeeded for two independent groups of equal size and scatter: the
// number in each, with sd that of single values. For several swings of each golfer
// that is the standard deviation of the golfers' means.
func EachNeeded(change, sd, power, conf float64) (int, error) {
	return needed(change, sd, power, conf, 2)
}

// mostNeeded is where nobody studies any more.
const mostNeeded = 1_000_000

// needed searches the least n with enough power; groups is 1 for pairs.
func needed(change, sd, power, conf float64, groups int) (int, error) {
	c, err := confidence(conf)
	if err != nil {
		return 0, err
	}
	if power == 0 {
		power = 0.8
	}
	if !(power > 0 && power < 1) {
		return 0, fmt.Errorf("%w: a power of %g; it lies between 0 and 1 (0 means 0.8)", ErrProbability, power)
	}
	effect := math.Abs(change) / sd
	if !(sd > 0) || !(effect > 0) || math.IsInf(effect, 0) {
		return 0, fmt.Errorf("%w: a change of %g with a standard deviation of %g; both must be, and finite", ErrNotPositive, change, sd)
	}
	if powerOf(mostNeeded, effect, c, groups) < power {
		return 0, fmt.Errorf("%w enough: a change of %g with a standard deviation of %g takes more than %d", ErrNotPositive, change, sd, mostNeeded)
	}
	low, high := 1, mostNeeded // too few, enough
	for high-low > 1 {
		if n := (low + high) / 2; powerOf(n, effect, c, groups) < power {
			low = n
		} else {
			high = n
		}
	}
	return high, nil
}

// powerOf is the probability that |t| exceeds its limit when the means differ by
// effect standard deviations. With Z normal and s = √(χ²/ν) the statistic is
// (Z + δ)/s: what exceeds the limit is integrated over s.
func powerOf(n int, effect, conf float64, groups int) float64 {
	nu := float64(groups * (n - 1))
	delta := effect * math.Sqrt(float64(n)/float64(groups))
	limit := distuv.StudentsT{Sigma: 1, Nu: nu}.Quantile((1 + conf) / 2)
	lg, _ := math.Lgamma(nu / 2)
	density := func(s float64) float64 { // of s
		return math.Exp(math.Ln2 + nu/2*math.Log(nu/2) + (nu-1)*math.Log(s) - nu*s*s/2 - lg)
	}
	f := func(s float64) float64 {
		return density(s) * (distuv.UnitNormal.Survival(limit*s-delta) + distuv.UnitNormal.CDF(-limit*s-delta))
	}
	reach := 9 / math.Sqrt(2*nu) // s scatters by 1/√(2ν)
	return quad.Fixed(f, math.Max(0, 1-reach), 1+reach, 200, nil, 0)
}
