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
	p [4][4]float64
}

// stride is the way of one axis from one instant to another. The specific
// force f = F/m runs in a straight line from f0 to f1, so that
//
//	v₁ = v₀ + Δt (bias + g) + (1 + ε) Δt (f₀ + f₁)/2
//	p₁ = p₀ + Δt v₀ + Δt²/2 (bias + g) + (1 + ε) Δt² (2f₀ + f₁)/6
type stride struct {
	dt     float64 // s
	f0, f1 float64 // m/s²
	g      float64 // m/s², along this axis
	noise  float64 // variance of the acceleration, held over dt, (m/s²)²
	walk   float64 // variance by which the bias grows, (m/s²)²
}

// partials returns the derivatives of p₁ and v₁ by the bias and by ε.
func (s *stride) partials() (pb, pm, vm float64) {
	return s.dt * s.dt / 2, s.dt * s.dt * (2*s.f0 + s.f1) / 6, s.dt * (s.f0 + s.f1) / 2
}

// along sets m to Φ p, where Φ is the transition matrix of s.
func (s *stride) along(m, p *[4][4]float64) {
	pb, pm, vm := s.partials()
	for j := range 4 {
		m[0][j] = p[0][j] + s.dt*p[1][j] + pb*p[2][j] + pm*p[3][j]
		m[1][j] = p[1][j] + s.dt*p[2][j] + vm*p[3][j]
		m[2][j] = p[2][j]
		m[3][j] = p[3][j]
	}
}

// predict carries a over a stride: x ← Φx + u, p ← ΦpΦᵀ + Q. The noise of the
// force enters position and velocity together, as (Δt²/2, Δt).
func (a *axis) predict(s *stride) {
	if s.dt == 0 {
		return
	}
	pb, pm, vm := s.partials()
	x := &a.x
	x[0] += s.dt*x[1] + pb*(x[2]+s.g) + pm*(1+x[3])
	x[1] += s.dt*(x[2]+s.g) + vm*(1+x[3])

	var m [4][4]float64
	s.along(&m, &a.p)
	p := &a.p
	for i := range 4 {
		p[i][0] = m[i][0] + s.dt*m[i][1] + pb*m[i][2] + pm*m[i][3]
		p[i][1] = m[i][1] + s.dt*m[i][2] + vm*m[i][3]
		p[i][2] = m[i][2]
		p[i][3] = m[i][3]
	}
	p[0][0] += pb * pb * s.noise
	p[0][1] += pb * s.dt * s.noise
	p[1][0] += pb * s.dt * s.noise
	p[1][1] += s.dt * s.dt * s.noise
	if p[2][2] > 0 {
		p[2][2] += s.walk
	}
}

// correct takes in a measurement z of state i with variance r: K = p·h/(h·p·h + r).
func (a *axis) correct(i int, z, r float64) {
	k := a.p[i]
	s := k[i] + r
	e := (z - a.x[i]) / s
	for j := range 4 {
		a.x[j] += k[j] * e
		for l := range 4 {
			a.p[j][l] -= k[j] * k[l] / s
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
	ahead := *a
	ahead.predict(s)
	s.along((*[4][4]float64)(&c), &a.p) // (predicted p) Cᵀ = Φp
	solve(&ahead.p, (*[4][4]float64)(&c))

	var dx [4]float64
	var dp, t [4][4]float64
	for i := range 4 {
		dx[i] = later.x[i] - ahead.x[i]
		for j := range 4 {
			dp[i][j] = later.p[i][j] - ahead.p[i][j]
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
	for i := range 4 {
		for j := i; j < 4; j++ {
			for k := range 4 {
				a.p[i][j] += t[i][k] * c[k][j]
			}
			a.p[j][i] = a.p[i][j]
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
