package com

import (
	"fmt"
	"math"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// Stillness says how still a golfer stands who stands still.
type Stillness struct {
	// Over is the standard deviation, along each axis, of the distance between
	// the mean position of the centre of mass and the mean centre of pressure.
	Over float64 // m
	// Speed is that of each velocity component, averaged over half a second.
	Speed float64 // m/s
}

// Defaults of Stillness before the swing and in the finish. Common practice (no
// published source); in quiet standing the centre of mass sways at some 5 to
// 10 mm/s.
var (
	addressStillness = Stillness{Over: 0.005, Speed: 0.01}
	finishStillness  = Stillness{Over: 0.02, Speed: 0.03}
)

func (s Stillness) orDefault(usual Stillness) Stillness {
	return Stillness{orDefault(s.Over, usual.Over), orDefault(s.Speed, usual.Speed)}
}

// StandStill returns what the forces tell while the golfer stands still over
// the whole of net: the mass, kg, which is the mean vertical force over
// gravity (0 means [StandardGravity]), and fixes for a [Tracker]: the mean
// velocity of each half second is zero and the mean position lies above the
// mean centre of pressure, both to within sd (zero fields mean 5 mm and
// 10 mm/s). The first fix also holds the height, when heightSD is not 0.
//
// The error wraps [grf.ErrNoQuiet] when samples are lost or nobody stands on
// the plates, and [grf.ErrRate], [ErrOption].
func StandStill(net []grf.Wrench, start, rate, gravity float64, sd Stillness, height, heightSD float64) (mass float64, fixes []Fix, err error) {
	if !(rate > 0) || math.IsInf(rate, 0) {
		return 0, nil, fmt.Errorf("%w: %g Hz", grf.ErrRate, rate)
	}
	if err := positive(option{"gravity", gravity}, option{"distance SD", sd.Over}, option{"speed SD", sd.Speed},
		option{"height", height}, option{"height SD", heightSD}); err != nil {
		return 0, nil, err
	}
	force := make([]r3.Vec, len(net))
	for i, w := range net {
		force[i] = w.Force
		if w.IsNaN() || !finite(w.Force) {
			return 0, nil, fmt.Errorf("%w: the force at %g s is lost", grf.ErrNoQuiet, start+float64(i)/rate)
		}
	}
	if len(net) < 2 {
		return 0, nil, fmt.Errorf("%w: %d samples", grf.ErrNoQuiet, len(net))
	}
	s := stand(net, 0, len(net))
	if !(s.force.Z > minWeight) {
		return 0, nil, fmt.Errorf("%w: the plates carry %.0f N, less than %d N", grf.ErrNoQuiet, s.force.Z, minWeight)
	}
	mass = s.force.Z / orDefault(gravity, StandardGravity)
	return mass, s.fixes(force, mass, start, rate, sd.orDefault(addressStillness), height, heightSD), nil
}

// fixes returns what standing still in s tells. Means over a window are turned
// into values at its middle sample by means of the forces themselves, less
// their mean, which a standing golfer does not have.
func (s stance) fixes(force []r3.Vec, mass, start, rate float64, sd Stillness, height, heightSD float64) []Fix {
	// middle returns the middle sample of lo..hi and how far position and
	// velocity there are from their means over it.
	middle := func(lo, hi int) (mid int, dp, dv r3.Vec) {
		mid = (lo + hi - 1) / 2
		a := make([]r3.Vec, hi-lo)
		mean := meanForce(force[lo:hi])
		for i := range a {
			a[i] = r3.Scale(1/mass, r3.Sub(force[lo+i], mean))
		}
		p, v := make([]r3.Vec, len(a)), make([]r3.Vec, len(a))
		integrate(p, v, a, rate)
		anchor(p, v, 0, len(a), rate, r3.Vec{})
		return mid, p[mid-lo], v[mid-lo]
	}
	mid, dp, _ := middle(s.lo, s.hi)
	over := Fix{
		Time:       start + float64(mid)/rate,
		Position:   r3.Vec{X: s.cop[0] + dp.X, Y: s.cop[1] + dp.Y, Z: height + dp.Z},
		PositionSD: r3.Vec{X: sd.Over, Y: sd.Over, Z: heightSD},
	}
	fixes := []Fix{over}
	n := min(max(1, count(math.Round(float64(s.hi-s.lo)/rate/0.5))), s.hi-s.lo)
	for i := range n {
		lo, hi := s.lo+i*(s.hi-s.lo)/n, s.lo+(i+1)*(s.hi-s.lo)/n
		if hi-lo < 2 {
			continue
		}
		mid, _, dv := middle(lo, hi)
		fixes = append(fixes, Fix{
			Time:       start + float64(mid)/rate,
			Velocity:   dv,
			VelocitySD: r3.Vec{X: sd.Speed, Y: sd.Speed, Z: sd.Speed},
		})
	}
	return fixes
}
