package batch_test

import (
	"testing"

	"example.com/momentarm/phase/batch"
)

// The figures are ns/sample: one instant of both plates, twelve channels.
func perSample(b *testing.B, samples int) {
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(samples), "ns/sample")
}

func benchmarkRun(b *testing.B, n int) {
	c, in := rig(b, n, 1)
	var r batch.Result
	b.ReportAllocs()
	for b.Loop() {
		if err := c.Run(&r, in); err != nil {
			b.Fatal(err)
		}
	}
	perSample(b, n)
}

func BenchmarkRun5s(b *testing.B)  { benchmarkRun(b, 5*rate) }
func BenchmarkRun60s(b *testing.B) { benchmarkRun(b, 60*rate) }
