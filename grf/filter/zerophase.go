package filter

import (
	"fmt"
	"math"
	"slices"
	"sync"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// ZeroPhaseOptions describe a zero-phase low-pass. Cutoff and Rate must be
// given; the zero value of everything else is the default.
type ZeroPhaseOptions struct {
	// Cutoff is the frequency, Hz, at which the whole operation, both passes
	// together, has −3 dB (a gain of 1/√2).
	Cutoff float64
	// Rate is the sampling rate, Hz.
	Rate float64
	// Order of one pass, even; 0 means 2. Two passes of order 2 are what the
	// literature on movement calls a fourth-order zero-lag filter.
	Order int
	// Pad is the number of samples by which a series is extended at each end;
	// 0 means [DefaultPad], [NoPad] none. See [ReferencePad] for the choice of a
	// common general-purpose routine.
	Pad int
	// NaN says what to do about missing samples.
	NaN NaNPolicy
	// Short says what to do about series that are not longer than the pad.
	Short ShortPolicy
}

// ZeroPhase is a filter that runs over a whole series forward and backward, so
// that nothing is shifted in time. It can not run live: see [Causal].
//
// Each end is first extended by its point reflection about the last sample,
// 2·x[0] − x[k], and each pass starts from the steady state that the first
// value of the extended series would have led to, so that a force that does not
// begin at zero has no start-up ramp (the manner of SciPy's signal.sosfiltfilt
// with its default odd padding; Gustafsson, IEEE Trans. Signal Process. 44:988,
// 1996, discusses the choice of start conditions).
//
// A ZeroPhase does not change once it is made and may be used by several
// goroutines at once. Its work memory, the pad and one block of samples, is
// kept for the next call: with a dst of sufficient capacity filtering allocates
// nothing.
//
// Every method that takes dst and src writes the filtered src to dst, grown if
// it was too short, and returns it. dst may be src itself; if it overlaps src
// in part the error is [ErrOverlap]. Length and instants do not change.
// An empty series and one without a single measured sample are a
// [grf.ErrNoData], values that are infinite or beyond 1e150 a
// [*NotFiniteError], and so are NaN unless the NaN policy covers them. After an
// error the returned slice is nil and src is untouched, except after
// [ErrOverflow] in place, which only sections of the caller's own with huge gains
// can cause; what dst then holds, if it is not src, is undefined.
type ZeroPhase struct {
	opt      ZeroPhaseOptions
	sections []Section
	passRate float64 // −3 dB of one pass, Hz; 0 if unknown
	pad      int
	plain    bool      // leave the vector kernel alone
	work     sync.Pool // of *work
}

// NewZeroPhase returns a zero-phase Butterworth low-pass. The cut-off of one
// pass is raised so that both together have −3 dB at opt.Cutoff; the correction
// is made on the warped frequency tan(π·Cutoff/Rate), where it is exact at any
// sampling rate (Winter 2009; Robertson et al., Research Methods in
// Biomechanics, 2nd ed. 2013). Errors are those of [Butterworth], and
// [ErrOption] for options that have no meaning.
func NewZeroPhase(opt ZeroPhaseOptions) (*ZeroPhase, error) {
	if opt.Order == 0 {
		opt.Order = 2
	}
	if err := checkDesign(opt.Order, opt.Cutoff, opt.Rate); err != nil {
		return nil, err
	}
	warped := warp(opt.Cutoff, opt.Rate) / passCorrection(opt.Order)
	z, err := newZeroPhase(butterworth(opt.Order, warped), opt)
	if err != nil {
		return nil, err
	}
	z.passRate = opt.Rate / math.Pi * math.Atan(warped)
	return z, nil
}

// NewZeroPhaseSections returns a zero-phase filter of sections that were
// designed elsewhere. They are used in both passes as they are. opt.Order and
// opt.Cutoff must be zero; opt.Rate is only needed for [ZeroPhase.Gain].
// Sections that are not finite or not stable are an [ErrSections].
func NewZeroPhaseSections(sections []Section, opt ZeroPhaseOptions) (*ZeroPhase, error) {
	if opt.Order != 0 || opt.Cutoff != 0 {
		return nil, fmt.Errorf("%w: order and cut-off are those of the sections, leave them zero", ErrOption)
	}
	if opt.Rate != 0 {
		if err := checkRate(opt.Rate); err != nil {
			return nil, err
		}
	}
	if err := checkSections(sections); err != nil {
		return nil, err
	}
	return newZeroPhase(slices.Clone(sections), opt)
}

func newZeroPhase(sections []Section, opt ZeroPhaseOptions) (*ZeroPhase, error) {
	if opt.NaN < NaNError || opt.NaN > NaNInterpolate {
		return nil, fmt.Errorf("%w: %v", ErrOption, opt.NaN)
	}
	if opt.Short < ShortError || opt.Short > ShortReduce {
		return nil, fmt.Errorf("%w: %v", ErrOption, opt.Short)
	}
	z := &ZeroPhase{opt: opt, sections: sections, pad: opt.Pad}
	switch {
	case opt.Pad == 0:
		z.pad = DefaultPad(sections)
	case opt.Pad == NoPad:
		z.pad = 0
	case opt.Pad < 0:
		return nil, fmt.Errorf("%w: pad of %d samples", ErrOption, opt.Pad)
	}
	return z, nil
}

// Sections returns a copy of the sections of one pass.
func (z *ZeroPhase) Sections() []Section { return slices.Clone(z.sections) }

// Pad returns the number of samples by which a series is extended at each end.
// A series must be longer than that.
func (z *ZeroPhase) Pad() int { return z.pad }

// PassCutoff returns the frequency, Hz, at which one pass alone has −3 dB, or 0
// for sections that were designed elsewhere.
func (z *ZeroPhase) PassCutoff() float64 { return z.passRate }

// Gain returns the gain of both passes together at frequency f, Hz: a real
// number, because nothing is shifted. It is NaN when the rate is not known.
func (z *ZeroPhase) Gain(f float64) float64 {
	if z.opt.Rate == 0 {
		return math.NaN()
	}
	h := Response(z.sections, f, z.opt.Rate)
	return real(h)*real(h) + imag(h)*imag(h)
}

// String describes the filter in one line, for a list of processing steps.
func (z *ZeroPhase) String() string {
	if z.opt.Cutoff == 0 {
		return fmt.Sprintf("zero-phase filter of %d given sections, pad %d samples", len(z.sections), z.pad)
	}
	return fmt.Sprintf("Butterworth low-pass, order %d in two passes (order %d, zero lag), −3 dB at %g Hz (one pass at %.4g Hz), %g Hz sampling, pad %d samples",
		z.opt.Order, 2*z.opt.Order, z.opt.Cutoff, z.passRate, z.opt.Rate, z.pad)
}

// Warnings tells what is worth knowing about the design: a cut-off above 80 %
// of half the sampling rate (common practice, no published source), where the
// filter takes next to nothing away.
func (z *ZeroPhase) Warnings() []grf.Warning {
	if nyquist := z.opt.Rate / 2; z.opt.Cutoff > 0.8*nyquist {
		return []grf.Warning{{
			Code:  "cutoff-near-nyquist",
			Where: "filter",
			Text:  fmt.Sprintf("the cut-off of %g Hz is close to %g Hz, half the sampling rate: the filter does little", z.opt.Cutoff, nyquist),
		}}
	}
	return nil
}

// Apply filters one signal.
func (z *ZeroPhase) Apply(dst, src []float64) ([]float64, error) {
	return z.Interleaved(dst, src, 1)
}

// Interleaved filters several channels at once: sample i of channel c is
// src[i*channels+c]. A length that is no multiple of channels is a
// [*grf.LengthError].
func (z *ZeroPhase) Interleaved(dst, src []float64, channels int) ([]float64, error) {
	if err := checkInterleaved(len(src), channels); err != nil {
		return nil, err
	}
	if overlapInPart(dst, src, len(src)) {
		return nil, ErrOverlap
	}
	dst = grow(dst, len(src))
	var err error
	if elsewhere := len(src) > 0 && &dst[0] != &src[0]; elsewhere && z.opt.NaN == NaNError {
		w := z.take(channels)
		defer z.work.Put(w)
		err = checking(z, w, floats{dst, channels}, looked{floats{src, channels}, &w.bad})
	} else {
		err = apply(z, floats{dst, channels}, floats{src, channels})
	}
	if err != nil {
		return nil, err
	}
	return dst, nil
}

// Wrenches filters the six components of wrenches, which is exact because they
// all belong to one point.
func (z *ZeroPhase) Wrenches(dst, src []grf.Wrench) ([]grf.Wrench, error) {
	if overlapInPart(dst, src, len(src)) {
		return nil, ErrOverlap
	}
	dst = grow(dst, len(src))
	if err := apply(z, wrenches(dst), wrenches(src)); err != nil {
		return nil, err
	}
	return dst, nil
}

// Vectors filters the three components of vectors.
func (z *ZeroPhase) Vectors(dst, src []r3.Vec) ([]r3.Vec, error) {
	if overlapInPart(dst, src, len(src)) {
		return nil, ErrOverlap
	}
	dst = grow(dst, len(src))
	if err := apply(z, vectors(dst), vectors(src)); err != nil {
		return nil, err
	}
	return dst, nil
}

func checkInterleaved(length, channels int) error {
	if channels < 1 {
		return fmt.Errorf("%w: %d", grf.ErrChannels, channels)
	}
	if over := length % channels; over != 0 {
		return &grf.LengthError{What: fmt.Sprintf("last sample of %d interleaved channels", channels), Want: channels, Got: over}
	}
	return nil
}
