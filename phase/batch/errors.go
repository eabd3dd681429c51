package batch

import (
	"errors"
	"fmt"

	"example.com/momentarm/grf/filter"
)

// Sentinels for [errors.Is]. Errors also wrap those of the packages below that
// name what is wrong: [grf.ErrChannels], [grf.ErrLength], [grf.ErrNoData],
// [grf.ErrNoQuiet], [grf.ErrRate] and the errors of package filter.
var (
	// ErrConfig means a configuration that makes no sense.
	ErrConfig = errors.New("batch: unusable configuration")
	// ErrInput means a recording that does not fit the chain, or that asks for
	// two things at once.
	ErrInput = errors.New("batch: unusable input")
)

// SampleError says which reading is not a finite number; it wraps [ErrInput] and
// [filter.ErrNotFinite].
type SampleError struct {
	Plate, Channel int // channel of that plate; both from 0
	Index          int // sample, from 0
	Value          float64
}

func (e *SampleError) Error() string {
	return fmt.Sprintf("batch: channel %d of plate %d is %g at sample %d: a reading must be a finite number; mark lost samples by NaN and choose a NaN policy that covers them",
		e.Channel+1, e.Plate+1, e.Value, e.Index)
}

// Unwrap makes errors.Is find the sentinels.
func (e *SampleError) Unwrap() []error { return []error{ErrInput, filter.ErrNotFinite} }
