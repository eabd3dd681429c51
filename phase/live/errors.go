package live

import (
	"errors"
	"fmt"
)

// Sentinels for [errors.Is]. Wrong numbers of channels, loaded and unsteady
// plates and a golfer who moves are told by the sentinels of package grf.
var (
	// ErrConfig means a configuration that makes no sense.
	ErrConfig = errors.New("live: unusable configuration")
	// ErrSequence means a sample that is not later than the one before it.
	ErrSequence = errors.New("live: sample out of order")
	// ErrNotZeroed means a request that needs zeroed plates.
	ErrNotZeroed = errors.New("live: the plates were not zeroed")
	// ErrLost means that samples were lost while plates were zeroed or a golfer
	// was weighed.
	ErrLost = errors.New("live: samples were lost")
	// ErrClock means that the device's stamps contradict the sampling rate.
	ErrClock = errors.New("live: the device's clock contradicts the sampling rate")
	// ErrSaturated means that a channel was at the end of its range while plates
	// were zeroed or a golfer was weighed.
	ErrSaturated = errors.New("live: a channel is at the end of its range")
	// ErrNobody means that no golfer was weighed who is still on the plates.
	ErrNobody = errors.New("live: nobody was weighed")
)

// SequenceError says which sample came after which; it wraps [ErrSequence].
type SequenceError struct{ Last, Got uint64 }

func (e *SequenceError) Error() string {
	return fmt.Sprintf("live: sample %d came after sample %d: drop it, or call Restart if the device began anew", e.Got, e.Last)
}

func (e *SequenceError) Unwrap() error { return ErrSequence }

// Refusal says why plates were not zeroed or a golfer was not weighed.
type Refusal struct {
	Request State   // Zeroing or Weighing
	Time    float64 // s, when it was decided
	Input   int     // number of the plate that is at fault, from 0; −1 for none alone
	Err     error   // the reason, which errors.Is and errors.As find
}

func (e *Refusal) Error() string {
	what := "zeroing"
	if e.Request == Weighing {
		what = "weighing"
	}
	if e.Input >= 0 {
		what = fmt.Sprintf("%s plate %d", what, e.Input+1)
	}
	return fmt.Sprintf("live: %s was refused: %v", what, e.Err)
}

func (e *Refusal) Unwrap() error { return e.Err }
