package com

import (
	"fmt"
	"math"
	"slices"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// What counts as standing still when the caller names no window. Parts of body
// weight; common practice (no published source).
const (
	stillTime   = 0.5   // s, the shortest stretch that counts
	stillSpread = 0.02  // largest standard deviation of a force component in it, before the swing
	endSpread   = 0.04  // the same, holding the finish
	endOffset   = 0.02  // largest distance of the mean force from the weight, holding the finish
	sameForce   = 0.001 // means of 0.05 s that differ by less are the same force
	minWeight   = 100   // N: nobody stands on plates that carry less
)

// stance is what the forces of a quiet window say.
type stance struct {
	lo, hi int        // samples, half open
	force  r3.Vec     // mean, N
	noise  r3.Vec     // standard deviation of one sample, N
	cop    [2]float64 // centre of pressure of the mean wrench at Z = 0, m
}

// stand returns the means over samples lo..hi that are not NaN.
func stand(net []grf.Wrench, lo, hi int) stance {
	s := stance{lo: lo, hi: hi}
	var sum grf.Wrench
	var n float64
	for _, w := range net[lo:hi] {
		if !w.IsNaN() {
			sum = sum.Add(w)
			n++
		}
	}
	mean := sum.Scale(1 / n)
	s.force = mean.Force
	var q r3.Vec
	for _, w := range net[lo:hi] {
		if !w.IsNaN() {
			d := r3.Sub(w.Force, s.force)
			q = r3.Add(q, r3.Vec{X: d.X * d.X, Y: d.Y * d.Y, Z: d.Z * d.Z})
		}
	}
	s.noise = r3.Vec{X: math.Sqrt(q.X / (n - 1)), Y: math.Sqrt(q.Y / (n - 1)), Z: math.Sqrt(q.Z / (n - 1))}
	s.cop = [2]float64{-mean.Moment.Y / mean.Force.Z, mean.Moment.X / mean.Force.Z}
	return s
}

// action returns the sample whose force is farthest from the mean.
func action(force []r3.Vec, lo, hi int) int {
	var mean r3.Vec
	n := 0.0
	for _, f := range force[lo:hi] {
		if finite(f) {
			mean = r3.Add(mean, f)
			n++
		}
	}
	mean = r3.Scale(1/n, mean)
	at, far := lo, -1.0
	for i := lo; i < hi; i++ {
		if d := r3.Norm2(r3.Sub(force[i], mean)); d > far {
			at, far = i, d
		}
	}
	return at
}

// quietest returns the steadiest stretch of n samples inside lo..hi in which
// somebody stands: the one whose largest standard deviation of a force
// component, as a part of the weight, is smallest; the later of two alike. ok
// is false when there is none without lost samples. With weight > 0 the mean
// force must also be near that weight.
func quietest(force []r3.Vec, lo, hi, n int, weight float64) (at int, spread float64, ok bool) {
	if hi-lo < n {
		return 0, math.NaN(), false
	}
	// Sums about a force of the range lose no digits to the weight.
	var ref, s, q r3.Vec
	if i := slices.IndexFunc(force[lo:hi], finite); i >= 0 {
		ref = force[lo+i]
	}
	lost := 0
	add := func(f r3.Vec, sign float64) {
		if !finite(f) {
			lost += int(sign)
			return
		}
		d := r3.Sub(f, ref)
		s = r3.Add(s, r3.Scale(sign, d))
		q = r3.Add(q, r3.Scale(sign, r3.Vec{X: d.X * d.X, Y: d.Y * d.Y, Z: d.Z * d.Z}))
	}
	spread = math.Inf(1)
	k := float64(n)
	for i := lo; i < hi; i++ {
		add(force[i], 1)
		if i-n >= lo {
			add(force[i-n], -1)
		}
		if i-n+1 < lo || lost > 0 {
			continue
		}
		mean := r3.Add(ref, r3.Scale(1/k, s))
		if !(mean.Z > minWeight) || weight > 0 && largest(r3.Sub(mean, r3.Vec{Z: weight})) > endOffset*weight {
			continue
		}
		v := max(q.X-s.X*s.X/k, q.Y-s.Y*s.Y/k, q.Z-s.Z*s.Z/k) / k
		if r := math.Sqrt(max(v, 0)) / mean.Z; r <= spread {
			at, spread, ok = i-n+1, r, true
		}
	}
	return at, spread, ok
}

// widen grows the still stretch lo..hi inside low..high by blocks of 0.05 s
// whose mean force is that of the stretch, as far as the means of such blocks
// inside the stretch can tell: it must stop before the onset of a movement,
// not in it.
func widen(force []r3.Vec, lo, hi, low, high int, rate float64) (int, int) {
	block := max(1, count(math.Round(0.05*rate)))
	mean := meanForce(force[lo:hi])
	var q r3.Vec
	n := 0.0
	for i := lo; i+block <= hi; i += block {
		d := r3.Sub(meanForce(force[i:i+block]), mean)
		q = r3.Add(q, r3.Vec{X: d.X * d.X, Y: d.Y * d.Y, Z: d.Z * d.Z})
		n++
	}
	floor := sameForce * mean.Z
	limit := func(q float64) float64 { return max(floor, 3*math.Sqrt(q/n)) }
	same := func(a, b int) bool {
		d := r3.Sub(meanForce(force[a:b]), mean) // NaN where samples are lost: not the same
		return math.Abs(d.X) <= limit(q.X) && math.Abs(d.Y) <= limit(q.Y) && math.Abs(d.Z) <= limit(q.Z)
	}
	for lo-block >= low && same(lo-block, lo) {
		lo -= block
	}
	for hi+block <= high && same(hi, hi+block) {
		hi += block
	}
	return lo, hi
}

// largest returns the largest magnitude of a component.
func largest(v r3.Vec) float64 { return max(math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z)) }

