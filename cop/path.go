package cop

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat"

	"example.com/momentarm/grf"
)

// NaNPolicy says what a path measure does with undefined samples.
type NaNPolicy int

const (
	// RefuseNaN returns an [*UndefinedError] when a sample is undefined.
	RefuseNaN NaNPolicy = iota
	// LongestRun measures the longest stretch of defined samples, the first of
	// several equal ones, and says so in a warning. Nothing is bridged: a path
	// across a gap is not known.
	LongestRun
)

// PathOptions are the choices of [MeasurePath].
type PathOptions struct {
	NaN NaNPolicy // what to do with undefined samples; the default refuses them
}

// Path holds measures of a centre-of-pressure path of N samples in the plane of
// X and Y, in m, s and Hz. With x and y the coordinates less their means and
// r = √(x² + y²); after Prieto et al. (1996), where X is anterior-posterior and
// Y medio-lateral.
//
// T, the duration that every rate below refers to, is the time between the
// first and the last sample, (N−1)/rate: N samples have N−1 steps between them.
// Some published values divide by N/rate instead; they are smaller by the factor
// (N−1)/N. Length, velocity and mean frequency depend on the filter and the
// sampling rate: compare only values from the same processing.
type Path struct {
	First, N int     // the measured samples are First … First+N−1 of the given path
	Rate     float64 // Hz
	Duration float64 // T, s

	X, Y AxisPath // per axis

	MeanDistance float64 // mean of r, m
	RMSDistance  float64 // √(mean of r²), m
	MaxDistance  float64 // greatest r, m
	Length       float64 // sum of the distances between consecutive samples, m
	MeanVelocity float64 // Length/T, m/s

	// MeanFrequency is MeanVelocity/(2π·MeanDistance), Hz: the turns per second
	// of a point that runs round a circle of radius MeanDistance at
	// MeanVelocity. NaN for a path that never moves.
	MeanFrequency float64
	// AreaRate is the area swept about the mean per second, m²/s: the sum of
	// |x(i+1)·y(i) − x(i)·y(i+1)| / (2T).
	AreaRate float64

	// SpectralFrequency is the centroid of the power spectrum, Hz: that of the
	// two axes weighted with their power (the sum of the density over its bins).
	// See [AxisPath]; NaN likewise. It changes by about a per cent when the axes
	// are turned.
	SpectralFrequency float64

	Ellipse Ellipse // 95 % prediction ellipse

	Warnings []grf.Warning
}

// AxisPath holds the measures of one axis, m, s and Hz.
type AxisPath struct {
	Mean          float64 // of the coordinate itself, m
	MeanDistance  float64 // mean of |x|, m
	RMSDistance   float64 // √(mean of x²), m: the standard deviation over N
	Min, Max      float64 // of the coordinate itself, m
	Range         float64 // Max − Min, m
	Length        float64 // sum of |x(i+1) − x(i)|, m
	MeanVelocity  float64 // Length/T, m/s
	MeanFrequency float64 // MeanVelocity/(4√2·MeanDistance), Hz; NaN when nothing moves

	// SpectralFrequency is the centroid ∫f·P df / ∫P df of the power spectral
	// density, Hz, from zero to half the sampling rate, estimated as Santos and
	// Duarte (2016) do: segments of N/2 samples that overlap by half, each less
	// its mean, periodic Hann window (Welch 1967). NaN with fewer than
	// 16 samples and for a path that never moves.
	SpectralFrequency float64
}

// minPath is the fewest samples for which the prediction ellipse is defined.
const minPath = 3

