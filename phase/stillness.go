package phase

import (
	"math"

	"example.com/momentarm/grf"
)

// stillness tells how much the wrench varied over the last n samples, in the way
// of [grf.FindQuiet]: the root of the summed variances of the force components and
// of the horizontal moment components over 0.5 m. Sums run along with the window,
// on values less a reference so that they stay small.
type stillness struct {
	n        int // samples of the window
	seen     int // samples since the sums were set up
	lost     int // of them in the window without a value
	ref      [5]float64
	sum, sq  [5]float64
	anchored bool // ref is set
}

func (s *stillness) reset() { *s = stillness{n: s.n} }

func stillnessSignals(w grf.Wrench) (v [5]float64, ok bool) {
	v = [5]float64{w.Force.Z, w.Force.X, w.Force.Y, 2 * w.Moment.X, 2 * w.Moment.Y}
	if math.IsNaN(w.Force.X) && math.IsNaN(w.Force.Y) { // not measured, or lost with the rest
		v[1], v[2] = 0, 0
	}
	var sum float64
	for _, x := range v {
		sum += x - x // NaN if x is not finite
	}
	return v, sum == 0
}

// push takes the last of the kept samples in and the one that leaves the window
// out. Every so often it begins anew, so that rounding does not pile up.
func (s *stillness) push(kept []grf.Wrench) {
	if s.seen >= 64*s.n {
		recent := kept[len(kept)-s.n:]
		s.reset()
		for _, w := range recent {
			s.add(w, 1)
		}
		s.seen = s.n
		return
	}
	s.add(kept[len(kept)-1], 1)
	if s.seen >= s.n {
		s.add(kept[len(kept)-1-s.n], -1)
	}
	s.seen++
}

func (s *stillness) add(w grf.Wrench, sign float64) {
	v, ok := stillnessSignals(w)
	if !ok {
		s.lost += int(sign)
		return
	}
	if !s.anchored {
		s.ref, s.anchored = v, true
	}
	for c := range v {
		d := v[c] - s.ref[c]
		s.sum[c] += sign * d
		s.sq[c] += sign * d * d
	}
}

// mean returns the mean vertical force of the window.
func (s *stillness) mean() float64 { return s.ref[0] + s.sum[0]/float64(s.n) }

// variation returns how much the wrench varies in the window as a part of the mean
// vertical force; NaN while samples are missing.
func (s *stillness) variation() float64 {
	if s.seen < s.n || s.lost > 0 {
		return math.NaN()
	}
	n := float64(s.n)
	var variance float64
	for c := range s.sum {
		variance += (s.sq[c] - s.sum[c]*s.sum[c]/n) / (n - 1)
	}
	return math.Sqrt(math.Max(variance, 0)) / s.mean()
}

// still reports whether the golfer is on the plates and still enough.
func (s *stillness) still(opt grf.QuietOptions) bool {
	return s.mean() >= opt.MinWeight && s.variation() <= opt.Limit
}
