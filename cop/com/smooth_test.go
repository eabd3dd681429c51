package com

import (
	"errors"
	"math"
	"math/rand"
	"testing"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// tracked returns a track of the motion at a rate, with white noise of sd and
// stamps that are late by delay.
func tracked(rnd *rand.Rand, m motion, from, to, rate, sd, delay float64) grf.Track {
	var tr grf.Track
	for _, f := range fixesOf(rnd, m, from, to, rate, sd) {
		tr.Time, tr.Position = append(tr.Time, f.Time+delay), append(tr.Position, f.Position)
	}
	tr.SD = r3.Vec{X: sd, Y: sd, Z: sd}
	return tr
}

// On clean forces alone the smoother and the plain double integration agree
// with the truth.
func TestSmoothForcesAlone(t *testing.T) {
	m := demo()
	net := m.wrenches(0, 1000, 3600)
	p, err := Smooth(net, 0, 1000, Options{Height: m.home.Z})
	if err != nil {
		t.Fatal(err)
	}
	if d := farthest(p, m, 0, 3.6); d > 5e-4 {
		t.Errorf("off by %g m", d)
	}
	if len(p.Warnings) > 0 {
		t.Errorf("warnings on clean data: %v", p.Warnings)
	}
	if sd := p.PositionSD[500]; math.Abs(sd.Z-0.02) > 0.001 || sd.Y > 0.006 || sd.Y < 0.003 {
		t.Errorf("SD in the quiet stance: %v, want about (5, 5, 20) mm", sd)
	}
	if math.Abs(p.Mass-m.mass) > 0.01 || !(p.MassSD > 0 && p.MassSD < 0.003*m.mass) {
		t.Errorf("mass %g ± %g, want %g", p.Mass, p.MassSD, m.mass)
	}
}

// The standard deviations are right when those of the inputs are: over many
// random movements with a steady drift, bias, mass error, height error and noise drawn
// from what the options say, the true error lies within 1.96 of them in 95 %.
func TestSmoothCoverage(t *testing.T) {
	rnd := rand.New(rand.NewSource(7))
	const runs = 200
	opt := Options{
		Height: 0.93, HeightSD: 0.02,
		QuietSD: Stillness{Over: 0.004, Speed: 0.008}, StillSD: Stillness{Over: 0.01, Speed: 0.01},
		Quiet: Window{0, 0.96}, Still: Window{2.4, 2.9},
		Noise: Noise{ForceSD: r3.Vec{X: 2, Y: 2, Z: 2}, BiasSD: 1, BiasWalk: math.NaN(), MassSD: 0.003},
	}
	var inside, all r3.Vec
	var square float64
	for range runs {
		m := random(rnd)
		m.home.Z += opt.HeightSD * rnd.NormFloat64()
		m.drift = r3.Scale(0.008, r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()})
		m.home = r3.Sub(m.home, r3.Scale(0.48, m.drift)) // so that the height holds in the middle of the stance
		net := noisy(rnd, m, 500, 1500, 2)
		bias := r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}
		gain := 1 + 0.003*rnd.NormFloat64() // of the vertical force: an error of the mass
		over := [2]r3.Vec{
			{X: 0.004 * rnd.NormFloat64(), Y: 0.004 * rnd.NormFloat64()},
			{X: 0.01 * rnd.NormFloat64(), Y: 0.01 * rnd.NormFloat64()},
		}
		for i := range net {
			w := &net[i]
			o := over[0]
			if i > 1000 {
				o = over[1]
			}
			// The centre of pressure is off by o, the force by the bias.
			w.Moment = r3.Add(w.Moment, r3.Cross(o, w.Force))
			w.Force = r3.Add(w.Force, bias)
			w.Force.Z *= gain
			w.Moment.X *= gain
			w.Moment.Y *= gain
		}
		p, err := Smooth(net, 0, 500, opt)
		if err != nil {
			t.Fatal(err)
		}
		for i := 100; i < 1175; i += 25 { // to the time of an impact
			truth, _, _ := m.at(p.Time(i))
			e := r3.Sub(p.Position[i], truth)
			square += (e.X*e.X + e.Y*e.Y) / (43 * runs)
			for k := range 3 {
				*component(&all, k)++
				if math.Abs(*component(&e, k)) <= 1.96**component(&p.PositionSD[i], k) {
					*component(&inside, k)++
				}
			}
		}
	}
	t.Logf("covered: %.3f %.3f %.3f; RMS horizontal error %.1f mm", inside.X/all.X, inside.Y/all.Y, inside.Z/all.Z, 1000*math.Sqrt(square))
	for k := range 3 {
		// Errors within a run go together, so 200 runs fix the part to ± 3 %.
		if c := *component(&inside, k) / *component(&all, k); c < 0.90 || c > 0.99 {
			t.Errorf("axis %d: %.1f %% of true errors within 1.96 SD, want 95 %%", k, 100*c)
		}
	}
	if math.Sqrt(square) > 0.01 {
		t.Errorf("RMS horizontal error %g m, want at most 10 mm", math.Sqrt(square))
	}
}

