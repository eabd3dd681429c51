package com

import (
	"errors"
	"math"
	"math/rand"
	"testing"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// noisy returns the motion's wrenches with white noise of sd N.
func noisy(rnd *rand.Rand, m motion, rate float64, n int, sd float64) []grf.Wrench {
	net := m.wrenches(0, rate, n)
	for i := range net {
		net[i].Force = r3.Add(net[i].Force, r3.Vec{X: sd * rnd.NormFloat64(), Y: sd * rnd.NormFloat64(), Z: sd * rnd.NormFloat64()})
	}
	return net
}

// fixesOf returns positions of the motion with noise.
func fixesOf(rnd *rand.Rand, m motion, from, to, rate, sd float64) []Fix {
	var fixes []Fix
	for t := from; t <= to; t += 1 / rate {
		p, _, _ := m.at(t)
		fixes = append(fixes, Fix{
			Time:       t,
			Position:   r3.Add(p, r3.Vec{X: sd * rnd.NormFloat64(), Y: sd * rnd.NormFloat64(), Z: sd * rnd.NormFloat64()}),
			PositionSD: r3.Vec{X: sd, Y: sd, Z: sd},
		})
	}
	return fixes
}

// The tracker's estimates are those of the smoother's forward pass, bit for
// bit, and the smoothed estimate at a lag is the smoother's on the record so
// far.
func TestTrackerEqualsSmoother(t *testing.T) {
	rnd := rand.New(rand.NewSource(5))
	m := demo()
	const rate, n = 500.0, 1500
	net := noisy(rnd, m, rate, n, 2)
	fixes := fixesOf(rnd, m, 0.003, 2.9, 60, 0.005)
	var track grf.Track
	for _, f := range fixes {
		track.Time, track.Position, track.SD = append(track.Time, f.Time), append(track.Position, f.Position), f.PositionSD
	}
	none := math.NaN()
	s, err := newSmoother(net, 0, rate, Options{Mass: m.mass, Quiet: Window{From: none}, Still: Window{From: none}, Sources: []Source{{Track: track}}})
	if err != nil {
		t.Fatal(err)
	}
	if err := s.stances(net); err != nil {
		t.Fatal(err)
	}
	if err := s.sources(); err != nil {
		t.Fatal(err)
	}
	s.run(s.known)

	tr, err := NewTracker(TrackerOptions{Mass: m.mass, Rate: rate, Position: fixes[0].Position, PositionSD: 1, Lag: 10})
	if err != nil {
		t.Fatal(err)
	}
	next := 0
	for i, w := range net {
		tr.Push(w)
		for ; next < len(fixes) && fixes[next].Time <= float64(i)/rate; next++ {
			if err := tr.Correct(fixes[next]); err != nil {
				t.Fatal(err)
			}
		}
		if i == 1000 { // the fixed-lag estimate against smoothing what is known
			short := make([]grf.Wrench, i+1)
			copy(short, net)
			p, err := Smooth(short, 0, rate, Options{Mass: m.mass, Quiet: Window{From: none}, Still: Window{From: none}, Sources: []Source{{Track: track}}})
			if err != nil {
				t.Fatal(err)
			}
			e := tr.Lagged()
			if d := r3.Norm(r3.Sub(e.Position, p.Position[0])); e.Time != 0 || d > 1e-12 {
				t.Errorf("lagged estimate at %g s is %g m from the smoother's", e.Time, d)
			}
		}
	}
	if tr.n != len(s.chain) {
		t.Fatalf("%d nodes, smoother has %d", tr.n, len(s.chain))
	}
	for i := range tr.n {
		if got := tr.at(i); got.ax != s.chain[i].ax {
			t.Fatalf("node %d at %g s: %v, smoother has %v", i, got.t, got.ax, s.chain[i].ax)
		}
	}
}

// News that come late have the same effect as news that come in time.
func TestTrackerLateFixes(t *testing.T) {
	rnd := rand.New(rand.NewSource(6))
	m := demo()
	const rate, n = 500.0, 1500
	net := noisy(rnd, m, rate, n, 2)
	fixes := fixesOf(rnd, m, 0, 2.5, 100, 0.005)
	var ends []Estimate
	for _, late := range []float64{0, 0.012, 0.1} {
		tr, err := NewTracker(TrackerOptions{Mass: m.mass, Rate: rate, Lag: 0.2})
		if err != nil {
			t.Fatal(err)
		}
		next := 0
		for i, w := range net {
			tr.Push(w)
			for ; next < len(fixes) && fixes[next].Time+late <= float64(i)/rate; next++ {
				if err := tr.Correct(fixes[next]); err != nil {
					t.Fatal(err)
				}
			}
		}
		ends = append(ends, tr.Now())
	}
	for i, e := range ends {
		if e != ends[0] {
			t.Errorf("estimate %d: %+v, want %+v", i, e, ends[0])
		}
	}
	truth, v, _ := m.at(float64(n-1) / rate)
	if d := r3.Norm(r3.Sub(ends[0].Position, truth)); d > 0.01 {
		t.Errorf("position off by %g m", d)
	}
	if d := r3.Norm(r3.Sub(ends[0].Velocity, v)); d > 0.02 {
		t.Errorf("velocity off by %g m/s", d)
	}
}

func TestTrackerLostSamples(t *testing.T) {
	m := demo()
	net := m.wrenches(0, 500, 1000)
	run := func(lost func(i int) bool) Estimate {
		tr, err := NewTracker(TrackerOptions{Mass: m.mass, Rate: 500, Position: m.home, PositionSD: 0.01})
		if err != nil {
			t.Fatal(err)
		}
		for i, w := range net {
			if lost(i) {
				w = grf.NaN()
			}
			e := tr.Push(w)
			if i == 10 { // at rest
				if err := tr.Correct(Fix{Time: e.Time, VelocitySD: r3.Vec{X: 0.005, Y: 0.005, Z: 0.005}}); err != nil {
					t.Fatal(err)
				}
			}
		}
		return tr.Now()
	}
	whole := run(func(int) bool { return false })
	gap := run(func(i int) bool { return i >= 900 && i < 925 })
	first := run(func(i int) bool { return i < 3 })
	if !(gap.PositionSD.Y > whole.PositionSD.Y && gap.VelocitySD.Y > whole.VelocitySD.Y+0.05) {
		t.Errorf("a gap of 50 ms leaves the SD at %v, without it %v", gap.VelocitySD, whole.VelocitySD)
	}
	if d := r3.Norm(r3.Sub(gap.Velocity, whole.Velocity)); d > 3*gap.VelocitySD.Y {
		t.Errorf("a gap changes the velocity by %g m/s, SD %v", d, gap.VelocitySD)
	}
	if !finite(first.Position) {
		t.Errorf("lost at the start: %+v", first)
	}
}

func TestTrackerErrors(t *testing.T) {
	for _, c := range []struct {
		opt  TrackerOptions
		want error
	}{
		{TrackerOptions{Mass: 70}, grf.ErrRate},
		{TrackerOptions{Rate: 100}, ErrOption},
		{TrackerOptions{Mass: -1, Rate: 100}, ErrOption},
		{TrackerOptions{Mass: 70, Rate: 100, Lag: -1}, ErrOption},
		{TrackerOptions{Mass: 70, Rate: 100, Lag: 1e9}, ErrOption},
		{TrackerOptions{Mass: 70, Rate: 100, Start: math.NaN()}, ErrOption},
		{TrackerOptions{Mass: 70, Rate: 100, Noise: Noise{BiasSD: -1}}, ErrOption},
	} {
		if _, err := NewTracker(c.opt); !errors.Is(err, c.want) {
			t.Errorf("%+v: %v, want %v", c.opt, err, c.want)
		}
	}
	tr, err := NewTracker(TrackerOptions{Mass: 70, Rate: 100, Lag: 0.1, Start: 5})
	if err != nil {
		t.Fatal(err)
	}
	if e := tr.Now(); finite(e.Position) || finite(tr.Lagged().Position) {
		t.Errorf("before the first sample: %+v, want NaN", e)
	}
	if err := tr.Correct(Fix{Time: 5}); !errors.Is(err, ErrTooEarly) {
		t.Errorf("fix before the first sample: %v", err)
	}
	for range 50 {
		tr.Push(grf.Wrench{Force: r3.Vec{Z: 70 * StandardGravity}})
	}
	before := tr.Now()
	for _, c := range []struct {
		at   float64
		want error
	}{{5.5, ErrTooEarly}, {math.NaN(), ErrTooEarly}, {5.1, ErrTooLate}, {5.45, nil}, {5.49, nil}} {
		if err := tr.Correct(Fix{Time: c.at}); !errors.Is(err, c.want) {
			t.Errorf("fix at %g s: %v, want %v", c.at, err, c.want)
		}
	}
	if e := tr.Now(); e != before {
		t.Errorf("fixes that say nothing changed %+v to %+v", before, e)
	}
	tr.Reset()
	if e := tr.Now(); finite(e.Position) {
		t.Errorf("after Reset: %+v, want NaN", e)
	}
	if e := tr.Push(grf.Wrench{}); e.Time != 5 {
		t.Errorf("after Reset the first sample is at %g s, want 5", e.Time)
	}
}

// A fix between two samples that says nothing changes nothing, however large the times
// are: what it divides adds up.
func TestTrackerDividedSpan(t *testing.T) {
	rnd := rand.New(rand.NewSource(9))
	m := demo()
	const rate, n = 1000.0, 2000
	net := noisy(rnd, m, rate, n, 2)
	for _, start := range []float64{0, 1.7e9} {
		var ends [2]Estimate
		for k := range ends {
			tr, err := NewTracker(TrackerOptions{Mass: m.mass, Rate: rate, Start: start, Position: m.home, PositionSD: 0.01})
			if err != nil {
				t.Fatal(err)
			}
			for i, w := range net {
				e := tr.Push(w)
				if k == 1 && i > 10 && i%7 == 3 {
					if err := tr.Correct(Fix{Time: e.Time - 0.0104}); err != nil {
						t.Fatal(err)
					}
				}
			}
			ends[k] = tr.Now()
		}
		a, b := ends[0], ends[1]
		// The noise of a divided span is not quite that of a whole one.
		if d := r3.Norm(r3.Sub(a.Position, b.Position)); !(d < 1e-12) || !(r3.Norm(r3.Sub(a.Velocity, b.Velocity)) < 1e-12) ||
			!(r3.Norm(r3.Sub(a.PositionSD, b.PositionSD)) < 1e-8) || !(r3.Norm(r3.Sub(a.VelocitySD, b.VelocitySD)) < 1e-8) {
			t.Errorf("start at %g s: %g m apart, %+v and %+v", start, d, a, b)
		}
	}
}

// A crowd of fixes drops the oldest nodes, never the newest.
func TestTrackerManyFixes(t *testing.T) {
	tr, err := NewTracker(TrackerOptions{Mass: 70, Rate: 100, Lag: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	for i := range 30 {
		e := tr.Push(grf.Wrench{Force: r3.Vec{Z: 70 * StandardGravity}})
		for j := range 20 {
			f := Fix{Time: e.Time - 0.02*float64(j%4)/4, Position: r3.Vec{X: 1}, PositionSD: r3.Vec{X: 0.01}}
			if err := tr.Correct(f); err != nil && !errors.Is(err, ErrTooLate) {
				t.Fatal(i, j, err)
			}
		}
	}
	if e := tr.Now(); math.Abs(e.Position.X-1) > 0.01 {
		t.Errorf("position %v, want 1", e.Position)
	}
	for i := 1; i < tr.n; i++ {
		if tr.at(i).t < tr.at(i-1).t {
			t.Fatalf("nodes out of order at %d", i)
		}
	}
}

func TestTrackerAllocatesNothing(t *testing.T) {
	tr, err := NewTracker(TrackerOptions{Mass: 70, Rate: 1000, Lag: 0.05})
	if err != nil {
		t.Fatal(err)
	}
	w := grf.Wrench{Force: r3.Vec{X: 3, Z: 690}}
	tr.Push(w)
	if n := testing.AllocsPerRun(2000, func() {
		e := tr.Push(w)
		if err := tr.Correct(Fix{Time: e.Time - 0.0105, Position: r3.Vec{Z: 1}, PositionSD: r3.Vec{Z: 0.01}}); err != nil && err != ErrTooLate {
			t.Fatal(err)
		}
	}); n != 0 {
		t.Errorf("push and correct: %g allocations", n)
	}
	if n := testing.AllocsPerRun(100, func() { tr.Lagged() }); n != 0 {
		t.Errorf("lagged: %g allocations", n)
	}
}

func BenchmarkTrackerPush(b *testing.B) {
	tr, err := NewTracker(TrackerOptions{Mass: 70, Rate: 1000})
	if err != nil {
		b.Fatal(err)
	}
	w := grf.Wrench{Force: r3.Vec{X: 3, Y: -4, Z: 690}}
	b.ReportAllocs()
	for b.Loop() {
		tr.Push(w)
	}
}

func BenchmarkTrackerCorrect50msLate(b *testing.B) {
	tr, err := NewTracker(TrackerOptions{Mass: 70, Rate: 1000})
	if err != nil {
		b.Fatal(err)
	}
	w := grf.Wrench{Force: r3.Vec{X: 3, Y: -4, Z: 690}}
	for range 500 {
		tr.Push(w)
	}
	b.ReportAllocs()
	for b.Loop() {
		e := tr.Push(w)
		_ = tr.Correct(Fix{Time: e.Time - 0.05, Position: r3.Vec{Z: 1}, PositionSD: r3.Vec{X: 0.01, Y: 0.01, Z: 0.01}})
	}
}

func BenchmarkSmooth(b *testing.B) {
	m := demo()
	net := m.wrenches(0, 1000, 3600)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Smooth(net, 0, 1000, Options{Height: 0.93}); err != nil {
			b.Fatal(err)
		}
	}
}
