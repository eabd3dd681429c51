package live

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/torque"
)

// still keeps the last half second of the net wrench, which tells where the
// centre of mass is whenever the golfer stands still.
type still struct {
	ring    []grf.Wrench
	at      int // where the oldest is
	wait    int // samples of stillness before the ring is used again
	weights []weight
}

// weight is how much the acceleration at one sample of a stretch adds to position
// and velocity at the last sample, less their means over the stretch.
type weight struct{ position, velocity float64 }

func (s *still) init(n int, rate float64) {
	s.ring = make([]grf.Wrench, max(2, n))
	s.weights = weigh(len(s.ring), 1/rate)
	s.reset()
}

// weigh returns the weights of n samples h apart, the oldest first, for straight
// lines between them and rest at zero at the first:
//
//	v₁ = v₀ + h/2 (a₀ + a₁)
//	p₁ = p₀ + h v₀ + h²/6 (2a₀ + a₁)
//
// Taking the mean velocity off takes a straight line off the positions, half the
// stretch long. From the last sample backward p and v are what the result changes
// by with position and velocity there.
func weigh(n int, h float64) []weight {
	weights := make([]weight, n)
	each := 1 / float64(n)
	half := h * float64(n-1) / 2
	p, v := weight{position: 1 - each}, weight{position: -half * each, velocity: 1 - each}
	for i := n - 1; i > 0; i-- {
		now, before := &weights[i], &weights[i-1]
		now.position += h*h/6*p.position + h/2*v.position
		now.velocity += h / 2 * v.velocity
		before.position += h*h/3*p.position + h/2*v.position
		before.velocity += h / 2 * v.velocity
		v.position += h*p.position - half*each
		v.velocity -= each
		p.position -= each
	}
	return weights
}

func (s *still) reset() {
	for i := range s.ring {
		s.ring[i] = grf.NaN()
	}
	s.at, s.wait = 0, 0
}

func (s *still) push(w *grf.Wrench) {
	to := &s.ring[s.at] // one by one, as in add
	to.Force.X, to.Force.Y, to.Force.Z = w.Force.X, w.Force.Y, w.Force.Z
	to.Moment.X, to.Moment.Y, to.Moment.Z = w.Moment.X, w.Moment.Y, w.Moment.Z
	if s.at++; s.at == len(s.ring) {
		s.at = 0
	}
}

// due reports whether the kept stretch is to be used: as soon as the golfer is
// still, and then whenever none of it was used before.
func (s *still) due(isStill bool) bool {
	if !isStill {
		s.wait = 0
		return false
	}
	if s.wait > 0 {
		s.wait--
		return false
	}
	s.wait = len(s.ring) - 1
	return true
}

// mean returns the mean wrench and its variation, as [grf.FindQuiet] measures it:
// the root of the summed variances of the force components and of the horizontal
// moments over 0.5 m about the mean's centre of pressure, as a part of the mean
// vertical force.
func (s *still) mean() (mean grf.Wrench, variation float64) {
	n := float64(len(s.ring))
	for i := range s.ring {
		add(&mean, &mean, &s.ring[i])
	}
	mean = mean.Scale(1 / n)
	f, m := mean.Force, mean.Moment
	armX, armY := m.X/f.Z, m.Y/f.Z
	var sum float64
	for i := range s.ring {
		w := &s.ring[i]
		x, y, z := w.Force.X-f.X, w.Force.Y-f.Y, w.Force.Z-f.Z
		mx, my := 2*(w.Moment.X-m.X-armX*z), 2*(w.Moment.Y-m.Y-armY*z)
		sum += (x*x + y*y + z*z) + (mx*mx + my*my)
	}
	return mean, math.Sqrt(sum/(n-1)) / f.Z
}

// end returns how far position and velocity at the last kept sample are from
// their means over the kept stretch, by the twofold integral of the force less
// its mean, which a golfer who stands still does not have.
func (s *still) end(mean r3.Vec, mass float64) (position, velocity r3.Vec) {
	weights := s.weights
	for _, part := range [2][]grf.Wrench{s.ring[s.at:], s.ring[:s.at]} { // the oldest first
		ws := weights[:len(part)]
		for i := range part {
			f, w := &part[i].Force, &ws[i]
			x, y, z := f.X-mean.X, f.Y-mean.Y, f.Z-mean.Z
			position.X, position.Y, position.Z = position.X+w.position*x, position.Y+w.position*y, position.Z+w.position*z
			velocity.X, velocity.Y, velocity.Z = velocity.X+w.velocity*x, velocity.Y+w.velocity*y, velocity.Z+w.velocity*z
		}
		weights = weights[len(part):]
	}
	return r3.Scale(1/mass, position), r3.Scale(1/mass, velocity)
}

