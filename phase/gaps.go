package phase

import (
	"math"
	"slices"

	"example.com/momentarm/grf"
)

// mostLost is the longest gap of lost samples that is bridged by a straight line
// before peaks and levels are looked for, s: short against the fastest peaks of a
// swing. Longer gaps stay undefined.
const mostLost = 0.02

// mostMeasured is a force, N, or moment, N·m, beyond what any plate measures and far
// from where squares become infinite. What is larger counts as lost.
const mostMeasured = 1e9

func measured(v float64) bool { return math.Abs(v) <= mostMeasured }

func unmeasured(v float64) bool { return !measured(v) }

// allMeasured reports whether [onlyMeasured] has nothing to do, and perhaps not when
// it has not: one comparison for six.
func allMeasured(w *grf.Wrench) bool {
	f, m := &w.Force, &w.Moment
	return f.X*f.X+f.Y*f.Y+f.Z*f.Z+m.X*m.X+m.Y*m.Y+m.Z*m.Z < mostMeasured*mostMeasured
}

// onlyMeasured sets what no plate measures to NaN.
func onlyMeasured(w *grf.Wrench) {
	f, m := &w.Force, &w.Moment
	for _, v := range [6]*float64{&f.X, &f.Y, &f.Z, &m.X, &m.Y, &m.Z} {
		if !measured(*v) {
			*v = math.NaN()
		}
	}
}

// bridged returns x with its short gaps filled and NaN in the longer ones; x itself
// when there are none.
func bridged(x []float64, rate float64) []float64 {
	if !slices.ContainsFunc(x, unmeasured) {
		return x
	}
	x = slices.Clone(x)
	for i, v := range x {
		if !measured(v) {
			x[i] = math.NaN()
		}
	}
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
