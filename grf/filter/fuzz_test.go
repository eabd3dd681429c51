package filter_test

import (
	"encoding/binary"
	"errors"
	"math"
	"slices"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
)

// floatsOf reads the fuzzer's bytes as numbers: eight bytes each, so that NaN,
// infinities, zeros and huge values occur.
func floatsOf(data []byte) []float64 {
	x := make([]float64, len(data)/8)
	for i := range x {
		x[i] = math.Float64frombits(binary.LittleEndian.Uint64(data[8*i:]))
	}
	return x
}

func bytesOf(x ...float64) []byte {
	var data []byte
	for _, v := range x {
		data = binary.LittleEndian.AppendUint64(data, math.Float64bits(v))
	}
	return data
}

func seeds(f *testing.F) {
	nan, inf := math.NaN(), math.Inf(1)
	f.Add(bytesOf(), 50.0, 1000.0, byte(0))
	f.Add(bytesOf(800), 50.0, 1000.0, byte(0xff))
	f.Add(bytesOf(noise(60, 1)...), 200.0, 1000.0, byte(0x21))
	f.Add(bytesOf(1, 2, nan, 4, 5, nan, nan, 8, 9, 10), 499.0, 1000.0, byte(0x17))
	f.Add(bytesOf(0, 0, 0, math.Copysign(0, -1), 5e-324, 0, 0, 0), 1e-3, 1000.0, byte(0x15))
	f.Add(bytesOf(1, inf, 3), 10.0, 100.0, byte(0x16))
	f.Add(bytesOf(1e150, -1e150, 1e150, -1e150, 1e150, 0, 0, -1e150), 30.0, 100.0, byte(0x45))
	f.Add(bytesOf(1e308, -1e308), 30.0, 100.0, byte(0x05))
}

// FuzzFilters: every result is finite where the input was measured and NaN
// where it was not, or there is an error and no result; in place and out of
// place, whole and in blocks, the digits are the same.
func FuzzFilters(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, data []byte, cutoff, rate float64, choice byte) {
		if len(data) > 8*4000 {
			return
		}
		x := floatsOf(data)
		policy := filter.NaNPolicy(choice % 3)
		short := filter.ShortPolicy(choice >> 2 % 2)
		order := 2 + 2*int(choice>>4%8)
		channels := 1 + int(choice>>3%4)
		opt := filter.ZeroPhaseOptions{Cutoff: cutoff, Rate: rate, Order: order, NaN: policy, Short: short}
		z, err := filter.NewZeroPhase(opt)
		if err != nil {
			if !errors.Is(err, filter.ErrCutoff) && !errors.Is(err, grf.ErrRate) {
				t.Fatalf("%+v: %v", opt, err)
			}
			return
		}
		before := slices.Clone(x)
		y, err := z.Interleaved(nil, x, channels)
		if !sameBits(x, before) {
			t.Fatal("src was changed")
		}
		inPlace, err2 := z.Interleaved(x, x, channels)
		if (err == nil) != (err2 == nil) {
			t.Fatalf("in place %v, otherwise %v", err2, err)
		}
		if err != nil {
			if y != nil || !sameBits(x, before) {
				t.Fatalf("a result beside the error %v", err)
			}
		} else {
			if !same(y, inPlace) {
				t.Fatal("in place differs")
			}
			checkFinite(t, y, before, channels)
		}

		if policy == filter.NaNInterpolate {
			return
		}
		c, err := filter.NewCausal(filter.CausalOptions{Cutoff: cutoff, Rate: rate, Order: order, Channels: channels, NaN: policy})
		if err != nil {
			t.Fatal(err)
		}
		x = before[:len(before)/channels*channels]
		want := c.Push(nil, x)
		reason := c.Err()
		c.Reset()
		if got := pushBlocks(c, x, 0); !same(got, want) || (c.Err() == nil) != (reason == nil) {
			t.Fatalf("blocks differ: %v, %v", c.Err(), reason)
		}
		if reason == nil {
			checkFinite(t, want, x, channels)
		}
	})
}

// checkFinite wants NaN exactly in the samples that were missing.
func checkFinite(t *testing.T, y, x []float64, channels int) {
	t.Helper()
	for i := 0; i < len(x); i += channels {
		missing := slices.ContainsFunc(x[i:i+channels], math.IsNaN)
		for c := range channels {
			if v := y[i+c]; math.IsNaN(v) != missing || math.IsInf(v, 0) {
				t.Fatalf("sample %d, channel %d: %g from %v", i/channels, c, v, x[i:i+channels])
			}
		}
	}
}

func sameBits(a, b []float64) bool {
	return slices.EqualFunc(a, b, func(x, y float64) bool { return math.Float64bits(x) == math.Float64bits(y) })
}

// FuzzResample: a result has the length of the clock, is finite inside the
// measured times or NaN, and NaN outside; or there is an error and no result.
func FuzzResample(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, data []byte, start, rate float64, choice byte) {
		if len(data) > 8*2000 {
			return
		}
		v := floatsOf(data)
		times, x := v[:len(v)/2], v[len(v)/2:len(v)/2*2]
		if choice&1 != 0 { // stamps that grow, or nothing would ever be tried
			for i := range times {
				times[i] = start + float64(i)/1000
			}
		}
		to := filter.Clock{Start: start, Rate: rate, N: 1 + 7*int(choice)}
		opt := filter.ResampleOptions{
			Kind:      filter.Interpolation(choice >> 1 % 2),
			AntiAlias: filter.AntiAlias(choice >> 2 % 2),
			Short:     filter.ShortPolicy(choice >> 3 % 2),
			MaxGap:    float64(choice>>4) / 1000,
			Jitter:    float64(choice>>5) / 10,
		}
		got, err := filter.Resample(nil, to, times, x, opt)
		if err != nil {
			if got != nil {
				t.Fatalf("a result beside the error %v", err)
			}
			return
		}
		if len(got) != to.N {
			t.Fatalf("%d samples, want %d", len(got), to.N)
		}
		for i, y := range got {
			if math.IsInf(y, 0) {
				t.Fatalf("infinite at sample %d", i)
			}
			beyond := max(to.Time(i)-times[len(times)-1], times[0]-to.Time(i))
			if beyond*to.Rate > 0.01 && beyond > 1e-9*math.Abs(to.Time(i)) && !math.IsNaN(y) {
				t.Fatalf("%g at %g s, outside %g … %g s", y, to.Time(i), times[0], times[len(times)-1])
			}
		}
	})
}

// FuzzChooseCutoff: a choice is finite and inside the cut-offs, or there is an
// error.
func FuzzChooseCutoff(f *testing.F) {
	seeds(f)
	f.Fuzz(func(t *testing.T, data []byte, highest, rate float64, choice byte) {
		if len(data) > 8*500 {
			return
		}
		r, err := filter.ChooseCutoff(floatsOf(data), rate, filter.ResidualOptions{
			Highest: highest, Count: 12 + int(choice>>4), Short: filter.ShortReduce, Straight: 0.5,
		})
		if err != nil {
			if r != nil {
				t.Fatalf("a result beside the error %v", err)
			}
			return
		}
		if !(r.Cutoff > 0 && r.Cutoff <= r.Cutoffs[len(r.Cutoffs)-1] && r.Noise > 0 && !math.IsInf(r.Noise, 0) && r.R2 >= 0.5) {
			t.Fatalf("%+v", *r)
		}
	})
}
