package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/validation/synth"
)

// lab is the setup of made-up C3D captures.
const lab = `{"version": 1, "golfer": {"stature": "1.78 m"}, "lab": {"target": "-x"}}`

// madeUp are swings of one golfer as C3D files and one as a table, made once for
// all tests.
var madeUp = sync.OnceValues(func() (c3ds [][]byte, csv []byte) {
	for i := range 4 {
		s, err := synth.New(synth.Config{Rate: 200, Address: 1, Hold: 0.5, Strength: 1 + 0.02*float64(i*i%3), Individual: uint64(i + 1)})
		if err != nil {
			panic(err)
		}
		f, err := s.C3D(synth.CaptureOptions{Disturbance: synth.Disturbance{Seed: uint64(i + 1), ForceNoise: 1}})
		if err != nil {
			panic(err)
		}
		data, err := c3d.Append(nil, f)
		if err != nil {
			panic(err)
		}
		c3ds = append(c3ds, data)
		if i == 0 {
			var b bytes.Buffer
			if err := synth.WriteTable(&b, s.Recording()); err != nil {
				panic(err)
			}
			csv = b.Bytes()
		}
	}
	return c3ds, csv
})

// fill writes files into a new folder.
func fill(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		put(t, filepath.Join(dir, name), text)
	}
	return dir
}

func put(t *testing.T, name, text string) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// good are captures that can all be worked on, with lab as the setup of those that
// have none of their own.
func good() map[string]string {
	c3ds, table := madeUp()
	return map[string]string{
		"swing 1.c3d":  string(c3ds[0]),
		"swing 2.c3d":  string(c3ds[1]),
		"swing 10.C3D": string(c3ds[2]),
		"swing 9.csv":  string(table),
		"swing 9.json": `{"version": 1, "golfer": {"stature": "1.78 m"}}`, // swing axes
		"notes.txt":    "not a capture by its name",
	}
}

// mixed are good captures and bad ones.
func mixed() map[string]string {
	files := good()
	files["cut.c3d"] = files["swing 1.c3d"][:3000]
	files["empty.csv"] = ""
	files["picture.c3d"] = "\xff\xd8\xff\xe0\x00\x10JFIF\x00"
	return files
}

// invoke runs the program.
func invoke(t *testing.T, args ...string) (status int, stdout, stderr string) {
	t.Helper()
	var out, err bytes.Buffer
	status = run(context.Background(), args, &out, &err)
	return status, out.String(), err.String()
}

func read(t *testing.T, name ...string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(name...))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// outputs returns the content of every file that is written.
func outputs(t *testing.T, out string) map[string]string {
	t.Helper()
	files := map[string]string{}
	entries, err := os.ReadDir(out)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		files[e.Name()] = read(t, out, e.Name())
	}
	if len(files) != 6 {
		t.Errorf("files written: %v", entries)
	}
	return files
}

// rows reads a CSV file strictly.
func rows(t *testing.T, text string) [][]string {
	t.Helper()
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// lines reads JSON lines strictly: each is an object, and the last one ends.
func lines(t *testing.T, text string) []results.Results {
	t.Helper()
	if text != "" && !strings.HasSuffix(text, "\n") {
		t.Fatal("the last line does not end")
	}
	var all []results.Results
	for l := range strings.Lines(text) {
		d := json.NewDecoder(strings.NewReader(l))
		d.DisallowUnknownFields()
		r := line{Results: new(results.Results)}
		if err := d.Decode(&r); err != nil {
			t.Fatal(err)
		}
		if len(r.Digest) != 64 {
			t.Fatalf("%s was made from %q", r.Capture, r.Digest)
		}
		all = append(all, *r.Results)
	}
	return all
}

// whole checks that the outputs are complete files that agree with each other, and
// returns the analysed captures.
func whole(t *testing.T, out string) []string {
	t.Helper()
	files := outputs(t, out)
	var names []string
	var measures int
	for _, r := range lines(t, files[swingsFile]) {
		names = append(names, r.Capture)
		measures += len(r.Measures)
		if len(r.Measures) == 0 {
			t.Errorf("%s has no measures", r.Capture)
		}
	}
	if n := len(rows(t, files[measuresFile])) - 1; n != measures {
		t.Errorf("%s has %d rows for %d measures", measuresFile, n, measures)
	}
	var states []string
	for _, row := range rows(t, files[capturesFile])[1:] {
		if row[2] == string(analysed) {
			states = append(states, row[0])
		}
	}
	if strings.Join(states, "|") != strings.Join(names, "|") {
		t.Errorf("%s has %v, %s has %v", capturesFile, states, swingsFile, names)
	}
	var s summary
	if err := json.Unmarshal([]byte(files[sessionJSON]), &s); err != nil {
		t.Fatal(err)
	}
	if strings.Join(s.Captures, "|") != strings.Join(names, "|") {
		t.Errorf("%s has %v, %s has %v", sessionJSON, s.Captures, swingsFile, names)
	}
	for _, name := range []string{sessionText, methodsText} {
		if files[name] == "" {
			t.Errorf("%s is empty", name)
		}
	}
	return names
}
