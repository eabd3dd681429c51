package com

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// Between samples a path is the cubic through positions and velocities, so it
// reproduces a cubic exactly.
func TestPathAt(t *testing.T) {
	cubic := func(t float64) (p, v r3.Vec) {
		return r3.Vec{X: 1 - t + 2*t*t*t, Y: t * t, Z: 3}, r3.Vec{X: -1 + 6*t*t, Y: 2 * t}
	}
	p := &Path{Start: -1, Rate: 2}
	for i := range 5 {
		x, v := cubic(p.Time(i))
		p.Position, p.Velocity = append(p.Position, x), append(p.Velocity, v)
	}
	for _, at := range []float64{-1, -0.9, -0.5, 0.2, 0.77, 1} {
		x, v := p.At(at)
		wx, wv := cubic(at)
		if r3.Norm(r3.Sub(x, wx)) > 1e-14 || r3.Norm(r3.Sub(v, wv)) > 1e-14 {
			t.Errorf("at %g: %v %v, want %v %v", at, x, v, wx, wv)
		}
	}
	p.Position[2], p.Velocity[2] = nan3(), nan3()
	for _, at := range []float64{-1.1, 1.1, 0.1, -0.1, 0, math.NaN()} {
		if x, v := p.At(at); finite(x) || finite(v) {
			t.Errorf("at %g: %v %v, want NaN", at, x, v)
		}
	}
	if x, _ := p.At(0.5); !finite(x) {
		t.Error("a known sample next to an unknown one is known")
	}
}