// MeasurePath returns measures of the path of a centre of pressure sampled at
// rate Hz. Heights do not count. The measures describe a path; nothing here says
// what is normal or healthy.
//
// It returns [grf.ErrNoData] for an empty path, one that wraps [grf.ErrRate] for
// a rate that is not positive or above [grf.MaxRate], an [*UndefinedError] for
// undefined samples, to which those beyond 10⁶ m belong, unless the options say
// otherwise, and a [*ShortError] when fewer than 3 samples are left.
func MeasurePath(path []r3.Vec, rate float64, opt PathOptions) (Path, error) {
	if !(rate > 0 && rate <= grf.MaxRate) {
		return Path{}, fmt.Errorf("%w: %g Hz", grf.ErrRate, rate)
	}
	if len(path) == 0 {
		return Path{}, grf.ErrNoData
	}
	first, n, err := stretch(path, opt.NaN)
	if err != nil {
		return Path{}, err
	}
	if n < minPath {
		return Path{}, &ShortError{Need: minPath, Got: n}
	}
	m := Path{First: first, N: n, Rate: rate, Duration: float64(n-1) / rate}
	if n < len(path) {
		m.Warnings = append(m.Warnings, grf.Warning{
			Code:  "undefined-samples",
			Where: "centre-of-pressure path",
			Text: fmt.Sprintf("measured samples %d to %d of %d, the longest stretch without undefined ones",
				first, first+n-1, len(path)),
		})
	}
	xs, ys := make([]float64, n), make([]float64, n)
	for i, p := range path[first : first+n] {
		xs[i], ys[i] = p.X, p.Y
	}
	m.X, m.Y = measureAxis(xs, m.Duration), measureAxis(ys, m.Duration)
	floats.AddConst(-m.X.Mean, xs)
	floats.AddConst(-m.Y.Mean, ys)

	var square float64
	for i := range xs {
		r := math.Hypot(xs[i], ys[i])
		m.MeanDistance += r / float64(n)
		square += r * r / float64(n)
		m.MaxDistance = math.Max(m.MaxDistance, r)
		if i+1 < n {
			m.Length += math.Hypot(xs[i+1]-xs[i], ys[i+1]-ys[i])
			m.AreaRate += math.Abs(xs[i+1]*ys[i]-xs[i]*ys[i+1]) / (2 * m.Duration)
		}
	}
	m.RMSDistance = math.Sqrt(square)
	m.MeanVelocity = m.Length / m.Duration
	m.MeanFrequency = perTurn(m.MeanVelocity, 2*math.Pi*m.MeanDistance)
	m.Ellipse = newEllipse(m.X.Mean, m.Y.Mean,
		stat.Variance(xs, nil), stat.Variance(ys, nil), stat.Covariance(xs, ys, nil), n)
	m.X.SpectralFrequency, m.Y.SpectralFrequency, m.SpectralFrequency = centroids(xs, ys, rate)
	return m, nil
}

func measureAxis(xs []float64, duration float64) AxisPath {
	a := AxisPath{Mean: stat.Mean(xs, nil), Min: floats.Min(xs), Max: floats.Max(xs)}
	a.Range = a.Max - a.Min
	var square float64
	for i, x := range xs {
		d := x - a.Mean
		a.MeanDistance += math.Abs(d) / float64(len(xs))
		square += d * d / float64(len(xs))
		if i+1 < len(xs) {
			a.Length += math.Abs(xs[i+1] - x)
		}
	}
	a.RMSDistance = math.Sqrt(square)
	a.MeanVelocity = a.Length / duration
	a.MeanFrequency = perTurn(a.MeanVelocity, 4*math.Sqrt2*a.MeanDistance)
	return a
}

// perTurn returns velocity/way. A path that never moves has neither, but its
// mean distance may be a rounding error instead of 0.
func perTurn(velocity, way float64) float64 {
	if velocity == 0 || way == 0 {
		return math.NaN()
	}
	return velocity / way
}

// farthest is a coordinate, m, beyond which there is no path, far from where squares
// become infinite.
const farthest = 1e6

// stretch returns the part of the path to measure.
func stretch(path []r3.Vec, policy NaNPolicy) (first, n int, err error) {
	missing := &UndefinedError{First: -1}
	start := 0 // of the present run
	for i := 0; i <= len(path); i++ {
		if i < len(path) && math.Abs(path[i].X) <= farthest && math.Abs(path[i].Y) <= farthest {
			continue
		}
		if i-start > n {
			first, n = start, i-start
		}
		start = i + 1
		if i < len(path) {
			if missing.Count == 0 {
				missing.First = i
			}
			missing.Count++
		}
	}
	if missing.Count > 0 && policy != LongestRun {
		return 0, 0, missing
	}
	return first, n, nil
}
