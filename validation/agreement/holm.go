package agreement

import (
	"fmt"
	"math"
	"slices"
)

// Holm returns the p-values of several tests after allowing for how many they are:
// whoever calls significant what is below 0.05 then claims any effect at all by
// chance in at most 5 % of studies, whether or not the tests depend on each other
// (S. Holm, Scand. J. Statist. 6:65–70, 1979). A NaN stays one and does not count as
// a test. An error wraps [ErrProbability].
func Holm(ps []float64) ([]float64, error) {
	adjusted := make([]float64, len(ps))
	var order []int
	for i, p := range ps {
		switch {
		case math.IsNaN(p):
			adjusted[i] = p
		case p < 0 || p > 1:
			return nil, fmt.Errorf("%w: ps[%d] is %g", ErrProbability, i, p)
		default:
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(i, j int) int {
		switch {
		case ps[i] < ps[j]:
			return -1
		case ps[i] > ps[j]:
			return 1
		}
		return 0
	})
	worst := 0.0
	for rank, i := range order {
		worst = math.Max(worst, math.Min(1, float64(len(order)-rank)*ps[i]))
		adjusted[i] = worst
	}
	return adjusted, nil
}
