package filter

import (
	"fmt"
	"math"
	"slices"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/stat"
)

// ResidualOptions say how the residual analysis is done. The zero value is the
// documented default.
type ResidualOptions struct {
	// Order of one pass; 0 means 2.
	Order int
	// Lowest and Highest cut-off that is tried, Hz, and Count, how many, evenly
	// spaced. 0 means Highest/Count, a quarter of the sampling rate, and 100.
	Lowest, Highest float64
	Count           int
	// FitFrom and FitTo bound the cut-offs that the line is fitted to, Hz, for
	// those who choose the straight tail by eye. 0 means that FitTo is Highest
	// and that FitFrom is found: as low as the line still fits.
	FitFrom, FitTo float64
	// Straight is the coefficient of determination R² that the line must reach;
	// 0 means 0.995.
	Straight float64
	// Short says what to do when the series is not longer than the pad of the
	// lowest cut-off.
	Short ShortPolicy
}

// Residual is a residual analysis: what each cut-off takes away, and what
// follows from it.
type Residual struct {
	// Cutoffs that were tried, Hz, and RMS of the difference between the signal
	// and the filtered signal for each, in the unit of the signal.
	Cutoffs, RMS []float64

	// Cutoff is the choice, Hz: where the residual has come down to Noise.
	Cutoff float64
	// Noise is the intercept of the line at zero cut-off: the estimated RMS of
	// the noise, in the unit of the signal. Slope belongs to the same line.
	Noise, Slope float64
	// FitFrom and FitTo bound the tail that the line was fitted to, Hz; R2 is
	// its coefficient of determination.
	FitFrom, FitTo, R2 float64

	// Low and High are the smallest and largest choice, Hz, when the line is
	// fitted to the lower or the upper half of the tail alone, or to all of it.
	// They tell what the choice is worth. NaN when a half gives no choice.
	Low, High float64

	// Warnings are "cutoff-depends-on-range" when Low and High are far apart,
	// and "tail-flattens" when the tail looks like signal rather than noise.
	Warnings []grf.Warning
}

// ChooseCutoff proposes a cut-off for [ZeroPhase] by residual analysis (Winter,
// Biomechanics and Motor Control of Human Movement, 4th ed. 2009, chapter
// 2): white noise makes the residual a nearly straight, falling function
// of the cut-off, a signal of limited bandwidth adds a steep rise at low
// cut-offs. The straight tail is extended to zero, where it gives the RMS of
// the noise; the choice is the cut-off at which the residual equals it, so that
// as much signal is lost as noise is let through.
//
// The signal must be one channel, sampled at rate (Hz), with no sample missing
// and longer than the pad of the lowest cut-off. A series that is to be filtered
// with one cut-off for all channels needs the highest of their choices.
//
// When no tail of at least a third of the cut-offs is straight and falling the
// error is [ErrNoTail]; when the residual does not come down to the noise before
// the tail begins, or is at the lowest cut-off less than a tenth above it, as in
// noise without a signal, [ErrNoCrossing]. Choose by other means then;
// [Residuals] gives the curve alone.
//
// Limits. The method was made for marker paths. The forces of impacts and of
// stiff contact have no band limit: their residual has no straight tail, or one
// that is signal, and the choice then cuts peaks and loading rates. It also
// depends on the range of cut-offs that is looked at: compare Low and High. A
// cut-off from the literature for the same movement is the better choice
// wherever there is one.
func ChooseCutoff(signal []float64, rate float64, opt ResidualOptions) (*Residual, error) {
	opt, err := opt.withDefaults(rate)
	if err != nil {
		return nil, err
	}
	r := &Residual{Cutoffs: make([]float64, opt.Count)}
	for i := range r.Cutoffs {
		r.Cutoffs[i] = opt.Lowest + (opt.Highest-opt.Lowest)*float64(i)/float64(opt.Count-1)
	}
	r.RMS, err = Residuals(signal, rate, r.Cutoffs, opt)
	if err != nil {
		return nil, err
	}
	from, to, err := r.tail(opt)
	if err != nil {
		return nil, err
	}
	line := fitLine(r.Cutoffs[from:to], r.RMS[from:to])
	r.Noise, r.Slope, r.R2 = line.at0, line.slope, line.r2
	r.FitFrom, r.FitTo = r.Cutoffs[from], r.Cutoffs[to-1]
	r.Cutoff = r.crossing(line.at0)
	if !(r.Cutoff < r.FitFrom && r.RMS[0] > signalSeen*r.Noise) { // NaN included
		return nil, fmt.Errorf("%w of %.3g before the tail begins at %.4g Hz, coming from %.3g at %.4g Hz: there is no signal, or the lowest cut-off is too high",
			ErrNoCrossing, r.Noise, r.FitFrom, r.RMS[0], opt.Lowest)
	}
	r.judge(from, to)
	return r, nil
}

