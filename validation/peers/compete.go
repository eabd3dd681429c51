package main

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"sync"
	"time"

	"example.com/momentarm/phase/batch"
)

// work is a number of recordings of one length.
type work struct {
	name        string
	samples     int // of each recording
	recordings  int
	repetitions int // in one round

	inputs []batch.Input
	rows   []float64 // unfiltered, for the filter alone
}

// make makes the recordings up and writes them for the other side.
func (w *work) make(s *setup, seed uint64, folder string) error {
	f, err := os.Create(filepath.Join(folder, w.name+".bin"))
	if err != nil {
		return err
	}
	defer f.Close()
	out := bufio.NewWriterSize(f, 1<<20)
	w.inputs = nil
	for k := range w.recordings {
		channels, err := s.swing(seed+uint64(k), w.samples)
		if err != nil {
			return err
		}
		w.inputs = append(w.inputs, s.input(channels))
		for _, ch := range channels {
			var b [8]byte
			for _, v := range ch {
				binary.LittleEndian.PutUint64(b[:], math.Float64bits(v))
				out.Write(b[:])
			}
		}
	}
	w.rows = nil
	for i := range w.samples {
		for _, ch := range w.inputs[0].Channels {
			w.rows = append(w.rows, ch[i])
		}
	}
	return out.Flush()
}

// here is this side.
type here struct {
	chain   *batch.Chain
	results []batch.Result // one for each worker
	rows    []float64

	begin     time.Time
	processor bool // whether the processor's time counts, or the clock on the wall
}

