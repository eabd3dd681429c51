package live_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"example.com/momentarm/phase"
	"example.com/momentarm/phase/live"
	"example.com/momentarm/validation/synth"
)

// readied returns a chain that knows plates and golfer, the sequence number that
// comes next, and a second of samples of the golfer's stillness.
func readied(t testing.TB) (*live.Chain, uint64, [][]float64) {
	t.Helper()
	r := newRig(t)
	_, _, samples := r.take(t, synth.Config{Address: 4}, 1)
	c := chain(t, r.config())
	c.Zero()
	push(t, c, 0, samples[:1500])
	if err := c.Weigh(); err != nil {
		t.Fatal(err)
	}
	push(t, c, 4200, samples[4200:6000])
	if c.State() != live.Ready {
		t.Fatalf("%v: %v", c.State(), c.Refusal())
	}
	return c, 6000, samples[6000:7000]
}

// BenchmarkChain times one sample of two plates. Beside the mean it reports the
// best second of samples ("best-ns/op"), which other work on the machine disturbs
// least.
func BenchmarkChain(b *testing.B) {
	c, next, samples := readied(b)
	b.ReportAllocs()
	i, best := 0, math.Inf(1)
	begun := time.Now()
	var f live.Frame
	for b.Loop() {
		if err := c.PushTo(&f, &live.Sample{Sequence: next, Channels: samples[i]}); err != nil {
			b.Fatal(err)
		}
		next++
		if i++; i == len(samples) {
			i = 0
			now := time.Now()
			best = min(best, float64(now.Sub(begun).Nanoseconds())/float64(len(samples)))
			begun = now
		}
	}
	if !math.IsInf(best, 0) {
		b.ReportMetric(best, "best-ns/op")
	}
}

func TestSteadyStateAllocatesNothing(t *testing.T) {
	c, next, samples := readied(t)
	i := 0
	var f live.Frame
	if n := testing.AllocsPerRun(40_000, func() {
		f, _ = c.Push(live.Sample{Sequence: next, Stamp: float64(next) / rate, Channels: samples[i%len(samples)]})
		next++
		i++
	}); n != 0 {
		t.Errorf("%g allocations per sample", n)
	}
	if f.State != live.Ready || f.Motion != phase.Ready {
		t.Errorf("%v, %v", f.State, f.Motion)
	}
	if n := testing.AllocsPerRun(500, func() { // every second sample is lost
		f, _ = c.Push(live.Sample{Sequence: next, Channels: samples[i%len(samples)]})
		next += 2
		i += 2
	}); n != 0 {
		t.Errorf("%g allocations per sample with gaps", n)
	}
	if !f.Health.Has(live.Bridged) {
		t.Error(f.Health)
	}
}

// BenchmarkBlocks is BenchmarkChain for packets of ten samples, as devices send them,
// into frames that are used again. The figures are for one sample.
func BenchmarkBlocks(b *testing.B) {
	c, next, samples := readied(b)
	const packet = 10
	var blocks [][]float64
	for i := 0; i+packet <= len(samples); i += packet {
		blocks = append(blocks, slices.Concat(samples[i:i+packet]...))
	}
	var frames []live.Frame
	b.ReportAllocs()
	i, best := 0, math.Inf(1)
	begun := time.Now()
	for b.Loop() {
		var err error
		if frames, err = c.PushBlock(frames, live.Sample{Sequence: next, Channels: blocks[i]}); err != nil {
			b.Fatal(err)
		}
		next += packet
		if i++; i == len(blocks) {
			i = 0
			now := time.Now()
			best = min(best, float64(now.Sub(begun).Nanoseconds())/float64(len(samples)))
			begun = now
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/packet, "ns/sample")
	if !math.IsInf(best, 0) {
		b.ReportMetric(best, "best-ns/op")
	}
}
