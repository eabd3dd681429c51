package units

import (
	"encoding/json"
	"errors"
	"flag"
	"io"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

func TestParse(t *testing.T) {
	for _, c := range []struct {
		text string
		want Moment
		why  string
	}{
		{"5 N·m", 5, "middle dot, U+00B7"},
		{"5 N⋅m", 5, "dot operator, U+22C5"},
		{"5 N*m", 5, "asterisk"},
		{"5 N.m", 5, "full stop"},
		{"5 N-m", 5, "hyphen"},
		{"5 N m", 5, "space, as the SI writes it"},
		{"5 N\u00a0m", 5, "no-break space"},
		{"5 N\u202fm", 5, "narrow no-break space"},
		{"5 Nm", 5, "no sign"},
		{"5Nm", 5, "no space"},
		{"5.Nm", 5, "the point belongs to the number"},
		{"5.N.m", 5, "and the second to the unit"},
		{"5\tNm", 5, "tab"},
		{"5    Nm", 5, "several spaces"},
		{"5\u00a0Nm", 5, "no-break space, U+00A0"},
		{"5\u202fNm", 5, "narrow no-break space, U+202F"},
		{"5\u2009Nm", 5, "thin space, U+2009"},
		{"  5 Nm\u00a0 ", 5, "space around"},
		{"+5 Nm", 5, "plus"},
		{"-5 Nm", -5, "hyphen-minus"},
		{"−5 Nm", -5, "minus, U+2212"},
		{".5 Nm", 0.5, "no digit before the point"},
		{"-.5 Nm", -0.5, "no digit before the point, negative"},
		{"5. Nm", 5, "no digit behind the point"},
		{"005 Nm", 5, "leading zeros"},
		{"1e3 Nm", 1000, "exponent"},
		{"1E+3 Nm", 1000, "exponent with plus"},
		{"1.5e-3 Nm", 0.0015, "negative exponent"},
		{"1e−3Nm", 0.001, "exponent with U+2212"},
		{"0 Nm", 0, "zero with a unit"},
		{"0e999999999999 Nm", 0, "zero however written"},
		{"4.9e-324 Nm", math.SmallestNonzeroFloat64, "the smallest float64"},
		{"100 lbf·ft", 100 * PoundForceFoot, ""},
		{"100 ft-lbf", 100 * PoundForceFoot, "the other order"},
		{"100 in lbf", 100 * PoundForceInch, ""},
		{"5 N.mm", 5 * NewtonMillimetre, ""},
	} {
		got, err := ParseMoment(c.text)
		if err != nil || got != c.want {
			t.Errorf("%q (%s): got %v, %v, want %v", c.text, c.why, float64(got), err, float64(c.want))
		}
	}
}

// Squares, degrees and micro have several spellings too.
func TestParseSpellings(t *testing.T) {
	check := func(got float64, err error) {
		t.Helper()
		if err != nil || math.Abs(got-1) > 1e-15 {
			t.Errorf("got %v, %v, want 1", got, err)
		}
	}
	for _, s := range []string{"1 m/s²", "1 m/s^2", "1 m/s2"} {
		x, err := ParseAcceleration(s)
		check(x.In(MetrePerSecondSquared), err)
	}
	for _, s := range []string{"1 deg", "1°", "1 °"} {
		x, err := ParseAngle(s)
		check(x.In(Degree), err)
	}
	for _, s := range []string{"1 µs", "1 μs", "1 us"} { // U+00B5, U+03BC
		x, err := ParseTime(s)
		check(x.In(Microsecond), err)
	}
	for _, s := range []string{"1 psi", "1 lbf/in²", "1 lbf/in2", "6894.757293168361 N/m^2"} {
		x, err := ParsePressure(s)
		check(x.In(PoundForcePerSquareInch), err)
	}
	for _, s := range []string{"1 N·s", "1 Ns", "1 N s", "1 kg·m/s", "1 kg*m/s"} {
		x, err := ParseImpulse(s)
		check(x.In(NewtonSecond), err)
	}
	for _, s := range []string{"1 N·m·s", "1 Nms", "1 N m s", "1 kg·m²/s", "1 kg m^2/s"} {
		x, err := ParseAngularImpulse(s)
		check(x.In(NewtonMetreSecond), err)
	}
}

func TestParseErrors(t *testing.T) {
	const forces = "N, kN, lbf, ozf, kgf"
	for _, c := range []struct {
		text string
		want error
		says string // part of the message
	}{
		{"5", ErrNoUnit, forces},
		{"0", ErrNoUnit, forces},
		{" 5 ", ErrNoUnit, forces},
		{"1e3", ErrNoUnit, forces},
		{"5 x", ErrUnknownUnit, `"x"; accepted: ` + forces},
		{"5 n", ErrUnknownUnit, forces},      // case matters
		{"5 KN", ErrUnknownUnit, forces},     // case matters
		{"5 mN", ErrUnknownUnit, forces},     // millinewton or metre-newton
		{"5 newton", ErrUnknownUnit, forces}, // symbols only
		{"5 N N", ErrUnknownUnit, forces},
		{"5 N,", ErrUnknownUnit, forces},
		{"5 -N", ErrUnknownUnit, forces},
		{"5 .N", ErrUnknownUnit, forces},
		{"5\nN", ErrUnknownUnit, `"\nN"`}, // a line is not a space
		{"5 N\x00", ErrUnknownUnit, `"N\x00"`},
		{"5 \u200bN", ErrUnknownUnit, `"\u200bN"`}, // zero-width space
		{"1_000 N", ErrUnknownUnit, `"_000 N"`},    // Go's own grouping
		{"1'000 N", ErrUnknownUnit, `"'000 N"`},    // Swiss grouping
		{"0x10 N", ErrUnknownUnit, `"x10 N"`},      // other bases
		{"1e N", ErrUnknownUnit, `"e N"`},          // half an exponent
		{"1e+ N", ErrUnknownUnit, `"e+ N"`},
		{"1e3e3 N", ErrUnknownUnit, `"e3 N"`},
		{"5 lbs", ErrUnknownUnit, "lbf is the force"},
		{"0.8 BW", ErrUnknownUnit, "see BodyWeight"},
		{"110 %BW", ErrUnknownUnit, "see BodyWeight"},
		{"5 lb", ErrDimension, "the pound is a mass, lbf is"},
		{"5 lb", ErrDimension, forces},
		{"5 kg", ErrDimension, "the kilogram is a mass, kgf"},
		{"5 oz", ErrDimension, "the ounce is a mass, ozf is"},
		{"5 m", ErrDimension, "m is a unit of length, not of"},
		{"5 Nm", ErrDimension, "N·m is a unit of moment"},
		{"1,5 N", ErrNumber, "not a comma"},
		{"1,5", ErrNumber, "not a comma"},
		{",5 N", ErrNumber, "not a comma"},
		{"1 ,5 N", ErrNumber, "not a comma"},
		{"1,000 N", ErrNumber, "not a comma"},
		{"1,000.5 N", ErrNumber, "not a comma"},
		{"1.000,5 N", ErrNumber, "not a comma"},
		{"5 5 N", ErrNumber, `"5" is followed by a second`},
		{"1 000 N", ErrNumber, "second number"},      // grouped by a space
		{"1\u202f000 N", ErrNumber, "second number"}, // by a narrow one
		{"1.2.3 N", ErrNumber, "second number"},
		{"5 -3 N", ErrNumber, "second number"},
		{"5-3 N", ErrNumber, "second number"},
		{"", ErrNumber, `such as "1 N"`},
		{"   ", ErrNumber, `such as "1 N"`},
		{"N", ErrNumber, `such as "1 N"`},
		{". N", ErrNumber, `such as "1 N"`},
		{"- N", ErrNumber, `such as "1 N"`},
		{"e3 N", ErrNumber, `such as "1 N"`},
		{"--5 N", ErrNumber, `such as "1 N"`},
		{"- 5 N", ErrNumber, `such as "1 N"`},
		{"N 5", ErrNumber, `such as "1 N"`},
		{"–5 N", ErrNumber, `such as "1 N"`}, // en dash
		{"５ N", ErrNumber, `such as "1 N"`},  // full-width digit
		{"\xff", ErrNumber, `"\xff"`},
		{"NaN N", ErrRange, "finite"},
		{"nan", ErrRange, "finite"},
		{"Inf N", ErrRange, "finite"},
		{"-inf N", ErrRange, "finite"},
		{"−Infinity N", ErrRange, "finite"},
		{"∞ N", ErrRange, "finite"},
		{"1e309 N", ErrRange, `"1e309"`}, // over float64
		{"-1e309 N", ErrRange, `"-1e309"`},
		{"1e308 kN", ErrRange, "in N"},     // over it in newtons
		{"1e-400 N", ErrRange, `"1e-400"`}, // never a silent zero
		{strings.Repeat("9", 400) + " N", ErrRange, "…"},
	} {
		got, err := ParseForce(c.text)
		var pe *ParseError
		switch {
		case !errors.Is(err, c.want) || !errors.As(err, &pe):
			t.Errorf("%q: got error %v, want %v", c.text, err, c.want)
		case !math.IsNaN(float64(got)):
			t.Errorf("%q: got %v with an error", c.text, got)
		case pe.Text != c.text || pe.Quantity != QuantityForce || pe.Err != c.want:
			t.Errorf("%q: got %+v", c.text, pe)
		case !strings.Contains(err.Error(), c.says):
			t.Errorf("%q: %q does not say %q", c.text, err, c.says)
		case !strings.HasPrefix(err.Error(), "units: force ") || len(err.Error()) > 300:
			t.Errorf("%q: %q", c.text, err)
		}
	}
}

// The same units are refused where they are masses, moments and so on.
func TestParseErrorHints(t *testing.T) {
	for _, c := range []struct {
		err  func() error
		want string
	}{
		{func() error { _, err := ParseMoment("5 ft-lb"); return err }, "write lbf·ft"},
		{func() error { _, err := ParseMoment("5 in·lb"); return err }, "write lbf·in"},
		{func() error { _, err := ParseMoment("5 kg m"); return err }, "write kgf·m"},
		{func() error { _, err := ParsePressure("5 lb/in2"); return err }, "write psi"},
		{func() error { _, err := ParseImpulse("5 lb·s"); return err }, "write lbf·s"},
		{func() error { _, err := ParseMoment("5 J"); return err }, "(for · also * . - or a space)"},
		{func() error { _, err := ParseMass("5 lbf"); return err }, "lbf is a unit of force, not of mass; accepted: kg, g, lb, lbm, oz, slug"},
		{func() error { _, err := ParseAcceleration("1 g"); return err }, "g is a unit of mass, not of acceleration; accepted: m/s², ft/s², g_n (for ² also 2 or ^2)"},
		{func() error { _, err := ParseLength(`5'10"`); return err }, "accepted: m, cm, mm, in, ft, yd, mi"},
	} {
		if err := c.err(); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("got %v, want %q in it", err, c.want)
		}
	}
}

