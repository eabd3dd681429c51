package swing_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// repeated returns n swings of one golfer with habits of their own on noisy
// plates. Strength and tempo vary by about 2 % from swing to swing.
func repeated(n int, strength float64, seed uint64) []*swing.Analysis {
	rng := rand.New(rand.NewPCG(seed, 1))
	var out []*swing.Analysis
	for i := range n {
		s, err := synth.New(synth.Config{
			Individual: 4,
			Strength:   strength * (1 + 0.02*rng.NormFloat64()),
			Downswing:  0.28 * (1 + 0.02*rng.NormFloat64()),
			Tempo:      3 * (1 + 0.02*rng.NormFloat64()),
			Address:    1, Hold: 0.6, Rate: 500,
		})
		if err != nil {
			panic(err)
		}
		rec := synth.Disturbance{Seed: seed<<8 + uint64(i), ForceNoise: 3, MomentNoise: 1}.Apply(s.Recording())
		rec.Marks = s.Marks()
		a, err := swing.Analyse(rec, swing.Options{})
		if err != nil {
			panic(err)
		}
		out = append(out, a)
	}
	return out
}

// Ten swings of a golfer, and ten in which everything is a tenth weaker. They are
// made once for all tests.
var (
	strong = sync.OnceValue(func() []*swing.Analysis { return repeated(10, 1, 11) })
	weak   = sync.OnceValue(func() []*swing.Analysis { return repeated(10, 0.9, 22) })
)

func session(t testing.TB, swings []*swing.Analysis) *swing.Session {
	t.Helper()
	s, err := swing.NewSession(swings)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// made returns a session of swings that have nothing but one measure for each
// column, called m0, m1 and so on, in newtons.
func made(t testing.TB, columns ...[]float64) *swing.Session {
	t.Helper()
	swings := make([]*swing.Analysis, len(columns[0]))
	for i := range swings {
		swings[i] = &swing.Analysis{BodyWeight: 750}
		for k, c := range columns {
			swings[i].Measures = append(swings[i].Measures, swing.Measure{
				Name: fmt.Sprintf("m%d", k), Label: fmt.Sprintf("measure %d", k), Value: c[i], SD: math.NaN(), Unit: "N", Time: math.NaN(),
			})
		}
	}
	return session(t, swings)
}

func close(a, b, tol float64) bool {
	return math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) <= tol
}
