package filter

import (
	"fmt"
	"math"

	"example.com/momentarm/grf"
)

// NaNPolicy says what a filter does about samples that are NaN. A sample with
// NaN in one channel counts as missing in all of them, because the channels of
// a wrench belong together. Infinite values are an error under every policy.
type NaNPolicy int

const (
	// NaNError refuses series with a NaN and says where the first one is.
	NaNError NaNPolicy = iota
	// NaNSegments filters every run between missing samples as a series of its
	// own, which must be longer than the pad unless [ShortReduce] is chosen.
	// Missing samples stay NaN.
	NaNSegments
	// NaNInterpolate bridges missing samples by straight lines, filters, and
	// makes them NaN again. Nothing is invented before the first and after the
	// last sample. The bridges leave traces in the samples beside them: meant
	// for gaps that are short against the cut-off's period. A causal filter can
	// not do it.
	NaNInterpolate
)

// String returns "error", "segments" or "interpolate".
func (p NaNPolicy) String() string {
	switch p {
	case NaNError:
		return "error"
	case NaNSegments:
		return "segments"
	case NaNInterpolate:
		return "interpolate"
	}
	return fmt.Sprintf("NaNPolicy(%d)", int(p))
}

// ShortPolicy says what a zero-phase filter does about a series, or a run of
// one, that is not longer than the pad.
type ShortPolicy int

const (
	// ShortError refuses it with a [*TooShortError].
	ShortError ShortPolicy = iota
	// ShortReduce makes the pad one sample shorter than the series. The ends
	// are then less well prepared: a start-up error is left in the result.
	ShortReduce
)

// String returns "error" or "reduce".
func (p ShortPolicy) String() string {
	switch p {
	case ShortError:
		return "error"
	case ShortReduce:
		return "reduce"
	}
	return fmt.Sprintf("ShortPolicy(%d)", int(p))
}

// span is a run of samples from … to−1.
type span struct{ from, to int }

// appendRuns appends the runs of measured samples. A value that is infinite or
// too large is an error, and so is a NaN under NaNError, and a series without
// any measured sample. row is work space for one sample.
func appendRuns[R rows[R]](runs []span, src R, policy NaNPolicy, row []float64) ([]span, error) {
	n := src.count()
	if n == 0 {
		return runs, grf.ErrNoData
	}
	for from := 0; from < n; {
		to := src.bad(from)
		if to > from {
			runs = append(runs, span{from, to})
		}
		if to < n {
			src.read(row, to)
			if err := notFinite(row, to, policy); err != nil {
				return runs, err
			}
		}
		from = to + 1
	}
	if len(runs) == 0 {
		return runs, fmt.Errorf("%w: all %d samples are NaN", grf.ErrNoData, n)
	}
	return runs, nil
}

// notFinite returns the error about a bad sample, if the policy does not cover
// it. An infinite value beside a NaN is the worse fault and is named first.
func notFinite(row []float64, index int, policy NaNPolicy) error {
	nan := -1
	for c, x := range row {
		switch {
		case math.IsNaN(x):
			if nan < 0 {
				nan = c
			}
		case !measured(x):
			return &NotFiniteError{Index: index, Channel: c, Value: x}
		}
	}
	if nan >= 0 && policy == NaNError {
		return &NotFiniteError{Index: index, Channel: nan, Value: row[nan]}
	}
	return nil
}

// eachGap calls f for every stretch of n samples that lies between the runs,
// before the first and after the last.
func eachGap(runs []span, n int, f func(gap span)) {
	at := 0
	for _, r := range runs {
		if r.from > at {
			f(span{at, r.from})
		}
		at = r.to
	}
	if at < n {
		f(span{at, n})
	}
}

// bridge writes straight lines over the gaps between the runs of x. work is
// work space for three samples.
func bridge[R rows[R]](x R, runs []span, work []float64) {
	n := x.width()
	before, after, row := work[:n], work[n:2*n], work[2*n:3*n]
	for k := 1; k < len(runs); k++ {
		i0, i1 := runs[k-1].to-1, runs[k].from
		x.read(before, i0)
		x.read(after, i1)
		for i := i0 + 1; i < i1; i++ {
			t := float64(i-i0) / float64(i1-i0)
			for c := range row {
				row[c] = before[c] + float64(t*(after[c]-before[c]))
			}
			x.write(row, i)
		}
	}
}
