package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"

	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/validation/synth"
)

// day fills a folder with five swings of a golfer who pushes that strongly, and
// works them out.
func day(t *testing.T, golfer string, strength float64) (folder string) {
	t.Helper()
	files := map[string]string{"lab.json": strings.Replace(lab, `"golfer": {`, `"golfer": {"name": "`+golfer+`", `, 1)}
	for i := range 5 {
		s, err := synth.New(synth.Config{Rate: 200, Address: 1, Hold: 0.5, Strength: strength})
		if err != nil {
			t.Fatal(err)
		}
		f, err := s.C3D(synth.CaptureOptions{Disturbance: synth.Disturbance{Seed: uint64(i + 1), ForceNoise: 3, MomentNoise: 0.5}})
		if err != nil {
			t.Fatal(err)
		}
		data, err := c3d.Append(nil, f)
		if err != nil {
			t.Fatal(err)
		}
		files[fmt.Sprintf("swing %d.c3d", i+1)] = string(data)
	}
	dir := fill(t, files)
	if status, stdout, stderr := invoke(t, "-setup", filepath.Join(dir, "lab.json"), dir); status != exitOK {
		t.Fatal(stdout, stderr)
	}
	return dir
}

// rowOf returns the line of a measure in the table of changes, the last in text.
func rowOf(text, measure string) string {
	i := strings.LastIndex(text, "\n"+measure)
	if i < 0 {
		return ""
	}
	text, _, _ = strings.Cut(text[i+1:], "\n")
	return text
}

// A golfer who pushes a fifth more strongly has changed; against the same day
// nothing has.
func TestAgainst(t *testing.T) {
	then, now := day(t, "A. Nother", 1), day(t, "A. Nother", 1.2)
	setup := filepath.Join(now, "lab.json")
	status, stdout, stderr := invoke(t, "-setup", setup, "-resume", "-against", filepath.Join(then, defaultOut), now)
	if status != exitOK {
		t.Fatal(stdout, stderr)
	}
	for _, want := range []string{"Session of 5 swings of A. Nother", "held against ", ", 5 swings", "between-days-unknown", "To learn it, record two days", "changes.txt"} {
		if !strings.Contains(stdout, want) {
			t.Errorf("%q is not in\n%s", want, stdout)
		}
	}
	if l := rowOf(stdout, "peak force to target"); !strings.HasSuffix(l, "  changed") {
		t.Errorf("%q in\n%s", l, stdout)
	}
	if text := read(t, now, defaultOut, changesText); !strings.Contains(stdout, text) || !strings.Contains(text, "Holm") {
		t.Errorf("changes.txt holds %q", text)
	}

	_, stdout, _ = invoke(t, "-setup", setup, "-resume", "-against", filepath.Join(now, defaultOut), now)
	if l := rowOf(stdout, "peak force to target"); !strings.HasSuffix(l, "  not shown") {
		t.Errorf("against itself: %q in\n%s", l, stdout)
	}
}

func TestAgainstSomebodyElse(t *testing.T) {
	then, now := day(t, "A. Nother", 1), day(t, "S. Omebody", 1)
	setup := filepath.Join(now, "lab.json")
	_, stdout, _ := invoke(t, "-setup", setup, "-resume", "-against", filepath.Join(then, defaultOut), now)
	if !strings.Contains(stdout, "no swings of this golfer there") || rowOf(stdout[strings.Index(stdout, "held against"):], "peak force to target") != "" {
		t.Error(stdout)
	}
	for says, folder := range map[string]string{
		"-against names the folder":             t.TempDir(),
		"no results that this version can read": fill(t, map[string]string{swingsFile: `{"schema": 1}` + "\n"}),
		"line 1":                                fill(t, map[string]string{swingsFile: "{\n"}),
	} {
		status, _, stderr := invoke(t, "-setup", setup, "-resume", "-against", folder, now)
		if status != exitWork || !strings.Contains(stderr, says) {
			t.Errorf("%q: status %d, %s", says, status, stderr)
		}
	}
	if status, _, stderr := invoke(t, "-against", "", now); status != exitUsage || !strings.Contains(stderr, "-against needs a name") {
		t.Errorf("status %d, %s", status, stderr)
	}
}

// One swing a day shows nothing, which is said once and without the legend of a table
// that is not there; from how many on is said, too.
func TestAgainstOfOneSwing(t *testing.T) {
	c3ds, _ := madeUp()
	then, now := fill(t, map[string]string{"a.c3d": string(c3ds[0]), "a.json": lab}), fill(t, map[string]string{"b.c3d": string(c3ds[1]), "b.json": lab})
	invoke(t, then)
	status, stdout, stderr := invoke(t, "-against", filepath.Join(then, defaultOut), now)
	if status != exitOK {
		t.Fatal(stderr)
	}
	text := read(t, now, defaultOut, changesText)
	if !strings.Contains(stdout, text) || strings.Count(text, "one swing a day can not show a change; record at least 4 of each day\n") != 1 ||
		strings.Contains(text, "no session") || strings.Contains(text, "Holm") {
		t.Errorf("%q", text)
	}
	put(t, filepath.Join(now, "c.c3d"), string(c3ds[2]))
	put(t, filepath.Join(now, "c.json"), lab)
	invoke(t, "-against", filepath.Join(then, defaultOut), now)
	if text := read(t, now, defaultOut, changesText); !strings.Contains(text, "1 swing then and 2 now can not show a change; record at least 4 of each day\n") {
		t.Errorf("%q", text)
	}
}
