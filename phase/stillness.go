package phase

import (
	"math"

	"example.com/momentarm/grf"
)

// stillness tells how much the wrench varied over the last n samples, in the way
// of [grf.FindQuiet]: the root of the summed variances of the force components and
// of the horizontal moment components over 0.5 m, about the centre of pressure of the
// window. Sums run along with the window, on values less a reference so that they
// stay small.
type stillness struct {
	n        int     // samples of the window
	per, pro float64 // 1/n and 1/(n−1): a live system has no time to divide
	seen     int     // samples since the sums were set up
	lost     int     // of them in the window without a value
	ref      [5]float64
	sum, sq  [5]float64
	with     [2]float64 // products of the moments with the vertical force
	anchored bool       // ref is set
	variance float64    // sum of those of the signals, NaN while samples are missing; rounding may take it below zero
}

func newStillness(n int) stillness {
	return stillness{n: n, per: 1 / float64(n), pro: 1 / float64(n-1)}
}

func (s *stillness) reset() { *s = stillness{n: s.n, per: s.per, pro: s.pro} }

// push takes the last of the kept samples in and the one that leaves the window
// out. The signals are variables of their own, not arrays, because this is done with
// every sample.
func (s *stillness) push(kept []grf.Wrench) {
	last := len(kept) - 1
	if s.seen < s.n || s.seen >= 64*s.n || s.lost > 0 {
		s.change(kept)
		return
	}
	in, out := &kept[last], &kept[last-s.n]
	r, sum, sq := &s.ref, &s.sum, &s.sq
	a, b, c, d, e := in.Force.Z-r[0], in.Force.X-r[1], in.Force.Y-r[2], 2*in.Moment.X-r[3], 2*in.Moment.Y-r[4]
	u, v, w, x, y := out.Force.Z-r[0], out.Force.X-r[1], out.Force.Y-r[2], 2*out.Moment.X-r[3], 2*out.Moment.Y-r[4]
	// The last sample enters last, so that the rest does not wait for it.
	s0, s1, s2, s3, s4 := sum[0]-u+a, sum[1]-v+b, sum[2]-w+c, sum[3]-x+d, sum[4]-y+e
	if t := s0 + s1 + s2 + s3 + s4; t-t != 0 { // NaN: a signal is missing
		s.change(kept)
		return
	}
	with0, with1 := s.with[0]-u*x+a*d, s.with[1]-u*y+a*e
	q0, q1, q2, q3, q4 := sq[0]-u*u+a*a, sq[1]-v*v+b*b, sq[2]-w*w+c*c, sq[3]-x*x+d*d, sq[4]-y*y+e*e
	sum[0], sum[1], sum[2], sum[3], sum[4] = s0, s1, s2, s3, s4
	sq[0], sq[1], sq[2], sq[3], sq[4] = q0, q1, q2, q3, q4
	s.with = [2]float64{with0, with1}
	s.vary()
	s.seen++
}

// vary notes the variance of the window. A moment about the window's centre of
// pressure is less by arm × vertical force, with arm the mean moment over the mean
// vertical force.
func (s *stillness) vary() {
	sum, sq := &s.sum, &s.sq
	s0, s3, s4 := sum[0]*s.per, sum[3]*s.per, sum[4]*s.per
	z := 1 / (s.ref[0] + s0)
	x, y := (s.ref[3]+s3)*z, (s.ref[4]+s4)*z
	vertical := sq[0] - s0*sum[0]
	rest := ((sq[1] + sq[2]) + (sq[3] + sq[4])) - ((sum[1]*sum[1]+sum[2]*sum[2])*s.per + (s3*sum[3] + s4*sum[4]))
	arms := (x*x+y*y)*vertical - 2*(x*(s.with[0]-s0*sum[3])+y*(s.with[1]-s0*sum[4]))
	s.variance = (vertical + rest + arms) * s.pro
}

// change is push whatever is missing. Every so often it begins anew, so that rounding
// does not pile up.
func (s *stillness) change(kept []grf.Wrench) {
	recent := kept[max(0, len(kept)-s.n):]
	if s.seen >= 64*s.n {
		s.reset()
		for i := range recent {
			s.add(&recent[i], 1)
		}
		s.seen = s.n
	} else {
		s.add(&recent[len(recent)-1], 1)
		if s.seen >= s.n {
			s.add(&kept[len(kept)-1-s.n], -1)
		}
		s.seen++
	}
	if s.seen < s.n || s.lost > 0 {
		s.variance = math.NaN()
		return
	}
	s.vary()
}

// add counts a sample in, or out with a sign of −1.
func (s *stillness) add(w *grf.Wrench, sign float64) {
	a, b, c, d, e := w.Force.Z, w.Force.X, w.Force.Y, 2*w.Moment.X, 2*w.Moment.Y
	if math.IsNaN(b) && math.IsNaN(c) { // not measured, or lost with the rest
		b, c = 0, 0
	}
	if (a-a)+(b-b)+(c-c)+(d-d)+(e-e) != 0 { // NaN if one is not finite
		s.lost += int(sign)
		return
	}
	if !s.anchored {
		s.ref, s.anchored = [5]float64{a, b, c, d, e}, true
	}
	for i, v := range [5]float64{a, b, c, d, e} {
		v -= s.ref[i]
		s.sum[i] += sign * v
		s.sq[i] += sign * v * v
	}
	z := a - s.ref[0]
	s.with[0] += sign * z * (d - s.ref[3])
	s.with[1] += sign * z * (e - s.ref[4])
}

// mean returns the mean vertical force of the window.
func (s *stillness) mean() float64 { return s.ref[0] + s.sum[0]*s.per }

// variation returns how much the wrench varies in the window as a part of the mean
// vertical force; NaN while samples are missing.
func (s *stillness) variation() float64 { return math.Sqrt(max(s.variance, 0)) / s.mean() }

// still reports whether the golfer is on the plates and still enough.
func (s *stillness) still(opt *grf.QuietOptions) bool {
	mean := s.mean()
	most := opt.Limit * mean
	return mean >= opt.MinWeight && s.variance <= most*most
}
