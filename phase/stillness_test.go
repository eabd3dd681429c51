package phase

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat"

	"example.com/momentarm/grf"
)

// The sums that run along must say what each window says by itself: with lost
// samples, without horizontal forces, and when they are set up anew.
func TestStillnessOfEachWindow(t *testing.T) {
	const n = 20
	rng := rand.New(rand.NewPCG(1, 2))
	s := newStillness(n)
	var kept []grf.Wrench
	lost := 0
	for i := range 200 * n {
		w := grf.Wrench{
			Force:  r3.Vec{X: 5 + rng.NormFloat64(), Y: -3 + rng.NormFloat64(), Z: 800 + 5*rng.NormFloat64()},
			Moment: r3.Vec{X: 4000 + rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()},
		}
		if i/(50*n)%2 == 1 { // a mat
			w = w.WithoutHorizontal()
		}
		if rng.IntN(10*n) == 0 {
			w = grf.NaN()
			lost++
		}
		kept = append(kept, w)
		s.push(kept)

		var squares, mean float64
		recent := kept[max(0, len(kept)-n):]
		over := grf.Wrench{}
		for _, w := range recent {
			over = over.Add(w)
		}
		p := r3.Vec{X: -over.Moment.Y / over.Force.Z, Y: over.Moment.X / over.Force.Z} // centre of pressure
		for c, f := range []func(grf.Wrench) float64{
			func(w grf.Wrench) float64 { return w.Force.Z },
			func(w grf.Wrench) float64 { return w.Force.X },
			func(w grf.Wrench) float64 { return w.Force.Y },
			func(w grf.Wrench) float64 { return 2 * (w.Moment.X - p.Y*w.Force.Z) },
			func(w grf.Wrench) float64 { return 2 * (w.Moment.Y + p.X*w.Force.Z) },
		} {
			var x []float64
			for _, w := range recent {
				v := f(w)
				if (c == 1 || c == 2) && math.IsNaN(v) {
					v = 0
				}
				x = append(x, v)
			}
			m, variance := stat.MeanVariance(x, nil)
			squares += variance
			if c == 0 {
				mean = m
			}
		}
		if want := math.Sqrt(squares) / mean; i < n-1 || math.IsNaN(want) {
			if v := s.variation(); !math.IsNaN(v) {
				t.Fatalf("sample %d: variation %g of an incomplete window", i, v)
			}
		} else if v := s.variation(); !(math.Abs(v-want) <= 1e-9) {
			t.Fatalf("sample %d: variation %g, want %g", i, v, want)
		}
	}
	if lost == 0 {
		t.Error("no sample was lost")
	}
}
