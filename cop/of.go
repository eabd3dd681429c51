package cop

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// DefaultMinVertical is the vertical force, in N, under which a centre of
// pressure counts as undefined unless the caller says otherwise: common
// practice (no published source). D.A. Winter (2009), Biomechanics and Motor
// Control of Human Movement, 4th ed., ch. 5, warns below 2 % of body weight,
// which is 15 N for 75 kg.
const DefaultMinVertical = 20.0

// Threshold returns a load threshold for plates whose unloaded vertical force
// has the standard deviation sd, in N: five standard deviations, and at least
// [DefaultMinVertical]: common practice (no published source). An sd that is
// NaN (unknown) or negative gives the default.
func Threshold(sd float64) float64 {
	if t := 5 * sd; t > DefaultMinVertical {
		return t
	}
	return DefaultMinVertical
}

// Of returns the centre of pressure of w on the horizontal plane Z = height, in
// m, and the free moment about the vertical through it, in N·m, positive
// counter-clockwise as seen from above:
//
//	x = (height·Fx − My) / Fz
//	y = (height·Fy + Mx) / Fz
//	free = Mz − x·Fy + y·Fx
//
// which is the balance of moments about (x, y, height). Both are NaN, p in all
// three coordinates, when the vertical force is less than minVertical
// newtons, zero, or negative (a force on the plate, or noise), when minVertical
// is NaN, and when a component of w that p is made of is NaN or infinite: Fz, Mx,
// My and, unless height is 0, Fx and Fy. The free moment is NaN when any component
// is. So a wrench without horizontal forces (see [grf.Vertical]) has a centre of
// pressure on the surface Z = 0, and no free moment.
func Of(w grf.Wrench, height, minVertical float64) (p r3.Vec, free float64) {
	OfTo(&p, &free, &w, height, minVertical)
	return p, free
}

// OfTo sets p and free to what [Of] returns. It is for live systems: nothing is copied
// on the way.
func OfTo(p *r3.Vec, free *float64, w *grf.Wrench, height, minVertical float64) {
	f, m := &w.Force, &w.Moment
	if !loaded(f.Z, minVertical) {
		*p, *free = undefined()
		return
	}
	x, y := -m.Y, m.X
	if height != 0 {
		x, y = height*f.X-m.Y, height*f.Y+m.X
	}
	z := 1 / f.Z             // a live system has no time to divide twice
	if z > math.MaxFloat64 { // the force is subnormal
		x, y = x/f.Z, y/f.Z
	} else {
		x, y = x*z, y*z
	}
	if !isFinite(x + y + height) {
		*p, *free = undefined()
		return
	}
	left := m.Z - (x*f.Y - y*f.X)
	if !isFinite(left) {
		left = math.NaN()
	}
	p.X, p.Y, p.Z, *free = x, y, height, left
}

// OnPlane returns the centre of pressure of w on the plane through the point
// through with the given normal (of any length), in m, and the free moment
// about the unit normal, in N·m. With n the unit normal and Mc the moment about
// through, the point is through + n × Mc / (n·F), and the free moment is
// n·(Mc − r × F) with r = n × Mc / (n·F): what is left of Mc once the force acts
// at that point, which is along n alone.
//
// Turning the normal round leaves the point and changes the sign of the free
// moment. Both results are NaN, p in all three coordinates, when |n·F| is less
// than minNormal newtons or zero, when the normal is zero, when minNormal is
// NaN, and when any component of the arguments is NaN or infinite. Unlike [Of] it
// accepts a force in either sense of the normal: the caller's choice of a
// normal says nothing about the direction of the push.
func OnPlane(w grf.Wrench, through, normal r3.Vec, minNormal float64) (p r3.Vec, free float64) {
	n := r3.Unit(normal) // NaN for a zero normal
	fn := r3.Dot(n, w.Force)
	if !loaded(math.Abs(fn), minNormal) {
		return undefined()
	}
	mc := w.About(through)
	r := r3.Scale(1/fn, r3.Cross(n, mc))
	p = r3.Add(through, r)
	free = r3.Dot(n, r3.Sub(mc, r3.Cross(r, w.Force)))
	if !isFinite(p.X+p.Y+p.Z) || !isFinite(free) {
		return undefined()
	}
	return p, free
}

// Net returns the centre of pressure and the free moment of both feet together:
// [Of] the sum of the wrenches. The threshold applies to the total vertical
// force, so a foot in the air does not make the net undefined. The net free
// moment is not the sum of the free moments of the feet: the couple of their
// horizontal forces is in it.
func Net(lead, trail grf.Wrench, height, minVertical float64) (p r3.Vec, free float64) {
	return Of(lead.Add(trail), height, minVertical)
}

// WrenchAxisPoint returns the point where the axis of w's screw crosses the
// horizontal plane Z = height, in m, and the couple that is left there, in N·m,
// which is parallel to the force (T. Shimba 1984, J. Biomech. 17(1):53-60). It
// is not the centre of pressure: the two differ wherever both a free moment and
// a horizontal force act. Both are NaN without load, as in [Of], and when any
// component of w is NaN or infinite.
func WrenchAxisPoint(w grf.Wrench, height, minVertical float64) (p, couple r3.Vec) {
	f, m := w.Force, w.Moment
	if !loaded(f.Z, minVertical) {
		return nan3(), nan3()
	}
	f2 := r3.Norm2(f)
	foot := r3.Scale(1/f2, r3.Cross(f, m)) // point of the axis nearest the origin
	p = r3.Add(foot, r3.Scale((height-foot.Z)/f.Z, f))
	p.Z = height
	couple = r3.Scale(r3.Dot(f, m)/f2, f)
	if !isFinite(p.X+p.Y+p.Z) || !isFinite(couple.X+couple.Y+couple.Z) {
		return nan3(), nan3()
	}
	return p, couple
}

// loaded reports whether a vertical force carries a centre of pressure.
func loaded(vertical, minVertical float64) bool {
	return vertical >= minVertical && vertical > 0 && isFinite(vertical)
}

func undefined() (r3.Vec, float64) { return nan3(), math.NaN() }

func nan3() r3.Vec {
	n := math.NaN()
	return r3.Vec{X: n, Y: n, Z: n}
}

func isFinite(x float64) bool { return x-x == 0 } // NaN − NaN and ∞ − ∞ are NaN

func defined(p r3.Vec) bool { return isFinite(p.X) && isFinite(p.Y) && isFinite(p.Z) }
