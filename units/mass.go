package units

import "gonum.org/v1/gonum/unit"

// Mass is a mass in kilograms. What a plate or a scale tells is a [Force]; see
// [BodyWeight].
type Mass float64

// Units of mass.
const (
	Kilogram Mass = 1
	Gram     Mass = 0.001
	Pound    Mass = pound                         // avoirdupois; exact, yard agreement; SP 811: 4.535 924 E-01
	Ounce    Mass = pound / 16                    // avoirdupois; exact, yard agreement; SP 811: 2.834 952 E-02 (from memory)
	Slug     Mass = pound * gravity / (12 * inch) // what 1 lbf accelerates by 1 ft/s²; SP 811: 1.459 390 E+01
)

var massUnits = []row{
	{"kg", float64(Kilogram), nil},
	{"g", float64(Gram), nil},
	{"lb", float64(Pound), []string{"lbm"}},
	{"oz", float64(Ounce), nil},
	{"slug", float64(Slug), nil},
}

// ParseMass reads a number and a unit, such as "1 kg", by the rules in the
// package comment. A failure is a [*ParseError], with NaN as the value.
func ParseMass(s string) (Mass, error) { return parse[Mass](QuantityMass, s) }

// In returns x as a multiple of unit, NaN if unit is zero.
func (x Mass) In(unit Mass) float64 { return in(x, unit) }

// String returns x to six significant digits with its SI unit, kg.
func (x Mass) String() string { return short(QuantityMass, float64(x)) }

// MarshalText writes x in kg so that UnmarshalText returns it to the last
// bit. It fails with [ErrRange] when x is NaN or infinite.
func (x Mass) MarshalText() ([]byte, error) { return marshal(QuantityMass, float64(x)) }

// UnmarshalText reads what [ParseMass] reads. After a failure x is as before.
func (x *Mass) UnmarshalText(text []byte) error { return unmarshal(x, QuantityMass, text) }

// Unit returns x as a dimensional value of package gonum/unit.
func (x Mass) Unit() *unit.Unit { return dimensional(QuantityMass, float64(x)) }

// From sets x to u. If the dimensions of u are others it sets x to NaN and
// returns an error that wraps [ErrDimension].
func (x *Mass) From(u unit.Uniter) error { return from(x, QuantityMass, u) }
