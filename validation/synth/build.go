package synth

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// minShare is the least part of the load that a foot on the plate carries.
const minShare = 0.02

// builder fits the splines of one move: the swing, or a waggle. Its grid
// starts with the move.
type builder struct {
	cfg   Config
	feet  [2]Foot
	grid  grid
	marks marks
	want  recipe
	n     int // coefficients

	motion
}

// build fits everything. The order matters: pressure and vertical force are
// wanted, the rest has to agree with them.
func (b *builder) build() error {
	r := &b.want
	k := b.cfg.Strength

	share, err := b.sample(r.share)
	if err != nil {
		return err
	}
	var lead, trail [2]spline // fractions long and wide
	for _, c := range []struct {
		dst  *spline
		want curve
	}{
		{&lead[0], r.leadLong}, {&lead[1], r.leadWide},
		{&trail[0], r.trailLong}, {&trail[1], r.trailWide},
		{&b.oppose, r.oppose},
	} {
		if *c.dst, err = b.sample(c.want); err != nil {
			return err
		}
	}
	place := func(f Foot, frac [2]spline) (x, y spline) {
		x, y = make(spline, b.n), make(spline, b.n)
		for i := range x {
			p := f.point(frac[0][i], frac[1][i])
			x[i], y[i] = p.X, p.Y
		}
		return x, y
	}
	b.leadX, b.leadY = place(b.feet[0], lead)
	b.trailX, b.trailY = place(b.feet[1], trail)
	between := func(s, lead, trail spline, i int) float64 {
		return s[i]*lead[i] + (1-s[i])*trail[i]
	}
	last := b.n - 1

	// The places that the pressure shall be at and where the golfer starts and
	// ends: over it.
	px, py := make(spline, b.n), make(spline, b.n)
	for i := range px {
		px[i], py[i] = between(share, b.leadX, b.trailX, i), between(share, b.leadY, b.trailY, i)
	}
	startZ := 0.53 * b.cfg.Stature
	mass := b.cfg.Mass

	// Vertical first: it needs nothing of the others.
	a, err := b.sample(r.fz.scaled(k * Gravity))
	if err != nil {
		return err
	}
	if err := b.move(2, a, startZ, startZ+r.rise, r.height.times(k)); err != nil {
		return err
	}
	// Along the target line M_x = (p − r) F_z + r_z F_y, and across it the
	// same makes −M_y.
	for _, d := range []struct {
		axis, about int
		sign        float64
		force       curve
		moment      curve
		pressure    spline
		via, turn   curve
	}{
		{1, 0, 1, r.fy, r.mx, py, r.path.times(k * b.cfg.StanceWidth), r.turn.times(k * mass)},
		{0, 1, -1, r.fx, r.my, px, nil, nil},
	} {
		a, err := b.sample(d.force.scaled(k * Gravity))
		if err != nil {
			return err
		}
		m, err := b.sample(d.moment.times(k * mass))
		if err != nil {
			return err
		}
		if err := b.reconcile(a, m, d.pressure, d.via, d.turn); err != nil {
			return err
		}
		if err := b.move(d.axis, a, d.pressure[0], d.pressure[last], nil); err != nil {
			return err
		}
		for i := range m {
			m[i] *= d.sign
		}
		if err := b.turn(d.about, m); err != nil {
			return err
		}
	}
	mz, err := b.sample(r.mz.scaled(k * mass))
	if err != nil {
		return err
	}
	if err := b.turn(2, mz); err != nil {
		return err
	}

	// Share: what the pressure has become.
	b.share = share
	least := minShare
	if r.lift {
		least = 0
	}
	for i := 1; i < last; i++ {
		w := b.grid.at(b.grid.node(i))
		pos, acc := b.position.value(&w, forceDegree+2), b.acceleration.value(&w, forceDegree)
		fy, fz := b.cfg.Mass*acc.Y, b.cfg.Mass*(acc.Z+Gravity)
		py := pos.Y + (b.moment[0].value(&w, forceDegree)-pos.Z*fy)/fz
		leadY, trailY := b.leadY.value(&w, forceDegree), b.trailY.value(&w, forceDegree)
		b.share[i] = math.Max(least, math.Min(1-minShare, (py-trailY)/(leadY-trailY)))
	}
	return nil
}

