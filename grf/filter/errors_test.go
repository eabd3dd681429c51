package filter_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/momentarm/grf/filter"
)

// What an error says: the value, the bound and what to do.
func TestErrorTexts(t *testing.T) {
	for _, tt := range []struct {
		err  error
		is   error
		says []string
	}{
		{&filter.CutoffError{Cutoff: 700, Rate: 1000}, filter.ErrCutoff, []string{"700 Hz", "500 Hz", "half the sampling rate"}},
		{&filter.CutoffError{Cutoff: 1e-9, Rate: 1000}, filter.ErrCutoff, []string{"1e-09 Hz", "within a millionth"}},
		{&filter.NotFiniteError{Index: 7, Channel: 2, Value: math.NaN()}, filter.ErrNotFinite, []string{"sample 7", "channel 2", "NaN policy"}},
		{&filter.NotFiniteError{Index: 7, Channel: 2, Value: math.Inf(1)}, filter.ErrNotFinite, []string{"+Inf", "mark it NaN"}},
		{&filter.TooShortError{Start: 3, Got: 4, Need: 16}, filter.ErrTooShort, []string{"4 samples from sample 3 on", "needs 16", "raise the cut-off"}},
		{&filter.TimeOrderError{Index: 5, Before: 0.4, After: 0.3}, filter.ErrTimeOrder, []string{"time stamp 5", "0.3 s after 0.4 s"}},
		{&filter.IrregularError{Index: 9, Jitter: 0.5, Allowed: 0.01}, filter.ErrIrregular, []string{"time stamp 9", "50 %", "1 %", "resample"}},
	} {
		if !errors.Is(tt.err, tt.is) {
			t.Errorf("%v is no %v", tt.err, tt.is)
		}
		for _, s := range tt.says {
			if !strings.Contains(tt.err.Error(), s) {
				t.Errorf("%q does not say %q", tt.err, s)
			}
		}
	}
}
