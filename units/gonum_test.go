package units

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/unit"
	"gonum.org/v1/gonum/unit/constant"
)

// Where gonum's package unit has a value of its own, value and dimensions are
// the same. The tolerance is one rounding: gonum multiplies prefixes.
func TestAgreesWithGonum(t *testing.T) {
	for _, c := range []struct {
		name         string
		ours, theirs unit.Uniter
	}{
		{"metre", Metre, unit.Metre},
		{"centimetre", Centimetre, unit.Centi * unit.Metre},
		{"millimetre", Millimetre, unit.Milli * unit.Metre},
		{"kilogram", Kilogram, unit.Kilogram},
		{"gram", Gram, unit.Gram},
		{"newton", Newton, unit.Newton},
		{"kilonewton", Kilonewton, unit.Kilo * unit.Newton},
		{"newton-metre", NewtonMetre, unit.Newtonmetre},
		{"newton-millimetre", NewtonMillimetre, unit.Milli * unit.Newtonmetre},
		{"metre per second", MetrePerSecond, unit.Velocity(1)},
		{"radian", Radian, unit.Rad},
		{"degree", Degree, math.Pi / 180 * unit.Rad},
		{"metre per second squared", MetrePerSecondSquared, unit.Acceleration(1)},
		{"standard gravity", StandardGravity, constant.StandardGravity},
		{"pascal", Pascal, unit.Pascal},
		{"kilopascal", Kilopascal, unit.Kilo * unit.Pascal},
		{"bar", Bar, 100 * unit.Kilo * unit.Pascal},
		{"second", Second, unit.Second},
		{"millisecond", Millisecond, unit.Milli * unit.Second},
		{"microsecond", Microsecond, unit.Micro * unit.Second},
		{"hertz", Hertz, unit.Hertz},
		{"kilohertz", Kilohertz, unit.Kilo * unit.Hertz},
		// gonum has no types for these: put together from its parts.
		{"newton-second", NewtonSecond, unit.Newton.Unit().Mul(unit.Second)},
		{"newton-metre-second", NewtonMetreSecond, unit.Newtonmetre.Unit().Mul(unit.Second)},
		{"radian per second", RadianPerSecond, unit.Rad.Unit().Div(unit.Second)},
		{"kilometre per hour", KilometrePerHour, (unit.Kilo * unit.Metre).Unit().Div(unit.Hour)},
		{"rpm", RevolutionPerMinute, (2 * math.Pi * unit.Rad).Unit().Div(unit.Minute)},
		{"newton per square centimetre", NewtonPerSquareCentimetre,
			unit.Newton.Unit().Div(unit.Centi * unit.Metre).Div(unit.Centi * unit.Metre)},
		{"body weight", BodyWeight(80 * Kilogram), (80 * unit.Kilogram).Unit().Mul(constant.StandardGravity)},
	} {
		if !unit.DimensionsMatch(c.ours, c.theirs) {
			t.Errorf("%s: ours is %v, gonum's %v", c.name, c.ours.Unit().Dimensions(), c.theirs.Unit().Dimensions())
		}
		a, b := c.ours.Unit().Value(), c.theirs.Unit().Value()
		if math.Abs(a-b) > 4e-16*math.Abs(b) {
			t.Errorf("%s: ours is %v, gonum's %v", c.name, a, b)
		}
	}
}

