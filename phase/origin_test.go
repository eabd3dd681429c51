package phase_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/torque"
	"example.com/momentarm/validation/synth"
)

// away are places of the laboratory's origin, as seen from the stance, m.
var away = []r3.Vec{{Y: 1.2}, {Y: -1.2}, {X: 4, Y: 3}, {X: -3, Y: -7}}

// movedTo is the recording of a laboratory whose origin is at p.
func movedTo(rec *grf.Recording, p r3.Vec) *grf.Recording {
	out := *rec
	move := func(ws []grf.Wrench) []grf.Wrench {
		if ws == nil {
			return nil
		}
		dst := make([]grf.Wrench, len(ws))
		for i, w := range ws {
			dst[i] = w.MovedTo(p)
		}
		return dst
	}
	out.Lead, out.Trail, out.Net = move(rec.Lead), move(rec.Trail), move(rec.Net)
	return &out
}

// rounding is what adding and taking away moments of several thousand N·m may do to
// an instant, s.
const rounding = 1e-6

// Where the laboratory has its origin says nothing about a swing: stances, downswings
// and events are the same, and what streams in gives what the recording gives.
func TestEventsDoNotDependOnTheOrigin(t *testing.T) {
	type result struct {
		address grf.Quiet
		downs   []int
		batch   phase.Events
		online  []reported
	}
	for seed := uint64(1); seed <= 12; seed++ {
		cfg := synth.Random(seed)
		s, err := synth.New(cfg)
		if err != nil {
			t.Fatal(err)
		}
		whole := synth.Disturbance{Seed: seed, ForceNoise: 3, MomentNoise: 0.5}.Apply(s.Recording())
		whole.Marks = nil
		feet := phase.FeetApart
		if seed%3 == 0 {
			whole, feet = together(t, whole), phase.FeetTogether
		}
		work := func(p r3.Vec) (r result) {
			rec := movedTo(whole, p)
			net, err := rec.NetWrenches(nil)
			if err != nil {
				t.Fatal(err)
			}
			moment := func(i int) torque.Planes {
				return torque.About(net[i], r3.Sub(s.At(rec.Time(i)).Position, p))
			}
			o := online(t, phase.OnlineOptions{Start: rec.Start, Rate: rec.Rate, Feet: feet, Torque: true})
			r.online = stream(t, o, rec, moment)
			if r.address, err = phase.FindAddress(rec, grf.QuietOptions{From: rec.Start, To: s.EventTime("lowest_vertical")}); err != nil {
				t.Fatal(err)
			}
			r.downs = phase.FindDownswings(net, rec.Rate, r.address.Weight, 0, len(net)-1)
			in := phase.Input{Start: rec.Start, Rate: rec.Rate, Net: net, Lead: rec.Lead, Trail: rec.Trail}
			in.Address, _ = o.Address()
			for i := range net {
				m := moment(i)
				in.Frontal, in.Horizontal = append(in.Frontal, m.Frontal), append(in.Horizontal, m.Horizontal)
			}
			if still, err := phase.FindStill(rec, r.address.Weight, grf.QuietOptions{From: s.EventTime("impact") + 0.5, To: rec.End()}); err == nil {
				in.Still = &still
			}
			if r.batch, err = phase.Detect(in); err != nil {
				t.Fatalf("seed %d, origin at %v: %v", seed, p, err)
			}
			for _, e := range r.online {
				b, ok := r.batch.Get(e.Name)
				if tolerance := map[bool]float64{true: 0.025, false: 1e-9}[e.Name == phase.Finish]; !ok || !(math.Abs(b.Time-e.Time) <= tolerance) {
					t.Errorf("seed %d, origin at %v: %s streams in at %.6f s, the recording has it at %.6f s", seed, p, e.Name, e.Time, b.Time)
				}
			}
			return r
		}
		want := work(r3.Vec{})
		for _, p := range away {
			got := work(p)
			if got.address.First != want.address.First || got.address.Last != want.address.Last ||
				!(math.Abs(got.address.Variation-want.address.Variation) < 1e-9) {
				t.Errorf("seed %d, origin at %v: address is samples %d to %d, want %d to %d", seed, p,
					got.address.First, got.address.Last, want.address.First, want.address.Last)
			}
			if len(got.downs) != 1 || len(want.downs) != 1 || got.downs[0] != want.downs[0] {
				t.Errorf("seed %d, origin at %v: downswings at %v, want %v", seed, p, got.downs, want.downs)
			}
			if len(got.batch.Missing) != len(want.batch.Missing) {
				t.Errorf("seed %d, origin at %v: missing %v, want %v", seed, p, got.batch.Missing, want.batch.Missing)
			}
			for _, w := range want.batch.Found {
				if g := got.batch.Time(w.Name); !(math.Abs(g-w.Time) < rounding) {
					t.Errorf("seed %d, origin at %v: %s at %.6f s, want %.6f s", seed, p, w.Name, g, w.Time)
				}
			}
			if len(got.online) != len(want.online) {
				t.Errorf("seed %d, origin at %v: %d events stream in, want %d", seed, p, len(got.online), len(want.online))
				continue
			}
			for i, w := range want.online {
				if g := got.online[i]; g.Name != w.Name || !(math.Abs(g.Time-w.Time) < rounding) || !(math.Abs(g.at-w.at) < rounding) {
					t.Errorf("seed %d, origin at %v: event %d is %s at %.6f s, out at %.3f s, want %s at %.6f s, out at %.3f s", seed, p, i,
						g.Name, g.Time, g.at, w.Name, w.Time, w.at)
				}
			}
		}
	}
}
