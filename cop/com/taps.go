package com

import (
	"fmt"
	"math"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/stat"
)

// FindTaps returns the instants of taps in a signal, such as the vertical
// force of a plate that was struck by a foot or a stick, or an accelerometer:
// places where it rises by more than rise, in its own unit, within 20 ms.
// Sample i was taken at start + i/rate. The instant is where the rise is half
// done, interpolated between samples; it is good to within a sample interval
// divided by √12, the standard deviation of a rectangular distribution (GUM,
// JCGM 100:2008, 4.3.7). Taps less than 0.2 s after another are its echo. A
// NaN is never part of a tap. The figures are common practice (no published
// source).
func FindTaps(signal []float64, start, rate, rise float64) ([]float64, error) {
	if !(rate > 0) || math.IsInf(rate, 0) {
		return nil, fmt.Errorf("%w: %g Hz", grf.ErrRate, rate)
	}
	if !(rise > 0) || math.IsInf(rise, 0) {
		return nil, fmt.Errorf("%w: rise of a tap %g must be positive", ErrOption, rise)
	}
	w := max(1, count(math.Round(0.02*rate)))
	var taps []float64
	for i := w; i < len(signal); i++ {
		base := signal[i-w]
		if !(signal[i]-base > rise) {
			continue
		}
		top := i // the first peak of the rise
		for top+1 < len(signal) && top+1 < i+w && signal[top+1] >= signal[top] {
			top++
		}
		half := base + (signal[top]-base)/2
		j := top
		for j > i-w && signal[j-1] >= half {
			j--
		}
		t := float64(j)
		if j > 0 && signal[j] > signal[j-1] {
			t -= (signal[j] - half) / (signal[j] - signal[j-1])
		}
		taps = append(taps, start+t/rate)
		i = max(top, j+count(0.2*rate)) + w
	}
	return taps, nil
}

// FitClock returns the clock that turns the stamps of another instrument into
// the forces' instants of the same events, such as taps. One pair gives the
// delay; two or more, spread over the record, also give the factor between the
// clocks, by a straight line of least squares. sd is the standard deviation of
// the difference of one pair, s; 0 takes it from what the line leaves over,
// which needs three pairs.
//
// The error wraps [grf.ErrLength], [grf.ErrNoData] or [ErrOption] (a stamp
// that is not finite, no spread, no way to an uncertainty).
func FitClock(stamps, instants []float64, sd float64) (Clock, error) {
	n := len(stamps)
	if len(instants) != n {
		return Clock{}, &grf.LengthError{What: "instants against stamps", Want: n, Got: len(instants)}
	}
	if n == 0 {
		return Clock{}, fmt.Errorf("%w: no event that both clocks show", grf.ErrNoData)
	}
	if !(sd >= 0) || math.IsInf(sd, 0) {
		return Clock{}, fmt.Errorf("%w: standard deviation %g s", ErrOption, sd)
	}
	if sd == 0 && n < 3 {
		return Clock{}, fmt.Errorf("%w: %d events tell nothing of their own scatter: state the standard deviation of one", ErrOption, n)
	}
	for i := range n {
		if s := stamps[i] + instants[i]; math.IsNaN(s) || math.IsInf(s, 0) {
			return Clock{}, fmt.Errorf("%w: event %d at stamp %g s, instant %g s", ErrOption, i, stamps[i], instants[i])
		}
	}
	c := Clock{At: stat.Mean(stamps, nil), Method: fmt.Sprintf("%d common events", n)}
	c.Delay = c.At - stat.Mean(instants, nil)
	if n == 1 {
		c.DelaySD = sd
		return c, nil
	}
	_, c.Factor = stat.LinearRegression(stamps, instants, nil, false)
	var spread, rest float64
	for i := range n {
		d := stamps[i] - c.At
		e := c.Time(stamps[i]) - instants[i]
		spread += d * d
		rest += e * e
	}
	if !(spread > 0) {
		return Clock{}, fmt.Errorf("%w: all events carry the same stamp %g s", ErrOption, stamps[0])
	}
	if sd == 0 {
		sd = math.Sqrt(rest / float64(n-2))
	} else if n > 2 && rest/float64(n-2) > 9*sd*sd {
		c.warn("sync-scatter", "the events scatter by %.1f ms about the best clock, much more than the stated %.1f ms: is one of them another event?", 1000*math.Sqrt(rest/float64(n-2)), 1000*sd)
	}
	c.DelaySD = sd / math.Sqrt(float64(n))
	c.FactorSD = sd / math.Sqrt(spread)
	if off := math.Abs(c.Factor - 1); off > 1e-3 && off > 3*c.FactorSD {
		c.warn("clock-drift", "one second of this clock is %.5f s of the forces' clock: more than crystals differ, so a nominal rate is probably wrong", c.Factor)
	}
	return c, nil
}

func (c *Clock) warn(code, format string, args ...any) {
	c.Warnings = append(c.Warnings, grf.Warning{Code: code, Where: "clock", Text: fmt.Sprintf(format, args...)})
}
