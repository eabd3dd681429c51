package swing_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.com/momentarm/phase/swing"
)

// Against SciPy 1.10, scipy.stats.pearsonr and its confidence_interval.
func TestCorrelationAgainstSciPy(t *testing.T) {
	for name, c := range map[string]struct {
		x, y             []float64
		confidence       float64
		r, p, low, high  float64
		fastest, slowest int
	}{
		"Student's sleep": {sleep1, nil, 0.95, 0.7951702058335779, 0.005964995796918453, 0.33152547416433736, 0.9494465336113636, 6, 4},
		"six": {[]float64{1.2, 2.1, 2.9, 4.2, 4.8, 6.1}, []float64{2.3, 1.9, 3.8, 3.1, 5.2, 4.4}, 0.9,
			0.794885152500907, 0.05879334474097382, 0.13409394048160117, 0.9663671455860017, 4, 1},
	} {
		y := c.y
		if y == nil { // the second drug, moved so that no speed is negative
			for _, v := range sleep2 {
				y = append(y, v+1)
			}
		}
		r, err := made(t, c.x).Relate(y, swing.RelateOptions{Confidence: c.confidence})
		if err != nil {
			t.Fatal(err)
		}
		x := r.Relations[0]
		if !close(x.R, c.r, 1e-12) || !close(x.P, c.p, 1e-12) || !close(x.CI.Low, c.low, 1e-12) || !close(x.CI.High, c.high, 1e-12) || x.N != len(y) {
			t.Errorf("%s: %+v", name, x)
		}
		if r.Fastest != c.fastest || r.Slowest != c.slowest || x.Fastest != c.x[c.fastest] || x.Slowest != c.x[c.slowest] {
			t.Errorf("%s: fastest %d, slowest %d", name, r.Fastest, r.Slowest)
		}
	}
}

// A speed that goes with the strength of the swings goes with their torque and not
// with their tempo.
func TestRelateSwings(t *testing.T) {
	s := session(t, strong())
	torque, _ := s.Spread("vertical_torque_peak")
	rng := rand.New(rand.NewPCG(9, 9))
	speeds := make([]float64, 10)
	for i, v := range torque.Values {
		speeds[i] = 40 + 0.2*(v-torque.Mean) + 0.05*rng.NormFloat64()
	}
	r, err := s.Relate(speeds, swing.RelateOptions{Measures: []string{"vertical_torque_peak", "body_weight"}})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []swing.Answer{swing.Related, swing.NotShown} {
		x := r.Relations[i]
		t.Log(x.Sentence)
		if x.Answer != want || !(x.CI.Low <= x.R && x.R <= x.CI.High) || !strings.Contains(x.Sentence, "n = 10") || !strings.Contains(x.Sentence, "2 measures asked about") {
			t.Errorf("%+v", x)
		}
	}
	if x := r.Relations[0]; !(x.R > 0.9) || !strings.Contains(x.Sentence, "higher in faster swings") {
		t.Errorf("%+v", x)
	}
	if !(speeds[r.Fastest] > speeds[r.Slowest]) || r.N != 10 {
		t.Errorf("%+v", r)
	}
}

func TestRelateFewOrFlat(t *testing.T) {
	nan := math.NaN()
	s := made(t, []float64{1, 2, 3, 5, 4}, []float64{2, 2, 2, 2, 2}, []float64{1, nan, nan, nan, 2}, []float64{5, 4, 3, 1, 2})
	r, err := s.Relate([]float64{30, 31, 32, 34, 33}, swing.RelateOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for i, c := range []struct {
		answer swing.Answer
		says   string
	}{
		{swing.Related, "5 swings are few"},
		{swing.NotDecidable, "the same in all 5 swings"},
		{swing.NotDecidable, "too few, it takes 4"},
		{swing.Related, "lower in faster swings"},
	} {
		if x := r.Relations[i]; x.Answer != c.answer || !strings.Contains(x.Sentence, c.says) || strings.Contains(x.Sentence, "NaN") {
			t.Errorf("%+v", x)
		}
	}
	if x := r.Relations[0]; x.R != 1 || x.CI.Low != 1 || x.CI.High != 1 || x.P != 0 {
		t.Errorf("a perfect correlation: %+v", x)
	}
	// Three speeds are too few; none leaves no fastest swing.
	r, err = s.Relate([]float64{30, 31, 32, nan, nan}, swing.RelateOptions{})
	if err != nil || r.N != 3 || r.Relations[0].Answer != swing.NotDecidable || !math.IsNaN(r.Relations[0].P) {
		t.Errorf("%+v, %v", r, err)
	}
	r, err = s.Relate([]float64{nan, nan, nan, nan, nan}, swing.RelateOptions{})
	if err != nil || r.N != 0 || r.Fastest != -1 || r.Slowest != -1 || !math.IsNaN(r.Relations[0].Fastest) {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestRelateRefuses(t *testing.T) {
	s := made(t, []float64{1, 2, 3, 4})
	for name, c := range map[string]struct {
		speeds []float64
		opt    swing.RelateOptions
	}{
		"too few speeds": {[]float64{1, 2}, swing.RelateOptions{}},
		"infinite":       {[]float64{1, 2, 3, math.Inf(1)}, swing.RelateOptions{}},
		"negative":       {[]float64{1, 2, 3, -4}, swing.RelateOptions{}},
		"confidence":     {[]float64{1, 2, 3, 4}, swing.RelateOptions{Confidence: 2}},
		"measure":        {[]float64{1, 2, 3, 4}, swing.RelateOptions{Measures: []string{"x"}}},
	} {
		if r, err := s.Relate(c.speeds, c.opt); !errors.Is(err, swing.ErrOptions) || r != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}
