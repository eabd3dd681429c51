package units

import "gonum.org/v1/gonum/unit"

// Force is a force, or one component of it, in newtons.
type Force float64

// Units of force.
const (
	Newton        Force = 1
	Kilonewton    Force = 1000
	PoundForce    Force = pound * gravity      // exact product, 4.4482216152605 N; SP 811: 4.448 222 E+00
	OunceForce    Force = pound * gravity / 16 // exact quotient; SP 811: 2.780 139 E-01
	KilogramForce Force = gravity              // exact, CGPM 1901; SP 811: 9.806 65 E+00
)

var forceUnits = []row{
	{"N", float64(Newton), nil},
	{"kN", float64(Kilonewton), nil},
	{"lbf", float64(PoundForce), nil},
	{"ozf", float64(OunceForce), nil},
	{"kgf", float64(KilogramForce), nil},
}

// ParseForce reads a number and a unit, such as "1 N", by the rules in the
// package comment. A failure is a [*ParseError], with NaN as the value.
func ParseForce(s string) (Force, error) { return parse[Force](QuantityForce, s) }

// In returns x as a multiple of unit, NaN if unit is zero.
func (x Force) In(unit Force) float64 { return in(x, unit) }

// String returns x to six significant digits with its SI unit, N.
func (x Force) String() string { return short(QuantityForce, float64(x)) }

// MarshalText writes x in N so that UnmarshalText returns it to the last
// bit. It fails with [ErrRange] when x is NaN or infinite.
func (x Force) MarshalText() ([]byte, error) { return marshal(QuantityForce, float64(x)) }

// UnmarshalText reads what [ParseForce] reads. After a failure x is as before.
func (x *Force) UnmarshalText(text []byte) error { return unmarshal(x, QuantityForce, text) }

// Unit returns x as a dimensional value of package gonum/unit.
func (x Force) Unit() *unit.Unit { return dimensional(QuantityForce, float64(x)) }

// From sets x to u. If the dimensions of u are others it sets x to NaN and
// returns an error that wraps [ErrDimension].
func (x *Force) From(u unit.Uniter) error { return from(x, QuantityForce, u) }
