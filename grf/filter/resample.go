package filter

import (
	"fmt"
	"math"
	"slices"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/spatial/r3"
)

// Interpolation is the curve that is laid through samples.
type Interpolation int

const (
	// Linear joins neighbours by straight lines. It never overshoots.
	Linear Interpolation = iota
	// Cubic lays a cubic spline through each run of samples between gaps, with
	// the 'not-a-knot' condition at its ends; two samples give a line, three a
	// parabola. It is the better choice for smooth paths and overshoots beside
	// steps.
	Cubic
)

// String returns "linear" or "cubic".
func (k Interpolation) String() string {
	switch k {
	case Linear:
		return "linear"
	case Cubic:
		return "cubic"
	}
	return fmt.Sprintf("Interpolation(%d)", int(k))
}

// AntiAlias says whether a series is smoothed before it is put on a slower
// clock.
type AntiAlias int

const (
	// AntiAliasWhenSlower smooths with a zero-phase Butterworth low-pass of
	// order 4 per pass, −3 dB at 0.4 times the new rate, when the new rate is
	// below the old one. (The ratio of Quijoux et al. 2021, Physiological
	// Reports 9:e15067, who go from 10 Hz low-passed standing data to 25 Hz.)
	AntiAliasWhenSlower AntiAlias = iota
	// AntiAliasNever interpolates what there is; faster motion is then folded
	// into the result.
	AntiAliasNever
)

// String returns "when slower" or "never".
func (a AntiAlias) String() string {
	switch a {
	case AntiAliasWhenSlower:
		return "when slower"
	case AntiAliasNever:
		return "never"
	}
	return fmt.Sprintf("AntiAlias(%d)", int(a))
}

// antiAliasRatio is the cut-off of the low-pass, relative to the new rate, and
// antiAliasOrder its order per pass.
const (
	antiAliasRatio = 0.4
	antiAliasOrder = 4
)

// ResampleOptions say how a series is put on another clock. The zero value
// interpolates linearly, not across gaps, after smoothing if the clock is
// slower.
type ResampleOptions struct {
	Kind Interpolation
	// MaxGap is the longest interval between two measured samples, s, that is
	// bridged; 0 means 1.5 times the median interval of the stamps, so that a
	// single missing sample is a gap.
	MaxGap    float64
	AntiAlias AntiAlias
	// Jitter is how evenly the stamps must be spaced for the low-pass, see
	// [Timing.Even]; 0 means 0.001.
	Jitter float64
	// Short says what the low-pass does about runs not longer than its pad.
	Short ShortPolicy
}

// Resample puts a signal on another clock: times[i], s, is the stamp of src[i],
// evenly spaced or not; see [Clock.Times] for even ones. The result always has
// to.N samples: dst is grown if it was too short, and may share memory with
// src. A sample of src that is NaN is missing. Where the new clock has an
// instant before the first or after the last measured sample, or inside a gap,
// the result is NaN: nothing is extrapolated. An instant within a few millionths
// of a sample of an end counts as on it.
//
// Errors: stamps and samples of different number ([*grf.LengthError]), none
// measured ([grf.ErrNoData]), stamps out of order ([*TimeOrderError]), infinite
// samples ([*NotFiniteError]), an unusable clock ([ErrClock]), and, when the
// low-pass is needed, stamps that are not even ([*IrregularError]) or too few
// samples for it ([*TooShortError]).
//
// Resample copies and allocates; it is not meant for live use.
func Resample(dst []float64, to Clock, times, src []float64, opt ResampleOptions) ([]float64, error) {
	return resample(dst, to, times, src, opt, func(s []float64) floats { return floats{s, 1} })
}

// ResampleWrenches is [Resample] for wrenches. A wrench with a NaN in it is
// missing as a whole.
func ResampleWrenches(dst []grf.Wrench, to Clock, times []float64, src []grf.Wrench, opt ResampleOptions) ([]grf.Wrench, error) {
	return resample(dst, to, times, src, opt, func(s []grf.Wrench) wrenches { return s })
}

// ResampleVectors is [Resample] for vectors, such as the positions of a
// [grf.Track]. A vector with a NaN in it is missing as a whole.
func ResampleVectors(dst []r3.Vec, to Clock, times []float64, src []r3.Vec, opt ResampleOptions) ([]r3.Vec, error) {
	return resample(dst, to, times, src, opt, func(s []r3.Vec) vectors { return s })
}

