package com

import (
	"errors"
	"math"
	"math/rand"
	"testing"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

const rate = 1000.0

// Clean forces give the path back. The trapezium of a force between samples
// errs by a‴h²/12, far below a tenth of a millimetre here.
func TestFromForcesClean(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for i := range 50 {
		m := random(rnd)
		net := m.wrenches(-1, rate, 4600)
		for _, opt := range []ForceOptions{
			{Height: m.home.Z},
			{Height: m.home.Z, Quiet: Window{0, 0.9}, Still: Window{3, 3.5}},
			{Height: m.home.Z, Still: Window{From: math.NaN()}},
		} {
			p, err := FromForces(net, -1, rate, opt)
			if err != nil {
				t.Fatal(err)
			}
			if d := farthest(p, m, -1, 4); d > 1e-4 {
				t.Errorf("swing %d, %+v: off by %g m; warnings %v", i, opt, d, p.Warnings)
			}
			if math.Abs(p.Mass-m.mass) > 1e-9 {
				t.Errorf("swing %d: mass %g, want %g", i, p.Mass, m.mass)
			}
		}
	}
}

// At 250 Hz the straight line between samples still holds 0.1 mm; holding each
// sample instead would be off by half a step of acceleration.
func TestFromForcesVelocity(t *testing.T) {
	m := demo()
	p, err := FromForces(m.wrenches(0, 250, 1000), 0, 250, ForceOptions{Height: m.home.Z})
	if err != nil {
		t.Fatal(err)
	}
	for i := range p.Position {
		x, v, _ := m.at(p.Time(i))
		if d := r3.Norm(r3.Sub(p.Position[i], x)); d > 1e-4 {
			t.Fatalf("position at %g s off by %g m", p.Time(i), d)
		}
		if d := r3.Norm(r3.Sub(p.Velocity[i], v)); d > 1e-3 {
			t.Fatalf("velocity at %g s off by %g m/s", p.Time(i), d)
		}
	}
	// Between the samples, too.
	x, v, _ := m.at(2.0013)
	gx, gv := p.At(2.0013)
	if r3.Norm(r3.Sub(gx, x)) > 1e-4 || r3.Norm(r3.Sub(gv, v)) > 2e-3 {
		t.Errorf("At: %v %v, want %v %v", gx, gv, x, v)
	}
	if gx, _ := p.At(4.5); finite(gx) {
		t.Errorf("At beyond the end: %v, want NaN", gx)
	}
}

// A constant force bias vanishes with the mean of the quiet stance; one that
// grows in a straight line is what the still finish takes out; a bias that
// comes on in the middle is only partly found. The tolerance of the first is
// the 0.5 % by which 4 N change the mass, of 0.15 m.
func TestFromForcesBias(t *testing.T) {
	m := demo()
	for _, c := range []struct {
		name string
		bias func(t float64) r3.Vec
		tol  float64
		code string
	}{
		{"constant", func(float64) r3.Vec { return r3.Vec{X: 5, Y: -7, Z: 4} }, 1e-3, "horizontal-at-rest"},
		{"line", func(t float64) r3.Vec { return r3.Vec{X: 5 * t / 3, Y: -8 * t / 3} }, 2e-3, "drift-removed"},
		{"step", func(t float64) r3.Vec { return r3.Scale(math.Max(0, math.Min(1, t-1.5)), r3.Vec{X: 5, Y: -5, Z: 3}) }, 30e-3, "drift-removed"},
	} {
		net := m.wrenches(0, rate, 3600)
		for i := range net {
			net[i].Force = r3.Add(net[i].Force, c.bias(float64(i)/rate))
		}
		p, err := FromForces(net, 0, rate, ForceOptions{Height: m.home.Z, Quiet: Window{0, 0.9}, Still: Window{2.5, 3.5}})
		if err != nil {
			t.Fatal(err)
		}
		if d := farthest(p, m, 0, 3.5); d > c.tol {
			t.Errorf("%s: off by %.2g m, want at most %g", c.name, d, c.tol)
		}
		if !hasCode(p.Warnings, c.code) {
			t.Errorf("%s: no warning %q in %v", c.name, c.code, p.Warnings)
		}
		free, err := FromForces(net, 0, rate, ForceOptions{Height: m.home.Z, Quiet: Window{0, 0.9}, Still: Window{From: math.NaN()}})
		if err != nil {
			t.Fatal(err)
		}
		if !hasCode(free.Warnings, "drift") {
			t.Errorf("%s: no warning of drift in %v", c.name, free.Warnings)
		}
		if c.name != "constant" && farthest(free, m, 0, 3.5) < 2*farthest(p, m, 0, 3.5) {
			t.Errorf("%s: the still finish did not help: %g against %g", c.name, farthest(free, m, 0, 3.5), farthest(p, m, 0, 3.5))
		}
	}
}

// The correction for the finish is the smallest force that does it: a straight
// line, so that the conditions hold exactly.
func TestSettleConditions(t *testing.T) {
	m := demo()
	net := m.wrenches(0, rate, 3600)
	rnd := rand.New(rand.NewSource(2))
	for i := range net {
		net[i].Force = r3.Add(net[i].Force, r3.Vec{X: 2 * rnd.NormFloat64(), Y: 2 * rnd.NormFloat64(), Z: 3 + 2*rnd.NormFloat64()})
	}
	p, err := FromForces(net, 0, rate, ForceOptions{Height: m.home.Z, Quiet: Window{0.1, 0.9}, Still: Window{2.6, 3.4}})
	if err != nil {
		t.Fatal(err)
	}
	q, s := stand(net, 100, 901), stand(net, 2600, 3401)
	for _, w := range []stance{q, s} {
		v, x := meanForce(p.Velocity[w.lo:w.hi]), meanForce(p.Position[w.lo:w.hi])
		if r3.Norm(v) > 1e-12 {
			t.Errorf("mean velocity %v in samples %d…%d, want 0", v, w.lo, w.hi)
		}
		if d := math.Hypot(x.X-w.cop[0], x.Y-w.cop[1]); d > 1e-12 {
			t.Errorf("mean position %v in samples %d…%d, want over %v", x, w.lo, w.hi, w.cop)
		}
	}
}

// Turning and shifting the laboratory turns and shifts the path.
func TestFromForcesInvariance(t *testing.T) {
	m := demo()
	net := m.wrenches(0, 500, 1800)
	p, err := FromForces(net, 0, 500, ForceOptions{Height: 0.9})
	if err != nil {
		t.Fatal(err)
	}
	rot := r3.NewRotation(0.7, r3.Vec{Z: 1})
	shift := r3.Vec{X: 0.4, Y: -1.2}
	turned := make([]grf.Wrench, len(net))
	for i, w := range net {
		f := rot.Rotate(w.Force)
		turned[i] = grf.Wrench{Force: f, Moment: r3.Add(rot.Rotate(w.Moment), r3.Cross(shift, f))}
	}
	q, err := FromForces(turned, 0, 500, ForceOptions{Height: 0.9})
	if err != nil {
		t.Fatal(err)
	}
	for i := range p.Position {
		if d := r3.Norm(r3.Sub(q.Position[i], r3.Add(rot.Rotate(p.Position[i]), shift))); d > 1e-10 {
			t.Fatalf("sample %d differs by %g m", i, d)
		}
	}
}

func TestFromForcesGaps(t *testing.T) {
	m := demo()
	net := m.wrenches(0, rate, 3600)
	for i := 2000; i < 2010; i++ {
		net[i] = grf.NaN()
	}
	p, err := FromForces(net, 0, rate, ForceOptions{Height: m.home.Z})
	if err != nil {
		t.Fatal(err)
	}
	if d := farthest(p, m, 0, 3.5); d > 2e-3 || !hasCode(p.Warnings, "gap-bridged") {
		t.Errorf("short gap: off by %g m, warnings %v", d, p.Warnings)
	}
	for i := 2000; i < 2100; i++ {
		net[i] = grf.NaN()
	}
	p, err = FromForces(net, 0, rate, ForceOptions{Height: m.home.Z})
	if err != nil {
		t.Fatal(err)
	}
	if d := farthest(p, m, 0, 1.999); d > 1e-4 || !hasCode(p.Warnings, "gap") {
		t.Errorf("long gap: off by %g m before it, warnings %v", d, p.Warnings)
	}
	for _, i := range []int{2000, 2099, 3000, 3599} {
		if finite(p.Position[i]) || finite(p.Velocity[i]) {
			t.Errorf("long gap: sample %d is %v, want NaN", i, p.Position[i])
		}
	}
}

func TestFromForcesHeight(t *testing.T) {
	m := demo()
	net := m.wrenches(0, 500, 1800)
	for _, c := range []struct {
		opt  ForceOptions
		want float64
		code string
	}{
		{ForceOptions{Height: 0.88, Stature: 1.9}, 0.88, ""},
		{ForceOptions{Stature: 1.8}, 0.52 * 1.8, "height-from-stature"},
		{ForceOptions{Stature: 1.8, HeightFraction: StandingHeight}, 0.56 * 1.8, "height-from-stature"},
		{ForceOptions{}, 0.91, "height-assumed"},
		{ForceOptions{Height: 0.88, Mass: 70}, 0.88, "mass-mismatch"},
	} {
		p, err := FromForces(net, 0, 500, c.opt)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(p.Position[100].Z-c.want) > 1e-9 {
			t.Errorf("%+v: height %g, want %g", c.opt, p.Position[100].Z, c.want)
		}
		if c.code != "" && !hasCode(p.Warnings, c.code) {
			t.Errorf("%+v: no warning %q in %v", c.opt, c.code, p.Warnings)
		}
	}
}

func TestFromForcesErrors(t *testing.T) {
	m := demo()
	net := m.wrenches(0, 500, 1800)
	moving := m.wrenches(1.2, 500, 500)
	lost := make([]grf.Wrench, 1000)
	for i := range lost {
		lost[i] = grf.NaN()
	}
	nan := math.NaN()
	for _, c := range []struct {
		name  string
		net   []grf.Wrench
		start float64
		rate  float64
		opt   ForceOptions
		want  error
	}{
		{"no samples", nil, 0, 500, ForceOptions{}, grf.ErrNoData},
		{"all lost", lost, 0, 500, ForceOptions{}, grf.ErrNoData},
		{"rate", net, 0, 0, ForceOptions{}, grf.ErrRate},
		{"rate NaN", net, 0, nan, ForceOptions{}, grf.ErrRate},
		{"start", net, nan, 500, ForceOptions{}, ErrOption},
		{"height", net, 0, 500, ForceOptions{Height: -1}, ErrOption},
		{"gravity", net, 0, 500, ForceOptions{Gravity: nan}, ErrOption},
		{"moving", moving, 0, 500, ForceOptions{}, grf.ErrNoQuiet},
		{"no window", net, 0, 500, ForceOptions{Quiet: Window{From: nan}}, grf.ErrNoQuiet},
		{"window outside", net, 0, 500, ForceOptions{Quiet: Window{10, 11}}, grf.ErrWindow},
		{"window backwards", net, 0, 500, ForceOptions{Quiet: Window{1, 0.5}}, grf.ErrWindow},
		{"window NaN", net, 0, 500, ForceOptions{Quiet: Window{0.5, nan}}, grf.ErrWindow},
		{"still outside", net, 0, 500, ForceOptions{Still: Window{10, 11}}, grf.ErrWindow},
		{"still first", net, 0, 500, ForceOptions{Quiet: Window{0.5, 0.9}, Still: Window{0.1, 0.3}}, grf.ErrWindow},
		{"unloaded", make([]grf.Wrench, 1000), 0, 500, ForceOptions{Quiet: Window{0, 0.5}}, grf.ErrNoQuiet},
	} {
		p, err := FromForces(c.net, c.start, c.rate, c.opt)
		if !errors.Is(err, c.want) || p != nil {
			t.Errorf("%s: %v, %v; want nothing and %v", c.name, p, err, c.want)
		}
	}
}
