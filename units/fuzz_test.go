package units

import (
	"errors"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"
)

// grammar is the same language as the parser's, written the other way.
var grammar = regexp.MustCompile(`(?s)^[ \t\x{a0}\x{2009}\x{202f}]*` +
	`([+\-−]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+\-−]?[0-9]+)?)` +
	`[ \t\x{a0}\x{2009}\x{202f}]*(.*?)[ \t\x{a0}\x{2009}\x{202f}]*$`)

// reference reads text by the grammar, and whether it stands for a value.
func reference(text string) (si float64, q Quantity, ok bool) {
	m := grammar.FindStringSubmatch(text)
	if m == nil {
		return 0, 0, false
	}
	u, ok := LookUp(m[2])
	if !ok {
		return 0, 0, false
	}
	number := strings.ReplaceAll(m[1], "−", "-")
	x, err := strconv.ParseFloat(number, 64)
	digits, _, _ := strings.Cut(strings.ToLower(number), "e")
	isZero := strings.Trim(digits, "+-.0") == ""
	si = x * u.SI
	if err != nil || math.IsInf(si, 0) || (si == 0) != isZero {
		return 0, 0, false
	}
	return si, u.Quantity, true
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"5 N", "1e3 lbf", "−.5\u00a0N·m", "1,5 m", "5 5 N", "NaN s", "1e400 N", "1e-400 Hz", "10'", "5 lb"} {
		f.Add(s) // more in testdata/fuzz/FuzzParse
	}
	f.Fuzz(func(t *testing.T, text string) {
		want, quantity, ok := reference(text)
		for _, o := range all {
			got, err := o.parse(text)
			if err != nil {
				checkError(t, o.quantity, text, got, err)
				if ok && quantity == o.quantity {
					t.Errorf("%v %q: got %v, the grammar reads %v", o.quantity, text, err, want)
				}
				continue
			}
			if !ok || quantity != o.quantity || math.Float64bits(got) != math.Float64bits(want) {
				t.Errorf("%v %q: got %v, the grammar reads %v %v %v", o.quantity, text, got, want, quantity, ok)
			}
			b, err := o.marshal(got)
			if err != nil {
				t.Fatalf("%v %q: %v", o.quantity, text, err)
			}
			again, err := o.unmarshal(math.NaN(), b)
			if err != nil || math.Float64bits(again) != math.Float64bits(got) {
				t.Errorf("%v %q: %q comes back as %v, %v", o.quantity, text, b, again, err)
			}
			// The short form may round up over the largest float64.
			if near, err := o.parse(o.text(got)); math.Abs(got) < 1e308 && (err != nil || math.Abs(near-got) > 5.1e-6*math.Abs(got)) {
				if math.Abs(got) > 1e-300 { // subnormal numbers have fewer digits
					t.Errorf("%v %q: prints as %q, which is %v, %v", o.quantity, text, o.text(got), near, err)
				}
			}
		}
	})
}

func checkError(t *testing.T, q Quantity, text string, got float64, err error) {
	t.Helper()
	var pe *ParseError
	if !errors.As(err, &pe) || pe.Text != text || pe.Quantity != q || !math.IsNaN(got) {
		t.Errorf("%v %q: got %v with %#v", q, text, got, err)
		return
	}
	switch pe.Err {
	case ErrNumber, ErrRange:
	case ErrNoUnit, ErrUnknownUnit, ErrDimension:
		if !strings.Contains(err.Error(), "accepted: "+q.Units()[0].Symbol) {
			t.Errorf("%v %q: %q does not list the units", q, text, err)
		}
	default:
		t.Errorf("%v %q: wraps %v", q, text, pe.Err)
	}
	if msg := err.Error(); len(msg) > 1000 || !utf8.ValidString(msg) || strings.ContainsAny(msg, "\n\x00") {
		t.Errorf("%v %q: message %q", q, text, msg)
	}
}