// Every spelling in the tables reads as its constant, with and without a space,
// and is refused by every other quantity.
func TestEverySpelling(t *testing.T) {
	for _, o := range all {
		for s, u := range spellings(o.quantity) {
			for _, text := range []string{"3 " + s, "3" + s} {
				if got, err := o.parse(text); err != nil || got != 3*u.SI {
					t.Errorf("%v %q: got %v, %v, want %v", o.quantity, text, got, err, 3*u.SI)
				}
				for _, other := range all {
					if other.quantity == o.quantity {
						continue
					}
					if _, err := other.parse(text); !errors.Is(err, ErrDimension) {
						t.Errorf("%v %q: got %v", other.quantity, text, err)
					}
				}
			}
		}
	}
}

// In undoes the product with a unit. x*u/u is off by at most one unit in the
// last place.
func TestInUndoesUnits(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for _, o := range all {
		for _, u := range o.quantity.Units() {
			for range 100 {
				x := rnd.NormFloat64() * 1000
				if got := o.in(x*u.SI, u.SI); math.Abs(got-x) > 2.3e-16*math.Abs(x) {
					t.Errorf("%v %s comes back as %v", x, u.Symbol, got)
				}
			}
			if got := o.in(1, 0); !math.IsNaN(got) {
				t.Errorf("1 in nothing is %v", got)
			}
			if got := o.in(math.NaN(), u.SI); !math.IsNaN(got) {
				t.Errorf("NaN in %s is %v", u.Symbol, got)
			}
		}
	}
}

