package com

import (
	"errors"
	"math"
	"math/rand"
	"strings"
	"testing"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// Each fault that is put into a good recording is found and named, and a good
// recording has none.
func TestCheckQuality(t *testing.T) {
	stance := []r3.Vec{{X: -0.3, Y: -0.4}, {X: 0.3, Y: -0.4}, {X: 0.3, Y: 0.4}, {X: -0.3, Y: 0.4}, {}}
	for _, c := range []struct {
		name  string
		force func(t float64, w grf.Wrench) grf.Wrench
		track func(t float64, p r3.Vec) r3.Vec
		opt   func(*Options)
		code  string
		words string
	}{
		{name: "good"},
		{name: "not zeroed", code: "horizontal-at-rest", force: func(_ float64, w grf.Wrench) grf.Wrench {
			w.Force.Y += 9
			return w
		}},
		{name: "wrong mass stated", code: "mass-mismatch", opt: func(o *Options) { o.Mass = 85 }},
		{name: "a hand on something", code: "impulse", force: func(t float64, w grf.Wrench) grf.Wrench {
			if t > 1.5 && t < 2 {
				w.Force.Z -= 40
			}
			return w
		}},
		{name: "moments in another unit", code: "cop-outside-stance", force: func(_ float64, w grf.Wrench) grf.Wrench {
			w.Moment = r3.Scale(10, w.Moment)
			return w
		}},
		{name: "plate drifts", code: "newton-bias", words: "drift", force: func(t float64, w grf.Wrench) grf.Wrench {
			if t > 0.5 {
				w.Force.X += 25
			}
			return w
		}},
		{name: "positions in another scale", code: "newton-mass", words: "scale", track: func(_ float64, p r3.Vec) r3.Vec {
			return r3.Scale(1.1, p)
		}},
		{name: "not synchronised", code: "newton-residual", words: "clock", track: nil, opt: func(o *Options) {
			o.Sources[0].Clock.Delay = -0.08
		}},
		{name: "axes exchanged", code: "newton-residual", words: "x and y exchanged", track: func(_ float64, p r3.Vec) r3.Vec {
			return r3.Vec{X: p.Y, Y: p.X, Z: p.Z}
		}},
		{name: "axis reversed", code: "newton-residual", words: "with y reversed", track: func(_ float64, p r3.Vec) r3.Vec {
			p.Y = -p.Y
			return p
		}},
		{name: "markers wobble", code: "newton-residual", words: "markers that move", track: func(t float64, p r3.Vec) r3.Vec {
			p.X += 0.02 * math.Sin(40*t)
			return p
		}},
	} {
		rnd := rand.New(rand.NewSource(20))
		m := demo()
		net := noisy(rnd, m, 1000, 3600, 1)
		if c.force != nil {
			for i := range net {
				net[i] = c.force(float64(i)/1000, net[i])
			}
		}
		track := tracked(rnd, m, 0, 3.5, 100, 0.003, 0)
		if c.track != nil {
			for i := range track.Position {
				track.Position[i] = c.track(track.Time[i], track.Position[i])
			}
		}
		opt := Options{Height: 0.93, Mass: m.mass, Quiet: Window{0, 0.9}, Still: Window{2.6, 3.4}, Sources: []Source{{Name: "camera", Track: track}}}
		if c.opt != nil {
			c.opt(&opt)
		}
		q, err := CheckQuality(net, 0, 1000, opt, stance)
		if err != nil {
			t.Fatal(err)
		}
		if c.code == "" {
			if len(q.Warnings) > 0 {
				t.Errorf("%s: %v", c.name, q.Warnings)
			}
			if math.Abs(q.Mass-m.mass) > 0.05 || largest(q.Impulse) > 2 || q.Outside != 0 || r3.Norm(q.HorizontalAtRest) > 0.5 {
				t.Errorf("%s: %+v", c.name, q)
			}
			if q.Newton[0].Chi2 > 1.2 {
				t.Errorf("%s: %+v", c.name, q.Newton[0])
			}
			continue
		}
		found := false
		for _, w := range q.Warnings {
			found = found || w.Code == c.code && strings.Contains(w.Text, c.words)
		}
		if !found {
			t.Errorf("%s: no warning %q with %q in %v", c.name, c.code, c.words, q.Warnings)
		}
	}
}

// What a fit says about its own bias and mass is as sure as it claims, and the
// combination that holds at rest much surer than either: 200 noisy tracks of one
// movement whose bias and mass error are known.
func TestMotionFitSD(t *testing.T) {
	rnd := rand.New(rand.NewSource(22))
	m := demo()
	net := m.wrenches(0, 200, 720)
	for i := range net {
		net[i].Force = r3.Sub(net[i].Force, r3.Vec{X: 8, Z: -6})
	}
	var bias, resting, mass float64
	n := 200
	if testing.Short() {
		n = 60
	}
	var last *MotionFit
	for range n {
		track := tracked(rnd, m, 0, 3.5, 100, 0.003, 0)
		fit, err := FitMotion(net, 0, 200, Source{Track: track}, MotionOptions{Mass: m.mass, Noise: Noise{BiasSD: 1000, MassSD: 0.5}})
		if err != nil {
			t.Fatal(err)
		}
		sq := func(v, want, sd float64) float64 { return (v - want) / sd * (v - want) / sd }
		bias += sq(fit.Bias.X, 8, fit.BiasSD.X)
		resting += sq(fit.Resting.Z, -6, fit.RestingSD.Z)
		mass += sq(fit.MassError.Z, 0, fit.MassErrorSD.Z)
		last = fit
	}
	// Chi-squared over n: its standard deviation is √(2/n).
	slack := 4 * math.Sqrt(2/float64(n))
	for name, v := range map[string]float64{"bias": bias, "resting": resting, "mass": mass} {
		if v /= float64(n); math.Abs(v-1) > slack {
			t.Errorf("%s: mean squared error is %.2f times what is stated, want 1 ± %.2f", name, v, slack)
		}
	}
	if !(last.RestingSD.Z < last.BiasSD.Z/3) {
		t.Errorf("at rest ± %g N, bias ± %g N", last.RestingSD.Z, last.BiasSD.Z)
	}
}

func TestCheckQualityErrors(t *testing.T) {
	m := demo()
	net := m.wrenches(0, 500, 1800)
	moving := m.wrenches(1.2, 500, 400)
	rnd := rand.New(rand.NewSource(21))
	src := []Source{{Track: tracked(rnd, m, 0, 3, 50, 0.01, 0)}}
	nan := math.NaN()
	for _, c := range []struct {
		net  []grf.Wrench
		opt  Options
		want error
	}{
		{nil, Options{}, grf.ErrNoData},
		{net, Options{Quiet: Window{9, 10}}, grf.ErrWindow},
		{net, Options{Still: Window{9, 10}}, grf.ErrWindow},
		{net, Options{Sources: []Source{{}}}, ErrTrack},
		{moving, Options{Sources: src}, grf.ErrNoQuiet},
	} {
		if _, err := CheckQuality(c.net, 0, 500, c.opt, nil); !errors.Is(err, c.want) {
			t.Errorf("%v, want %v", err, c.want)
		}
	}
	// Without stillness, outline and sources there is nothing to say.
	q, err := CheckQuality(moving, 0, 500, Options{}, []r3.Vec{{}, {}, {}})
	if err != nil || finite(q.Impulse) || finite(q.HorizontalAtRest) || !math.IsNaN(q.Mass) || !math.IsNaN(q.Outside) {
		t.Errorf("%+v %v", q, err)
	}
	far := src[0]
	far.Clock.Delay = 50
	q, err = CheckQuality(net, 0, 500, Options{Still: Window{From: nan}, Sources: []Source{far}}, nil)
	if err != nil || q.Newton[0] != nil || !hasCode(q.Warnings, "source-outside") {
		t.Errorf("%+v %v", q, err)
	}
	q, err = CheckQuality(make([]grf.Wrench, 10), 0, 500, Options{}, []r3.Vec{{}, {X: 1}, {Y: 1}})
	if err != nil || !math.IsNaN(q.Farthest) {
		t.Errorf("unloaded: %+v %v", q, err)
	}
}

func TestConvexHull(t *testing.T) {
	hull := convexHull([]r3.Vec{{X: 1}, {Y: 1}, {}, {X: 1, Y: 1}, {X: 0.5, Y: 0.5}, {X: 0.5}, {X: 1}, nan3()})
	if len(hull) != 4 {
		t.Fatalf("hull %v, want the 4 corners of a square", hull)
	}
	for _, c := range []struct {
		p    r3.Vec
		want float64
	}{
		{r3.Vec{X: 0.5, Y: 0.5}, 0}, {r3.Vec{X: 2, Y: 0.5}, 1}, {r3.Vec{X: 4, Y: 5}, 5}, {r3.Vec{X: 0.5, Y: -0.25}, 0.25}, {r3.Vec{X: 1, Y: 0.3}, 0},
	} {
		if d := beyond(hull, c.p); math.Abs(d-c.want) > 1e-12 {
			t.Errorf("%v lies %g outside, want %g", c.p, d, c.want)
		}
	}
	if h := convexHull(nil); len(h) != 0 {
		t.Errorf("hull of nothing: %v", h)
	}
}
