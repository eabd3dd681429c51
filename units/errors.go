package units

import (
	"errors"
	"fmt"
	"strings"
)

// Sentinels for [errors.Is].
var (
	// ErrNumber means a text that does not begin with one decimal number.
	ErrNumber = errors.New("units: not a decimal number")
	// ErrRange means a number that is NaN or infinite, or which float64 cannot
	// tell from zero or from infinity.
	ErrRange = errors.New("units: number out of range")
	// ErrNoUnit means a number without a unit.
	ErrNoUnit = errors.New("units: no unit")
	// ErrUnknownUnit means a unit that this package does not know.
	ErrUnknownUnit = errors.New("units: unknown unit")
	// ErrDimension means a unit or a value of another quantity.
	ErrDimension = errors.New("units: wrong quantity")
)

// ParseError says what could not be read, and why; it wraps one of [ErrNumber],
// [ErrRange], [ErrNoUnit], [ErrUnknownUnit] and [ErrDimension].
type ParseError struct {
	Text     string   // all of what was to be read
	Quantity Quantity // what it was to be
	Err      error    // one of the sentinels

	detail string
}

// Error names the text, the fault and the remedy. Where the unit is at fault
// it lists the units that are accepted.
func (e *ParseError) Error() string {
	msg := fmt.Sprintf("units: %s %s: %s", e.Quantity, quote(e.Text), strings.TrimPrefix(fmt.Sprint(e.Err), "units: "))
	if e.detail != "" {
		msg += ": " + e.detail
	}
	switch e.Err {
	case ErrNoUnit, ErrUnknownUnit, ErrDimension:
		msg += "; accepted: " + accepted(e.Quantity)
	}
	return msg
}

// Unwrap returns the sentinel.
func (e *ParseError) Unwrap() error { return e.Err }

// quote keeps messages short when a whole file was given for a number.
func quote(s string) string {
	const most = 60
	if len(s) <= most {
		return fmt.Sprintf("%q", s)
	}
	return fmt.Sprintf("%q…", strings.ToValidUTF8(s[:most], ""))
}
