package validation

import (
	"math"

	"example.com/momentarm/units"
)

// unitCases holds the conversion factors of section B.8 of NIST SP 811, to the
// seven digits that it prints, the defining constant of the kilogram-force, and
// the same factors to fifteen digits as another program has them.
func unitCases() []Case {
	var cases []Case
	convert := func(id string, level Level, source Source, from, digits, to string, exact bool) {
		want := si("value", digits, "1")
		if exact {
			want = want.relative(1e-15, "exact by definition: rounding of float64")
		}
		cases = append(cases, caseOf(id, "unit factor", "convert", level, source, "1 "+from+" in "+to,
			Values{"value": Number("1", 1), "from": Word(from), "to": Word(to)}, want))
	}
	for _, r := range []struct {
		name, from, digits, to string
		exact                  bool // bold in SP 811
	}{
		{"inch", "in", "0.0254", "m", true},
		{"foot", "ft", "0.3048", "m", true},
		{"yard", "yd", "0.9144", "m", true},
		{"mile", "mi", "1609.344", "m", true},
		{"pound", "lb", "0.4535924", "kg", false},
		{"slug", "slug", "14.59390", "kg", false},
		{"kilogram-force", "kgf", "9.80665", "N", true},
		{"pound-force", "lbf", "4.448222", "N", false},
		{"ounce-force", "ozf", "0.2780139", "N", false},
		{"pound-force-foot", "lbf·ft", "1.355818", "N·m", false},
		{"pound-force-inch", "lbf·in", "0.1129848", "N·m", false},
		{"kilogram-force-metre", "kgf·m", "9.80665", "N·m", true},
		{"psi", "psi", "6894.757", "Pa", false},
		{"mile-per-hour", "mph", "0.44704", "m/s", true},
		{"mile-per-hour-in-kilometres", "mph", "1.609344", "km/h", true},
		{"foot-per-second", "ft/s", "0.3048", "m/s", true},
		{"degree", "deg", "0.01745329", "rad", false},
		{"standard-gravity", "g_n", "9.80665", "m/s²", true},
	} {
		convert("units/sp811/"+r.name, Standard, sp811, r.from, r.digits, r.to, r.exact)
	}
	convert("units/cgpm-1901/standard-gravity", Standard, cgpm1901, "g_n", "9.80665", "m/s²", true)
	for _, r := range []struct{ name, from, digits, to string }{
		{"ounce", "oz", "0.028349523125", "kg"},
		{"slug", "slug", "14.5939029372064", "kg"},
		{"pound-force", "lbf", "4.4482216152605", "N"},
		{"ounce-force", "ozf", "0.278013850953781", "N"},
		{"pound-force-foot", "lbf·ft", "1.3558179483314", "N·m"},
		{"pound-force-inch", "lbf·in", "0.112984829027617", "N·m"},
		{"psi", "psi", "6894.75729316836", "Pa"},
		{"revolution", "rev", "6.28318530717959", "rad"},
		{"revolution-per-minute", "rpm", "0.10471975511966", "rad/s"},
	} {
		convert("units/gnu-units/"+r.name, ReferenceLibrary, gnuUnits, r.from, r.digits, r.to, false)
	}
	return append(cases,
		caseOf("units/sp811/pound-force-per-pound", "body weight", "weight", Standard, sp811, "1 lbf/lb is 9.80665 N/kg",
			Values{"mass": Number("kg", 1)}, si("force", "9.80665", "N").relative(1e-15, "exact by definition: rounding of float64")),
		caseOf("units/sp811/foot-pound-force", "power", "power", Standard, sp811, "1 ft·lbf of work is 1.355818 J: 1 lbf at 1 ft/s, for one second",
			Values{"force": Vector("N", ez(float64(units.PoundForce))), "velocity": Vector("m/s", ez(float64(units.Foot)))},
			si("power", "1.355818", "W")),
		caseOf("units/sp811/pound-foot-squared", "angular momentum", "moment_of_momentum", Standard, sp811, "1 lb·ft² is 0.04214011 kg·m²: 1 lb at 1 ft, turning by 1 rad/s",
			Values{"momenta": Vectors("N·s", ey(float64(units.Pound)*float64(units.Foot))), "points": Vectors("m", ex(float64(units.Foot)))},
			si("angular_momentum.z", "0.04214011", "N·m·s")),
		caseOf("units/cgpm-1901/kilogram", "body weight", "weight", Standard, cgpm1901, "80 kg weigh 80 times the kilogram-force",
			Values{"mass": Number("kg", 80)}, exact("force", Number("N", 80*9.80665))),
		caseOf("units/closed-form/degree", "unit factor", "convert", ClosedForm, firstPrinciples, "180 deg in rad",
			Values{"value": Number("1", 180), "from": Word("deg"), "to": Word("rad")},
			exact("value", Number("1", math.Pi))),
	)
}
