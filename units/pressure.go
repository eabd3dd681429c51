package units

import "gonum.org/v1/gonum/unit"

// Pressure is a pressure in pascals.
type Pressure float64

// Units of pressure.
const (
	Pascal                    Pressure = 1
	Kilopascal                Pressure = 1e3
	Bar                       Pressure = 1e5
	NewtonPerSquareCentimetre Pressure = 1e4
	// PoundForcePerSquareInch is the exact quotient; SP 811: 6.894 757 E+03.
	PoundForcePerSquareInch Pressure = pound * gravity / (inch * inch)
)

var pressureUnits = []row{
	{"Pa", float64(Pascal), []string{"N/m²"}},
	{"kPa", float64(Kilopascal), nil},
	{"bar", float64(Bar), nil},
	{"N/cm²", float64(NewtonPerSquareCentimetre), nil},
	{"psi", float64(PoundForcePerSquareInch), []string{"lbf/in²"}},
}

// ParsePressure reads a number and a unit, such as "1 Pa", by the rules in the
// package comment. A failure is a [*ParseError], with NaN as the value.
func ParsePressure(s string) (Pressure, error) { return parse[Pressure](QuantityPressure, s) }

// In returns x as a multiple of unit, NaN if unit is zero.
func (x Pressure) In(unit Pressure) float64 { return in(x, unit) }

// String returns x to six significant digits with its SI unit, Pa.
func (x Pressure) String() string { return short(QuantityPressure, float64(x)) }

// MarshalText writes x in Pa so that UnmarshalText returns it to the last
// bit. It fails with [ErrRange] when x is NaN or infinite.
func (x Pressure) MarshalText() ([]byte, error) { return marshal(QuantityPressure, float64(x)) }

// UnmarshalText reads what [ParsePressure] reads. After a failure x is as before.
func (x *Pressure) UnmarshalText(text []byte) error { return unmarshal(x, QuantityPressure, text) }

// Unit returns x as a dimensional value of package gonum/unit.
func (x Pressure) Unit() *unit.Unit { return dimensional(QuantityPressure, float64(x)) }

// From sets x to u. If the dimensions of u are others it sets x to NaN and
// returns an error that wraps [ErrDimension].
func (x *Pressure) From(u unit.Uniter) error { return from(x, QuantityPressure, u) }
