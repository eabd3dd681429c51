package live_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/live"
	"example.com/momentarm/validation/synth"
)

// Against swings whose truth is known in closed form, at the instant that the
// declared delay names.
func TestChainAgainstKnownSwing(t *testing.T) {
	for name, cfg := range map[string]synth.Config{
		"balanced":   {Address: 3, Hold: 2},
		"reverse":    {Address: 3, Hold: 2, Style: synth.Reverse, Mass: 62, Stature: 1.65},
		"waggles":    {Address: 3, Hold: 2, Waggles: 2, Individual: 4},
		"half swing": {Address: 3, Hold: 2, Style: synth.HalfSwing},
	} {
		r := newRig(t)
		s, _, samples := r.take(t, cfg, 2)
		config := r.config()
		config.Stature = s.Config().Stature
		c := chain(t, config)
		c.Zero()
		var cop, share, height, place, frontal, vertical float64
		found := map[phase.Name]phase.Event{}
		for i, ch := range samples {
			f, err := c.Push(live.Sample{Sequence: uint64(i), Channels: ch, Stamp: 50 + float64(i)/rate})
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range f.Events {
				if late := f.Time - c.Delay() - e.Time; e.Name != phase.Finish && late > c.Latency(e.Name)+2 {
					t.Errorf("%s: %s is %.3f s late", name, e.Name, late)
				}
				found[e.Name] = e
			}
			if f.State == live.Zeroed && f.Time > s.Aboard()+0.1 {
				if err := c.Weigh(); err != nil {
					t.Fatal(err)
				}
			}
			if f.State != live.Ready {
				if !math.IsNaN(f.Moment.Horizontal) || !math.IsNaN(f.COM.Position.X) {
					t.Fatalf("%s: there is torque in the state %v", name, f.State)
				}
				continue
			}
			if f.Health != 0 {
				t.Errorf("%s: %v at %.3f s", name, f.Health, f.Time)
			}
			// A centre of mass from forces alone drifts on after the impact,
			// until the golfer is still again.
			if f.Time > s.EventTime("impact")+0.2 {
				continue
			}
			want := s.At(f.Time - c.Delay())
			most(&cop, r3.Norm(r3.Sub(f.NetCOP, want.NetPressure)))
			most(&share, f.LeadShare-want.Share)
			most(&place, math.Hypot(f.COM.Position.X-want.Position.X, f.COM.Position.Y-want.Position.Y))
			most(&height, f.COM.Position.Z-want.Position.Z)
			most(&frontal, f.Moment.Frontal-want.Moment.X)
			most(&vertical, f.Moment.Horizontal-want.Moment.Z)
		}
		t.Logf("%s: cop %.4f m, share %.4f, centre of mass %.4f m, height %.4f m, frontal %.1f N·m, vertical %.1f N·m",
			name, cop, share, place, height, frontal, vertical)
		// The filter rounds what changes within its 4.5 ms; 2 N of noise in a
		// centre of pressure of 300 N; a velocity known to 10 mm/s for a second; a
		// height known to 0.04 m, of which 800 N across it make 32 N·m.
		if !(cop < 0.004 && share < 0.01 && place < 0.02 && height < 0.04 && frontal < 25 && vertical < 5) {
			t.Errorf("%s: errors above are too large", name)
		}
		quiet, ok := c.Golfer()
		if !ok || math.Abs(quiet.Mass-s.Config().Mass) > 0.1 {
			t.Errorf("%s: %v, %.2f kg, true %.2f kg", name, ok, quiet.Mass, s.Config().Mass)
		}
		for _, event := range []phase.Name{phase.Onset, phase.TrailLoadPeak, phase.LowestVertical, phase.EvenLoad,
			phase.LateralPeak, phase.LeadVerticalPeak, phase.FrontalTorquePeak, phase.VerticalTorquePeak} {
			want := s.EventTime(string(event))
			if e, ok := found[event]; !math.IsNaN(want) && (!ok || math.Abs(e.Time-want) > 0.012) {
				t.Errorf("%s: %s at %.4f s, true %.4f s", name, event, e.Time, want)
			}
		}
	}
}

func most(worst *float64, d float64) {
	if d = math.Abs(d); d > *worst || math.IsNaN(d) {
		*worst = d
	}
}

// A left-handed golfer on the same plates faces the same way and has the target on
// the other side: what a right-handed one does is the mirror image of a left-handed
// swing, lead and trail exchanged.
func TestLeftHanded(t *testing.T) {
	r := newRig(t)
	_, _, samples := r.take(t, synth.Config{Address: 1}, 0)
	right := chain(t, r.config())
	config := r.config()
	var err error
	if config.Axes, err = grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{X: 1}, r3.Vec{X: 1, Y: 2}, grf.LeftHanded); err != nil {
		t.Fatal(err)
	}
	config.Inputs[0].Foot, config.Inputs[1].Foot = live.Lead, live.Trail
	left := chain(t, config)
	for i, ch := range samples[4000:7000] {
		a, err := right.Push(live.Sample{Sequence: uint64(i), Channels: ch})
		if err != nil {
			t.Fatal(err)
		}
		b, err := left.Push(live.Sample{Sequence: uint64(i), Channels: ch})
		if err != nil {
			t.Fatal(err)
		}
		mirror := grf.Wrench{
			Force:  r3.Vec{X: a.Net.Force.X, Y: -a.Net.Force.Y, Z: a.Net.Force.Z},
			Moment: r3.Vec{X: -a.Net.Moment.X, Y: a.Net.Moment.Y, Z: -a.Net.Moment.Z},
		}
		if d := distance(mirror, b.Net); d > 1e-9 || math.Abs(a.LeadShare+b.LeadShare-1) > 1e-12 || math.Abs(a.NetFree+b.NetFree) > 1e-9 {
			t.Fatalf("%v and %v, shares %g and %g", a.Net, b.Net, a.LeadShare, b.LeadShare)
		}
	}
}
