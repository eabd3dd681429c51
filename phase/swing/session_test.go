package swing_test

import (
	"errors"
	"go/parser"
	"go/token"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/momentarm/phase/swing"
)

func TestSpreadByHand(t *testing.T) {
	nan := math.NaN()
	s := made(t,
		[]float64{3, 1, 4, 1, 5, 9},
		[]float64{3, nan, 1, nan, nan, nan},
		[]float64{nan, nan, nan, nan, nan, nan},
		[]float64{2, 2, 2, 2, 2, 2},
		[]float64{-1, 1, 2, 3, 4, 5},
		[]float64{10, 20, 30, 40, 50, math.Inf(1)},
	)
	// Sum 23; squares 9+1+16+1+25+81 = 133; variance (133 − 23²/6)/5.
	mean, sd := 23.0/6, math.Sqrt((133-23.0*23/6)/5)
	// Differences −2, 3, −3, 4, 4: sum 6, squares 54, variance (54 − 36/5)/4; half
	// of it, times 5/6.
	typical := math.Sqrt((54 - 36.0/5) / 4 / 2 * 5 / 6)
	want := []swing.Spread{
		{N: 6, Mean: mean, SD: sd, CV: sd / mean, TypicalError: typical, Detectable: 1.959963984540054 * math.Sqrt2 * typical},
		{N: 2, Mean: 2, SD: math.Sqrt2, CV: math.Sqrt2 / 2, TypicalError: nan, Detectable: nan},
		{N: 0, Mean: nan, SD: nan, CV: nan, TypicalError: nan, Detectable: nan},
		{N: 6, Mean: 2, SD: 0, CV: 0, TypicalError: 0, Detectable: 0},
		{N: 6, Mean: 14.0 / 6, SD: math.Sqrt((56 - 14.0*14/6) / 5), CV: nan, TypicalError: math.Sqrt((8 - 36.0/5) / 4 / 2 * 5 / 6)},
		{N: 5, Mean: 30, SD: math.Sqrt(250), CV: math.Sqrt(250) / 30, TypicalError: 0, Detectable: 0}, // a steady drift is no error
	}
	want[4].Detectable = 1.959963984540054 * math.Sqrt2 * want[4].TypicalError
	for k, w := range want {
		g := s.Spreads[k]
		if g.N != w.N || !close(g.Mean, w.Mean, 1e-12) || !close(g.SD, w.SD, 1e-12) || !close(g.CV, w.CV, 1e-12) ||
			!close(g.TypicalError, w.TypicalError, 1e-12) || !close(g.Detectable, w.Detectable, 1e-12) {
			t.Errorf("%s: got %+v\nwant %+v", g.Name, g, w)
		}
	}
}

// The typical error estimates the scatter without bias, and without the drift that
// the standard deviation takes for scatter.
func TestTypicalErrorIsUnbiased(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	const sigma, runs = 3.0, 4000
	for _, n := range []int{4, 10} {
		var sum, withDrift float64
		for range runs {
			x := make([]float64, n)
			for i := range x {
				x[i] = 500 + sigma*rng.NormFloat64() + 20*float64(i)
			}
			s := made(t, x)
			sum += s.Spreads[0].TypicalError * s.Spreads[0].TypicalError
			withDrift += s.Spreads[0].SD * s.Spreads[0].SD
		}
		// The variance of a variance with ν degrees of freedom is 2σ⁴/ν: 5 % is more
		// than four standard errors of the mean of so many.
		if got := sum / runs; math.Abs(got/(sigma*sigma)-1) > 0.06 {
			t.Errorf("n = %d: mean square %.3f, want %.3f", n, got, sigma*sigma)
		}
		if !(withDrift/runs > 4*sigma*sigma) {
			t.Errorf("n = %d: the drift is not in the standard deviation", n)
		}
	}
}

