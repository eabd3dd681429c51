//go:build !race

package filter_test

import (
	"math"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
)

// The race detector makes sync.Pool forget at random, so this runs without it.
func TestZeroPhaseAllocatesNothing(t *testing.T) {
	for _, policy := range []filter.NaNPolicy{filter.NaNError, filter.NaNSegments, filter.NaNInterpolate} {
		z := zeroPhase(t, filter.ZeroPhaseOptions{Order: 4, Cutoff: 50, Rate: 1000, NaN: policy})
		x := noise(6*500, 1)
		if policy != filter.NaNError {
			x[6*250] = math.NaN()
		}
		ws := wrenchesOf(x)
		dst := make([]float64, len(x))
		dstW := make([]grf.Wrench, len(ws))
		must := func(err error) {
			if err != nil {
				t.Fatal(err)
			}
		}
		allocates(t, "Interleaved", func() { _, err := z.Interleaved(dst, x, 6); must(err) })
		made := &table{data: x, channels: 6}
		allocates(t, "InterleavedFrom", func() { _, err := z.InterleavedFrom(dst, made, 500, 6); must(err) })
		allocates(t, "Wrenches", func() { _, err := z.Wrenches(dstW, ws); must(err) })
	}
}
