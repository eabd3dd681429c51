package page

import (
	"math"
	"strconv"
	"strings"

	"example.com/momentarm/units"
)

// form says how values of one SI unit are shown: with how many decimals, and in
// which unit of pounds and inches beside it.
type form struct {
	SI       string  `json:"si"`
	Decimals int     `json:"d"`
	US       string  `json:"us"` // "" when there is none
	PerSI    float64 `json:"k"`  // US units in one SI unit
	USDec    int     `json:"ud"`
}

// forms by the unit of a measure. Decimals follow what plates resolve: 1 N, 1 mm,
// 1 ms, 0.01 of body weight, 0.01 N·m/kg.
var forms = map[string]form{
	"N":      {"N", 0, "lbf", units.Newton.In(units.PoundForce), 0},
	"m":      {"m", 3, "in", units.Metre.In(units.Inch), 1},
	"N·m":    {"N·m", 0, "lbf·ft", units.NewtonMetre.In(units.PoundForceFoot), 0},
	"N·m/kg": {"N·m/kg", 2, "lbf·ft/lb", units.NewtonMetre.In(units.PoundForceFoot) / units.Kilogram.In(units.Pound), 2},
	"kg":     {"kg", 1, "lb", units.Kilogram.In(units.Pound), 0},
	"N·s":    {"N·s", 1, "lbf·s", units.NewtonSecond.In(units.PoundForceSecond), 1},
	"N·m·s":  {"N·m·s", 1, "lbf·ft·s", units.NewtonMetreSecond.In(units.PoundForceFootSecond), 1},
	"N/s":    {"N/s", 0, "lbf/s", units.Newton.In(units.PoundForce), 0},
	"m/s":    {"m/s", 2, "ft/s", units.MetrePerSecond.In(units.FootPerSecond), 1},
	"s":      {SI: "s", Decimals: 3},
	"ms":     {SI: "ms", Decimals: 1},
	"%BW":    {SI: "%BW", Decimals: 0},
	"%BW/s":  {SI: "%BW/s", Decimals: 0},
	"%":      {SI: "%", Decimals: 0},
	"deg":    {SI: "°", Decimals: 1},
	"1":      {SI: "", Decimals: 2},
}

func formOf(unit string) form {
	if f, ok := forms[unit]; ok {
		return f
	}
	return form{SI: unit, Decimals: 3}
}

// notAvailable stands for every undefined value.
const notAvailable = "n/a"

// minus is the sign that people read; a hyphen would break at a line's end.
const minus = "−"

// number writes v with a fixed number of decimals, without a negative zero.
func number(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return notAvailable
	}
	s := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	if v < 0 && strings.ContainsAny(s, "123456789") {
		s = minus + s
	}
	return s
}

// si writes v with its SI unit: "933 N".
func si(v float64, unit string) string {
	f := formOf(unit)
	return join(number(v, f.Decimals), f.SI)
}

// us writes v in pounds and inches, "" when the unit has no such form.
func us(v float64, unit string) string {
	f := formOf(unit)
	if f.US == "" || math.IsNaN(v) {
		return ""
	}
	return join(number(v*f.PerSI, f.USDec), f.US)
}

// measured is a value with its standard deviation, as text: both to the same
// decimal, one more than usual where the deviation needs it.
type measured struct {
	Number, Spread, Unit string

	decimals int
}

// measuredOf writes v and its standard deviation. Spread is "" when sd is unknown,
// and when it is exactly 0, which is no statement about an error.
func measuredOf(v, sd float64, unit string) measured {
	f := formOf(unit)
	d := f.Decimals
	known := sd > 0 && !math.IsInf(sd, 0) && !math.IsNaN(v)
	seen := func(d int) bool { return strings.Trim(number(sd, d), "0.") != "" }
	if known && !seen(d) && seen(d+1) {
		d++
	}
	m := measured{Number: number(v, d), Unit: f.SI, decimals: d}
	if !known {
		return m
	}
	m.Spread = "±" + nbsp + number(sd, d)
	if !seen(d) {
		m.Spread = "±" + nbsp + "under" + nbsp + number(math.Pow(10, -float64(d)), d)
	}
	return m
}

// spread writes a standard deviation with its unit to the decimals that values of
// that unit have, or one more where it needs that; "" when it is unknown or exactly 0.
func spread(sd float64, unit string) string {
	f := formOf(unit)
	if !(sd > 0) || math.IsInf(sd, 0) {
		return ""
	}
	zero := func(text string) bool { return strings.Trim(text, "0.") == "" }
	text := number(sd, f.Decimals)
	if zero(text) {
		if text = number(sd, f.Decimals+1); zero(text) {
			text = "under" + nbsp + number(math.Pow(10, -float64(f.Decimals+1)), f.Decimals+1)
		}
	}
	return "±" + nbsp + join(text, f.SI)
}

// String writes the number without its deviation: "0.208 m".
func (m measured) String() string { return join(m.Number, m.Unit) }

// Full writes both: "0.208 ± 0.011 m".
func (m measured) Full() string {
	if m.Spread == "" {
		return m.String()
	}
	return join(m.Number+nbsp+m.Spread, m.Unit)
}

// withSD is the full text of a value with its standard deviation.
func withSD(v, sd float64, unit string) string { return measuredOf(v, sd, unit).Full() }

// both writes v in both systems: "933 N (210 lbf)".
func both(v float64, unit string) string {
	s := si(v, unit)
	if u := us(v, unit); u != "" {
		s += " (" + u + ")"
	}
	return s
}

// join puts a number and its unit together so that no line breaks between them.
func join(number, unit string) string {
	switch {
	case unit == "" || number == notAvailable:
		return number
	case unit == "°":
		return number + unit
	}
	return number + nbsp + unit
}

const nbsp = "\u00a0"

func degrees(radians float64) float64 { return radians * 180 / math.Pi }
