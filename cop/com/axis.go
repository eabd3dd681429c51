package com

import "math"

// axis is what is known of the motion along one axis: the state
//
//	x = (position m, velocity m/s, bias m/s², mass)
//
// and its covariance p. Bias is what the plates' force is short of, divided by
// the mass; mass is ε in 1/true mass = (1 + ε)/assumed mass. A state that is
// not in use has zeros in its row and column of p and never moves.
type axis struct {
	x [4]float64
	p covariance
}

// covariance is a symmetric matrix by its upper triangle, row by row:
//
//	0 1 2 3
//	  4 5 6
//	    7 8
//	      9
type covariance [10]float64

// variance returns the element i, i.
func (p *covariance) variance(i int) float64 { return p[i*(9-i)/2] }

// full returns both triangles.
func (p *covariance) full() [4][4]float64 {
	return [4][4]float64{
		{p[0], p[1], p[2], p[3]},
		{p[1], p[4], p[5], p[6]},
		{p[2], p[5], p[7], p[8]},
		{p[3], p[6], p[8], p[9]},
	}
}

// stride is the way of one axis from one instant to another. The force runs in a
// straight line from f0 to f1, so that, with m the assumed mass,
//
//	v₁ = v₀ + Δt (bias + g) + (1 + ε) Δt (f₀ + f₁)/2m
//	p₁ = p₀ + Δt v₀ + Δt²/2 (bias + g) + (1 + ε) Δt² (2f₀ + f₁)/6m
type stride struct {
	span
	f0, f1 float64 // N
	g      float64 // m/s², along this axis
	noise  float64 // variance of the acceleration, held over dt, (m/s²)²
}

// span is what the strides of all axes share.
type span struct {
	dt     float64    // s
	square float64    // dt²
	pb     float64    // dt²/2, the derivative of p₁ by the bias
	pp, pv float64    // pb², pb dt
	pf, vf float64    // dt²/6m, dt/2m
	walk   float64    // variance by which the bias grows, (m/s²)²
	noises [3]float64 // variance of the acceleration along each axis, held over dt, (m/s²)²
}

// byMass returns the derivatives of p₁ and v₁ by ε.
func (s *span) byMass(f0, f1 float64) (pm, vm float64) {
	return s.pf * (2*f0 + f1), s.vf * (f0 + f1)
}

// along sets m to Φ p, where Φ is the transition matrix of s.
func (s *stride) along(m, p *[4][4]float64) {
	pm, vm := s.byMass(s.f0, s.f1)
	for j := range 4 {
		m[0][j] = p[0][j] + s.dt*p[1][j] + s.pb*p[2][j] + pm*p[3][j]
		m[1][j] = p[1][j] + s.dt*p[2][j] + vm*p[3][j]
		m[2][j] = p[2][j]
		m[3][j] = p[3][j]
	}
}

// predict sets a to from, carried over a stride: x ← Φx + u, p ← ΦpΦᵀ + Q. The noise
// of the force enters position and velocity together, as (Δt²/2, Δt). a may be from.
func (a *axis) predict(from *axis, s *stride) { a.carry(from, &s.span, s.f0, s.f1, s.g, s.noise) }

