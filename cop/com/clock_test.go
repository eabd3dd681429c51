package com

import (
	"errors"
	"math"
	"math/rand"
	"testing"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestClock(t *testing.T) {
	for _, c := range []struct {
		clock       Clock
		stamp, want float64
	}{
		{Clock{}, 3, 3},
		{Clock{Delay: 0.015}, 3, 2.985},
		{Clock{Delay: 0.015, Factor: 1}, 3, 2.985},
		{Clock{Delay: 1, At: 10, Factor: 1.001}, 10, 9},
		{Clock{Delay: 1, At: 10, Factor: 1.001}, 110, 109.1},
	} {
		if got := c.clock.Time(c.stamp); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%+v at %g: %g, want %g", c.clock, c.stamp, got, c.want)
		}
	}
	if sd := (Clock{DelaySD: 3, At: 10, FactorSD: 0.4}).SD(20); math.Abs(sd-5) > 1e-12 {
		t.Errorf("SD %g, want 5", sd)
	}
}

// FitMotion against the truth: with white noise the error of the delay is what
// its standard deviation says.
func TestFitMotion(t *testing.T) {
	rnd := rand.New(rand.NewSource(12))
	const runs = 40
	for _, c := range []struct{ noise, rate float64 }{{0.002, 200}, {0.005, 60}, {0.020, 60}} {
		inside, square, stated := 0, 0.0, 0.0
		for range runs {
			m := random(rnd)
			net := noisy(rnd, m, 1000, 3600, 2)
			delay := 0.1 * (2*rnd.Float64() - 1)
			f, err := FitMotion(net, 0, 1000, Source{Track: tracked(rnd, m, 0, 3.5, c.rate, c.noise, delay)},
				MotionOptions{Mass: m.mass, Seek: 0.15})
			if err != nil {
				t.Fatal(err)
			}
			e := f.Clock.Delay - delay
			square += e * e / runs
			stated += f.Clock.DelaySD * f.Clock.DelaySD / runs
			if math.Abs(e) < 1.96*f.Clock.DelaySD {
				inside++
			}
		}
		t.Logf("noise %g m at %g Hz: RMS error %.2f ms, stated %.2f ms, %d of %d within 1.96 SD", c.noise, c.rate, 1000*math.Sqrt(square), 1000*math.Sqrt(stated), inside, runs)
		if p := float64(inside) / runs; p < 0.88 {
			t.Errorf("noise %g m: %.0f %% within 1.96 SD", c.noise, 100*p)
		}
		if r := math.Sqrt(square / stated); r < 0.75 || r > 1.3 {
			t.Errorf("noise %g m: true error %g times the stated one", c.noise, r)
		}
	}
}

// What FitMotion says about bias, mass and residual.
func TestFitMotionFigures(t *testing.T) {
	rnd := rand.New(rand.NewSource(13))
	m := demo()
	net := noisy(rnd, m, 1000, 3600, 2)
	for i := range net {
		net[i].Force = r3.Add(net[i].Force, r3.Vec{X: -6, Y: 9, Z: 0})
	}
	src := Source{Track: tracked(rnd, m, 0, 3.5, 200, 0.003, 0)}
	f, err := FitMotion(net, 0, 1000, src, MotionOptions{Mass: 1.02 * m.mass, Noise: Noise{BiasSD: 1000, MassSD: 0.5}})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(f.Bias.X-6) > 0.5 || math.Abs(f.Bias.Y+9) > 0.5 {
		t.Errorf("bias %v N, want (6, −9)", f.Bias)
	}
	if math.Abs(f.MassError.Z+0.02) > 0.005 {
		t.Errorf("mass error %v, want −0.02", f.MassError)
	}
	if r := f.Residual; math.Abs(r.X-0.003) > 3e-4 || math.Abs(r.Y-0.003) > 3e-4 || math.Abs(r.Z-0.003) > 3e-4 {
		t.Errorf("residual %v m, want 3 mm", r)
	}
	if math.Abs(f.Chi2-1) > 0.1 || f.Positions != 701 {
		t.Errorf("chi² %g of %d positions, want 1 of 701", f.Chi2, f.Positions)
	}
	if f.Clock.Delay != 0 || f.Clock.DelaySD != 0 {
		t.Errorf("clock %+v, want the one given", f.Clock)
	}
}

// Where the bias is known to be none, the weight alone tells the mass.
func TestFitMotionMass(t *testing.T) {
	m := demo()
	rnd := rand.New(rand.NewSource(22))
	src := Source{Track: tracked(rnd, m, 0, 3.5, 200, 0.003, 0)}
	f, err := FitMotion(noisy(rnd, m, 1000, 3600, 2), 0, 1000, src,
		MotionOptions{Mass: 1.02 * m.mass, Noise: Noise{BiasSD: math.NaN(), MassSD: 0.5}})
	if err != nil {
		t.Fatal(err)
	}
	// 1/true mass = 1.02/assumed mass: the assumed one is 2 % too large.
	if math.Abs(f.MassError.Z+0.02) > 2e-4 {
		t.Errorf("mass error %v, want −0.02", f.MassError)
	}
}

