package filter

import (
	"fmt"
	"math"
	"slices"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// CausalOptions describe a causal low-pass. Cutoff and Rate must be given; the
// zero value of everything else is the default.
type CausalOptions struct {
	// Cutoff is the frequency, Hz, at which the filter has −3 dB.
	Cutoff float64
	// Rate is the sampling rate, Hz.
	Rate float64
	// Order, even; 0 means 2.
	Order int
	// Channels that are filtered in step; 0 means 1.
	Channels int
	// NaN says what to do about a missing sample: NaNError stops the filter
	// (see [Causal.Err]); NaNSegments answers it with NaN and begins anew, from
	// the steady state of the next sample; NaNInterpolate is not possible.
	NaN NaNPolicy
}

// Causal is a low-pass that runs live, one pass, over as many samples at a time
// as there are. It gives the same digits for any division of the samples into
// blocks and allocates nothing as long as dst is large enough. What comes out
// is late: see [Causal.Delay].
//
// The first sample after [NewCausal], [Causal.Reset] or a gap is taken to have
// lasted for ever, so that there is no start-up ramp; [Causal.Prime] says
// otherwise.
//
// A Causal holds the past of its channels: it must not be used by two
// goroutines at once.
type Causal struct {
	bank   bank
	rate   float64
	policy NaNPolicy
	primed bool
	pushed int // samples since the last Reset
	err    error
}

// NewCausal returns a causal Butterworth low-pass. Errors are those of
// [Butterworth], and [ErrOption] for options that have no meaning.
func NewCausal(opt CausalOptions) (*Causal, error) {
	if opt.Order == 0 {
		opt.Order = 2
	}
	sections, err := Butterworth(opt.Order, opt.Cutoff, opt.Rate)
	if err != nil {
		return nil, err
	}
	return newCausal(sections, opt)
}

// NewCausalSections returns a causal filter of sections that were designed
// elsewhere. opt.Order and opt.Cutoff must be zero.
func NewCausalSections(sections []Section, opt CausalOptions) (*Causal, error) {
	if opt.Order != 0 || opt.Cutoff != 0 {
		return nil, fmt.Errorf("%w: order and cut-off are those of the sections, leave them zero", ErrOption)
	}
	if err := checkRate(opt.Rate); err != nil {
		return nil, err
	}
	if err := checkSections(sections); err != nil {
		return nil, err
	}
	return newCausal(slices.Clone(sections), opt)
}

func newCausal(sections []Section, opt CausalOptions) (*Causal, error) {
	if opt.NaN != NaNError && opt.NaN != NaNSegments {
		return nil, fmt.Errorf("%w: %v is no NaN policy of a causal filter", ErrOption, opt.NaN)
	}
	if opt.Channels == 0 {
		opt.Channels = 1
	}
	if opt.Channels < 0 {
		return nil, fmt.Errorf("%w: %d", grf.ErrChannels, opt.Channels)
	}
	return &Causal{bank: newBank(sections, opt.Channels), rate: opt.Rate, policy: opt.NaN}, nil
}

// Push filters the next samples: sample i of channel c is src[i*channels+c]. It
// writes the result to dst, grown if it was too short, and returns it. dst may
// be src. An empty src does nothing.
//
// A value that is infinite or beyond 1e150, a NaN that the policy does not
// cover, a length that is no multiple of the channels, and a dst that overlaps
// src in part stop the filter: from there on all it answers is NaN, until
// Reset. [Causal.Err] has the reason.
func (c *Causal) Push(dst, src []float64) []float64 {
	n := c.bank.channels
	if len(src)%n != 0 {
		c.fail(checkInterleaved(len(src), n))
	}
	if overlapInPart(dst, src, len(src)) {
		c.fail(ErrOverlap)
	}
	dst = grow(dst, len(src))
	at := 0
	for at < len(src) && c.err == nil {
		end := floats{src[at:], n}.bad(0)*n + at
		if end > at {
			c.run(dst[at:end], src[at:end])
		} else {
			end = at + n
			c.gap(dst[at:end], src[at:end])
		}
		at = end
	}
	if c.err != nil {
		fill(dst[at:], math.NaN())
	}
	return dst
}

// run filters measured samples.
func (c *Causal) run(dst, src []float64) {
	n := c.bank.channels
	if !c.primed {
		c.bank.start(src[:n])
		c.primed = true
	}
	c.bank.run(dst, src, ascending)
	if !finite(dst[len(dst)-n:]) {
		bad := slices.IndexFunc(dst, func(x float64) bool { return !isFinite(x) }) / n
		c.fail(fmt.Errorf("%w: at sample %d", ErrOverflow, c.pushed+bad))
		fill(dst[bad*n:], math.NaN())
	}
	c.pushed += len(src) / n
}

// gap answers one sample that is not measured.
func (c *Causal) gap(dst, src []float64) {
	if err := notFinite(src, c.pushed, c.policy); err != nil {
		c.fail(err)
	}
	fill(dst, math.NaN())
	c.primed = false
	c.pushed++
}

// PushWrench filters the next sample of a filter of six channels. A wrench with a
// NaN is a missing sample, so that of a pressure mat, which has no horizontal force,
// nothing is left: filter its Force.Z, Moment.X and Moment.Y with [Causal.Push].
func (c *Causal) PushWrench(w grf.Wrench) grf.Wrench {
	c.PushWrenchTo(&w, &w)
	return w
}

// PushWrenchTo sets dst to what [Causal.PushWrench] makes of src, which may be dst.
// It is for live systems: nothing is copied on the way.
func (c *Causal) PushWrenchTo(dst, src *grf.Wrench) {
	f, m := &src.Force, &src.Moment
	// A sum of squares below largest² has no part that is not measured: one
	// question instead of six. What it turns away the way below takes as well.
	square := f.X*f.X + f.Y*f.Y + f.Z*f.Z + m.X*m.X + m.Y*m.Y + m.Z*m.Z
	if square < largest*largest && c.primed && c.err == nil && c.bank.channels == 6 {
		c.pushMeasured(dst, src)
		return
	}
	if c.bank.channels != 6 {
		c.fail(fmt.Errorf("%w: a wrench has 6, this filter %d", grf.ErrChannels, c.bank.channels))
		*dst = grf.NaN()
		return
	}
	row := [6]float64{f.X, f.Y, f.Z, m.X, m.Y, m.Z}
	c.Push(row[:], row[:])
	*dst = grf.Wrench{
		Force:  r3.Vec{X: row[0], Y: row[1], Z: row[2]},
		Moment: r3.Vec{X: row[3], Y: row[4], Z: row[5]},
	}
}

// pushMeasured is Push for one sample, all there, of a filter that has begun: the
// case that a live system lives in. The arithmetic is that of bank.run.
func (c *Causal) pushMeasured(dst, src *grf.Wrench) {
	fx, fy, fz, mx, my, mz := src.Force.X, src.Force.Y, src.Force.Z, src.Moment.X, src.Moment.Y, src.Moment.Z
	for k := range c.bank.sections {
		s := &c.bank.sections[k]
		m := (*[12]float64)(c.bank.memory[12*k:]) // s1, s2
		fx, m[0], m[6] = s.next(m[0], m[6], fx)
		fy, m[1], m[7] = s.next(m[1], m[7], fy)
		fz, m[2], m[8] = s.next(m[2], m[8], fz)
		mx, m[3], m[9] = s.next(m[3], m[9], mx)
		my, m[4], m[10] = s.next(m[4], m[10], my)
		mz, m[5], m[11] = s.next(m[5], m[11], mz)
	}
	c.pushed++
	if (fx-fx)+(fy-fy)+(fz-fz)+(mx-mx)+(my-my)+(mz-mz) != 0 { // NaN if one is not finite
		c.fail(fmt.Errorf("%w: at sample %d", ErrOverflow, c.pushed-1))
		*dst = grf.NaN()
		return
	}
	dst.Force.X, dst.Force.Y, dst.Force.Z = fx, fy, fz
	dst.Moment.X, dst.Moment.Y, dst.Moment.Z = mx, my, mz
}

// PushVector filters the next sample of a filter of three channels.
func (c *Causal) PushVector(v r3.Vec) r3.Vec {
	if c.bank.channels != 3 {
		c.fail(fmt.Errorf("%w: a vector has 3, this filter %d", grf.ErrChannels, c.bank.channels))
		nan := math.NaN()
		return r3.Vec{X: nan, Y: nan, Z: nan}
	}
	row := [3]float64{v.X, v.Y, v.Z}
	c.Push(row[:], row[:])
	return r3.Vec{X: row[0], Y: row[1], Z: row[2]}
}

// Reset forgets all samples, and an error if there was one.
func (c *Causal) Reset() {
	c.primed = false
	c.pushed = 0
	c.err = nil
}

// Prime makes the filter start as if values, one per channel, had been its
// input for ever. Zeros give the start from rest. It replaces the past but
// keeps an error. A wrong number of values or one that is not measured is an
// error, and changes nothing.
func (c *Causal) Prime(values []float64) error {
	if len(values) != c.bank.channels {
		return fmt.Errorf("%w: %d values for %d channels", grf.ErrChannels, len(values), c.bank.channels)
	}
	if err := notFinite(values, 0, NaNError); err != nil {
		return err
	}
	c.bank.start(values)
	c.primed = true
	return nil
}

// Err returns why the filter has stopped, or nil.
func (c *Causal) Err() error { return c.err }

// fail keeps the first error.
func (c *Causal) fail(err error) {
	if c.err == nil {
		c.err = err
	}
}

// Channels returns the number of channels.
func (c *Causal) Channels() int { return c.bank.channels }

// Sections returns a copy of the sections.
func (c *Causal) Sections() []Section { return slices.Clone(c.bank.sections) }

// Delay returns the group delay at zero frequency, s: by how much slow changes
// come out late. For a Butterworth filter of order 2 it is √2/(2π·Cutoff) as
// long as the cut-off is small against the rate; 4.5 ms at 50 Hz.
func (c *Causal) Delay() float64 { return c.DelayAt(0) }

// DelayAt returns the group delay at frequency f, Hz, in s.
func (c *Causal) DelayAt(f float64) float64 { return GroupDelay(c.bank.sections, f, c.rate) }