// carry is predict for a stride of these values. It is written out because a live
// system does it with every sample. The force enters last, so that the rest does not
// wait for it.
func (a *axis) carry(from *axis, s *span, f0, f1, g, noise float64) {
	h, pb := s.dt, s.pb
	if h == 0 {
		*a = *from
		return
	}
	x, p, q := &from.x, &from.p, &a.p
	p01, p02, p12, p22, p33 := p[1], p[2], p[5], p[7], p[9]
	// Φp of all states but the mass, ΦpΦᵀ + Q of the same, and Φp of the mass.
	h12, h22 := h*p12, h*p22
	m00, m01, m02 := p[0]+h*p01+pb*p02, p01+h*p[4]+pb*p12, p02+h12+pb*p22
	m11, m12 := p[4]+h12, p12+h22
	q00, q01, q11 := m00+h*m01+pb*m02+s.pp*noise, m01+h*m02+s.pv*noise, m11+h*m12+s.square*noise
	m13 := p[6] + h*p[8]
	m03 := p[3] + h*p[6] + pb*p[8]
	p0, v0 := x[0]+h*x[1]+pb*(x[2]+g), x[1]+h*(x[2]+g)

	pm, vm := s.byMass(f0, f1)
	q03, q13 := m03+pm*p33, m13+vm*p33
	if p22 > 0 {
		p22 += s.walk
	}
	p23, scale, bias, mass := p[8], 1+x[3], x[2], x[3]
	// One by one: a whole array would take a detour.
	a.x[0], a.x[1], a.x[2], a.x[3] = p0+pm*scale, v0+vm*scale, bias, mass
	q[0], q[1], q[2], q[3] = q00+pm*(m03+q03), q01+(vm*q03+pm*m13), m02+pm*p23, q03
	q[4], q[5], q[6] = q11+vm*(m13+q13), m12+vm*p23, q13
	q[7], q[8], q[9] = p22, p23, p33
}

// correct takes in a measurement z of state i with variance r: K = p·h/(h·p·h + r).
func (a *axis) correct(i int, z, r float64) {
	k := a.p.full()[i]
	s := k[i] + r
	e := (z - a.x[i]) / s
	n := 0
	for j := range 4 {
		a.x[j] += k[j] * e
		for l := j; l < 4; l++ {
			a.p[n] -= k[j] * k[l] / s
			n++
		}
	}
}

// smooth turns the filtered a, from which s led to the smoothed state later,
// into a smoothed one (Rauch, Tung, Striebel 1965):
//
//	C = pΦᵀ(predicted p)⁻¹, x ← x + C (later x − predicted x), p ← p + C (later p − predicted p) Cᵀ
//
// It returns Cᵀ.
func (a *axis) smooth(s *stride, later *axis) (c gain1) {
	if s.dt == 0 {
		*a = *later
		return gain1{{1}, {0, 1}, {0, 0, 1}, {0, 0, 0, 1}}
	}
	var ahead axis
	ahead.predict(a, s)
	p, q := a.p.full(), ahead.p.full()
	s.along((*[4][4]float64)(&c), &p) // (predicted p) Cᵀ = Φp
	solve(&q, (*[4][4]float64)(&c))

	dp := later.p.full()
	var dx [4]float64
	var t [4][4]float64
	for i := range 4 {
		dx[i] = later.x[i] - ahead.x[i]
		for j := range 4 {
			dp[i][j] -= q[i][j]
		}
	}
	for i := range 4 {
		for k := range 4 {
			a.x[i] += c[k][i] * dx[k]
			for j := range 4 {
				t[i][j] += c[k][i] * dp[k][j]
			}
		}
	}
	n := 0
	for i := range 4 {
		for j := i; j < 4; j++ {
			for k := range 4 {
				a.p[n] += t[i][k] * c[k][j]
			}
			n++
		}
	}
	return c
}

// solve replaces b by a⁻¹b for a symmetric positive a whose rows of unused
// states are zero: there the solution is zero. It is Cholesky's a = LLᵀ.
func solve(a, b *[4][4]float64) {
	var l [4][4]float64
	for i := range 4 {
		for j := range i + 1 {
			s := a[i][j]
			for k := range j {
				s -= l[i][k] * l[j][k]
			}
			switch {
			case i == j && s > 0:
				l[i][i] = math.Sqrt(s)
			case i != j && l[j][j] > 0:
				l[i][j] = s / l[j][j]
			}
		}
	}
	for col := range 4 {
		for i := range 4 {
			s := b[i][col]
			for k := range i {
				s -= l[i][k] * b[k][col]
			}
			b[i][col] = quotient(s, l[i][i])
		}
		for i := 3; i >= 0; i-- {
			s := b[i][col]
			for k := i + 1; k < 4; k++ {
				s -= l[k][i] * b[k][col]
			}
			b[i][col] = quotient(s, l[i][i])
		}
	}
}

func quotient(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}
