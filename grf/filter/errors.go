package filter

import (
	"errors"
	"fmt"
)

// Sentinels for [errors.Is]. Sampling rates, empty series, lengths and channel
// counts are reported with the sentinels of package grf.
var (
	// ErrCutoff means a cut-off that is not above zero and below half the
	// sampling rate, or too close to either.
	ErrCutoff = errors.New("filter: unusable cut-off")
	// ErrOrder means a filter order that is not even or not in 2 … [MaxOrder].
	ErrOrder = errors.New("filter: unusable order")
	// ErrSections means second-order sections that are missing, not finite or
	// not stable.
	ErrSections = errors.New("filter: unusable sections")
	// ErrOption means an option that has no meaning.
	ErrOption = errors.New("filter: unusable option")
	// ErrWeights means a mix whose weights do not fill whole rows or are not
	// finite.
	ErrWeights = errors.New("filter: unusable weights")
	// ErrNotFinite means a sample that is NaN, infinite or too large to be a
	// measurement.
	ErrNotFinite = errors.New("filter: sample is not finite")
	// ErrTooShort means fewer samples than the filter needs.
	ErrTooShort = errors.New("filter: too few samples")
	// ErrOverflow means that finite samples led to a result that is not finite.
	ErrOverflow = errors.New("filter: result is not finite")
	// ErrOverlap means that dst and src share memory without being the same
	// slice.
	ErrOverlap = errors.New("filter: dst overlaps src in part")
	// ErrNoTail means a residual curve without a straight tail.
	ErrNoTail = errors.New("filter: residuals have no straight tail")
	// ErrNoCrossing means a residual curve that does not come down to the noise
	// level before the straight tail begins.
	ErrNoCrossing = errors.New("filter: residuals do not cross the noise level")
	// ErrTimeOrder means time stamps that do not grow from sample to sample.
	ErrTimeOrder = errors.New("filter: time stamps do not grow")
	// ErrIrregular means time stamps that are not evenly spaced.
	ErrIrregular = errors.New("filter: time stamps are not evenly spaced")
	// ErrClock means a clock that no series can be put on.
	ErrClock = errors.New("filter: unusable clock")
)

// CutoffError says which cut-off does not go with which sampling rate; it
// wraps [ErrCutoff].
type CutoffError struct {
	Cutoff, Rate float64 // Hz
}

// Nyquist returns half the sampling rate, Hz: the bound of every cut-off.
func (e *CutoffError) Nyquist() float64 { return e.Rate / 2 }

func (e *CutoffError) Error() string {
	if e.Cutoff > 0 && e.Cutoff < e.Nyquist() {
		return fmt.Sprintf("filter: cut-off %g Hz is within a millionth of the sampling rate %g Hz of 0 or of %g Hz, half of it", e.Cutoff, e.Rate, e.Nyquist())
	}
	return fmt.Sprintf("filter: cut-off %g Hz must lie above 0 and below %g Hz, half the sampling rate", e.Cutoff, e.Nyquist())
}

func (e *CutoffError) Unwrap() error { return ErrCutoff }

// NotFiniteError says which sample is no measurement; it wraps [ErrNotFinite].
type NotFiniteError struct {
	Index   int // sample, from 0
	Channel int // from 0; wrenches count Fx Fy Fz Mx My Mz
	Value   float64
}

func (e *NotFiniteError) Error() string {
	remedy := "an infinite or absurdly large value is never filtered: mark it NaN and choose a NaN policy"
	if e.Value != e.Value {
		remedy = "choose a NaN policy to filter around missing samples"
	}
	return fmt.Sprintf("filter: sample %d, channel %d is %g: %s", e.Index, e.Channel, e.Value, remedy)
}

func (e *NotFiniteError) Unwrap() error { return ErrNotFinite }

// TooShortError says how many samples there are and how many are needed; it
// wraps [ErrTooShort].
type TooShortError struct {
	Start     int // first sample of the run
	Got, Need int // samples
}

func (e *TooShortError) Error() string {
	return fmt.Sprintf("filter: %d samples from sample %d on, but the padding needs %d: raise the cut-off, take a longer series or allow a shorter pad",
		e.Got, e.Start, e.Need)
}

func (e *TooShortError) Unwrap() error { return ErrTooShort }

// TimeOrderError says which time stamp is not finite or not after the one
// before it; it wraps [ErrTimeOrder].
type TimeOrderError struct {
	Index         int     // of the offending stamp
	Before, After float64 // s, the stamp before it (NaN for the first) and itself
}

func (e *TimeOrderError) Error() string {
	return fmt.Sprintf("filter: time stamp %d is %g s after %g s: stamps must be finite and grow", e.Index, e.After, e.Before)
}

func (e *TimeOrderError) Unwrap() error { return ErrTimeOrder }

// IrregularError says where time stamps are least evenly spaced; it wraps
// [ErrIrregular].
type IrregularError struct {
	Index           int     // of the stamp that ends the worst interval
	Jitter, Allowed float64 // largest deviation from the mean interval, relative to it
}

func (e *IrregularError) Error() string {
	return fmt.Sprintf("filter: the interval before time stamp %d is off the mean by %.3g %%, more than %.3g %%: resample to an even clock first, or allow more",
		e.Index, 100*e.Jitter, 100*e.Allowed)
}

func (e *IrregularError) Unwrap() error { return ErrIrregular }
