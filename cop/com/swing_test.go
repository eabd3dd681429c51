package com

import (
	"math"
	"math/rand"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// motion is a made-up movement in closed form: still at first, a sum of smooth
// moves from one place to another, then still again.
type motion struct {
	mass, gravity float64
	home          r3.Vec
	moves         []move
	drift         r3.Vec // m/s, a constant velocity on top: sway
}

// move shifts by d from t0 to t1 along 35u⁴ − 84u⁵ + 70u⁶ − 20u⁷, whose first
// three derivatives vanish at both ends.
type move struct {
	t0, t1 float64
	d      r3.Vec
}

func (m motion) at(t float64) (p, v, a r3.Vec) {
	p, v = r3.Add(m.home, r3.Scale(t, m.drift)), m.drift
	for _, k := range m.moves {
		w := k.t1 - k.t0
		u := (t - k.t0) / w
		switch {
		case u <= 0:
		case u >= 1:
			p = r3.Add(p, k.d)
		default:
			u3 := u * u * u
			p = r3.Add(p, r3.Scale(u3*u*(35+u*(-84+u*(70-20*u))), k.d))
			v = r3.Add(v, r3.Scale(u3*(140+u*(-420+u*(420-140*u)))/w, k.d))
			a = r3.Add(a, r3.Scale(u*u*(420+u*(-1680+u*(2100-840*u)))/(w*w), k.d))
		}
	}
	return p, v, a
}

// wrench is the ground reaction at t: its line of action passes the centre of
// mass, so that standing still the centre of pressure lies below it.
func (m motion) wrench(t float64) grf.Wrench {
	p, _, a := m.at(t)
	f := r3.Scale(m.mass, r3.Add(a, r3.Vec{Z: m.gravity}))
	return grf.At(f, p, r3.Vec{})
}

func (m motion) wrenches(start, rate float64, n int) []grf.Wrench {
	ws := make([]grf.Wrench, n)
	for i := range ws {
		ws[i] = m.wrench(start + float64(i)/rate)
	}
	return ws
}

// demo is a movement of about a swing's size and speed: 1 s of address, some
// 1.3 s of movement with peak forces of 0.4 body weights, 1.2 s of finish.
func demo() motion {
	return motion{mass: 78, gravity: StandardGravity, home: r3.Vec{X: -0.05, Y: 0.01, Z: 0.93}, moves: []move{
		{1.0, 1.8, r3.Vec{X: -0.01, Y: -0.05, Z: 0.01}},
		{1.7, 2.15, r3.Vec{X: 0.02, Y: 0.09, Z: -0.04}},
		{1.95, 2.35, r3.Vec{X: -0.03, Y: 0.04, Z: 0.08}},
	}}
}

// random returns a movement like demo's with other figures.
func random(rnd *rand.Rand) motion {
	m := demo()
	m.mass = 55 + 50*rnd.Float64()
	for i := range m.moves {
		k := &m.moves[i]
		s := 0.7 + 0.6*rnd.Float64()
		k.d = r3.Add(r3.Scale(s, k.d), r3.Vec{X: 0.01 * rnd.NormFloat64(), Y: 0.01 * rnd.NormFloat64(), Z: 0.01 * rnd.NormFloat64()})
		k.t0 += 0.05 * (rnd.Float64() - 0.5)
		k.t1 += 0.05 * (rnd.Float64() - 0.5)
	}
	m.moves[0].t0 = math.Max(m.moves[0].t0, 1)
	return m
}

// farthest is the largest distance between a path and a motion from t0 to t1.
func farthest(p *Path, m motion, t0, t1 float64) float64 {
	far := 0.0
	for i, q := range p.Position {
		if t := p.Time(i); t >= t0 && t <= t1 {
			truth, _, _ := m.at(t)
			if d := r3.Norm(r3.Sub(q, truth)); !(d <= far) {
				far = d
			}
		}
	}
	return far
}

func hasCode(ws []grf.Warning, code string) bool {
	for _, w := range ws {
		if w.Code == code {
			return true
		}
	}
	return false
}
