package agreement_test

import (
	"errors"
	"math"
	"testing"

	"example.com/momentarm/validation/agreement"
)

// Hours of sleep gained by two drugs: the data of Student (1908). The results are
// those of SciPy 1.10.1, ttest_rel and ttest_ind(equal_var=False), and of the
// documentation of R's t.test (from memory: t = −4.0621 and −1.8608, df = 9 and
// 17.776, p = 0.002833 and 0.07939).
var sleep = [2][]float64{
	{0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2},
	{1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4},
}

func TestTTests(t *testing.T) {
	for name, c := range map[string]struct {
		test func(a, b []float64, conf float64) (agreement.TTest, error)
		want agreement.TTest
	}{
		"paired": {agreement.Paired, agreement.TTest{Difference: 1.58, CI: agreement.Interval{Low: 0.7001142367452712, High: 2.459885763254729},
			T: 4.062127683382037, DOF: 9, P: 0.00283289019738427, Effect: 1.2845575625910546}},
		"unpaired": {agreement.Unpaired, agreement.TTest{Difference: 1.58, CI: agreement.Interval{Low: -0.20548323071163588, High: 3.365483230711636},
			T: 1.8608134674868526, DOF: 17.776473516178495, P: 0.07939414018735823, Effect: 0.8321810813495397}},
	} {
		got, err := c.test(sleep[0], sleep[1], 0)
		if err != nil {
			t.Fatal(name, err)
		}
		near := func(what string, got, want, tol float64) {
			if !(math.Abs(got-want) <= tol) {
				t.Errorf("%s: %s is %.12g, want %.12g", name, what, got, want)
			}
		}
		near("difference", got.Difference, c.want.Difference, 1e-12)
		near("low", got.CI.Low, c.want.CI.Low, 1e-8)
		near("high", got.CI.High, c.want.CI.High, 1e-8)
		near("t", got.T, c.want.T, 1e-11)
		near("degrees of freedom", got.DOF, c.want.DOF, 1e-10)
		near("p", got.P, c.want.P, 1e-12)
		near("effect", got.Effect, c.want.Effect, 1e-12)
		near("confidence", got.Confidence, agreement.DefaultConfidence, 0)

		back, err := c.test(sleep[1], sleep[0], 0)
		if err != nil || back.T != -got.T || back.P != got.P || back.Effect != -got.Effect || back.CI.Low != -got.CI.High {
			t.Errorf("%s the other way round: %+v, %v", name, back, err)
		}
		for _, bad := range []struct {
			a, b []float64
			conf float64
			want error
		}{
			{[]float64{1}, []float64{2}, 0, agreement.ErrTooFew},
			{nil, nil, 0, agreement.ErrTooFew},
			{[]float64{1, 2}, []float64{3, math.NaN()}, 0, agreement.ErrNotFinite},
			{[]float64{1, 1}, []float64{2, 2}, 0, agreement.ErrNoVariation},
			{[]float64{1, 2}, []float64{2, 2}, 1, agreement.ErrConfidence},
		} {
			if _, err := c.test(bad.a, bad.b, bad.conf); !errors.Is(err, bad.want) {
				t.Errorf("%s of %v and %v: %v, want %v", name, bad.a, bad.b, err, bad.want)
			}
		}
	}
	if _, err := agreement.Paired([]float64{1, 2, 3}, []float64{1, 2}, 0); !errors.Is(err, agreement.ErrLength) {
		t.Error(err)
	}
	if _, err := agreement.Unpaired([]float64{1, 2, 3}, []float64{5, 7}, 0); err != nil {
		t.Error(err)
	}
}

// Four tests, by hand: 4·0.011; 3·0.012, but not less than the one before;
// 2·0.03; 0.5, and never more than 1.
func TestHolm(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct{ ps, want []float64 }{
		{[]float64{0.03, 0.011, 0.012, nan, 0.5}, []float64{0.06, 0.044, 0.044, nan, 0.5}},
		{[]float64{0.9, 0.8}, []float64{1, 1}},
		{[]float64{0.02}, []float64{0.02}},
		{nil, nil},
	} {
		got, err := agreement.Holm(c.ps)
		if err != nil || len(got) != len(c.want) {
			t.Fatal(got, err)
		}
		for i, w := range c.want {
			if !(math.Abs(got[i]-w) < 1e-15 || math.IsNaN(w) && math.IsNaN(got[i])) {
				t.Errorf("%v: %v, want %v", c.ps, got, c.want)
			}
		}
	}
	for _, p := range []float64{-0.1, 1.1, math.Inf(1)} {
		if _, err := agreement.Holm([]float64{0.5, p}); !errors.Is(err, agreement.ErrProbability) {
			t.Errorf("%g: %v", p, err)
		}
	}
}

// 64 and 26 in each group stand in table 2 of J. Cohen, A power primer, Psychol.
// Bull. 112:155–159, 1992 (from memory). All were searched for with the noncentral t
// distribution of SciPy 1.10.1, nct.
func TestNeeded(t *testing.T) {
	for _, c := range []struct {
		effect, power, conf float64
		pairs, each         int
	}{
		{0.2, 0, 0, 199, 394},
		{0.5, 0.8, 0.95, 34, 64},
		{0.8, 0, 0, 15, 26},
		{0.5, 0.9, 0, 44, 86},
		{1, 0.9, 0, 13, 23},
		{1.5, 0, 0.99, 9, 13},
		{3, 0, 0, 4, 4},
		{0.35, 0.95, 0.9, 90, 178},
		{10, 0, 0, 3, 2},
	} {
		for _, sign := range []float64{7, -7} {
			pairs, err1 := agreement.PairsNeeded(sign*c.effect, 7, c.power, c.conf)
			each, err2 := agreement.EachNeeded(sign*c.effect, 7, c.power, c.conf)
			if pairs != c.pairs || each != c.each || err1 != nil || err2 != nil {
				t.Errorf("%+v: %d pairs, %d in each, %v, %v", c, pairs, each, err1, err2)
			}
		}
	}
	for _, c := range []struct {
		change, sd, power, conf float64
		want                    error
	}{
		{0, 1, 0, 0, agreement.ErrNotPositive},
		{1, 0, 0, 0, agreement.ErrNotPositive},
		{1, -1, 0, 0, agreement.ErrNotPositive},
		{1, math.NaN(), 0, 0, agreement.ErrNotPositive},
		{math.Inf(1), 1, 0, 0, agreement.ErrNotPositive},
		{1, math.Inf(1), 0, 0, agreement.ErrNotPositive},
		{1e-4, 1, 0, 0, agreement.ErrNotPositive},
		{1, 1, 1, 0, agreement.ErrProbability},
		{1, 1, -0.5, 0, agreement.ErrProbability},
		{1, 1, 0, 2, agreement.ErrConfidence},
	} {
		if n, err := agreement.PairsNeeded(c.change, c.sd, c.power, c.conf); !errors.Is(err, c.want) || n != 0 {
			t.Errorf("%+v: %d, %v", c, n, err)
		}
	}
}
