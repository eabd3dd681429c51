package units

import "gonum.org/v1/gonum/unit"

// Moment is a moment of force (torque), or one component of it, in
// newton-metres. It is not an energy, though joules have the same dimensions.
type Moment float64

// Units of moment.
const (
	NewtonMetre        Moment = 1
	NewtonCentimetre   Moment = 0.01
	NewtonMillimetre   Moment = 0.001
	KilonewtonMetre    Moment = 1000
	PoundForceFoot     Moment = pound * gravity * 12 * inch // exact product; SP 811: 1.355 818 E+00
	PoundForceInch     Moment = pound * gravity * inch      // exact product; SP 811: 1.129 848 E-01
	KilogramForceMetre Moment = gravity                     // exact, CGPM 1901; SP 811: 9.806 65 E+00
)

var momentUnits = []row{
	{"N·m", float64(NewtonMetre), []string{"Nm"}},
	{"N·cm", float64(NewtonCentimetre), []string{"Ncm"}},
	{"N·mm", float64(NewtonMillimetre), []string{"Nmm"}},
	{"kN·m", float64(KilonewtonMetre), []string{"kNm"}},
	{"lbf·ft", float64(PoundForceFoot), []string{"ft·lbf"}},
	{"lbf·in", float64(PoundForceInch), []string{"in·lbf"}},
	{"kgf·m", float64(KilogramForceMetre), nil},
}

// ParseMoment reads a number and a unit, such as "1 N·m", by the rules in the
// package comment. A failure is a [*ParseError], with NaN as the value.
func ParseMoment(s string) (Moment, error) { return parse[Moment](QuantityMoment, s) }

// In returns x as a multiple of unit, NaN if unit is zero.
func (x Moment) In(unit Moment) float64 { return in(x, unit) }

// String returns x to six significant digits with its SI unit, N·m.
func (x Moment) String() string { return short(QuantityMoment, float64(x)) }

// MarshalText writes x in N·m so that UnmarshalText returns it to the last
// bit. It fails with [ErrRange] when x is NaN or infinite.
func (x Moment) MarshalText() ([]byte, error) { return marshal(QuantityMoment, float64(x)) }

// UnmarshalText reads what [ParseMoment] reads. After a failure x is as before.
func (x *Moment) UnmarshalText(text []byte) error { return unmarshal(x, QuantityMoment, text) }

// Unit returns x as a dimensional value of package gonum/unit.
func (x Moment) Unit() *unit.Unit { return dimensional(QuantityMoment, float64(x)) }

// From sets x to u. If the dimensions of u are others it sets x to NaN and
// returns an error that wraps [ErrDimension].
func (x *Moment) From(u unit.Uniter) error { return from(x, QuantityMoment, u) }
