package torque

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// Uncertainty says how sure the inputs of a moment are: the covariance of the
// wrench and the standard deviations of the centre of mass, m, whose errors are
// taken as independent of each other and of those of the force. (A centre of mass
// from forces alone shares the force's bias; over a swing its error is ruled by
// the bias of seconds ago, not by the noise of the moment.)
type Uncertainty struct {
	Wrench grf.Covariance
	COM    r3.Vec
}

// gradient holds the derivatives of a quantity with respect to Fx Fy Fz Mx My Mz
// and the coordinates of the centre of mass.
type gradient struct {
	wrench [6]float64
	com    [3]float64
}

// sd is the first-order standard deviation (JCGM 100:2008, equation 13).
func (g *gradient) sd(u *Uncertainty) float64 {
	v := u.Wrench.Variance(&g.wrench)
	for i, s := range [3]float64{u.COM.X, u.COM.Y, u.COM.Z} {
		d := g.com[i] * s
		v += d * d
	}
	return math.Sqrt(v)
}

// plus returns a·g + b·h.
func (g gradient) plus(a float64, h gradient, b float64) gradient {
	for i := range g.wrench {
		g.wrench[i] = a*g.wrench[i] + b*h.wrench[i]
	}
	for i := range g.com {
		g.com[i] = a*g.com[i] + b*h.com[i]
	}
	return g
}

// moments returns the gradients of the three components of M − r × F.
func moments(w grf.Wrench, com r3.Vec) (x, y, z gradient) {
	f, r := w.Force, com
	x = gradient{[6]float64{0, r.Z, -r.Y, 1, 0, 0}, [3]float64{0, -f.Z, f.Y}}
	y = gradient{[6]float64{-r.Z, 0, r.X, 0, 1, 0}, [3]float64{f.Z, 0, -f.X}}
	z = gradient{[6]float64{r.Y, -r.X, 0, 0, 0, 1}, [3]float64{-f.Y, f.X, 0}}
	return x, y, z
}

// freeMoment returns the gradient of the free moment about the centre of pressure
// on the plane Z = 0: T = Mz − x Fy + y Fx with x = −My/Fz and y = Mx/Fz.
func freeMoment(w grf.Wrench) gradient {
	f, m := w.Force, w.Moment
	x, y := -m.Y/f.Z, m.X/f.Z
	return gradient{wrench: [6]float64{y, -x, (f.Y*x - f.X*y) / f.Z, f.X / f.Z, f.Y / f.Z, 1}}
}

// AboutSD returns the standard deviations of [About] for the same wrench and
// centre of mass, N·m: first order, with analytic derivatives (JCGM 100:2008,
// clause 5). NaN in an input makes NaN what depends on it.
func AboutSD(w grf.Wrench, com r3.Vec, u *Uncertainty) Planes {
	x, y, z := moments(w, com)
	return Planes{x.sd(u), y.sd(u), z.sd(u)}
}

// InPlaneSD returns the standard deviation of the moment in a swing plane, N·m:
// see [InPlane]. It is not the root of the squares of its parts, because the
// components of a moment share their inputs.
func InPlaneSD(w grf.Wrench, com r3.Vec, inclination float64, u *Uncertainty) float64 {
	x, _, z := moments(w, com)
	g := x.plus(math.Sin(inclination), z, math.Cos(inclination))
	return g.sd(u)
}

// ArmsSD returns the standard deviations of what [Arms] returns, m, with the free
// moment taken about the centre of pressure of w on the plane Z = 0. They are NaN
// where the arms are.
func ArmsSD(w grf.Wrench, com r3.Vec, minForce float64, u *Uncertainty) Arm {
	f, m := w.Force, w.About(com)
	x, y, z := moments(w, com)
	t := freeMoment(w)
	free := w.Moment.Z + (w.Moment.Y*f.Y+w.Moment.X*f.X)/f.Z
	z = z.plus(1, t, -1) // r × F has no free moment
	arms := Arms(w, com, free, minForce)
	v := r3.Vec{X: m.X, Y: m.Y, Z: m.Z - free}

	out := Arm{Planes: Planes{
		Frontal:    quotientSD(x, v.X, f, r3.Vec{Y: 1, Z: 1}, u),
		Sagittal:   quotientSD(y, v.Y, f, r3.Vec{X: 1, Z: 1}, u),
		Horizontal: quotientSD(z, v.Z, f, r3.Vec{X: 1, Y: 1}, u),
	}}
	if d := r3.Norm(v); d > 0 {
		length := x.plus(v.X/d, y, v.Y/d).plus(1, z, v.Z/d)
		out.ThreeD = quotientSD(length, d, f, r3.Vec{X: 1, Y: 1, Z: 1}, u)
	}
	undefine := func(sd *float64, arm float64) {
		if math.IsNaN(arm) {
			*sd = math.NaN()
		}
	}
	undefine(&out.Frontal, arms.Frontal)
	undefine(&out.Sagittal, arms.Sagittal)
	undefine(&out.Horizontal, arms.Horizontal)
	undefine(&out.ThreeD, arms.ThreeD)
	return out
}

// quotientSD returns the standard deviation of value/|F in a plane|, where in marks the
// components of the force that lie in the plane.
func quotientSD(value gradient, v float64, f, in r3.Vec, u *Uncertainty) float64 {
	f = r3.Vec{X: in.X * f.X, Y: in.Y * f.Y, Z: in.Z * f.Z}
	n := r3.Norm(f)
	size := gradient{wrench: [6]float64{f.X / n, f.Y / n, f.Z / n}}
	g := value.plus(1/n, size, -v/(n*n))
	return g.sd(u)
}

// GroundMomentsSD holds the standard deviations of [GroundMoments], N·m.
type GroundMomentsSD struct {
	GroundForce           Planes
	Pivoting, FootContact float64
}

// PivotSD returns the standard deviations of what [Pivot] returns for the plane
// Z = 0. The errors of the feet are independent of each other; those of the centre
// of mass are taken from lead. They are NaN where that is.
func PivotSD(lead, trail grf.Wrench, com r3.Vec, minVertical float64, ofLead, ofTrail *Uncertainty) GroundMomentsSD {
	net := lead.Add(trail)
	g := Pivot(lead, trail, com, 0, minVertical)
	u := Uncertainty{Wrench: ofLead.Wrench.Add(ofTrail.Wrench), COM: ofLead.COM}
	x, y, z := moments(net, com)
	t, tl, tt := freeMoment(net), freeMoment(lead), freeMoment(trail)
	force := z.plus(1, t, -1)

	// What the feet do against each other is what of the net free moment is not
	// their own; the centre of mass is no part of it.
	feet := func(a, b gradient) float64 {
		return math.Hypot(a.sd(&Uncertainty{Wrench: ofLead.Wrench}), b.sd(&Uncertainty{Wrench: ofTrail.Wrench}))
	}
	out := GroundMomentsSD{
		GroundForce: Planes{x.sd(&u), y.sd(&u), force.sd(&u)},
		Pivoting:    feet(t.plus(1, tl, -1), t.plus(1, tt, -1)),
		FootContact: feet(tl, tt),
	}
	if math.IsNaN(g.GroundForce.Horizontal) {
		n := math.NaN()
		out.GroundForce = Planes{n, n, n}
	}
	if math.IsNaN(g.Pivoting()) {
		out.Pivoting, out.FootContact = math.NaN(), math.NaN()
	}
	return out
}
