package batch

import "math"

// Extremes are the smallest and the largest value of a series and the first
// sample that has it. Samples that are NaN do not count; of a series of nothing
// else the values are NaN and the samples −1.
type Extremes struct {
	Min, Max     float64
	MinAt, MaxAt int
}

// none are the extremes of a series that has not begun.
var none = Extremes{Min: math.Inf(1), Max: math.Inf(-1), MinAt: -1, MaxAt: -1}

// close turns what is still as [none] into NaN.
func (e *Extremes) close() {
	if e.MaxAt < 0 {
		e.Min, e.Max = math.NaN(), math.NaN()
	}
}

// note takes in the value of sample i.
func (e *Extremes) note(v float64, i int) {
	if v < e.Min {
		e.Min, e.MinAt = v, i
	}
	if v > e.Max {
		e.Max, e.MaxAt = v, i
	}
}
