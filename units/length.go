package units

import "gonum.org/v1/gonum/unit"

// Length is a length, a position along an axis or a moment arm, in metres.
type Length float64

// Units of length.
const (
	Metre      Length = 1
	Centimetre Length = 0.01
	Millimetre Length = 0.001
	Inch       Length = inch         // exact, yard agreement; SP 811: 2.54 E-02
	Foot       Length = 12 * inch    // exact, yard agreement; SP 811: 3.048 E-01
	Yard       Length = 36 * inch    // exact, yard agreement; SP 811: 9.144 E-01
	Mile       Length = 63360 * inch // exact, yard agreement; SP 811: 1.609 344 E+03
)

var lengthUnits = []row{
	{"m", float64(Metre), nil},
	{"cm", float64(Centimetre), nil},
	{"mm", float64(Millimetre), nil},
	{"in", float64(Inch), nil},
	{"ft", float64(Foot), nil},
	{"yd", float64(Yard), nil},
	{"mi", float64(Mile), nil},
}

// ParseLength reads a number and a unit, such as "1 m", by the rules in the
// package comment. A failure is a [*ParseError], with NaN as the value.
func ParseLength(s string) (Length, error) { return parse[Length](QuantityLength, s) }

// In returns x as a multiple of unit, NaN if unit is zero.
func (x Length) In(unit Length) float64 { return in(x, unit) }

// String returns x to six significant digits with its SI unit, m.
func (x Length) String() string { return short(QuantityLength, float64(x)) }

// MarshalText writes x in m so that UnmarshalText returns it to the last
// bit. It fails with [ErrRange] when x is NaN or infinite.
func (x Length) MarshalText() ([]byte, error) { return marshal(QuantityLength, float64(x)) }

// UnmarshalText reads what [ParseLength] reads. After a failure x is as before.
func (x *Length) UnmarshalText(text []byte) error { return unmarshal(x, QuantityLength, text) }

// Unit returns x as a dimensional value of package gonum/unit.
func (x Length) Unit() *unit.Unit { return dimensional(QuantityLength, float64(x)) }

// From sets x to u. If the dimensions of u are others it sets x to NaN and
// returns an error that wraps [ErrDimension].
func (x *Length) From(u unit.Uniter) error { return from(x, QuantityLength, u) }
