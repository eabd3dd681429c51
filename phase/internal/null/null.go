// Package null carries numbers through JSON, which has no NaN: what is not known is
// null there.
package null

import "math"

// Of returns what stands for v in JSON: nil, which is written as null, when it is not
// finite.
func Of(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

// NaN returns the number that was read, NaN for null or nothing.
func NaN(v *float64) float64 {
	if v == nil {
		return math.NaN()
	}
	return *v
}
