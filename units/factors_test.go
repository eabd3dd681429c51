package units

import (
	"math"
	"math/big"
	"strconv"
	"strings"
	"testing"
)

// ratio is a factor between two units of one quantity, as somebody else
// printed it.
type ratio struct {
	name  string
	got   float64
	print string
}

// parsePrint reads the way SP 811 prints: "4.448 222 E+00".
func parsePrint(t *testing.T, s string) (x float64, decimals int) {
	t.Helper()
	s = strings.ReplaceAll(s, " ", "")
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	mantissa, _, _ := strings.Cut(s, "E")
	if _, frac, ok := strings.Cut(mantissa, "."); ok {
		decimals = len(frac)
	}
	return x, decimals
}

// Factors that NIST SP 811 (2008), Appendix B.8, prints as rounded, to all of
// their digits.
func TestSP811Rounded(t *testing.T) {
	for _, r := range []ratio{
		{"pound", Pound.In(Kilogram), "4.535 924 E-01"},
		{"ounce", Ounce.In(Kilogram), "2.834 952 E-02"}, // from memory
		{"slug", Slug.In(Kilogram), "1.459 390 E+01"},
		{"pound-force", PoundForce.In(Newton), "4.448 222 E+00"},
		{"ounce-force", OunceForce.In(Newton), "2.780 139 E-01"},
		{"pound-force foot", PoundForceFoot.In(NewtonMetre), "1.355 818 E+00"},
		{"pound-force inch", PoundForceInch.In(NewtonMetre), "1.129 848 E-01"},
		{"psi", PoundForcePerSquareInch.In(Pascal), "6.894 757 E+03"},
		{"degree", Degree.In(Radian), "1.745 329 E-02"},
		{"rpm", RevolutionPerMinute.In(RadianPerSecond), "1.047 198 E-01"}, // from memory
	} {
		_, decimals := parsePrint(t, r.print)
		want := strings.ReplaceAll(r.print, " ", "")
		if got := strconv.FormatFloat(r.got, 'E', decimals, 64); got != want {
			t.Errorf("%s: got %s, SP 811 prints %s", r.name, got, want)
		}
	}
}

// Factors that SP 811 prints as exact: the nearest float64 of the print.
func TestSP811Exact(t *testing.T) {
	for _, r := range []ratio{
		{"standard gravity", float64(StandardGravity), "9.806 65 E+00"},
		{"inch", float64(Inch), "2.54 E-02"},
		{"foot", float64(Foot), "3.048 E-01"},
		{"yard", float64(Yard), "9.144 E-01"},
		{"mile", float64(Mile), "1.609 344 E+03"},
		{"kilogram-force", float64(KilogramForce), "9.806 65 E+00"},
		{"kilogram-force metre", float64(KilogramForceMetre), "9.806 65 E+00"},
		{"foot per second", float64(FootPerSecond), "3.048 E-01"},
		{"foot per second squared", float64(FootPerSecondSquared), "3.048 E-01"}, // from memory
		{"mile per hour", float64(MilePerHour), "4.4704 E-01"},
		{"bar", float64(Bar), "1.0 E+05"}, // from memory
		// lbf/lb, 9.806 65 N/kg: what a pound weighs.
		{"pound-force per pound", float64(PoundForce) / float64(Pound), "9.806 65 E+00"},
	} {
		if want, _ := parsePrint(t, r.print); r.got != want {
			t.Errorf("%s: got %v, SP 811 prints %s", r.name, r.got, r.print)
		}
	}
	// The print is for km/h; a quotient of two rounded factors may be off by the
	// last bit.
	if got := MilePerHour.In(KilometrePerHour); math.Abs(got-1.609344) > 3e-16 {
		t.Errorf("mile per hour: got %v km/h, SP 811 prints 1.609 344", got)
	}
}