// Turning and shifting the laboratory about the vertical turns and shifts the
// path when all axes have the same standard deviations.
func TestSmoothInvariance(t *testing.T) {
	rnd := rand.New(rand.NewSource(8))
	m := demo()
	net := noisy(rnd, m, 500, 1800, 2)
	track := tracked(rnd, m, 0, 3.5, 60, 0.01, 0)
	p, err := Smooth(net, 0, 500, Options{Height: 0.93, Sources: []Source{{Track: track}}})
	if err != nil {
		t.Fatal(err)
	}
	rot := r3.NewRotation(0.7, r3.Vec{Z: 1})
	shift := r3.Vec{X: 0.4, Y: -0.5}
	turned := make([]grf.Wrench, len(net))
	for i, w := range net {
		f := rot.Rotate(w.Force)
		turned[i] = grf.Wrench{Force: f, Moment: r3.Add(rot.Rotate(w.Moment), r3.Cross(shift, f))}
	}
	moved := track
	moved.Position = make([]r3.Vec, len(track.Position))
	for i, z := range track.Position {
		moved.Position[i] = r3.Add(rot.Rotate(z), shift)
	}
	q, err := Smooth(turned, 0, 500, Options{Height: 0.93, Sources: []Source{{Track: moved}}})
	if err != nil {
		t.Fatal(err)
	}
	for i := range p.Position {
		// An error of the mass is sought along each axis, which is not quite
		// independent of the axes.
		if d := r3.Norm(r3.Sub(q.Position[i], r3.Add(rot.Rotate(p.Position[i]), shift))); d > 2e-4 {
			t.Fatalf("sample %d differs by %g m", i, d)
		}
	}
}

// Gaps in both streams, at rates that have nothing in common.
func TestSmoothGaps(t *testing.T) {
	rnd := rand.New(rand.NewSource(9))
	m := demo()
	net := noisy(rnd, m, 1000, 3600, 2)
	lose := func(from, to int) {
		for i := from; i < to; i++ {
			net[i] = grf.NaN()
		}
	}
	lose(0, 20)
	lose(1900, 1960) // 60 ms in the middle of the downswing
	lose(3590, 3600)
	track := tracked(rnd, m, -0.5, 4, 59.94, 0.005, 0)
	for i := 100; i < 115; i++ {
		track.Position[i] = nan3()
	}
	p, err := Smooth(net, 0, 1000, Options{Sources: []Source{{Name: "camera", Track: track}}})
	if err != nil {
		t.Fatal(err)
	}
	if !hasCode(p.Warnings, "gap") {
		t.Errorf("no warning of the gap: %v", p.Warnings)
	}
	for i := range p.Position {
		lost := i < 20 || i >= 3590
		if finite(p.Position[i]) == lost {
			t.Fatalf("sample %d: %v, want NaN: %v", i, p.Position[i], lost)
		}
		if lost {
			continue
		}
		truth, _, _ := m.at(p.Time(i))
		e := r3.Sub(p.Position[i], truth)
		for k := range 3 {
			if sd := *component(&p.PositionSD[i], k); math.Abs(*component(&e, k)) > 5*sd {
				t.Fatalf("sample %d axis %d: off by %g m, SD %g", i, k, *component(&e, k), sd)
			}
		}
	}
	if !(p.VelocitySD[1930].Y > 3*p.VelocitySD[1500].Y) {
		t.Errorf("velocity SD %v in the gap, %v before: want much more", p.VelocitySD[1930], p.VelocitySD[1500])
	}
}

