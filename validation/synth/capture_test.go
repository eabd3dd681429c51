package synth_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/grf/capture"
	"example.com/momentarm/validation/synth"
	"gonum.org/v1/gonum/spatial/r3"
)

// TestCapture goes the way of a user: a file and a setup to a recording.
func TestCapture(t *testing.T) {
	for _, hand := range []grf.Handedness{grf.RightHanded, grf.LeftHanded} {
		s, err := synth.New(synth.Config{Handed: hand, Unloaded: 1})
		if err != nil {
			t.Fatal(err)
		}
		f, err := s.C3D(synth.CaptureOptions{Disturbance: synth.Disturbance{Seed: 1, ForceBias: 10, MomentBias: 2}})
		if err != nil {
			t.Fatal(err)
		}
		var file, sheet bytes.Buffer
		if err := c3d.Encode(&file, f); err != nil {
			t.Fatal(err)
		}
		if err := synth.WriteTable(&sheet, s.Recording()); err != nil {
			t.Fatal(err)
		}
		for _, c := range []struct {
			name, setup   string
			data          []byte
			force, moment float64
		}{
			// Single precision of the samples, after the bias is zeroed.
			{"swing.c3d", `"lab": {"up": "+z", "target": "-x"}, "zero": {"from": "0 s", "to": "0.9 s"}`, file.Bytes(), 1e-3, 1e-3},
			// Printed digits.
			{"swing.csv", `"table": {"axes": "swing"}`, sheet.Bytes(), 1e-4, 1e-4},
		} {
			setup, err := capture.ReadSetup(strings.NewReader(fmt.Sprintf(`{"version": 1, "golfer": {"handed": %q}, %s}`, hand, c.setup)))
			if err != nil {
				t.Fatal(err)
			}
			got, err := capture.Read(c.name, c.data, setup, nil)
			if err != nil {
				t.Errorf("%s, %v-handed: %v", c.name, hand, err)
				continue
			}
			rec := got.Recording
			if !rec.Split() {
				t.Errorf("%s, %v-handed: the feet are not apart", c.name, hand)
				continue
			}
			for i := range rec.Len() {
				st := s.At(rec.Time(i))
				for _, d := range []grf.Wrench{rec.Lead[i].Sub(st.Lead), rec.Trail[i].Sub(st.Trail)} {
					if r3.Norm(d.Force) > c.force || r3.Norm(d.Moment) > c.moment {
						t.Fatalf("%s, %v-handed, sample %d is off by %v", c.name, hand, i, d)
					}
				}
			}
			if c.name == "swing.c3d" {
				if impact, ok := rec.Marks["impact"]; !ok || math.Abs(impact-s.EventTime("impact")) > 1e-3 {
					t.Errorf("%s, %v-handed: marks %v, want impact at %g s", c.name, hand, rec.Marks, s.EventTime("impact"))
				}
			}
		}
	}
}