func TestTextRoundTrip(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	values := []float64{0, math.Copysign(0, -1), 1, -1, 0.1, 1. / 3, math.Pi, 1e21, 1e-7, 123456789.123456789,
		math.MaxFloat64, -math.MaxFloat64, math.SmallestNonzeroFloat64, 0x1p-1022}
	for range 1000 {
		if x := math.Float64frombits(rnd.Uint64()); !math.IsNaN(x) && !math.IsInf(x, 0) {
			values = append(values, x)
		}
	}
	for _, o := range all {
		for _, x := range values {
			b, err := o.marshal(x)
			if err != nil {
				t.Fatal(err)
			}
			got, err := o.unmarshal(7, b)
			if err != nil || math.Float64bits(got) != math.Float64bits(x) {
				t.Errorf("%v: %q comes back as %v, %v", x, b, got, err)
			}
		}
	}
}

func TestTextFailures(t *testing.T) {
	for _, o := range all {
		for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
			if b, err := o.marshal(x); !errors.Is(err, ErrRange) || b != nil {
				t.Errorf("%v %v: got %q, %v", o.quantity, x, b, err)
			}
		}
		if got, err := o.unmarshal(7, []byte("8")); !errors.Is(err, ErrNoUnit) || got != 7 {
			t.Errorf("%v: got %v, %v, want the old value", o.quantity, got, err)
		}
	}
}

