package com

import (
	"math"
	"math/rand"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// A random chain of force samples and fixes, with everything switched on.
func randomChain(rnd *rand.Rand, d *dynamics, n int) []node {
	var chain []node
	d.regulate()
	t := 0.0
	force := func() r3.Vec {
		return r3.Vec{X: 80 * rnd.NormFloat64(), Y: 80 * rnd.NormFloat64(), Z: d.mass*d.gravity + 200*rnd.NormFloat64()}
	}
	for i := range n {
		b := node{t: t, force: force(), sample: i, source: -1}
		if i%7 == 5 {
			b.lostFor = d.period
		}
		if i == 0 {
			d.start(&b, r3.Vec{Z: 1}, 1)
		} else {
			a := chain[len(chain)-1]
			if i%3 == 0 { // a fix between two samples
				fix := Fix{Time: a.t + rnd.Float64()*(b.t-a.t),
					Position:   r3.Vec{X: rnd.NormFloat64() * 0.1, Y: rnd.NormFloat64() * 0.1, Z: 1 + rnd.NormFloat64()*0.1},
					PositionSD: r3.Vec{X: 0.02, Y: 0.03, Z: 0.01}}
				if i%2 == 0 {
					fix.Velocity, fix.VelocitySD = r3.Vec{X: rnd.NormFloat64() * 0.1}, r3.Vec{X: 0.05, Y: 0.04, Z: 0.03}
				}
				f := d.between(&a, &b, fix, -1)
				d.next(&a, &f)
				chain = append(chain, f)
			}
			d.next(&chain[len(chain)-1], &b)
		}
		chain = append(chain, b)
		t += d.period
	}
	return chain
}

// Filter and smoother against one big least-squares problem: the unknowns are
// the start state and all noises, the equations their priors and the fixes.
// The solution and its covariance are what a Rauch–Tung–Striebel smoother must
// give at every node, and at the last one what the filter must give.
func TestAgainstLeastSquares(t *testing.T) {
	rnd := rand.New(rand.NewSource(4))
	for _, noise := range []Noise{
		{},
		{BiasWalk: math.NaN()},
		{BiasSD: math.NaN(), MassSD: math.NaN()},
		{MassSD: math.NaN()},
		{BiasSD: math.NaN(), MassSD: 0.02},
	} {
		noise, err := noise.withDefaults()
		if err != nil {
			t.Fatal(err)
		}
		d := &dynamics{mass: 75, gravity: 9.81, period: 0.02, noise: noise}
		chain := randomChain(rnd, d, 40)
		smoothed := make([][3]axis, len(chain))
		last := len(chain) - 1
		smoothed[last] = chain[last].ax
		for i := last; i > 0; i-- {
			smoothed[i-1], _ = d.back(&chain[i-1], &chain[i], &smoothed[i])
		}
		// The way between two samples, from one at either end and one inside.
		s := &smoother{d: *d, chain: chain, force: make([]r3.Vec, 40)}
		shifts := map[int][]r3.Vec{0: s.shiftSD(0), 17: s.shiftSD(17), 39: s.shiftSD(39)}
		for k := range 3 {
			x, p, way := leastSquares(t, d, chain, k)
			for from, sd := range shifts {
				for i := range chain {
					j := chain[i].sample
					if j < 0 {
						continue
					}
					want, got := way(i, slices.IndexFunc(chain, func(n node) bool { return n.sample == from })), *component(&sd[j], k)
					if !(math.Abs(got-want) <= 1e-5*want+1e-7) {
						t.Fatalf("%+v axis %d from sample %d to %d: ± %g m, want %g", noise, k, from, j, got, want)
					}
				}
			}
			for i := range chain {
				compareState(t, noise, i, k, &smoothed[i][k], x[i], p[i])
			}
			compareState(t, noise, last, k, &chain[last].ax[k], x[last], p[last])
		}
	}
}

func compareState(t *testing.T, noise Noise, i, k int, got *axis, x [4]float64, p *mat.Dense) {
	t.Helper()
	for r := range 4 {
		sd := math.Sqrt(p.At(r, r))
		// To a ten-thousandth of the standard deviation: what the condition of
		// the normal equations leaves.
		if d := math.Abs(got.x[r] - x[r]); !(d <= 1e-4*sd+1e-12) {
			t.Fatalf("%+v node %d axis %d state %d: %g, want %g ± %g", noise, i, k, r, got.x[r], x[r], sd)
		}
		for c, cov := range got.p.full()[r] {
			if d := math.Abs(cov - p.At(r, c)); !(d <= 1e-6*(sd*math.Sqrt(p.At(c, c)))+1e-15) {
				t.Fatalf("%+v node %d axis %d covariance %d,%d: %g, want %g", noise, i, k, r, c, cov, p.At(r, c))
			}
		}
	}
}

// leastSquares returns state and covariance of one axis at each node, and the
// standard deviation of the difference of the positions at two nodes.
func leastSquares(t *testing.T, d *dynamics, chain []node, k int) (x [][4]float64, p []*mat.Dense, way func(i, j int) float64) {
	t.Helper()
	n := len(chain)
	unknowns := 4 + 2*(n-1) // start state, then acceleration noise and bias step of each stride, in standard deviations
	// state = a·unknowns + c
	a := make([]*mat.Dense, n)
	c := make([][4]float64, n)
	a[0] = mat.NewDense(4, unknowns, nil)
	first := [4]float64{1, 1, d.noise.BiasSD / d.mass, d.noise.MassSD} // prior SDs of randomChain
	for r := range 4 {
		a[0].Set(r, r, first[r])
	}
	if k == 2 {
		c[0][0] = 1
	}
	for i := 1; i < n; i++ {
		from, to := &chain[i-1], &chain[i]
		h := to.t - from.t
		f0, f1 := *component(&from.force, k)/d.mass, *component(&to.force, k)/d.mass
		phi := mat.NewDense(4, 4, []float64{
			1, h, h * h / 2, h * h * (f0/3 + f1/6),
			0, 1, h, h * (f0/2 + f1/2),
			0, 0, 1, 0,
			0, 0, 0, 1,
		})
		a[i] = mat.NewDense(4, unknowns, nil)
		a[i].Mul(phi, a[i-1])
		var moved mat.VecDense
		moved.MulVec(phi, mat.NewVecDense(4, c[i-1][:]))
		for r := range 4 {
			c[i][r] = moved.AtVec(r)
		}
		g := 0.0
		if k == 2 {
			g = -d.gravity
		}
		c[i][0] += h*h*(f0/3+f1/6) + g*h*h/2
		c[i][1] += h*(f0/2+f1/2) + g*h
		// Noise: white force, and what a gap adds to the velocity.
		q := *component(&d.noise.ForceSD, k) / d.mass * math.Sqrt(d.period/h)
		if from.lostFor > 0 || to.lostFor > 0 {
			gap := d.noise.GapSD * d.gravity
			q = math.Sqrt(q*q + gap*gap*(math.Pow(from.lostFor+h, 2)-math.Pow(from.lostFor, 2))/(h*h))
		}
		w := 4 + 2*(i-1)
		a[i].Set(0, w, q*h*h/2)
		a[i].Set(1, w, q*h)
		a[i].Set(2, w+1, d.noise.BiasWalk/d.mass*math.Sqrt(h))
	}
	var rows []float64
	var right []float64
	for i := range chain {
		f := &chain[i].fix
		for r, m := range []struct{ z, sd float64 }{
			{*component(&f.Position, k), *component(&f.PositionSD, k)},
			{*component(&f.Velocity, k), *component(&f.VelocitySD, k)},
		} {
			if m.sd == 0 {
				continue
			}
			for j := range unknowns {
				rows = append(rows, a[i].At(r, j)/m.sd)
			}
			right = append(right, (m.z-c[i][r])/m.sd)
		}
	}
	m := mat.NewDense(len(right), unknowns, rows)
	normal := mat.NewSymDense(unknowns, nil)
	var mm mat.Dense
	mm.Mul(m.T(), m)
	for i := range unknowns {
		for j := i; j < unknowns; j++ {
			v := mm.At(i, j)
			if i == j {
				v++
			}
			normal.SetSym(i, j, v)
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(normal) {
		t.Fatal("least squares: not positive definite")
	}
	var rhs, u mat.VecDense
	rhs.MulVec(m.T(), mat.NewVecDense(len(right), right))
	if err := chol.SolveVecTo(&u, &rhs); err != nil {
		t.Fatal(err)
	}
	x = make([][4]float64, n)
	p = make([]*mat.Dense, n)
	for i := range chain {
		var s mat.VecDense
		s.MulVec(a[i], &u)
		for r := range 4 {
			x[i][r] = s.AtVec(r) + c[i][r]
		}
		var half mat.Dense
		if err := chol.SolveTo(&half, a[i].T()); err != nil {
			t.Fatal(err)
		}
		p[i] = new(mat.Dense)
		p[i].Mul(a[i], &half)
	}
	way = func(i, j int) float64 {
		var row, half mat.VecDense
		row.SubVec(a[i].RowView(0), a[j].RowView(0))
		if err := chol.SolveVecTo(&half, &row); err != nil {
			t.Fatal(err)
		}
		return math.Sqrt(mat.Dot(&row, &half))
	}
	return x, p, way
}