func TestFitMotionWarns(t *testing.T) {
	rnd := rand.New(rand.NewSource(14))
	m := demo()
	net := noisy(rnd, m, 1000, 3600, 2)
	still := m
	still.moves = nil
	waggle := demo()
	waggle.moves = nil // the same small move to and fro, again and again
	for i := range 16 {
		d := r3.Vec{Y: 0.02}
		if i%2 == 1 {
			d.Y = -d.Y
		}
		waggle.moves = append(waggle.moves, move{float64(i) * 0.2, float64(i+1) * 0.2, d})
	}
	for _, c := range []struct {
		name   string
		m      motion
		noise  float64
		delay  float64
		code   string
		net    []grf.Wrench
		seek   float64
		expect bool
	}{
		{"good", m, 0.003, 0.05, "sync-weak", net, 0.25, false},
		{"good", m, 0.003, 0.05, "sync-range", net, 0.25, false},
		{"good", m, 0.003, 0.05, "sync-ambiguous", net, 0.25, false},
		{"still", still, 0.01, 0, "sync-weak", noisy(rnd, still, 1000, 3600, 2), 0.25, true},
		{"range", m, 0.003, 0.3, "sync-range", net, 0.25, true},
		{"periodic", waggle, 0.02, 0, "sync-ambiguous", noisy(rnd, waggle, 1000, 3600, 2), 0.5, true},
	} {
		f, err := FitMotion(c.net, 0, 1000, Source{Track: tracked(rnd, c.m, 0, 3.5, 60, c.noise, c.delay)}, MotionOptions{Mass: m.mass, Seek: c.seek, Noise: Noise{BiasSD: 5}})
		if err != nil {
			t.Fatal(err)
		}
		if hasCode(f.Clock.Warnings, c.code) != c.expect {
			t.Errorf("%s: warnings %v; %s expected: %v", c.name, f.Clock.Warnings, c.code, c.expect)
		}
	}
	for _, c := range []struct {
		opt  MotionOptions
		src  Source
		rate float64
		want error
	}{
		{MotionOptions{}, Source{}, 1000, ErrOption},
		{MotionOptions{Mass: 70, Seek: -1}, Source{}, 1000, ErrOption},
		{MotionOptions{Mass: 70}, Source{}, 0, grf.ErrRate},
		{MotionOptions{Mass: 70}, Source{}, 1000, ErrTrack},
		{MotionOptions{Mass: 70}, Source{Track: tracked(rnd, m, 7, 9, 60, 0.01, 0)}, 1000, grf.ErrNoData},
	} {
		if _, err := FitMotion(net, 0, c.rate, c.src, c.opt); !errors.Is(err, c.want) {
			t.Errorf("%+v: %v, want %v", c.opt, err, c.want)
		}
	}
}

// Two noisy copies of one signal, one of them late by a fraction of a sample.
func TestCorrelate(t *testing.T) {
	rnd := rand.New(rand.NewSource(15))
	m := demo()
	const rate, n, runs = 200.0, 700, 100
	for _, noise := range []float64{0.02, 0.5} {
		inside, square, stated := 0, 0.0, 0.0
		for range runs {
			delay := 0.05 * (2*rnd.Float64() - 1)
			a, b := make([]r3.Vec, n), make([]r3.Vec, n)
			for i := range a {
				_, _, x := m.at(float64(i) / rate)
				_, _, y := m.at(float64(i)/rate - delay)
				a[i] = r3.Add(x, r3.Vec{X: 5}) // a constant does not matter
				b[i] = r3.Add(r3.Scale(0.8, y), r3.Scale(noise, r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}))
			}
			c, err := Correlate(a, b, rate, 0.2)
			if err != nil {
				t.Fatal(err)
			}
			e := c.Delay - delay
			square += e * e / runs
			stated += c.DelaySD * c.DelaySD / runs
			if math.Abs(e) < 1.96*c.DelaySD+1e-4 { // the parabola is good to a fiftieth of a sample
				inside++
			}
		}
		t.Logf("noise %g m/s²: RMS error %.3f ms, stated %.3f ms, %d of %d covered", noise, 1000*math.Sqrt(square), 1000*math.Sqrt(stated), inside, runs)
		if inside < 85*runs/100 || math.Sqrt(square) > 0.006*noise+2e-4 {
			t.Errorf("noise %g: RMS error %g s, %d of %d covered", noise, math.Sqrt(square), inside, runs)
		}
	}
}

