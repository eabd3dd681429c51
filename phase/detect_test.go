package phase_test

import (
	"errors"
	"math"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/validation/synth"
)

// clean returns the input for a synthetic swing without noise and filter.
func clean(t *testing.T, cfg synth.Config) (*synth.Swing, phase.Input) {
	t.Helper()
	s, err := synth.New(cfg)
	if err != nil {
		t.Fatal(err)
	}
	rec := s.Recording()
	in := phase.Input{Start: rec.Start, Rate: rec.Rate, Lead: rec.Lead, Trail: rec.Trail}
	for i := range rec.Lead {
		st := s.At(rec.Time(i))
		in.Net = append(in.Net, st.Net)
		in.Frontal = append(in.Frontal, st.Moment.X)
		in.Horizontal = append(in.Horizontal, st.Moment.Z)
	}
	q, err := grf.FindQuiet(rec, grf.QuietOptions{From: rec.Start, To: s.EventTime("top")})
	if err != nil {
		t.Fatal(err)
	}
	in.Address = q
	return s, in
}

// instants are the events that the forces define sharply.
var instants = []phase.Name{phase.TrailLoadPeak, phase.LateralTurn, phase.LowestVertical, phase.EvenLoad,
	phase.LateralPeak, phase.FrontalTorquePeak, phase.LeadVerticalPeak, phase.VerticalTorquePeak}

// On clean data each of them must come out where the closed form of the swing
// has it: within a tenth of a sample.
func TestDetectAgainstKnownSwing(t *testing.T) {
	s, in := clean(t, synth.Config{})
	ev, err := phase.Detect(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range instants {
		if d := ev.Time(name) - s.EventTime(string(name)); !(math.Abs(d) < 1e-4) {
			t.Errorf("%s: found %.5f s, true %.5f s", name, ev.Time(name), s.EventTime(string(name)))
		}
	}
	if d := ev.Time(phase.Onset) - s.EventTime("onset"); !(math.Abs(d) < 1e-3) {
		t.Errorf("onset %.1f ms off", 1000*d)
	}
	if e, _ := ev.Get(phase.Impact); e.Source != phase.Estimated || !(e.SD > 0.01) {
		t.Errorf("impact from forces must be an estimate that says so: %+v", e)
	}
	for i := 1; i < len(ev.Found); i++ {
		if ev.Found[i].Time < ev.Found[i-1].Time {
			t.Errorf("events are not sorted: %v", ev.Found)
		}
	}
}

// Sampled ten times as slowly, or seen from another clock, the same instants
// must come out.
func TestDetectDoesNotDependOnTheClock(t *testing.T) {
	s, in := clean(t, synth.Config{Start: 100, Rate: 250})
	ev, err := phase.Detect(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range instants {
		if d := ev.Time(name) - s.EventTime(string(name)); !(math.Abs(d) < 5e-4) {
			t.Errorf("%s: found %.5f s, true %.5f s", name, ev.Time(name), s.EventTime(string(name)))
		}
	}
}

func TestGivenMarksWin(t *testing.T) {
	_, in := clean(t, synth.Config{})
	in.Given = map[string]float64{"impact": 3.17, "top": 2.9, "lowest_vertical": 2.95}
	ev, err := phase.Detect(in)
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range in.Given {
		e, ok := ev.Get(phase.Name(name))
		if !ok || e.Time != want || e.Source != phase.Given || !math.IsNaN(e.SD) {
			t.Errorf("%s: %+v", name, e)
		}
	}
	n := 0
	for _, p := range ev.Phases() {
		if p.Duration() <= 0 {
			t.Errorf("phase %s lasts %g s", p.Name, p.Duration())
		}
		if p.Name == "backswing" || p.Name == "downswing" {
			n++
		}
	}
	if n != 2 {
		t.Errorf("phases with a given top: %v", ev.Phases())
	}
}

// One plate for both feet: what needs the feet apart is missing with the reason,
// everything else stays the same.
func TestOnePlateForBothFeet(t *testing.T) {
	s, in := clean(t, synth.Config{})
	in.Lead, in.Trail = nil, nil
	ev, err := phase.Detect(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range instants {
		switch name {
		case phase.TrailLoadPeak, phase.LeadVerticalPeak, phase.EvenLoad:
			if _, ok := ev.Get(name); ok {
				t.Errorf("%s was found without feet", name)
			}
		default:
			if d := ev.Time(name) - s.EventTime(string(name)); !(math.Abs(d) < 1e-4) {
				t.Errorf("%s: %.2f ms off", name, 1000*d)
			}
		}
	}
	for _, m := range ev.Missing {
		if m.Reason == "" {
			t.Errorf("%s is missing without a reason", m.Name)
		}
	}
}

func TestUnknownCentreOfMass(t *testing.T) {
	_, in := clean(t, synth.Config{})
	in.Frontal, in.Horizontal = nil, nil
	ev, err := phase.Detect(in)
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := ev.Get(phase.FrontalTorquePeak); ok {
		t.Error("a torque peak without torque")
	}
}

func TestNoSwing(t *testing.T) {
	_, in := clean(t, synth.Config{})
	cut := in.Address.Last + 1
	in.Net, in.Lead, in.Trail = in.Net[:cut], in.Lead[:cut], in.Trail[:cut]
	in.Frontal, in.Horizontal = in.Frontal[:cut], in.Horizontal[:cut]
	if ev, err := phase.Detect(in); !errors.Is(err, phase.ErrNoSwing) || len(ev.Found) != 0 {
		t.Errorf("standing: %v, %v", ev, err)
	}
}

func TestDetectRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*phase.Input)
		want   error
	}{
		"no samples":     {func(in *phase.Input) { in.Net = nil }, phase.ErrInput},
		"no rate":        {func(in *phase.Input) { in.Rate = 0 }, phase.ErrInput},
		"no weight":      {func(in *phase.Input) { in.Address.Weight = math.NaN() }, phase.ErrInput},
		"stance outside": {func(in *phase.Input) { in.Address.Last = 1 << 20 }, phase.ErrInput},
		"one foot":       {func(in *phase.Input) { in.Trail = nil }, phase.ErrInput},
		"short foot":     {func(in *phase.Input) { in.Lead = in.Lead[:5] }, phase.ErrInput},
		"short torque":   {func(in *phase.Input) { in.Frontal = in.Frontal[:5] }, phase.ErrInput},
		"unknown mark":   {func(in *phase.Input) { in.Given = map[string]float64{"impcat": 1} }, phase.ErrUnknownMark},
		"endless mark":   {func(in *phase.Input) { in.Given = map[string]float64{"impact": math.Inf(1)} }, phase.ErrInput},
	} {
		_, in := clean(t, synth.Config{})
		c.change(&in)
		if _, err := phase.Detect(in); !errors.Is(err, c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestSourceText(t *testing.T) {
	for s, want := range map[phase.Source]string{phase.Given: "given", phase.Detected: "detected", phase.Estimated: "estimated"} {
		if b, err := s.MarshalText(); err != nil || string(b) != want {
			t.Errorf("%d: %s, %v", int(s), b, err)
		}
	}
	if _, err := phase.Source(7).MarshalText(); err == nil {
		t.Error("source 7 has a text")
	}
	if phase.Source(7).String() != "Source(7)" {
		t.Error(phase.Source(7))
	}
}
