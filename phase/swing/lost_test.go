package swing_test

import (
	"math"
	"testing"

	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// What lost samples leave undefined says so and where, so that nobody looks for a
// fault in the golfer.
func TestLostSamplesAreNamed(t *testing.T) {
	s, err := synth.New(synth.Config{})
	if err != nil {
		t.Fatal(err)
	}
	at := math.Round(1000*(s.EventTime("lateral_turn")+0.2)) / 1000
	a, err := swing.Analyse(lostBetween(s.Recording(), at, at+0.005), swing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	want := "samples are lost at 2.604 s"
	for _, name := range []string{"lateral_impulse", "frontal_angular_impulse", "vertical_angular_impulse", "plane_angular_impulse"} {
		if m, _ := a.Measure(name); !math.IsNaN(m.Value) || m.Note != want {
			t.Errorf("%s is %g: %q, want %q", name, m.Value, m.Note, want)
		}
	}
	for _, m := range a.Measures {
		if m.Note == want && !math.IsNaN(m.Value) {
			t.Errorf("%s is %g: %q", m.Name, m.Value, m.Note)
		}
	}

	// At an instant: the impact is given, so that it may lie in the gap.
	impact := s.EventTime("impact")
	a, err = swing.Analyse(lostBetween(s.Recording(), impact-0.002, impact+0.002), swing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if m, _ := a.Measure("lead_share_at_impact"); !math.IsNaN(m.Value) || m.Note != "samples are lost at 3.179 s" {
		t.Errorf("%s is %g: %q", m.Name, m.Value, m.Note)
	}
}