// Residuals returns the RMS difference between the signal and the signal after
// [ZeroPhase] with each of the cut-offs, Hz. Of the options only Order and
// Short are used.
func Residuals(signal []float64, rate float64, cutoffs []float64, opt ResidualOptions) ([]float64, error) {
	rms := make([]float64, len(cutoffs))
	var smooth []float64
	for i, f := range cutoffs {
		z, err := NewZeroPhase(ZeroPhaseOptions{Cutoff: f, Rate: rate, Order: opt.Order, Short: opt.Short})
		if err != nil {
			return nil, err
		}
		if smooth, err = z.Apply(smooth, signal); err != nil {
			return nil, fmt.Errorf("cut-off %.4g Hz: %w", f, err)
		}
		sum := 0.0
		for k, x := range signal {
			d := x - smooth[k]
			sum += float64(d * d)
		}
		rms[i] = math.Sqrt(sum / float64(len(signal)))
		if math.IsInf(rms[i], 0) {
			return nil, ErrOverflow
		}
	}
	return rms, nil
}

const (
	defaultCutoffs  = 100
	fewestCutoffs   = 12
	defaultStraight = 0.995
	shortestTail    = 1. / 3 // of the cut-offs
	// riseAllowed is how far the residual may lie above the line where the tail
	// begins, relative to the line's fall over the tail: the signal shows there
	// first.
	riseAllowed = 0.02
	// signalSeen is by how much the residual at the lowest cut-off must exceed
	// the noise: less can be scatter of the noise itself (common practice, no
	// published source).
	signalSeen = 1.1
)

func (opt ResidualOptions) withDefaults(rate float64) (ResidualOptions, error) {
	if err := checkRate(rate); err != nil {
		return opt, err
	}
	if opt.Count == 0 {
		opt.Count = defaultCutoffs
	}
	if opt.Highest == 0 {
		opt.Highest = rate / 4
	}
	if opt.Lowest == 0 {
		opt.Lowest = opt.Highest / float64(opt.Count)
	}
	if opt.FitTo == 0 {
		opt.FitTo = opt.Highest
	}
	if opt.Straight == 0 {
		opt.Straight = defaultStraight
	}
	switch {
	case opt.Count < fewestCutoffs:
		return opt, fmt.Errorf("%w: %d cut-offs are fewer than %d", ErrOption, opt.Count, fewestCutoffs)
	case !(opt.Lowest > 0 && opt.Lowest < opt.Highest && opt.Highest < rate/2):
		return opt, fmt.Errorf("%w: cut-offs from %g Hz to %g Hz at a rate of %g Hz", ErrOption, opt.Lowest, opt.Highest, rate)
	case !(opt.FitFrom >= 0 && opt.FitFrom < opt.FitTo && opt.FitTo <= opt.Highest):
		return opt, fmt.Errorf("%w: fit from %g Hz to %g Hz", ErrOption, opt.FitFrom, opt.FitTo)
	case !(opt.Straight > 0 && opt.Straight < 1):
		return opt, fmt.Errorf("%w: R² of %g", ErrOption, opt.Straight)
	}
	return opt, nil
}