// Each unit is the float64 nearest to the exact product of its definition.
// math/big computes with fractions, independently of Go's constants.
func TestExactProducts(t *testing.T) {
	product := func(over string, factors ...string) float64 {
		p := big.NewRat(1, 1)
		for _, f := range factors {
			r, ok := new(big.Rat).SetString(f)
			if !ok {
				t.Fatal(f)
			}
			p.Mul(p, r)
		}
		d, ok := new(big.Rat).SetString(over)
		if !ok {
			t.Fatal(over)
		}
		x, _ := p.Quo(p, d).Float64()
		return x
	}
	const in, lb, g = "0.0254", "0.45359237", "9.80665"
	for _, r := range []struct {
		name      string
		got, want float64
	}{
		{"centimetre", float64(Centimetre), product("100", "1")},
		{"millimetre", float64(Millimetre), product("1000", "1")},
		{"inch", float64(Inch), product("1", in)},
		{"foot", float64(Foot), product("1", in, "12")},
		{"yard", float64(Yard), product("1", in, "36")},
		{"mile", float64(Mile), product("1", in, "12", "5280")},
		{"gram", float64(Gram), product("1000", "1")},
		{"pound", float64(Pound), product("1", lb)},
		{"ounce", float64(Ounce), product("16", lb)},
		{"slug", float64(Slug), product("0.3048", lb, g)},
		{"pound-force", float64(PoundForce), product("1", lb, g)},
		{"ounce-force", float64(OunceForce), product("16", lb, g)},
		{"kilogram-force", float64(KilogramForce), product("1", g)},
		{"newton-centimetre", float64(NewtonCentimetre), product("100", "1")},
		{"newton-millimetre", float64(NewtonMillimetre), product("1000", "1")},
		{"pound-force foot", float64(PoundForceFoot), product("1", lb, g, "0.3048")},
		{"pound-force inch", float64(PoundForceInch), product("1", lb, g, in)},
		{"centimetre per second", float64(CentimetrePerSecond), product("100", "1")},
		{"millimetre per second", float64(MillimetrePerSecond), product("1000", "1")},
		{"kilometre per hour", float64(KilometrePerHour), product("3600", "1000")},
		{"foot per second", float64(FootPerSecond), product("1", in, "12")},
		{"mile per hour", float64(MilePerHour), product("3600", in, "12", "5280")},
		{"newton per square centimetre", float64(NewtonPerSquareCentimetre), product("0.0001", "1")},
		{"psi", float64(PoundForcePerSquareInch), product("0.00064516", lb, g)},
		{"pound-force second", float64(PoundForceSecond), product("1", lb, g)},
		{"pound-force foot second", float64(PoundForceFootSecond), product("1", lb, g, "0.3048")},
		{"millisecond", float64(Millisecond), product("1000", "1")},
		{"microsecond", float64(Microsecond), product("1000000", "1")},
	} {
		if r.got != r.want {
			t.Errorf("%s: got %v, exact %v", r.name, r.got, r.want)
		}
	}
	// The product lb × g_n, written out: a finite decimal.
	if PoundForce != 4.4482216152605 {
		t.Errorf("pound-force: %v", float64(PoundForce))
	}
}

// What the program GNU Units 2.22 answers with output format %.15g. It holds its
// own table of definitions; it has no name for the ounce-force but "oz force".
func TestGNUUnits(t *testing.T) {
	for _, r := range []ratio{
		{"mile m", float64(Mile), "1609.344"},
		{"lb kg", float64(Pound), "0.45359237"},
		{"oz kg", float64(Ounce), "0.028349523125"},
		{"slug kg", float64(Slug), "14.5939029372064"},
		{"lbf N", float64(PoundForce), "4.4482216152605"},
		{"oz force N", float64(OunceForce), "0.278013850953781"},
		{"lbf*ft N*m", float64(PoundForceFoot), "1.3558179483314"},
		{"lbf*in N*m", float64(PoundForceInch), "0.112984829027617"},
		{"km/hour m/s", float64(KilometrePerHour), "0.277777777777778"},
		{"mph m/s", float64(MilePerHour), "0.44704"},
		{"degree radian", float64(Degree), "0.0174532925199433"},
		{"turn radian", float64(Revolution), "6.28318530717959"},
		{"rpm radian/s", float64(RevolutionPerMinute), "0.10471975511966"},
		{"psi Pa", float64(PoundForcePerSquareInch), "6894.75729316836"},
		{"bar Pa", float64(Bar), "100000"},
		{"N/cm^2 Pa", float64(NewtonPerSquareCentimetre), "10000"},
	} {
		if got := strconv.FormatFloat(r.got, 'g', 15, 64); got != r.print {
			t.Errorf("%s: got %s, GNU Units prints %s", r.name, got, r.print)
		}
	}
}

// A factor of 0.1130057188312 N·m for the pound-force inch goes round in public
// code; it does not follow from the definitions.
func TestPoundForceInchTrap(t *testing.T) {
	if got := PoundForceInch * 12; math.Abs(float64(got-PoundForceFoot)) > 1e-15 {
		t.Errorf("12 lbf·in are %v, 1 lbf·ft is %v", got, PoundForceFoot)
	}
	if math.Abs(float64(PoundForceInch)-0.1130057188312) < 1e-6 {
		t.Error("the wrong factor")
	}
}

func TestBodyWeight(t *testing.T) {
	bw := BodyWeight(80 * Kilogram)
	// 80 × 9.80665 is a finite decimal; g_n and the product are rounded, hence
	// one unit in the last place.
	if math.Abs(float64(bw)-784.532) > 1.2e-13 {
		t.Errorf("80 kg weigh %v", float64(bw))
	}
	if got := (1176.798 * Newton).In(bw); math.Abs(got-1.5) > 3e-16 {
		t.Errorf("got %v BW", got)
	}
	// A pound weighs a pound-force.
	if got := BodyWeight(180 * Pound).In(PoundForce); math.Abs(got-180) > 1e-13 {
		t.Errorf("180 lb weigh %v lbf", got)
	}
	for _, f := range []Force{0, 700} {
		if got := f.In(BodyWeight(0)); !math.IsNaN(got) {
			t.Errorf("%v in the weight of nothing is %v", f, got)
		}
	}
	if !math.IsNaN(float64(BodyWeight(Mass(math.NaN())))) {
		t.Error("an unknown mass has an unknown weight")
	}
}
