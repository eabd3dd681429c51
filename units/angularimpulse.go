package units

import "gonum.org/v1/gonum/unit"

// AngularImpulse is the impulse of a moment, or one component of it, in
// newton-metre-seconds; also an angular momentum.
type AngularImpulse float64

// Units of angular impulse.
const (
	NewtonMetreSecond    AngularImpulse = 1
	PoundForceFootSecond AngularImpulse = pound * gravity * 12 * inch // exact product
)

var angularImpulseUnits = []row{
	{"N·m·s", float64(NewtonMetreSecond), []string{"Nms", "kg·m²/s"}},
	{"lbf·ft·s", float64(PoundForceFootSecond), []string{"ft·lbf·s"}},
}

// ParseAngularImpulse reads a number and a unit, such as "1 N·m·s", by the rules in the
// package comment. A failure is a [*ParseError], with NaN as the value.
func ParseAngularImpulse(s string) (AngularImpulse, error) {
	return parse[AngularImpulse](QuantityAngularImpulse, s)
}

// In returns x as a multiple of unit, NaN if unit is zero.
func (x AngularImpulse) In(unit AngularImpulse) float64 { return in(x, unit) }

// String returns x to six significant digits with its SI unit, N·m·s.
func (x AngularImpulse) String() string { return short(QuantityAngularImpulse, float64(x)) }

// MarshalText writes x in N·m·s so that UnmarshalText returns it to the last
// bit. It fails with [ErrRange] when x is NaN or infinite.
func (x AngularImpulse) MarshalText() ([]byte, error) {
	return marshal(QuantityAngularImpulse, float64(x))
}

// UnmarshalText reads what [ParseAngularImpulse] reads. After a failure x is as before.
func (x *AngularImpulse) UnmarshalText(text []byte) error {
	return unmarshal(x, QuantityAngularImpulse, text)
}

// Unit returns x as a dimensional value of package gonum/unit.
func (x AngularImpulse) Unit() *unit.Unit { return dimensional(QuantityAngularImpulse, float64(x)) }

// From sets x to u. If the dimensions of u are others it sets x to NaN and
// returns an error that wraps [ErrDimension].
func (x *AngularImpulse) From(u unit.Uniter) error { return from(x, QuantityAngularImpulse, u) }
