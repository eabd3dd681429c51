package grf

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// ErrKnownLoads means loads that can not calibrate a plate: none, a value that is
// not finite or absurd, readings of different numbers of channels.
var ErrKnownLoads = errors.New("grf: unusable calibration loads")

// KnownLoad is a load that is known, and what the channels of the plate read under
// it.
type KnownLoad struct {
	// Force, N, acts at Point, m; Couple is a twist beside it, N·m. All are in
	// plate axes, the point from the measuring origin: moments about it are what
	// the calibrated channels will tell. Whoever writes the push on the plate here
	// gets a plate whose sense is [Action]; plate z usually points into the floor,
	// so that a dead weight is a force along +z.
	Force, Point, Couple r3.Vec

	// Channels are the mean readings, in whatever unit the plate has.
	Channels []float64

	// Weight is how much the readings count, as one over their variance; only the
	// ratio to the other loads matters. 0 means 1; 10⁻¹⁵ to 10¹⁵ are possible.
	Weight float64
}

// wrench returns the load as force and moment about the measuring origin.
func (l KnownLoad) wrench() Wrench { return At(l.Force, l.Point, l.Couple) }

// CalibrationOptions say what is fitted. The zero value means the defaults.
type CalibrationOptions struct {
	// Zero says whether the readings without load are fitted as well.
	Zero ZeroFit
	// ChannelSD are standard deviations of the channels' readings, which say how
	// the channels of a plate with more than six are weighed against each other;
	// only their ratios matter. nil means all alike. With six channels they have
	// no influence.
	ChannelSD []float64
}

// ZeroFit says what the readings of an unloaded plate are taken to be.
type ZeroFit int

const (
	// ZeroStated: the readings were zeroed, and no load reads 0.
	ZeroStated ZeroFit = iota
	// ZeroFitted: the readings without load are found together with the matrix.
	// It takes loads of different sizes, or an unloaded reading among the loads.
	ZeroFitted
)

// FittedCalibration is a calibration matrix and how well the loads determine it.
type FittedCalibration struct {
	// Matrix turns readings less Zero into Fx Fy Fz Mx My Mz about the measuring
	// origin, N and N·m: 6 rows, as [PlateConfig.Calibration] of the types
	// [TypeMomentCalibrated] (6 channels) and [TypeEightToMoment] (8) wants it.
	Matrix [][]float64
	// SE are the standard errors of its elements; NaN when no load is left over
	// to estimate them from.
	SE [][]float64

	// Zero are the readings without load, and ZeroSE their standard errors: zero
	// when they were not fitted. Subtract them from the channels first, or zero
	// the plate before use ([MeasureBaseline]), which takes their place.
	Zero, ZeroSE []float64

	// Sensitivity is what was fitted: the reading of each channel for a unit of
	// each load component, n rows of 6. Matrix is its inverse or, for more than
	// six channels, the inverse on the readings that loads can cause.
	Sensitivity [][]float64

	// Residuals are what the calibrated plate tells for the readings of each load,
	// less the load: N and N·m. RMS is their root mean square by component, and
	// ChannelSD that of the readings about the fit, corrected for the number of
	// fitted values: the estimate of the noise; NaN without loads left over.
	Residuals []Wrench
	RMS       Wrench
	ChannelSD []float64
	// Spare is the number of loads beyond those that the fit needs.
	Spare int

	// Condition is that of the loads: how many times better their strongest
	// direction is excited than their weakest, Weakest, with forces and moments
	// made comparable by Force (root mean square over the loads, N) and Lever
	// (root mean square distance of the points from their middle, m, or the
	// couples over Force, whichever is more). Below 10 is a balanced set of loads
	// (common practice, no published source).
	Condition    float64
	Weakest      LoadDirection
	Force, Lever float64
}

// Subtract sets dst to a sample of readings less Zero and returns it, grown if it
// was too short; dst may be channels. A number of channels other than that of the
// calibration gives nil.
func (f *FittedCalibration) Subtract(dst, channels []float64) []float64 {
	if len(channels) != len(f.Zero) {
		return nil
	}
	dst = grow(dst, len(channels))
	for i, v := range channels {
		dst[i] = v - f.Zero[i]
	}
	return dst
}

