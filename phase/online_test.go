package phase_test

import (
	"errors"
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
	"example.com/momentarm/phase"
	"example.com/momentarm/torque"
	"example.com/momentarm/validation/synth"
)

// reported is an event with the instant at which it came out.
type reported struct {
	phase.Event
	at float64
}

// stream pushes a recording through an Online and returns what came out. com tells
// the moments about the centre of mass; nil for none.
func stream(t testing.TB, o *phase.Online, rec *grf.Recording, moment func(i int) torque.Planes) []reported {
	t.Helper()
	var out []reported
	for i := range rec.Len() {
		s := sample(rec, i)
		if moment != nil {
			m := moment(i)
			s.Frontal, s.Horizontal = m.Frontal, m.Horizontal
		}
		for _, e := range o.Push(s) {
			out = append(out, reported{e, rec.Time(i)})
		}
	}
	return out
}

func sample(rec *grf.Recording, i int) phase.Sample {
	if rec.Split() {
		return phase.Sample{Lead: rec.Lead[i], Trail: rec.Trail[i]}
	}
	return phase.Sample{Net: rec.Net[i]}
}

func online(t testing.TB, opt phase.OnlineOptions) *phase.Online {
	t.Helper()
	o, err := phase.NewOnline(opt)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// Over random swings with noise, of every style, Online must report the events that
// Detect finds in the same samples, once each, and in time.
func TestOnlineEqualsDetect(t *testing.T) {
	n := 60
	if testing.Short() {
		n = 8
	}
	var worst, worstFinish, lateFinish float64
	late := map[phase.Name]float64{}
	for seed := uint64(1); seed <= uint64(n); seed++ {
		cfg := synth.Random(seed)
		s, err := synth.New(cfg)
		if err != nil {
			t.Fatal(err)
		}
		rec := synth.Disturbance{Seed: seed, ForceNoise: 3, MomentNoise: 0.5}.Apply(s.Recording())
		rec.Marks = nil
		net, err := rec.NetWrenches(nil)
		if err != nil {
			t.Fatal(err)
		}
		moment := func(i int) torque.Planes { return torque.About(net[i], s.At(rec.Time(i)).Position) }
		o := online(t, phase.OnlineOptions{Start: rec.Start, Rate: rec.Rate, Torque: true})
		got := stream(t, o, rec, moment)
		if o.Swings() != 1 {
			t.Errorf("seed %d, %v: %d swings", seed, cfg.Style, o.Swings())
			continue
		}
		address, _ := o.Address()
		in := phase.Input{Start: rec.Start, Rate: rec.Rate, Net: net, Lead: rec.Lead, Trail: rec.Trail, Address: address}
		for i := range net {
			m := moment(i)
			in.Frontal, in.Horizontal = append(in.Frontal, m.Frontal), append(in.Horizontal, m.Horizontal)
		}
		if still, err := phase.FindStill(rec, address.Weight, grf.QuietOptions{From: o.Downswing() + 0.5, To: rec.End()}); err == nil {
			in.Still = &still
		}
		want, err := phase.Detect(in)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[phase.Name]bool{}
		for _, e := range got {
			if seen[e.Name] {
				t.Errorf("seed %d: %s came twice", seed, e.Name)
			}
			seen[e.Name] = true
			w, ok := want.Get(e.Name)
			d := math.Abs(e.Time - w.Time)
			switch {
			case !ok:
				t.Errorf("seed %d: %s at %.4f s, which Detect does not find", seed, e.Name, e.Time)
			case e.Name == phase.Finish:
				worstFinish = math.Max(worstFinish, d)
				lateFinish = math.Max(lateFinish, e.at-e.Time)
			default:
				worst = math.Max(worst, d)
				if d > 1e-9 || e.Source != w.Source {
					t.Errorf("seed %d: %s at %.6f s, Detect has it at %.6f s", seed, e.Name, e.Time, w.Time)
				}
			}
			l := e.at - o.Downswing()
			late[e.Name] = math.Max(late[e.Name], l)
			if !(l <= o.Latency(e.Name)) {
				t.Errorf("seed %d: %s came %.3f s after the downswing, %.3f s are declared", seed, e.Name, l, o.Latency(e.Name))
			}
		}
		for _, w := range want.Found {
			if !seen[w.Name] {
				t.Errorf("seed %d, %v: %s at %.3f s did not come out: %v", seed, cfg.Style, w.Name, w.Time, o.Events().Missing)
			}
		}
		if g, w := len(o.Events().Missing), len(want.Missing); g != w {
			t.Errorf("seed %d: missing %v, Detect misses %v", seed, o.Events().Missing, want.Missing)
		}
	}
	// The finish depends on how long the golfer is watched standing still.
	if worstFinish > 0.025 {
		t.Errorf("finish %.1f ms off", 1000*worstFinish)
	}
	t.Logf("difference at most %.2g s, of the finish %.4f s, which comes at most %.2f s after it", worst, worstFinish, lateFinish)
	for _, name := range phase.Names() {
		if l, ok := late[name]; ok {
			t.Logf("%-22s at most %.3f s after the downswing", name, l)
		}
	}
}

// plain is a recording of one swing and what made it.
func plain(t testing.TB, cfg synth.Config) (*synth.Swing, *grf.Recording) {
	t.Helper()
	s, err := synth.New(cfg)
	if err != nil {
		t.Fatal(err)
	}
	return s, synth.Disturbance{Seed: 5, ForceNoise: 2, MomentNoise: 0.3}.Apply(s.Recording())
}

// together is the recording as one plate for both feet has it.
func together(t testing.TB, rec *grf.Recording) *grf.Recording {
	t.Helper()
	one := *rec
	var err error
	if one.Net, err = rec.NetWrenches(nil); err != nil {
		t.Fatal(err)
	}
	one.Lead, one.Trail = nil, nil
	return &one
}

// Slowly sampled, filtered beforehand, on one plate: the instants are those of the
// swing, later by the delay of the filter.
func TestOnlineAgainstKnownSwing(t *testing.T) {
	for name, c := range map[string]struct {
		rate, cutoff float64
		feet         phase.FeetMeasured
		within       float64
	}{
		"1000 Hz":  {1000, 0, phase.FeetApart, 0.004},
		"250 Hz":   {250, 0, phase.FeetApart, 0.008},
		"filtered": {1000, 50, phase.FeetApart, 0.004},
		"together": {1000, 0, phase.FeetTogether, 0.004},
	} {
		s, rec := plain(t, synth.Config{Rate: c.rate, Start: 10})
		delay := 0.0
		if c.cutoff > 0 {
			delay = filtered(t, rec, c.cutoff)
		}
		if c.feet == phase.FeetTogether {
			rec = together(t, rec)
		}
		o := online(t, phase.OnlineOptions{Start: rec.Start, Rate: rec.Rate, Feet: c.feet})
		seen := map[phase.Name]float64{}
		for _, e := range stream(t, o, rec, nil) {
			seen[e.Name] = e.Time - delay
		}
		for _, name := range instants {
			got, ok := seen[name]
			feet := name == phase.TrailLoadPeak || name == phase.EvenLoad || name == phase.LeadVerticalPeak
			torque := name == phase.FrontalTorquePeak || name == phase.VerticalTorquePeak
			if absent := torque || feet && c.feet == phase.FeetTogether; absent != !ok {
				t.Errorf("%s: %s: reported %v: %v", name, name, ok, o.Events().Missing)
			} else if ok && !(math.Abs(got-s.EventTime(string(name))) < c.within) {
				t.Errorf("%s: %s at %.4f s, true %.4f s", name, name, got, s.EventTime(string(name)))
			}
		}
		if e := o.Events(); len(e.Found) != len(seen) || o.State() == phase.Swinging {
			t.Errorf("%s: %d events came out, %d are known; %v", name, len(seen), len(e.Found), o.State())
		}
	}
}

// filtered low-passes a recording in place and returns the delay of it.
func filtered(t testing.TB, rec *grf.Recording, cutoff float64) float64 {
	t.Helper()
	var delay float64
	for _, ws := range [][]grf.Wrench{rec.Lead, rec.Trail} {
		f, err := filter.NewCausal(filter.CausalOptions{Cutoff: cutoff, Rate: rec.Rate, Channels: 6})
		if err != nil {
			t.Fatal(err)
		}
		delay = f.Delay()
		for i, w := range ws {
			ws[i] = f.PushWrench(w)
		}
	}
	return delay
}

func TestOnlineAllocates(t *testing.T) {
	_, rec := plain(t, synth.Config{})
	o := online(t, phase.OnlineOptions{Rate: rec.Rate, Torque: true})
	i, sign := 0, 1
	if n := testing.AllocsPerRun(50_000, func() { // over and over the quiet stance, past every drop of old samples
		o.Push(sample(rec, i))
		if i += sign; i == 0 || i == 1500 {
			sign = -sign
		}
	}); n != 0 {
		t.Errorf("%g allocations per sample in the quiet stance", n)
	}
	if o.State() != phase.Ready {
		t.Fatal(o.State())
	}
	i = 1501
	if n := testing.AllocsPerRun(900, func() { o.Push(sample(rec, i)); i++ }); n != 0 {
		t.Errorf("%g allocations per sample in the backswing", n)
	}
	if o.State() != phase.Moving {
		t.Fatal(o.State())
	}
}

func TestOnlineReset(t *testing.T) {
	_, rec := plain(t, synth.Config{})
	o := online(t, phase.OnlineOptions{Rate: rec.Rate})
	if !math.IsNaN(o.Downswing()) || o.Time() != -1/rec.Rate {
		t.Errorf("before the first sample: %g, %g", o.Downswing(), o.Time())
	}
	a := stream(t, o, rec, nil)
	o.Reset()
	if _, ok := o.Address(); ok || o.Swings() != 0 || o.State() != phase.Waiting || len(o.Events().Found) != 0 {
		t.Error("it remembers the swing")
	}
	if b := stream(t, o, rec, nil); len(a) < 9 || !cmp.Equal(a, b, cmp.AllowUnexported(reported{}), cmpopts.EquateNaNs()) {
		t.Errorf("%v\n%v", a, b)
	}
}

func TestOnlineRefuses(t *testing.T) {
	for name, opt := range map[string]phase.OnlineOptions{
		"no rate":     {},
		"fast":        {Rate: 1e6},
		"NaN":         {Rate: math.NaN()},
		"no start":    {Rate: 1000, Start: math.Inf(1)},
		"feet":        {Rate: 1000, Feet: 7},
		"long stance": {Rate: 1000, Quiet: grf.QuietOptions{Duration: 5}},
		"limit":       {Rate: 1000, Quiet: grf.QuietOptions{Limit: -1}},
		"weight":      {Rate: 1000, Quiet: grf.QuietOptions{MinWeight: -1}},
	} {
		if o, err := phase.NewOnline(opt); !errors.Is(err, phase.ErrInput) || o != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestOnlineMarks(t *testing.T) {
	s, rec := plain(t, synth.Config{})
	o := online(t, phase.OnlineOptions{Rate: rec.Rate})
	impact, top := s.EventTime("impact"), s.EventTime("top")
	given := map[phase.Name]phase.Event{}
	for i := range rec.Len() {
		if i == rec.Index(impact)+20 { // a microphone hears it
			if err := o.Mark("P7", impact); err != nil {
				t.Fatal(err)
			}
			for mark, want := range map[string]error{"impcat": phase.ErrUnknownMark, "top": phase.ErrInput} {
				if err := o.Mark(mark, impact+1); !errors.Is(err, want) {
					t.Errorf("%s in the future: %v", mark, err)
				}
			}
			if err := o.Mark("top", -1); !errors.Is(err, phase.ErrInput) {
				t.Errorf("before the start: %v", err)
			}
		}
		if i == rec.Index(impact)+500 { // a camera is slower
			if err := o.Mark("top", top); err != nil {
				t.Fatal(err)
			}
		}
		for _, e := range o.Push(sample(rec, i)) {
			if e.Source == phase.Given {
				given[e.Name] = e
			}
		}
		if i == rec.Index(impact)+900 {
			if err := o.Mark("onset", 2); !errors.Is(err, phase.ErrReported) {
				t.Errorf("a mark for what was reported: %v", err)
			}
		}
	}
	if len(given) != 2 || given[phase.Impact].Time != impact || given[phase.Top].Time != top {
		t.Errorf("given: %v", given)
	}
	n := 0
	for _, p := range o.Events().Phases() {
		if p.Name == "downswing" && p.Source() == phase.Given {
			n++
		}
	}
	if n != 1 {
		t.Errorf("phases: %v", o.Events().Phases())
	}
}

func TestStateText(t *testing.T) {
	for s, want := range map[phase.State]string{phase.Waiting: "waiting", phase.Ready: "ready", phase.Moving: "moving", phase.Swinging: "swinging", 9: "State(9)"} {
		if s.String() != want {
			t.Errorf("%q, want %q", s, want)
		}
	}
	if o := online(t, phase.OnlineOptions{Rate: 100}); !math.IsNaN(o.Latency("coffee")) || !(o.Latency(phase.Top) > 0) {
		t.Error("latency of what is no event")
	}
}

// PushFrom leaves the sample alone, absurd values included.
func TestPushFromKeepsTheSample(t *testing.T) {
	_, rec := plain(t, synth.Config{})
	o, p := online(t, phase.OnlineOptions{Rate: rec.Rate}), online(t, phase.OnlineOptions{Rate: rec.Rate})
	events := 0
	for i := range rec.Lead {
		s := sample(rec, i)
		if i%1000 == 7 {
			s.Lead.Force.X = 1e10
		}
		before := s
		got, want := o.PushFrom(&s), p.Push(before)
		if s != before {
			t.Fatalf("sample %d: %+v became %+v", i, before, s)
		}
		if d := cmp.Diff(want, got, cmpopts.EquateNaNs()); d != "" {
			t.Fatalf("sample %d: %s", i, d)
		}
		events += len(got)
	}
	if events == 0 {
		t.Error("no events")
	}
}

func BenchmarkOnline(b *testing.B) {
	_, rec := plain(b, synth.Config{})
	o := online(b, phase.OnlineOptions{Rate: rec.Rate, Torque: true})
	var slowest time.Duration
	n := 0
	for b.Loop() {
		i := n % rec.Len()
		from := time.Now()
		o.Push(sample(rec, i))
		slowest = max(slowest, time.Since(from))
		n++
	}
	b.ReportMetric(float64(slowest.Microseconds())/1000, "ms/slowest")
}
