package com

import (
	"gonum.org/v1/gonum/spatial/r3"
)

// dynamics is how force moves the centre of mass.
type dynamics struct {
	mass, gravity float64
	period        float64 // s, of the force samples
	noise         Noise   // defaults filled in
	held          bool    // each sample holds until the next: only to compare with methods that do so
}

// node is an instant at which something is known: a force sample or a fix. A
// chain of nodes in order of time is what both the tracker and the smoother
// work on.
type node struct {
	t       float64 // s
	force   r3.Vec  // N
	lostFor float64 // s since the last known force; 0 where it is known
	sample  int     // number of the force sample, −1 for a fix between samples
	source  int     // number of the source of the fix, −1 for none of them
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
		p[0][0], p[1][1], p[2][2], p[3][3] = sd*sd, 1, bias*bias, d.noise.MassSD*d.noise.MassSD
	}
	n.fix.apply(&n.ax)
}

// step is what the ways of the three axes from one node to the next share.
type step struct {
	dt     float64 // s
	mass   float64 // 1/kg
	spread float64 // by which the variance of a force sample is multiplied
	gap    float64 // variance of the acceleration that lost samples leave, (m/s²)²
	walk   float64 // variance by which the bias grows, (m/s²)²
}

// step returns what the strides from a to b share.
func (d *dynamics) step(a, b *node) step {
	s := step{dt: b.t - a.t, mass: 1 / d.mass}
	if s.dt == 0 {
		return s
	}
	// White noise of variance σ² in samples one period apart: what remains of
	// it over dt has the variance σ² period/dt.
	s.spread = d.period / s.dt
	if a.lostFor > 0 || b.lostFor > 0 {
		// An unknown but lasting force error: the velocity is out by its
		// acceleration times the time since the force was lost.
		gap := d.noise.GapSD * d.gravity
		t0, t1 := a.lostFor, a.lostFor+s.dt
		s.gap = gap * gap * (t1*t1 - t0*t0) / (s.dt * s.dt)
	}
	walk := d.noise.BiasWalk * s.mass
	s.walk = walk * walk * s.dt
	return s
}

// along returns the way of one axis: f0 and f1 are the forces at its ends, N, sd
// their noise, N, and g the gravity along it, m/s².
func (s *step) along(f0, f1, sd, g float64) stride {
	sd *= s.mass
	return stride{dt: s.dt, f0: f0 * s.mass, f1: f1 * s.mass, g: g, noise: sd*sd*s.spread + s.gap, walk: s.walk}
}

// strides returns the ways of the three axes from node a to the next, b.
func (d *dynamics) strides(a, b *node) (x, y, z stride) {
	s := d.step(a, b)
	f0, f1, sd := &a.force, &b.force, &d.noise.ForceSD
	if d.held {
		f1 = f0
	}
	return s.along(f0.X, f1.X, sd.X, 0), s.along(f0.Y, f1.Y, sd.Y, 0), s.along(f0.Z, f1.Z, sd.Z, -d.gravity)
}

// stride returns the way of axis k from node a to the next, b.
func (d *dynamics) stride(a, b *node, k int) stride {
	x, y, z := d.strides(a, b)
	return [3]stride{x, y, z}[k]
}

// next computes the state of b from that of the node before it.
func (d *dynamics) next(a, b *node) {
	x, y, z := d.strides(a, b)
	b.ax[0].predictFrom(&a.ax[0], &x)
	b.ax[1].predictFrom(&a.ax[1], &y)
	b.ax[2].predictFrom(&a.ax[2], &z)
	b.fix.apply(&b.ax)
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
	n := node{t: fix.Time, sample: -1, source: source, fix: fix, force: a.force}
	if w := b.t - a.t; w > 0 && !d.held {
		n.force = r3.Add(a.force, r3.Scale((fix.Time-a.t)/w, r3.Sub(b.force, a.force)))
	}
	if fix.Time > a.t && (a.lostFor > 0 || b.lostFor > 0) {
		n.lostFor = a.lostFor + fix.Time - a.t
	} else if fix.Time == a.t {
		n.lostFor = a.lostFor
	}
	return n
}
