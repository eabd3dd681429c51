package com

import (
	"math"
	"math/rand"
	"testing"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// The way since the quiet stance is surer than two positions, zero at its start,
// and a clock that is not sharp makes it less sure. TestAgainstLeastSquares has
// the numbers.
func TestShiftSD(t *testing.T) {
	m := demo()
	rnd := rand.New(rand.NewSource(7))
	net := noisy(rnd, m, 500, 1800, 1)
	smooth := func(opt Options) *Path {
		opt.Mass = m.mass
		p, err := Smooth(net, 0, 500, opt)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	p := smooth(Options{Height: 0.93, Quiet: Window{0, 0.9}})
	if p.ShiftFrom != 450 || len(p.ShiftSD) != p.Len() || p.ShiftSD[450] != (r3.Vec{}) {
		t.Fatalf("from %d, %v", p.ShiftFrom, p.ShiftSD[450])
	}
	last := 0.0
	for _, i := range []int{451, 500, 600, 800, 1000} {
		sd := p.ShiftSD[i]
		both := math.Hypot(p.PositionSD[i].Y, p.PositionSD[450].Y)
		if !(sd.Y > last && sd.Y < both) {
			t.Errorf("sample %d: ± %g m, after %g, of ± %g for two positions", i, sd.Y, last, both)
		}
		last = sd.Y
	}
	// Forces tell nothing about the height, but much about the way up and down.
	if !(p.ShiftSD[800].Z < p.PositionSD[800].Z/2) {
		t.Errorf("up and down ± %g m, height ± %g m", p.ShiftSD[800].Z, p.PositionSD[800].Z)
	}
	track := tracked(rnd, m, 0, 3.5, 100, 0.003, 0)
	sharp := smooth(Options{Quiet: Window{0, 0.9}, Sources: []Source{{Track: track}}})
	vague := smooth(Options{Quiet: Window{0, 0.9}, Sources: []Source{{Track: track, Clock: Clock{DelaySD: 0.05}}}})
	if i := 900; !(vague.ShiftSD[i].Y > 1.1*sharp.ShiftSD[i].Y) {
		t.Errorf("with a vague clock ± %g m, with a sharp one %g", vague.ShiftSD[i].Y, sharp.ShiftSD[i].Y)
	}
	none := smooth(Options{Quiet: Window{From: math.NaN()}, Sources: []Source{{Track: grf.Track{Time: track.Time, Position: track.Position}}}})
	if none.ShiftSD != nil {
		t.Error("a shift since no quiet stance")
	}
}