// Ten swings of one golfer, whose strength varies by 2 %.
func TestSessionOfSwings(t *testing.T) {
	s := session(t, strong())
	if len(s.Warnings) != 0 {
		t.Error(s.Warnings)
	}
	for _, c := range []struct {
		name   string
		lo, hi float64 // of the coefficient of variation
	}{
		// Proportional to the strength, whose 2 % a sample of ten shows within a
		// half and double; the noise adds to that.
		{"vertical_torque_peak", 0.01, 0.04},
		{"frontal_torque_peak", 0.01, 0.06},
		{"downswing_time", 0.01, 0.04},
		{"body_weight", 0, 0.001},
		{"com_shift_at_top", math.NaN(), math.NaN()},        // its zero is the address
		{"lead_preload", math.NaN(), math.NaN()},            // a difference
		{"even_load_before_impact", math.NaN(), math.NaN()}, // could change sign
		{"com_shift_at_top_stance", math.NaN(), math.NaN()}, // as above
		{"trail_load_peak_in_backswing", math.NaN(), math.NaN()},
		{"tempo", 0.005, 0.08},
	} {
		p, ok := s.Spread(c.name)
		if !ok || p.N != 10 || len(p.Values) != 10 {
			t.Errorf("%s: %d values", c.name, p.N)
			continue
		}
		if math.IsNaN(c.lo) != math.IsNaN(p.CV) || p.CV < c.lo || p.CV > c.hi {
			t.Errorf("%s: coefficient of variation %.4f", c.name, p.CV)
		}
		if !(p.TypicalError > 0.3*p.SD && p.TypicalError < 3*p.SD) {
			t.Errorf("%s: typical error %g, SD %g", c.name, p.TypicalError, p.SD)
		}
	}
	if _, ok := s.Spread("nothing"); ok {
		t.Error("a measure called nothing")
	}
}

func TestSessionWarns(t *testing.T) {
	a, b := &swing.Analysis{BodyWeight: 750}, &swing.Analysis{BodyWeight: 766}
	b.Settings.Cutoff = 30
	s := session(t, []*swing.Analysis{a, a, b})
	var codes []string
	for _, w := range s.Warnings {
		codes = append(codes, w.Code)
	}
	if got := strings.Join(codes, " "); got != "settings-differ body-weight-differs" {
		t.Error(got)
	}
	b = &swing.Analysis{BodyWeight: 764}
	if s := session(t, []*swing.Analysis{a, b}); len(s.Warnings) != 0 {
		t.Error(s.Warnings)
	}
}

func TestSessionRefuses(t *testing.T) {
	a := &swing.Analysis{Measures: []swing.Measure{{Name: "x", Unit: "m"}}}
	b := &swing.Analysis{Measures: []swing.Measure{{Name: "x", Unit: "cm"}}}
	for name, c := range map[string]struct {
		swings []*swing.Analysis
		want   error
	}{
		"none":    {nil, swing.ErrTooFew},
		"one":     {[]*swing.Analysis{a}, swing.ErrTooFew},
		"missing": {[]*swing.Analysis{a, nil}, swing.ErrTooFew},
		"units":   {[]*swing.Analysis{a, b}, swing.ErrUnlike},
	} {
		if s, err := swing.NewSession(c.swings); !errors.Is(err, c.want) || s != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// The one import against the usual direction: of validation, this package knows
// the statistics alone, and they know nothing of this module.
func TestImportsOfStatistics(t *testing.T) {
	const module = "example.com/momentarm/"
	imports := func(dir string) []string {
		files, err := filepath.Glob(filepath.Join(dir, "*.go"))
		if err != nil || len(files) == 0 {
			t.Fatal(dir, err)
		}
		var list []string
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			f, err := parser.ParseFile(token.NewFileSet(), name, text, parser.ImportsOnly)
			if err != nil {
				t.Fatal(err)
			}
			for _, i := range f.Imports {
				if path := strings.Trim(i.Path.Value, `"`); strings.HasPrefix(path, module) {
					list = append(list, strings.TrimPrefix(path, module))
				}
			}
		}
		return list
	}
	for _, path := range imports(".") {
		if strings.HasPrefix(path, "validation") && path != "validation/agreement" {
			t.Errorf("phase/swing imports %s", path)
		}
	}
	for _, path := range imports("../../validation/agreement") {
		t.Errorf("validation/agreement imports %s", path)
	}
}
