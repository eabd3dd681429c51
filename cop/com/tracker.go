package com

import (
	"fmt"
	"math"
	"math/bits"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// Estimate is what is known of the centre of mass at one instant, with the
// standard deviation of each component.
type Estimate struct {
	Time                 float64 // s
	Position, PositionSD r3.Vec  // m
	Velocity, VelocitySD r3.Vec  // m/s
	// Bias is what the plates' net force is short of, N.
	Bias, BiasSD r3.Vec
}

// TrackerOptions say what a [Tracker] starts from.
type TrackerOptions struct {
	Mass    float64 // kg, golfer and club; required: see [StandStill] for one way to get it
	Rate    float64 // Hz, of the force samples; required
	Start   float64 // s, instant of the first sample
	Gravity float64 // m/s²; 0 means [StandardGravity]
	Noise   Noise

	// Lag is how far back a fix may lie, and how far [Tracker.Lagged] looks
	// back, s; 0 means 0.25 s.
	Lag float64

	// Position at the first sample, and its standard deviation along each
	// axis, m; an SD of 0 means unknown, to within 10 m.
	Position   r3.Vec
	PositionSD float64
}

// Tracker follows the centre of mass while it happens: force drives it, and
// whatever knows the position corrects it, also when the news comes late. It
// is the forward half of [Smooth]; with the same fixes and no lost samples its
// estimates are those that Smooth starts its backward pass from.
//
// Push and Correct allocate nothing; a Push takes a tenth of a microsecond
// (BenchmarkTrackerPush, on one core of a server). A Tracker is not safe for
// concurrent use.
//
// Sources: Kalman, J. Basic Eng. 82:35–45 (1960); Rauch, Tung, Striebel, AIAA
// J. 3:1445–1450 (1965); with force as the input, Le Mouel, Peer Community J.
// 5:e10 (2025).
type Tracker struct {
	d     dynamics
	opt   TrackerOptions
	ring  []node // a power of two of them
	first int    // of those in use, modulo their number
	n     int    // in use, in order of time
	keep  int    // the most that may be
	count int    // samples pushed
}

// NewTracker returns a tracker that has seen nothing yet. The error wraps
// [ErrOption] or [grf.ErrRate].
func NewTracker(opt TrackerOptions) (*Tracker, error) {
	if !(opt.Rate > 0) || math.IsInf(opt.Rate, 0) {
		return nil, fmt.Errorf("%w: %g Hz", grf.ErrRate, opt.Rate)
	}
	if !(opt.Mass > 0) || math.IsInf(opt.Mass, 0) {
		return nil, fmt.Errorf("%w: mass %g kg must be positive", ErrOption, opt.Mass)
	}
	if err := positive(
		option{"gravity", opt.Gravity}, option{"lag", opt.Lag}, option{"position SD", opt.PositionSD},
	); err != nil {
		return nil, err
	}
	if !finite(opt.Position) || math.IsNaN(opt.Start) || math.IsInf(opt.Start, 0) {
		return nil, fmt.Errorf("%w: start position %v at %g s is not finite", ErrOption, opt.Position, opt.Start)
	}
	noise, err := opt.Noise.withDefaults()
	if err != nil {
		return nil, err
	}
	opt.Lag = orDefault(opt.Lag, 0.25)
	opt.PositionSD = orDefault(opt.PositionSD, 10)
	samples := opt.Lag * opt.Rate
	if samples > 1e5 {
		return nil, fmt.Errorf("%w: a lag of %g s at %g Hz is more than 100000 samples", ErrOption, opt.Lag, opt.Rate)
	}
	t := &Tracker{
		d:    dynamics{mass: opt.Mass, gravity: orDefault(opt.Gravity, StandardGravity), period: 1 / opt.Rate, noise: noise},
		opt:  opt,
		keep: 2 * (int(samples) + 3), // as many fixes as samples
	}
	t.d.regulate()
	t.ring = make([]node, 1<<bits.Len(uint(t.keep-1)))
	return t, nil
}

// Reset makes the tracker forget everything but its options.
func (t *Tracker) Reset() { t.first, t.n, t.count = 0, 0, 0 }

// Push takes in the next sample of the net wrench and returns the estimate at
// its instant. A wrench with a NaN is a lost sample: the last known force is
// taken for it, and the uncertainty grows accordingly.
func (t *Tracker) Push(net grf.Wrench) (e Estimate) {
	t.PushTo(&e, &net)
	return e
}

// PushTo sets dst to what [Tracker.Push] returns. It is for live systems: nothing
// is copied on the way.
func (t *Tracker) PushTo(dst *Estimate, net *grf.Wrench) {
	n := t.grow()
	n.t, n.force, n.lostFor = t.opt.Start+float64(t.count)/t.opt.Rate, net.Force, 0
	n.since, n.sample, n.source, n.fixed = 0, t.count, -1, false
	f, m := &net.Force, &net.Moment
	lost := (f.X-f.X)+(f.Y-f.Y)+(f.Z-f.Z) != 0 || math.IsNaN(m.X+m.Y+m.Z) // NaN or infinite, NaN
	switch {
	case t.count > 0:
		last := t.at(t.n - 2)
		if lost {
			n.force = last.force
			n.lostFor = last.lostFor + n.t - last.t
		}
		t.d.next(last, n)
	default:
		if lost {
			n.force = r3.Vec{Z: t.d.mass * t.d.gravity}
			n.lostFor = t.d.period
		}
		t.d.start(n, t.opt.Position, t.opt.PositionSD)
	}
	t.count++
	for t.n > 2 && n.t-t.at(1).t >= t.opt.Lag {
		t.drop()
	}
	t.d.fill(dst, n.t, &n.ax)
}

// at returns the i-th of the nodes in use, the oldest being 0.
func (t *Tracker) at(i int) *node { return &t.ring[(t.first+i)&(len(t.ring)-1)] }

// drop drops the oldest node.
func (t *Tracker) drop() { t.first, t.n = t.first+1, t.n-1 }

// grow adds a node, in place of the oldest if there are too many, and returns it as
// an older one left it.
func (t *Tracker) grow() *node {
	if t.n == t.keep {
		t.drop()
	}
	t.n++
	return t.at(t.n - 1)
}

// Correct takes in a fix at or before the last pushed sample and brings the
// estimate up to date. A fix after that sample is refused with [ErrTooEarly]
// (push the forces first), one before the kept stretch with [ErrTooLate].
func (t *Tracker) Correct(fix Fix) error {
	if t.n == 0 || !(fix.Time <= t.at(t.n-1).t) {
		return ErrTooEarly
	}
	if fix.Time < t.at(0).t {
		return ErrTooLate
	}
	behind := 0 // nodes after the fix
	for t.at(t.n-1-behind).t > fix.Time {
		behind++
	}
	before := *t.at(t.n - 1 - behind)
	after := &before
	if behind > 0 {
		after = t.at(t.n - behind)
	}
	n := t.d.between(&before, after, fix, -1)
	t.grow()
	at := t.n - 1 - behind
	for i := t.n - 1; i > at; i-- {
		*t.at(i) = *t.at(i - 1)
	}
	*t.at(at) = n
	if at == 0 { // the node before it had to go
		t.d.next(&before, t.at(0))
		at++
	}
	for ; at < t.n; at++ {
		t.d.next(t.at(at-1), t.at(at))
	}
	return nil
}

// Now returns the estimate at the last pushed sample; NaN before the first.
func (t *Tracker) Now() (e Estimate) {
	if t.n == 0 {
		n := nan3()
		return Estimate{math.NaN(), n, n, n, n, n, n}
	}
	n := t.at(t.n - 1)
	t.d.fill(&e, n.t, &n.ax)
	return e
}

// Lagged returns the estimate at the oldest kept sample, about Lag before the
// last one, in the light of everything known since (fixed-lag smoothing). It
// takes some lag × rate times as long as a Push.
func (t *Tracker) Lagged() (e Estimate) {
	if t.n == 0 {
		return t.Now()
	}
	ax := t.at(t.n - 1).ax
	for i := t.n - 1; i > 0; i-- {
		ax, _ = t.d.back(t.at(i-1), t.at(i), &ax)
	}
	t.d.fill(&e, t.at(0).t, &ax)
	return e
}

// estimate puts the three axes together.
func (d *dynamics) estimate(t float64, ax *[3]axis) (e Estimate) {
	d.fill(&e, t, ax)
	return e
}

// fill sets e to what estimate returns.
func (d *dynamics) fill(e *Estimate, t float64, ax *[3]axis) {
	x, y, z, m := &ax[0], &ax[1], &ax[2], d.mass
	e.Time = t
	e.Position = r3.Vec{X: x.x[0], Y: y.x[0], Z: z.x[0]}
	e.Velocity = r3.Vec{X: x.x[1], Y: y.x[1], Z: z.x[1]}
	e.Bias = r3.Vec{X: x.x[2] * m, Y: y.x[2] * m, Z: z.x[2] * m}
	e.PositionSD = r3.Vec{X: root(x.p.variance(0)), Y: root(y.p.variance(0)), Z: root(z.p.variance(0))}
	e.VelocitySD = r3.Vec{X: root(x.p.variance(1)), Y: root(y.p.variance(1)), Z: root(z.p.variance(1))}
	// The three are alike until a position is taken in, and roots cost a live system
	// more than questions.
	bx, by, bz := x.p.variance(2), y.p.variance(2), z.p.variance(2)
	sx := root(bx) * m
	sy, sz := sx, sx
	if by != bx || bz != bx {
		sy, sz = root(by)*m, root(bz)*m
	}
	e.BiasSD = r3.Vec{X: sx, Y: sy, Z: sz}
}

// root takes what rounding has made negative for 0, and NaN for NaN.
func root(variance float64) float64 {
	if variance < 0 {
		return 0
	}
	return math.Sqrt(variance)
}
