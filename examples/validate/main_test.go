package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/momentarm/validation"
)

func execute(t *testing.T, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	code = run(args, "", &out, &errs)
	return code, out.String(), errs.String()
}

func TestTable(t *testing.T) {
	code, out, errs := execute(t)
	if code != 0 || errs != "" {
		t.Fatalf("exit %d: %s", code, errs)
	}
	lines := strings.Split(strings.TrimSpace(out), "\n")
	last := lines[len(lines)-1]
	for _, want := range []string{" cases, ", " 0 missed", "standard ", "textbook ", "reference library "} {
		if !strings.Contains(last, want) {
			t.Errorf("the last line lacks %q: %s", want, last)
		}
	}
	if !strings.Contains(out, "skipped: data sets: set GRF_DATASETS") {
		t.Error("nothing about the data sets that were left out")
	}
}

func TestJSON(t *testing.T) {
	code, out, errs := execute(t, "-json", "-")
	if code != 0 || errs != "" {
		t.Fatalf("exit %d: %s", code, errs)
	}
	var report struct {
		Schema  int
		Passed  bool
		Results []struct {
			ID     string
			Source struct{ Title string }
		}
	}
	if err := json.Unmarshal([]byte(out), &report); err != nil {
		t.Fatalf("standard output is not one JSON document: %v", err)
	}
	if report.Schema != 1 || !report.Passed || len(report.Results) < 150 || report.Results[0].Source.Title == "" {
		t.Errorf("schema %d, passed %v, %d results", report.Schema, report.Passed, len(report.Results))
	}
	name := filepath.Join(t.TempDir(), "report.json")
	if code, table, _ := execute(t, "-json", name); code != 0 || !strings.Contains(table, "0 missed") {
		t.Errorf("exit %d with a file", code)
	}
	if data, err := os.ReadFile(name); err != nil || !json.Valid(data) {
		t.Errorf("file: %v", err)
	}
}

func TestAnswers(t *testing.T) {
	dir := t.TempDir()
	write := func(name string, a validation.Answers) string {
		path := filepath.Join(dir, name)
		var b bytes.Buffer
		if err := a.Write(&b); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	const id = "torque/wrench-40"
	right := validation.Answers{id: {"size": validation.Number("N·m", 3.2139)}}
	wrong := validation.Answers{id: {"size": validation.Number("N·m", -3.2139)}}
	if code, out, errs := execute(t, "-answers", write("right.json", right)); code != 0 {
		t.Errorf("right answers: exit %d, %s", code, errs+out[max(0, len(out)-300):])
	}
	if code, out, errs := execute(t, "-answers", write("wrong.json", wrong)); code != 1 || !strings.Contains(errs, id) || !strings.Contains(out, "MISSED") {
		t.Errorf("wrong answers: exit %d, %s", code, errs)
	}
	if code, _, errs := execute(t, "-answers", write("none.json", nil)); code != 1 || !strings.Contains(errs, "nothing was compared") {
		t.Errorf("no answers: exit %d, %s", code, errs)
	}
	bad := filepath.Join(dir, "bad.json")
	if err := os.WriteFile(bad, []byte("{"), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{bad, filepath.Join(dir, "absent.json")} {
		if code, out, errs := execute(t, "-answers", name); code != 1 || !strings.Contains(errs, name) || out != "" {
			t.Errorf("%s: exit %d, %s", name, code, errs)
		}
	}
}

func TestArguments(t *testing.T) {
	for _, args := range [][]string{{"-nonsense"}, {"extra"}, {"-json"}} {
		if code, _, errs := execute(t, args...); code != 2 || errs == "" {
			t.Errorf("%v: exit %d", args, code)
		}
	}
	if code, _, _ := execute(t, "-help"); code != 0 {
		t.Errorf("-help: exit %d", code)
	}
	// A folder without data sets is no failure, and says so.
	if code, out, errs := execute(t, "-datasets", t.TempDir()); code != 0 || !strings.Contains(out, "skipped: data set bds") {
		t.Errorf("empty folder: exit %d, %s", code, errs)
	}
	if code, _, errs := execute(t, "-datasets", "no/such/folder"); code != 1 || !strings.Contains(errs, "no/such/folder") {
		t.Errorf("no folder: exit %d, %s", code, errs)
	}
	// A data set that is there and broken is.
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "jump"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "jump", "GRFZjump.txt"), []byte("1 2 x"), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, _, errs := execute(t, "-datasets", dir); code != 1 || !strings.Contains(errs, "jump/GRFZjump.txt") {
		t.Errorf("broken data set: exit %d, %s", code, errs)
	}
}
