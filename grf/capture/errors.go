package capture

import (
	"errors"
	"fmt"
)

// Sentinels for [errors.Is].
var (
	// ErrSetup means a setup that can not be read or that does not fit the
	// capture; see [*SetupError].
	ErrSetup = errors.New("capture: unusable setup")
	// ErrFormat means a file that is neither C3D nor a table.
	ErrFormat = errors.New("capture: neither a C3D file nor a table")
	// ErrNoPlates means a capture without a usable force plate.
	ErrNoPlates = errors.New("capture: no usable force plate")
	// ErrMoments means a plate that gives forces but not where they act.
	ErrMoments = errors.New("capture: plate without moments")
)

// SetupError says which field of a setup is wrong; it wraps [ErrSetup] and,
// where there is one, the error that was found there.
type SetupError struct {
	// Path names the field as in JavaScript, such as
	// "plates.change[0].corners". It is empty for the whole setup.
	Path string
	// Text says what is wrong and what to write instead.
	Text string
	Err  error
}

func (e *SetupError) Error() string {
	s := "setup: "
	if e.Path != "" {
		s += e.Path + ": "
	}
	return s + e.Text
}

// Unwrap returns [ErrSetup] and Err.
func (e *SetupError) Unwrap() []error {
	if e.Err == nil {
		return []error{ErrSetup}
	}
	return []error{ErrSetup, e.Err}
}

func setupErrorf(path, format string, a ...any) *SetupError {
	return &SetupError{Path: path, Text: fmt.Sprintf(format, a...)}
}

// setupWrap makes err an error of the field path.
func setupWrap(path string, err error) *SetupError {
	return &SetupError{Path: path, Text: err.Error(), Err: err}
}

// PlateError says which plate of a file can not be used and why.
type PlateError struct {
	Number int // as in the file, from 1
	Err    error
}

func (e *PlateError) Error() string { return fmt.Sprintf("plate %d: %v", e.Number, e.Err) }

// Unwrap returns Err.
func (e *PlateError) Unwrap() error { return e.Err }
