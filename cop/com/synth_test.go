package com_test

import (
	"math"
	"math/rand"
	"testing"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/validation/synth"
	"gonum.org/v1/gonum/spatial/r3"
)

// made is a made-up swing at 250 Hz, to save time.
type made struct {
	net      []grf.Wrench
	position []r3.Vec
	swing    *synth.Swing
	impact   int // sample
}

const madeRate = 250

// swingCache keeps the swings for the tests of this file.
var swingCache []made

func makeSwing(t *testing.T, i int) made {
	t.Helper()
	if i < len(swingCache) {
		return swingCache[i]
	}
	s, err := synth.New(synth.Config{Individual: uint64(i + 1), Mass: 55 + float64(i%40), Stature: 1.6 + 0.01*float64(i%37), Rate: madeRate})
	if err != nil {
		t.Fatal(err)
	}
	m := made{swing: s, impact: int(s.EventTime("impact") * madeRate)}
	for i := range int(s.End()*madeRate) + 1 {
		x := s.At(float64(i) / madeRate)
		m.net, m.position = append(m.net, x.Net), append(m.position, x.Position)
	}
	if i == len(swingCache) {
		swingCache = append(swingCache, m)
	}
	return m
}

func normal(rnd *rand.Rand, sd float64) r3.Vec {
	return r3.Vec{X: sd * rnd.NormFloat64(), Y: sd * rnd.NormFloat64(), Z: sd * rnd.NormFloat64()}
}

// measured returns the swing as plates would: white noise of 2 N, a bias of 1 N
// (standard deviation), a vertical gain that is 0.3 % out, which makes the mass
// wrong by as much, and a centre of pressure that is off by copSD.
func (m *made) measured(rnd *rand.Rand, copSD float64) []grf.Wrench {
	bias, gain := normal(rnd, 1), 1+0.003*rnd.NormFloat64()
	address, finish := normal(rnd, copSD), normal(rnd, copSD)
	address.Z, finish.Z = 0, 0
	out := make([]grf.Wrench, len(m.net))
	for i, w := range m.net {
		off := address
		if i > m.impact {
			off = finish
		}
		w.Moment = r3.Add(w.Moment, r3.Cross(off, w.Force))
		w.Force = r3.Add(w.Force, r3.Add(bias, normal(rnd, 2)))
		w.Force.Z *= gain
		w.Moment.X *= gain
		w.Moment.Y *= gain
		out[i] = w
	}
	return out
}

// coverage counts how often a true error lies within 1.96 standard deviations.
type coverage struct {
	inside, all int
	square      float64 // of the horizontal error, m²
	samples     int
}

func (c *coverage) add(m *made, p *com.Path) {
	for i := 0; i <= m.impact; i += 5 {
		e, sd := r3.Sub(p.Position[i], m.position[i]), p.PositionSD[i]
		for _, v := range [][2]float64{{e.X, sd.X}, {e.Y, sd.Y}, {e.Z, sd.Z}} {
			c.all++
			if math.Abs(v[0]) <= 1.96*v[1] {
				c.inside++
			}
		}
		c.square += e.X*e.X + e.Y*e.Y
		c.samples++
	}
}

func (c *coverage) rms() float64  { return math.Sqrt(c.square / float64(c.samples)) }
func (c *coverage) part() float64 { return float64(c.inside) / float64(c.all) }

func swings(t *testing.T) int {
	if testing.Short() {
		return 20
	}
	return 200
}

// Clean forces of made-up swings give the centre of mass back to within 5 mm.
func TestMadeSwingsClean(t *testing.T) {
	for style := synth.Balanced; style <= synth.HangBack; style++ {
		s, err := synth.New(synth.Config{Style: style, Waggles: int(style) % 3})
		if err != nil {
			t.Fatal(err)
		}
		var net []grf.Wrench
		for i := range int(s.End()*1000) + 1 {
			net = append(net, s.At(float64(i)/1000).Net)
		}
		height := s.At(s.EventTime("address")).Position.Z
		p, err := com.FromForces(net, 0, 1000, com.ForceOptions{Height: height})
		if err != nil {
			t.Fatal(err)
		}
		q, err := com.Smooth(net, 0, 1000, com.Options{Height: height})
		if err != nil {
			t.Fatal(err)
		}
		far, farther := 0.0, 0.0
		for i := range net {
			truth := s.At(float64(i) / 1000).Position
			far = max(far, r3.Norm(r3.Sub(p.Position[i], truth)))
			farther = max(farther, r3.Norm(r3.Sub(q.Position[i], truth)))
		}
		t.Logf("%v: integrated %.2f mm, smoothed %.2f mm", style, 1000*far, 1000*farther)
		if !(far <= 0.005 && farther <= 0.005) {
			t.Errorf("%v: integrated %.1f mm off, smoothed %.1f mm, want at most 5", style, 1000*far, 1000*farther)
		}
	}
}

