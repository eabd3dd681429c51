package demo

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"os"
	"testing"

	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/validation/synth"
)

var update = flag.Bool("update", false, "write the demonstration capture anew")

// madeUp is the demonstration's golfer.
func madeUp(t *testing.T) *synth.Swing {
	t.Helper()
	s, err := synth.New(synth.Config{
		Mass: 74.6, Stature: 1.76, Individual: 11,
		Downswing: 0.27, Tempo: 3.1, Follow: 1.2,
		Unloaded: 0.5, Address: 1.4, Hold: 0.9,
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The stored demonstration is what the made-up golfer gives today.
func TestDemoIsCurrent(t *testing.T) {
	s := madeUp(t)
	f, err := s.C3D(synth.CaptureOptions{
		Storage: c3d.Integer,
		Disturbance: synth.Disturbance{
			Seed: 20, ForceNoise: 1.5, MomentNoise: 0.3, ForceBias: 6, MomentBias: 1.5, ForceDrift: 0.1, MomentDrift: 0.02,
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := c3d.Encode(&b, f); err != nil {
		t.Fatal(err)
	}
	setup, err := os.ReadFile("setup.json")
	if err != nil {
		t.Fatal(err)
	}
	for mark, t0 := range map[string]float64{
		"top": s.EventTime("top"), "lead_arm_parallel_down": s.EventTime("lead_arm_parallel_down"),
	} {
		// A camera of 240 pictures a second saw it.
		want := fmt.Sprintf(`"%s": "%.3f s"`, mark, math.Round(240*t0)/240)
		if !bytes.Contains(setup, []byte(want)) {
			t.Errorf("setup.json should have %s", want)
		}
	}
	if *update {
		if err := os.WriteFile("swing.c3d", b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if len(Capture) > 400_000 {
		t.Errorf("the demonstration has %d bytes; a program should not carry more than 400 kB", len(Capture))
	}
	stored, err := c3d.Decode(Capture, c3d.Options{})
	if err != nil {
		t.Fatal(err)
	}
	fresh, err := c3d.Decode(b.Bytes(), c3d.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(stored.Channels) != len(fresh.Channels) || stored.Frames != fresh.Frames {
		t.Fatalf("stored: %d channels, %d frames; made: %d, %d; run go test -update", len(stored.Channels), stored.Frames, len(fresh.Channels), fresh.Frames)
	}
	for k, c := range stored.Channels {
		for i, v := range c.Values {
			// One step of the converter: other machines may round the last bit of
			// the swing otherwise.
			if d := math.Abs(v - fresh.Channels[k].Values[i]); d > 1.01*math.Abs(c.Scale) {
				t.Fatalf("channel %s, sample %d is %g off; run go test -update", c.Label, i, d)
			}
		}
	}
}

// What the demonstration says about its swing is true to within what it says about
// its certainty.
func TestDemoIsBelievable(t *testing.T) {
	truth := madeUp(t)
	s, err := Source().Analyse()
	if err != nil {
		t.Fatal(err)
	}
	frontal := truth.At(truth.EventTime("frontal_torque_peak"))
	axial := truth.At(truth.EventTime("vertical_torque_peak"))
	for name, want := range map[string]float64{
		"frontal_torque_peak":  frontal.Moment.X,
		"frontal_arm_at_peak":  frontal.Moment.X / math.Hypot(frontal.Net.Force.Y, frontal.Net.Force.Z),
		"vertical_torque_peak": axial.Moment.Z,
		"com_shift_at_impact":  truth.At(truth.EventTime("impact")).Position.Y - truth.At(s.Quiet.To).Position.Y,
	} {
		m, ok := s.Measure(name)
		if !ok || !(m.SD > 0) {
			t.Errorf("%s: %+v", name, m)
			continue
		}
		t.Logf("%s: %.3f ± %.3f %s, in truth %.3f", name, m.Value, m.SD, m.Unit, want)
		if z := math.Abs(m.Value-want) / m.SD; z > 2.6 { // 99 %
			t.Errorf("%s: %g ± %g, in truth %g", name, m.Value, m.SD, want)
		}
	}
	if m, _ := s.Measure("frontal_arm_at_peak"); m.SD > 0.02 {
		t.Errorf("frontal arm ± %g m", m.SD)
	}
}
