package synth

import (
	"math"
	"math/rand/v2"

	"example.com/momentarm/grf"
)

// Random returns the configuration of a made-up golfer and swing: any build,
// style (Still excepted), strength, tempo and habits, with or without waggles,
// one in eight left-handed. The same seed gives the same configuration. What
// is not drawn, such as Rate and Unloaded, is left at its default. A golfer
// whose feet could not make the swing, or who leaves it open which of two
// nearly equal extremes is the event, is drawn again with the same style.
func Random(seed uint64) Config {
	rng := rand.New(rand.NewPCG(seed, 0x676f6c666572))
	style := Style(rng.IntN(int(Still)))
	for {
		c := draw(rng, style)
		if s, err := New(c); err == nil && s.clear() {
			return c
		}
	}
}

func draw(rng *rand.Rand, style Style) Config {
	normal := func(mean, sd, lo, hi float64) float64 {
		return math.Max(lo, math.Min(hi, mean+sd*rng.NormFloat64()))
	}
	c := Config{Style: style, Stature: normal(1.74, 0.09, 1.5, 2)}
	c.Mass = normal(24.5, 3, 18, 33) * c.Stature * c.Stature
	c.StanceWidth = normal(0.265, 0.02, 0.22, 0.31) * c.Stature
	c.Strength = normal(1, 0.1, 0.75, 1.2)
	c.Downswing = normal(0.29, 0.03, 0.22, 0.38)
	if style == HalfSwing {
		c.Downswing += 0.06
	}
	c.Tempo = normal(3, 0.3, 2.3, 3.8)
	c.Follow = normal(1.3, 0.15, 1, 1.7)
	c.Individual = 1 + rng.Uint64N(math.MaxUint64)
	if rng.IntN(8) == 0 {
		c.Handed = grf.LeftHanded
	}
	if n := rng.IntN(6); n < 3 {
		c.Waggles = n
	}
	c.Address = normal(2, 0.4, 1.5, 3)
	return c
}

// clear reports whether each event is one clear instant: an extreme stands out
// from the next largest of its kind, and a level is crossed once, with no other
// crossing of a level close by.
func (s *Swing) clear() bool {
	for _, e := range s.extremes() {
		if e.rival < clearBy*e.scale {
			return false
		}
	}
	_, _, _, lateral, share, _, _ := s.signals()
	weight := s.cfg.Mass * Gravity
	once := func(f signal, level, margin, from, to float64) bool {
		for _, l := range []float64{level - margin, level, level + margin} {
			rises := 0
			for _, t := range s.crossings(f, l, from, to) {
				if f(t).slope > 0 {
					rises++
				}
			}
			if rises != 1 {
				return false
			}
		}
		return true
	}
	impact := s.marks.impact
	if s.cfg.Style == HangBack {
		if len(s.crossings(share, 0.5-clearBy, s.EventTime("trail_load_peak"), impact)) > 0 {
			return false
		}
	} else if !once(share, 0.5, clearBy, s.EventTime("trail_load_peak"), impact) {
		return false
	}
	return once(lateral, 0, clearBy*weight/2, s.from+s.grid.step, s.EventTime("lateral_peak"))
}

// clearBy is how far an extreme stands out in the swings of Random, as a part
// of body weight or, for torques, of body weight times a tenth of a metre.
const clearBy = 0.015
