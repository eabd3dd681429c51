package units

import "gonum.org/v1/gonum/unit"

// Frequency is a frequency or a sampling rate in hertz. A rate of turning is an
// [AngularSpeed].
type Frequency float64

// Units of frequency.
const (
	Hertz     Frequency = 1
	Kilohertz Frequency = 1000
)

var frequencyUnits = []row{
	{"Hz", float64(Hertz), nil},
	{"kHz", float64(Kilohertz), nil},
}

// ParseFrequency reads a number and a unit, such as "1 Hz", by the rules in the
// package comment. A failure is a [*ParseError], with NaN as the value.
func ParseFrequency(s string) (Frequency, error) { return parse[Frequency](QuantityFrequency, s) }

// In returns x as a multiple of unit, NaN if unit is zero.
func (x Frequency) In(unit Frequency) float64 { return in(x, unit) }

// String returns x to six significant digits with its SI unit, Hz.
func (x Frequency) String() string { return short(QuantityFrequency, float64(x)) }

// MarshalText writes x in Hz so that UnmarshalText returns it to the last
// bit. It fails with [ErrRange] when x is NaN or infinite.
func (x Frequency) MarshalText() ([]byte, error) { return marshal(QuantityFrequency, float64(x)) }

// UnmarshalText reads what [ParseFrequency] reads. After a failure x is as before.
func (x *Frequency) UnmarshalText(text []byte) error { return unmarshal(x, QuantityFrequency, text) }

// Unit returns x as a dimensional value of package gonum/unit.
func (x Frequency) Unit() *unit.Unit { return dimensional(QuantityFrequency, float64(x)) }

// From sets x to u. If the dimensions of u are others it sets x to NaN and
// returns an error that wraps [ErrDimension].
func (x *Frequency) From(u unit.Uniter) error { return from(x, QuantityFrequency, u) }
