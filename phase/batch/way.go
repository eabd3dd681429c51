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

	// Otherwise the acceleration a = factor·F + constant is integrated in
	// straight lines between the samples, with steps of h:
	//
	//	v₁ = v₀ + h (a₀ + a₁)/2
	//	p₁ = p₀ + h v₀ + h² (2a₀ + a₁)/6
	h, factor float64
	constant  r3.Vec
	// Of the sample before.
	p, v, a r3.Vec
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
	k := r3.Scale(1/s.Mass, s.Bias)
	k.Z -= c.cfg.Gravity
	return way{h: 1 / c.cfg.Rate, factor: 1 / s.Mass, constant: k, p: s.Position, v: s.Velocity}
}

// next returns the position after one more sample of force.
func (w *way) next(f r3.Vec) r3.Vec {
	a := r3.Vec{X: float64(w.factor*f.X) + w.constant.X, Y: float64(w.factor*f.Y) + w.constant.Y, Z: float64(w.factor*f.Z) + w.constant.Z}
	if w.begun {
		h, q := w.h, w.h*w.h/6
		w.p.X += float64(h*w.v.X) + float64(q*(2*w.a.X+a.X))
		w.p.Y += float64(h*w.v.Y) + float64(q*(2*w.a.Y+a.Y))
		w.p.Z += float64(h*w.v.Z) + float64(q*(2*w.a.Z+a.Z))
		w.v.X += float64(h / 2 * (w.a.X + a.X))
		w.v.Y += float64(h / 2 * (w.a.Y + a.Y))
		w.v.Z += float64(h / 2 * (w.a.Z + a.Z))
	}
	w.a, w.begun = a, true
	return w.p
}

// walk writes the positions of samples from … to−1 under the net force. It is
// next with all that is carried on in local variables.
func (w *way) walk(dst []r3.Vec, net []float64, from, to int) {
	dst, net = dst[from:to], net[6*from:6*to]
	if w.given != nil {
		copy(dst, w.given[from:to])
		return
	}
	if !w.begun {
		dst[0] = w.next(r3.Vec{X: net[0], Y: net[1], Z: net[2]})
		dst, net = dst[1:], net[6:]
	}
	h, half, sixth := w.h, w.h/2, w.h*w.h/6
	k, kx, ky, kz := w.factor, w.constant.X, w.constant.Y, w.constant.Z
	px, py, pz := w.p.X, w.p.Y, w.p.Z
	vx, vy, vz := w.v.X, w.v.Y, w.v.Z
	ax, ay, az := w.a.X, w.a.Y, w.a.Z
	for i, o := 0, 0; i < len(dst) && o+6 <= len(net); i, o = i+1, o+6 {
		f := net[o : o+6 : o+6]
		bx, by, bz := float64(k*f[0])+kx, float64(k*f[1])+ky, float64(k*f[2])+kz
		px += float64(h*vx) + float64(sixth*(ax+ax+bx))
		py += float64(h*vy) + float64(sixth*(ay+ay+by))
		pz += float64(h*vz) + float64(sixth*(az+az+bz))
		vx += float64(half * (ax + bx))
		vy += float64(half * (ay + by))
		vz += float64(half * (az + bz))
		ax, ay, az = bx, by, bz
		dst[i] = r3.Vec{X: px, Y: py, Z: pz}
	}
	w.p, w.v, w.a = r3.Vec{X: px, Y: py, Z: pz}, r3.Vec{X: vx, Y: vy, Z: vz}, r3.Vec{X: ax, Y: ay, Z: az}
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
		mean = mean.Add(dst.sumAt(i))
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
	var position, velocity r3.Vec
	for i := range hi {
		p := w.next(dst.sumAt(i).Force)
		if i >= lo {
			position, velocity = r3.Add(position, p), r3.Add(velocity, w.v)
		}
	}
	// … which the start takes away.
	s.Velocity = r3.Scale(-1/count, velocity)
	middle := float64(lo+hi-1) / 2 / c.cfg.Rate
	s.Position = r3.Sub(r3.Vec{X: over.X, Y: over.Y, Z: in.Height},
		r3.Add(r3.Scale(1/count, position), r3.Scale(middle, s.Velocity)))
	if !finite(s.Position) || !finite(s.Velocity) {
		return Start{}, fmt.Errorf("%w: %w: samples are missing before %g s", ErrInput, grf.ErrNoQuiet, in.Rest.To)
	}
	return s, nil
}

// sumAt returns the sum of the wrenches of sample i, before it was written.
func (r *Result) sumAt(i int) grf.Wrench {
	var sum grf.Wrench
	for p := range r.Plates {
		sum = sum.Add(r.Plates[p].Wrench(i))
	}
	return sum
}
