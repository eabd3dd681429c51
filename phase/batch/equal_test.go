package batch_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
	"example.com/momentarm/phase/batch"
	"example.com/momentarm/torque"
)

// composed is the chain by the packages below, one stage after the other.
type composed struct {
	plates      []load
	net         load
	com         []r3.Vec
	moment, arm []torque.Planes
}

type load struct {
	wrench []grf.Wrench
	cop    []r3.Vec
	free   []float64
}

func loadOf(ws []grf.Wrench) load {
	l := load{wrench: ws}
	l.cop, l.free = cop.Series(nil, nil, ws, 0, cop.DefaultMinVertical)
	return l
}

// compose takes the path of the centre of mass from where, which is given the net
// wrenches.
func compose(t testing.TB, plates []*grf.Plate, axes grf.Axes, z *filter.ZeroPhase, in batch.Input, where func([]grf.Wrench) []r3.Vec) composed {
	t.Helper()
	var c composed
	var all [][]grf.Wrench
	at := 0
	for _, p := range plates {
		chs := in.Channels[at : at+p.Channels()]
		if in.Zero != nil {
			var err error
			base := grf.Baseline{Mean: in.Zero[at : at+p.Channels()]}
			if chs, err = base.Subtract(nil, chs); err != nil {
				t.Fatal(err)
			}
		}
		ws, err := p.Wrenches(nil, chs)
		if err != nil {
			t.Fatal(err)
		}
		ws = axes.Wrenches(ws, ws)
		if ws, err = z.Wrenches(ws, ws); err != nil {
			t.Fatal(err)
		}
		c.plates = append(c.plates, loadOf(ws))
		all = append(all, ws)
		at += p.Channels()
	}
	net, err := grf.AddSeries(nil, all...)
	if err != nil {
		t.Fatal(err)
	}
	c.net = loadOf(net)
	c.com = where(net)
	if c.moment, err = torque.AboutSeries(nil, net, c.com); err != nil {
		t.Fatal(err)
	}
	arms, err := torque.ArmSeries(nil, net, c.com, c.net.free, torque.DefaultMinForce)
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range arms {
		c.arm = append(c.arm, a.Planes)
	}
	return c
}

// integrated is the twofold integral of force from a start, by the trapezoid rule
// for the velocity and, for the position, the cubic that an acceleration in
// straight lines makes: a plain loop over time.
func integrated(s batch.Start, gravity float64) func([]grf.Wrench) []r3.Vec {
	return func(net []grf.Wrench) []r3.Vec {
		const h = 1.0 / rate
		acc := func(i int) r3.Vec {
			return r3.Sub(r3.Scale(1/s.Mass, r3.Add(net[i].Force, s.Bias)), r3.Vec{Z: gravity})
		}
		p, v := s.Position, s.Velocity
		out := []r3.Vec{p}
		for i := 1; i < len(net); i++ {
			a, slope := acc(i-1), r3.Scale(1/h, r3.Sub(acc(i), acc(i-1)))
			p = r3.Add(p, r3.Add(r3.Scale(h, v), r3.Add(r3.Scale(h*h/2, a), r3.Scale(h*h*h/6, slope))))
			v = r3.Add(v, r3.Add(r3.Scale(h, a), r3.Scale(h*h/2, slope)))
			out = append(out, p)
		}
		return out
	}
}

// rows names all series of a result or a composition.
type row struct {
	name   string
	values []float64
}

func vectors(name string, vs []r3.Vec) []row {
	out := []row{{name: name + ".X"}, {name: name + ".Y"}, {name: name + ".Z"}}
	for _, v := range vs {
		out[0].values = append(out[0].values, v.X)
		out[1].values = append(out[1].values, v.Y)
		out[2].values = append(out[2].values, v.Z)
	}
	return out
}

func planes(name string, ps []torque.Planes) []row {
	var vs []r3.Vec
	for _, p := range ps {
		vs = append(vs, p.Vec())
	}
	return vectors(name, vs)
}

func (l load) rows(name string) []row {
	var f, m []r3.Vec
	for _, w := range l.wrench {
		f, m = append(f, w.Force), append(m, w.Moment)
	}
	out := append(vectors(name+" force", f), vectors(name+" moment", m)...)
	out = append(out, vectors(name+" centre of pressure", l.cop)...)
	return append(out, row{name + " free moment", l.free})
}

