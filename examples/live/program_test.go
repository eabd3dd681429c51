package main

import (
	"bufio"
	"context"
	"encoding/json"
	"io"
	"math"
	"net/http"
	"strings"
	"testing"
	"time"

	"example.com/momentarm/examples/live/device"
	"example.com/momentarm/phase/live"
)

// The whole program at ten times the speed: all golfers are weighed, all swings
// worked out, nothing is lost.
func TestProgram(t *testing.T) {
	url := startProgram(t, settings{device: startDevice(t, 10)})
	r, err := http.Get(url + "events")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	if kind := r.Header.Get("Content-Type"); kind != "text/event-stream" {
		t.Errorf("content type %q", kind)
	}
	timer := time.AfterFunc(90*time.Second, func() { r.Body.Close() })
	defer timer.Stop()
	swings := map[int]float64{}
	states := map[string]bool{}
	views, setups, traces := 0, 0, 0
	last := -1.0
	err = stream(bufio.NewReader(r.Body), func(name, data string) {
		switch name {
		case "setup":
			var s setup
			if err := json.Unmarshal([]byte(data), &s); err != nil || len(s.Plates) != 2 || len(s.Plates[0]) != 4 {
				t.Errorf("%v: %s", err, data)
			}
			// The trail plate lies away from the target.
			if y := s.Plates[0][0][1]; !(y < 0) {
				t.Errorf("trail plate: %v", s.Plates[0])
			}
			setups++
		case "now":
			var s state
			if err := json.Unmarshal([]byte(data), &s.Now); err != nil {
				t.Errorf("%v: %s", err, data)
			}
			states[s.Now.State] = true
			views++
			var v struct{ Traces [][5]*float64 }
			if err := json.Unmarshal([]byte(data), &v); err != nil {
				t.Error(err)
			}
			for _, row := range v.Traces {
				if !(*row[0] > last) {
					t.Errorf("trace at %g s after %g s", *row[0], last)
				}
				last = *row[0]
				traces++
			}
		case "swing":
			var s state
			if err := json.Unmarshal([]byte(data), &s.Swing); err != nil {
				t.Fatalf("%v: %s", err, data)
			}
			if s.Swing.Failed != "" || len(s.Swing.Measures) != len(shownMeasures) || len(s.Swing.Events) < 10 || len(s.Swing.Curves) < 100 {
				t.Errorf("swing %d: %s, %d measures, %d events", s.Swing.Number, s.Swing.Failed, len(s.Swing.Measures), len(s.Swing.Events))
			}
			swings[s.Swing.Number] = s.Swing.Mass
			if len(swings) == len(device.Golfers()) {
				r.Body.Close()
			}
		case "dropped":
		default:
			t.Errorf("event %q", name)
		}
	})
	if len(swings) != len(device.Golfers()) {
		t.Fatalf("swings %v; %v", swings, err)
	}
	weights := map[float64]bool{}
	for _, g := range device.Golfers() {
		weights[g.Mass] = true
	}
	for n, mass := range swings {
		found := false
		for w := range weights {
			found = found || math.Abs(w-mass) < 0.3
		}
		if !found {
			t.Errorf("swing %d was of a golfer of %g kg", n, mass)
		}
	}
	if setups != 1 || views < 100 || traces < views {
		t.Errorf("%d setups, %d views, %d traces", setups, views, traces)
	}
	for _, s := range []string{"zeroed", "weighing", "ready"} {
		if !states[s] {
			t.Errorf("never %s: %v", s, states)
		}
	}
	s := now(t, url)
	if d := s.Now.Device; d.Lost != 0 || d.Damaged != 0 || d.Skipped != 0 || d.Repeated != 0 || d.Refused != 0 || d.Connections != 1 || d.Packets < 20_000 {
		t.Errorf("%+v", d)
	}
}

func TestRequests(t *testing.T) {
	url := startProgram(t, settings{device: startDevice(t, 1)})
	ask := func(path string) int {
		q, err := http.NewRequest("POST", url+path, nil)
		if err != nil {
			t.Fatal(err)
		}
		q.Header.Set("Origin", strings.TrimSuffix(url, "/"))
		r, err := http.DefaultClient.Do(q)
		if err != nil {
			t.Fatal(err)
		}
		r.Body.Close()
		return r.StatusCode
	}
	within(t, 20*time.Second, "zeroed", func() bool { return now(t, url).Now.State == "zeroed" })
	if code := ask("weigh"); code != http.StatusAccepted {
		t.Errorf("status %d", code)
	}
	within(t, 5*time.Second, "weighing", func() bool { return now(t, url).Now.State == "weighing" })
	if code := ask("zero"); code != http.StatusAccepted {
		t.Errorf("status %d", code)
	}
	within(t, 5*time.Second, "zeroing", func() bool { return now(t, url).Now.State == "zeroing" })
}

