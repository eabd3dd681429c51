package filter_test

import (
	"testing"

	"example.com/momentarm/grf/filter"
)

// Two plates, 5 s at 1000 Hz, order 4 in each pass, the pad that SciPy takes.
func BenchmarkZeroPhase5s12(b *testing.B) {
	const samples, channels = 5000, 12
	s, err := filter.Butterworth(4, 50, 1000)
	if err != nil {
		b.Fatal(err)
	}
	z, err := filter.NewZeroPhaseSections(s, filter.ZeroPhaseOptions{Pad: filter.ReferencePad(s)})
	if err != nil {
		b.Fatal(err)
	}
	x := noise(samples*channels, 1)
	dst := make([]float64, len(x))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := z.Interleaved(dst, x, channels); err != nil {
			b.Fatal(err)
		}
	}
	perSample(b, samples)
}

func BenchmarkZeroPhaseWrenches5s(b *testing.B) {
	const samples = 5000
	z := zeroPhase(b, filter.ZeroPhaseOptions{Order: 4, Cutoff: 50, Rate: 1000})
	ws := wrenchesOf(noise(samples*6, 1))
	dst, err := z.Wrenches(nil, ws)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := z.Wrenches(dst, ws); err != nil {
			b.Fatal(err)
		}
	}
	perSample(b, samples)
}

func BenchmarkZeroPhaseOneChannel5s(b *testing.B) {
	const samples = 5000
	z := zeroPhase(b, filter.ZeroPhaseOptions{Cutoff: 50, Rate: 1000})
	x := noise(samples, 1)
	dst := make([]float64, len(x))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := z.Apply(dst, x); err != nil {
			b.Fatal(err)
		}
	}
	perSample(b, samples)
}

func BenchmarkCausalPush12(b *testing.B) {
	c := causal(b, filter.CausalOptions{Order: 4, Cutoff: 50, Rate: 1000, Channels: 12})
	x := noise(12*1024, 1)
	dst := make([]float64, 12)
	b.ReportAllocs()
	for i := 0; b.Loop(); i = (i + 12) % len(x) {
		dst = c.Push(dst, x[i:i+12])
	}
}

func BenchmarkCausalPushWrench(b *testing.B) {
	c := causal(b, filter.CausalOptions{Cutoff: 50, Rate: 1000, Channels: 6})
	ws := wrenchesOf(noise(6*1024, 1))
	b.ReportAllocs()
	for i := 0; b.Loop(); i = (i + 1) % len(ws) {
		c.PushWrench(ws[i])
	}
}

func BenchmarkResampleCubic(b *testing.B) {
	const samples = 5000
	from := filter.Clock{Rate: 200, N: samples / 5}
	to := filter.Clock{Rate: 1000, N: samples - 5}
	times, x := from.Times(nil), noise(from.N, 1)
	var dst []float64
	for b.Loop() {
		var err error
		if dst, err = filter.Resample(dst, to, times, x, filter.ResampleOptions{Kind: filter.Cubic}); err != nil {
			b.Fatal(err)
		}
	}
	perSample(b, samples)
}

func perSample(b *testing.B, samples int) {
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(samples), "ns/sample")
}
