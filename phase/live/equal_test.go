package live_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/live"
	"example.com/momentarm/torque"
	"example.com/momentarm/validation/synth"
)

// The chain has to give what its parts give in batch form, to the last digit where
// the order of operations is the same.
func TestChainEqualsParts(t *testing.T) {
	r := newRig(t)
	_, _, samples := r.take(t, synth.Config{}, 2)
	c := chain(t, r.config())

	// Zero on the unloaded start, then the same samples again from the beginning.
	c.Zero()
	push(t, c, 0, samples[:1000])
	bases := c.Zeros()
	if c.State() != live.Zeroed || len(bases) != 2 {
		t.Fatal(c.State(), c.Refusal())
	}
	c.Restart()
	frames := make([]live.Frame, len(samples))
	var events []phase.Event
	weighed := -1
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
		events = append(events, f.Events...)
		if weighed < 0 && f.State == live.Ready {
			weighed = i
		}
		frames[i] = f
	}
	if weighed != 5099 {
		t.Fatalf("weighed at sample %d: %v", weighed, c.Refusal())
	}

	feet := [2][]grf.Wrench{} // trail, lead
	for p := range 2 {
		series := make([][]float64, 6)
		for j := range series {
			for _, ch := range samples {
				series[j] = append(series[j], ch[6*p+j])
			}
		}
		series, err := bases[p].Subtract(nil, series)
		if err != nil {
			t.Fatal(err)
		}
		ws, err := r.plates[p].Wrenches(nil, series)
		if err != nil {
			t.Fatal(err)
		}
		ws = axes.Wrenches(ws, ws)
		for i, f := range frames {
			measured := [2]grf.Wrench{f.MeasuredTrail, f.MeasuredLead}[p]
			if d := distance(measured, ws[i]); d > 1e-9 {
				t.Fatalf("measured wrench of plate %d differs by %g at sample %d", p+1, d, i)
			}
		}
		low, err := filter.NewCausal(filter.CausalOptions{Cutoff: 50, Rate: rate, Channels: 6})
		if err != nil {
			t.Fatal(err)
		}
		flat := make([]float64, 0, 6*len(ws))
		for _, w := range ws {
			v := components(w)
			flat = append(flat, v[:]...)
		}
		flat = low.Push(flat, flat)
		for i := range ws {
			v := flat[6*i:]
			ws[i] = grf.Wrench{Force: r3.Vec{X: v[0], Y: v[1], Z: v[2]}, Moment: r3.Vec{X: v[3], Y: v[4], Z: v[5]}}
		}
		feet[p] = ws
	}
	trail, lead := feet[0], feet[1]
	net, err := grf.AddSeries(nil, lead, trail)
	if err != nil {
		t.Fatal(err)
	}
	leadCOP, leadFree := cop.Series(nil, nil, lead, 0, cop.DefaultMinVertical)
	trailCOP, trailFree := cop.Series(nil, nil, trail, 0, cop.DefaultMinVertical)
	netCOP, netFree := cop.Series(nil, nil, net, 0, cop.DefaultMinVertical)
	place := make([]r3.Vec, len(frames))
	for i, f := range frames {
		place[i] = f.COM.Position
	}
	moment, err := torque.AboutSeries(nil, net, place)
	if err != nil {
		t.Fatal(err)
	}
	arm, err := torque.ArmSeries(nil, net, place, netFree, torque.DefaultMinForce)
	if err != nil {
		t.Fatal(err)
	}
	online, err := phase.NewOnline(phase.OnlineOptions{Rate: rate, Torque: true})
	if err != nil {
		t.Fatal(err)
	}
	var wantEvents []phase.Event
	near := cmp.Options{cmpopts.EquateApprox(1e-9, 1e-9), cmpopts.EquateNaNs()}
	for i, f := range frames {
		want := live.Frame{
			Sequence: f.Sequence, Time: float64(i) / rate, State: f.State, Health: f.Health, Motion: f.Motion,
			MeasuredLead: f.MeasuredLead, MeasuredTrail: f.MeasuredTrail, MeasuredNet: f.MeasuredNet, COM: f.COM, Events: f.Events,
			Lead: lead[i], Trail: trail[i], Net: net[i],
			LeadCOP: leadCOP[i], TrailCOP: trailCOP[i], NetCOP: netCOP[i],
			LeadFree: leadFree[i], TrailFree: trailFree[i], NetFree: netFree[i],
			LeadShare: cop.Share(lead[i], trail[i]), Moment: moment[i], Arm: arm[i],
		}
		if d := cmp.Diff(want, f, near); d != "" {
			t.Fatalf("frame %d: %s", i, d)
		}
		// The detector sees the torque about the predicted centre of mass; the
		// frame has it after the golfer's stillness has corrected it.
		wantEvents = append(wantEvents, online.Push(phase.Sample{
			Lead: lead[i], Trail: trail[i], Frontal: f.Moment.Frontal, Horizontal: f.Moment.Horizontal, COMSD: f.COM.PositionSD,
		})...)
	}
	if len(events) < 12 || len(events) != len(wantEvents) {
		t.Fatalf("%d events, %d by themselves", len(events), len(wantEvents))
	}
	for i, e := range wantEvents {
		if got := events[i]; got.Name != e.Name || math.Abs(got.Time-(e.Time-c.Delay())) > 1e-4 {
			t.Errorf("%v, by itself %v", got, e)
		}
	}
}

