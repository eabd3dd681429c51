package input_test

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/momentarm/examples/internal/demo"
	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/grf/capture"
)

func put(t *testing.T, name string, data []byte) {
	t.Helper()
	if err := os.WriteFile(name, data, 0o644); err != nil {
		t.Fatal(err)
	}
}

// The setup reaches the analysis, field by field.
func TestSetupReachesAnalysis(t *testing.T) {
	src := demo.Source()
	src.Setup = []byte(strings.Replace(string(src.Setup), `"sense"`,
		`"filter": {"cutoff": "30 Hz", "order": 4}, "load_threshold": "25 N", "arm_threshold": "30 N", "gravity": "9.81 m/s²", "swing_plane": "45 deg",
		"quiet_stance": {"from": "3.0 s", "to": "3.9 s"}, "com": {"height": "0.9 m", "height_sd": "0.02 m"}, "sense"`, 1))
	s, err := src.Analyse()
	if err != nil {
		t.Fatal(err)
	}
	set := s.Settings
	if set.Cutoff != 30 || set.Order != 4 || set.MinVertical != 25 || set.MinPlane != 30 || set.Gravity != 9.81 || set.Plane < 0.785 || set.Plane > 0.786 {
		t.Errorf("%+v", set)
	}
	if s.Quiet.From < 3 || s.Quiet.To > 3.9 {
		t.Errorf("quiet stance from %g to %g s", s.Quiet.From, s.Quiet.To)
	}
	if z := s.At(s.Quiet.From).COM.Z; z < 0.89 || z > 0.91 {
		t.Errorf("centre of mass %g m high", z)
	}
	if s.Feet.Lead == nil || s.Feet.Trail == nil || s.Capture != "swing.c3d" || len(s.Steps) <= len(s.Analysis.Steps) {
		t.Errorf("feet %v, capture %q, %d steps", s.Feet, s.Capture, len(s.Steps))
	}
}

func TestErrors(t *testing.T) {
	good := demo.Source()
	with := func(change func(*input.Source)) input.Source {
		s := good
		change(&s)
		return s
	}
	for _, c := range []struct {
		name string
		src  input.Source
		text []string
		is   error
	}{
		{"no setup", with(func(s *input.Source) { s.SetupName = "" }), []string{"demo/swing.c3d: needs a setup, named with -setup: lab.target"}, capture.ErrSetup},
		{"setup", with(func(s *input.Source) { s.Setup = []byte(`{"version": 1, "glofer": {}}`) }), []string{"demo/setup.json: glofer", "golfer"}, capture.ErrSetup},
		{"feet", with(func(s *input.Source) {
			s.Setup = []byte(strings.ReplaceAll(string(s.Setup), `"L.TOE"`, `"L.HEEL"`))
		}), []string{"demo/setup.json: feet.lead"}, capture.ErrSetup},
		{"empty", with(func(s *input.Source) { s.Data = nil }), []string{"demo/swing.c3d: "}, grf.ErrNoData},
		{"header", with(func(s *input.Source) { s.Data = s.Data[:100] }), []string{"demo/swing.c3d: "}, c3d.ErrTooShort},
		// Cut within the quiet stance: it can be read, and the reason is in the doubts.
		{"cut", with(func(s *input.Source) {
			s.Data = s.Data[:len(s.Data)/2]
			s.Setup = []byte(`{"version": 1, "lab": {"target": "-x"}}`)
		}), []string{"demo/swing.c3d: ", "the file is cut off: byte ", "frames declared", "of what is there: "}, nil},
	} {
		s, err := c.src.Analyse()
		if err == nil || s != nil || c.is != nil && !errors.Is(err, c.is) {
			t.Errorf("%s: %v, want %v", c.name, err, c.is)
			continue
		}
		if !strings.HasPrefix(err.Error(), c.text[0]) {
			t.Errorf("%s: %q does not begin with %q", c.name, err, c.text[0])
		}
		for _, text := range c.text[1:] {
			if !strings.Contains(err.Error(), text) {
				t.Errorf("%s: %q does not say %q", c.name, err, text)
			}
		}
	}
}

func TestLoad(t *testing.T) {
	dir := t.TempDir()
	name, setup := filepath.Join(dir, "swing.c3d"), filepath.Join(dir, "lab.json")
	put(t, name, demo.Capture)
	put(t, setup, demo.Setup)
	src, err := input.Load(name, setup)
	if err != nil || string(src.Data) != string(demo.Capture) || string(src.Setup) != string(demo.Setup) {
		t.Fatal(err)
	}
	put(t, filepath.Join(dir, "other.csv"), []byte("x"))
	if data, err := src.Open("other.csv"); err != nil || string(data) != "x" {
		t.Errorf("beside the setup: %q, %v", data, err)
	}
	if data, err := src.Open(filepath.Join(dir, "other.csv")); err != nil || string(data) != "x" {
		t.Errorf("by its full name: %q, %v", data, err)
	}
	if src, err := input.Load(name, ""); err != nil || src.Open != nil || src.SetupName != "" {
		t.Errorf("without a setup: %v", err)
	}
	for _, c := range []struct{ capture, setup, text string }{
		{filepath.Join(dir, "none.c3d"), "", "none.c3d: can not be opened: no such file"},
		{dir, "", ": is a folder"},
		{name, filepath.Join(dir, "none.json"), "none.json: can not be opened"},
	} {
		if _, err := input.Load(c.capture, c.setup); err == nil || !strings.Contains(err.Error(), c.text) {
			t.Errorf("%v, want %q", err, c.text)
		}
	}
}

// The digest tells contents apart, and only contents.
func TestDigest(t *testing.T) {
	a := demo.Source()
	b := a
	b.Name, b.SetupName = "other", "other.json"
	if a.Digest() != b.Digest() || len(a.Digest()) != 64 {
		t.Errorf("%s, %s", a.Digest(), b.Digest())
	}
	seen := map[string]string{a.Digest(): "the first", a.Digest(nil): "nothing more", a.Digest([]byte("bands")): "more"}
	if len(seen) != 3 {
		t.Error("more content makes no difference")
	}
	other := func(what string, change func(*input.Source)) {
		t.Helper()
		s := a
		change(&s)
		if was, ok := seen[s.Digest()]; ok {
			t.Errorf("%s has the digest of %s", what, was)
		}
		seen[s.Digest()] = what
	}
	other("another capture", func(s *input.Source) { s.Data = append([]byte{0}, s.Data...) })
	other("another setup", func(s *input.Source) { s.Setup = append([]byte(" "), s.Setup...) })
	other("a capture that begins with the setup", func(s *input.Source) {
		s.Data, s.Setup = append(append([]byte{}, s.Data...), s.Setup...), nil
	})
	setup := []byte(`{"version": 1, "com": {"file": "mass.csv", "axes": "lab", "sd": "1 cm"}}`)
	for _, text := range []string{"1", "2"} {
		other("a centre of mass "+text, func(s *input.Source) {
			s.Setup = setup
			s.Open = func(string) ([]byte, error) { return []byte(text), nil }
		})
	}
	other("no centre of mass", func(s *input.Source) {
		s.Setup = setup
		s.Open = func(string) ([]byte, error) { return nil, errors.New("none") }
	})
}
