package units

import "gonum.org/v1/gonum/unit"

// Speed is a speed, or one component of a velocity, in metres per second.
type Speed float64

// Units of speed.
const (
	MetrePerSecond      Speed = 1
	CentimetrePerSecond Speed = 0.01
	MillimetrePerSecond Speed = 0.001
	KilometrePerHour    Speed = 1000.0 / 3600
	FootPerSecond       Speed = 12 * inch           // exact, yard agreement; SP 811: 3.048 E-01
	MilePerHour         Speed = 63360 * inch / 3600 // exact, yard agreement; SP 811: 4.4704 E-01
)

var speedUnits = []row{
	{"m/s", float64(MetrePerSecond), nil},
	{"cm/s", float64(CentimetrePerSecond), nil},
	{"mm/s", float64(MillimetrePerSecond), nil},
	{"km/h", float64(KilometrePerHour), nil},
	{"ft/s", float64(FootPerSecond), nil},
	{"mph", float64(MilePerHour), []string{"mi/h"}},
}

// ParseSpeed reads a number and a unit, such as "1 m/s", by the rules in the
// package comment. A failure is a [*ParseError], with NaN as the value.
func ParseSpeed(s string) (Speed, error) { return parse[Speed](QuantitySpeed, s) }

// In returns x as a multiple of unit, NaN if unit is zero.
func (x Speed) In(unit Speed) float64 { return in(x, unit) }

// String returns x to six significant digits with its SI unit, m/s.
func (x Speed) String() string { return short(QuantitySpeed, float64(x)) }

// MarshalText writes x in m/s so that UnmarshalText returns it to the last
// bit. It fails with [ErrRange] when x is NaN or infinite.
func (x Speed) MarshalText() ([]byte, error) { return marshal(QuantitySpeed, float64(x)) }

// UnmarshalText reads what [ParseSpeed] reads. After a failure x is as before.
func (x *Speed) UnmarshalText(text []byte) error { return unmarshal(x, QuantitySpeed, text) }

// Unit returns x as a dimensional value of package gonum/unit.
func (x Speed) Unit() *unit.Unit { return dimensional(QuantitySpeed, float64(x)) }

// From sets x to u. If the dimensions of u are others it sets x to NaN and
// returns an error that wraps [ErrDimension].
func (x *Speed) From(u unit.Uniter) error { return from(x, QuantitySpeed, u) }
