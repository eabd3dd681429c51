package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net"
	"net/http"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"example.com/momentarm/examples/live/device"
	"example.com/momentarm/examples/live/wire"
	"example.com/momentarm/phase/live"
)

// madeUp is the device of the tests; it takes a moment to make.
var madeUp = sync.OnceValues(func() (*device.Device, error) { return device.New() })

func theDevice(t testing.TB) *device.Device {
	t.Helper()
	d, err := madeUp()
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// startDevice serves the made-up device at a multiple of real time and returns its
// address.
func startDevice(t testing.TB, speed float64) string {
	t.Helper()
	l := listen(t)
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	d := theDevice(t)
	go func() { done <- d.Serve(ctx, l, device.ServeOptions{Speed: speed}) }()
	t.Cleanup(func() {
		cancel()
		if err := <-done; err != nil {
			t.Error(err)
		}
	})
	return l.Addr().String()
}

func listen(t testing.TB) net.Listener {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Skipf("no loopback connections here: %v", err)
	}
	t.Cleanup(func() { l.Close() })
	return l
}

// startProgram runs the program for a device and returns the address of its page.
func startProgram(t testing.TB, set settings) string {
	t.Helper()
	set.listen = "127.0.0.1:0"
	if set.viewers == 0 {
		set.viewers = 256
	}
	ctx, cancel := context.WithCancel(context.Background())
	said := &lockedBuffer{}
	done := make(chan error, 1)
	go func() { done <- serve(ctx, set, said) }()
	t.Cleanup(func() {
		cancel()
		select {
		case err := <-done:
			if err != nil {
				t.Error(err)
			}
		case <-time.After(20 * time.Second):
			t.Error("the program does not end")
		}
	})
	address := regexp.MustCompile(`http://[^ ]*/`)
	var url string
	within(t, 10*time.Second, "the page is served", func() bool {
		url = address.FindString(said.String())
		return url != ""
	})
	return url
}

type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (b *lockedBuffer) Write(p []byte) (int, error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.b.Write(p)
}

func (b *lockedBuffer) String() string {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.b.String()
}

// within waits for something to become true.
func within(t testing.TB, d time.Duration, what string, ok func() bool) {
	t.Helper()
	for end := time.Now().Add(d); !ok(); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("not within %v: %s", d, what)
		}
	}
}

// state is what /now says.
type state struct {
	Now struct {
		T       float64
		State   string
		Motion  string
		Health  string
		Link    string
		Refusal string
		Mass    *float64
		Share   *float64
		Net     struct{ F [3]*float64 }
		Moment  struct{ Frontal *float64 }
		Device  deviceCounts
	}
	Swing *struct {
		Number   int
		Failed   string
		Mass     float64
		Measures []struct {
			Label, Unit string
			Value       *float64
		}
		Events []struct {
			Label, Source string
			T             float64
		}
		Curves [][5]*float64
	}
	Hub hubCounts
}

// UnmarshalJSON lets the tests read what the page reads; null is NaN to nobody here.
func (v *number) UnmarshalJSON(b []byte) error {
	var f *float64
	if err := json.Unmarshal(b, &f); err != nil {
		return err
	}
	if f != nil {
		*v = number(*f)
	}
	return nil
}

func now(t testing.TB, url string) (s state) {
	t.Helper()
	r, err := http.Get(url + "now")
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	if err := json.NewDecoder(r.Body).Decode(&s); err != nil {
		t.Fatal(err)
	}
	return s
}

// startEngine runs link and engine, without a server, against an address, and
// returns views as they come. Stop it before looking into the engine.
func startEngine(t testing.TB, address string, times linkTimes) (e *engine, stop func()) {
	t.Helper()
	config := theDevice(t).Config()
	chain, err := live.New(config)
	if err != nil {
		t.Fatal(err)
	}
	e = newEngine(chain, config)
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan struct{})
	go func() {
		defer close(done)
		link{address, wire.Plain{}, times}.follow(ctx, e)
	}()
	stop = sync.OnceFunc(func() {
		cancel()
		<-done
	})
	t.Cleanup(stop)
	return e, stop
}

// packet is one of the made-up device's.
func packet(d *device.Device, sequence uint64) *wire.Packet {
	return &wire.Packet{Sequence: sequence, Stamp: 100 + float64(sequence)/device.Rate, Channels: d.Read(nil, sequence)}
}

// stream reads server-sent events and hands them over until the body ends.
func stream(body *bufio.Reader, take func(name, data string)) error {
	var name string
	for {
		l, err := body.ReadString('\n')
		if err != nil {
			return err
		}
		l = strings.TrimSuffix(l, "\n")
		if n, ok := strings.CutPrefix(l, "event: "); ok {
			name = n
		} else if d, ok := strings.CutPrefix(l, "data: "); ok {
			take(name, d)
		} else if l != "" && !strings.HasPrefix(l, ":") && !strings.HasPrefix(l, "retry: ") {
			return fmt.Errorf("line %q", l)
		}
	}
}