func meanForce(force []r3.Vec) r3.Vec {
	var m r3.Vec
	for _, f := range force {
		m = r3.Add(m, f)
	}
	return r3.Scale(1/float64(len(force)), m)
}

// findQuiet returns the quiet stance before the swing: the given window, or
// the steadiest stretch before the largest force.
func findQuiet(net []grf.Wrench, force []r3.Vec, given Window, start, rate float64) (stance, error) {
	n := len(net)
	if given.none() {
		return stance{}, fmt.Errorf("%w: a path from forces needs a window in which the golfer stands still", grf.ErrNoQuiet)
	}
	if given.given() {
		lo, hi := given.samples(start, rate, n)
		if hi-lo < 2 || !(given.From <= given.To) {
			return stance{}, fmt.Errorf("%w: quiet stance %g…%g s in a recording of %g…%g s", grf.ErrWindow,
				given.From, given.To, start, start+float64(n-1)/rate)
		}
		for i := lo; i < hi; i++ {
			if !finite(force[i]) {
				return stance{}, fmt.Errorf("%w: force is missing at %g s inside the quiet stance %g…%g s", grf.ErrNoQuiet,
					start+float64(i)/rate, given.From, given.To)
			}
		}
		s := stand(net, lo, hi)
		if !(s.force.Z > minWeight) {
			return stance{}, fmt.Errorf("%w: the window %g…%g s carries %.0f N, less than %d N", grf.ErrNoQuiet,
				given.From, given.To, s.force.Z, minWeight)
		}
		return s, nil
	}
	peak := action(force, 0, n)
	w := max(2, count(math.Round(stillTime*rate)))
	at, spread, ok := quietest(force, 0, peak, w, 0)
	t := func(i int) float64 { return start + float64(i)/rate }
	if !ok {
		return stance{}, fmt.Errorf("%w: nobody stands on the plates for %g s without lost samples before the largest force at %g s", grf.ErrNoQuiet, stillTime, t(peak))
	}
	if spread > stillSpread {
		return stance{}, fmt.Errorf("%w: the steadiest %g s before the largest force (from %g s) vary by %.1f %% of body weight, more than %g %%; name a window",
			grf.ErrNoQuiet, stillTime, t(at), 100*spread, 100*stillSpread)
	}
	lo, hi := widen(force, at, at+w, 0, peak, rate)
	return stand(net, lo, hi), nil
}

// findStill returns the window after the swing in which the golfer is still
// again; ok is false when none is given or found.
func findStill(net []grf.Wrench, force []r3.Vec, quiet stance, hi int, given Window, start, rate, weight float64) (s stance, ok bool, err error) {
	n := len(net)
	if given.none() {
		return stance{}, false, nil
	}
	if given.given() {
		a, b := given.samples(start, rate, n)
		if b-a < 2 || !(given.From <= given.To) {
			return stance{}, false, fmt.Errorf("%w: still finish %g…%g s in a recording of %g…%g s", grf.ErrWindow,
				given.From, given.To, start, start+float64(n-1)/rate)
		}
		if a < quiet.hi {
			return stance{}, false, fmt.Errorf("%w: still finish from %g s begins before the quiet stance ends at %g s", grf.ErrWindow,
				given.From, start+float64(quiet.hi-1)/rate)
		}
		if b > hi {
			return stance{}, false, nil // behind a gap: nothing to correct there
		}
		return stand(net, a, b), true, nil
	}
	if quiet.hi >= hi {
		return stance{}, false, nil
	}
	peak := action(force, quiet.hi, hi)
	w := max(2, count(math.Round(stillTime*rate)))
	at, spread, found := quietest(force, peak, hi, w, weight)
	if !found || spread > endSpread {
		return stance{}, false, nil
	}
	a, b := widen(force, at, at+w, peak, hi, rate)
	return stand(net, a, b), true, nil
}
