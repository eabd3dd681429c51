package phase

import (
	"math"
	"slices"
)

// mostLost is the longest gap of lost samples that is bridged by a straight line
// before peaks and levels are looked for, s: short against the fastest peaks of a
// swing. Longer gaps stay undefined.
const mostLost = 0.02

// bridged returns x with its short gaps filled; x itself when there are none.
func bridged(x []float64, rate float64) []float64 {
	if !slices.ContainsFunc(x, math.IsNaN) {
		return x
	}
	x = slices.Clone(x)
	most := max(1, samplesIn(mostLost, rate))
	for i := 1; i < len(x); i++ {
		if !math.IsNaN(x[i]) {
			continue
		}
		end := i
		for end < len(x) && math.IsNaN(x[end]) {
			end++
		}
		if end < len(x) && end-i <= most {
			a, b := x[i-1], x[end]
			for k := i; k < end; k++ {
				x[k] = a + (b-a)*float64(k-i+1)/float64(end-i+1)
			}
		}
		i = end
	}
	return x
}

// dropUndefined turns events without a time into missing ones: what bounds them was
// lost.
func (e *Events) dropUndefined() {
	found := e.Found[:0]
	for _, f := range e.Found {
		if math.IsNaN(f.Time) {
			e.miss(f.Name, "samples are lost where it would be")
			continue
		}
		found = append(found, f)
	}
	e.Found = found
}