// Forces alone.
func TestMadeSwingsForcesAlone(t *testing.T) {
	rnd := rand.New(rand.NewSource(31))
	var usual, matched coverage
	for i := range swings(t) {
		m := makeSwing(t, i)
		net := m.measured(rnd, 0.003)
		height := m.position[0].Z + 0.02*rnd.NormFloat64()
		p, err := com.Smooth(net, 0, madeRate, com.Options{Height: height})
		if err != nil {
			t.Fatal(err)
		}
		usual.add(&m, p)
		// The made-up golfer stands perfectly still: say so.
		still := com.Stillness{Over: 0.003, Speed: 0.001}
		p, err = com.Smooth(net, 0, madeRate, com.Options{Height: height, HeightSD: 0.02, QuietSD: still, StillSD: still,
			Noise: com.Noise{BiasSD: 1, BiasWalk: math.NaN()}})
		if err != nil {
			t.Fatal(err)
		}
		matched.add(&m, p)
	}
	t.Logf("defaults: RMS horizontal error %.1f mm, %.1f %% covered; golfer's own figures: %.1f mm, %.1f %%",
		1000*usual.rms(), 100*usual.part(), 1000*matched.rms(), 100*matched.part())
	for _, c := range []coverage{usual, matched} {
		if !(c.rms() <= 0.010) {
			t.Errorf("RMS horizontal error %g m, want at most 10 mm", c.rms())
		}
	}
	if c := matched.part(); c < 0.90 || c > 0.99 {
		t.Errorf("%.1f %% of true errors within 1.96 SD, want 90 to 99 %%", 100*c)
	}
	if c := usual.part(); c < 0.90 {
		t.Errorf("with defaults only %.1f %% of true errors within 1.96 SD", 100*c)
	}
}

// Forces and a camera of 60 Hz that is late by an unknown 15 ms.
func TestMadeSwingsWithCamera(t *testing.T) {
	for _, sd := range []float64{0.020, 0.005} {
		rnd := rand.New(rand.NewSource(32))
		var c coverage
		near, inside, worst := 0, 0, 0.0
		n := swings(t)
		for i := range n {
			m := makeSwing(t, i)
			net := m.measured(rnd, 0.003)
			var track grf.Track
			for k := 0; float64(k)/60 < m.swing.End(); k++ {
				at := float64(k) / 60
				track.Time = append(track.Time, at+0.015)
				track.Position = append(track.Position, r3.Add(m.swing.At(at).Position, normal(rnd, sd)))
			}
			track.SD = r3.Vec{X: sd, Y: sd, Z: sd}
			p, err := com.Smooth(net, 0, madeRate, com.Options{Sources: []com.Source{{Name: "camera", Track: track, SeekDelay: 0.1}}})
			if err != nil {
				t.Fatal(err)
			}
			c.add(&m, p)
			one := coverage{}
			one.add(&m, p)
			worst = max(worst, one.rms())
			e := math.Abs(p.Clocks[0].Delay - 0.015)
			if e < 0.004 {
				near++
			}
			if e < 1.96*p.Clocks[0].DelaySD {
				inside++
			}
		}
		within, covered := float64(near)/float64(n), float64(inside)/float64(n)
		t.Logf("noise %g m: RMS horizontal error %.1f mm (worst swing %.1f), %.1f %% covered; delay within 4 ms in %.1f %%, covered %.1f %%",
			sd, 1000*c.rms(), 1000*worst, 100*c.part(), 100*within, 100*covered)
		if !(c.rms() <= 0.006) {
			t.Errorf("noise %g m: RMS horizontal error %g m, want at most 6 mm", sd, c.rms())
		}
		if covered < 0.90 || covered > 0.99 && !testing.Short() {
			t.Errorf("noise %g m: %.1f %% of delays within 1.96 SD, want 90 to 99 %%", sd, 100*covered)
		}
		if sd == 0.005 && within < 0.93 {
			// 95 % is what the noise allows for these movements: the standard
			// deviation of the best possible estimate is 2 ms. 200 swings tell it
			// to within 1.5 %.
			t.Errorf("noise %g m: delay within 4 ms in %.1f %%, want about 95 %%", sd, 100*within)
		}
	}
}
