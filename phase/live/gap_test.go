package live_test

import (
	"errors"
	"math"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/live"
	"example.com/momentarm/validation/synth"
)

// swinging pushes a whole session into a chain, without the samples that lost says,
// and returns frames by sequence number and events by name.
func swinging(t *testing.T, lost func(i int) bool) (*synth.Swing, *live.Chain, map[int]live.Frame, map[phase.Name]phase.Event) {
	t.Helper()
	r := newRig(t)
	s, _, samples := r.take(t, synth.Config{Address: 2}, 1)
	c := chain(t, r.config())
	c.Zero()
	frames := map[int]live.Frame{}
	events := map[phase.Name]phase.Event{}
	for i, ch := range samples {
		if i == 4100 {
			if err := c.Weigh(); err != nil {
				t.Fatal(err)
			}
		}
		if lost(i) {
			continue
		}
		f, err := c.Push(live.Sample{Sequence: uint64(i), Channels: ch})
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range f.Events {
			events[e.Name] = e
		}
		f.Events = nil
		frames[i] = f
	}
	return s, c, frames, events
}

// Twelve lost samples in the middle of the downswing change next to nothing.
func TestShortGapsAreBridged(t *testing.T) {
	_, _, whole, want := swinging(t, func(int) bool { return false })
	s, c, got, events := swinging(t, func(i int) bool { return i >= 5500 && i%100 < 12 })
	if c.State() != live.Ready {
		t.Fatal(c.State())
	}
	var force, torque, place float64
	bridged := 0
	for i, f := range got {
		w := whole[i]
		if f.Time != w.Time {
			t.Fatalf("sample %d at %g s, without gaps at %g s", i, f.Time, w.Time)
		}
		if f.Health.Has(live.Lost) {
			bridged++
			if !f.Health.Has(live.Bridged) || f.Lost != 12 || i%100 != 12 {
				t.Errorf("sample %d: %v, %d lost", i, f.Health, f.Lost)
			}
		}
		if f.State == live.Ready && f.Time < s.EventTime("impact")+0.1 {
			most(&force, r3.Norm(r3.Sub(f.Net.Force, w.Net.Force)))
			most(&torque, f.Moment.Frontal-w.Moment.Frontal)
			most(&place, r3.Norm(r3.Sub(f.COM.Position, w.COM.Position)))
		}
	}
	t.Logf("%d gaps: force %.1f N, torque %.1f N·m, centre of mass %.4f m", bridged, force, torque, place)
	if bridged < 20 || !(force < 10 && torque < 8 && place < 0.002) {
		t.Errorf("%d gaps: force %.1f N, torque %.1f N·m, centre of mass %.4f m", bridged, force, torque, place)
	}
	for name, e := range want {
		if g, ok := events[name]; !ok || math.Abs(g.Time-e.Time) > 0.012 && name != phase.Finish && name != phase.Address {
			t.Errorf("%s at %.4f s, without gaps at %.4f s", name, g.Time, e.Time)
		}
	}
}

// A longer gap is no line: the filter begins anew, the centre of mass is less sure,
// and the golfer is still the same.
func TestLongerGapsAreMarked(t *testing.T) {
	_, c, got, _ := swinging(t, func(i int) bool { return i >= 6000 && i < 6100 })
	f := got[6100]
	if f.Health != live.Lost|live.Settling || f.Lost != 100 || c.State() != live.Ready {
		t.Errorf("%v, %d lost, %v", f.Health, f.Lost, c.State())
	}
	if before := got[5999]; !(f.COM.PositionSD.Y > before.COM.PositionSD.Y) || f.Net.IsNaN() {
		t.Errorf("centre of mass known to %v before and %v after", before.COM.PositionSD, f.COM.PositionSD)
	}
	if got[6100+30].Health != 0 {
		t.Error(got[6130].Health)
	}
}

// After a gap that is too long for the golfer to be the same, they have to be
// weighed again; times go on as if nothing had been lost, those of events too.
func TestLongGapsForgetTheGolfer(t *testing.T) {
	r := newRig(t)
	s, _, samples := r.take(t, synth.Config{Address: 3, Waggles: 1}, 1)
	for _, gap := range []uint64{400, 100_000, 1 << 50} {
		c := chain(t, r.config())
		c.Zero()
		push(t, c, 0, samples[:4100])
		if err := c.Weigh(); err != nil {
			t.Fatal(err)
		}
		if f := push(t, c, 4100, samples[4100:5200]); f[len(f)-1].State != live.Ready {
			t.Fatal(f[len(f)-1].State)
		}
		begun := time.Now()
		f, err := c.Push(live.Sample{Sequence: 5200 + gap, Channels: samples[5200]})
		if d := time.Since(begun); d > 5*time.Second || err != nil {
			t.Fatalf("%v, %v", d, err)
		}
		if f.State != live.Zeroed || f.Lost != gap || !f.Health.Has(live.Lost) || f.Health.Has(live.Bridged) {
			t.Errorf("gap of %d: %v, %v", gap, f.State, f.Health)
		}
		if gap == 1<<50 {
			continue // milliseconds are lost to rounding
		}
		shift := float64(gap) / rate
		events := 0
		for i := 5201; i < len(samples); i++ {
			if c.State() == live.Zeroed {
				if err := c.Weigh(); err != nil {
					t.Fatal(err)
				}
			}
			f, err := c.Push(live.Sample{Sequence: uint64(i) + gap, Channels: samples[i]})
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(f.Time-float64(i)/rate-shift) > 1e-9 {
				t.Fatalf("sample %d at %g s", i, f.Time)
			}
			for _, e := range f.Events {
				events++
				if want := s.EventTime(string(e.Name)) + shift; e.Name != phase.Address && e.Name != phase.Finish && e.Name != phase.Impact && math.Abs(e.Time-want) > 0.012 {
					t.Errorf("%s at %.4f s, true %.4f s", e.Name, e.Time, want)
				}
			}
		}
		if events < 12 || c.State() != live.Ready {
			t.Errorf("gap of %d: %d events, %v: %v", gap, events, c.State(), c.Refusal())
		}
	}
}

