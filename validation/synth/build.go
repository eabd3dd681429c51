package synth

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// stepsPerDownswing sets the knot distance: fine enough for the fastest part
// of a swing, coarse enough to be smooth.
const stepsPerDownswing = 14

// lag is the number of knots between the last still instant and take-away.
const lag = 3

// New makes the swing that cfg describes. A field out of its range, or a
// combination that the feet cannot make, is an error that wraps [ErrConfig].
func New(cfg Config) (*Swing, error) {
	cfg, err := cfg.withDefaults()
	if err != nil {
		return nil, err
	}
	s := &Swing{cfg: cfg}
	length, width := 0.152*cfg.Stature, 0.055*cfg.Stature
	s.feet = [2]Foot{
		newFoot(vec(0, cfg.StanceWidth/2, 0), length, width, 20*math.Pi/180, 1),
		newFoot(vec(0, -cfg.StanceWidth/2, 0), length, width, 5*math.Pi/180, -1),
	}
	s.schedule()
	b := builder{Swing: s, recipe: cfg.Style.recipe().habits(cfg.Individual)}
	if err := b.build(); err != nil {
		return nil, err
	}
	if err := s.check(); err != nil {
		return nil, err
	}
	s.event = s.findEvents()
	return s, nil
}

// schedule fixes when what happens.
func (s *Swing) schedule() {
	c := s.cfg
	s.grid = grid{step: c.Downswing / stepsPerDownswing}
	begin := s.Aboard() + c.Address
	knots := func(seconds float64) int { return int(math.Ceil(seconds / s.grid.step)) }
	s.grid.start = begin
	i := 0
	if c.Style != Still {
		back, through := c.Downswing*c.Tempo, c.Follow
		takeaway := begin + lag*s.grid.step
		top := takeaway + back
		impact := top + c.Downswing
		s.marks = marks{takeaway, top, impact, impact + through}
		n := knots(s.marks.still - begin)
		s.moves = append(s.moves, move{i, i + n - 1})
		i += n + forceDegree + 1
	}
	s.end = begin + float64(i)*s.grid.step + c.Hold
}

// builder fits the splines of a swing.
type builder struct {
	*Swing
	recipe recipe
	n      int // coefficients
}