func TestCorrelateErrorsAndWarnings(t *testing.T) {
	wave := func(period float64, n int) []r3.Vec {
		v := make([]r3.Vec, n)
		for i := range v {
			v[i].Y = math.Sin(2 * math.Pi * float64(i) / period)
		}
		return v
	}
	bad := wave(50, 400)
	bad[7].X = math.NaN()
	for _, c := range []struct {
		a, b       []r3.Vec
		rate, seek float64
		want       error
	}{
		{wave(50, 400), wave(50, 399), 100, 1, grf.ErrLength},
		{wave(50, 400), wave(50, 400), 0, 1, grf.ErrRate},
		{wave(50, 400), wave(50, 400), 100, 0, ErrOption},
		{wave(50, 400), wave(50, 400), 100, 3, ErrOption},
		{wave(50, 7), wave(50, 7), 100, 0.02, grf.ErrNoData},
		{wave(50, 400), bad, 100, 1, grf.ErrNoData},
	} {
		if _, err := Correlate(c.a, c.b, c.rate, c.seek); !errors.Is(err, c.want) {
			t.Errorf("%d and %d samples, %g Hz, %g s: %v, want %v", len(c.a), len(c.b), c.rate, c.seek, err, c.want)
		}
	}
	c, err := Correlate(wave(20, 2000), wave(20, 2000), 100, 1)
	if err != nil || !hasCode(c.Warnings, "sync-ambiguous") {
		t.Errorf("a periodic movement: %v %v", c.Warnings, err)
	}
	c, err = Correlate(wave(20, 2000), make([]r3.Vec, 2000), 100, 1)
	if err != nil || !hasCode(c.Warnings, "sync-weak") {
		t.Errorf("nothing in the second record: %v %v", c.Warnings, err)
	}
}

// The plain correlation of accelerations confirms FitMotion on good tracks.
func TestCorrelateTrack(t *testing.T) {
	rnd := rand.New(rand.NewSource(16))
	const runs = 40
	inside, square := 0, 0.0
	for range runs {
		m := random(rnd)
		net := noisy(rnd, m, 1000, 3600, 2)
		delay := 0.05 * (2*rnd.Float64() - 1)
		c, err := CorrelateTrack(net, 0, 1000, Source{Track: tracked(rnd, m, -0.1, 3.7, 100, 0.002, delay)}, 0.15, 0)
		if err != nil {
			t.Fatal(err)
		}
		e := c.Delay - delay
		square += e * e / runs
		if math.Abs(e) < 2*c.DelaySD {
			inside++
		}
	}
	t.Logf("RMS error %.2f ms, %d of %d covered", 1000*math.Sqrt(square), inside, runs)
	if math.Sqrt(square) > 0.004 || inside < 85*runs/100 {
		t.Errorf("RMS error %g s, %d of %d covered", math.Sqrt(square), inside, runs)
	}
	m := demo()
	net := m.wrenches(0, 1000, 3600)
	if _, err := CorrelateTrack(net, 0, 1000, Source{Track: tracked(rnd, m, 0, 0.3, 100, 0.002, 0)}, 0.1, 0); !errors.Is(err, grf.ErrNoData) {
		t.Errorf("a short track: %v, want %v", err, grf.ErrNoData)
	}
	if _, err := CorrelateTrack(net, 0, 1000, Source{}, 0.1, 0); !errors.Is(err, ErrTrack) {
		t.Errorf("no track: %v, want %v", err, ErrTrack)
	}
	if _, err := CorrelateTrack(net, 0, 1000, Source{}, 0.1, -1); !errors.Is(err, ErrOption) {
		t.Errorf("cut-off −1: %v, want %v", err, ErrOption)
	}
}

func TestFindTaps(t *testing.T) {
	const rate = 1000.0
	want := []float64{0.5003, 1.2007, 2.9} // instants of half rise
	signal := make([]float64, 3500)
	rnd := rand.New(rand.NewSource(17))
	for i := range signal {
		at := float64(i)/rate - 10
		signal[i] = 40 + rnd.NormFloat64()
		for _, w := range want {
			if d := at - (w - 10); d > -0.004 && d < 0.05 {
				// Up in 8 ms about w, down with a ring.
				signal[i] += 200 * min(1, (d+0.004)/0.008) * math.Exp(-max(0, d-0.004)/0.01)
			}
		}
	}
	signal[100] = math.NaN()
	taps, err := FindTaps(signal, -10, rate, 60)
	if err != nil {
		t.Fatal(err)
	}
	if len(taps) != len(want) {
		t.Fatalf("taps at %v, want %d", taps, len(want))
	}
	for i, w := range want {
		if math.Abs(taps[i]-(w-10)) > 0.5/rate {
			t.Errorf("tap %d at %g s, want %g", i, taps[i], w-10)
		}
	}
	if taps, err := FindTaps(signal, 0, rate, 1000); err != nil || len(taps) != 0 {
		t.Errorf("no rise of 1000: %v %v", taps, err)
	}
	if _, err := FindTaps(signal, 0, 0, 60); !errors.Is(err, grf.ErrRate) {
		t.Errorf("rate 0: %v", err)
	}
	if _, err := FindTaps(signal, 0, rate, 0); !errors.Is(err, ErrOption) {
		t.Errorf("rise 0: %v", err)
	}
}