// The tracker has to be that of package com, corrected by what StandStill says of
// the same stretches.
func TestChainTracksAsStandStill(t *testing.T) {
	c, next, samples := readied(t)
	quiet, _ := c.Golfer()
	frames := push(t, c, next, samples) // a second of stillness
	var net []grf.Wrench
	for _, f := range frames {
		net = append(net, f.Net)
	}
	mass, fixes, err := com.StandStill(net, frames[0].Time, rate, 0, com.Stillness{}, 0.91, 0.07)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(mass-quiet.Mass) > 0.02 {
		t.Errorf("mass %g and %g kg", mass, quiet.Mass)
	}
	tr, err := com.NewTracker(com.TrackerOptions{Mass: mass, Rate: rate, Start: frames[0].Time, Lag: 2})
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range net {
		tr.Push(w)
	}
	for _, fix := range fixes {
		if err := tr.Correct(fix); err != nil {
			t.Fatal(err)
		}
	}
	want, got := tr.Now(), frames[len(frames)-1].COM
	if d := r3.Norm(r3.Sub(want.Position, got.Position)); d > 0.002 {
		t.Errorf("positions %v and %v", want.Position, got.Position)
	}
	if d := r3.Norm(r3.Sub(want.Velocity, got.Velocity)); d > 0.005 {
		t.Errorf("velocities %v and %v", want.Velocity, got.Velocity)
	}
}

// distance is that of the largest component.
func distance(a, b grf.Wrench) float64 {
	var most float64
	x, y := components(a), components(b)
	for i := range x {
		d := math.Abs(x[i] - y[i])
		if math.IsNaN(d) {
			return d
		}
		most = math.Max(most, d)
	}
	return most
}

// Any division into blocks gives the same frames, events among them.
func TestBlocksGiveTheSame(t *testing.T) {
	r := newRig(t)
	_, _, samples := r.take(t, synth.Config{}, 2)
	var want []string
	for _, size := range []int{1, 0, 7, 64, 4096} { // 0: one by one with PushTo
		c := chain(t, r.config())
		c.Zero()
		push(t, c, 0, samples[:4100])
		if err := c.Weigh(); err != nil {
			t.Fatal(err)
		}
		var got []string
		dst := make([]live.Frame, 1)
		events := 0
		for i := 4100; i < len(samples); i += max(1, size) {
			var flat []float64
			for _, ch := range samples[i:min(i+max(1, size), len(samples))] {
				flat = append(flat, ch...)
			}
			var err error
			if size == 0 {
				err = c.PushTo(&dst[0], &live.Sample{Sequence: uint64(i), Channels: flat})
			} else {
				dst, err = c.PushBlock(dst, live.Sample{Sequence: uint64(i), Channels: flat})
			}
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range dst {
				got = append(got, fmt.Sprintf("%+v", f))
				events += len(f.Events)
			}
		}
		if size == 1 {
			want = got
		}
		if d := cmp.Diff(want, got); d != "" || events < 12 || c.State() != live.Ready {
			t.Fatalf("blocks of %d, %d events, %v: %s", size, events, c.State(), d)
		}
		last := dst[0]
		for _, bad := range []struct {
			live.Sample
			want error
		}{
			{live.Sample{Sequence: 1 << 40}, grf.ErrChannels},
			{live.Sample{Sequence: 1, Channels: samples[0]}, live.ErrSequence},
		} {
			if err := c.PushTo(&dst[0], &bad.Sample); !errors.Is(err, bad.want) || fmt.Sprintf("%+v", dst[0]) != fmt.Sprintf("%+v", last) {
				t.Errorf("a refused sample: %v, frame %+v", err, dst[0])
			}
		}
		if dst, err := c.PushBlock(dst, live.Sample{Sequence: 1 << 40}); err != nil || len(dst) != 0 {
			t.Errorf("an empty block: %d frames, %v", len(dst), err)
		}
	}
}
