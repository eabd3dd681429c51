package swing_test

import (
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

// What is said follows the settings: each case names what must be said, and what
// was said with the defaults and must be gone.
func TestMethods(t *testing.T) {
	made := synthetic(t, synth.Config{})
	plain := synth.Disturbance{Seed: 5, ForceNoise: 2, MomentNoise: 0.3}.Apply(made.Recording())
	plain.Marks = nil
	with := func(change func(*grf.Recording)) *grf.Recording {
		rec := *plain
		rec.Lead, rec.Trail = slices.Clone(plain.Lead), slices.Clone(plain.Trail)
		change(&rec)
		return &rec
	}
	camera := com.Source{Name: "camera 1", SD: r3.Vec{X: 0.01, Y: 0.01, Z: 0.02}, SlowSD: 0.015, Clock: com.Clock{Delay: 0.012, Method: "as stated"}}
	for i := 0; i < plain.Len(); i += 10 {
		camera.Track.Time = append(camera.Track.Time, plain.Time(i)+0.012)
		camera.Track.Position = append(camera.Track.Position, made.At(plain.Time(i)).Position)
	}
	base := said(t, plain, swing.Options{})
	for _, part := range []string{
		"of each foot were sampled at 1000 Hz", "right-handed golfer", "order 2 that ran forward and backward (order 4 in all, no phase shift)", "both passes together at 50 Hz (one pass at 62.",
		"No sample was lost", "Body weight", "standard error of the mean", "gravity of 9.80665 m/s²", "still again", "vertical force is below 20 N",
		"from: forces, quiet stance, still finish", "stature of 1.78 m (0.52 of it)", "at the end of the quiet stance is (", "at impact is (",
		"θ = 50°", "in that plane is below 20 N", "onset (instant at which the vertical force under a foot", "Impact was not given and is an estimate",
		"1 N in each force component", "0.3 N·m in each moment", "2 mm in where", "0.3 % in the sensitivity", "version " + swing.Version,
		"coverage factor 1", "come from the noise and, for peaks of torque, the centre of mass alone.", "the value of the filtered signal at that time", "|M − T·ẑ|/|F|", "standard error of the mean 0.0",
	} {
		if !strings.Contains(base, part) {
			t.Errorf("%q is missing in\n%s", part, base)
		}
	}
	for _, c := range []struct {
		name      string
		rec       *grf.Recording
		opt       swing.Options
		says, not string
	}{
		{"cut-off", plain, swing.Options{Cutoff: 30}, "together at 30 Hz (one pass at 37.", "50 Hz"},
		{"order", plain, swing.Options{Order: 4}, "order 4 that ran forward and backward (order 8 in all", "order 2"},
		{"unfiltered", plain, swing.Options{Cutoff: swing.Unfiltered}, "not filtered", "Butterworth"},
		{"load threshold", plain, swing.Options{MinVertical: 35}, "vertical force is below 35 N", "vertical force is below 20 N"},
		{"arm threshold", plain, swing.Options{MinPlane: 45}, "that plane is below 45 N", "that plane is below 20 N"},
		{"swing plane", plain, swing.Options{Plane: 60 * math.Pi / 180}, "θ = 60°", "θ = 50°"},
		{"gravity", plain, swing.Options{Gravity: 9.79}, "gravity of 9.79 m/s²", "9.80665"},
		{"height", plain, swing.Options{COMHeight: 0.95, COMHeightSD: 0.01}, "above the surface, was stated", "stature"},
		{"window", plain, swing.Options{Quiet: grf.QuietOptions{From: 0.2, To: 1.5, Duration: 0.8}}, "sought from 0.2 to 1.5 s, where it was said to be, as the stretch of at least 0.8 s", "before the downswing"},
		{"errors", plain, swing.Options{Errors: swing.Errors{Force: 3, Gain: math.NaN()}}, "lasting error of 3 N", "sensitivity"},
		{"camera", plain, swing.Options{COM: []com.Source{camera}}, "corrected by camera 1 (", "stature"},
		{"camera's doubt", plain, swing.Options{COM: []com.Source{camera}}, "standard deviation of each (10, 10, 20) mm, of errors that last 15 mm; its clock is 12.0 ms late, as stated)", "stature"},
		{"left", with(func(r *grf.Recording) { r.Handed = grf.LeftHanded }), swing.Options{}, "mirrored in y for a left-handed golfer", "right-handed"},
		{"no stature", with(func(r *grf.Recording) { r.Stature = 0 }), swing.Options{}, "is a guess", "stature of"},
		{"marks", with(func(r *grf.Recording) {
			r.Marks = map[string]float64{"impact": made.EventTime("impact"), "P4": made.EventTime("top")}
		}), swing.Options{}, "Given, not found in the forces: top, impact.", "is an estimate"},
		{"together", with(func(r *grf.Recording) {
			net, err := r.NetWrenches(nil)
			if err != nil {
				t.Fatal(err)
			}
			r.Lead, r.Trail, r.Net = nil, nil, net
		}), swing.Options{}, "of both feet together were sampled", "lead foot's share"},
		{"not found", with(func(r *grf.Recording) {
			net, err := r.NetWrenches(nil)
			if err != nil {
				t.Fatal(err)
			}
			r.Lead, r.Trail, r.Net = nil, nil, net
		}), swing.Options{}, "Not found: trail load peak (the feet were not measured apart)", "under a foot leaves"},
		{"mat", with(func(r *grf.Recording) { r.Lead, r.Trail = flattened(r.Lead), flattened(r.Trail) }), swing.Options{}, "Horizontal forces were not measured", "moment arms are"},
		{"mat's times", with(func(r *grf.Recording) { r.Lead, r.Trail = flattened(r.Lead), flattened(r.Trail) }), swing.Options{}, "come from the noise alone.", "peaks of torque"},
		{"lost", with(func(r *grf.Recording) { r.Lead[700], r.Lead[701] = grf.NaN(), grf.NaN() }), swing.Options{}, "Of the samples of the lead foot 2 of ", "No sample was lost"},
		{"saturated", synth.Disturbance{ForceLimit: 700}.Apply(plain), swing.Options{}, "Under the lead foot, the vertical force stays at its extreme of 700.0 N", "no such"},
		{"cut", with(func(r *grf.Recording) {
			end := r.Index(made.EventTime("impact") + 0.6)
			r.Lead, r.Trail = r.Lead[:end], r.Trail[:end]
		}), swing.Options{}, "did not stand still again", "still finish"},
	} {
		text := said(t, c.rec, c.opt)
		if !strings.Contains(text, c.says) || strings.Contains(text, c.not) {
			t.Errorf("%s: want %q and not %q in\n%s", c.name, c.says, c.not, text)
		}
		if strings.Contains(text, "%!") || strings.Contains(text, "NaN") || strings.Contains(text, "..") || strings.Contains(text, "  ") {
			t.Errorf("%s:\n%s", c.name, text)
		}
	}
}

func said(t *testing.T, rec *grf.Recording, opt swing.Options) string {
	t.Helper()
	a, err := swing.Analyse(rec, opt)
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(a.Methods(), "\n")
}
