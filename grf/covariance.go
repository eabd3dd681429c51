package grf

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat"
)

// Covariance is that of the components of a wrench, in the order Fx Fy Fz Mx My
// Mz: N², N²·m and N²·m². It is symmetric. The zero value means: known exactly.
// Independent causes of error add up.
type Covariance [6][6]float64

// Diagonal returns the covariance of components with these standard deviations
// that are independent of each other.
func Diagonal(sd Wrench) Covariance {
	var c Covariance
	for i, s := range components(sd) {
		c[i][i] = s * s
	}
	return c
}

// CovarianceOf returns the sample covariance of wrenches, such as those of a quiet
// stance or of an unloaded plate. Wrenches with NaN are left out; with fewer than
// two others it is NaN. Of a series without horizontal forces ([VerticalOnly]) it
// is NaN in the rows and columns of what was not measured.
func CovarianceOf(ws []Wrench) Covariance {
	var c Covariance
	x := mat.NewDense(max(len(ws), 1), 6, nil)
	n := 0
	flat := VerticalOnly(ws)
	for _, w := range ws {
		if flat {
			w.Force.X, w.Force.Y, w.Moment.Z = 0, 0, 0
		}
		if !w.IsNaN() {
			v := components(w)
			x.SetRow(n, v[:])
			n++
		}
	}
	if n < 2 {
		for i := range c {
			for j := range c {
				c[i][j] = math.NaN()
			}
		}
		return c
	}
	var s mat.SymDense
	stat.CovarianceMatrix(&s, x.Slice(0, n, 0, 6), nil)
	for i := range c {
		for j := range c {
			c[i][j] = s.At(i, j)
		}
	}
	if flat {
		for _, i := range [...]int{0, 1, 5} { // Fx, Fy, Mz
			for j := range c {
				c[i][j], c[j][i] = math.NaN(), math.NaN()
			}
		}
	}
	return c
}

// Misplaced returns the covariance that a plate brings in whose place is known
// with the standard deviations sd, m, and that carries the force f: moving the
// plate by δ changes the moment by δ × f. A component of f that is NaN makes those
// elements NaN that it has a part in.
func Misplaced(f, sd r3.Vec) Covariance {
	var c Covariance
	// Columns of δ ↦ δ × f.
	for _, m := range [3]struct {
		sd     float64
		column r3.Vec
	}{{sd.X, r3.Vec{Y: -f.Z, Z: f.Y}}, {sd.Y, r3.Vec{X: f.Z, Z: -f.X}}, {sd.Z, r3.Vec{X: -f.Y, Y: f.X}}} {
		if m.sd == 0 {
			continue // known exactly, whatever the force
		}
		v := [3]float64{m.sd * m.column.X, m.sd * m.column.Y, m.sd * m.column.Z}
		for i := range v {
			for j := range v {
				c[3+i][3+j] += v[i] * v[j]
			}
		}
	}
	return c
}

// Add returns the sum of both: that of the sum of two wrenches with independent
// errors, or of one wrench with two independent causes of error.
func (c Covariance) Add(d Covariance) Covariance {
	for i := range c {
		for j := range c {
			c[i][j] += d[i][j]
		}
	}
	return c
}

// Scale returns k times c; errors that are k times as large have k² times the
// covariance.
func (c Covariance) Scale(k float64) Covariance {
	for i := range c {
		for j := range c {
			c[i][j] *= k
		}
	}
	return c
}

// SD returns the standard deviation of each component.
func (c Covariance) SD() Wrench {
	s := func(i int) float64 { return math.Sqrt(c[i][i]) }
	return Wrench{r3.Vec{X: s(0), Y: s(1), Z: s(2)}, r3.Vec{X: s(3), Y: s(4), Z: s(5)}}
}

// Variance returns that of a quantity whose derivatives with respect to the six
// components are g (first order: JCGM 100:2008, equation 13). A component with a
// derivative of 0 has no part in it, even if nothing is known about it.
func (c *Covariance) Variance(g *[6]float64) float64 {
	var sum float64
	for i := range g {
		if g[i] == 0 {
			continue
		}
		for j := range g {
			if g[j] == 0 {
				continue
			}
			sum += float64(float64(g[i]*g[j]) * c[i][j])
		}
	}
	return sum
}
