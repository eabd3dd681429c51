package swing_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// A shin whose knee lies 3 toward the target and 4 above the ankle leans by
// atan(3/4); both ends unsure by 5 mm make that √2·5 mm across 0.5 m. Where nobody
// says how sure the points are, nobody knows how sure the lean is.
func TestShins(t *testing.T) {
	made := synthetic(t, synth.Config{})
	rec := made.Recording()
	path := func(y, z, sd float64) grf.Track {
		track := grf.Track{SD: r3.Vec{X: sd, Y: sd, Z: sd}}
		for i := 0; i < rec.Len(); i += 20 {
			track.Time = append(track.Time, rec.Time(i))
			track.Position = append(track.Position, r3.Vec{Y: y, Z: z})
		}
		return track
	}
	a, err := swing.Analyse(rec, swing.Options{Points: map[string]grf.Track{
		"lead_knee": path(0.5, 0.5, 0.005), "lead_ankle": path(0.2, 0.1, 0.005),
		"trail_knee": path(-0.5, 0.5, 0), "trail_ankle": path(-0.2, 0.1, 0),
	}})
	if err != nil {
		t.Fatal(err)
	}
	lean := math.Atan2(3, 4) * 180 / math.Pi
	for name, want := range map[string][2]float64{
		"lead_shin_lean_at_impact":  {lean, math.Sqrt2 * 0.005 / 0.5 * 180 / math.Pi},
		"trail_shin_lean_at_impact": {-lean, math.NaN()},
	} {
		m, ok := a.Measure(name)
		if !ok || math.Abs(m.Value-want[0]) > 1e-9 || !same(m.SD, want[1], 1e-9) {
			t.Errorf("%s: %v ± %v, want %v", name, m.Value, m.SD, want)
		}
	}
	one := grf.Track{Time: []float64{1, 0}, Position: []r3.Vec{{}, {}}} // backward
	a, err = swing.Analyse(rec, swing.Options{Points: map[string]grf.Track{"lead_knee": one, "lead_ankle": one}})
	if err != nil || !slices.Contains(codes(a.Warnings), "points") {
		t.Errorf("a track that runs backward: %v", err)
	}
}

// Errors of plates are positive, left out or switched off.
func TestPlateErrors(t *testing.T) {
	rec := synthetic(t, synth.Config{}).Recording()
	for _, e := range []swing.Errors{{Force: -1}, {Gain: math.Inf(1)}, {Place: -0.01}} {
		if _, err := swing.Analyse(rec, swing.Options{Errors: e}); !errors.Is(err, swing.ErrOptions) {
			t.Errorf("%+v: %v", e, err)
		}
	}
}

// A camera that says nothing of its doubt gets the default, and the text says so.
func TestMethodsOfDefaultDoubt(t *testing.T) {
	made := synthetic(t, synth.Config{})
	rec := made.Recording()
	camera := com.Source{Name: "camera 2", Track: made.Track(synth.TrackOptions{Rate: 100})}
	camera.Track.SD = r3.Vec{}
	text := said(t, rec, swing.Options{COM: []com.Source{camera}})
	if want := "standard deviation of each 10 mm by default"; !strings.Contains(text, want) {
		t.Errorf("no %q in %s", want, text)
	}
	camera.Track.SD = r3.Vec{X: 0.004, Y: 0.004, Z: 0.004}
	if text := said(t, rec, swing.Options{COM: []com.Source{camera}}); !strings.Contains(text, "(4, 4, 4) mm") {
		t.Error(text)
	}
}
