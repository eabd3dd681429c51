package com

import (
	"math"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// Path is the way of the centre of mass in swing axes, sampled on a force
// clock: sample i belongs to Start + i/Rate. Samples about which nothing is
// known are NaN.
type Path struct {
	Start, Rate float64 // s, Hz

	Position []r3.Vec // m
	Velocity []r3.Vec // m/s

	// Standard deviation of each component, m and m/s; nil when unknown. The
	// errors of different axes are independent of each other; those of
	// neighbouring samples are nearly the same error.
	PositionSD, VelocitySD []r3.Vec

	// ShiftSD is the standard deviation of each component of Position −
	// Position[ShiftFrom], m, which is less than two positions together have:
	// ShiftFrom is the last sample of the quiet stance. nil when unknown.
	ShiftSD   []r3.Vec
	ShiftFrom int

	// Method says in words how the path was found.
	Method string

	// Mass that turned force into acceleration, kg, and its standard deviation;
	// 0 when forces were not used, or unknown.
	Mass, MassSD float64
	// Bias is the error of the net force that was found, at the end of the
	// path, N: what it is short of. Zero when it was not sought.
	Bias, BiasSD r3.Vec

	// Clocks say how the times of each source were read, in their order.
	Clocks []Clock

	Warnings []grf.Warning
}

// Len returns the number of samples.
func (p *Path) Len() int { return len(p.Position) }

// Time returns the instant of sample i, s.
func (p *Path) Time(i int) float64 { return p.Start + float64(i)/p.Rate }

// At returns position and velocity at an instant between samples: the cubic
// that has the sampled positions and velocities at both neighbours. It returns
// NaN outside the path and next to undefined samples.
func (p *Path) At(t float64) (position, velocity r3.Vec) {
	s := (t - p.Start) * p.Rate
	n := p.Len()
	if math.IsNaN(s) || s < 0 || s > float64(n-1) {
		return nan3(), nan3()
	}
	i := int(s)
	u := s - float64(i)
	if u == 0 {
		return p.Position[i], p.Velocity[i]
	}
	h := 1 / p.Rate
	p0, p1 := p.Position[i], p.Position[i+1]
	v0, v1 := r3.Scale(h, p.Velocity[i]), r3.Scale(h, p.Velocity[i+1])
	d := r3.Sub(p1, p0)
	// p0 + u v0 + u² c2 + u³ c3, the cubic Hermite interpolant.
	c2 := r3.Sub(r3.Scale(3, d), r3.Add(r3.Scale(2, v0), v1))
	c3 := r3.Add(r3.Scale(-2, d), r3.Add(v0, v1))
	position = r3.Add(p0, r3.Scale(u, r3.Add(v0, r3.Scale(u, r3.Add(c2, r3.Scale(u, c3))))))
	velocity = r3.Add(v0, r3.Scale(u, r3.Add(r3.Scale(2, c2), r3.Scale(3*u, c3))))
	return position, r3.Scale(p.Rate, velocity)
}

// Window is a stretch of time on the clock of the forces, s. The zero Window
// means 'find one'; a window whose From is NaN means 'there is none'.
type Window struct{ From, To float64 }

func (w Window) given() bool { return w != Window{} && !math.IsNaN(w.From) }
func (w Window) none() bool  { return math.IsNaN(w.From) }

// samples returns the samples inside w as a half-open range, held inside n.
func (w Window) samples(start, rate float64, n int) (lo, hi int) {
	// A window that names the instant of a sample includes it.
	const slack = 1e-6
	lo = count(math.Ceil((w.From-start)*rate - slack))
	hi = count(math.Floor((w.To-start)*rate+slack) + 1)
	return lo, min(hi, n)
}

// count returns a number of samples as an int, 0 when it is negative or NaN,
// and no more than a billion, so that no caller can make it overflow.
func count(samples float64) int {
	if !(samples > 0) {
		return 0
	}
	return int(min(samples, 1e9))
}

func nan3() r3.Vec {
	n := math.NaN()
	return r3.Vec{X: n, Y: n, Z: n}
}

func finite(v r3.Vec) bool {
	s := v.X + v.Y + v.Z
	return !math.IsNaN(s) && !math.IsInf(s, 0)
}
