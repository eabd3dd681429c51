package filter_test

import (
	"math"
	"math/rand"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
	"gonum.org/v1/gonum/spatial/r3"
)

func zeroPhase(t testing.TB, opt filter.ZeroPhaseOptions) *filter.ZeroPhase {
	t.Helper()
	z, err := filter.NewZeroPhase(opt)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

func causal(t testing.TB, opt filter.CausalOptions) *filter.Causal {
	t.Helper()
	c, err := filter.NewCausal(opt)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// noise returns n values of the size of ground forces.
func noise(n int, seed int64) []float64 {
	r := rand.New(rand.NewSource(seed))
	x := make([]float64, n)
	for i := range x {
		x[i] = 800 + 200*r.NormFloat64()
	}
	return x
}

// channel picks one channel out of interleaved ones.
func channel(x []float64, c, channels int) []float64 {
	var y []float64
	for i := c; i < len(x); i += channels {
		y = append(y, x[i])
	}
	return y
}

func wrenchesOf(x []float64) []grf.Wrench {
	var w []grf.Wrench
	for i := 0; i+5 < len(x); i += 6 {
		w = append(w, grf.Wrench{
			Force:  r3.Vec{X: x[i], Y: x[i+1], Z: x[i+2]},
			Moment: r3.Vec{X: x[i+3], Y: x[i+4], Z: x[i+5]},
		})
	}
	return w
}

func valuesOf(ws []grf.Wrench) []float64 {
	var x []float64
	for _, w := range ws {
		x = append(x, w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z)
	}
	return x
}

// worst returns the largest difference, relative to the largest magnitude of
// want. NaN must stand against NaN; otherwise the result is Inf.
func worst(got, want []float64) float64 {
	if len(got) != len(want) {
		return math.Inf(1)
	}
	diff, size := 0.0, 0.0
	for i := range want {
		if math.IsNaN(got[i]) != math.IsNaN(want[i]) {
			return math.Inf(1)
		}
		if math.IsNaN(want[i]) {
			continue
		}
		diff = max(diff, math.Abs(got[i]-want[i]))
		size = max(size, math.Abs(want[i]))
	}
	if diff == 0 {
		return 0
	}
	return diff / size
}

// same reports whether two series agree bit by bit, NaN with NaN.
func same(a, b []float64) bool { return worst(a, b) == 0 }

func isNaN(x float64) bool { return math.IsNaN(x) }
