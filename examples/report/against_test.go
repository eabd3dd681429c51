package main

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/validation/synth"
)

// captureOf writes a made-up swing and returns the names of its capture and setup.
func captureOf(t *testing.T, cfg synth.Config) (capture, setup string) {
	t.Helper()
	s, err := synth.New(cfg)
	if err != nil {
		t.Fatal(err)
	}
	f, err := s.C3D(synth.CaptureOptions{})
	if err != nil {
		t.Fatal(err)
	}
	data, err := c3d.Append(nil, f)
	if err != nil {
		t.Fatal(err)
	}
	return write(t, "swing.c3d", data), write(t, "setup.json", []byte(`{"version": 1, "lab": {"target": "-x"}, "golfer": {"stature": "1.78 m"}}`))
}

// The split of the difference adds up, and a golfer whose arm was small is told so.
func TestAgainst(t *testing.T) {
	now, setup := captureOf(t, synth.Config{})
	before, _ := captureOf(t, synth.Config{Style: synth.SmallArm})
	status, stdout, stderr := invoke(t, "-capture", now, "-setup", setup, "-against", before, "-json", "-")
	if status != exitOK {
		t.Fatal(stderr)
	}
	var r results.Results
	if err := json.Unmarshal([]byte(stdout), &r); err != nil {
		t.Fatal(err)
	}
	if r.Against == nil || len(r.Against.Splits) != 3 || len(r.Against.Changes) < 20 {
		t.Fatalf("%+v", r.Against)
	}
	for _, s := range r.Against.Splits {
		sum := float64(s.ForceSize + s.ForceDirection + s.PressurePlace + s.MassPlace + s.FreeMoment)
		if d := math.Abs(sum - float64(s.Change)); d > 1e-9*math.Max(1, math.Abs(float64(s.Now))) {
			t.Errorf("%s: parts add up to %g, the change is %g", s.Name, sum, float64(s.Change))
		}
	}
	for _, c := range r.Against.Changes {
		if c.Name == "frontal_arm_at_peak" && !(c.Difference > 0.03) {
			t.Errorf("the arm grew by %g m", float64(c.Difference))
		}
	}

	page := write(t, "page.html", nil)
	status, stdout, stderr = invoke(t, "-capture", now, "-setup", setup, "-against", before, "-html", page)
	if status != exitOK || !strings.Contains(stdout, "held against swing.c3d") {
		t.Errorf("%s\n%s", stderr, stdout)
	}
	for _, want := range []string{"Held against swing.c3d", "place of the pressure", "from onset, 0 %, to impact, 100 %"} {
		if !strings.Contains(read(t, page), want) {
			t.Errorf("the page does not say %q", want)
		}
	}

	// Both are mostly the same golfer's: the file tells which one is meant.
	named := write(t, "named.json", []byte(`{"version": 1, "lab": {"target": "-x"}, "golfer": {"name": "A. Nother", "stature": "1.78 m"}}`))
	if _, stdout, _ = invoke(t, "-capture", now, "-setup", named, "-against", before, "-html", page); !strings.Contains(stdout, "held against A. Nother, swing.c3d") {
		t.Error(stdout)
	}
}

// A swing held against itself has not changed.
func TestAgainstItself(t *testing.T) {
	now, setup := captureOf(t, synth.Config{})
	status, stdout, stderr := invoke(t, "-capture", now, "-setup", setup, "-against", now, "-json", "-")
	if status != exitOK {
		t.Fatal(stderr)
	}
	var r results.Results
	if err := json.Unmarshal([]byte(stdout), &r); err != nil {
		t.Fatal(err)
	}
	for _, c := range r.Against.Changes {
		if c.Difference != 0 {
			t.Errorf("%s changed by %g", c.Name, float64(c.Difference))
		}
	}
	for _, s := range r.Against.Splits {
		if s.Change != 0 || math.Abs(float64(s.ForceSize))+math.Abs(float64(s.PressurePlace)) > 1e-9 {
			t.Errorf("%+v", s)
		}
	}
}

func TestAgainstArguments(t *testing.T) {
	now, setup := captureOf(t, synth.Config{})
	for _, c := range []struct {
		args   []string
		status int
		say    string
	}{
		{[]string{"-capture", now, "-setup", setup, "-against", "absent.c3d", "-json", "-"}, exitWork, "absent.c3d"},
		{[]string{"-capture", now, "-setup", setup, "-against", setup, "-json", "-"}, exitWork, "setup.json"},
		{[]string{"-against-setup", setup}, exitUsage, "-against"},
		{[]string{"-capture", now, "-setup", setup, "-bands", "absent.json", "-json", "-"}, exitWork, "absent.json"},
		{[]string{"-capture", now, "-setup", setup, "-bands", setup, "-json", "-"}, exitWork, "setup.json"},
	} {
		status, stdout, stderr := invoke(t, c.args...)
		if status != c.status || !strings.Contains(stderr, c.say) || stdout != "" {
			t.Errorf("%v: status %d, said %q", c.args, status, stderr)
		}
	}
}

// Findings come with the page and the JSON, with their source.
func TestFindings(t *testing.T) {
	now, setup := captureOf(t, synth.Config{})
	bands := write(t, "bands.json", []byte(`{"version": 1, "name": "test", "bands": [
		{"measure": "frontal_torque_peak", "unit": "N·m", "min": 1000, "step": 10, "below": "for the test", "source": "nobody", "level": "own"}]}`))
	status, stdout, stderr := invoke(t, "-capture", now, "-setup", setup, "-bands", bands, "-json", "-")
	if status != exitOK {
		t.Fatal(stderr)
	}
	var r results.Results
	if err := json.Unmarshal([]byte(stdout), &r); err != nil {
		t.Fatal(err)
	}
	if len(r.Findings) != 1 || r.Findings[0].Measure != "frontal_torque_peak" || r.Findings[0].Verdict != "outside" || r.Findings[0].Source == "" {
		t.Errorf("%+v", r.Findings)
	}
	status, stdout, stderr = invoke(t, "-capture", now, "-setup", setup, "-bands", bands, "-html", "-")
	if status != exitOK || !strings.Contains(stdout, "Outside of the bands") {
		t.Error(stderr)
	}
}
