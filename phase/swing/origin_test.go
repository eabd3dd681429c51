package swing_test

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// A laboratory whose origin is somewhere else tells the same measures, with the same
// standard deviations, and the same warnings. Places are counted in its axes.
func TestMeasuresDoNotDependOnTheOrigin(t *testing.T) {
	for seed := uint64(1); seed <= 4; seed++ {
		s := synthetic(t, synth.Random(seed))
		rec := synth.Disturbance{Seed: seed, ForceNoise: 2, MomentNoise: 0.3}.Apply(s.Recording())
		work := func(p r3.Vec) *swing.Analysis {
			moved := *rec
			moved.Lead, moved.Trail = nil, nil
			for i := range rec.Lead {
				moved.Lead = append(moved.Lead, rec.Lead[i].MovedTo(p))
				moved.Trail = append(moved.Trail, rec.Trail[i].MovedTo(p))
			}
			a, err := swing.Analyse(&moved, swing.Options{Errors: swing.Errors{Force: 2, Moment: 0.5, Gain: 0.005, Place: 0.002}})
			if err != nil {
				t.Fatalf("seed %d, origin at %v: %v", seed, p, err)
			}
			return a
		}
		want := work(r3.Vec{})
		for _, p := range []r3.Vec{{Y: 1.2}, {X: -5, Y: -3}} {
			got := work(p)
			if len(got.Measures) != len(want.Measures) {
				t.Fatalf("seed %d, origin at %v: %d measures, want %d", seed, p, len(got.Measures), len(want.Measures))
			}
			for i, w := range want.Measures {
				g := got.Measures[i]
				near := func(a, b float64) bool {
					return math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) <= 1e-5*(1+math.Abs(b))
				}
				if g.Name != w.Name || !near(g.Value, w.Value) || !near(g.SD, w.SD) || !near(g.Time, w.Time) {
					t.Errorf("seed %d, origin at %v: %s is %g ± %g at %g s, want %g ± %g at %g s", seed, p, g.Name, g.Value, g.SD, g.Time, w.Value, w.SD, w.Time)
				}
			}
			if g, w := codes(got.Warnings), codes(want.Warnings); !slices.Equal(g, w) {
				t.Errorf("seed %d, origin at %v: warnings %v, want %v", seed, p, g, w)
			}
		}
	}
}