// tail returns the range of cut-offs that the line is fitted to.
func (r *Residual) tail(opt ResidualOptions) (from, to int, err error) {
	// A hair of tolerance, because the cut-offs are sums.
	to, _ = slices.BinarySearch(r.Cutoffs, opt.FitTo*(1+1e-9))
	if opt.FitFrom > 0 {
		from, _ = slices.BinarySearch(r.Cutoffs, opt.FitFrom*(1-1e-9))
		if to-from < 4 {
			return 0, 0, fmt.Errorf("%w: only %d cut-offs lie between %g Hz and %g Hz", ErrOption, to-from, opt.FitFrom, opt.FitTo)
		}
		if line := fitLine(r.Cutoffs[from:to], r.RMS[from:to]); !line.isNoise(opt.Straight) {
			return 0, 0, fmt.Errorf("%w between %g Hz and %g Hz: slope %.3g per Hz, R² %.4f", ErrNoTail, opt.FitFrom, opt.FitTo, line.slope, line.r2)
		}
		return from, to, nil
	}
	shortest := max(4, int(math.Ceil(shortestTail*float64(to))))
	for ; to-from >= shortest; from++ {
		l := fitLine(r.Cutoffs[from:to], r.RMS[from:to])
		drop := -l.slope * (r.Cutoffs[to-1] - r.Cutoffs[from])
		rise := r.RMS[from] - l.at(r.Cutoffs[from])
		if l.isNoise(opt.Straight) && rise <= riseAllowed*drop {
			return from, to, nil
		}
	}
	return 0, 0, fmt.Errorf("%w below %g Hz that reaches R² = %g: choose the cut-off by other means", ErrNoTail, opt.FitTo, opt.Straight)
}

// line is a straight line through residuals.
type line struct{ at0, slope, r2 float64 }

func fitLine(x, y []float64) line {
	const throughOrigin = false
	at0, slope := stat.LinearRegression(x, y, nil, throughOrigin)
	return line{at0, slope, stat.RSquared(x, y, nil, at0, slope)}
}

func (l line) at(x float64) float64 { return l.at0 + float64(l.slope*x) }

// isNoise reports whether a tail can be that of noise: straight and falling to
// the right, so that its intercept is positive.
func (l line) isNoise(straight float64) bool {
	return l.slope < 0 && l.at0 > 0 && l.r2 >= straight
}

// crossing returns the lowest cut-off, Hz, at which the residual has come down
// to the level, by linear interpolation; NaN when it is not above the level at
// the lowest cut-off, or never comes down to it.
func (r *Residual) crossing(level float64) float64 {
	i := slices.IndexFunc(r.RMS, func(y float64) bool { return y <= level })
	if i < 1 {
		return math.NaN()
	}
	y0, y1 := r.RMS[i-1], r.RMS[i]
	x0, x1 := r.Cutoffs[i-1], r.Cutoffs[i]
	return x0 + (x1-x0)*(y0-level)/(y0-y1)
}

const (
	// sensitive is how far apart Low and High may be, relative to the choice,
	// before it is worth a warning (common practice, no published source).
	sensitive = 0.5
	// flattening is by how much the noise of the lower half of the tail may
	// exceed that of the upper half before it is worth a warning (common
	// practice, no published source). White noise makes the tail steeper toward
	// high cut-offs, never flatter.
	flattening = 0.05
)

// judge finds out what the choice is worth.
func (r *Residual) judge(from, to int) {
	middle := (from + to) / 2
	lower := fitLine(r.Cutoffs[from:middle], r.RMS[from:middle])
	upper := fitLine(r.Cutoffs[middle:to], r.RMS[middle:to])
	r.Low, r.High = r.Cutoff, r.Cutoff
	for _, l := range []line{lower, upper} {
		f := r.crossing(l.at0)
		r.Low, r.High = math.Min(r.Low, f), math.Max(r.High, f) // NaN stays NaN
	}
	if !(r.High-r.Low <= sensitive*r.Cutoff) {
		r.warn("cutoff-depends-on-range", "the choice of %.3g Hz lies between %.3g Hz and %.3g Hz depending on which half of the tail is used",
			r.Cutoff, r.Low, r.High)
	}
	if lower.at0 > (1+flattening)*upper.at0 {
		r.warn("tail-flattens", "the tail gets flatter toward high cut-offs, as a signal without band limit makes it: the noise of %.3g is probably too high and the choice of %.3g Hz too low",
			r.Noise, r.Cutoff)
	}
}

func (r *Residual) warn(code, format string, args ...any) {
	r.Warnings = append(r.Warnings, grf.Warning{Code: code, Where: "residual analysis", Text: fmt.Sprintf(format, args...)})
}
