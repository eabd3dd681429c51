package synth

import (
	"math"
	"math/rand/v2"

	"example.com/momentarm/grf"
)

// Random returns the configuration of a made-up golfer and swing: any build,
// style (Still excepted), strength, tempo and habits, with or without waggles,
// one in eight left-handed. The same seed gives the same configuration. What
// is not drawn, such as Rate and Unloaded, is left at its default.
func Random(seed uint64) Config {
	rng := rand.New(rand.NewPCG(seed, 0x676f6c666572))
	normal := func(mean, sd, lo, hi float64) float64 {
		return math.Max(lo, math.Min(hi, mean+sd*rng.NormFloat64()))
	}
	c := Config{Stature: normal(1.74, 0.09, 1.5, 2)}
	c.Mass = normal(24.5, 3, 18, 33) * c.Stature * c.Stature
	c.StanceWidth = normal(0.265, 0.02, 0.22, 0.31) * c.Stature
	c.Style = Style(rng.IntN(int(Still)))
	c.Strength = normal(1, 0.1, 0.75, 1.2)
	c.Downswing = normal(0.29, 0.03, 0.22, 0.38)
	if c.Style == HalfSwing {
		c.Downswing += 0.06
	}
	c.Tempo = normal(3, 0.3, 2.3, 3.8)
	c.Follow = normal(1.3, 0.15, 1, 1.7)
	if rng.IntN(8) == 0 {
		c.Handed = grf.LeftHanded
	}
	if n := rng.IntN(6); n < 3 {
		c.Waggles = n
	}
	c.Address = normal(2, 0.4, 1.5, 3)
	for {
		c.Individual = 1 + rng.Uint64N(math.MaxUint64)
		if s, err := New(c); err == nil && s.clear() {
			return c
		}
	}
}

// clear reports whether every extreme that makes an event stands out from the
// next largest one of its kind.
func (s *Swing) clear() bool {
	for _, e := range s.extremes() {
		if e.rival < clearBy*e.scale {
			return false
		}
	}
	return true
}

// clearBy is how far an extreme stands out in the swings of Random, as a part
// of body weight or, for torques, of body weight times a tenth of a metre.
const clearBy = 0.015
