package units

import (
	"testing"
)

func TestLookUp(t *testing.T) {
	for _, c := range []struct {
		symbol string
		want   Unit
	}{
		{"N", Unit{"N", QuantityForce, 1}},
		{"kN", Unit{"kN", QuantityForce, 1000}},
		{"lbf", Unit{"lbf", QuantityForce, 4.4482216152605}},
		{"N·m", Unit{"N·m", QuantityMoment, 1}},
		{"Nm", Unit{"N·m", QuantityMoment, 1}},
		{"N*m", Unit{"N·m", QuantityMoment, 1}},
		{"N.m", Unit{"N·m", QuantityMoment, 1}},
		{"N m", Unit{"N·m", QuantityMoment, 1}},
		{"N.mm", Unit{"N·mm", QuantityMoment, 0.001}},
		{"Nmm", Unit{"N·mm", QuantityMoment, 0.001}},
		{"mm", Unit{"mm", QuantityLength, 0.001}},
		{"in", Unit{"in", QuantityLength, 0.0254}},
		{"lb", Unit{"lb", QuantityMass, 0.45359237}},
		{"g", Unit{"g", QuantityMass, 0.001}},
		{"m/s2", Unit{"m/s²", QuantityAcceleration, 1}},
		{"Hz", Unit{"Hz", QuantityFrequency, 1}},
		{"s", Unit{"s", QuantityTime, 1}},
		{"ms", Unit{"ms", QuantityTime, 0.001}},
		{"us", Unit{"µs", QuantityTime, 1e-6}},
		{"°", Unit{"deg", QuantityAngle, 0.017453292519943295}},
		{"deg", Unit{"deg", QuantityAngle, 0.017453292519943295}},
		{"deg/s", Unit{"deg/s", QuantityAngularSpeed, 0.017453292519943295}},
		{"kPa", Unit{"kPa", QuantityPressure, 1000}},
	} {
		if got, ok := LookUp(c.symbol); !ok || got != c.want {
			t.Errorf("%q: got %+v, %v, want %+v", c.symbol, got, ok, c.want)
		}
	}
	for _, s := range []string{"", " ", "·", "N ", " N", "n", "MM", "m·N", "mN", "N··m", "N  m", "N/m/s", "%", "BW", "V", "1", "2", "\xff", "m/s^²"} {
		if got, ok := LookUp(s); ok || got != (Unit{}) {
			t.Errorf("%q: got %+v, %v, want nothing", s, got, ok)
		}
	}
}

// A spelling that stood for two units would depend on the order of the tables,
// and one that is not canonical could never be found.
func TestSpellingsAreUnique(t *testing.T) {
	seen := map[string]Unit{}
	for _, o := range all {
		for s, u := range spellings(o.quantity) {
			if other, ok := seen[s]; ok {
				t.Errorf("%q is %+v and %+v", s, u, other)
			}
			seen[s] = u
			if canonical(s) != s {
				t.Errorf("%q is read as %q", s, canonical(s))
			}
			if got, ok := LookUp(s); !ok || got != u {
				t.Errorf("%q: got %+v, want %+v", s, got, u)
			}
		}
	}
	if len(seen) < 60 { // there are 78; a floor, so that the loop ran
		t.Errorf("only %d spellings", len(seen))
	}
}

func TestQuantity(t *testing.T) {
	names := map[string]bool{}
	for _, o := range all {
		us := o.quantity.Units()
		if len(us) == 0 || us[0].SI != 1 {
			t.Fatalf("%v: the SI unit does not come first in %v", o.quantity, us)
		}
		names[o.quantity.String()] = true
		us[0] = Unit{} // the caller's own copy
		if o.quantity.Units()[0].SI != 1 {
			t.Errorf("%v: Units hands out its table", o.quantity)
		}
	}
	if len(names) != len(all) {
		t.Errorf("names are not different: %v", names)
	}
	if got := QuantityAngularSpeed.String(); got != "angular speed" {
		t.Errorf("got %q", got)
	}
	for q, want := range map[Quantity]string{0: "Quantity(0)", -1: "Quantity(-1)", 99: "Quantity(99)"} {
		if q.String() != want || q.Units() != nil {
			t.Errorf("got %q with %v, want %q with nothing", q, q.Units(), want)
		}
	}
}
