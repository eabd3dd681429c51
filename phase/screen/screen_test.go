package screen_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/momentarm/phase"
	"example.com/momentarm/phase/screen"
	"example.com/momentarm/phase/swing"
)

func at(v float64) *float64 { return &v }

// with returns an analysis that has nothing but measures.
func with(ms ...swing.Measure) *swing.Analysis { return &swing.Analysis{Measures: ms} }

func measure(value, sd float64) swing.Measure {
	return swing.Measure{Name: "frontal_arm_at_peak", Label: "frontal moment arm", Value: value, SD: sd, Unit: "m", Time: 1.5}
}

func set(bands ...screen.Band) *screen.Bands {
	return &screen.Bands{Version: 1, Name: "test", Bands: bands}
}

func TestVerdicts(t *testing.T) {
	nan := math.NaN()
	band := screen.Band{Measure: "frontal_arm_at_peak", Unit: "m", Min: at(0.1), Max: at(0.2)}
	for _, c := range []struct {
		name       string
		value, sd  float64
		k          float64
		want       screen.Verdict
		distance   float64
		distanceSD float64
		steps      float64
	}{
		{"in the middle", 0.15, 0.01, 0, screen.Within, 0, 0, 0},
		{"all of it just inside", 0.12, 0.0099, 0, screen.Within, 0, 0, 0},
		{"across the edge from inside", 0.12, 0.0101, 0, screen.Undecided, 0, 0, 0},
		{"across the edge from outside", 0.09, 0.006, 0, screen.Undecided, -0.01, -0.01 / 0.006, 0.2},
		{"all of it outside", 0.09, 0.004, 0, screen.Outside, -0.01, -2.5, 0.2},
		{"above", 0.3, 0.02, 0, screen.Outside, 0.1, 5, 2},
		{"wider than the band", 0.15, 0.1, 0, screen.Undecided, 0, 0, 0},
		{"a wider coverage", 0.09, 0.004, 3, screen.Undecided, -0.01, -2.5, 0.2},
		{"uncertainty unknown, inside", 0.101, nan, 0, screen.Within, 0, nan, 0},
		{"uncertainty unknown, outside", 0.099, nan, 0, screen.Outside, -0.001, nan, 0.02},
		{"on the edge, exact", 0.1, 0, 0, screen.Within, 0, nan, 0},
	} {
		r, err := screen.Swing(with(measure(c.value, c.sd)), screen.Options{Bands: []*screen.Bands{set(band)}, Coverage: c.k})
		if err != nil {
			t.Fatal(err)
		}
		all := append(append(append([]screen.Finding(nil), r.Findings...), r.Undecided...), r.Within...)
		if len(all) != 1 || len(r.Unmeasured) != 0 {
			t.Fatalf("%s: %+v", c.name, r)
		}
		f := all[0]
		if f.Verdict != c.want || !near(f.Distance, c.distance) || !near(f.DistanceSD, c.distanceSD) || !near(f.Steps, c.steps) {
			t.Errorf("%s: %v, %g, %g sd, %g steps", c.name, f.Verdict, f.Distance, f.DistanceSD, f.Steps)
		}
		if said := strings.Contains(strings.Join(f.Cautions, " "), "not known"); said != math.IsNaN(c.sd) {
			t.Errorf("%s: cautions %q", c.name, f.Cautions)
		}
		if strings.Contains(f.Sentence, "NaN") || f.Sentence == "" {
			t.Errorf("%s: %q", c.name, f.Sentence)
		}
	}
}

func near(a, b float64) bool {
	return math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) < 1e-12
}

// The same band in inches and in metres is the same finding.
func TestUnits(t *testing.T) {
	metres := screen.Band{Measure: "frontal_arm_at_peak", Unit: "m", Min: at(0.127), Step: 0.0254}
	inches := screen.Band{Measure: "frontal_arm_at_peak", Unit: "in", Min: at(5), Step: 1}
	r, err := screen.Swing(with(measure(0.1016, 0.00254)), screen.Options{Bands: []*screen.Bands{set(metres, inches)}})
	if err != nil || len(r.Findings) != 2 {
		t.Fatal(r, err)
	}
	m, i := r.Findings[0], r.Findings[1]
	if !near(m.Steps, 1) || !near(i.Steps, 1) || !near(m.DistanceSD, -10) || !near(i.DistanceSD, -10) {
		t.Errorf("%g steps, %g sd in metres; %g, %g in inches", m.Steps, m.DistanceSD, i.Steps, i.DistanceSD)
	}
	if !near(i.Value, 4) || !near(i.SD, 0.1) || !near(i.Distance, -1) {
		t.Errorf("%g ± %g in, %g", i.Value, i.SD, i.Distance)
	}
	for _, unit := range []string{"N", "%", "furlong"} {
		r, err := screen.Swing(with(measure(0.1, 0.01)), screen.Options{Bands: []*screen.Bands{set(screen.Band{Measure: "frontal_arm_at_peak", Unit: unit, Min: at(5), Step: 1})}})
		if err != nil || len(r.Unmeasured) != 1 || !strings.Contains(r.Unmeasured[0].Reason, unit) {
			t.Errorf("%s: %+v, %v", unit, r, err)
		}
	}
}

