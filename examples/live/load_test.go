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
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"
)

// soak is how long TestManyViewers lasts; soak.sh sets ten minutes.
var soak = flag.Duration("soak", 3*time.Second, "how long TestManyViewers lasts")

const manyViewers = 200

// audience is two hundred pages, some of which read slowly and some of which come
// and go.
type audience struct {
	url                     string
	client                  *http.Client
	views, swings, failures atomic.Int64
	all                     sync.WaitGroup
	steady, slow, passersBy []*atomic.Uint64 // views that each page missed, as it was told
}

func (a *audience) open(ctx context.Context) {
	for i := range manyViewers {
		missed := &atomic.Uint64{}
		a.all.Add(1)
		switch i % 20 {
		case 0: // reads three events in two seconds
			a.slow = append(a.slow, missed)
			go a.page(ctx, 700*time.Millisecond, missed, a.all.Done)
		case 1: // comes and goes
			a.passersBy = append(a.passersBy, missed)
			go func() {
				defer a.all.Done()
				for ctx.Err() == nil {
					visit, done := context.WithTimeout(ctx, time.Second)
					a.page(visit, 0, missed, func() {})
					done()
				}
			}()
		default:
			a.steady = append(a.steady, missed)
			go a.page(ctx, 0, missed, a.all.Done)
		}
	}
}

// page reads events until ctx is done; a page that is disconnected comes again, as
// a browser does.
func (a *audience) page(ctx context.Context, pause time.Duration, missed *atomic.Uint64, done func()) {
	defer done()
	for ctx.Err() == nil {
		q, err := http.NewRequestWithContext(ctx, "GET", a.url+"events", nil)
		if err != nil {
			a.failures.Add(1)
			return
		}
		r, err := a.client.Do(q)
		if err != nil || r.StatusCode != http.StatusOK {
			if ctx.Err() == nil {
				a.failures.Add(1)
			}
			if err == nil {
				r.Body.Close()
			}
			return
		}
		before := missed.Load()
		_ = stream(bufio.NewReader(r.Body), func(name, data string) {
			switch name {
			case "now":
				a.views.Add(1)
			case "swing":
				a.swings.Add(1)
			case "dropped":
				if n, err := strconv.ParseUint(data, 10, 64); err == nil {
					missed.Store(before + n)
				}
			}
			if pause > 0 {
				time.Sleep(pause)
			}
		})
		r.Body.Close()
	}
}

// spread returns the least, middle and largest of counts.
func spread(counts []*atomic.Uint64) [3]uint64 {
	n := make([]uint64, len(counts))
	for i := range counts {
		n[i] = counts[i].Load()
	}
	slices.Sort(n)
	return [3]uint64{n[0], n[len(n)/2], n[len(n)-1]}
}

// reading is how the program does at one instant.
type reading struct {
	heap, resident, tasks uint64
	behind                float64 // samples that were sent and are not in the last view
}

func (a *audience) read(t *testing.T, v *troubled) (r reading) {
	// What was sent is asked for first: what comes meanwhile does not count.
	sent := v.whole.Load()
	r.behind = float64(sent) - float64(now(t, a.url).Now.Device.Packets)
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	r.heap, r.tasks, r.resident = m.HeapAlloc, uint64(runtime.NumGoroutine()), residentMemory()
	return r
}

// residentMemory returns what the system has given to this process, bytes; 0 where
// the system does not say.
func residentMemory() uint64 {
	b, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	_, after, _ := strings.Cut(string(b), "VmRSS:")
	fields := strings.Fields(after)
	if len(fields) == 0 {
		return 0
	}
	kB, _ := strconv.ParseUint(fields[0], 10, 64)
	return kB << 10
}