// A mass that is 2 % wrong is found from a track, together with its effect.
func TestSmoothFindsMass(t *testing.T) {
	rnd := rand.New(rand.NewSource(10))
	m := demo()
	none := math.NaN()
	net := noisy(rnd, m, 1000, 3600, 2)
	track := tracked(rnd, m, 0, 3.5, 100, 0.003, 0)
	p, err := Smooth(net, 0, 1000, Options{Mass: 1.02 * m.mass, Noise: Noise{MassSD: 0.02},
		Quiet: Window{From: none}, Still: Window{From: none}, Sources: []Source{{Track: track}}})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(p.Mass-m.mass) > 3*p.MassSD || p.MassSD > 0.005*m.mass {
		t.Errorf("mass %g ± %g kg, want %g", p.Mass, p.MassSD, m.mass)
	}
	if d := farthest(p, m, 0, 3.5); d > 3e-3 {
		t.Errorf("off by %g m", d)
	}
}

func TestSmoothErrors(t *testing.T) {
	m := demo()
	net := m.wrenches(0, 500, 1800)
	moving := m.wrenches(1.2, 500, 400)
	lost := make([]grf.Wrench, 100)
	for i := range lost {
		lost[i] = grf.NaN()
	}
	nan := math.NaN()
	good := Source{Track: tracked(rand.New(rand.NewSource(1)), m, 0, 3, 50, 0.01, 0)}
	far := good
	far.Clock.Delay = 100
	for _, c := range []struct {
		name string
		net  []grf.Wrench
		rate float64
		opt  Options
		want error
	}{
		{"none", nil, 500, Options{}, grf.ErrNoData},
		{"lost", lost, 500, Options{}, grf.ErrNoData},
		{"rate", net, -1, Options{}, grf.ErrRate},
		{"height", net, 500, Options{Height: -1}, ErrOption},
		{"noise", net, 500, Options{Noise: Noise{GapSD: -1}}, ErrOption},
		{"quiet SD", net, 500, Options{QuietSD: Stillness{Over: -1}}, ErrOption},
		{"moving", moving, 500, Options{}, grf.ErrNoQuiet},
		{"moving, mass unknown", moving, 500, Options{Sources: []Source{good}}, grf.ErrNoQuiet},
		{"window", net, 500, Options{Quiet: Window{10, 11}, Sources: []Source{good}}, grf.ErrWindow},
		{"still window", net, 500, Options{Still: Window{10, 11}}, grf.ErrWindow},
		{"no track", net, 500, Options{Sources: []Source{{}}}, ErrTrack},
		{"source SD", net, 500, Options{Sources: []Source{{Track: good.Track, SD: r3.Vec{X: -1}}}}, ErrOption},
		{"clock", net, 500, Options{Sources: []Source{{Track: good.Track, Clock: Clock{Delay: nan}}}}, ErrOption},
		{"nothing known", net, 500, Options{Mass: 70, Quiet: Window{From: nan}, Still: Window{From: nan}, Sources: []Source{far}}, grf.ErrNoQuiet},
		{"no overlap to seek a delay in", net, 500, Options{Sources: []Source{{Track: good.Track, Clock: far.Clock, SeekDelay: 0.1}}}, grf.ErrNoData},
	} {
		p, err := Smooth(c.net, 0, c.rate, c.opt)
		if !errors.Is(err, c.want) || p != nil {
			t.Errorf("%s: %v, %v; want nothing and %v", c.name, p, err, c.want)
		}
	}
	// A source that lies elsewhere in time is left out with a warning.
	p, err := Smooth(net, 0, 500, Options{Sources: []Source{far}})
	if err != nil || !hasCode(p.Warnings, "source-outside") {
		t.Errorf("source outside: %v", err)
	}
	p, err = Smooth(moving, 0, 500, Options{Mass: m.mass, Sources: []Source{{Track: tracked(rand.New(rand.NewSource(1)), m, 1.2, 2, 50, 0.01, -1.2)}}})
	if err != nil || !hasCode(p.Warnings, "no-quiet") {
		t.Errorf("no quiet stance, but a source: %v", err)
	}
}

