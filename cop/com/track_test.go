package com

import (
	"errors"
	"math"
	"testing"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestFromTrack(t *testing.T) {
	m := demo()
	var track grf.Track
	for i := range 240 { // 60 Hz from −0.1 s
		at := -0.1 + float64(i)/60
		p, _, _ := m.at(at)
		track.Time, track.Position = append(track.Time, at), append(track.Position, p)
	}
	p, err := FromTrack(track, 0, 500, 1700)
	if err != nil {
		t.Fatal(err)
	}
	for i := range p.Position {
		x, v, _ := m.at(p.Time(i))
		// A cubic spline errs by 5/384 h⁴ times the fourth derivative: some 0.05 mm.
		if d := r3.Norm(r3.Sub(p.Position[i], x)); d > 2e-4 {
			t.Fatalf("position at %g s off by %g m", p.Time(i), d)
		}
		if d := r3.Norm(r3.Sub(p.Velocity[i], v)); d > 2e-2 {
			t.Fatalf("velocity at %g s off by %g m/s", p.Time(i), d)
		}
	}
	if p.PositionSD != nil {
		t.Error("a track without standard deviation has none afterwards")
	}
}

// The spline reproduces a straight line exactly, and gaps stay gaps.
func TestFromTrackGaps(t *testing.T) {
	var track grf.Track
	for i := range 101 {
		at := float64(i) / 100
		p := r3.Vec{X: 2 * at, Y: 1 - at, Z: 1}
		if i == 20 || i > 60 && i < 80 {
			p.Y = math.NaN()
		}
		track.Time, track.Position = append(track.Time, at), append(track.Position, p)
	}
	track.SD = r3.Vec{X: 1e-3, Y: 1e-3, Z: 2e-3}
	p, err := FromTrack(track, -0.1, 100, 130)
	if err != nil {
		t.Fatal(err)
	}
	for i := range p.Position {
		at := p.Time(i)
		defined := at > -1e-9 && at < 1+1e-9 && !(at > 0.6+1e-9 && at < 0.8-1e-9)
		if finite(p.Position[i]) != defined || finite(p.Velocity[i]) != defined || finite(p.PositionSD[i]) != defined {
			t.Errorf("at %g s: %v, want defined %v", at, p.Position[i], defined)
		}
		if !defined {
			continue
		}
		if d := r3.Norm(r3.Sub(p.Position[i], r3.Vec{X: 2 * at, Y: 1 - at, Z: 1})); d > 1e-12 {
			t.Errorf("at %g s: off by %g m", at, d)
		}
		if d := r3.Norm(r3.Sub(p.Velocity[i], r3.Vec{X: 2, Y: -1})); d > 1e-9 {
			t.Errorf("at %g s: velocity off by %g m/s", at, d)
		}
	}
	if !hasCode(p.Warnings, "track-gap") {
		t.Errorf("no warning of the gap: %v", p.Warnings)
	}
}

func TestFromTrackErrors(t *testing.T) {
	one := []r3.Vec{{Z: 1}}
	for _, c := range []struct {
		name  string
		track grf.Track
		rate  float64
		n     int
		want  error
	}{
		{"empty", grf.Track{}, 100, 5, ErrTrack},
		{"unknown", grf.Track{Time: []float64{0}, Position: []r3.Vec{nan3()}}, 100, 5, ErrTrack},
		{"lengths", grf.Track{Time: []float64{0, 1}, Position: one}, 100, 5, grf.ErrLength},
		{"order", grf.Track{Time: []float64{0, 0}, Position: []r3.Vec{{}, {}}}, 100, 5, ErrTrack},
		{"NaN time", grf.Track{Time: []float64{math.NaN()}, Position: one}, 100, 5, ErrTrack},
		{"SD", grf.Track{Time: []float64{0}, Position: one, SD: r3.Vec{X: -1}}, 100, 5, ErrTrack},
		{"rate", grf.Track{Time: []float64{0}, Position: one}, 0, 5, grf.ErrRate},
		{"none asked", grf.Track{Time: []float64{0}, Position: one}, 100, 0, grf.ErrNoData},
	} {
		if _, err := FromTrack(c.track, 0, c.rate, c.n); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
	// One or two positions are enough for what they can tell.
	p, err := FromTrack(grf.Track{Time: []float64{0.02}, Position: one}, 0, 100, 5)
	if err != nil || p.Position[2] != one[0] || finite(p.Velocity[2]) || finite(p.Position[1]) {
		t.Errorf("one position: %v %v", p, err)
	}
	p, err = FromTrack(grf.Track{Time: []float64{0, 0.02}, Position: []r3.Vec{{}, {X: 2}}}, 0, 100, 3)
	if err != nil || p.Position[1] != (r3.Vec{X: 1}) || p.Velocity[0].X != 100 {
		t.Errorf("two positions: %v %v", p, err)
	}
}
