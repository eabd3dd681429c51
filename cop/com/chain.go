package com

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// dynamics is how force moves the centre of mass.
type dynamics struct {
	mass, gravity float64
	period        float64 // s, of the force samples
	noise         Noise   // defaults filled in
	regular       span    // between two samples, neither of which is lost
	held          bool    // each sample holds until the next: only to compare with methods that do so
}

// node is an instant at which something is known: a force sample or a fix. A
// chain of nodes in order of time is what both the tracker and the smoother
// work on.
type node struct {
	t       float64 // s
	force   r3.Vec  // N
	lostFor float64 // s since the last known force; 0 where it is known
	since   float64 // s since the force sample at or before it
	sample  int     // number of the force sample, −1 for a fix between samples
	source  int     // number of the source of the fix, −1 for none of them
	fixed   bool    // fix counts
	fix     Fix
	ax      [3]axis // after everything up to and including this node
}

// start sets the state before anything is known: position within sd of at,
// velocity within 1 m/s of rest, as people are.
func (d *dynamics) start(n *node, at r3.Vec, sd float64) {
	bias := d.noise.BiasSD / d.mass
	for k := range n.ax {
		n.ax[k] = axis{x: [4]float64{*component(&at, k)}}
		p := &n.ax[k].p
		p[0], p[4], p[7], p[9] = sd*sd, 1, bias*bias, d.noise.MassSD*d.noise.MassSD
	}
	if n.fixed {
		n.fix.apply(&n.ax)
	}
}

// isRegular reports whether a regular span leads from node a to the next, b.
func (d *dynamics) isRegular(a, b *node) bool {
	return a.since == 0 && b.sample >= 0 && !(a.lostFor > 0 || b.lostFor > 0) && d.regular.dt > 0
}

// span returns the span from node a to the next, b.
func (d *dynamics) span(a, b *node) span {
	if d.isRegular(a, b) {
		return d.regular
	}
	return d.spanOf(d.way(a, b), a.lostFor, b.lostFor > 0)
}

// way returns the time from node a to the next, b, s. Force samples are one period
// apart, and what lies between two of them divides it: differences of times would be
// rounded with the times.
func (d *dynamics) way(a, b *node) float64 {
	to := b.since
	if b.sample >= 0 {
		to = d.period
	}
	return math.Max(to-a.since, 0)
}

// regulate works the span between two samples out, once for all of them. The mass must
// not change after it.
func (d *dynamics) regulate() { d.regular = d.spanOf(d.period, 0, false) }

// spanOf returns a span of dt, at whose beginning the force had been lost for the
// time lostFor, and at whose end it is lost.
func (d *dynamics) spanOf(dt, lostFor float64, lost bool) (s span) {
	if dt == 0 {
		return s
	}
	s.dt, s.square = dt, dt*dt
	s.pb = s.square / 2
	s.pp, s.pv = s.pb*s.pb, s.pb*dt
	s.pf, s.vf = s.square/(6*d.mass), dt/(2*d.mass)
	walk := d.noise.BiasWalk / d.mass
	s.walk = walk * walk * dt
	var gap float64 // variance of the acceleration that lost samples leave
	if lostFor > 0 || lost {
		// An unknown but lasting force error: the velocity is out by its
		// acceleration times the time since the force was lost.
		g := d.noise.GapSD * d.gravity
		t0, t1 := lostFor, lostFor+dt
		gap = g * g * (t1*t1 - t0*t0) / (dt * dt)
	}
	for k := range s.noises {
		// White noise of variance σ² in samples one period apart: what remains of
		// it over dt has the variance σ² period/dt.
		sd := *component(&d.noise.ForceSD, k) / d.mass
		s.noises[k] = sd*sd*(d.period/dt) + gap
	}
	return s
}

// stride returns the way of axis k from node a to the next, b.
func (d *dynamics) stride(a, b *node, k int) (s stride) {
	s.span = d.span(a, b)
	s.f0, s.f1, s.noise = *component(&a.force, k), *component(&b.force, k), s.noises[k]
	if d.held {
		s.f1 = s.f0
	}
	if k == 2 {
		s.g = -d.gravity
	}
	return s
}

// next computes the state of b from that of the node before it. It spells out what
// stride returns, because a live system does this with every sample.
func (d *dynamics) next(a, b *node) {
	s := &d.regular
	if !d.isRegular(a, b) {
		other := d.span(a, b)
		s = &other
	}
	f0, f1 := &a.force, &b.force
	if d.held {
		f1 = f0
	}
	b.ax[0].carry(&a.ax[0], s, f0.X, f1.X, 0, s.noises[0])
	b.ax[1].carry(&a.ax[1], s, f0.Y, f1.Y, 0, s.noises[1])
	b.ax[2].carry(&a.ax[2], s, f0.Z, f1.Z, -d.gravity, s.noises[2])
	if b.fixed {
		b.fix.apply(&b.ax)
	}
}

// back turns the state of a, from which the chain goes on to b, into a
// smoothed one; later is the smoothed state of b. It also returns the gain.
func (d *dynamics) back(a, b *node, later *[3]axis) (smoothed [3]axis, g gain) {
	smoothed = a.ax
	for k := range smoothed {
		s := d.stride(a, b, k)
		g[k] = smoothed[k].smooth(&s, &later[k])
	}
	return smoothed, g
}

// between returns a node for a fix at t between the neighbours a and b.
func (d *dynamics) between(a, b *node, fix Fix, source int) node {
	n := node{t: fix.Time, since: a.since + (fix.Time - a.t), sample: -1, source: source, fixed: true, fix: fix, force: a.force}
	if w := d.way(a, b); w > 0 && b.t > a.t && !d.held {
		n.force = r3.Add(a.force, r3.Scale((fix.Time-a.t)/w, r3.Sub(b.force, a.force)))
	}
	if fix.Time > a.t && (a.lostFor > 0 || b.lostFor > 0) {
		n.lostFor = a.lostFor + fix.Time - a.t
	} else if fix.Time == a.t {
		n.lostFor = a.lostFor
	}
	return n
}