// A request that is refused is told of, also when nothing else has to be done.
func TestRefusalIsShown(t *testing.T) {
	d := theDevice(t)
	c, err := live.New(d.Config())
	if err != nil {
		t.Fatal(err)
	}
	e := newEngine(c, d.Config())
	var seen view
	sequence := uint64(0)
	until := func(what string, ok func() bool) {
		t.Helper()
		for !ok() {
			if sequence > 20_000 {
				t.Fatalf("never %s: %+v", what, seen)
			}
			e.take(packet(d, sequence))
			sequence++
			select {
			case seen = <-e.views:
			default:
			}
		}
	}
	until("ready", func() bool { return seen.State == "ready" })
	if seen.Version != live.Version || seen.Refusal != "" {
		t.Errorf("%+v", seen)
	}
	e.ask(zero)
	until("refused", func() bool { return seen.Refusal != "" })
	if seen.State != "ready" || !strings.Contains(seen.Refusal, "zeroing plate 1 was refused") {
		t.Errorf("%s, %q", seen.State, seen.Refusal)
	}
	begun := seen.Time
	until("silent again", func() bool { return seen.Refusal == "" || seen.State != "ready" })
	if d := float64(seen.Time - begun); seen.State != "ready" || d < refusalShown-1 || d > refusalShown+1 {
		t.Errorf("shown for %g s, %s", d, seen.State)
	}
}

// Plates that do not tell the feet apart give all that one plate can: no shares, but
// torque and swings.
func TestPlatesUnderBothFeet(t *testing.T) {
	d := theDevice(t)
	config := d.Config()
	config.Inputs = append([]live.Input(nil), config.Inputs...)
	for i := range config.Inputs {
		config.Inputs[i].Foot = live.Both
	}
	c, err := live.New(config)
	if err != nil {
		t.Fatal(err)
	}
	e := newEngine(c, config)
	for i := range uint64(d.Len() / 2) {
		e.take(packet(d, i))
		select {
		case v := <-e.views:
			if !math.IsNaN(float64(v.Share)) || !math.IsNaN(float64(v.Lead.Force[2])) {
				t.Fatalf("%+v", v)
			}
		case swing := <-e.swings:
			s := summaryOf(swing)
			if s.Failed != "" || len(s.Measures) < 5 || len(s.Curves) < 100 || math.Abs(float64(s.Mass)-device.Golfers()[0].Mass) > 0.5 {
				t.Errorf("%q, %d measures, %d rows, %g kg", s.Failed, len(s.Measures), len(s.Curves), float64(s.Mass))
			}
			for _, row := range s.Curves {
				if !math.IsNaN(float64(row[1])) || math.IsNaN(float64(row[3])) {
					t.Fatalf("row %v", row)
				}
			}
			return
		default:
		}
	}
	t.Error("no swing came")
}

// A device may be slower than views and traces are wanted.
func TestSlowDevice(t *testing.T) {
	for _, rate := range []float64{20, 24, 100, 130} {
		config := theDevice(t).Config()
		config.Rate, config.Cutoff = rate, 8
		c, err := live.New(config)
		if err != nil {
			t.Fatal(err)
		}
		e := newEngine(c, config)
		for i := range uint64(300) {
			p := packet(theDevice(t), i)
			p.Stamp = float64(i) / rate
			e.take(p)
		}
		v := <-e.views
		if len(v.Traces) == 0 || len(v.Traces) > 2*tracesPerView || v.State != "zeroed" {
			t.Errorf("%g Hz: %d traces, %s", rate, len(v.Traces), v.State)
		}
	}
}

func TestRun(t *testing.T) {
	var out, errs lockedBuffer
	if code := run(context.Background(), []string{"-listen", "127.0.0.1:0", "-for", "300ms", "-stature", "71 in"}, &out, &errs); code != 0 {
		t.Errorf("status %d: %s", code, errs.String())
	}
	if !strings.Contains(out.String(), "http://127.0.0.1:") || !strings.Contains(out.String(), "made-up device") {
		t.Error(out.String())
	}
	for _, c := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"-help"}, 0, "-stature"},
		{[]string{"-nonsense"}, 2, "nonsense"},
		{[]string{"file"}, 2, `unexpected argument "file"`},
		{[]string{"-viewers", "0"}, 2, "-viewers 0"},
		{[]string{"-for", "-1s"}, 2, "negative"},
		{[]string{"-stature", "180"}, 2, "-stature"},
		{[]string{"-stature", "180 m"}, 2, "no golfer's"},
		{[]string{"-listen", "127.0.0.1:99999"}, 1, "99999"},
	} {
		var errs lockedBuffer
		if code := run(context.Background(), c.args, io.Discard, &errs); code != c.code || !strings.Contains(errs.String(), c.says) {
			t.Errorf("%v: status %d, %q", c.args, code, errs.String())
		}
	}
}
