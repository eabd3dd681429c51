package units

import (
	"math"

	"gonum.org/v1/gonum/unit"
)

// AngularSpeed is an angular speed, or one component of an angular velocity, in
// radians per second.
type AngularSpeed float64

// Units of angular speed.
const (
	RadianPerSecond     AngularSpeed = 1
	DegreePerSecond     AngularSpeed = math.Pi / 180
	RevolutionPerMinute AngularSpeed = 2 * math.Pi / 60 // SP 811: 1.047 198 E-01 (from memory)
)

var angularSpeedUnits = []row{
	{"rad/s", float64(RadianPerSecond), nil},
	{"deg/s", float64(DegreePerSecond), []string{"°/s"}},
	{"rpm", float64(RevolutionPerMinute), []string{"rev/min"}},
}

// ParseAngularSpeed reads a number and a unit, such as "1 rad/s", by the rules in the
// package comment. A failure is a [*ParseError], with NaN as the value.
func ParseAngularSpeed(s string) (AngularSpeed, error) {
	return parse[AngularSpeed](QuantityAngularSpeed, s)
}

// In returns x as a multiple of unit, NaN if unit is zero.
func (x AngularSpeed) In(unit AngularSpeed) float64 { return in(x, unit) }

// String returns x to six significant digits with its SI unit, rad/s.
func (x AngularSpeed) String() string { return short(QuantityAngularSpeed, float64(x)) }

// MarshalText writes x in rad/s so that UnmarshalText returns it to the last
// bit. It fails with [ErrRange] when x is NaN or infinite.
func (x AngularSpeed) MarshalText() ([]byte, error) { return marshal(QuantityAngularSpeed, float64(x)) }

// UnmarshalText reads what [ParseAngularSpeed] reads. After a failure x is as before.
func (x *AngularSpeed) UnmarshalText(text []byte) error {
	return unmarshal(x, QuantityAngularSpeed, text)
}

// Unit returns x as a dimensional value of package gonum/unit.
func (x AngularSpeed) Unit() *unit.Unit { return dimensional(QuantityAngularSpeed, float64(x)) }

// From sets x to u. If the dimensions of u are others it sets x to NaN and
// returns an error that wraps [ErrDimension].
func (x *AngularSpeed) From(u unit.Uniter) error { return from(x, QuantityAngularSpeed, u) }
