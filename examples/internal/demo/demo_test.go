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
