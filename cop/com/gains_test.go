package com

import (
	"math"
	"testing"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// The gains printed with the walking trial of Le Mouel, Peer Community J. 5:e10
// (2025), and with the synthetic gait, at full precision; the second were
// computed by a program that reproduces the author's to 1e-14.
func TestSteadyGains(t *testing.T) {
	for _, c := range []struct{ mass, rate, l1, l2 float64 }{
		{60.80092605592879, 200, 0.02826923409386417, 0.00040532443985159567},
		{70, 200, 0.026371948263188782, 0.0003524021161926276},
		{70.35, 200, 0.026307137226302624, 0.00035066054237784444},
	} {
		l1, l2 := SteadyGains(2, 0.002, c.mass, c.rate)
		if math.Abs(l1-c.l1) > 1e-12 || math.Abs(l2-c.l2) > 1e-14 {
			t.Errorf("mass %g: %.15g %.15g, want %.15g %.15g", c.mass, l1, l2, c.l1, c.l2)
		}
		// The formula as printed, in its cancelling form.
		r := 0.002 * c.rate * c.rate * c.mass / 2
		if p := (1 + 4*r - math.Sqrt(1+8*r)) / (4 * r * r); math.Abs(l2-p) > 1e-12 {
			t.Errorf("mass %g: l2 %g, printed formula %g", c.mass, l2, p)
		}
	}
	if l1, l2 := SteadyGains(0, 1, 1, 1); !math.IsNaN(l1) || !math.IsNaN(l2) {
		t.Errorf("no force noise: %g %g, want NaN", l1, l2)
	}
}

// A tracker that gets a position with each force sample settles at these gains.
func TestTrackerSettlesAtSteadyGains(t *testing.T) {
	const mass, rate = 70.0, 200.0
	none := math.NaN()
	for _, positionSD := range []float64{0.0005, 0.002, 0.02} {
		tr, err := NewTracker(TrackerOptions{Mass: mass, Rate: rate, Noise: Noise{BiasSD: none, MassSD: none}})
		if err != nil {
			t.Fatal(err)
		}
		var before, after Estimate
		for i := range 4000 {
			before = tr.Push(grf.Wrench{Force: r3.Vec{Z: mass * StandardGravity}})
			z := 0.0
			if i == 3999 {
				z = 1
			}
			sd := r3.Vec{X: positionSD, Y: positionSD, Z: positionSD}
			if err := tr.Correct(Fix{Time: before.Time, Position: r3.Vec{X: z}, PositionSD: sd}); err != nil {
				t.Fatal(err)
			}
			after = tr.Now()
		}
		l1, l2 := SteadyGains(2, positionSD, mass, rate)
		if g := after.Position.X - before.Position.X; math.Abs(g-l1) > 1e-9 {
			t.Errorf("position SD %g: gain %.12g, want %.12g", positionSD, g, l1)
		}
		if g := (after.Velocity.X - before.Velocity.X) / rate; math.Abs(g-l2) > 1e-9 {
			t.Errorf("position SD %g: velocity gain %.12g, want %.12g", positionSD, g, l2)
		}
	}
}
