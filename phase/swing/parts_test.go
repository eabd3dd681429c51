package swing_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// row makes swings of one golfer, each of another style, one after the other.
func row(t *testing.T, gap float64, noise synth.Disturbance, cfgs ...synth.Config) ([]*synth.Swing, *grf.Recording, []float64) {
	t.Helper()
	var swings []*synth.Swing
	for _, cfg := range cfgs {
		swings = append(swings, synthetic(t, cfg))
	}
	rec, offset, err := synth.Join(gap, swings...)
	if err != nil {
		t.Fatal(err)
	}
	return swings, noise.Apply(rec), offset
}

// Every swing of a recording comes out as a part that Analyse accepts without
// another word about several swings, with the events of that swing.
func TestSplit(t *testing.T) {
	noise := synth.Disturbance{Seed: 8, ForceNoise: 2, MomentNoise: 0.3}
	for name, c := range map[string]struct {
		gap  float64
		cfgs []synth.Config
	}{
		"one":             {0, []synth.Config{{}}},
		"two at once":     {0, []synth.Config{{}, {Style: synth.Reverse}}},
		"five":            {2, []synth.Config{{}, {Style: synth.Squat}, {Style: synth.HalfSwing}, {Style: synth.LeadLift}, {Style: synth.LateWide}}},
		"waggles between": {1, []synth.Config{{Waggles: 2}, {Waggles: 3, WaggleSize: 4}, {Style: synth.HangBack, Waggles: 2}}},
		"practice swing":  {1, []synth.Config{{Style: synth.HalfSwing, Downswing: 0.5}, {}}},
		"no hold":         {1, []synth.Config{{Hold: 0.01}, {Hold: 0.01}}},
		"only a waggle":   {1, []synth.Config{{}, {Style: synth.Still, Waggles: 3}}},
		"slow":            {5, []synth.Config{{Rate: 200}, {Rate: 200}}},
		"left-handed":     {1, []synth.Config{{Handed: grf.LeftHanded}, {Handed: grf.LeftHanded}}},
		"stepping on":     {1, []synth.Config{{Unloaded: 1}, {}}},
		"stepped off, on": {1, []synth.Config{{}, {Unloaded: 2}}},
	} {
		swings, rec, offset := row(t, c.gap, noise, c.cfgs...)
		parts, warnings, err := swing.Split(rec, swing.Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		swings = slices.DeleteFunc(swings, func(s *synth.Swing) bool { return s.Config().Style == synth.Still })
		if len(parts) != len(swings) {
			t.Errorf("%s: %d parts, want %d: %v", name, len(parts), len(swings), warnings)
			continue
		}
		for i, p := range parts {
			what := fmt.Sprintf("%s, swing %d", name, i+1)
			if err := p.Recording.Check(); err != nil {
				t.Error(err)
			}
			if i > 0 && p.Recording.Start < parts[i-1].Downswing+0.5 {
				t.Errorf("%s begins in the swing before", what)
			}
			q := p.Address
			if q.First < 0 || q.Last >= p.Recording.Len() || math.Abs(p.Recording.Time(q.Last)-q.To) > 1e-9 {
				t.Errorf("%s: address is samples %d to %d", what, q.First, q.Last)
			}
			a, err := swing.Analyse(p.Recording, swing.Options{})
			if err != nil {
				t.Errorf("%s: %v", what, err)
				continue
			}
			if got := codes(a.Warnings); slices.Contains(got, "several-swings") {
				t.Errorf("%s: %v", what, a.Warnings)
			}
			compareEvents(t, what, a, swings[i], offset[i])
		}
	}
}

// Of several swings, that at the given impact is analysed, else the fastest; which it
// is and that there are others is said. The numbers are those of the swing alone.
func TestAnalyseOfSeveralSwings(t *testing.T) {
	swings, rec, offset := row(t, 1.5, synth.Disturbance{Seed: 8, ForceNoise: 2, MomentNoise: 0.3},
		synth.Config{Style: synth.HalfSwing}, synth.Config{Style: synth.LeadLift}, synth.Config{Style: synth.HangBack})
	parts, _, err := swing.Split(rec, swing.Options{})
	if err != nil || len(parts) != 3 {
		t.Fatal(len(parts), err)
	}
	for given := -1; given < 3; given++ {
		r, want := *rec, given
		if given >= 0 {
			r.Marks = map[string]float64{"P7": swings[given].EventTime("impact") + offset[given]}
		} else {
			want = 1 // the one that shifts the load fastest
		}
		a, err := swing.Analyse(&r, swing.Options{})
		if err != nil {
			t.Fatal(err)
		}
		compareEvents(t, fmt.Sprintf("given %d", given), a, swings[want], offset[want])
		if n := len(slices.DeleteFunc(codes(a.Warnings), func(c string) bool { return c != "several-swings" })); n != 1 {
			t.Errorf("given %d: warned %d times: %v", given, n, a.Warnings)
		}
		if e, _ := a.Events.Get(phase.Impact); (given >= 0) != (e.Source == phase.Given) {
			t.Errorf("given %d: impact %v", given, e)
		}
		part := *parts[want].Recording
		part.Marks = r.Marks
		alone, err := swing.Analyse(&part, swing.Options{})
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range alone.Measures {
			got, ok := a.Measure(m.Name)
			// A filter near its ends knows more or less of what lies beyond.
			if !ok || math.Abs(got.Value-m.Value) > 1e-6*(1+math.Abs(m.Value)) || math.IsNaN(got.Value) != math.IsNaN(m.Value) {
				t.Errorf("given %d: %s is %g, of the part alone %g", given, m.Name, got.Value, m.Value)
			}
		}
	}
}

// What begins in the middle of a swing is left out, with a word.
func TestSplitLeavesOutWhatIsCutOff(t *testing.T) {
	swings, rec, offset := row(t, 1.5, synth.Disturbance{Seed: 8, ForceNoise: 2, MomentNoise: 0.3},
		synth.Config{Style: synth.LeadLift}, synth.Config{}, synth.Config{Style: synth.Squat})
	from, _ := swings[0].Motion()
	rec = synth.Cut(rec, from+0.4, offset[2]+swings[2].EventTime("impact")+0.3)
	parts, warnings, err := swing.Split(rec, swing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(parts) != 2 || len(warnings) != 1 || warnings[0].Code != "swing-left-out" {
		t.Fatalf("%d parts, %v", len(parts), warnings)
	}
	t.Log(warnings)
	for i, p := range parts {
		a, err := swing.Analyse(p.Recording, swing.Options{})
		if err != nil {
			t.Fatal(err)
		}
		compareEvents(t, "kept", a, swings[i+1], offset[i+1])
		if _, ok := a.Events.Get(phase.Finish); ok != (i == 0) {
			t.Errorf("part %d: finish %v: %v", i, ok, a.Events.Missing)
		}
	}
	// The whole: the fastest of those that can be worked on.
	a, err := swing.Analyse(rec, swing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if d := a.Events.Time(phase.LowestVertical); d < rec.Start+2 {
		t.Errorf("the swing that is cut off was analysed: lowest vertical at %.3f s", d)
	}
}

func TestSplitKeepsMarksAndPlates(t *testing.T) {
	swings, rec, offset := row(t, 1.5, synth.Disturbance{Seed: 8, ForceNoise: 2, MomentNoise: 0.3}, synth.Config{}, synth.Config{Style: synth.Reverse})
	impact := swings[1].EventTime("impact") + offset[1]
	one := *rec
	var err error
	if one.Net, err = rec.NetWrenches(nil); err != nil {
		t.Fatal(err)
	}
	one.Lead, one.Trail, one.Marks = nil, nil, map[string]float64{"impact": impact}
	parts, _, err := swing.Split(&one, swing.Options{})
	if err != nil || len(parts) != 2 {
		t.Fatal(len(parts), err)
	}
	if len(parts[0].Recording.Marks) != 0 || parts[1].Recording.Marks["impact"] != impact {
		t.Errorf("marks %v and %v", parts[0].Recording.Marks, parts[1].Recording.Marks)
	}
	if parts[0].Recording.Split() || parts[1].Recording.Mass != rec.Mass {
		t.Error("the parts differ from the whole")
	}
	if &parts[0].Recording.Net[0] != &one.Net[0] {
		t.Error("the samples were copied")
	}
	if cap(parts[0].Recording.Net) != len(parts[0].Recording.Net) {
		t.Error("appending to a part would overwrite the next")
	}
}

func ExampleSplit() {
	a, err := synth.New(synth.Config{})
	if err != nil {
		panic(err)
	}
	b, err := synth.New(synth.Config{Style: synth.HalfSwing})
	if err != nil {
		panic(err)
	}
	rec, _, err := synth.Join(2, a, b)
	if err != nil {
		panic(err)
	}

	parts, _, err := swing.Split(rec, swing.Options{})
	if err != nil {
		panic(err)
	}
	for _, p := range parts {
		s, err := swing.Analyse(p.Recording, swing.Options{})
		if err != nil {
			panic(err)
		}
		fmt.Printf("lowest vertical force at %.2f s\n", s.Events.Time(phase.LowestVertical))
	}
	// Output:
	// lowest vertical force at 2.94 s
	// lowest vertical force at 11.38 s
}