// Two hundred pages at once and a device that does everything wrong: no frame is
// lost that came whole, the chain keeps up, and memory stays flat.
func TestManyViewers(t *testing.T) {
	length := *soak
	if testing.Short() {
		length = min(length, 2*time.Second)
	}
	long := length >= time.Minute
	device, address, stopDevice := startTroubled(t, min(1, length.Seconds()/60), long)
	a := &audience{
		url:    startProgram(t, settings{device: address}),
		client: &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: manyViewers}},
	}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	a.open(ctx)
	within(t, 60*time.Second, "all pages are open", func() bool { return now(t, a.url).Hub.Viewers >= manyViewers*9/10 })

	var readings []reading
	begun := time.Now()
	for time.Since(begun) < length {
		time.Sleep(min(length/8, 2*time.Second))
		readings = append(readings, a.read(t, device))
	}
	lasted := time.Since(begun).Seconds()
	// What was sent to the last arrives, whatever it was followed by.
	stopDevice()
	within(t, 60*time.Second, "all that was sent is in", func() bool {
		return now(t, a.url).Now.Device.Packets >= device.whole.Load()
	})
	last := now(t, a.url)
	cancel()
	a.all.Wait()

	d := last.Now.Device
	whole, refused := device.whole.Load(), d.Repeated+d.Refused
	if d.Packets != whole || refused != device.bad.Load() || d.Restarts != 0 {
		t.Errorf("%d frames sent whole, %d of them for the chain to refuse; %d came, %d were refused: %+v", whole, device.bad.Load(), d.Packets, refused, d)
	}
	if d.Lost != device.skipped.Load() {
		t.Errorf("%d samples were not sent, %d are missed", device.skipped.Load(), d.Lost)
	}
	if d.Skipped != device.garbage.Load() {
		t.Errorf("%d bytes of garbage were sent, %d were passed over", device.garbage.Load(), d.Skipped)
	}
	if n := a.failures.Load(); n > 0 {
		t.Errorf("%d pages failed", n)
	}
	// The slow pages alone take a tenth of what comes. How many views the others
	// get depends on the machine; all of them have to get some.
	if a.views.Load() < manyViewers {
		t.Errorf("%d views for %d pages", a.views.Load(), manyViewers)
	}
	if long && a.swings.Load() == 0 {
		t.Error("no swing came through")
	}
	// Half a second of samples may be on the way through a view, a loaded machine
	// and the detection of events; more only for a moment.
	behind := func(r []reading) (middle, most float64) {
		b := make([]float64, len(r))
		for i := range r {
			b[i] = r[i].behind
		}
		slices.Sort(b)
		return b[len(b)/2], b[len(b)-1]
	}
	half := len(readings) / 2
	early, _ := behind(readings[:half])
	late, most := behind(readings[half:])
	if late > early+500 || late > 1000 {
		t.Errorf("the chain fell behind: by %.0f samples at first, by %.0f later", early, late)
	}
	heap := func(r []reading) (most uint64) {
		for _, r := range r {
			most = max(most, r.heap)
		}
		return most
	}
	before, after := heap(readings[:half]), heap(readings[half:])
	if after > before+before/4+16<<20 {
		t.Errorf("the heap grew from %d to %d MB", before>>20, after>>20)
	}
	begin, end := readings[0], readings[len(readings)-1]
	if end.tasks > 10*manyViewers {
		t.Errorf("%d goroutines for %d pages", end.tasks, manyViewers)
	}
	const MB = 1 << 20
	report, err := json.MarshalIndent(map[string]any{
		"seconds": lasted, "viewers": manyViewers, "episodes_of_trouble": device.episodes.Load(), "connections_of_the_device": d.Connections,
		"frames_sent_whole": whole, "frames_taken_in": d.Packets, "whole_frames_lost": int64(whole) - int64(d.Packets),
		"frames_refused_as_meant": refused, "samples_never_sent": device.skipped.Load(), "samples_missed": d.Lost,
		"garbage_bytes_sent": device.garbage.Load(), "garbage_bytes_passed_over": d.Skipped,
		"views_relayed": last.Hub.Relayed, "views_received": a.views.Load(), "views_dropped": last.Hub.Dropped, "views_replaced_before_relay": d.Replaced,
		"missed_by_steady_page_least_middle_most": spread(a.steady), "missed_by_slow_page_least_middle_most": spread(a.slow),
		"swings_received": a.swings.Load(), "samples_behind_middle": late, "samples_behind_most": most,
		"heap_MB_start": begin.heap / MB, "heap_MB_end": end.heap / MB, "heap_MB_most_first_half": before / MB, "heap_MB_most_second_half": after / MB,
		"resident_MB_start": begin.resident / MB, "resident_MB_end": end.resident / MB, "goroutines_end": end.tasks,
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
