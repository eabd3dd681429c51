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

// push takes the last of the kept samples in and the one that leaves the window
// out. Every so often it begins anew, so that rounding does not pile up.
func (s *stillness) push(kept []grf.Wrench) {
	if s.seen >= 64*s.n {
		recent := kept[len(kept)-s.n:]
		s.reset()
		for i := range recent {
			s.add(&recent[i], 1)
		}
		s.seen = s.n
		return
	}
	s.add(&kept[len(kept)-1], 1)
	if s.seen >= s.n {
		s.add(&kept[len(kept)-1-s.n], -1)
	}
	s.seen++
}

// add counts a sample in, or out with a sign of −1. The signals are variables of
// their own, not an array, because this is done twice with every sample.
func (s *stillness) add(w *grf.Wrench, sign float64) {
	a, b, c, d, e := w.Force.Z, w.Force.X, w.Force.Y, 2*w.Moment.X, 2*w.Moment.Y
	if math.IsNaN(b) && math.IsNaN(c) { // not measured, or lost with the rest
		b, c = 0, 0
	}
	if (a-a)+(b-b)+(c-c)+(d-d)+(e-e) != 0 { // NaN if one is not finite
		s.lost += int(sign)
		return
	}
	r := &s.ref
	if !s.anchored {
		*r, s.anchored = [5]float64{a, b, c, d, e}, true
	}
	a, b, c, d, e = a-r[0], b-r[1], c-r[2], d-r[3], e-r[4]
	sum, sq := &s.sum, &s.sq
	sum[0], sum[1], sum[2], sum[3], sum[4] = sum[0]+sign*a, sum[1]+sign*b, sum[2]+sign*c, sum[3]+sign*d, sum[4]+sign*e
	sq[0], sq[1], sq[2], sq[3], sq[4] = sq[0]+sign*a*a, sq[1]+sign*b*b, sq[2]+sign*c*c, sq[3]+sign*d*d, sq[4]+sign*e*e
}

// mean returns the mean vertical force of the window.
func (s *stillness) mean() float64 { return s.ref[0] + s.sum[0]/float64(s.n) }

// variance returns the summed variances of the window, NaN while samples are
// missing.
func (s *stillness) variance() float64 {
	if s.seen < s.n || s.lost > 0 {
		return math.NaN()
	}
	var squares, sums float64
	for c := range s.sum {
		squares += s.sq[c]
		sums += s.sum[c] * s.sum[c]
	}
	n := float64(s.n)
	return max((squares-sums/n)/(n-1), 0)
}

// variation returns how much the wrench varies in the window as a part of the mean
// vertical force; NaN while samples are missing.
func (s *stillness) variation() float64 { return math.Sqrt(s.variance()) / s.mean() }

// still reports whether the golfer is on the plates and still enough.
func (s *stillness) still(opt grf.QuietOptions) bool {
	mean := s.mean()
	most := opt.Limit * mean
	return mean >= opt.MinWeight && s.variance() <= most*most
}
