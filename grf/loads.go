package grf

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// ErrExcitation means loads that leave a direction out.
var ErrExcitation = errors.New("grf: the loads do not excite every direction")

// ExcitationError says which directions a set of loads leaves out, so that no
// calibration follows from it; it wraps [ErrExcitation].
type ExcitationError struct {
	Need, Rank int
	Missing    []LoadDirection // Need − Rank of them
}

func (e *ExcitationError) Error() string {
	names := make([]string, len(e.Missing))
	for i, d := range e.Missing {
		names[i] = d.String()
	}
	return fmt.Sprintf("%v: %d of %d are told apart; missing is %s; add loads along them",
		ErrExcitation, e.Rank, e.Need, strings.Join(names, ", "))
}

func (e *ExcitationError) Unwrap() error { return ErrExcitation }

// LoadDirection is a mixture of the components of a load: parts of unit length in
// all, forces against the root mean square force of a set of loads, moments against
// that force times its lever, and Zero for the reading without load.
type LoadDirection struct {
	Force, Moment r3.Vec
	Zero          float64
	// Excited is the root mean square of the loads along the direction as a part
	// of that along the best one.
	Excited float64
}

// String names the components that have a part of at least 0.1, such as "Mz" or
// "0.96·Fx − 0.29·My".
func (d LoadDirection) String() string {
	parts := append(componentList(d), d.Zero)
	names := []string{"Fx", "Fy", "Fz", "Mx", "My", "Mz", "the reading without load"}
	var b strings.Builder
	for i, v := range parts {
		switch {
		case math.Abs(v) < 0.1:
			continue
		case math.Abs(v) > 0.995:
			return names[i]
		case b.Len() == 0 && v < 0:
			b.WriteString("−")
		case b.Len() > 0 && v < 0:
			b.WriteString(" − ")
		case b.Len() > 0:
			b.WriteString(" + ")
		}
		fmt.Fprintf(&b, "%.2f·%s", math.Abs(v), names[i])
	}
	return b.String()
}

func componentList(d LoadDirection) []float64 {
	c := components(Wrench{d.Force, d.Moment})
	return c[:]
}

// loadDesign is the matrix of the loads, one row each, with all six components made
// comparable: forces over force, moments over force times lever. A last column of
// ones stands for the reading without load.
type loadDesign struct {
	zero         bool
	terms        int
	force, lever float64
	weights      []float64 // roots
	a            *mat.Dense
	values       []float64
	u, v         mat.Dense
}

func newLoadDesign(loads []KnownLoad, zero bool) (*loadDesign, error) {
	d := &loadDesign{zero: zero, terms: 6, weights: make([]float64, len(loads))}
	if zero {
		d.terms = 7
	}
	d.scale(loads)
	d.a = mat.NewDense(len(loads), d.terms, nil)
	for k, l := range loads {
		d.weights[k] = 1
		if l.Weight > 0 {
			d.weights[k] = math.Sqrt(l.Weight)
		}
		for i, v := range components(l.wrench()) {
			d.a.Set(k, i, d.weights[k]*v/d.unit(i))
		}
		if zero {
			d.a.Set(k, 6, d.weights[k])
		}
	}
	var svd mat.SVD
	if !svd.Factorize(d.a, mat.SVDFullV|mat.SVDThinU) {
		return nil, fmt.Errorf("%w: their sizes are too far apart", ErrKnownLoads)
	}
	d.values = make([]float64, min(len(loads), d.terms), d.terms)
	svd.Values(d.values)
	for len(d.values) < d.terms {
		d.values = append(d.values, 0) // fewer loads than terms
	}
	svd.UTo(&d.u)
	svd.VTo(&d.v)
	return d, nil
}

// scale chooses what makes forces and moments comparable.
func (d *loadDesign) scale(loads []KnownLoad) {
	var middle r3.Vec
	var force, couple, spread float64
	loaded := 0.0
	for _, l := range loads {
		if f := r3.Norm2(l.Force); f > 0 {
			middle = r3.Add(middle, l.Point)
			loaded++
			force += f
		}
		couple += r3.Norm2(l.Couple)
	}
	if loaded == 0 { // twists alone
		d.force, d.lever = 1, math.Sqrt(couple/float64(len(loads)))
		return
	}
	middle = r3.Scale(1/loaded, middle)
	for _, l := range loads {
		if r3.Norm2(l.Force) > 0 {
			spread += r3.Norm2(r3.Sub(l.Point, middle))
		}
	}
	d.force = math.Sqrt(force / float64(len(loads)))
	d.lever = math.Max(math.Sqrt(spread/loaded), math.Sqrt(couple/float64(len(loads)))/d.force)
	if !(d.lever > 1e-6) {
		d.lever = 0.1 // all at one point: any plate's size will do to say so
	}
}

// unit is what one of a column of the design stands for, N, N·m or 1.
func (d *loadDesign) unit(i int) float64 {
	switch {
	case i < 3:
		return d.force
	case i < 6:
		return d.force * d.lever
	}
	return 1
}

