package main

import (
	"bufio"
	"context"
	"encoding/json"
	"flag"
	"net/http"
	"os"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"example.com/momentarm/examples/live/device"
)

// soak is how long TestManyViewers lasts; soak.sh sets ten minutes.
var soak = flag.Duration("soak", 3*time.Second, "how long TestManyViewers lasts")

const manyViewers = 200

// Two hundred pages at once, some of which read slowly and some of which come and
// go: every sample is taken in, in time, and memory stays flat.
func TestManyViewers(t *testing.T) {
	length := *soak
	if testing.Short() {
		length = min(length, 2*time.Second)
	}
	url := startProgram(t, settings{device: startDevice(t, 1)})
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: manyViewers}}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	var all sync.WaitGroup
	var views, swings, failures atomic.Int64
	page := func(ctx context.Context, pause time.Duration) {
		q, err := http.NewRequestWithContext(ctx, "GET", url+"events", nil)
		if err != nil {
			failures.Add(1)
			return
		}
		r, err := client.Do(q)
		if err != nil || r.StatusCode != http.StatusOK {
			if ctx.Err() == nil {
				failures.Add(1)
			}
			return
		}
		defer r.Body.Close()
		_ = stream(bufio.NewReader(r.Body), func(name, data string) {
			switch name {
			case "now":
				views.Add(1)
			case "swing":
				swings.Add(1)
			}
			time.Sleep(pause)
		})
	}
	for i := range manyViewers {
		all.Add(1)
		go func() {
			defer all.Done()
			switch {
			case i%20 == 0: // reads three views in two seconds
				page(ctx, 700*time.Millisecond)
			case i%20 == 1: // comes and goes
				for ctx.Err() == nil {
					visit, done := context.WithTimeout(ctx, time.Second)
					page(visit, 0)
					done()
				}
			default:
				page(ctx, 0)
			}
		}()
	}
	within(t, 60*time.Second, "all pages are open", func() bool { return now(t, url).Hub.Viewers >= manyViewers*9/10 })

	type reading struct {
		heap, tasks uint64
		late        float64 // s by which the chain is behind the device
	}
	var readings []reading
	first := now(t, url)
	begun := time.Now()
	for time.Since(begun) < length {
		time.Sleep(min(length/8, 5*time.Second))
		at := time.Since(begun).Seconds()
		s := now(t, url)
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		readings = append(readings, reading{m.HeapAlloc, uint64(runtime.NumGoroutine()), at - (s.Now.T - first.Now.T)})
	}
	last := now(t, url)
	lasted := time.Since(begun).Seconds()
	cancel()
	all.Wait()

	elapsed := last.Now.T - first.Now.T
	d := last.Now.Device
	if d.Lost != 0 || d.Damaged != 0 || d.Skipped != 0 || d.Repeated != 0 || d.Refused != 0 || d.Connections != 1 {
		t.Errorf("%+v", d)
	}
	if failures.Load() > 0 {
		t.Errorf("%d pages failed", failures.Load())
	}
	// The slow pages alone take a tenth of what comes. How many views the others
	// get depends on the machine; all of them have to get some.
	if views.Load() < manyViewers {
		t.Errorf("%d views for %d pages", views.Load(), manyViewers)
	}
	// The lateness of the chain must not grow: it may vary by what a loaded machine
	// does, and by the time that a swing takes to detect.
	late := func(r []reading) float64 {
		l := make([]float64, len(r))
		for i := range r {
			l[i] = r[i].late
		}
		slices.Sort(l)
		return l[len(l)/2]
	}
	half := len(readings) / 2
	if grown := late(readings[half:]) - late(readings[:half]); grown > 0.5 {
		t.Errorf("the chain fell behind by %.2f s", grown)
	}
	heap := func(r []reading) uint64 {
		most := uint64(0)
		for _, r := range r {
			most = max(most, r.heap)
		}
		return most
	}
	if before, after := heap(readings[:half]), heap(readings[half:]); after > before+before/4+16<<20 {
		t.Errorf("the heap grew from %d to %d MB", before>>20, after>>20)
	}
	tasks := readings[len(readings)-1].tasks
	if tasks > 10*manyViewers {
		t.Errorf("%d goroutines for %d pages", tasks, manyViewers)
	}
	report, err := json.MarshalIndent(map[string]any{
		"seconds": lasted, "samples": int(elapsed * device.Rate), "viewers": last.Hub.Viewers,
		"views_received": views.Load(), "views_relayed": last.Hub.Relayed, "views_dropped": last.Hub.Dropped, "swings_received": swings.Load(),
		"views_replaced_before_relay": d.Replaced, "samples_lost": d.Lost,
		"heap_MB_first_half": heap(readings[:half]) >> 20, "heap_MB_second_half": heap(readings[half:]) >> 20,
		"goroutines": tasks, "lateness_growth_s": late(readings[half:]) - late(readings[:half]),
	}, "", "  ")
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%s", report)
	if name := os.Getenv("LIVE_SOAK_REPORT"); name != "" {
		if err := os.WriteFile(name, append(report, '\n'), 0o644); err != nil {
			t.Error(err)
		}
	}
}
