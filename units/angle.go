package units

import (
	"math"

	"gonum.org/v1/gonum/unit"
)

// Angle is a plane angle in radians.
type Angle float64

// Units of angle.
const (
	Radian     Angle = 1
	Degree     Angle = math.Pi / 180 // by definition, SI Brochure (from memory); SP 811: 1.745 329 E-02
	Revolution Angle = 2 * math.Pi   // by definition, SI Brochure (from memory)
)

var angleUnits = []row{
	{"rad", float64(Radian), nil},
	{"deg", float64(Degree), []string{"°"}},
	{"rev", float64(Revolution), nil},
}

// ParseAngle reads a number and a unit, such as "1 rad", by the rules in the
// package comment. A failure is a [*ParseError], with NaN as the value.
func ParseAngle(s string) (Angle, error) { return parse[Angle](QuantityAngle, s) }

// In returns x as a multiple of unit, NaN if unit is zero.
func (x Angle) In(unit Angle) float64 { return in(x, unit) }

// String returns x to six significant digits with its SI unit, rad.
func (x Angle) String() string { return short(QuantityAngle, float64(x)) }

// MarshalText writes x in rad so that UnmarshalText returns it to the last
// bit. It fails with [ErrRange] when x is NaN or infinite.
func (x Angle) MarshalText() ([]byte, error) { return marshal(QuantityAngle, float64(x)) }

// UnmarshalText reads what [ParseAngle] reads. After a failure x is as before.
func (x *Angle) UnmarshalText(text []byte) error { return unmarshal(x, QuantityAngle, text) }

// Unit returns x as a dimensional value of package gonum/unit.
func (x Angle) Unit() *unit.Unit { return dimensional(QuantityAngle, float64(x)) }

// From sets x to u. If the dimensions of u are others it sets x to NaN and
// returns an error that wraps [ErrDimension].
func (x *Angle) From(u unit.Uniter) error { return from(x, QuantityAngle, u) }
