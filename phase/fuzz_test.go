package phase_test

import (
	"encoding/binary"
	"errors"
	"math"
	"sync"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/validation/synth"
)

var fuzzSwing = sync.OnceValue(func() *synth.Swing {
	s, err := synth.New(synth.Config{Rate: 100, Waggles: 1})
	if err != nil {
		panic(err)
	}
	return s
})

// edited returns the made-up swing after what a byte string says was done to it:
// eight bytes an edit. Values that no plate measures are among them.
func edited(data []byte) *grf.Recording {
	rec := *fuzzSwing().Recording()
	rec.Lead, rec.Trail, rec.Marks = append([]grf.Wrench(nil), rec.Lead...), append([]grf.Wrench(nil), rec.Trail...), nil
	values := [...]float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, 1, 50, -50, 400, -400, 3000, 1e9, -1e300, math.MaxFloat64}
	for n := 0; len(data) >= 8 && n < 40; data, n = data[8:], n+1 {
		foot := rec.Lead
		if data[0]&1 != 0 {
			foot = rec.Trail
		}
		at := int(binary.LittleEndian.Uint16(data[1:])) % len(foot)
		part := foot[at:min(len(foot), at+int(binary.LittleEndian.Uint16(data[3:])))]
		value := values[int(data[5])%len(values)]
		for i := range part {
			w := &part[i]
			for c, x := range [6]*float64{&w.Force.X, &w.Force.Y, &w.Force.Z, &w.Moment.X, &w.Moment.Y, &w.Moment.Z} {
				if data[6]>>c&1 == 0 {
					continue
				}
				switch data[0] >> 1 % 4 {
				case 0:
					*x = value
				case 1:
					*x += value
				case 2:
					*x = -*x
				case 3:
					*x = value * float64(i%(1+int(data[7]))) / 100
				}
			}
		}
	}
	return &rec
}

func fuzzSeeds(f *testing.F) {
	f.Add(0.0, 100.0, []byte{})
	f.Add(0.0, 100.0, []byte{0, 200, 0, 30, 0, 0, 63, 0})                            // lost
	f.Add(5.0, 100.0, []byte{1, 200, 0, 9, 0, 1, 4, 0})                              // infinite
	f.Add(-3.0, 20.0, []byte{0, 0, 0, 255, 255, 3, 63, 0, 1, 0, 0, 255, 255, 3, 63}) // zeros
	f.Add(0.0, 1e5, []byte{6, 0, 1, 255, 0, 7, 4, 50})                               // a saw
	f.Add(1e300, 1e300, []byte{2, 0, 1, 255, 0, 12, 63, 0})                          // huge
}

// FuzzDetect: whatever the samples, the rate and the bounds are, every event is found
// within the series or missing with a reason, or there is an error of those that are
// documented.
func FuzzDetect(f *testing.F) {
	fuzzSeeds(f)
	f.Fuzz(func(t *testing.T, start, rate float64, data []byte) {
		rec := edited(data)
		rec.Start, rec.Rate = start, rate
		net, err := rec.NetWrenches(nil)
		if err != nil {
			t.Fatal(err)
		}
		q, err := phase.FindAddress(rec, grf.QuietOptions{})
		if err != nil {
			if !errors.Is(err, grf.ErrRate) && !errors.Is(err, grf.ErrRecording) && !errors.Is(err, grf.ErrNoQuiet) && !errors.Is(err, grf.ErrWindow) {
				t.Fatal(err)
			}
			q = grf.Quiet{First: 10, Last: 60, Weight: 700}
		}
		in := phase.Input{Start: start, Rate: rate, Net: net, Lead: rec.Lead, Trail: rec.Trail, Address: q}
		if still, err := phase.FindStill(rec, q.Weight, grf.QuietOptions{}); err == nil {
			in.Still = &still
		}
		for i, w := range net {
			in.Frontal, in.Horizontal = append(in.Frontal, w.Moment.X), append(in.Horizontal, w.Moment.Z)
			in.COMSD = append(in.COMSD, r3.Vec{X: 0.01, Y: 0.01, Z: float64(i)})
		}
		ev, err := phase.Detect(in)
		if err != nil {
			if !errors.Is(err, phase.ErrInput) && !errors.Is(err, phase.ErrNoSwing) {
				t.Fatal(err)
			}
			return
		}
		checkEvents(t, ev, start-1/rate, start+float64(len(net))/rate)
		if len(ev.Found)+len(ev.Missing) != 12 {
			t.Fatalf("%d found, %d missing", len(ev.Found), len(ev.Missing))
		}
	})
}

func checkEvents(t *testing.T, ev phase.Events, from, to float64) {
	t.Helper()
	seen := map[phase.Name]bool{}
	for _, e := range ev.Found {
		if !(e.Time >= from && e.Time <= to) || e.SD < 0 || math.IsInf(e.SD, 0) || seen[e.Name] {
			t.Fatalf("%+v, wanted once between %g and %g s", e, from, to)
		}
		seen[e.Name] = true
	}
	for _, m := range ev.Missing {
		if m.Reason == "" || seen[m.Name] {
			t.Fatalf("%+v", m)
		}
		seen[m.Name] = true
	}
}

// FuzzOnline: whatever comes in, an event comes out at most once a swing, not later
// than the samples and not earlier than what is kept; after Reset all is as before.
func FuzzOnline(f *testing.F) {
	fuzzSeeds(f)
	f.Fuzz(func(t *testing.T, start, rate float64, data []byte) {
		if !(rate <= 2000) {
			rate = 100
		}
		opt := phase.OnlineOptions{Start: start, Rate: rate, Torque: true}
		o, err := phase.NewOnline(opt)
		if err != nil {
			if !errors.Is(err, phase.ErrInput) {
				t.Fatal(err)
			}
			return
		}
		rec := edited(data)
		run := func() (out []phase.Event) {
			swings := 0
			said := map[phase.Name]bool{}
			for i := range rec.Lead {
				if i == 350 && len(data) > 8 {
					_ = o.Mark("top", o.Time()-float64(data[8])/100)
				}
				net := rec.Lead[i].Add(rec.Trail[i])
				for _, e := range o.Push(phase.Sample{Lead: rec.Lead[i], Trail: rec.Trail[i], Frontal: net.Moment.X, Horizontal: net.Moment.Z}) {
					if o.Swings() != swings {
						swings = o.Swings()
						clear(said)
					}
					if said[e.Name] || !(e.Time <= o.Time()+1/rate) || e.SD < 0 || math.IsInf(e.SD, 0) {
						t.Fatalf("%+v at %g s", e, o.Time())
					}
					said[e.Name] = true
					out = append(out, e)
				}
			}
			if swings > 0 {
				checkEvents(t, o.Events(), math.Inf(-1), o.Time()+1/rate)
			}
			return out
		}
		first := run()
		o.Reset()
		if second := run(); len(first) != len(second) {
			t.Fatalf("%d events, after Reset %d", len(first), len(second))
		}
	})
}