func resample[T any, R rows[R]](dst []T, to Clock, times []float64, src []T, opt ResampleOptions, view func([]T) R) ([]T, error) {
	if len(times) != len(src) {
		return nil, &grf.LengthError{What: "samples against time stamps", Want: len(times), Got: len(src)}
	}
	if err := opt.check(); err != nil {
		return nil, err
	}
	if err := to.check(); err != nil {
		return nil, err
	}
	timing, err := Stamps(times)
	if err != nil {
		return nil, err
	}
	in := view(src)
	n := in.width()
	samples := floats{make([]float64, len(src)*n), n}
	in.read(samples.data, 0)
	if opt.AntiAlias == AntiAliasWhenSlower && to.Rate < timing.Rate*(1-1e-6) {
		if err := smooth(samples, timing, to.Rate, opt); err != nil {
			return nil, err
		}
	}
	out, err := onClock(to, times, samples, opt)
	if err != nil {
		return nil, err
	}
	dst = grow(dst, to.N)
	view(dst).write(out, 0)
	return dst, nil
}

func (opt ResampleOptions) check() error {
	switch {
	case opt.Kind < Linear || opt.Kind > Cubic:
		return fmt.Errorf("%w: %v", ErrOption, opt.Kind)
	case opt.AntiAlias < AntiAliasWhenSlower || opt.AntiAlias > AntiAliasNever:
		return fmt.Errorf("%w: %v", ErrOption, opt.AntiAlias)
	case !(opt.MaxGap >= 0):
		return fmt.Errorf("%w: longest gap of %g s", ErrOption, opt.MaxGap)
	case !(opt.Jitter >= 0):
		return fmt.Errorf("%w: jitter of %g", ErrOption, opt.Jitter)
	}
	return nil
}

// smooth low-passes samples in place for a slower clock.
func smooth(samples floats, timing Timing, rate float64, opt ResampleOptions) error {
	if err := timing.Even(opt.Jitter); err != nil {
		return err
	}
	z, err := NewZeroPhase(ZeroPhaseOptions{
		Cutoff: antiAliasRatio * rate,
		Rate:   timing.Rate,
		Order:  antiAliasOrder,
		NaN:    NaNSegments,
		Short:  opt.Short,
	})
	if err != nil {
		return err
	}
	return apply(z, samples, samples)
}

// onClock interpolates every channel of every run of samples.
func onClock(to Clock, times []float64, samples floats, opt ResampleOptions) ([]float64, error) {
	n := samples.n
	out := make([]float64, to.N*n)
	fill(out, math.NaN())
	runs, err := bridgedRuns(times, samples, opt.MaxGap)
	if err != nil {
		return nil, err
	}
	// Stamps and instants are rounded: a little beyond an end is on it.
	slack := 2e-6/to.Rate + 1e-15*(math.Abs(to.Start)+math.Abs(to.End()))
	from := 0
	for _, run := range runs {
		first, last := times[run[0]], times[run[len(run)-1]]
		for from < to.N && to.Time(from) < first-slack {
			from++
		}
		end := from
		for end < to.N && to.Time(end) <= last+slack {
			end++
		}
		if from == end {
			continue
		}
		x := make([]float64, len(run))
		y := make([]float64, len(run))
		for k, i := range run {
			x[k] = times[i]
		}
		for c := range n {
			for k, i := range run {
				y[k] = samples.data[i*n+c]
			}
			curve, err := fit(opt.Kind, x, y)
			if err != nil {
				return nil, err
			}
			for i := from; i < end; i++ {
				v := curve.Predict(min(max(to.Time(i), first), last))
				if !isFinite(v) {
					return nil, fmt.Errorf("%w: at %g s, channel %d", ErrOverflow, to.Time(i), c)
				}
				out[i*n+c] = v
			}
		}
		from = end
	}
	return out, nil
}

// bridgedRuns returns the indices of the measured samples, a new list after
// every interval that is longer than maxGap.
func bridgedRuns(times []float64, samples floats, maxGap float64) ([][]int, error) {
	if maxGap == 0 && len(times) > 1 {
		intervals := make([]float64, len(times)-1)
		for i := range intervals {
			intervals[i] = times[i+1] - times[i]
		}
		slices.Sort(intervals)
		maxGap = 1.5 * intervals[len(intervals)/2]
	}
	spans, err := appendRuns(nil, samples, NaNSegments, make([]float64, samples.n))
	if err != nil {
		return nil, err
	}
	var runs [][]int
	var run []int
	for _, s := range spans {
		for i := s.from; i < s.to; i++ {
			if len(run) > 0 && times[i]-times[run[len(run)-1]] > maxGap*(1+1e-9) {
				runs = append(runs, run)
				run = nil
			}
			run = append(run, i)
		}
	}
	return append(runs, run), nil
}

// fit returns the curve through samples; a single one is a point.
func fit(kind Interpolation, x, y []float64) (interp.Predictor, error) {
	if len(x) == 1 {
		return interp.Constant(y[0]), nil
	}
	if kind == Cubic {
		return fitCubic(x, y)
	}
	line := new(interp.PiecewiseLinear)
	return line, line.Fit(x, y)
}