// negligible is the part of the best excited direction from which another one
// counts as not excited at all.
const negligible = 1e-6

func (d *loadDesign) check() error {
	rank := 0
	for _, s := range d.values {
		if s > negligible*d.values[0] {
			rank++
		}
	}
	if rank == d.terms {
		return nil
	}
	return &ExcitationError{Need: d.terms, Rank: rank, Missing: d.missing(rank)}
}

// missing returns directions that span what is not excited, single components
// where it holds them.
func (d *loadDesign) missing(rank int) []LoadDirection {
	var basis [][]float64
	for k := rank; k < d.terms; k++ {
		basis = append(basis, mat.Col(nil, k, &d.v))
	}
	// Elimination with the largest element as pivot: what is left of each vector
	// has as few components as the basis allows.
	used := make([]bool, d.terms)
	for r := range basis {
		pivot, row := -1, r
		for k := r; k < len(basis); k++ {
			for i, v := range basis[k] {
				if !used[i] && (pivot < 0 || math.Abs(v) > math.Abs(basis[row][pivot])) {
					pivot, row = i, k
				}
			}
		}
		basis[r], basis[row] = basis[row], basis[r]
		used[pivot] = true
		for k := range basis {
			if k == r {
				continue
			}
			f := basis[k][pivot] / basis[r][pivot]
			for i := range basis[k] {
				basis[k][i] -= f * basis[r][i]
			}
		}
	}
	out := make([]LoadDirection, len(basis))
	for k, v := range basis {
		var size float64
		for _, x := range v {
			size += x * x
		}
		out[k] = d.named(v, math.Sqrt(size), 0)
	}
	first := func(l LoadDirection) int {
		return slices.IndexFunc(append(componentList(l), 1), func(x float64) bool { return math.Abs(x) >= 0.1 })
	}
	slices.SortStableFunc(out, func(a, b LoadDirection) int { return first(a) - first(b) })
	return out
}

// direction returns the k-th best excited direction.
func (d *loadDesign) direction(k int) LoadDirection {
	return d.named(mat.Col(nil, k, &d.v), 1, d.values[k]/d.values[0])
}

func (d *loadDesign) named(v []float64, size, excited float64) LoadDirection {
	// The largest part is positive: a direction has no sense.
	most := 0.0
	for _, x := range v {
		if math.Abs(x) > math.Abs(most) {
			most = x
		}
	}
	size = math.Copysign(size, most)
	at := func(i int) float64 { return v[i] / size }
	l := LoadDirection{Force: r3.Vec{X: at(0), Y: at(1), Z: at(2)}, Moment: r3.Vec{X: at(3), Y: at(4), Z: at(5)}, Excited: excited}
	if d.zero {
		l.Zero = at(6)
	}
	return l
}

func (d *loadDesign) condition() float64 { return d.values[0] / d.values[d.terms-1] }

// solve returns the least-squares fit of the readings, terms × channels, in their
// unit per N, per N·m and as they are.
func (d *loadDesign) solve(readings *mat.Dense) *mat.Dense {
	_, channels := readings.Dims()
	weighted := mat.DenseCopyOf(readings)
	for k, w := range d.weights {
		for j := range channels {
			weighted.Set(k, j, w*readings.At(k, j))
		}
	}
	var uy, fit mat.Dense
	uy.Mul(d.u.T(), weighted) // terms × channels
	for i, s := range d.values {
		for j := range channels {
			uy.Set(i, j, uy.At(i, j)/s)
		}
	}
	fit.Mul(&d.v, &uy)
	for i := range d.terms {
		for j := range channels {
			fit.Set(i, j, fit.At(i, j)/d.unit(i))
		}
	}
	return &fit
}

// covariance returns (AᵀWA)⁻¹ in the units of solve: the covariance of the terms of
// one channel whose readings of weight 1 have the variance 1.
func (d *loadDesign) covariance() *mat.Dense {
	scaled := mat.DenseCopyOf(&d.v)
	for i := range d.terms {
		for k, s := range d.values {
			scaled.Set(i, k, d.v.At(i, k)/s/d.unit(i))
		}
	}
	var c mat.Dense
	c.Mul(scaled, scaled.T())
	return &c
}

// noise returns the covariance of the channels about the fit, per load of weight 1;
// NaN without spare loads.
func (d *loadDesign) noise(fit, readings *mat.Dense, spare int) *mat.Dense {
	_, channels := readings.Dims()
	var model, c mat.Dense
	unscaled := mat.DenseCopyOf(fit)
	for i := range d.terms {
		for j := range channels {
			unscaled.Set(i, j, fit.At(i, j)*d.unit(i))
		}
	}
	model.Mul(d.a, unscaled) // weighted
	for k, w := range d.weights {
		for j := range channels {
			model.Set(k, j, w*readings.At(k, j)-model.At(k, j))
		}
	}
	c.Mul(model.T(), &model)
	scale := math.NaN()
	if spare > 0 {
		scale = 1 / float64(spare)
	}
	c.Apply(func(_, _ int, v float64) float64 { return v * scale }, &c)
	return &c
}