// How still a golfer is who stands still: the standard deviations of the distance
// between the means of centre of mass and centre of pressure, and of the mean
// velocity. They are those of package com; common practice (no published source).
const (
	stillOver  = 0.005 // m
	stillSpeed = 0.01  // m/s
)

// stand corrects the centre of mass of a golfer who stood still over the kept
// stretch, and looks for drift.
func (c *Chain) stand(frame *Frame) {
	if c.tracker == nil {
		return
	}
	mean, variation := c.still.mean()
	if math.IsNaN(variation) {
		return
	}
	stretch := float64(len(c.still.ring)) / c.cfg.Rate
	position, velocity := c.still.end(mean.Force, c.weight/c.cfg.Quiet.Gravity)
	// A variation ε of the force may be an acceleration ε g that lasts, which
	// takes the centre of mass h ε off the centre of pressure; and a pressure
	// that wanders evenly with the standard deviation 0.5 m × ε goes √12 times as
	// far in the whole stretch.
	over := math.Max(stillOver, c.cfg.Height*variation)
	speed := math.Max(stillSpeed, math.Sqrt(12)*0.5*variation/stretch)
	now := &frame.COM
	fix := com.Fix{
		Time: now.Time,
		Position: r3.Vec{
			X: -mean.Moment.Y/mean.Force.Z + position.X,
			Y: mean.Moment.X/mean.Force.Z + position.Y,
		},
		PositionSD: r3.Vec{X: over, Y: over},
		Velocity:   velocity,
		VelocitySD: r3.Vec{X: speed, Y: speed, Z: speed},
	}
	// The height is one assumption, which does not get better by repeating it:
	// whatever was less sure becomes just as sure.
	if p, h := now.PositionSD.Z, c.cfg.HeightSD; p > h {
		fix.Position.Z, fix.PositionSD.Z = c.cfg.Height+position.Z, h*p/math.Sqrt((p-h)*(p+h))
	}
	if err := c.tracker.Correct(fix); err != nil {
		return // not possible: the fix is at the last sample
	}
	frame.COM = c.tracker.Now()
	frame.Moment = torque.About(c.sample.Net, frame.COM.Position)
	f, most := mean.Force, c.cfg.DriftLimit
	c.standDrift = !(math.Abs(f.X) <= most && math.Abs(f.Y) <= most && math.Abs(f.Z-c.weight) <= most)
}

// idle looks at the force of a plate in blocks of half a second and tells drift
// from a load.
type idle struct {
	n, seen int
	limit   float64 // N, of what is no drift
	sum     r3.Vec
	square  float64
	most    float64 // N; a larger vertical force is that of somebody, whatever else is in the block
	loaded  bool
	drift   bool
}

// What a plate shows that nobody stands on: as for zeroing.
const (
	idleLoad = 60 // N
	idleSD   = 5  // N
)

// newIdle takes blocks of n samples. One that lies a from their mean makes their
// standard deviation at least a/√n.
func newIdle(n int, limit float64) idle {
	return idle{n: n, limit: limit, most: 2 * (idleLoad + idleSD*math.Sqrt(float64(n)))}
}

func (s *idle) reset() { s.seen, s.sum, s.square, s.loaded = 0, r3.Vec{}, 0, false }

func (s *idle) push(f *r3.Vec) {
	if f.Z > s.most {
		s.loaded = true
	}
	if !s.loaded {
		s.sum = r3.Add(s.sum, *f)
		s.square += r3.Norm2(*f)
	}
	if s.seen++; s.seen == s.n {
		s.decide()
	}
}

// decide looks at a whole block.
func (s *idle) decide() {
	n := float64(s.n)
	mean := r3.Scale(1/n, s.sum)
	sd := math.Sqrt(math.Max(0, s.square/n-r3.Norm2(mean)))
	if !s.loaded && r3.Norm(mean) < idleLoad && sd < idleSD { // false for NaN
		s.drift = r3.Norm(mean) > s.limit
	}
	s.reset()
}