func (c composed) rows() []row {
	var out []row
	for i, l := range c.plates {
		out = append(out, l.rows(fmt.Sprintf("plate %d", i))...)
	}
	out = append(out, c.net.rows("net")...)
	out = append(out, vectors("centre of mass", c.com)...)
	out = append(out, planes("moment", c.moment)...)
	return append(out, planes("arm", c.arm)...)
}

func of(r *batch.Result) composed {
	c := composed{
		net: load{r.Net.Wrenches(nil), r.Net.COP, r.Net.Free},
		com: r.COM, moment: r.Moment, arm: r.Arm,
	}
	for _, l := range r.Plates {
		c.plates = append(c.plates, load{l.Wrenches(nil), l.COP, l.Free})
	}
	return c
}

// same compares all series: NaN in the same places, and to within 1e-12 of the
// largest value of the series, which is what a filter can promise: a rounding of
// one sample reaches all later ones.
func same(t *testing.T, got, want composed) {
	t.Helper()
	g, w := got.rows(), want.rows()
	if len(g) != len(w) {
		t.Fatalf("%d series, want %d", len(g), len(w))
	}
	for k := range w {
		if len(g[k].values) != len(w[k].values) {
			t.Fatalf("%s: %d samples, want %d", w[k].name, len(g[k].values), len(w[k].values))
		}
		largest, worst := 0.0, 0.0
		for i, want := range w[k].values {
			got := g[k].values[i]
			if math.IsNaN(got) != math.IsNaN(want) {
				t.Errorf("%s[%d] = %g, want %g", w[k].name, i, got, want)
				break
			}
			if !math.IsNaN(want) {
				largest, worst = max(largest, math.Abs(want)), max(worst, math.Abs(got-want))
			}
		}
		if worst > 1e-12*largest {
			t.Errorf("%s is off by %.2g of its largest value %g", w[k].name, worst/largest, largest)
		}
	}
}

// sameExtremes compares the extremes and crossings of r with those of want.
func sameExtremes(t *testing.T, r *batch.Result, want composed) {
	t.Helper()
	check := func(name string, got batch.Extremes, values []float64) {
		t.Helper()
		e := batch.Extremes{Min: math.NaN(), Max: math.NaN(), MinAt: -1, MaxAt: -1}
		for i, v := range values {
			if !math.IsNaN(v) && !(v >= e.Min) {
				e.Min, e.MinAt = v, i
			}
			if !math.IsNaN(v) && !(v <= e.Max) {
				e.Max, e.MaxAt = v, i
			}
		}
		if got.MinAt != e.MinAt || got.MaxAt != e.MaxAt {
			t.Errorf("%s: extremes at %d and %d, want %d and %d", name, got.MinAt, got.MaxAt, e.MinAt, e.MaxAt)
		}
		if off(got.Min, e.Min) || off(got.Max, e.Max) {
			t.Errorf("%s: extremes %g and %g, want %g and %g", name, got.Min, got.Max, e.Min, e.Max)
		}
	}
	for i, l := range want.plates {
		z := l.rows("")[2].values
		check(fmt.Sprintf("vertical force of plate %d", i), r.Plates[i].Vertical, z)
		crossings(t, r.Plates[i].Crossings, z)
	}
	net := want.net.rows("net")
	check("net vertical force", r.Net.Vertical, net[2].values)
	crossings(t, r.Net.Crossings, net[2].values)
	moment, arm := planes("moment", want.moment), planes("arm", want.arm)
	for k := range 3 {
		check(net[k].name, r.ForceExtremes[k], net[k].values)
		check(moment[k].name, r.MomentExtremes[k], moment[k].values)
		check(arm[k].name, r.ArmExtremes[k], arm[k].values)
	}
	check(net[6].name, r.PressureExtremes[0], net[6].values)
	check(net[7].name, r.PressureExtremes[1], net[7].values)
	check(net[9].name, r.PressureExtremes[2], net[9].values)
}

func off(a, b float64) bool {
	return math.IsNaN(a) != math.IsNaN(b) || math.Abs(a-b) > 1e-11*math.Abs(b)
}

