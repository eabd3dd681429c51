package table

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// stamped returns a table of time stamps as a program would print them.
func stamped(format string, stamps []float64) []byte {
	var b strings.Builder
	b.WriteString("t[s],x[m]\n")
	for i, v := range stamps {
		fmt.Fprintf(&b, format+",%d\n", v, i)
	}
	return []byte(b.String())
}

func even(n int, start, rate float64) []float64 {
	s := make([]float64, n)
	for i := range s {
		s[i] = start + float64(i)/rate
	}
	return s
}

func TestClock(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	shaken := func(n int, rate, part float64) []float64 {
		s := even(n, 0, rate)
		for i := range s[1 : n-1] {
			s[i+1] += part / rate * (2*rng.Float64() - 1)
		}
		return s
	}
	without := func(s []float64, drop ...int) []float64 {
		var kept []float64
		for i, v := range s {
			if len(drop) > 0 && drop[0] == i {
				drop = drop[1:]
				continue
			}
			kept = append(kept, v)
		}
		return kept
	}
	tests := []struct {
		name   string
		data   []byte
		opt    Options
		rate   float64
		within float64
		rows   int
		warn   string
		err    error
	}{
		{"even", stamped("%.4f", even(5000, 0, 1000)), Options{}, 1000, 0, 5000, "", nil},
		{"from 0.01 s", stamped("%.3f", even(6000, 0.01, 100)), Options{}, 100, 0, 6000, "", nil},
		{"a rate that is not whole", stamped("%.9f", even(600, 0, 59.94)), Options{}, 59.94, 1e-6, 600, "", nil},
		{"450 Hz in milliseconds", stamped("%.3f", even(4500, 0, 450)), Options{}, 450, 0, 4500, "", nil},
		{"240 Hz in milliseconds", stamped("%.3f", even(500, 0, 240)), Options{}, 240, 0, 500, "", nil},
		{"29.97 Hz in milliseconds", stamped("%.3f", even(300, 0, 30000./1001)), Options{}, 29.97, 0.01, 300, "", nil},
		{"declared as well", append([]byte("rate: 29.97 Hz\n"), stamped("%.3f", even(300, 0, 30000./1001))...), Options{}, 29.97, 0, 300, "", nil},
		{"seconds since long ago", stamped("%.6f", even(1000, 1.7e9, 1000)), Options{}, 1000, 0, 1000, "", nil},
		{"1 % jitter", stamped("%.9f", shaken(1000, 100, 0.01)), Options{}, 100, 1e-3, 1000, "time-jitter", nil},
		{"1 % jitter refused", stamped("%.9f", shaken(1000, 100, 0.01)), Options{Jitter: 0.002}, 0, 0, 0, "", ErrIrregular},
		{"30 % jitter", stamped("%.9f", shaken(1000, 100, 0.3)), Options{}, 0, 0, 0, "", ErrIrregular},
		{"30 % jitter where it may be", stamped("%.9f", shaken(1000, 100, 0.3)), Options{Clock: Ascending}, 0, 0, 1000, "", nil},
		{"even where it need not be", stamped("%.9f", even(1000, 0, 100)), Options{Clock: Ascending}, 100, 0, 1000, "", nil},
		{"one row where it need not be even", stamped("%.9f", even(1, 0, 100)), Options{Clock: Ascending}, 0, 0, 1, "", nil},
		{"rows lost", stamped("%.4f", without(even(1000, 0, 1000), 100, 500, 501, 502)), Options{}, 1000, 0, 1000, "rows-lost", nil},
		{"second to last row lost", stamped("%.4f", without(even(1000, 0, 1000), 998)), Options{}, 1000, 0, 1000, "rows-lost", nil},
		{"rows lost at 450 Hz in milliseconds", stamped("%.3f", without(even(1000, 0, 450), 300, 301)), Options{}, 450, 0, 1000, "rows-lost", nil},
		{"rows lost where they may be", stamped("%.4f", without(even(1000, 0, 1000), 100)), Options{Clock: Ascending}, 0, 0, 999, "", nil},
		{"half of the rows", stamped("%.4f", append(even(100, 0, 1000), even(100, 0.2, 1000)...)), Options{}, 0, 0, 0, "", ErrIrregular},
		{"a jump of days", stamped("%.4f", append(even(100, 0, 1000), even(100, 1e9, 1000)...)), Options{}, 0, 0, 0, "", ErrIrregular},
		{"two clocks", stamped("%.4f", append(even(100, 0, 1000), even(100, 0.11, 500)...)), Options{}, 0, 0, 0, "", ErrIrregular},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			tab, err := Decode(tt.data, tt.opt)
			if !errors.Is(err, tt.err) {
				t.Fatalf("got error %v, want %v", err, tt.err)
			}
			if err != nil {
				var e *Error
				if !errors.As(err, &e) || e.Line == 0 || e.Column != 1 || e.Name != "t" {
					t.Errorf("%v has no place", err)
				}
				return
			}
			if math.Abs(tab.Rate-tt.rate) > tt.within || tab.Rows != tt.rows || codes(tab.Warnings) != tt.warn {
				t.Errorf("got %.12g Hz, %d rows, %v", tab.Rate, tab.Rows, tab.Warnings)
			}
			if len(tab.Time) != tab.Rows || len(tab.Columns[0].Values) != tab.Rows {
				t.Errorf("%d stamps and %d values in %d rows", len(tab.Time), len(tab.Columns[0].Values), tab.Rows)
			}
		})
	}
}

// Rows that are missing must come back as NaN, in their place.
func TestLostRows(t *testing.T) {
	var b strings.Builder
	b.WriteString("t[ms],x[mm]\n")
	for i := range 100 {
		if i == 20 || i == 50 || i == 51 {
			continue
		}
		fmt.Fprintf(&b, "%d,%d\n", 2*i, i)
	}
	tab, err := Decode([]byte(b.String()), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range tab.Columns[0].Values {
		lost := i == 20 || i == 50 || i == 51
		if math.IsNaN(v) != lost || !lost && math.Abs(v-float64(i)/1000) > 1e-15 {
			t.Errorf("row %d holds %g", i, v)
		}
		if math.Abs(tab.Time[i]-0.002*float64(i)) > 1e-12 {
			t.Errorf("row %d is at %g s", i, tab.Time[i])
		}
	}
	if w := tab.Warnings[0]; w.Where != "line 22" || !strings.Contains(w.Text, "3 rows are missing in 2 places") {
		t.Errorf("got %v", w)
	}
}