// The laws that tie the quantities together, with their dimensions.
func TestDimensionsOfLaws(t *testing.T) {
	for _, c := range []struct {
		law         string
		left, right *unit.Unit
	}{
		{"force = mass × acceleration", Newton.Unit(), Kilogram.Unit().Mul(MetrePerSecondSquared)},
		{"moment = arm × force", NewtonMetre.Unit(), Metre.Unit().Mul(Newton)},
		{"impulse = force × time", NewtonSecond.Unit(), Newton.Unit().Mul(Second)},
		{"impulse = mass × speed", NewtonSecond.Unit(), Kilogram.Unit().Mul(MetrePerSecond)},
		{"angular impulse = moment × time", NewtonMetreSecond.Unit(), NewtonMetre.Unit().Mul(Second)},
		{"speed = length / time", MetrePerSecond.Unit(), Metre.Unit().Div(Second)},
		{"acceleration = speed / time", MetrePerSecondSquared.Unit(), MetrePerSecond.Unit().Div(Second)},
		{"pressure = force / area", Pascal.Unit(), Newton.Unit().Div(Metre).Div(Metre)},
		{"angular speed = angle / time", RadianPerSecond.Unit(), Radian.Unit().Div(Second)},
		{"frequency = 1 / time", Hertz.Unit(), unit.New(1, unit.Dimensions{}).Div(Second)},
		{"1 lbf = 1 slug × 1 ft/s²", PoundForce.Unit(), Slug.Unit().Mul(FootPerSecondSquared)},
		{"1 lbf = 1 lb × g_n", PoundForce.Unit(), Pound.Unit().Mul(StandardGravity)},
		{"1 lbf·ft = 1 lbf × 1 ft", PoundForceFoot.Unit(), PoundForce.Unit().Mul(Foot)},
		{"1 psi = 1 lbf / 1 in²", PoundForcePerSquareInch.Unit(), PoundForce.Unit().Div(Inch).Div(Inch)},
		{"1 mph = 1 mi / 3600 s", MilePerHour.Unit(), Mile.Unit().Div(3600 * Second)},
	} {
		if !unit.DimensionsMatch(c.left, c.right) {
			t.Errorf("%s: %v against %v", c.law, c.left, c.right)
		}
		// Three roundings at most.
		if a, b := c.left.Value(), c.right.Value(); math.Abs(a-b) > 4e-16*math.Abs(b) {
			t.Errorf("%s: %v against %v", c.law, a, b)
		}
	}
}

// Every pair of quantities has different dimensions, so From tells them apart.
func TestMismatchIsCaught(t *testing.T) {
	for _, a := range all {
		for _, b := range all {
			u := b.uniter(3)
			got, err := a.from(u)
			if a.quantity == b.quantity {
				if err != nil || got != 3 {
					t.Errorf("%v: got %v, %v", a.quantity, got, err)
				}
				continue
			}
			if unit.DimensionsMatch(a.uniter(1), u) {
				t.Errorf("%v and %v have the same dimensions", a.quantity, b.quantity)
			}
			if !errors.Is(err, ErrDimension) || !math.IsNaN(got) {
				t.Errorf("%v from %v: got %v, %v", a.quantity, b.quantity, got, err)
			}
		}
	}
	var f Force
	err := f.From((2 * Newton).Unit().Mul(3 * Newton))
	if err == nil || !strings.Contains(err.Error(), `a force are "kg m s^-2", got "kg^2 m^2 s^-4"`) {
		t.Errorf("a product of two forces: got %v", err)
	}
}

// gonum's own From takes our values, and refuses the wrong ones.
func TestGonumTakesOurs(t *testing.T) {
	var f unit.Force
	if err := f.From(100 * PoundForce); err != nil || math.Abs(float64(f)-444.82216152605) > 1e-13 {
		t.Errorf("got %v, %v", f, err)
	}
	if err := f.From(100 * Pound); err == nil {
		t.Error("a mass became a force")
	}
	var torque unit.Torque
	if err := torque.From((2 * Metre).Unit().Mul(3 * Newton)); err != nil || torque != 6 {
		t.Errorf("got %v, %v", torque, err)
	}
}

// What the package comment says cannot be caught: an energy passes as a moment.
func TestEnergyPassesAsMoment(t *testing.T) {
	var m Moment
	if err := m.From(5 * unit.Joule); err != nil || m != 5 {
		t.Errorf("got %v, %v", m, err)
	}
}

// Units from a header carry dimensions too.
func TestUnitDimensions(t *testing.T) {
	for _, o := range all {
		for _, u := range o.quantity.Units() {
			if !unit.DimensionsMatch(u, o.uniter(1)) || u.Unit().Value() != u.SI {
				t.Errorf("%s: %v", u.Symbol, u.Unit())
			}
		}
	}
	mm, _ := LookUp("mm")
	n, _ := LookUp("N")
	nmm, _ := LookUp("N.mm")
	if u := n.Unit().Mul(mm); !unit.DimensionsMatch(u, nmm) || u.Value() != nmm.SI {
		t.Errorf("N × mm is %v", u)
	}
}
