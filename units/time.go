package units

import "gonum.org/v1/gonum/unit"

// Time is a stretch of time, or a position on a recording's clock, in seconds.
type Time float64

// Units of time.
const (
	Second      Time = 1
	Millisecond Time = 1e-3
	Microsecond Time = 1e-6
)

var timeUnits = []row{
	{"s", float64(Second), nil},
	{"ms", float64(Millisecond), nil},
	{"µs", float64(Microsecond), []string{"us"}},
}

// ParseTime reads a number and a unit, such as "1 s", by the rules in the
// package comment. A failure is a [*ParseError], with NaN as the value.
func ParseTime(s string) (Time, error) { return parse[Time](QuantityTime, s) }

// In returns x as a multiple of unit, NaN if unit is zero.
func (x Time) In(unit Time) float64 { return in(x, unit) }

// String returns x to six significant digits with its SI unit, s.
func (x Time) String() string { return short(QuantityTime, float64(x)) }

// MarshalText writes x in s so that UnmarshalText returns it to the last
// bit. It fails with [ErrRange] when x is NaN or infinite.
func (x Time) MarshalText() ([]byte, error) { return marshal(QuantityTime, float64(x)) }

// UnmarshalText reads what [ParseTime] reads. After a failure x is as before.
func (x *Time) UnmarshalText(text []byte) error { return unmarshal(x, QuantityTime, text) }

// Unit returns x as a dimensional value of package gonum/unit.
func (x Time) Unit() *unit.Unit { return dimensional(QuantityTime, float64(x)) }

// From sets x to u. If the dimensions of u are others it sets x to NaN and
// returns an error that wraps [ErrDimension].
func (x *Time) From(u unit.Uniter) error { return from(x, QuantityTime, u) }