func TestUnmeasured(t *testing.T) {
	undefined := measure(math.NaN(), math.NaN())
	undefined.Note = "the time of top is not known"
	for name, c := range map[string]struct {
		measures []swing.Measure
		says     string
	}{
		"undefined":         {[]swing.Measure{undefined}, "the time of top is not known"},
		"undefined, silent": {[]swing.Measure{measure(math.NaN(), math.NaN())}, "not defined"},
		"infinite":          {[]swing.Measure{measure(math.Inf(1), 1)}, "not defined"},
		"misspelt":          {[]swing.Measure{{Name: "frontal_arm_at_peek"}}, `did you mean "frontal_arm_at_peek"?`},
		"none":              {nil, "outlines"},
	} {
		r, err := screen.Swing(with(c.measures...), screen.Options{Bands: []*screen.Bands{set(screen.Band{Measure: "frontal_arm_at_peak", Unit: "m", Min: at(0.1), Step: 1})}})
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Unmeasured) != 1 || !strings.Contains(r.Unmeasured[0].Reason, c.says) || len(r.Findings)+len(r.Within)+len(r.Undecided) != 0 {
			t.Errorf("%s: %+v", name, r)
		}
	}
}

// Sets that only warn claim nothing.
func TestWarnOnly(t *testing.T) {
	b := screen.Band{Measure: "frontal_arm_at_peak", Unit: "m", Min: at(0.15), Step: 0.1, Source: "Nobody 1900", Level: screen.SecondHand, Below: "Check the plates."}
	s := set(b)
	s.WarnOnly = true
	for value, warnings := range map[float64]int{0.1: 1, 0.2: 0, 0.149: 0} { // outside, within, not decidable
		r, err := screen.Swing(with(measure(value, 0.01)), screen.Options{Bands: []*screen.Bands{s}})
		if err != nil {
			t.Fatal(err)
		}
		if len(r.Warnings) != warnings || len(r.Findings)+len(r.Within)+len(r.Undecided)+len(r.Unmeasured) != 0 {
			t.Errorf("%g: %+v", value, r)
		}
		for _, w := range r.Warnings {
			if w.Code != "implausible" || !strings.Contains(w.Text, "Nobody 1900 [second-hand]") || !strings.Contains(w.Text, "Check the plates.") {
				t.Errorf("%v", w)
			}
		}
	}
}

func TestSwingRefuses(t *testing.T) {
	a := with(measure(0.1, 0.01))
	for name, c := range map[string]struct {
		a    *swing.Analysis
		opt  screen.Options
		want error
	}{
		"no analysis":       {nil, screen.Options{}, screen.ErrInput},
		"negative coverage": {a, screen.Options{Coverage: -1}, screen.ErrInput},
		"no coverage":       {a, screen.Options{Coverage: math.NaN()}, screen.ErrInput},
		"nil set":           {a, screen.Options{Bands: []*screen.Bands{nil}}, screen.ErrBands},
		"empty set":         {a, screen.Options{Bands: []*screen.Bands{{}}}, screen.ErrBands},
	} {
		if r, err := screen.Swing(c.a, c.opt); !errors.Is(err, c.want) || r != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	// An analysis without anything is no error.
	if r, err := screen.Swing(with(), screen.Options{}); err != nil || len(r.Unmeasured) != len(screen.Starter().Bands) {
		t.Errorf("empty analysis: %v", err)
	}
}

func TestCautionsOfReport(t *testing.T) {
	a := with(measure(0.2, 0.01))
	r, err := screen.Swing(a, screen.Options{})
	if err != nil || len(r.Cautions) != 2 || !strings.Contains(r.Cautions[0], "not medical or training advice") {
		t.Fatal(r.Cautions, err)
	}
	a.Events.Found = []phase.Event{{Name: phase.Impact, Time: 2, Source: phase.Estimated}}
	r, err = screen.Swing(a, screen.Options{})
	if err != nil || len(r.Cautions) != 3 || !strings.Contains(r.Cautions[2], "estimated") {
		t.Error(r.Cautions, err)
	}
}

func TestVerdictText(t *testing.T) {
	for v, want := range map[screen.Verdict]string{screen.Within: "within", screen.Undecided: "not decidable", screen.Outside: "outside"} {
		if b, err := v.MarshalText(); err != nil || string(b) != want {
			t.Errorf("%q, %v", b, err)
		}
	}
	if _, err := screen.Verdict(7).MarshalText(); err == nil {
		t.Error("Verdict(7) has a text")
	}
}
