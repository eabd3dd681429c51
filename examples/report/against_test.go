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

// The marks of one capture are not those of another that has the same setup: the
// earlier impact is not put where this swing has it, and the page and the terminal
// say so.
func TestAgainstInheritsNoMarks(t *testing.T) {
	now, _ := captureOf(t, synth.Config{})
	before, _ := captureOf(t, synth.Config{Address: 3.2}) // later on its clock
	setup := write(t, "marked.json", []byte(`{"version": 1, "session": "now", "lab": {"target": "-x"}, "golfer": {"stature": "1.78 m"},
		"marks": {"impact": "3.6 s"}, "quiet_stance": {"from": "0.5 s", "to": "1.6 s"}}`))
	page := write(t, "page.html", nil)
	status, stdout, stderr := invoke(t, "-capture", now, "-setup", setup, "-against", before, "-html", page)
	if status != exitOK {
		t.Fatal(stderr)
	}
	for _, want := range []string{"(setup-shared)", "session, quiet_stance, marks", "-against-setup"} {
		if said := strings.Join(strings.Fields(stdout), " "); !strings.Contains(said, want) {
			t.Errorf("the terminal does not say %q:\n%s", want, stdout)
		}
	}
	for _, want := range []string{"setup-shared", "About the earlier swing", "session, quiet_stance, marks"} {
		if !strings.Contains(read(t, page), want) {
			t.Errorf("the page does not say %q", want)
		}
	}

	// Each alone: what the comparison holds is what the setup without marks gives.
	bare := write(t, "bare.json", []byte(`{"version": 1, "lab": {"target": "-x"}, "golfer": {"stature": "1.78 m"}}`))
	of := func(args ...string) (r results.Results) {
		t.Helper()
		status, stdout, stderr := invoke(t, append(args, "-json", "-")...)
		if status != exitOK {
			t.Fatal(stderr)
		}
		if err := json.Unmarshal([]byte(stdout), &r); err != nil {
			t.Fatal(err)
		}
		return r
	}
	alone := of("-capture", before, "-setup", bare)
	held := of("-capture", now, "-setup", setup, "-against", before)
	compared := 0
	for _, c := range held.Against.Changes {
		for _, m := range alone.Measures {
			if m.Name == c.Name {
				compared++
				if m.Value != c.Before {
					t.Errorf("%s before: %g, alone it is %g", c.Name, float64(c.Before), float64(m.Value))
				}
			}
		}
	}
	if compared < 20 {
		t.Errorf("%d measures compared", compared)
	}

	// With a setup of its own nothing is left out, nor against itself.
	own := write(t, "own.json", []byte(`{"version": 1, "lab": {"target": "-x"}, "golfer": {"stature": "1.78 m"}}`))
	for _, args := range [][]string{{"-against", before, "-against-setup", own}, {"-against", now}} {
		_, stdout, _ := invoke(t, append([]string{"-capture", now, "-setup", setup, "-html", page}, args...)...)
		if strings.Contains(stdout, "setup-shared") {
			t.Errorf("%v:\n%s", args, stdout)
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