func (b *builder) build() error {
	if len(b.moves) > 0 {
		b.n = b.moves[len(b.moves)-1].last + 1
	}
	b.n += 2 // at least one still coefficient at the end
	r := b.recipe
	k := b.cfg.Strength

	share, err := b.sample(r.share)
	if err != nil {
		return err
	}
	var lead, trail [2]spline // fractions long and wide
	for i, c := range []struct {
		dst *spline
		c   curve
	}{{&lead[0], r.leadLong}, {&lead[1], r.leadWide}, {&trail[0], r.trailLong}, {&trail[1], r.trailWide}, {&b.oppose, r.oppose}} {
		if *c.dst, err = b.sample(c.c); err != nil {
			return fmt.Errorf("place %d: %w", i, err)
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

	// Force: the nearest to the wanted one that leads through the places.
	startX, startY := between(share, b.leadX, b.trailX, 0), between(share, b.leadY, b.trailY, 0)
	startZ := 0.53 * b.cfg.Stature
	endX, endY := between(share, b.leadX, b.trailX, last), between(share, b.leadY, b.trailY, last)
	width := b.cfg.StanceWidth
	for axis, want := range []struct {
		c        curve
		from, to float64
		via      curve
	}{
		{r.fx, startX, endX, nil},
		{r.fy, startY, endY, r.path.times(k * width)},
		{r.fz, startZ, startZ + r.rise, nil},
	} {
		a, err := b.sample(want.c.scaled(k * Gravity))
		if err != nil {
			return err
		}
		if err := b.steer(a, want.to-want.from, want.via); err != nil {
			return err
		}
		b.acceleration[axis] = a
		b.velocity[axis] = a.integral(b.grid.step, 0, 0)
		b.position[axis] = b.velocity[axis].integral(b.grid.step, want.from, want.to)
	}

	// Moment: what the wanted pressure makes with that force, less what would
	// leave the golfer turning.
	mz, err := b.sample(r.mz.scaled(k * b.cfg.Mass))
	if err != nil {
		return err
	}
	mx, my := make(spline, b.n), make(spline, b.n)
	for i := range b.n {
		w := b.grid.at(b.grid.node(i))
		pos, acc := b.position.value(&w, forceDegree+2), b.acceleration.value(&w, forceDegree)
		fx, fy, fz := b.cfg.Mass*acc.X, b.cfg.Mass*acc.Y, b.cfg.Mass*(acc.Z+Gravity)
		px, py := between(share, b.leadX, b.trailX, i), between(share, b.leadY, b.trailY, i)
		mx[i] = (py-pos.Y)*fz + pos.Z*fy
		my[i] = -pos.Z*fx - (px-pos.X)*fz
	}
	mx[0], my[0], mx[last], my[last] = 0, 0, 0, 0
	for axis, m := range []spline{mx, my, mz} {
		via := []curve{r.turn.times(k * b.cfg.Mass), {{1, 0}, {2, 0}}, nil}[axis]
		if err := b.settle(m, via); err != nil {
			return err
		}
		b.moment[axis] = m
		b.momentum[axis] = m.integral(b.grid.step, 0, 0)
	}

	// Share: what the pressure has become.
	b.share = share
	for i := 1; i < last; i++ {
		w := b.grid.at(b.grid.node(i))
		pos, acc := b.position.value(&w, forceDegree+2), b.acceleration.value(&w, forceDegree)
		fy, fz := b.cfg.Mass*acc.Y, b.cfg.Mass*(acc.Z+Gravity)
		py := pos.Y + (b.moment[0].value(&w, forceDegree)-pos.Z*fy)/fz
		leadY, trailY := b.leadY.value(&w, forceDegree), b.trailY.value(&w, forceDegree)
		b.share[i] = (py - trailY) / (leadY - trailY)
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
	if len(b.moves) > 0 {
		out[0] = c[0].value
		for i := b.moves[len(b.moves)-1].last + 1; i < b.n; i++ {
			out[i] = c[len(c)-1].value
		}
	}
	return out, nil
}

// freedom says how willingly coefficient i gives way: little before impact,
// where the style is, more after it, nothing at the ends.
func (b *builder) freedom(i int) float64 {
	p := b.marks.phase(b.grid.node(i))
	edge := smoothStep(p/0.3) * smoothStep((3-p)/0.5)
	return edge * (0.15 + 0.85*smoothStep((p-1.9)/0.3))
}

// steer changes the acceleration a by as little as possible so that the
// golfer comes to rest after having gone this far, and passes through places
// on the way, as travel from the start against phase.
func (b *builder) steer(a spline, far float64, via curve) error {
	h := b.grid.step
	rows := [][]float64{make([]float64, b.n), make([]float64, b.n)}
	goal := []float64{0, far}
	for i := range b.n {
		rows[0][i] = h
		rows[1][i] = h * h * float64(b.n-i)
	}
	for _, v := range via {
		row := make([]float64, b.n)
		w := b.grid.at(b.marks.time(v.phase))
		for j, weight := range w.n[forceDegree+2] {
			k := w.k - (forceDegree + 2) + j
			for i := 0; i <= k && i < b.n; i++ {
				row[i] += weight * h * h * float64(k-i+1)
			}
		}
		rows = append(rows, row)
		goal = append(goal, v.value)
	}
	return b.nearest(a, rows, goal)
}

// settle changes the moment m by as little as possible so that no angular
// momentum is left at the end and that on the way it is as given.
func (b *builder) settle(m spline, via curve) error {
	h := b.grid.step
	rows := [][]float64{make([]float64, b.n)}
	goal := []float64{0}
	for i := range b.n {
		rows[0][i] = h
	}
	for _, v := range via {
		row := make([]float64, b.n)
		w := b.grid.at(b.marks.time(v.phase))
		for j, weight := range w.n[forceDegree+1] {
			k := w.k - (forceDegree + 1) + j
			for i := 0; i <= k && i < b.n; i++ {
				row[i] += weight * h
			}
		}
		rows = append(rows, row)
		goal = append(goal, v.value)
	}
	return b.nearest(m, rows, goal)
}

// nearest changes c by as little as possible so that each row times c is its
// goal. Changes are cheap where there is freedom and when neighbours change
// alike: the size of a change x is xᵀ K⁻¹ x with
// K = √freedom exp(−½ (Δt/smooth)²) √freedom, and the least one that meets the
// goals is K Rᵀ (R K Rᵀ)⁻¹ (goal − R c).
func (b *builder) nearest(c spline, rows [][]float64, goal []float64) error {
	n, k := len(c), len(rows)
	smooth := 0.35 * b.cfg.Downswing / b.grid.step // in knots
	kernel := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			d := float64(i-j) / smooth
			kernel.SetSym(i, j, math.Sqrt(b.freedom(i)*b.freedom(j))*math.Exp(-d*d/2))
		}
	}
	r := mat.NewDense(k, n, nil)
	for p, row := range rows {
		r.SetRow(p, row)
	}
	var miss, x, change mat.VecDense
	miss.MulVec(r, mat.NewVecDense(n, c))
	miss.SubVec(mat.NewVecDense(k, goal), &miss)
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
