package filter_test

import (
	"errors"
	"math"
	"math/rand"
	"slices"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
)

// movement returns n samples at 1000 Hz of a sum of sines up to 9 Hz, with
// white noise of the given standard deviation.
func movement(n int, sd float64, seed int64) []float64 {
	r := rand.New(rand.NewSource(seed))
	x := make([]float64, n)
	for i := range x {
		t := float64(i) / 1000
		x[i] = 800 + 300*math.Sin(2*math.Pi*1.1*t) + 100*math.Sin(2*math.Pi*4*t+1) +
			20*math.Sin(2*math.Pi*9*t+2) + sd*r.NormFloat64()
	}
	return x
}

// What is known in closed form: a sine of amplitude A loses (1 − G)·A, so the
// residual RMS is (1 − G)·A/√2 with the gain G of the pair.
func TestResidualOfASine(t *testing.T) {
	const f, amplitude = 20.0, 50.0
	x := make([]float64, 20000) // whole periods; the ends weigh little
	for i := range x {
		x[i] = amplitude * math.Sin(2*math.Pi*f*float64(i)/1000)
	}
	cutoffs := []float64{5, 10, 20, 40, 100}
	got, err := filter.Residuals(x, 1000, cutoffs, filter.ResidualOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range cutoffs {
		want := (1 - zeroPhase(t, filter.ZeroPhaseOptions{Cutoff: c, Rate: 1000}).Gain(f)) * amplitude / math.Sqrt2
		if math.Abs(got[i]/want-1) > 0.01 {
			t.Errorf("cut-off %g Hz: residual %g, want %g", c, got[i], want)
		}
	}
}

// The intercept is the RMS of the noise, which we know because we put it in.
// White noise curves the tail a little (its residual is σ·√(1 − f_c/f_N) for a
// steep filter), which costs some per cent.
func TestNoiseLevelIsFound(t *testing.T) {
	before := math.Inf(1)
	for _, sd := range []float64{0.5, 2, 5, 20} {
		for seed := int64(1); seed <= 3; seed++ {
			r, err := filter.ChooseCutoff(movement(4000, sd, seed), 1000, filter.ResidualOptions{})
			if err != nil {
				t.Fatalf("noise %g: %v", sd, err)
			}
			if math.Abs(r.Noise/sd-1) > 0.05 {
				t.Errorf("noise %g is found as %g", sd, r.Noise)
			}
			// Above the signal, well below the tail's middle.
			if r.Cutoff < 9 || r.Cutoff > 40 || r.Slope >= 0 || r.R2 < 0.995 || r.FitTo != 250 {
				t.Errorf("noise %g: %+v", sd, *r)
			}
			if !(r.Low <= r.Cutoff && r.Cutoff <= r.High) {
				t.Errorf("noise %g: %g Hz not in %g … %g Hz", sd, r.Cutoff, r.Low, r.High)
			}
			// What the choice means: as much signal lost as noise let through,
			// so the residual there is the noise level.
			at, err := filter.Residuals(movement(4000, sd, seed), 1000, []float64{r.Cutoff}, filter.ResidualOptions{})
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(at[0]/r.Noise-1) > 0.02 { // interpolated between cut-offs
				t.Errorf("noise %g: residual at the choice %g, noise level %g", sd, at[0], r.Noise)
			}
			if seed == 1 {
				if r.Cutoff >= before {
					t.Errorf("more noise, higher cut-off: %g Hz after %g Hz", r.Cutoff, before)
				}
				before = r.Cutoff
			}
		}
	}
}

// The choice does not depend on the unit or on a constant added.
func TestChoiceIsInvariant(t *testing.T) {
	x := movement(4000, 2, 1)
	want, err := filter.ChooseCutoff(x, 1000, filter.ResidualOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range x {
		x[i] = x[i]*0.2248 - 150
	}
	got, err := filter.ChooseCutoff(x, 1000, filter.ResidualOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got.Cutoff/want.Cutoff-1) > 1e-9 || math.Abs(got.Noise/want.Noise/0.2248-1) > 1e-9 {
		t.Errorf("%g Hz, noise %g, want %g Hz, %g", got.Cutoff, got.Noise, want.Cutoff, want.Noise*0.2248)
	}
}

func TestGivenTail(t *testing.T) {
	x := movement(4000, 2, 1)
	r, err := filter.ChooseCutoff(x, 1000, filter.ResidualOptions{FitFrom: 100, FitTo: 200})
	if err != nil {
		t.Fatal(err)
	}
	if r.FitFrom != 100 || r.FitTo != 200 || math.Abs(r.Noise/2-1) > 0.08 {
		t.Errorf("%+v", *r)
	}
	if _, err := filter.ChooseCutoff(x, 1000, filter.ResidualOptions{FitFrom: 3, FitTo: 30}); !errors.Is(err, filter.ErrNoTail) {
		t.Errorf("a tail in the signal: %v", err)
	}
	if _, err := filter.ChooseCutoff(x, 1000, filter.ResidualOptions{FitFrom: 100, FitTo: 103}); !errors.Is(err, filter.ErrOption) {
		t.Errorf("a tail of two cut-offs: %v", err)
	}
}

// No choice where there is none.
func TestNoTail(t *testing.T) {
	impact := make([]float64, 3000) // a landing: no band limit
	r := rand.New(rand.NewSource(1))
	for i := range impact {
		impact[i] = 2 * r.NormFloat64()
		if i > 1000 {
			impact[i] += 800 + 2000*math.Exp(-float64(i-1000)/8)
		}
	}
	white := noise(4000, 2)
	for name, c := range map[string]struct {
		x    []float64
		want error
	}{
		"impact":       {impact, filter.ErrNoTail},
		"no noise":     {movement(4000, 0, 1), filter.ErrNoTail},
		"constant":     {slices.Repeat([]float64{800}, 4000), filter.ErrNoTail},
		"zero":         {make([]float64, 4000), filter.ErrNoTail},
		"only noise":   {white, filter.ErrNoCrossing},
		"empty":        {nil, grf.ErrNoData},
		"short":        {white[:100], filter.ErrTooShort},
		"one NaN":      {append([]float64{math.NaN()}, white...), filter.ErrNotFinite},
		"one infinite": {append([]float64{math.Inf(1)}, white...), filter.ErrNotFinite},
	} {
		if got, err := filter.ChooseCutoff(c.x, 1000, filter.ResidualOptions{}); !errors.Is(err, c.want) || got != nil {
			t.Errorf("%s: %v, %v", name, got, err)
		}
	}
}

// A signal whose spectrum falls slowly bends the tail upward; if a tail passes
// all the same, the result says that it is doubtful.
func TestFlatteningTailWarns(t *testing.T) {
	x := make([]float64, 3000)
	r := rand.New(rand.NewSource(1))
	for i := range x {
		x[i] = r.NormFloat64()
		if i > 1000 {
			x[i] += 800 + 200*math.Exp(-float64(i-1000)/8)
		}
	}
	got, err := filter.ChooseCutoff(x, 1000, filter.ResidualOptions{FitFrom: 60, Straight: 0.9})
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(got.Warnings, func(w grf.Warning) bool { return w.Code == "tail-flattens" }) {
		t.Errorf("no warning about %g Hz, noise %g: %v", got.Cutoff, got.Noise, got.Warnings)
	}
}

func TestResidualOptionsRefused(t *testing.T) {
	x := movement(4000, 2, 1)
	for name, c := range map[string]struct {
		opt  filter.ResidualOptions
		rate float64
		want error
	}{
		"rate":         {filter.ResidualOptions{}, 0, grf.ErrRate},
		"count":        {filter.ResidualOptions{Count: 5}, 1000, filter.ErrOption},
		"highest":      {filter.ResidualOptions{Highest: 500}, 1000, filter.ErrOption},
		"lowest":       {filter.ResidualOptions{Lowest: 300}, 1000, filter.ErrOption},
		"negative":     {filter.ResidualOptions{Lowest: -1}, 1000, filter.ErrOption},
		"NaN":          {filter.ResidualOptions{Highest: math.NaN()}, 1000, filter.ErrOption},
		"fit":          {filter.ResidualOptions{FitFrom: 200, FitTo: 100}, 1000, filter.ErrOption},
		"fit beyond":   {filter.ResidualOptions{FitTo: 300}, 1000, filter.ErrOption},
		"straightness": {filter.ResidualOptions{Straight: 1.5}, 1000, filter.ErrOption},
		"order":        {filter.ResidualOptions{Order: 3}, 1000, filter.ErrOrder},
	} {
		if _, err := filter.ChooseCutoff(x, c.rate, c.opt); !errors.Is(err, c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
