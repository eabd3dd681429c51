package filter

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// FrontEnd is what stands first in a live chain: a [Mix] of the readings of a
// plate and a [Causal] filter of the six channels that come out, one sample at a
// time. It gives the digits of the two, one after the other, in less time.
//
// A FrontEnd works with the past of its filter, which may be used beside it, but like it
// not by two goroutines at once.
type FrontEnd struct {
	mix    *Mix
	filter *Causal
	limit  float64
	offset [6]float64    // what the mix begins with
	lanes  frontEndLanes // what else the vector kernel works with, where there is one
}

// NewFrontEnd returns a front end with the zero at zero. What is beyond limit is no
// measurement: N for the first three channels, N·m for the others; limit is at most
// 1e150, which 0 stands for. The error wraps [grf.ErrChannels] or [ErrOption].
func NewFrontEnd(m *Mix, c *Causal, limit float64) (*FrontEnd, error) {
	if m.channels != 6 || c.bank.channels != 6 {
		return nil, fmt.Errorf("%w: a wrench has 6, the mix makes %d and the filter takes %d", grf.ErrChannels, m.channels, c.bank.channels)
	}
	if limit == 0 {
		limit = largest
	}
	if !(limit > 0 && limit <= largest) {
		return nil, fmt.Errorf("%w: limit of %g", ErrOption, limit)
	}
	f := &FrontEnd{mix: m, filter: c, limit: limit}
	f.lanes.init(f)
	return f, nil
}

// SetZero says what each series reads without load; nil is zero. A NaN among them
// makes every sample missing. The filter keeps its past: for it another zero is a step
// of the force, unless it is [Causal.Reset]. Like an index SetZero panics when there
// are too few.
func (f *FrontEnd) SetZero(zero []float64) { f.mix.offset(f.offset[:0], zero) }

// WrenchTo sets dst to what the mix makes of the readings of one sample, one of each
// series: what [Mix.Apply] makes of them. The filter does not learn of it. Like an
// index it panics when there are too few readings.
func (f *FrontEnd) WrenchTo(dst *grf.Wrench, readings []float64) {
	_ = readings[f.mix.series-1] // as far as they are, not as there is room
	r := readings[:f.mix.series]
	w := f.mix.columns[:len(r)]
	// One variable for each channel: an array would be kept in memory.
	o := &f.offset
	fx, fy, fz, mx, my, mz := o[0], o[1], o[2], o[3], o[4], o[5]
	j := 0
	for ; j+2 <= len(r); j += 2 {
		a, b, u, v := &w[j], &w[j+1], r[j], r[j+1]
		fx += float64(a[0]*u) + float64(b[0]*v)
		fy += float64(a[1]*u) + float64(b[1]*v)
		fz += float64(a[2]*u) + float64(b[2]*v)
		mx += float64(a[3]*u) + float64(b[3]*v)
		my += float64(a[4]*u) + float64(b[4]*v)
		mz += float64(a[5]*u) + float64(b[5]*v)
	}
	if j < len(r) {
		a, u := &w[j], r[j]
		fx += float64(a[0] * u)
		fy += float64(a[1] * u)
		fz += float64(a[2] * u)
		mx += float64(a[3] * u)
		my += float64(a[4] * u)
		mz += float64(a[5] * u)
	}
	dst.Force, dst.Moment = r3.Vec{X: fx, Y: fy, Z: fz}, r3.Vec{X: mx, Y: my, Z: mz}
}

// PushTo takes in the readings of the next sample: it sets mixed to the wrench that
// they make (see [FrontEnd.WrenchTo], panics included) and filtered to what
// [Causal.PushWrenchTo] makes of it. If both are the same, that remains. It reports
// whether all that was mixed is measured. If not, the sample is missing: mixed and
// filtered are NaN, and the NaN policy says what becomes of the filter. Of a filter
// that has stopped or stops now (see [Causal.Err]) only filtered is NaN.
func (f *FrontEnd) PushTo(filtered, mixed *grf.Wrench, readings []float64) (measured bool) {
	c := f.filter
	if c.primed && c.err == nil && len(readings) >= f.mix.series && f.push(filtered, mixed, readings) {
		c.pushed++
		return true
	}
	f.WrenchTo(mixed, readings)
	if measured = f.measured(mixed); !measured {
		*mixed = grf.NaN()
	}
	c.PushWrenchTo(filtered, mixed)
	return measured
}

// measured reports whether no component is NaN or beyond the limit.
func (f *FrontEnd) measured(w *grf.Wrench) bool {
	for _, x := range [6]float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z} {
		if !(math.Abs(x) <= f.limit) {
			return false
		}
	}
	return true
}