func TestOutOfOrder(t *testing.T) {
	d := newFeeder(t)
	d.ready()
	want := d.f
	for _, sequence := range []uint64{d.next - 1, d.next - 7, 0} {
		f, err := d.c.Push(live.Sample{Sequence: sequence, Channels: make([]float64, 12)})
		var e *live.SequenceError
		if !errors.Is(err, live.ErrSequence) || !errors.As(err, &e) || e.Last != d.next-1 || e.Got != sequence || f.Sequence != 0 {
			t.Errorf("sample %d: %v", sequence, err)
		}
	}
	for _, n := range []int{0, 11, 13} {
		if _, err := d.c.Push(live.Sample{Sequence: d.next, Channels: make([]float64, n)}); !errors.Is(err, grf.ErrChannels) {
			t.Errorf("%d channels: %v", n, err)
		}
	}
	if _, err := d.c.PushBlock(nil, live.Sample{Sequence: d.next, Channels: make([]float64, 25)}); !errors.Is(err, grf.ErrChannels) {
		t.Errorf("25 channels: %v", err)
	}
	if dst, err := d.c.PushBlock(nil, live.Sample{Sequence: 3, Channels: make([]float64, 24)}); !errors.Is(err, live.ErrSequence) || len(dst) != 0 {
		t.Errorf("a block out of order: %v", err)
	}
	// None of that has left a trace.
	d.run(1, standing(1), standing(-1), nil)
	if d.f.Lost != 0 || d.f.State != live.Ready || r3.Norm(r3.Sub(d.f.COM.Position, want.COM.Position)) > 1e-4 {
		t.Errorf("%+v", d.f)
	}
}

func TestMarksAndFixes(t *testing.T) {
	r := newRig(t)
	s, _, samples := r.take(t, synth.Config{Address: 2}, 1)
	c := chain(t, r.config())
	if err := c.Correct(com.Fix{}); !errors.Is(err, live.ErrNobody) {
		t.Errorf("a fix of nobody: %v", err)
	}
	if err := c.Mark("impact", 0); !errors.Is(err, phase.ErrInput) {
		t.Errorf("a mark before the first sample: %v", err)
	}
	c.Zero()
	impact := s.EventTime("impact")
	at := int(math.Ceil(impact * rate))
	found := map[phase.Name]phase.Event{}
	for i, ch := range samples {
		if i == 4100 {
			if err := c.Weigh(); err != nil {
				t.Fatal(err)
			}
		}
		f, err := c.Push(live.Sample{Sequence: uint64(i), Channels: ch})
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range f.Events {
			found[e.Name] = e
		}
		if i == at { // a trigger: at once
			if err := c.Mark("impact", impact); err != nil {
				t.Fatal(err)
			}
			for name, want := range map[string]error{"impcat": phase.ErrUnknownMark, "top": phase.ErrInput} {
				if err := c.Mark(name, f.Time+0.001); !errors.Is(err, want) {
					t.Errorf("%s in the future: %v", name, err)
				}
			}
		}
		if i == at+200 { // a camera: later
			if err := c.Mark("P4", s.EventTime("top")); err != nil {
				t.Fatal(err)
			}
		}
		if i > 5200 && i%20 == 0 { // a camera sees the centre of mass 60 ms late
			when := f.Time - 0.06
			if err := c.Correct(com.Fix{Time: when, Position: s.At(when).Position, PositionSD: r3.Vec{X: 0.003, Y: 0.003, Z: 0.003}}); err != nil {
				t.Fatal(err)
			}
			if err := c.Correct(com.Fix{Time: f.Time - 0.001}); !errors.Is(err, com.ErrTooEarly) {
				t.Errorf("a fix ahead of the filter: %v", err)
			}
			if err := c.Correct(com.Fix{Time: f.Time - 1}); !errors.Is(err, com.ErrTooLate) {
				t.Errorf("a fix of a second ago: %v", err)
			}
		}
		if i > 5500 {
			want := s.At(f.Time - c.Delay()).Position
			if d := r3.Norm(r3.Sub(f.COM.Position, want)); d > 0.006 {
				t.Fatalf("centre of mass %.4f m off at %.3f s in spite of the camera", d, f.Time)
			}
		}
	}
	for _, name := range []phase.Name{phase.Impact, phase.Top} {
		if e := found[name]; e.Source != phase.Given || math.Abs(e.Time-s.EventTime(string(name))) > 1e-9 {
			t.Errorf("%s: %v", name, e)
		}
	}
}

// Marks that wait for the filter wait once: any number may come one after the other.
func TestMarksOneAfterTheOther(t *testing.T) {
	d := newFeeder(t)
	for i := range 60 {
		d.run(20, standing(1), standing(-1), nil)
		if err := d.c.Mark("top", d.f.Time); err != nil {
			t.Fatalf("mark %d: %v", i+1, err)
		}
	}
	for range 16 {
		if err := d.c.Mark("top", d.f.Time); err != nil && !errors.Is(err, phase.ErrInput) {
			t.Fatal(err)
		}
	}
	if err := d.c.Mark("top", d.f.Time); !errors.Is(err, phase.ErrInput) {
		t.Errorf("the seventeenth mark of one moment: %v", err)
	}
}
