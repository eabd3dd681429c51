package com

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// settle corrects the path so that over the still window its mean velocity is
// zero and its mean horizontal position lies over the centre of pressure.
//
// Of all accelerations c(t) between the middles of the two windows, at times 0
// and T, the one with the smallest ∫c² that changes velocity and position at T
// by given amounts is a straight line: the conditions ∫c dt and ∫(T − t) c dt
// have the kernels 1 and T − t, and the least-norm solution is a combination
// of them. When only the velocity is to change, it is a constant.
func (p *Path) settle(quiet, still stance, lo, hi int) {
	n := hi - lo
	mid := float64(quiet.lo+quiet.hi-1)/2 - float64(lo)
	last := float64(still.lo+still.hi-1)/2 - float64(lo)
	// The responses to the two unit accelerations 1 (in X) and t/T (in Y) are
	// integrated and anchored just as the path was.
	unit := make([]r3.Vec, n)
	for i := range unit {
		if s := float64(i) - mid; s >= 0 {
			unit[i] = r3.Vec{X: 1, Y: math.Min(s/(last-mid), 1)}
		}
	}
	rp, rv := make([]r3.Vec, n), make([]r3.Vec, n)
	integrate(rp, rv, unit, p.Rate)
	anchor(rp, rv, quiet.lo-lo, quiet.hi-lo, p.Rate, r3.Vec{})

	a, b := still.lo-lo, still.hi-lo
	position, velocity := p.Position[lo:hi], p.Velocity[lo:hi]
	x, v := meanForce(rp[a:b]), meanForce(rv[a:b])
	dx, dv := meanForce(position[a:b]), meanForce(velocity[a:b])

	solve := func(dx, dv float64) (c0, c1 float64) {
		det := x.X*v.Y - x.Y*v.X
		return (-dx*v.Y + dv*x.Y) / det, (-dv*x.X + dx*v.X) / det
	}
	ax, bx := solve(dx.X-still.cop[0], dv.X)
	ay, by := solve(dx.Y-still.cop[1], dv.Y)
	az := -dv.Z / v.X

	before := position[still.lo-lo]
	for i := range position {
		position[i] = r3.Add(position[i], r3.Vec{
			X: ax*rp[i].X + bx*rp[i].Y,
			Y: ay*rp[i].X + by*rp[i].Y,
			Z: az * rp[i].X,
		})
		velocity[i] = r3.Add(velocity[i], r3.Vec{
			X: ax*rv[i].X + bx*rv[i].Y,
			Y: ay*rv[i].X + by*rv[i].Y,
			Z: az * rv[i].X,
		})
	}
	// Root mean square of a straight line from c0 to c0 + c1.
	rms := func(c0, c1 float64) float64 { return p.Mass * math.Sqrt(c0*c0+c0*c1+c1*c1/3) }
	moved := r3.Sub(position[still.lo-lo], before)
	f := r3.Vec{X: rms(ax, bx), Y: rms(ay, by), Z: rms(az, 0)}
	p.Method += ", drift removed where the golfer is still again"
	p.warn("drift-removed", "being still again from %.2f to %.2f s took a correction of (%.1f, %.1f, %.1f) N and moved the path there by (%.0f, %.0f, %.0f) mm",
		p.Time(still.lo), p.Time(still.hi-1), f.X, f.Y, f.Z, 1000*moved.X, 1000*moved.Y, 1000*moved.Z)
	if max(f.X, f.Y, f.Z) > largeCorrection*quiet.force.Z {
		p.warn("drift-large", "this correction is more than %g %% of body weight: the golfer may have moved in one of the still windows, or a plate drifts", 100*largeCorrection)
	}
}

// largeCorrection, as a part of body weight, is more than plates drift in a
// swing. Common practice (no published source).
const largeCorrection = 0.01
