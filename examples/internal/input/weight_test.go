package input_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"example.com/momentarm/examples/internal/demo"
	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/grf"
)

// Doubts come before choices, choices before notes; what nobody knows is a doubt.
func TestByWeight(t *testing.T) {
	var list []grf.Warning
	for _, code := range []string{"decimal-comma", "cop-filled", "up-automatic", "feet-swapped", "height-from-stature", "something-new", "mass-mismatch"} {
		list = append(list, grf.Warning{Code: code})
	}
	var got []string
	for _, w := range input.ByWeight(list) {
		got = append(got, w.Code)
	}
	want := []string{"feet-swapped", "something-new", "mass-mismatch", "up-automatic", "height-from-stature", "decimal-comma", "cop-filled"}
	if !slices.Equal(got, want) || input.Grave(list) != 3 {
		t.Errorf("%d grave, %v, want %v", input.Grave(list), got, want)
	}
	if list[0].Code != "decimal-comma" {
		t.Error("the caller's list was sorted")
	}
}

// A file of the wrong kind is told as what it is.
func TestBandsThatAreASetup(t *testing.T) {
	if _, err := input.Bands("lab.json", demo.Setup); err == nil || !strings.Contains(err.Error(), "lab.json: is the setup of a capture, not bands: name it with -setup") {
		t.Error(err)
	}
	if _, err := input.Bands("mine.json", []byte(`{"version": 1, "nmae": "x"}`)); err == nil || !strings.Contains(err.Error(), `mine.json: bands: nmae: no such field; did you mean "name"?`) {
		t.Error(err)
	}
}

// What belongs to one capture in a setup that others have is left out, which changes
// the digest; a setup without such things is the same either way.
func TestSharedSetup(t *testing.T) {
	src := demo.Source()
	alone := src.Digest()
	src.SharedWith, src.Own = "other.c3d", "give it its own"
	s, err := src.Analyse()
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(s.Warnings, func(w grf.Warning) bool {
		return w.Code == input.SetupShared && strings.Contains(w.Text, "that of other.c3d, too") && strings.Contains(w.Text, "session, marks; give it its own")
	}) || s.Session != "" || len(s.Recording.Marks) > 0 && s.Recording.Marks["top"] > 0 {
		t.Errorf("%q %v %v", s.Session, s.Recording.Marks, s.Warnings)
	}
	if src.Digest() == alone {
		t.Error("the digest is that of the whole setup")
	}
	if !slices.ContainsFunc(s.Warnings, func(w grf.Warning) bool {
		return w.Code == "zero-shared" && strings.Contains(w.Text, "from 0.05 s to 0.45 s, as in other.c3d")
	}) {
		t.Errorf("nothing of the zero: %v", s.Warnings)
	}

	// Somebody stands on the plates in that window: an error that names the capture,
	// never a wrong zero.
	loaded := src
	loaded.Name, loaded.Setup = "then.c3d", []byte(strings.Replace(string(demo.Setup), `{"from": "0.05 s", "to": "0.45 s"}`, `{"from": "3 s", "to": "3.4 s"}`, 1))
	if _, err := loaded.Analyse(); !errors.Is(err, grf.ErrLoaded) || !strings.Contains(err.Error(), "setup.json: for then.c3d: zero: ") || !strings.Contains(err.Error(), "if that is right for other captures, give it its own") {
		t.Error(err)
	}

	src.Setup = []byte(`{"version": 1, "session": "x", "lab": {"target": "-x"}}`)
	src.SameSession = true
	shared := src.Digest()
	if src.SharedWith = ""; src.Digest() != shared {
		t.Error("nothing is left out, and the digest differs")
	}
}
