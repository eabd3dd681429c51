package synth

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/mat"
)

// How far a course may be from the wanted one before it counts as much as
// another that is off by its own measure.
const (
	slackPressure = 0.01 // m
	slackForce    = 0.05 // body weights
	slackMoment   = 0.25 // N·m per kg
	slackPath     = 0.03 // stance widths
	slackJerk     = 0.4  // body weights per second
	slackRate     = 3.0  // N·m per kg and second
	slackTurn     = 0.05 // kg·m²/s per kg
	stiff         = 1e-4 // factor for what must hold
)

// reconcile changes the acceleration a and the moment m of one plane so that
// they agree with a course of pressure. Wanted pressure, force and angular
// momentum contradict each other, because m = (p − r) F_z + r_z F: the result
// is the compromise with the least sum of squares of the departures, each
// against its slack, over smooth changes of a and m.
func (b *builder) reconcile(a, m, pressure spline, via, turn curve) error {
	n := b.n
	shapes := b.shapes()
	k := len(shapes)
	mass := b.cfg.Mass
	rootN := math.Sqrt(float64(n))

	// Travel and angular momentum at the nodes, as sums over coefficients.
	path := make([][]float64, n)
	for i := range path {
		path[i] = b.positionRow(b.grid.node(i))
	}
	dot := func(row, c []float64) (sum float64) {
		for i, v := range row {
			sum += v * c[i]
		}
		return sum
	}
	var rows [][]float64
	var goal []float64
	add := func(slack, miss float64, onForce, onMoment func(shape []float64) float64) {
		row := make([]float64, 2*k)
		for j, s := range shapes {
			if onForce != nil {
				row[j] = onForce(s) / slack
			}
			if onMoment != nil {
				row[k+j] = onMoment(s) / slack
			}
		}
		rows, goal = append(rows, row), append(goal, miss/slack)
	}
	sums := func(c []float64, i int) (sum float64) {
		for _, v := range c[:i+1] {
			sum += v
		}
		return sum * b.grid.step
	}
	for i := 1; i < n-1; i++ {
		w := b.grid.at(b.grid.node(i))
		fz := mass * (b.acceleration[2].value(&w, forceDegree) + Gravity)
		z := b.position[2].value(&w, forceDegree+2)
		at := func(c []float64) float64 { return dot(path[i], c) - z*mass/fz*c[i] }
		off := pressure[i] - (pressure[0] + at(a) + m[i]/fz)
		add(slackPressure*rootN, off, at, func(s []float64) float64 { return s[i] / fz })
		here := func(s []float64) float64 { return s[i] }
		add(slackForce*Gravity*rootN, 0, here, nil)
		add(slackMoment*mass*rootN, 0, nil, here)
		step := func(s []float64) float64 { return (s[i] - s[i-1]) / b.grid.step }
		add(slackJerk*Gravity*rootN, 0, step, nil)
		add(slackRate*mass*rootN, 0, nil, step)
	}
	for _, v := range via {
		row := b.positionRow(b.marks.time(v.phase))
		on := func(c []float64) float64 { return dot(row, c) }
		add(slackPath*b.cfg.StanceWidth, v.value-on(a), on, nil)
	}
	for _, v := range turn {
		i := sort.Search(n-1, func(i int) bool { return b.marks.phase(b.grid.node(i)) >= v.phase })
		on := func(c []float64) float64 { return sums(c, i) }
		add(slackTurn*mass, v.value-on(m), nil, on)
	}
	end := b.positionRow(b.grid.node(n + forceDegree))
	on := func(c []float64) float64 { return dot(end, c) }
	add(stiff, pressure[n-1]-pressure[0]-on(a), on, nil)
	all := func(c []float64) float64 { return sums(c, n-1) }
	add(stiff, -all(a), all, nil)
	add(stiff*mass, -all(m), nil, all)

	big := mat.NewDense(len(rows), 2*k, nil)
	for i, row := range rows {
		big.SetRow(i, row)
	}
	var qr mat.QR
	var x mat.VecDense
	qr.Factorize(big)
	if err := qr.SolveVecTo(&x, false, mat.NewVecDense(len(goal), goal)); err != nil {
		return fmt.Errorf("synth: no compromise between the curves of the %v style: %w", b.cfg.Style, err)
	}
	for i := range n {
		for j, s := range shapes {
			a[i] += x.AtVec(j) * s[i]
			m[i] += x.AtVec(k+j) * s[i]
		}
	}
	return nil
}

// changeKnots are the phases of the knots of the changes: close where the
// swing is fast.
var changeKnots = []float64{0, .12, .24, .36, .48, .6, .72, .83, .92, 1, 1.18, 1.36, 1.54, 1.72, 1.88, 2,
	2.04, 2.09, 2.15, 2.22, 2.3, 2.4, 2.5, 2.6, 2.7, 2.8, 2.9, 3}

// shapes returns the smooth bumps that changes are made of, sampled at the
// coefficients: cubic B-splines that vanish at both ends.
func (b *builder) shapes() [][]float64 {
	knots := make([]float64, len(changeKnots))
	for i, p := range changeKnots {
		knots[i] = b.marks.time(p)
	}
	out := make([][]float64, len(knots)-4)
	for j := range out {
		out[j] = make([]float64, b.n)
		for i := 1; i < b.n-1; i++ {
			out[j][i] = bump(knots[j:j+5], b.grid.node(i))
		}
	}
	return out
}

// bump evaluates the B-spline on these knots by the recursion of Cox and de
// Boor.
func bump(knots []float64, t float64) float64 {
	last := len(knots) - 1
	if !(t >= knots[0] && t < knots[last]) {
		return 0
	}
	if last == 1 {
		return 1
	}
	return (t-knots[0])/(knots[last-1]-knots[0])*bump(knots[:last], t) +
		(knots[last]-t)/(knots[last]-knots[1])*bump(knots[1:], t)
}
