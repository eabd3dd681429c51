package agreement_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/momentarm/validation/agreement"
)

// By hand: the differences are 1 3, 2 4 6 and 0, with means 2, 4, 0 and 8/3 in all;
// squares 10 within (3 degrees of freedom) and 40/3 between (2); m is (36 − 14)/12.
func TestCompareRepeated(t *testing.T) {
	a := [][]float64{{11, 23}, {7, 5, 9}, {3}}
	b := [][]float64{{10, 20}, {5, 1, 3}, {3}}
	r, err := agreement.CompareRepeated(a, b, agreement.CompareOptions{Multiplier: 2})
	if err != nil {
		t.Fatal(err)
	}
	near := func(what string, got, want float64) {
		if !(math.Abs(got-want) < 1e-9) {
			t.Errorf("%s is %.12g, want %.12g", what, got, want)
		}
	}
	between, within := (20.0/3-10.0/3)/(22.0/12), 10.0/3
	sd := math.Sqrt(between + within)
	near("bias", r.Bias, 8.0/3)
	near("between", r.Between, math.Sqrt(between))
	near("within", r.Within, math.Sqrt(within))
	near("SD", r.SD, sd)
	near("lower", r.Lower, 8.0/3-2*sd)
	near("upper", r.Upper, 8.0/3+2*sd)
	near("interval", r.BiasCI.High-r.Bias, 4.302652729911275*math.Sqrt(between*14/36+within/6)) // t of tables: 4.303
	if r.Targets != 3 || r.Pairs != 6 || r.Confidence != 0.95 {
		t.Errorf("%+v", r)
	}

	// Alike targets: nothing lies between them.
	r, err = agreement.CompareRepeated([][]float64{{1, 3}, {3, 1}}, [][]float64{{0, 0}, {0, 0}}, agreement.CompareOptions{})
	if err != nil || r.Between != 0 || r.SD != r.Within {
		t.Errorf("%+v, %v", r, err)
	}
	for _, c := range []struct {
		a, b [][]float64
		want error
	}{
		{a[:1], b[:1], agreement.ErrTooFew},
		{[][]float64{{1}, {2}}, [][]float64{{1}, {3}}, agreement.ErrTooFew},
		{[][]float64{{1, 2}, {}}, [][]float64{{1, 2}, {}}, agreement.ErrTooFew},
		{a, b[:2], agreement.ErrLength},
		{[][]float64{{1, 2}, {2}}, [][]float64{{1}, {3}}, agreement.ErrLength},
		{[][]float64{{1, math.NaN()}, {2}}, [][]float64{{1, 2}, {3}}, agreement.ErrNotFinite},
	} {
		if _, err := agreement.CompareRepeated(c.a, c.b, agreement.CompareOptions{}); !errors.Is(err, c.want) {
			t.Errorf("%v, %v: %v, want %v", c.a, c.b, err, c.want)
		}
	}
	if _, err := agreement.CompareRepeated(a, b, agreement.CompareOptions{Multiplier: -1}); err == nil {
		t.Error("a negative multiplier is taken")
	}
}

// Made-up methods that differ by 3 between golfers and by 2 within them: the limits
// of new golfers are those of √13, on average over studies.
func TestCompareRepeatedFindsTheComponents(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	var between, within float64
	const studies, golfers = 400, 30
	for range studies {
		var a, b [][]float64
		for i := range golfers {
			own, m := 3*rng.NormFloat64(), 1+i%4
			x, y := make([]float64, m), make([]float64, m)
			for k := range x {
				y[k] = 100 * rng.Float64()
				x[k] = y[k] + 1 + own + 2*rng.NormFloat64()
			}
			a, b = append(a, x), append(b, y)
		}
		r, err := agreement.CompareRepeated(a, b, agreement.CompareOptions{})
		if err != nil {
			t.Fatal(err)
		}
		between += r.Between * r.Between / studies
		within += r.Within * r.Within / studies
	}
	// Over 400 studies the means of the variances scatter by some 0.15 and 0.04.
	if math.Abs(between-9) > 0.5 || math.Abs(within-4) > 0.15 {
		t.Errorf("variances %.3f and %.3f, want 9 and 4", between, within)
	}
}