// StandStill gives a tracker its start.
func TestStandStill(t *testing.T) {
	rnd := rand.New(rand.NewSource(11))
	m := demo()
	net := noisy(rnd, m, 1000, 2200, 2)
	mass, fixes, err := StandStill(net[:950], 0, 1000, 0, Stillness{}, m.home.Z, 0.02)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(mass-m.mass) > 0.05 || len(fixes) != 3 {
		t.Errorf("mass %g, %d fixes; want %g, 3", mass, len(fixes), m.mass)
	}
	tr, err := NewTracker(TrackerOptions{Mass: mass, Rate: 1000, Lag: 1})
	if err != nil {
		t.Fatal(err)
	}
	for i, w := range net {
		tr.Push(w)
		if i == 949 {
			for _, f := range fixes {
				if err := tr.Correct(f); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	truth, _, _ := m.at(2.199)
	e := tr.Now()
	d := r3.Sub(e.Position, truth)
	for k := range 3 {
		if math.Abs(*component(&d, k)) > 2.5**component(&e.PositionSD, k) {
			t.Errorf("axis %d: off by %g m, SD %g", k, *component(&d, k), *component(&e.PositionSD, k))
		}
	}
	// A golfer who sways: the mean position lies over the mean centre of
	// pressure, and the fix is where the golfer truly is at its instant.
	sway := motion{mass: 78, gravity: StandardGravity, home: r3.Vec{Z: 0.93}, moves: []move{
		{0, 0.5, r3.Vec{X: 0.01, Y: 0.02}}, {0.4, 1.1, r3.Vec{X: -0.02, Y: 0.01}}, {1.0, 1.6, r3.Vec{Y: -0.03}},
	}}
	_, fixes, err = StandStill(sway.wrenches(0, 1000, 1600), 0, 1000, 0, Stillness{}, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	truth, _, _ = sway.at(fixes[0].Time)
	var mean r3.Vec
	for i := range 1600 {
		p, _, _ := sway.at(float64(i) / 1000)
		mean = r3.Add(mean, r3.Scale(1.0/1600, p))
	}
	// Swaying like that, the mean centre of pressure is not quite the mean
	// position; what is tested is the step from the mean to the middle.
	want := r3.Sub(truth, mean)
	all := stand(sway.wrenches(0, 1000, 1600), 0, 1600)
	got := r3.Sub(fixes[0].Position, r3.Vec{X: all.cop[0], Y: all.cop[1]})
	if math.Hypot(got.X-want.X, got.Y-want.Y) > 1e-4 || math.Hypot(want.X, want.Y) < 5e-3 {
		t.Errorf("from mean to middle %v, want %v", got, want)
	}
	for _, c := range []struct {
		net  []grf.Wrench
		rate float64
		want error
	}{
		{nil, 1000, grf.ErrNoQuiet}, {make([]grf.Wrench, 10), 1000, grf.ErrNoQuiet},
		{[]grf.Wrench{grf.NaN()}, 1000, grf.ErrNoQuiet}, {net, 0, grf.ErrRate},
	} {
		if _, _, err := StandStill(c.net, 0, c.rate, 0, Stillness{}, 0, 0); !errors.Is(err, c.want) {
			t.Errorf("%d samples at %g Hz: %v, want %v", len(c.net), c.rate, err, c.want)
		}
	}
	if _, _, err := StandStill(net, 0, 1000, -1, Stillness{}, 0, 0); !errors.Is(err, ErrOption) {
		t.Errorf("gravity -1: %v", err)
	}
}
