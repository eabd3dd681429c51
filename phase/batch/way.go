package batch

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
)

// way is the path of the centre of mass while it is being walked.
type way struct {
	given []r3.Vec // the path itself, if somebody knows it

	// Otherwise the acceleration is integrated in straight lines between the
	// samples, h apart. With w = h v and a = h²/6 · acceleration, which is
	// factor·F + constant,
	//
	//	p₁ = p₀ + w₀ + (2a₀ + a₁)
	//	w₁ = w₀ + 3 (a₀ + a₁)
	factor   float64
	constant r3.Vec
	// Of the sample before.
	p, w, a r3.Vec
	begun   bool
}

// way returns the path at its beginning.
func (c *Chain) way(dst *Result, in *Input, n int) (way, error) {
	switch {
	case in.COM != nil:
		return way{given: in.COM}, nil
	case in.Rest != com.Window{}:
		s, err := c.rest(dst, in, n)
		if err != nil {
			return way{}, err
		}
		dst.Start = s
	default:
		dst.Start = in.Start
	}
	return c.from(dst.Start), nil
}

// from returns the path that begins with s, NaN all the way without a mass.
func (c *Chain) from(s Start) way {
	if s.Mass == 0 {
		nan := math.NaN()
		return way{factor: nan, constant: r3.Vec{X: nan, Y: nan, Z: nan}, p: r3.Vec{X: nan, Y: nan, Z: nan}}
	}
	h := 1 / c.cfg.Rate
	k := r3.Scale(1/s.Mass, s.Bias)
	k.Z -= c.cfg.Gravity
	return way{
		factor: h * h / 6 / s.Mass, constant: r3.Scale(h*h/6, k),
		p: s.Position, w: r3.Scale(h, s.Velocity),
	}
}

// walk writes the positions of the next samples under the net wrenches.
func (w *way) walk(dst []r3.Vec, net []float64) {
	if w.given != nil {
		w.given = w.given[copy(dst, w.given):]
		return
	}
	if len(dst) > 0 && !w.begun {
		w.a = r3.Add(r3.Scale(w.factor, r3.Vec{X: net[0], Y: net[1], Z: net[2]}), w.constant)
		w.begun = true
		dst[0] = w.p
		dst, net = dst[1:], net[6:]
	}
	k, kx, ky, kz := w.factor, w.constant.X, w.constant.Y, w.constant.Z
	px, py, pz := w.p.X, w.p.Y, w.p.Z
	wx, wy, wz := w.w.X, w.w.Y, w.w.Z
	ax, ay, az := w.a.X, w.a.Y, w.a.Z
	o := 0
	for i := range dst {
		f := net[o : o+6 : o+6]
		o += 6
		bx, by, bz := float64(k*f[0])+kx, float64(k*f[1])+ky, float64(k*f[2])+kz
		x, y, z := ax+bx, ay+by, az+bz
		px, py, pz = px+(wx+(ax+x)), py+(wy+(ay+y)), pz+(wz+(az+z))
		wx, wy, wz = wx+float64(3*x), wy+float64(3*y), wz+float64(3*z)
		ax, ay, az = bx, by, bz
		dst[i] = r3.Vec{X: px, Y: py, Z: pz}
	}
	w.p, w.w, w.a = r3.Vec{X: px, Y: py, Z: pz}, r3.Vec{X: wx, Y: wy, Z: wz}, r3.Vec{X: ax, Y: ay, Z: az}
}

// rest returns what the golfer's standing still tells: the start from which the
// path has, over the window, no mean velocity and its mean position above the
// centre of pressure.
func (c *Chain) rest(dst *Result, in *Input, n int) (Start, error) {
	// A window that names the instant of a sample includes it.
	const slack = 1e-6
	from, to := math.Ceil(in.Rest.From*c.cfg.Rate-slack), math.Floor(in.Rest.To*c.cfg.Rate+slack)
	if !(from >= 0 && to >= from+1 && to < float64(n)) {
		return Start{}, fmt.Errorf("%w: %w: rest from %g to %g s, the recording runs from 0 to %g s and at least two samples are needed",
			ErrInput, grf.ErrWindow, in.Rest.From, in.Rest.To, float64(n-1)/c.cfg.Rate)
	}
	lo, hi := int(from), int(to)+1
	count := float64(hi - lo)

	var mean grf.Wrench
	for i := lo; i < hi; i++ {
		mean = mean.Add(dst.Net.Wrench(i))
	}
	mean = mean.Scale(1 / count)
	over, _ := cop.Of(mean, 0, c.cfg.MinVertical)
	if !finite(over) {
		return Start{}, fmt.Errorf("%w: %w: mean vertical force from %g to %g s is %g N", ErrInput, grf.ErrNoQuiet, in.Rest.From, in.Rest.To, mean.Force.Z)
	}
	s := Start{
		Mass: mean.Force.Z / c.cfg.Gravity,
		Bias: r3.Vec{X: -mean.Force.X, Y: -mean.Force.Y},
	}
	// From rest at the origin, mean velocity and position over the window …
	w := c.from(s)
	var position, steps r3.Vec
	for i := range hi {
		var p [1]r3.Vec
		net := array(dst.Net.Wrench(i))
		w.walk(p[:], net[:])
		if i >= lo {
			position, steps = r3.Add(position, p[0]), r3.Add(steps, w.w)
		}
	}
	// … which the start takes away.
	s.Velocity = r3.Scale(-c.cfg.Rate/count, steps)
	middle := float64(lo+hi-1) / 2 / c.cfg.Rate
	s.Position = r3.Sub(r3.Vec{X: over.X, Y: over.Y, Z: in.Height},
		r3.Add(r3.Scale(1/count, position), r3.Scale(middle, s.Velocity)))
	if !finite(s.Position) || !finite(s.Velocity) {
		return Start{}, fmt.Errorf("%w: %w: samples are missing before %g s", ErrInput, grf.ErrNoQuiet, in.Rest.To)
	}
	return s, nil
}
