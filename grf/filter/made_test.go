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

// table hands samples over that lie in memory.
type table struct {
	data     []float64
	channels int
	asked    int
}

func (s *table) Samples(block []float64, at int) {
	s.asked++
	copy(block, s.data[at*s.channels:])
}

// Samples that are made on the way give what the same ones in memory give, digit
// by digit, whatever the policies, and the same errors.
func TestInterleavedFrom(t *testing.T) {
	r := rand.New(rand.NewSource(5))
	nan := math.NaN()
	for _, opt := range []filter.ZeroPhaseOptions{
		{}, {Order: 4}, {Order: 6, Pad: filter.NoPad}, {Short: filter.ShortReduce},
		{NaN: filter.NaNSegments, Short: filter.ShortReduce}, {NaN: filter.NaNInterpolate},
	} {
		opt.Cutoff, opt.Rate = 50, 1000
		z, err := filter.NewZeroPhase(opt)
		if err != nil {
			t.Fatal(err)
		}
		var dst []float64
		for _, channels := range []int{1, 3, 6, 12, 13} {
			for _, samples := range []int{1, 2, 40, 171, 1000} {
				for _, bad := range []float64{0, nan, math.Inf(1), -1e151} {
					data := make([]float64, samples*channels)
					for i := range data {
						data[i] = 800 + 200*r.NormFloat64()
					}
					if bad != 0 {
						data[r.Intn(len(data))] = bad
					}
					want, wantErr := z.Interleaved(nil, data, channels)
					got, err := z.InterleavedFrom(dst, &table{data: data, channels: channels}, samples, channels)
					// Two faults at once may be told in another order.
					if errors.Is(wantErr, filter.ErrTooShort) || errors.Is(err, filter.ErrTooShort) {
						if err == nil || wantErr == nil {
							t.Errorf("%+v, %d samples, %d channels, bad %g: %v, want %v", opt, samples, channels, bad, err, wantErr)
						}
						continue
					}
					if (err == nil) != (wantErr == nil) || err != nil && err.Error() != wantErr.Error() {
						t.Errorf("%+v, %d samples, %d channels, bad %g: %v, want %v", opt, samples, channels, bad, err, wantErr)
					}
					if !slices.EqualFunc(got, want, func(a, b float64) bool { return a == b || a != a && b != b }) {
						t.Errorf("%+v, %d samples, %d channels, bad %g: other digits", opt, samples, channels, bad)
					}
					if got != nil {
						dst = got
					}
				}
			}
		}
	}
}

func TestInterleavedFromNothing(t *testing.T) {
	z, err := filter.NewZeroPhase(filter.ZeroPhaseOptions{Cutoff: 50, Rate: 1000})
	if err != nil {
		t.Fatal(err)
	}
	var s table
	if _, err := z.InterleavedFrom(nil, &s, 0, 2); !errors.Is(err, grf.ErrNoData) {
		t.Error(err)
	}
	if _, err := z.InterleavedFrom(nil, &s, -1, 2); !errors.Is(err, grf.ErrNoData) {
		t.Error(err)
	}
	if _, err := z.InterleavedFrom(nil, &s, 100, 0); !errors.Is(err, grf.ErrChannels) {
		t.Error(err)
	}
	if s.asked != 0 {
		t.Errorf("asked %d times for nothing", s.asked)
	}
}