func TestString(t *testing.T) {
	for _, c := range []struct {
		got, want string
	}{
		{(100 * PoundForce).String(), "444.822 N"},
		{(14 * Inch).String(), "0.3556 m"},
		{(-1.5 * NewtonMetre).String(), "-1.5 N·m"},
		{Force(math.Copysign(0, -1)).String(), "0 N"},
		{Pressure(101325).String(), "101325 Pa"},
		{(1234567 * Newton).String(), "1.23457e+06 N"},
		{(45 * Degree).String(), "0.785398 rad"},
		{Length(math.NaN()).String(), "NaN m"},
		{Length(math.Inf(-1)).String(), "-Inf m"},
		{StandardGravity.String(), "9.80665 m/s²"},
		{(2 * NewtonMetreSecond).String(), "2 N·m·s"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
	// What String prints can be read, and is right to six digits.
	for _, o := range all {
		for _, x := range []float64{0, 1, -2.0 / 3, 1e9 / 7, 1e-9 / 7} {
			got, err := o.parse(o.text(x))
			if err != nil || math.Abs(got-x) > 5e-6*math.Abs(x) {
				t.Errorf("%q comes back as %v, %v, was %v", o.text(x), got, err, x)
			}
		}
	}
}

// The types as fields of a setup: strings with units go in and out, bare
// numbers do not.
func TestJSON(t *testing.T) {
	type setup struct {
		Mass   Mass
		Load   Force
		Window *Time `json:",omitempty"`
	}
	var s setup
	if err := json.Unmarshal([]byte(`{"Mass": "176 lb", "Load": "20 N", "Window": "250 ms"}`), &s); err != nil {
		t.Fatal(err)
	}
	if s.Mass != 176*Pound || s.Load != 20*Newton || *s.Window != 250*Millisecond {
		t.Errorf("got %+v", s)
	}
	b, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	var again setup
	if err := json.Unmarshal(b, &again); err != nil || again.Mass != s.Mass || again.Load != s.Load || *again.Window != *s.Window {
		t.Errorf("%s comes back as %+v, %v", b, again, err)
	}
	if err := json.Unmarshal([]byte(`{"Load": 20}`), &s); err == nil || s.Load != 20*Newton {
		t.Errorf("a bare number: got %v, %v", s.Load, err)
	}
	if err := json.Unmarshal([]byte(`{"Load": "20 kg"}`), &s); !errors.Is(err, ErrDimension) {
		t.Errorf("a mass as a load: got %v", err)
	}
}

func TestFlag(t *testing.T) {
	fs := flag.NewFlagSet("", flag.ContinueOnError)
	fs.SetOutput(io.Discard)
	var f Force
	fs.TextVar(&f, "load", 20*Newton, "")
	if err := fs.Parse([]string{"-load", "5 lbf"}); err != nil || f != 5*PoundForce {
		t.Errorf("got %v, %v", f, err)
	}
	if err := fs.Parse([]string{"-load", "5"}); err == nil || !strings.Contains(err.Error(), "accepted: N, kN") {
		t.Errorf("got %v", err)
	}
	if got := fs.Lookup("load").DefValue; got != "20 N" {
		t.Errorf("default prints as %q", got)
	}
}

func TestHotCallsAllocateNothing(t *testing.T) {
	sink := 0.0
	f, m := 100*PoundForce, 80*Kilogram
	if n := testing.AllocsPerRun(100, func() { sink += f.In(BodyWeight(m)) }); n != 0 {
		t.Errorf("In and BodyWeight allocate %v times", n)
	}
	_ = sink
}