// run runs all recordings of w, by as many workers.
func (h *here) run(w *work, workers int) error {
	if workers == 1 {
		for _, in := range w.inputs {
			if err := h.chain.Run(&h.results[0], in); err != nil {
				return err
			}
		}
		return nil
	}
	next := make(chan batch.Input)
	errs := make([]error, workers)
	var pool sync.WaitGroup
	for k := range workers {
		pool.Add(1)
		go func() {
			defer pool.Done()
			for in := range next {
				if err := h.chain.Run(&h.results[k], in); err != nil {
					errs[k] = err
				}
			}
		}()
	}
	for _, in := range w.inputs {
		next <- in
	}
	close(next)
	pool.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

func (h *here) filter(w *work) (err error) {
	h.rows, err = h.chain.Filter().Interleaved(h.rows, w.rows, 12)
	return err
}

// warm is how long each side works before its times count, every time that it is
// its turn. A core that has waited for the other side begins slowly, and the
// shorter the work the more of it would be done before it is up to speed.
const warm = 100 * time.Millisecond

// timed returns the times of repetitions of some work, ns.
func (h *here) timed(repetitions int, do func() error) ([]float64, error) {
	for begin := time.Now(); time.Since(begin) < warm; {
		if err := do(); err != nil {
			return nil, err
		}
	}
	var times []float64
	for range repetitions {
		begin := h.now()
		if err := do(); err != nil {
			return nil, err
		}
		times = append(times, float64(h.now()-begin))
	}
	return times, nil
}

// now returns the time of the clock that was chosen, ns.
func (h *here) now() int64 {
	if h.processor {
		t, _ := processorTime()
		return t
	}
	return time.Since(h.begin).Nanoseconds()
}

// contestant is somebody who does a work; its times are ns per sample, one of each
// round.
type contestant struct {
	name        string
	do          func() ([]float64, error)
	times, best []float64
}

func (c *contestant) round(samples float64) error {
	times, err := c.do()
	if err != nil {
		return err
	}
	c.times = append(c.times, median(times)/samples)
	c.best = append(c.best, slices.Min(times)/samples)
	return nil
}

func (c *contestant) median() float64 { return median(c.times) }
func (c *contestant) least() float64  { return slices.Min(c.best) }

func median(x []float64) float64 {
	x = slices.Clone(x)
	slices.Sort(x)
	n := len(x)
	return (x[(n-1)/2] + x[n/2]) / 2
}

// race is a work with those who do it: this side first.
type race struct {
	name        string
	work        *work
	contestants []*contestant
}

// options of a run.
type options struct {
	python    string
	seed      uint64
	rounds    int // 0 only compares the results
	processor bool
}

// compete makes everything up, compares the results, and then the times.
func compete(works []work, opt options, out io.Writer) error {
	folder, err := os.MkdirTemp("", "peers")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	lab, err := newSetup(opt.seed)
	if err != nil {
		return err
	}
	if err := lab.write(folder); err != nil {
		return err
	}
	them, err := startSciPy(opt.python, folder)
	if err != nil {
		return err
	}
	defer them.stop()
	us := &here{results: make([]batch.Result, 2), begin: time.Now(), processor: opt.processor}
	if opt.processor {
		if _, ok := processorTime(); !ok {
			return errors.New("this system does not tell the processor's time; take -clock wall")
		}
		if err := them.ask(map[string]any{"clock": "processor"}, new(struct{})); err != nil {
			return err
		}
	}
	if us.chain, err = lab.chain(them.sos); err != nil {
		return err
	}
	fmt.Fprintf(out, "%s %s/%s, %s; NumPy %s, SciPy %s\n", runtime.Version(), runtime.GOOS, runtime.GOARCH, build, them.numpy, them.scipy)

	var all []*race
	for i := range works {
		w := &works[i]
		if err := w.make(lab, opt.seed+100*uint64(i), folder); err != nil {
			return err
		}
		if err := load(them, w); err != nil {
			return err
		}
		var worst float64
		for k := 0; k < w.recordings; k += max(1, w.recordings/5) {
			if err := us.chain.Run(&us.results[0], w.inputs[k]); err != nil {
				return err
			}
			for _, v := range variants {
				off, err := agree(them, folder, v, k, &us.results[0])
				if err != nil {
					return fmt.Errorf("%s: %w", w.name, err)
				}
				worst = max(worst, off)
			}
		}
		fmt.Fprintf(out, "%s: 36 rows agree to %.1g of their largest value, with NaN and events at the same samples\n", w.name, worst)
		if opt.rounds > 0 {
			races, err := hold(us, them, w, opt.rounds)
			if err != nil {
				return err
			}
			all = append(all, races...)
		}
		w.inputs, w.rows = nil, nil
	}
	if opt.rounds > 0 {
		report(out, all, opt)
	}
	return nil
}

func load(them *scipy, w *work) error {
	return them.ask(map[string]any{"load": w.name, "samples": w.samples}, new(struct{}))
}

// hold runs the races of a work.
func hold(us *here, them *scipy, w *work, rounds int) ([]*race, error) {
	whole := &race{name: "whole chain, " + w.name, work: w, contestants: []*contestant{
		{name: "here", do: func() ([]float64, error) {
			return us.timed(w.repetitions, func() error { return us.run(w, 1) })
		}},
	}}
	for _, v := range append(slices.Clone(variants), rough) {
		whole.contestants = append(whole.contestants, &contestant{name: v, do: func() ([]float64, error) {
			return them.times(map[string]any{"variant": v, "repetitions": w.repetitions})
		}})
	}
	races := []*race{whole}
	switch {
	case w.recordings == 1:
		f := &race{name: "filter alone, " + w.name, work: w, contestants: []*contestant{
			{name: "here", do: func() ([]float64, error) {
				return us.timed(w.repetitions, func() error { return us.filter(w) })
			}},
		}}
		for _, v := range []string{"sosfiltfilt", "filtfilt"} {
			f.contestants = append(f.contestants, &contestant{name: v, do: func() ([]float64, error) {
				return them.times(map[string]any{"filter": v, "repetitions": w.repetitions})
			}})
		}
		races = append(races, f)
	default:
		two := &race{name: "two cores, " + w.name, work: w, contestants: []*contestant{
			{name: "here", do: func() ([]float64, error) {
				return us.timed(w.repetitions, func() error { return us.run(w, 2) })
			}},
			{name: "here, one core", do: whole.contestants[0].do},
		}}
		if us.processor {
			// The time of both processors together: what this ratio is below 1, two
			// cores lose on the way to twice the speed.
			two.name = "two workers, " + w.name
		} else {
			two.contestants = append(two.contestants, &contestant{name: "two processes, " + variants[0], do: func() ([]float64, error) {
				return them.times(map[string]any{"variant": variants[0], "repetitions": w.repetitions, "processes": 2})
			}})
		}
		races = append(races, two)
	}
	samples := float64(w.samples)
	for round := -1; round < rounds; round++ { // one to warm up
		for _, r := range races {
			for _, c := range r.contestants {
				n := samples * float64(w.recordings)
				if err := c.round(n); err != nil {
					return nil, err
				}
				if round < 0 {
					c.times, c.best = nil, nil
				}
			}
		}
	}
	return races, nil
}

func report(out io.Writer, races []*race, opt options) {
	clock := "on the wall"
	if opt.processor {
		clock = "of the processor"
	}
	fmt.Fprintf(out, "\n%d rounds; ns per sample of both plates (12 channels), by the clock %s; ratios: the other's time by this library's\n\n", opt.rounds, clock)
	fmt.Fprintf(out, "%-24s %-32s %9s %9s %14s %14s\n", "work", "contestant", "median", "best", "by medians", "by best times")
	for _, r := range races {
		us := r.contestants[0]
		for i, c := range r.contestants {
			name, ratio, best := r.name, "", ""
			if i > 0 {
				name = ""
				ratio, best = fmt.Sprintf("%.2f", c.median()/us.median()), fmt.Sprintf("%.2f", c.least()/us.least())
			}
			label := c.name
			if label == rough {
				label += " *"
			}
			fmt.Fprintf(out, "%-24s %-32s %9.1f %9.1f %14s %14s\n", name, label, c.median(), c.least(), ratio, best)
		}
	}
	fmt.Fprintf(out, "\n* does not agree to %g: shown for its time only\n", tolerance)
}
