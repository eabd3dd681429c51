package agreement_test

import (
	"encoding/binary"
	"errors"
	"math"
	"reflect"
	"testing"

	"example.com/momentarm/validation/agreement"
)

func hasInfinity(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Float64:
		return math.IsInf(v.Float(), 0)
	case reflect.Struct:
		for i := range v.NumField() {
			if hasInfinity(v.Field(i)) {
				return true
			}
		}
	}
	return false
}

// FuzzAgreement: statistics of any numbers are an error of those that are documented,
// or numbers that are not infinite as long as the data are of a size whose squares
// are numbers; an intraclass correlation is at most 1 and does not change with the
// unit of the data.
func FuzzAgreement(f *testing.F) {
	add := func(k int, v ...float64) {
		var b []byte
		for _, x := range v {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x))
		}
		f.Add(b, k)
	}
	add(4, 9, 2, 5, 8, 6, 1, 3, 2, 8, 4, 6, 8, 7, 1, 2, 6, 10, 5, 6, 9, 6, 2, 4, 7) // Shrout and Fleiss 1979, table 2
	add(2, 1, 1, 1, 1, 1, 1)
	add(2, 1, 2, math.NaN(), 4, 5, 6)
	add(3, 1e300, -1e300, 1e300, 5e-324, 0, 0)
	add(1, 1, 2, 3)
	f.Fuzz(func(t *testing.T, data []byte, k int) {
		var v []float64
		plain := true
		for ; len(data) >= 8 && len(v) < 200; data = data[8:] {
			x := math.Float64frombits(binary.LittleEndian.Uint64(data))
			plain = plain && (x == 0 || math.Abs(x) > 1e-50 && math.Abs(x) < 1e50)
			v = append(v, x)
		}
		k = 1 + int(uint(k)%8)
		var table, double [][]float64
		for r := v; len(r) >= k; r = r[k:] {
			row := make([]float64, k)
			for i := range row {
				row[i] = 2 * r[i]
			}
			table, double = append(table, r[:k]), append(double, row)
		}
		check := func(what string, result any, err error) bool {
			t.Helper()
			if err != nil {
				for _, want := range []error{agreement.ErrTooFew, agreement.ErrLength, agreement.ErrNotFinite, agreement.ErrNoVariation, agreement.ErrNotPositive} {
					if errors.Is(err, want) {
						return false
					}
				}
				t.Fatalf("%s: undocumented error %v", what, err)
			}
			if plain && hasInfinity(reflect.ValueOf(result)) {
				t.Fatalf("%s: %+v of %v", what, result, table)
			}
			return plain
		}
		for form := agreement.OneWaySingle; form <= agreement.TwoWayMixedAverage; form++ {
			c, err := agreement.ICC(table, form, 0)
			if !check("ICC", c.Value, err) {
				continue
			}
			if c.Value > 1+1e-9 {
				t.Fatalf("%v is %g", form, c.Value)
			}
			if d, err := agreement.ICC(double, form, 0); err != nil || d.Value != c.Value {
				t.Fatalf("%v is %g, in another unit %g, %v", form, c.Value, d.Value, err)
			}
		}
		p, err := agreement.StandardError(table, agreement.TwoWayRandomSingle)
		check("StandardError", p.FromError, err)
		cv, err := agreement.Variation(table)
		check("Variation", cv.OfMean, err)
		a, b := v[:len(v)/2], v[len(v)/2:]
		r, err := agreement.RMSE(a, b)
		check("RMSE", r, err)
		c, err := agreement.Compare(a, b, agreement.CompareOptions{})
		if check("Compare", c, err) && !(c.Lower <= c.Bias && c.Bias <= c.Upper) {
			t.Fatalf("%+v", c)
		}
		e, err := agreement.TypicalError(a, b, 0)
		check("TypicalError", e, err)
	})
}
