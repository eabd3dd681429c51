package main

import (
	"math"
	"runtime"
	"runtime/debug"
	"strconv"
	"sync/atomic"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase/batch"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

const rate = 1000

var started = time.Now()

// cost returns the processor time that f takes, the least of three measurements
// of at least 50 ms each, in ns.
func cost(f func() error) (float64, error) {
	least := math.Inf(1)
	for range 3 {
		from, n := processorTime(), 0
		for n == 0 || processorTime()-from < 50*time.Millisecond {
			if err := f(); err != nil {
				return 0, err
			}
			n++
		}
		least = min(least, float64(processorTime()-from)/float64(n))
	}
	return least, nil
}

// chainCost times package batch on a recording of so many seconds.
func chainCost(args []string) (any, error) {
	seconds, err := strconv.ParseFloat(args[0], 64)
	if err != nil {
		return nil, err
	}
	chain, in, err := made(int(seconds * rate))
	if err != nil {
		return nil, err
	}
	var r batch.Result
	ns, err := cost(func() error { return chain.Run(&r, in) })
	if err != nil {
		return nil, err
	}
	n := len(in.Channels[0])
	r = batch.Result{}
	kept, total, err := heap(func() error { return chain.Run(&r, in) })
	runtime.KeepAlive(&r)
	return map[string]any{"ns": ns, "samples": n, "kept": kept, "total": total, "measured": 12 * 8 * n}, err
}

// heap tells how many bytes are in use after f that were not before, and how
// many were asked for in between.
func heap(f func() error) (kept, total uint64, err error) {
	var before, after runtime.MemStats
	runtime.GC()
	runtime.ReadMemStats(&before)
	if err := f(); err != nil {
		return 0, 0, err
	}
	runtime.GC()
	runtime.ReadMemStats(&after)
	return after.HeapAlloc - before.HeapAlloc, after.TotalAlloc - before.TotalAlloc, nil
}

// made is two plates in N and N·m and somebody who sways on them.
func made(n int) (*batch.Chain, batch.Input, error) {
	var plates []*grf.Plate
	for _, y := range []float64{-0.25, 0.25} {
		p, err := grf.NewPlate(grf.PlateConfig{
			Type:    grf.TypeMoment,
			Corners: [4]r3.Vec{{X: 0.3, Y: y + 0.25}, {X: 0.3, Y: y - 0.25}, {X: -0.3, Y: y - 0.25}, {X: -0.3, Y: y + 0.25}},
			Sense:   grf.Action,
		})
		if err != nil {
			return nil, batch.Input{}, err
		}
		plates = append(plates, p)
	}
	axes, err := grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{Y: 1}, r3.Vec{}, grf.RightHanded)
	if err != nil {
		return nil, batch.Input{}, err
	}
	chain, err := batch.New(batch.Config{Rate: rate, Plates: plates, Axes: axes})
	if err != nil {
		return nil, batch.Input{}, err
	}
	channels := make([][]float64, 12)
	for c := range channels {
		channels[c] = make([]float64, n)
		for i := range channels[c] {
			t := float64(i) / rate
			channels[c][i] = 30 * math.Sin(2*math.Pi*(0.5+0.1*float64(c))*max(0, t-0.5))
			if c%6 == 2 {
				channels[c][i] += 392
			}
		}
	}
	return chain, batch.Input{Channels: channels, Rest: com.Window{From: 0, To: 0.4}, Height: 0.95}, nil
}

// swingCost times swing.Analyse on a recording of so many swings, and measures
// its memory.
func swingCost(args []string) (any, error) {
	n, err := strconv.Atoi(args[0])
	if err != nil {
		return nil, err
	}
	swings := make([]*synth.Swing, n)
	for i := range swings {
		if i > 0 && i%4 != 0 {
			swings[i] = swings[i-1] // making one takes longer than analysing it
			continue
		}
		c := synth.Random(uint64(1 + i))
		c.Mass, c.Rate = 80, rate
		if swings[i], err = synth.New(c); err != nil {
			return nil, err
		}
	}
	rec, _, err := synth.Join(2, swings...)
	if err != nil {
		return nil, err
	}
	if len(args) > 1 {
		seconds, err := strconv.ParseFloat(args[1], 64)
		if err != nil {
			return nil, err
		}
		rec = synth.Cut(rec, rec.Start, rec.Start+seconds)
	}
	ns, err := cost(func() error {
		_, err := swing.Analyse(rec, swing.Options{})
		return err
	})
	if err != nil {
		return nil, err
	}
	peak, kept, total, err := memory(rec)
	if err != nil {
		return nil, err
	}
	return map[string]any{
		"ns": ns, "samples": rec.Len(), "peak": peak, "kept": kept, "total": total,
		"measured": 12 * 8 * rec.Len(),
	}, nil
}

// memory tells by how many bytes the heap grows at most while a recording is
// analysed, how much of it the analysis keeps, and how much was asked for in
// all. The collector runs early and often, so that the peak is of what is used.
func memory(rec *grf.Recording) (peak, kept, total uint64, err error) {
	defer debug.SetGCPercent(debug.SetGCPercent(2))
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	var most atomic.Uint64
	stop, done := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(done)
		var m runtime.MemStats
		for {
			select {
			case <-stop:
				return
			case <-time.After(500 * time.Microsecond):
				runtime.ReadMemStats(&m)
				most.Store(max(most.Load(), m.HeapAlloc))
			}
		}
	}()
	var a *swing.Analysis
	kept, total, err = heap(func() error {
		a, err = swing.Analyse(rec, swing.Options{})
		return err
	})
	close(stop)
	<-done
	runtime.KeepAlive(a)
	runtime.KeepAlive(rec)
	return max(kept, most.Load()-min(most.Load(), m.HeapAlloc)), kept, total, err
}
