//go:build !js

package main

import (
	"encoding/json"
	"strings"
	"testing"

	"example.com/momentarm/examples/internal/demo"
	"example.com/momentarm/examples/internal/page"
	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/phase/screen"
)

// demoFiles are the demonstration as somebody would drop it.
func demoFiles() job {
	return job{capture: file{"swing.c3d", demo.Capture}, setup: file{"setup.json", demo.Setup}}
}

// The work is that of the report: the same bytes.
func TestWorkIsTheReport(t *testing.T) {
	s, err := page.New(demo.Source())
	if err != nil {
		t.Fatal(err)
	}
	s.Demo = true
	if err := s.Find(screen.Options{}); err != nil {
		t.Fatal(err)
	}
	html, err := s.HTML()
	if err != nil {
		t.Fatal(err)
	}
	series, err := s.CSV()
	if err != nil {
		t.Fatal(err)
	}
	out := work(job{demo: true})
	if out.err != "" || string(out.html) != string(html) || string(out.series) != string(series) {
		t.Errorf("the demonstration differs from the report; %s", out.err)
	}
	if out = work(demoFiles()); out.err != "" || out.title != "swing.c3d" || !json.Valid(out.json) {
		t.Errorf("title %q, %s", out.title, out.err)
	}
	if strings.Contains(string(out.html), "made up") {
		t.Error("a capture of somebody's is called made up")
	}
}

func TestWorkHoldsAgainst(t *testing.T) {
	j := demoFiles()
	j.before = file{"before.c3d", demo.Capture}
	out := work(j)
	var r results.Results
	if err := json.Unmarshal(out.json, &r); err != nil || r.Against == nil || r.Against.Capture != "before.c3d" {
		t.Errorf("%+v, %v, %s", r.Against, err, out.err)
	}
}

// Whatever is wrong is one line that names the file and says what to do.
func TestWorkFails(t *testing.T) {
	with := func(change func(*job)) job {
		j := demoFiles()
		change(&j)
		return j
	}
	text := func(old, new string) []byte { return []byte(strings.Replace(string(demo.Setup), old, new, 1)) }
	for _, c := range []struct {
		name string
		job  job
		want []string
	}{
		{"no setup", with(func(j *job) { j.setup = file{} }), []string{"swing.c3d: needs a setup, chosen or written on this page: lab.target", `"lab": {"target": "+y"}`}},
		{"empty", with(func(j *job) { j.capture.data = nil }), []string{"swing.c3d: ", "empty"}},
		{"cut", with(func(j *job) { j.capture.data = j.capture.data[:300] }), []string{"swing.c3d: ", "byte"}},
		{"no capture at all", with(func(j *job) { j.capture.data = []byte("\xff\xd8\xff\xe0JFIF\x00") }), []string{"swing.c3d: "}},
		{"setup is no JSON", with(func(j *job) { j.setup.data = []byte("{\n oops") }), []string{"setup.json: ", "line 2"}},
		{"typo", with(func(j *job) { j.setup.data = text(`"golfer"`, `"glofer"`) }), []string{"setup.json: ", `did you mean "golfer"`}},
		{"a file of the setup", with(func(j *job) {
			j.setup.data = text(`"marks"`, `"com": {"file": "data/com.csv", "axes": "lab"}, "marks"`)
		}),
			[]string{"setup.json: com.file", `"com.csv" was not given to the page: choose it`}},
		{"earlier capture", with(func(j *job) { j.before = file{"before.c3d", []byte("?")} }), []string{"before.c3d: "}},
	} {
		out := work(c.job)
		if out.html != nil || out.json != nil || strings.Contains(out.err, "\n") {
			t.Errorf("%s: a report, or more than a line: %q", c.name, out.err)
		}
		for _, want := range c.want {
			if !strings.Contains(out.err, want) {
				t.Errorf("%s: %q does not say %q", c.name, out.err, want)
			}
		}
		if strings.Contains(out.err, "-setup") {
			t.Errorf("%s: %q speaks of a flag", c.name, out.err)
		}
	}
}

// Files that a setup names are found by their names without folders.
func TestWorkOpensOthers(t *testing.T) {
	j := demoFiles()
	j.setup.data = []byte(strings.Replace(string(demo.Setup), `"marks"`, `"com": {"file": "../data/com.csv", "axes": "swing"}, "marks"`, 1))
	var com strings.Builder
	com.WriteString("time [s],x [m],y [m],z [m]\n")
	for k := range 80 {
		b, _ := json.Marshal([]float64{float64(k) / 10, 0, 0, 0.92})
		com.WriteString(strings.Trim(string(b), "[]") + "\n")
	}
	j.others = []file{{"else.csv", nil}, {"com.csv", []byte(com.String())}}
	out := work(j)
	if out.err != "" || !strings.Contains(string(out.json), "com.csv: ") {
		t.Error(out.err)
	}
}

// A fault of the program is said, not thrown.
func TestWorkNeverPanics(t *testing.T) {
	j := demoFiles()
	j.setup.data = nil
	j.capture.data = nil
	old := examine
	defer func() { examine = old }()
	examine = nil // a call of it panics
	out := work(j)
	if !strings.Contains(out.err, "swing.c3d: the analysis broke") || !strings.Contains(out.err, "fault of the program") {
		t.Errorf("%q", out.err)
	}
}
