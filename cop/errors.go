package cop

import (
	"errors"
	"fmt"
)

// Sentinels for [errors.Is]. The errors that wrap them say where and how much.
// [grf.ErrNoData], [grf.ErrLength] and [grf.ErrRate] of the package grf are used
// for what they name.
var (
	// ErrFoot means an outline that is no foot: too few points, no area, sides
	// that cross, no direction, a size that no foot has.
	ErrFoot = errors.New("cop: outline is not that of a foot")
	// ErrTooShort means a path with too few samples for the measure.
	ErrTooShort = errors.New("cop: path too short")
	// ErrUndefined means a path with undefined (NaN or infinite) samples where
	// none is allowed.
	ErrUndefined = errors.New("cop: path has undefined samples")
)

// UndefinedError says where the first undefined sample of a path is and how
// many there are; it wraps [ErrUndefined].
type UndefinedError struct {
	First, Count int
}

// Error says how many samples are undefined and where the first one is.
func (e *UndefinedError) Error() string {
	return fmt.Sprintf("%v: %d of them, the first at index %d (choose LongestRun to measure the longest defined stretch)",
		ErrUndefined, e.Count, e.First)
}

// Unwrap returns [ErrUndefined].
func (e *UndefinedError) Unwrap() error { return ErrUndefined }

// ShortError says how many samples a measure needs and how many there were; it
// wraps [ErrTooShort].
type ShortError struct {
	Need, Got int
}

// Error says how many samples there are and how many are needed.
func (e *ShortError) Error() string {
	return fmt.Sprintf("%v: need at least %d defined samples in a row, got %d", ErrTooShort, e.Need, e.Got)
}

// Unwrap returns [ErrTooShort].
func (e *ShortError) Unwrap() error { return ErrTooShort }
