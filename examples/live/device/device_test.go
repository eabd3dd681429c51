package device_test

import (
	"context"
	"io"
	"math"
	"net"
	"testing"
	"time"

	"example.com/momentarm/examples/live/device"
	"example.com/momentarm/examples/live/wire"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/live"
	"example.com/momentarm/validation/synth"
)

// The chain has to find in the channels the golfers that were put in.
func TestChannelsHoldTheGolfers(t *testing.T) {
	d, err := device.New()
	if err != nil {
		t.Fatal(err)
	}
	c, err := live.New(d.Config())
	if err != nil {
		t.Fatal(err)
	}
	c.Zero()
	var masses, impacts []float64
	for i := range uint64(d.Len()) {
		f, err := c.Push(live.Sample{Sequence: i, Channels: d.Read(nil, i)})
		if err != nil {
			t.Fatal(err)
		}
		if f.Health.Has(live.Saturated) || f.Health.Has(live.Drift) {
			t.Fatalf("%v at %.3f s", f.Health, f.Time)
		}
		if f.State == live.Zeroed && f.Net.Force.Z > 300 {
			if err := c.Weigh(); err != nil {
				t.Fatal(err)
			}
		}
		if q, ok := c.Golfer(); ok && (len(masses) == 0 || q.Mass != masses[len(masses)-1]) {
			masses = append(masses, q.Mass)
		}
		for _, e := range f.Events {
			if e.Name == phase.Impact {
				impacts = append(impacts, e.Time)
			}
		}
	}
	golfers := device.Golfers()
	if len(masses) != len(golfers) || len(impacts) != len(golfers) {
		t.Fatalf("masses %v, impacts %v, true impacts %v", masses, impacts, d.Impacts())
	}
	for i, g := range golfers {
		if math.Abs(masses[i]-g.Mass) > 0.3 || math.Abs(impacts[i]-d.Impacts()[i]) > 0.1 {
			t.Errorf("golfer %d: %.2f kg, impact at %.3f s; true %.2f kg, %.3f s", i+1, masses[i], impacts[i], g.Mass, d.Impacts()[i])
		}
	}
	if a, b := d.Read(nil, 5), d.Read(nil, uint64(d.Len())*1000+5); a[3] != b[3] {
		t.Error("the loop does not repeat")
	}
}

func TestUnusableGolfer(t *testing.T) {
	if d, err := device.New(synth.Config{Mass: -1}); err == nil || d != nil {
		t.Error(d, err)
	}
}

func TestServe(t *testing.T) {
	d, err := device.New(synth.Config{})
	if err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	done := make(chan error)
	go func() { done <- d.Serve(ctx, l, device.ServeOptions{Speed: 10}) }()
	for range 2 {
		c, err := net.Dial("tcp", l.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		if err := c.SetDeadline(time.Now().Add(30 * time.Second)); err != nil {
			t.Fatal(err)
		}
		r := wire.Plain{}.NewReader(c)
		var first uint64
		for i := range uint64(500) {
			var p wire.Packet
			if err := r.Next(&p); err != nil {
				t.Fatal(err)
			}
			if i == 0 {
				first = p.Sequence
			}
			want := d.Read(nil, p.Sequence)
			if p.Sequence != first+i || len(p.Channels) != device.Channels || p.Channels[2] != want[2] || math.Abs(p.Stamp-float64(p.Sequence+1)/device.Rate) > 1e-9 {
				t.Fatalf("packet %d: %+v", i, p)
			}
		}
		c.Close()
	}
	c, err := net.Dial("tcp", l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	cancel()
	select {
	case err := <-done:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("the device does not stop")
	}
	if _, err := io.Copy(io.Discard, c); err != nil {
		t.Log(err)
	}
}
