package com

import (
	"fmt"
	"math"

	"example.com/momentarm/grf"
)

// Clock turns the time stamps of another instrument into the clock of the
// forces. The zero Clock changes nothing.
type Clock struct {
	// Delay is by how much the other stamps are late at stamp At, s: what
	// happened when the forces said At − Delay carries the stamp At.
	Delay, DelaySD float64
	At             float64 // s, on the other clock
	// Factor is how many seconds of the forces' clock pass in one second of
	// the other one; 0 means 1.
	Factor, FactorSD float64

	// Method says in words where this comes from.
	Method   string
	Warnings []grf.Warning
}

// Time returns the forces' time of a stamp of the other clock.
func (c Clock) Time(stamp float64) float64 {
	if c.Factor == 0 || c.Factor == 1 {
		return stamp - c.Delay
	}
	return c.At - c.Delay + c.Factor*(stamp-c.At)
}

// SD returns the standard deviation of Time at a stamp, s.
func (c Clock) SD(stamp float64) float64 {
	return math.Hypot(c.DelaySD, c.FactorSD*(stamp-c.At))
}

func (c Clock) check() error {
	for _, v := range []float64{c.Delay, c.At} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%w: clock %g s late at %g s", ErrOption, c.Delay, c.At)
		}
	}
	return positive(option{"clock factor", c.Factor}, option{"delay SD", c.DelaySD}, option{"clock factor SD", c.FactorSD})
}
