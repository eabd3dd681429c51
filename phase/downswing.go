package phase

import (
	"fmt"
	"math"

	"example.com/momentarm/grf"
)

// What tells a downswing from standing, waggling and false starts (common
// practice, no published source). A full swing moves the centre of pressure of
// both feet by some 0.15 m toward the lead foot in 80 ms and by 0.4 m in all, and
// the vertical force changes by most of body weight meanwhile; slow half swings
// and golfers who hang back reach a third of that. A waggle moves the pressure by
// some 0.05 m, a hard false start as far as a half swing, but neither of them
// does much to the vertical force.
const (
	leastShift    = 0.02 // m within 80 ms, fastest
	leastTravel   = 0.09 // m from turning point to turning point
	leastVertical = 0.10 // difference between highest and lowest vertical force, body weights
)

// swingApart is the least time between two downswings, s: what moves the load
// fast within it belongs to one swing.
const swingApart = 1.5

// FindDownswing returns the sample at which the load moves fastest toward the
// lead foot: that of [FindDownswings] at which it is fastest. It fails with
// [ErrNoSwing] when there is none.
func FindDownswing(net []grf.Wrench, rate, weight float64, first, last int) (int, error) {
	s := newShift(net, rate, weight, first)
	at := -1
	for _, i := range FindDownswings(net, rate, weight, first, last) {
		if at < 0 || s.rise(i) > s.rise(at) {
			at = i
		}
	}
	if at < 0 {
		return 0, fmt.Errorf("%w: the load never moves quickly and far enough toward the lead foot while the vertical force changes; are lead and trail, the target direction and the handedness right?", ErrNoSwing)
	}
	return at, nil
}

// FindDownswings returns the samples at which the load moves fastest toward the
// lead foot, one per swing, in order: the fastest rises over 80 ms of the moment
// about the forward axis through the centre of pressure of the middle sample,
// which is load times place along the target line, within the samples first to
// last of net and while the plates carry at least a third of weight. Where the
// laboratory has its origin does not matter. Around each of them, within 0.35 s to either
// side, the load travels by at least 9 cm times weight and the vertical force
// changes by at least 10 % of weight; so it does in slow half swings, but not in
// waggles. Of two within 1.5 s the faster counts. It works on raw and on
// filtered forces; samples that are NaN, infinite or beyond 10⁹ do not count.
func FindDownswings(net []grf.Wrench, rate, weight float64, first, last int) []int {
	s := newShift(net, rate, weight, first)
	var found []int
	take := func(i int) {
		if i < 0 || !s.swing(i) {
			return
		}
		if n := len(found); n > 0 && float64(i-found[n-1]) < swingApart*rate {
			if s.rise(i) > s.rise(found[n-1]) {
				found[n-1] = i
			}
			return
		}
		found = append(found, i)
	}
	best := -1 // fastest of the stretch of fast samples at hand
	for i := max(first, s.half); i <= min(last, len(net)-1-s.half); i++ {
		switch {
		case s.fast(i):
			if best < 0 || s.rise(i) > s.rise(best) {
				best = i
			}
		case best >= 0 && i-best > 2*s.half:
			take(best)
			best = -1
		}
	}
	take(best)
	return found
}

// shift says how the load of a golfer moves between the feet.
type shift struct {
	net    []grf.Wrench
	weight float64
	first  int // earliest sample to look at
	half   int // samples in 40 ms
	margin int // samples for which the golfer has to be on the plates
	reach  int // samples in 0.35 s, longer than the load takes from turning point to turning point
}

func newShift(net []grf.Wrench, rate, weight float64, first int) shift {
	samples := func(t float64) int { return max(1, min(samplesIn(t, rate), len(net))) }
	return shift{
		net: net, weight: weight, first: max(0, first), half: samples(0.04),
		margin: samples(0.3),
		reach:  samples(0.35),
	}
}

// rise returns the rise over 80 ms around sample i, which must be half a rise
// away from the ends, about the centre of pressure of that sample.
func (s *shift) rise(i int) float64 {
	before, now, after := &s.net[i-s.half], &s.net[i], &s.net[i+s.half]
	return after.Moment.X - before.Moment.X - now.Moment.X/now.Force.Z*(after.Force.Z-before.Force.Z)
}

// fast reports whether the load moves quickly toward the lead foot at sample i,
// of a golfer who is on the plates.
func (s *shift) fast(i int) bool {
	if rise := s.rise(i); !(rise > leastShift*s.weight) || !measured(rise) {
		return false
	}
	for _, k := range [...]int{max(s.first, i-s.margin), i - s.half, i, i + s.half} {
		if !(s.net[k].Force.Z > 0.3*s.weight) {
			return false
		}
	}
	return true
}

// swing reports whether the load travels far around sample i and the vertical
// force, in means over 40 ms, changes enough.
func (s *shift) swing(i int) bool {
	from, to := max(0, i-s.reach), min(len(s.net)-1, i+s.reach)
	low, high := math.NaN(), math.NaN()
	place := pressedAt(s.net[i])
	for k := from; k <= to; k++ {
		m := s.net[k].Moment.X - place*s.net[k].Force.Z
		if k <= i && !(m >= low) && measured(m) {
			low = m
		}
		if k >= i && !(m <= high) && measured(m) {
			high = m
		}
	}
	if !(high-low >= leastTravel*s.weight) {
		return false
	}
	low, high = math.NaN(), math.NaN()
	for k := from; k+s.half-1 <= to; k += max(1, s.half/2) {
		var sum float64
		n := 0
		for _, w := range s.net[k : k+s.half] {
			if measured(w.Force.Z) {
				sum += w.Force.Z
				n++
			}
		}
		if mean := sum / float64(n); n > 0 {
			if !(mean >= low) {
				low = mean
			}
			if !(mean <= high) {
				high = mean
			}
		}
	}
	return high-low >= leastVertical*s.weight
}
