package filter

import (
	"fmt"
	"math"

	"example.com/momentarm/grf"
)

// Clock is an even time base: sample i of N is at Start + i/Rate.
type Clock struct {
	Start, Rate float64 // s, Hz
	N           int
}

// maxSamples bounds the length of a clock: 2²⁸ samples are three days at 1000 Hz.
const maxSamples = 1 << 28

// NewClock returns the clock that begins at start and has every instant
// start + i/rate that is not after end: N = ⌊(end − start)·rate + 10⁻⁶⌋ + 1.
// The millionth of a sample keeps rounding from dropping the last one. An end
// before the start, and a clock of more than 2²⁸ samples, is an [ErrClock].
func NewClock(start, end, rate float64) (Clock, error) {
	if err := checkRate(rate); err != nil {
		return Clock{}, err
	}
	steps := math.Floor(float64((end-start)*rate) + 1e-6)
	if !(steps >= 0 && steps < maxSamples-1) {
		return Clock{}, fmt.Errorf("%w: from %g s to %g s at %g Hz", ErrClock, start, end, rate)
	}
	return Clock{Start: start, Rate: rate, N: int(steps) + 1}, nil
}

// Time returns the instant of sample i, s.
func (c Clock) Time(i int) float64 { return c.Start + float64(i)/c.Rate }

// End returns the instant of the last sample, s.
func (c Clock) End() float64 { return c.Time(c.N - 1) }

// Times sets dst to the instants of all samples and returns it, grown if it was
// too short.
func (c Clock) Times(dst []float64) []float64 {
	dst = grow(dst, max(0, c.N))
	for i := range dst {
		dst[i] = c.Time(i)
	}
	return dst
}

// Every returns the clock of samples 0, k, 2k, …: the first of every k, with
// N = ⌈c.N/k⌉ samples at Rate/k. k below 1 counts as 1.
func (c Clock) Every(k int) Clock {
	k = max(1, k)
	return Clock{Start: c.Start, Rate: c.Rate / float64(k), N: (c.N + k - 1) / k}
}

func (c Clock) check() error {
	if err := checkRate(c.Rate); err != nil {
		return err
	}
	if !isFinite(c.Start) || c.N < 1 || c.N >= maxSamples {
		return fmt.Errorf("%w: %d samples from %g s on", ErrClock, c.N, c.Start)
	}
	return nil
}

// Timing is what time stamps tell about the clock that made them.
type Timing struct {
	Start, End float64 // s, first and last stamp
	// Interval is the mean interval, s, and Rate its inverse, Hz. Both are NaN
	// for a single stamp.
	Interval, Rate float64
	// Jitter is the largest deviation of an interval from the mean, relative to
	// the mean; Worst is the index of the stamp that ends that interval.
	Jitter float64
	Worst  int
}

// Stamps measures the timing of a series from all of its time stamps, s. A
// stamp that is not finite, or not after the one before it, is a
// [*TimeOrderError].
func Stamps(times []float64) (Timing, error) {
	if len(times) == 0 {
		return Timing{}, grf.ErrNoData
	}
	before := math.NaN()
	for i, t := range times {
		if !isFinite(t) || t <= before {
			return Timing{}, &TimeOrderError{Index: i, Before: before, After: t}
		}
		before = t
	}
	m := Timing{Start: times[0], End: before}
	m.Interval = (m.End - m.Start) / float64(len(times)-1) // 0/0 for one stamp
	m.Rate = 1 / m.Interval
	for i := 1; i < len(times); i++ {
		if j := math.Abs(times[i]-times[i-1]-m.Interval) / m.Interval; j > m.Jitter {
			m.Jitter, m.Worst = j, i
		}
	}
	return m, nil
}

// defaultJitter is the tolerance for evenly spaced stamps.
const defaultJitter = 1e-3

// Even returns a [*IrregularError] when the stamps are less even than the
// tolerance allows: an interval is off the mean by more than that part of it.
// 0 means 0.001. A missing stamp shows up as an interval that is off by 1.
func (m Timing) Even(tolerance float64) error {
	if tolerance == 0 {
		tolerance = defaultJitter
	}
	if !(m.Jitter <= tolerance) {
		return &IrregularError{Index: m.Worst, Jitter: m.Jitter, Allowed: tolerance}
	}
	return nil
}
