package cop

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// OfSD returns the standard deviations of what [Of] returns for w, whose errors
// have the covariance cov: of the centre of pressure, m (its Z is given and has
// none), and of the free moment, N·m. They are NaN where those are.
//
// It is the first-order propagation of JCGM 100:2008, clause 5, with the
// derivatives, for the plane Z = h,
//
//	dx = (h dFx − x dFz − dMy)/Fz        dy = (h dFy − y dFz + dMx)/Fz
//	dT = dMz − Fy dx − x dFy + Fx dy + y dFx
//
// so that the errors of a channel that feeds both the force and the moment are
// counted once. A centre of pressure under little load is not normally
// distributed; where the vertical force is less than some five times its own
// standard deviation the figure is too small.
func OfSD(w grf.Wrench, cov *grf.Covariance, height, minVertical float64) (p r3.Vec, free float64) {
	at, t := Of(w, height, minVertical)
	if math.IsNaN(at.X) {
		return undefined()
	}
	gx, gy, gt := gradients(w, at, height)
	p = r3.Vec{X: math.Sqrt(cov.Variance(&gx)), Y: math.Sqrt(cov.Variance(&gy))}
	if math.IsNaN(t) {
		return p, t
	}
	return p, math.Sqrt(cov.Variance(&gt))
}

// gradients returns the derivatives of x, y and the free moment with respect to
// Fx Fy Fz Mx My Mz.
func gradients(w grf.Wrench, at r3.Vec, height float64) (gx, gy, gt [6]float64) {
	f := w.Force
	gx = [6]float64{height / f.Z, 0, -at.X / f.Z, 0, -1 / f.Z, 0}
	gy = [6]float64{0, height / f.Z, -at.Y / f.Z, 1 / f.Z, 0, 0}
	gt = [6]float64{at.Y, -at.X, 0, 0, 0, 1}
	for i := range gt {
		gt[i] += f.X*gy[i] - f.Y*gx[i]
	}
	return gx, gy, gt
}

// ShareSD returns the standard deviation of [Share] for feet whose vertical forces
// have the standard deviations leadSD and trailSD, N, independent of each other;
// NaN where the share is.
func ShareSD(lead, trail grf.Wrench, leadSD, trailSD float64) float64 {
	l, t := lead.Force.Z, trail.Force.Z
	if math.IsNaN(Share(lead, trail)) {
		return math.NaN()
	}
	sum := l + t
	return math.Hypot(t*leadSD, l*trailSD) / (sum * sum)
}