func crossings(t *testing.T, got []int, z []float64) {
	t.Helper()
	var want []int
	for i := 1; i < len(z); i++ {
		if (z[i] >= cop.DefaultMinVertical) != (z[i-1] >= cop.DefaultMinVertical) {
			want = append(want, i)
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("crossings at %v, want %v", got, want)
	}
}

func run(t testing.TB, c *batch.Chain, in batch.Input) *batch.Result {
	t.Helper()
	var r batch.Result
	if err := c.Run(&r, in); err != nil {
		t.Fatal(err)
	}
	return &r
}

// The chain is the packages below, one after the other, whatever the length.
func TestSameAsComposed(t *testing.T) {
	axes, plates := lab(t), twoPlates(t)
	for _, n := range []int{16, 63, 64, 65, 511, 512, 513, 5000, 20000} {
		c, in := rig(t, n, uint64(n))
		r := run(t, c, in)
		want := compose(t, plates, axes, scipyFilter(t), in, integrated(in.Start, com.StandardGravity))
		same(t, of(r), want)
		sameExtremes(t, r, want)
		if n == 5000 && (len(r.Plates[0].Crossings) == 0 || len(r.Plates[1].Crossings) == 0) {
			t.Error("the made-up golfer never lifts a foot: the test says nothing about thresholds")
		}
		if r.Start != in.Start {
			t.Errorf("start %+v, want %+v", r.Start, in.Start)
		}
	}
}

// A path that is known is taken as it is.
func TestGivenPath(t *testing.T) {
	axes, plates := lab(t), twoPlates(t)
	c, in := rig(t, 3000, 5)
	in.Start = batch.Start{}
	for i := range 3000 {
		in.COM = append(in.COM, r3.Vec{X: 0.02 * math.Sin(float64(i)/300), Y: 0.05 * math.Cos(float64(i)/500), Z: 0.9})
	}
	in.COM[700].Y = math.NaN()
	in.COM[800] = r3.Vec{X: math.NaN(), Y: math.NaN(), Z: math.NaN()}
	r := run(t, c, in)
	want := compose(t, plates, axes, scipyFilter(t), in, func([]grf.Wrench) []r3.Vec { return in.COM })
	same(t, of(r), want)
	sameExtremes(t, r, want)

	again := in
	again.COM = r.COM // its own memory
	if err := c.Run(r, again); err != nil {
		t.Fatal(err)
	}
	same(t, of(r), want)
}

// Without a way to the centre of mass it is NaN with all that needs it, and the
// rest is there.
func TestUnknownMass(t *testing.T) {
	axes, plates := lab(t), twoPlates(t)
	c, in := rig(t, 1000, 6)
	in.Start = batch.Start{}
	r := run(t, c, in)
	want := compose(t, plates, axes, scipyFilter(t), in, func(net []grf.Wrench) []r3.Vec {
		n := math.NaN()
		return slices.Repeat([]r3.Vec{{X: n, Y: n, Z: n}}, len(net))
	})
	same(t, of(r), want)
	sameExtremes(t, r, want)
	if e := r.MomentExtremes[0]; !math.IsNaN(e.Max) || e.MaxAt != -1 {
		t.Errorf("extremes of nothing: %+v", e)
	}
}

// A rest gives the path that package com finds between a quiet stance and the
// end, when it is told that there is no other.
func TestRestSameAsFromForces(t *testing.T) {
	axes, plates := lab(t), twoPlates(t)
	c, in := rig(t, 5000, 8)
	for _, rest := range []com.Window{{From: 0, To: 0.5}, {From: 0.3, To: 0.9}, {From: 2.0004, To: 2.6}} {
		in.Start, in.Rest, in.Height = batch.Start{}, rest, 0.93
		r := run(t, c, in)
		want := compose(t, plates, axes, scipyFilter(t), in, func(net []grf.Wrench) []r3.Vec {
			path, err := com.FromForces(net, 0, rate, com.ForceOptions{Quiet: rest, Still: com.Window{From: math.NaN()}, Height: 0.93})
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(path.Mass-r.Start.Mass) > 1e-12*path.Mass {
				t.Errorf("mass %g, want %g", r.Start.Mass, path.Mass)
			}
			if d := r3.Norm(r3.Sub(path.Velocity[0], r.Start.Velocity)); d > 1e-12 {
				t.Errorf("first velocity is off by %g m/s", d)
			}
			return path.Position
		})
		same(t, of(r), want)
		sameExtremes(t, r, want)

		// The start that it found leads to the same when it is given.
		given := in
		given.Rest, given.Height, given.Start = com.Window{}, 0, r.Start
		same(t, of(run(t, c, given)), of(r))
	}
}

// Plates of all types, alone and together, with the default filter.
func TestPlateTypes(t *testing.T) {
	axes := lab(t)
	corner := func(x, y float64) r3.Vec { return r3.Vec{X: 1 + x, Y: 2 + y} }
	corners := [4]r3.Vec{corner(0.25, -0.3), corner(-0.25, -0.3), corner(-0.25, 0.3), corner(0.25, 0.3)}
	matrix := func(rows, n int) [][]float64 {
		var m [][]float64
		for i := range rows {
			row := make([]float64, n)
			for j := range row {
				row[j] = math.Sin(float64(1 + i*n + j + i*j))
			}
			row[i%n] += 5
			m = append(m, row)
		}
		return m
	}
	moment := plate(t, grf.PlateConfig{Type: grf.TypeMoment, Corners: corners, Origin: r3.Vec{Z: -0.04}, Sense: grf.Reaction})
	eight := plate(t, grf.PlateConfig{Type: grf.TypeEight, Corners: corners, Origin: r3.Vec{X: 0.2, Y: 0.25, Z: -0.04}, Sense: grf.Action})
	sixByEight := plate(t, grf.PlateConfig{Type: grf.TypeEightToMoment, Corners: corners, Origin: r3.Vec{Z: -0.04}, Calibration: matrix(6, 8), Sense: grf.Reaction})
	twelve := plate(t, grf.PlateConfig{Type: grf.TypeTwelve, Corners: corners, Origin: r3.Vec{X: 0.2, Y: 0.25, Z: -0.04}, Calibration: matrix(12, 12), Sense: grf.Action})
	point := plate(t, grf.PlateConfig{Type: grf.TypePoint, Corners: corners, Sense: grf.Reaction})
	corrected := plate(t, grf.PlateConfig{Type: grf.TypeMoment, Corners: corners, Origin: r3.Vec{Z: -0.04}, Sense: grf.Action,
		PointCorrection: &[12]float64{1e-16, -1e-11, 2e-7, 1e-12, -1e-7, 0.01, 1e-16, 1e-11, -2e-7, 1e-12, 1e-7, -0.01}})
	z, err := filter.NewZeroPhase(filter.ZeroPhaseOptions{Cutoff: 50, Rate: rate})
	if err != nil {
		t.Fatal(err)
	}
	for name, plates := range map[string][]*grf.Plate{
		"moment": {moment}, "eight": {eight}, "6×8": {sixByEight}, "12×12": {twelve}, "point": {point}, "corrected": {corrected},
		"all": {moment, eight, sixByEight, twelve, point, corrected},
	} {
		t.Run(name, func(t *testing.T) {
			c := chain(t, batch.Config{Rate: rate, Plates: plates, Axes: axes})
			in := batch.Input{Zero: zeros(c.Channels()), Start: batch.Start{Mass: 70, Position: r3.Vec{Z: 1}}}
			for j := range c.Channels() {
				s := make([]float64, 700)
				for i := range s {
					s[i] = 100*math.Sin(float64(j)+float64(i)/float64(40+j)) + 10*math.Sin(float64(i*(7+j)))
				}
				in.Channels = append(in.Channels, s)
			}
			at := 0
			for _, p := range plates { // a baseline that says that there is none
				if p.Type() == grf.TypePoint {
					in.Zero[at+3], in.Zero[at+4] = 0, 0
				}
				at += p.Channels()
			}
			r := run(t, c, in)
			want := compose(t, plates, axes, z, in, integrated(in.Start, com.StandardGravity))
			same(t, of(r), want)
			sameExtremes(t, r, want)
			in.Zero = nil
			r = run(t, c, in)
			want = compose(t, plates, axes, z, in, integrated(in.Start, com.StandardGravity))
			same(t, of(r), want)
			sameExtremes(t, r, want)
		})
	}
}