func TestFitClock(t *testing.T) {
	// Exact: instants = 0.9998 stamps − 2.
	stamps := []float64{10, 40, 100}
	var instants []float64
	for _, s := range stamps {
		instants = append(instants, 0.9998*s-2)
	}
	c, err := FitClock(stamps, instants, 0.001)
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range stamps {
		if d := c.Time(s) - instants[i]; math.Abs(d) > 1e-9 {
			t.Errorf("stamp %g: off by %g s", s, d)
		}
	}
	if math.Abs(c.Factor-0.9998) > 1e-12 || c.At != 50 {
		t.Errorf("%+v: want factor 0.9998 at 50 s", c)
	}
	// Textbook standard errors of a straight line: σ/√n and σ/√Σ(x−x̄)².
	if math.Abs(c.DelaySD-0.001/math.Sqrt(3)) > 1e-12 || math.Abs(c.FactorSD-0.001/math.Sqrt(4200)) > 1e-12 {
		t.Errorf("%+v: SD wrong", c)
	}
	one, err := FitClock([]float64{5}, []float64{4.9}, 0.002)
	if err != nil || math.Abs(one.Time(7)-6.9) > 1e-12 || one.DelaySD != 0.002 {
		t.Errorf("one event: %+v %v", one, err)
	}
	if c, err = FitClock(stamps, []float64{10, 40.6, 101.8}, 0.01); err != nil || !hasCode(c.Warnings, "clock-drift") {
		t.Errorf("2 %% drift: %v %v", c.Warnings, err)
	}
	if c, err = FitClock([]float64{1, 2, 3, 4}, []float64{1, 2.3, 3, 4}, 0.001); err != nil || !hasCode(c.Warnings, "sync-scatter") {
		t.Errorf("a wrong pair: %v %v", c.Warnings, err)
	}
	if c, err = FitClock([]float64{1, 2, 3}, []float64{1.001, 1.999, 3.001}, 0); err != nil || !(c.DelaySD > 0) {
		t.Errorf("scatter from the data: %+v %v", c, err)
	}
	for _, e := range []struct {
		stamps, instants []float64
		sd               float64
		want             error
	}{
		{nil, nil, 1, grf.ErrNoData},
		{[]float64{1}, nil, 1, grf.ErrLength},
		{[]float64{1}, []float64{1}, 0, ErrOption},
		{[]float64{1}, []float64{1}, -1, ErrOption},
		{[]float64{1, math.NaN()}, []float64{1, 2}, 1, ErrOption},
		{[]float64{1, 1}, []float64{1, 2}, 1, ErrOption},
	} {
		if _, err := FitClock(e.stamps, e.instants, e.sd); !errors.Is(err, e.want) {
			t.Errorf("%v %v: %v, want %v", e.stamps, e.instants, err, e.want)
		}
	}
}

// A delay that is only known to ± its SD widens the path's SD by its speed.
func TestSmoothDelaySD(t *testing.T) {
	rnd := rand.New(rand.NewSource(18))
	m := demo()
	none := math.NaN()
	net := noisy(rnd, m, 1000, 3600, 2)
	src := Source{Track: tracked(rnd, m, 0, 3.5, 200, 0.001, 0)}
	opt := Options{Mass: m.mass, Quiet: Window{From: none}, Still: Window{From: none}, Sources: []Source{src}}
	sharp, err := Smooth(net, 0, 1000, opt)
	if err != nil {
		t.Fatal(err)
	}
	opt.Sources[0].Clock.DelaySD = 0.01
	vague, err := Smooth(net, 0, 1000, opt)
	if err != nil {
		t.Fatal(err)
	}
	// The same by hand: the path with a clock that is 10 ms later.
	opt.Sources[0].Clock = Clock{Delay: 0.01}
	late, err := Smooth(net, 0, 1000, opt)
	if err != nil {
		t.Fatal(err)
	}
	for _, i := range []int{500, 1900, 2100, 2300} {
		d := late.Position[i].Y - sharp.Position[i].Y
		want := math.Hypot(sharp.PositionSD[i].Y, d)
		if math.Abs(vague.PositionSD[i].Y-want) > 1e-9 {
			t.Errorf("sample %d: SD %g, want %g", i, vague.PositionSD[i].Y, want)
		}
		if vague.Position[i] != sharp.Position[i] {
			t.Errorf("sample %d: the position depends on the SD of the delay", i)
		}
	}
}