// FitCalibration fits a calibration matrix to known loads. The readings are taken
// to be linear in the load,
//
//	reading[j] = zero[j] + Σ Sensitivity[j][i] · load[i] + error
//
// with loads that are known exactly, and are fitted by weighted least squares (the
// classical way round of calibration: the known quantity is the cause, the reading
// has the error; C. Eisenhart (1939), Ann. Math. Stat. 10:162–186, from memory).
// Matrix is (Sᵀ P S)⁻¹ Sᵀ P with P the weights of the channels, which is S⁻¹ for six
// channels. Errors of the loads, such as a weight that was not quite where it is
// said to be, count as errors of the readings that it would cause. Standard errors
// are those of least squares with the noise taken from the residuals, carried over
// to the matrix to first order (JCGM 100:2008, clause 5).
//
// It takes at least six loads, seven with [ZeroFitted], that push along every axis
// and turn about every axis: dead weights alone never do. Otherwise the error is an
// [*ExcitationError] that says what is missing. It wraps [ErrKnownLoads] for loads
// or options that make no sense, and [ErrCalibration] when the channels do not tell
// the loads apart.
func FitCalibration(loads []KnownLoad, opt CalibrationOptions) (*FittedCalibration, error) {
	channels, err := checkLoads(loads, opt)
	if err != nil {
		return nil, err
	}
	d, err := newLoadDesign(loads, opt.Zero == ZeroFitted)
	if err != nil {
		return nil, err
	}
	if err := d.check(); err != nil {
		return nil, err
	}
	f := &FittedCalibration{
		Condition: d.condition(), Weakest: d.direction(d.terms - 1), Force: d.force, Lever: d.lever,
		Spare: len(loads) - d.terms,
	}
	readings := mat.NewDense(len(loads), channels, nil)
	for k, l := range loads {
		readings.SetRow(k, l.Channels)
	}
	fit := d.solve(readings)                               // terms × channels
	noise := d.noise(fit, readings, len(loads)-d.terms)    // channels × channels
	terms := d.covariance()                                // terms × terms, for a noise of 1
	s := mat.DenseCopyOf(fit.Slice(0, 6, 0, channels).T()) // channels × 6
	if err := f.invert(s, opt.ChannelSD, noise, terms.Slice(0, 6, 0, 6)); err != nil {
		return nil, err
	}
	f.Zero, f.ZeroSE, f.ChannelSD = make([]float64, channels), make([]float64, channels), make([]float64, channels)
	for j := range channels {
		f.ChannelSD[j] = math.Sqrt(noise.At(j, j))
		if d.zero {
			f.Zero[j] = fit.At(6, j)
			f.ZeroSE[j] = f.ChannelSD[j] * math.Sqrt(terms.At(6, 6))
		}
	}
	f.Sensitivity = rows(s)
	f.residuals(loads)
	return f, nil
}

// residuals holds the calibrated plate against the loads.
func (f *FittedCalibration) residuals(loads []KnownLoad) {
	var flat []float64
	for _, row := range f.Matrix {
		flat = append(flat, row...)
	}
	var sq [6]float64
	for _, l := range loads {
		r := apply(flat, f.Subtract(nil, l.Channels)).Sub(l.wrench())
		f.Residuals = append(f.Residuals, r)
		for i, v := range components(r) {
			sq[i] += v * v / float64(len(loads))
		}
	}
	root := func(i int) float64 { return math.Sqrt(sq[i]) }
	f.RMS = Wrench{r3.Vec{X: root(0), Y: root(1), Z: root(2)}, r3.Vec{X: root(3), Y: root(4), Z: root(5)}}
}

// invert sets Matrix and SE from the sensitivity s (n×6), whose elements S[j][i]
// and S[l][m] have the covariance noise[j][l]·terms[i][m].
//
// With G = SᵀPS and C = G⁻¹SᵀP the differential of C is
// dC = −C dS C + G⁻¹ dSᵀ P (1 − S C), whose second term is zero for n = 6.
func (f *FittedCalibration) invert(s *mat.Dense, channelSD []float64, noise, terms mat.Matrix) error {
	n, _ := s.Dims()
	p := mat.NewDiagDense(n, nil)
	for j := range n {
		w := 1.0
		if channelSD != nil {
			w = 1 / (channelSD[j] * channelSD[j])
		}
		p.SetDiag(j, w)
	}
	// Columns and rows are equilibrated first: units must not decide whether the
	// channels tell the loads apart.
	var svd mat.SVD
	if !svd.Factorize(equilibrated(s), mat.SVDNone) || svd.Rank(1e-9) < 6 {
		return fmt.Errorf("%w: the %d channels do not tell all loads apart; is one dead, or listed twice?", ErrCalibration, n)
	}
	var c mat.Dense
	gInv := mat.NewDense(6, 6, nil)
	rest := mat.NewDense(n, n, nil) // P (1 − S C)
	if n == 6 {
		// Better conditioned than by way of G.
		if err := c.Inverse(s); err != nil && !isCondition(err) {
			return fmt.Errorf("%w: %w", ErrCalibration, err)
		}
	} else {
		var sp, g mat.Dense
		sp.Mul(s.T(), p) // 6×n
		g.Mul(&sp, s)
		if err := gInv.Inverse(&g); err != nil && !isCondition(err) {
			return fmt.Errorf("%w: %w", ErrCalibration, err)
		}
		c.Mul(gInv, &sp)
		rest.Mul(s, &c)
		rest.Scale(-1, rest)
		for j := range n {
			rest.Set(j, j, rest.At(j, j)+1)
		}
		rest.Mul(p, rest)
	}
	f.Matrix = rows(&c)
	for _, row := range f.Matrix {
		for _, v := range row {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("%w: the readings are too small or too large against the loads", ErrCalibration)
			}
		}
	}
	f.SE = make([][]float64, 6)
	t := mat.NewDense(n, 6, nil) // derivative of C[a][b] with respect to S
	for a := range f.SE {
		f.SE[a] = make([]float64, n)
		for b := range n {
			for j := range n {
				for i := range 6 {
					t.Set(j, i, -c.At(a, j)*c.At(i, b)+gInv.At(a, i)*rest.At(j, b))
				}
			}
			var nt, tnt, v mat.Dense
			nt.Mul(noise, t)
			tnt.Mul(t.T(), &nt)
			v.Mul(&tnt, terms)
			f.SE[a][b] = math.Sqrt(math.Max(mat.Trace(&v), 0)) // NaN stays
		}
	}
	return nil
}

