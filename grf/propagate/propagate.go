package propagate

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

var (
	// ErrShape means matrices or slices whose sizes do not belong together.
	ErrShape = errors.New("propagate: sizes do not match")
	// ErrTooFew means fewer observations than a standard deviation needs.
	ErrTooFew = errors.New("propagate: too few observations")
)

// Covariance sets dst to J C Jᵀ and returns it: the covariance of m results
// with the m × n Jacobian j, of n inputs with covariance c (GUM 5.2.2, equation
// 13, for each result, and H.2.3, equation H.9, between results). dst may be
// nil; otherwise it must be m × m or empty, and not one of the inputs.
func Covariance(dst *mat.SymDense, j mat.Matrix, c mat.Symmetric) (*mat.SymDense, error) {
	m, n := j.Dims()
	if c.SymmetricDim() != n {
		return nil, fmt.Errorf("%w: Jacobian %d×%d with covariance of %d inputs", ErrShape, m, n, c.SymmetricDim())
	}
	if dst == nil {
		dst = mat.NewSymDense(m, nil)
	} else if dst.IsEmpty() {
		dst.ReuseAsSym(m)
	} else if dst.SymmetricDim() != m {
		return nil, fmt.Errorf("%w: destination for %d results, Jacobian has %d", ErrShape, dst.SymmetricDim(), m)
	}
	for r := range m {
		for s := r; s < m; s++ {
			var sum float64
			for p := range n {
				var row float64
				for q := range n {
					row += float64(c.At(p, q) * j.At(s, q))
				}
				sum += float64(j.At(r, p) * row)
			}
			dst.SetSym(r, s, sum)
		}
	}
	return dst, nil
}

// SD returns the standard deviation of one result from its gradient and the
// covariance of the inputs.
func SD(gradient []float64, c mat.Symmetric) (float64, error) {
	if c.SymmetricDim() != len(gradient) {
		return math.NaN(), fmt.Errorf("%w: gradient of %d with covariance of %d inputs", ErrShape, len(gradient), c.SymmetricDim())
	}
	var sum float64
	for p, g := range gradient {
		for q, h := range gradient {
			sum += float64(g * float64(c.At(p, q)*h))
		}
	}
	// Full correlation can cancel to a rounding error below zero.
	if sum < 0 {
		sum = 0
	}
	return math.Sqrt(sum), nil
}

// Independent returns the covariance of inputs that do not depend on each
// other, from their standard deviations.
func Independent(sd ...float64) *mat.DiagDense {
	v := make([]float64, len(sd))
	for i, s := range sd {
		v[i] = s * s
	}
	return mat.NewDiagDense(len(v), v)
}

// Correlation returns the correlations in covariance c; NaN where a variance is
// zero.
func Correlation(c mat.Symmetric) *mat.SymDense {
	n := c.SymmetricDim()
	r := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			r.SetSym(i, j, c.At(i, j)/math.Sqrt(c.At(i, i)*c.At(j, j)))
		}
	}
	return r
}

// OfMeans returns the means of simultaneous observations and the covariance of
// these means (type A evaluation, GUM 4.2.3 and 5.2.3): obs[i][k] is
// observation k of input i. It needs two observations of each input, as many of
// each.
func OfMeans(obs [][]float64) (means []float64, c *mat.SymDense, err error) {
	if len(obs) == 0 {
		return nil, nil, fmt.Errorf("%w: no inputs", ErrTooFew)
	}
	n := len(obs[0])
	if n < 2 {
		return nil, nil, fmt.Errorf("%w: %d, need 2", ErrTooFew, n)
	}
	means = make([]float64, len(obs))
	for i, o := range obs {
		if len(o) != n {
			return nil, nil, fmt.Errorf("%w: input %d has %d observations, input 0 has %d", ErrShape, i, len(o), n)
		}
		means[i] = stat.Mean(o, nil)
	}
	c = mat.NewSymDense(len(obs), nil)
	for i := range obs {
		for j := i; j < len(obs); j++ {
			c.SetSym(i, j, stat.Covariance(obs[i], obs[j], nil)/float64(n))
		}
	}
	return means, c, nil
}

// Rectangular returns the standard deviation of a value that lies anywhere
// within ±half alike: half/√3 (GUM 4.3.7).
func Rectangular(half float64) float64 { return half / math.Sqrt(3) }

// Triangular returns the standard deviation of a value within ±half that is
// more likely in the middle: half/√6 (GUM 4.3.9).
func Triangular(half float64) float64 { return half / math.Sqrt(6) }

// Arcsine returns the standard deviation of a value that swings between ±half
// as a sine: half/√2 (GUM H.1.3.4).
func Arcsine(half float64) float64 { return half / math.Sqrt2 }

// EffectiveDOF returns the degrees of freedom of a result from the standard
// deviations that the inputs contribute to it and their own degrees of freedom
// (Welch–Satterthwaite, GUM equation G.2b). An input whose degrees are +Inf
// takes no part. The result is +Inf when none does.
func EffectiveDOF(contributions, dof []float64) (float64, error) {
	if len(contributions) != len(dof) {
		return math.NaN(), fmt.Errorf("%w: %d contributions, %d degrees of freedom", ErrShape, len(contributions), len(dof))
	}
	var variance, sum float64
	for i, u := range contributions {
		v := u * u
		variance += v
		sum += v * v / dof[i]
	}
	return variance * variance / sum, nil
}

// CoverageFactor returns the k for which ±k standard deviations hold the value
// with the given probability (0 to 1), from Student's distribution with dof
// degrees of freedom (GUM G.3.2; +Inf for the normal). GUM G.4.1 rounds
// fractional degrees down first; this function does not.
func CoverageFactor(probability, dof float64) float64 {
	p := (1 + probability) / 2
	if math.IsInf(dof, 1) {
		return distuv.UnitNormal.Quantile(p)
	}
	return distuv.StudentsT{Sigma: 1, Nu: dof}.Quantile(p)
}
