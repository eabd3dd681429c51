package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// spaces are the white space allowed around a number and its unit: space, tab,
// no-break space, thin space, narrow no-break space.
const spaces = " \t\u00a0\u2009\u202f"

func in[Q ~float64](x, unit Q) float64 {
	if unit == 0 {
		return math.NaN()
	}
	return float64(x / unit)
}

func short(q Quantity, x float64) string {
	if x == 0 {
		x = 0 // no "-0"
	}
	return strconv.FormatFloat(x, 'g', 6, 64) + " " + q.kind().rows[0].symbol
}

func marshal(q Quantity, x float64) ([]byte, error) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil, fmt.Errorf("%w: a %s of %v has no text form", ErrRange, q, x)
	}
	b := strconv.AppendFloat(nil, x, 'g', -1, 64)
	return append(append(b, ' '), q.kind().rows[0].symbol...), nil
}

func unmarshal[Q ~float64](x *Q, q Quantity, text []byte) error {
	v, err := parse[Q](q, string(text))
	if err == nil {
		*x = v
	}
	return err
}

func parse[Q ~float64](q Quantity, s string) (Q, error) {
	x, err := value(q, s)
	if err != nil {
		return Q(math.NaN()), err
	}
	return Q(x), nil
}

// value reads a number and a unit of q and returns the number in SI.
func value(q Quantity, s string) (float64, error) {
	fail := func(err error, format string, args ...any) (float64, error) {
		return 0, &ParseError{s, q, err, fmt.Sprintf(format, args...)}
	}
	number, rest := cut(strings.Trim(s, spaces))
	rest = strings.TrimLeft(rest, spaces)
	switch {
	case strings.HasPrefix(rest, ","):
		return fail(ErrNumber, "the decimal sign is a point, not a comma (1.5, not 1,5), and thousands are not grouped (1000)")
	case number == "" && notFinite(rest):
		return fail(ErrRange, "the value must be finite")
	case number == "":
		return fail(ErrNumber, "want a number and a unit, such as %q", "1 "+q.kind().rows[0].symbol)
	}
	if again, _ := cut(rest); again != "" {
		return fail(ErrNumber, "%s is followed by a second number", quote(number))
	}
	x, err := strconv.ParseFloat(number, 64)
	if err != nil || x == 0 && strings.ContainsAny(mantissa(number), "123456789") {
		return fail(ErrRange, "float64 cannot hold %s", quote(number))
	}
	if rest == "" {
		return fail(ErrNoUnit, "")
	}
	u, ok := LookUp(rest)
	switch {
	case !ok && strings.ContainsAny(rest, "0123456789") && strings.ContainsAny(rest, " \t"):
		return fail(ErrUnknownUnit, "%s; write one number with one unit", quote(rest))
	case !ok:
		return fail(ErrUnknownUnit, "%s%s", quote(rest), hint(q, rest))
	case u.Quantity != q:
		return fail(ErrDimension, "%s is a unit of %s, not of %s%s", u.Symbol, u.Quantity, q, hint(q, rest))
	}
	si := x * u.SI
	if math.IsInf(si, 0) || si == 0 && x != 0 {
		return fail(ErrRange, "float64 cannot hold it in %s", q.kind().rows[0].symbol)
	}
	return si, nil
}

// cut splits s after the decimal number that it begins with; number is empty
// if there is none. A minus sign (U+2212) is made a hyphen-minus in number.
func cut(s string) (number, rest string) {
	digits := func(i int) int {
		for i < len(s) && '0' <= s[i] && s[i] <= '9' {
			i++
		}
		return i
	}
	start := sign(s, 0)
	end := digits(start)
	n := end - start
	if end < len(s) && s[end] == '.' {
		point := end
		end = digits(point + 1)
		n += end - point - 1
	}
	if n == 0 {
		return "", s
	}
	if end < len(s) && (s[end] == 'e' || s[end] == 'E') {
		first := sign(s, end+1)
		if last := digits(first); last > first {
			end = last
		}
	}
	return strings.ReplaceAll(s[:end], "−", "-"), s[end:]
}

// sign returns the index after the sign at s[i:], i if there is none.
func sign(s string, i int) int {
	for _, sign := range []string{"+", "-", "−"} {
		if strings.HasPrefix(s[i:], sign) {
			return i + len(sign)
		}
	}
	return i
}

// mantissa returns the part of number before its exponent.
func mantissa(number string) string {
	if i := strings.IndexAny(number, "eE"); i >= 0 {
		return number[:i]
	}
	return number
}

// notFinite reports whether s begins with one of the usual words for a value
// that is no number.
func notFinite(s string) bool {
	s = strings.ToLower(s[sign(s, 0):])
	return strings.HasPrefix(s, "nan") || strings.HasPrefix(s, "inf") || strings.HasPrefix(s, "∞")
}

// hint explains the confusions that are common: a mass where its weight is
// meant, and multiples of body weight.
func hint(q Quantity, symbol string) string {
	if q == QuantityForce && strings.HasSuffix(symbol, "BW") {
		return "; a multiple of body weight needs the mass, see BodyWeight"
	}
	symbol = canonical(symbol)
	for _, m := range [...]struct{ name, mass, force string }{
		{"pound", "lbs", "lbf"},
		{"pound", "lb", "lbf"},
		{"ounce", "oz", "ozf"},
		{"kilogram", "kg", "kgf"},
	} {
		u, ok := LookUp(strings.Replace(symbol, m.mass, m.force, 1))
		if ok && u.Quantity == q {
			return fmt.Sprintf("; the %s is a mass, %s is the force: write %s", m.name, m.force, u.Symbol)
		}
	}
	return ""
}
