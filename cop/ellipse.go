package cop

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Ellipse is the 95 % prediction ellipse of a centre-of-pressure path: the
// region that holds the next sample with a probability of 0.95 if the samples
// are independent and normally distributed, which those of a path are not: take
// it as a description of the spread. It is (p − mean)ᵀ S⁻¹ (p − mean) = k with S
// the covariance matrix over N−1 and k as in [PredictionFactor] (Chew 1966;
// recommended for sway by Schubert and Kirchner 2014). It is neither the
// confidence ellipse of the mean, which shrinks as N grows, nor the χ² form,
// which takes 5.991 for k.
type Ellipse struct {
	Centre      r3.Vec  // mean position, m, Z = 0
	Area        float64 // π·Major·Minor, m²
	Major       float64 // long semi-axis, m
	Minor       float64 // short semi-axis, m
	Orientation float64 // of the long axis, rad from X toward Y, in (−π/2, π/2]; NaN for a circle
}

// At returns the point of the ellipse at a parameter of t rad, counted from an
// end of the long axis, for drawing it. It is NaN for a circle, which has no
// long axis.
func (e Ellipse) At(t float64) r3.Vec {
	sin, cos := math.Sincos(e.Orientation)
	s, c := math.Sincos(t)
	u, v := e.Major*c, e.Minor*s
	return r3.Vec{X: e.Centre.X + u*cos - v*sin, Y: e.Centre.Y + u*sin + v*cos}
}

// PredictionFactor returns the square of the 95 % prediction radius for n pairs
// in units of their standard deviations (over n−1):
//
//	k = 2·F(0.95; 2, n−2)·(n+1)(n−1) / (n(n−2))
//
// with the closed form F(0.95; 2, m) = (m/2)(0.05^(−2/m) − 1). It is NaN for
// fewer than 3 pairs and tends to −2 ln 0.05 = 5.991 (χ²) for many.
func PredictionFactor(n int) float64 {
	if n < 3 {
		return math.NaN()
	}
	m := float64(n - 2)
	// expm1 keeps the digits where 0.05^(−2/m) is near 1.
	f := m / 2 * math.Expm1(-2/m*math.Log(0.05))
	nn := float64(n)
	return 2 * f * (nn + 1) * (nn - 1) / (nn * m)
}

func newEllipse(x, y, xx, yy, xy float64, n int) Ellipse {
	k := PredictionFactor(n)
	e := eigen2(xx, yy, xy)
	major, minor := math.Sqrt(k*e.large), math.Sqrt(k*math.Max(e.small, 0))
	return Ellipse{
		Centre:      r3.Vec{X: x, Y: y},
		Area:        math.Pi * k * math.Sqrt(math.Max(xx*yy-xy*xy, 0)),
		Major:       major,
		Minor:       minor,
		Orientation: e.angle,
	}
}
