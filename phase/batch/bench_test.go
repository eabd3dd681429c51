package batch_test

import (
	"fmt"
	"sync"
	"testing"

	"example.com/momentarm/phase/batch"
)

// The figures are ns/sample: one instant of both plates, twelve channels.
func perSample(b *testing.B, samples int) {
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(samples), "ns/sample")
}

var lengths = []struct {
	name string
	n    int
}{{"5s", 5 * rate}, {"60s", 60 * rate}}

// One recording, the result reused.
func BenchmarkRun(b *testing.B) {
	for _, l := range lengths {
		b.Run(l.name, func(b *testing.B) {
			c, in := rig(b, l.n, 1)
			var r batch.Result
			b.ReportAllocs()
			for b.Loop() {
				if err := c.Run(&r, in); err != nil {
					b.Fatal(err)
				}
			}
			perSample(b, l.n)
		})
	}
}

// Everything that a first run has to ask the system for.
func BenchmarkRunFresh(b *testing.B) {
	for _, l := range lengths {
		b.Run(l.name, func(b *testing.B) {
			c, in := rig(b, l.n, 1)
			b.ReportAllocs()
			for b.Loop() {
				if err := c.Run(new(batch.Result), in); err != nil {
					b.Fatal(err)
				}
			}
			perSample(b, l.n)
		})
	}
}

// Two hundred recordings of 5 s, more than fits into any cache, by one and by two
// goroutines.
func BenchmarkMany(b *testing.B) {
	const recordings, n = 200, 5 * rate
	c, in := rig(b, n, 1)
	inputs := make([]batch.Input, recordings)
	for k := range inputs {
		inputs[k] = in
		inputs[k].Channels = nil
		for _, ch := range in.Channels {
			inputs[k].Channels = append(inputs[k].Channels, append([]float64(nil), ch...))
		}
	}
	for _, workers := range []int{1, 2} {
		b.Run(fmt.Sprintf("%dcore", workers), func(b *testing.B) {
			results := make([]batch.Result, workers)
			for b.Loop() {
				next := make(chan int)
				var pool sync.WaitGroup
				for w := range workers {
					pool.Add(1)
					go func() {
						defer pool.Done()
						for k := range next {
							if err := c.Run(&results[w], inputs[k]); err != nil {
								b.Error(err)
							}
						}
					}()
				}
				for k := range inputs {
					next <- k
				}
				close(next)
				pool.Wait()
			}
			perSample(b, recordings*n)
		})
	}
}

// Each step over the whole recording; the last one is all behind the filter,
// block by block.
func BenchmarkStage(b *testing.B) {
	for _, l := range lengths {
		c, in := rig(b, l.n, 1)
		var r batch.Result
		for _, s := range c.Stages(&r, in) {
			b.Run(s.Name+"/"+l.name, func(b *testing.B) {
				for b.Loop() {
					s.Do()
				}
				perSample(b, l.n)
			})
		}
	}
}