// sample returns a curve's values at the coefficients of the swing.
func (b *builder) sample(c curve) (spline, error) {
	f, err := c.function()
	if err != nil {
		return nil, err
	}
	out := make(spline, b.n)
	for i := range out {
		out[i] = f(b.marks.phase(b.grid.node(i)))
	}
	out[0], out[b.n-1] = c[0].value, c[len(c)-1].value
	return out, nil
}

// freedom says how willingly coefficient i gives way: little before impact,
// where the style is, more after it, nothing at the ends.
func (b *builder) freedom(i int) float64 {
	if i == 0 || i == b.n-1 {
		return 0
	}
	p := b.marks.phase(b.grid.node(i))
	edge := smoothStep(p/0.3) * smoothStep((3-p)/0.5)
	return edge * (0.15 + 0.85*smoothStep((p-1.9)/0.3))
}

// move fits the acceleration along an axis so that the golfer goes from one
// place to the other, through others on the way (travel against phase), and
// sets what follows from it.
func (b *builder) move(axis int, a spline, from, to float64, via curve) error {
	var g goals
	g.add(b.velocityRow(b.n), 0)
	g.add(b.positionRow(b.grid.node(b.n+forceDegree)), to-from)
	for _, v := range via {
		g.add(b.positionRow(b.marks.time(v.phase)), v.value)
	}
	if err := b.nearest(a, g); err != nil {
		return err
	}
	b.acceleration[axis] = a
	b.velocity[axis] = a.integral(b.grid.step, 0, 0)
	b.position[axis] = b.velocity[axis].integral(b.grid.step, from, to)
	return nil
}

// turn fits the moment about an axis so that no angular momentum is left, and
// sets what follows from it.
func (b *builder) turn(axis int, m spline) error {
	var g goals
	g.add(b.velocityRow(b.n), 0) // the same sum
	if err := b.nearest(m, g); err != nil {
		return err
	}
	b.moment[axis] = m
	b.momentum[axis] = m.integral(b.grid.step, 0, 0)
	return nil
}

// goals are linear conditions on coefficients: row · c = value.
type goals struct {
	rows   [][]float64
	values []float64
}

func (g *goals) add(row []float64, value float64) {
	g.rows, g.values = append(g.rows, row), append(g.values, value)
}

// velocityRow is the coefficient k of the velocity as a row on the
// accelerations.
func (b *builder) velocityRow(k int) []float64 {
	row := make([]float64, b.n)
	for i := 0; i <= k && i < b.n; i++ {
		row[i] = b.grid.step
	}
	return row
}

// positionRow is the travel until instant t as a row on the accelerations.
func (b *builder) positionRow(t float64) []float64 {
	const degree = forceDegree + 2
	row := make([]float64, b.n)
	w := b.grid.at(t)
	for j, weight := range w.n[degree] {
		k := w.k - degree + j
		for i := 0; i <= k && i < b.n; i++ {
			row[i] += weight * b.grid.step * b.grid.step * float64(min(k, b.n-1)-i+1)
		}
	}
	return row
}

// nearest changes c by as little as possible so that each row times c is its
// goal. Changes are cheap where there is freedom and when neighbours change
// alike: the size of a change x is xᵀ K⁻¹ x with
// K = √freedom exp(−½ (Δt/smooth)²) √freedom, and the least one that meets the
// goals is K Rᵀ (R K Rᵀ)⁻¹ (goal − R c).
func (b *builder) nearest(c spline, g goals) error {
	n, k := len(c), len(g.rows)
	smooth := 0.35 * b.cfg.Downswing / b.grid.step // in knots
	give, alike := make([]float64, n), make([]float64, n)
	for i := range n {
		give[i] = math.Sqrt(b.freedom(i))
		d := float64(i) / smooth
		alike[i] = math.Exp(-d * d / 2)
	}
	kernel := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			kernel.SetSym(i, j, give[i]*give[j]*alike[j-i])
		}
	}
	r := mat.NewDense(k, n, nil)
	for p, row := range g.rows {
		r.SetRow(p, row)
	}
	var miss, x, change mat.VecDense
	miss.MulVec(r, mat.NewVecDense(n, c))
	miss.SubVec(mat.NewVecDense(k, g.values), &miss)
	var half, gram mat.Dense
	half.Mul(kernel, r.T())
	gram.Mul(r, &half)
	if err := x.SolveVec(&gram, &miss); err != nil {
		return fmt.Errorf("synth: no course of the %v style meets its places: %w", b.cfg.Style, err)
	}
	change.MulVec(&half, &x)
	for i := range c {
		c[i] += change.AtVec(i)
	}
	return nil
}
