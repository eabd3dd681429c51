package units

import "gonum.org/v1/gonum/unit"

// Impulse is the impulse of a force, or one component of it, in newton-seconds;
// also a linear momentum.
type Impulse float64

// Units of impulse.
const (
	NewtonSecond     Impulse = 1
	PoundForceSecond Impulse = pound * gravity // exact product
)

var impulseUnits = []row{
	{"N·s", float64(NewtonSecond), []string{"Ns", "kg·m/s"}},
	{"lbf·s", float64(PoundForceSecond), nil},
}

// ParseImpulse reads a number and a unit, such as "1 N·s", by the rules in the
// package comment. A failure is a [*ParseError], with NaN as the value.
func ParseImpulse(s string) (Impulse, error) { return parse[Impulse](QuantityImpulse, s) }

// In returns x as a multiple of unit, NaN if unit is zero.
func (x Impulse) In(unit Impulse) float64 { return in(x, unit) }

// String returns x to six significant digits with its SI unit, N·s.
func (x Impulse) String() string { return short(QuantityImpulse, float64(x)) }

// MarshalText writes x in N·s so that UnmarshalText returns it to the last
// bit. It fails with [ErrRange] when x is NaN or infinite.
func (x Impulse) MarshalText() ([]byte, error) { return marshal(QuantityImpulse, float64(x)) }

// UnmarshalText reads what [ParseImpulse] reads. After a failure x is as before.
func (x *Impulse) UnmarshalText(text []byte) error { return unmarshal(x, QuantityImpulse, text) }

// Unit returns x as a dimensional value of package gonum/unit.
func (x Impulse) Unit() *unit.Unit { return dimensional(QuantityImpulse, float64(x)) }

// From sets x to u. If the dimensions of u are others it sets x to NaN and
// returns an error that wraps [ErrDimension].
func (x *Impulse) From(u unit.Uniter) error { return from(x, QuantityImpulse, u) }
