package screen_test

import (
	"slices"
	"strings"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase/screen"
)

// Findings are not silent about what they rest on.
func TestDoubtsOfFindings(t *testing.T) {
	band := screen.Band{Measure: "frontal_arm_at_peak", Unit: "m", Min: at(0.13), Step: 0.03}
	inside := screen.Band{Measure: "frontal_arm_at_peak", Unit: "m", Max: at(0.5), Step: 0.03}
	peak := measure(300, 1)
	peak.Name, peak.Unit = "lead_vertical_peak_bw", "%BW"
	tempo := measure(9, 0.1)
	tempo.Name, tempo.Unit = "tempo", "1"
	plausible := set(screen.Band{Measure: "lead_vertical_peak_bw", Unit: "%BW", Max: at(170), Step: 1}, screen.Band{Measure: "tempo", Unit: "1", Max: at(4), Step: 1})
	plausible.WarnOnly = true
	warn := func(code string) grf.Warning { return grf.Warning{Code: code, Where: "there", Text: "why"} }
	for _, c := range []struct {
		name     string
		own      []grf.Warning // of the analysis
		more     []grf.Warning // of reading
		peak     bool
		held     bool
		sentence string // how it begins
	}{
		{name: "clear", sentence: "Frontal moment arm: "},
		{name: "harmless", own: []grf.Warning{warn("height-from-stature")}, sentence: "Frontal moment arm: "},
		{name: "forces", own: []grf.Warning{warn("impulse"), warn("impulse"), warn("mass-mismatch")}, sentence: "In doubt (impulse, mass-mismatch): Frontal"},
		{name: "swapped", own: []grf.Warning{warn("feet-swapped"), warn("impulse")}, held: true},
		{name: "place", own: []grf.Warning{warn("place-implausible")}, held: true},
		{name: "read", more: []grf.Warning{warn("feet-backward")}, held: true},
		{name: "peak", peak: true, sentence: "In doubt (implausible lead_vertical_peak_bw): Frontal"},
	} {
		a := with(measure(0.09, 0.004), tempo)
		if c.peak {
			a.Measures = append(a.Measures, peak)
		}
		a.Warnings = c.own
		r, err := screen.Swing(a, screen.Options{Bands: []*screen.Bands{set(band, inside), plausible}, Warnings: c.more})
		if err != nil {
			t.Fatal(err)
		}
		if c.held {
			if len(r.Findings)+len(r.Within)+len(r.Undecided) != 0 || len(r.HeldBack) != 1 || len(r.Unmeasured) != 2 ||
				!strings.Contains(r.Unmeasured[0].Reason, r.HeldBack[0].Code) ||
				!slices.ContainsFunc(r.Cautions, func(s string) bool { return strings.Contains(s, r.HeldBack[0].Code) }) {
				t.Errorf("%s: not held back: %+v", c.name, r)
			}
			continue
		}
		if len(r.HeldBack) != 0 || len(r.Findings) != 1 || len(r.Within) != 1 {
			t.Errorf("%s: %+v", c.name, r)
			continue
		}
		f := r.Findings[0]
		if !strings.HasPrefix(f.Sentence, c.sentence) || strings.HasPrefix(c.sentence, "In doubt") != (len(f.Doubts) > 0) {
			t.Errorf("%s: %q, doubts %v", c.name, f.Sentence, f.Doubts)
		}
	}
	// An implausible ratio is no reason to doubt an arm, but one to doubt what shows it.
	a := with(tempo)
	r, err := screen.Swing(a, screen.Options{Bands: []*screen.Bands{set(screen.Band{Measure: "tempo", Unit: "1", Max: at(3), Step: 1}), plausible}})
	if err != nil || len(r.Findings) != 1 || !strings.HasPrefix(r.Findings[0].Sentence, "In doubt (implausible tempo): ") {
		t.Errorf("%+v, %v", r, err)
	}
}