// isCondition reports whether err only warns of a badly conditioned matrix.
func isCondition(err error) bool {
	var c mat.Condition
	return errors.As(err, &c) && !math.IsInf(float64(c), 1)
}

// equilibrated returns m with columns, then rows, of unit length.
func equilibrated(m *mat.Dense) *mat.Dense {
	e := mat.DenseCopyOf(m)
	r, c := e.Dims()
	for j := range c {
		if n := mat.Norm(e.ColView(j), 2); n > 0 {
			for i := range r {
				e.Set(i, j, e.At(i, j)/n)
			}
		}
	}
	for i := range r {
		if n := mat.Norm(e.RowView(i), 2); n > 0 {
			for j := range c {
				e.Set(i, j, e.At(i, j)/n)
			}
		}
	}
	return e
}

func rows(m *mat.Dense) [][]float64 {
	r, _ := m.Dims()
	out := make([][]float64, r)
	for i := range out {
		out[i] = mat.Row(nil, i, m)
	}
	return out
}

// Bounds of what a calibration takes, so that no square of it becomes infinite or
// zero: N and N·m, m, and units of a channel.
const (
	mostLoad     = 1e9
	leastLoad    = 1e-9
	farthestLoad = 1e4
	mostWeight   = 1e15
	mostReading  = 1e15
)

// checkLoads returns the number of channels.
func checkLoads(loads []KnownLoad, opt CalibrationOptions) (int, error) {
	bad := func(format string, a ...any) (int, error) {
		return 0, fmt.Errorf("%w: "+format, append([]any{ErrKnownLoads}, a...)...)
	}
	if len(loads) == 0 {
		return bad("there are none")
	}
	if opt.Zero != ZeroStated && opt.Zero != ZeroFitted {
		return bad("a zero of kind %d is not known", opt.Zero)
	}
	n := len(loads[0].Channels)
	if n < 6 || n > 64 {
		return bad("%d channels; a plate that tells force and moment has at least six", n)
	}
	loaded := false
	for k, l := range loads {
		switch w := l.wrench(); {
		case len(l.Channels) != n:
			return bad("load %d has %d channels, load 1 has %d", k+1, len(l.Channels), n)
		case !finite(w.Force) || !finite(w.Moment) || !finite(l.Point):
			return bad("load %d is not finite: %v at %v with %v", k+1, l.Force, l.Point, l.Couple)
		case largest(l.Force) > mostLoad || largest(l.Couple) > mostLoad || largest(l.Point) > farthestLoad:
			return bad("load %d is not of this world: %v at %v with %v; are the units right?", k+1, l.Force, l.Point, l.Couple)
		case l.Weight != 0 && !(l.Weight >= 1/mostWeight && l.Weight <= mostWeight):
			return bad("load %d has the weight %g; 0 means 1, and 10⁻¹⁵ to 10¹⁵ are possible", k+1, l.Weight)
		case largest(l.Force) > leastLoad || largest(l.Couple) > leastLoad:
			loaded = true
		}
		for j, v := range l.Channels {
			if !(math.Abs(v) <= mostReading) {
				return bad("channel %d under load %d is %g", j+1, k+1, v)
			}
		}
	}
	if !loaded {
		return bad("all of them are zero")
	}
	if opt.ChannelSD != nil && len(opt.ChannelSD) != n {
		return bad("%d standard deviations for %d channels", len(opt.ChannelSD), n)
	}
	for j, sd := range opt.ChannelSD {
		if !(sd > 0) || math.IsInf(sd, 0) {
			return bad("channel %d has a standard deviation of %g", j+1, sd)
		}
	}
	return n, nil
}
