package units

import "gonum.org/v1/gonum/unit"

// Acceleration is an acceleration, or one component of it, in metres per second
// squared.
type Acceleration float64

// Units of acceleration.
const (
	MetrePerSecondSquared Acceleration = 1
	FootPerSecondSquared  Acceleration = 12 * inch // exact, yard agreement; SP 811: 3.048 E-01 (from memory)
	// StandardGravity is the standard acceleration of gravity g_n, exact by
	// definition, CGPM 1901. The local value differs from it by up to 0.3 %
	// at sea level.
	StandardGravity Acceleration = gravity
)

var accelerationUnits = []row{
	{"m/s²", float64(MetrePerSecondSquared), nil},
	{"ft/s²", float64(FootPerSecondSquared), nil},
	{"g_n", float64(StandardGravity), nil},
}

// ParseAcceleration reads a number and a unit, such as "1 m/s²", by the rules in the
// package comment. A failure is a [*ParseError], with NaN as the value.
func ParseAcceleration(s string) (Acceleration, error) {
	return parse[Acceleration](QuantityAcceleration, s)
}

// In returns x as a multiple of unit, NaN if unit is zero.
func (x Acceleration) In(unit Acceleration) float64 { return in(x, unit) }

// String returns x to six significant digits with its SI unit, m/s².
func (x Acceleration) String() string { return short(QuantityAcceleration, float64(x)) }

// MarshalText writes x in m/s² so that UnmarshalText returns it to the last
// bit. It fails with [ErrRange] when x is NaN or infinite.
func (x Acceleration) MarshalText() ([]byte, error) { return marshal(QuantityAcceleration, float64(x)) }

// UnmarshalText reads what [ParseAcceleration] reads. After a failure x is as before.
func (x *Acceleration) UnmarshalText(text []byte) error {
	return unmarshal(x, QuantityAcceleration, text)
}

// Unit returns x as a dimensional value of package gonum/unit.
func (x Acceleration) Unit() *unit.Unit { return dimensional(QuantityAcceleration, float64(x)) }

// From sets x to u. If the dimensions of u are others it sets x to NaN and
// returns an error that wraps [ErrDimension].
func (x *Acceleration) From(u unit.Uniter) error { return from(x, QuantityAcceleration, u) }
