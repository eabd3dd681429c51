package filter_test

import (
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
	"gonum.org/v1/gonum/spatial/r3"
)

func allocates(t *testing.T, name string, f func()) {
	t.Helper()
	if n := testing.AllocsPerRun(200, f); n != 0 {
		t.Errorf("%s allocates %g times", name, n)
	}
}

// What runs live allocates nothing, in steady state and at gaps.
func TestCausalAllocatesNothing(t *testing.T) {
	six := causal(t, filter.CausalOptions{Order: 4, Cutoff: 50, Rate: 1000, Channels: 6, NaN: filter.NaNSegments})
	three := causal(t, filter.CausalOptions{Cutoff: 50, Rate: 1000, Channels: 3})
	row := noise(6, 1)
	block := noise(6*100, 1)
	dst := make([]float64, len(block))
	w := wrenchesOf(row)[0]
	v := r3.Vec{X: 1, Y: 2, Z: 3}
	allocates(t, "Push of a sample", func() { six.Push(row, row) })
	allocates(t, "Push of a block", func() { six.Push(dst, block) })
	allocates(t, "PushWrench", func() { w = six.PushWrench(w) })
	allocates(t, "PushWrench of NaN", func() { six.PushWrench(grf.NaN()) })
	allocates(t, "PushVector", func() { v = three.PushVector(v) })
	allocates(t, "Prime and Reset", func() {
		six.Reset()
		if six.Prime(row) != nil {
			t.Fatal("not primed")
		}
	})
	allocates(t, "Delay", func() { six.Delay() })
}

// Nor does a mix.
func TestMixAllocatesNothing(t *testing.T) {
	m, err := filter.NewMix(6, make([]float64, 48))
	if err != nil {
		t.Fatal(err)
	}
	series := make([][]float64, 8)
	for j := range series {
		series[j] = make([]float64, 20)
	}
	dst, zero := make([]float64, 120), make([]float64, 8)
	allocates(t, "Apply", func() { m.Apply(dst, 6, series, zero, 0, 20) })
}
