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
	code, out, errs := execute(t, "-json")
	if code != 0 || errs != "" {
		t.Fatalf("exit %d: %s", code, errs)
	}
	var report struct {
		Schema  int
		Passed  bool
		Skipped []string
		Results []struct {
			ID     string
			Source struct{ Title string }
		}
	}
	if err := json.Unmarshal([]byte(out), &report); err != nil {
		t.Fatalf("standard output is not one JSON document: %v", err)
	}
	if report.Schema != 1 || !report.Passed || len(report.Results) < 150 || report.Results[0].Source.Title == "" || len(report.Skipped) == 0 {
		t.Errorf("schema %d, passed %v, %d results, skipped %v", report.Schema, report.Passed, len(report.Results), report.Skipped)
	}
}

func TestCases(t *testing.T) {
	code, out, errs := execute(t, "-cases")
	if code != 0 || errs != "" {
		t.Fatalf("exit %d: %s", code, errs)
	}
	cases, err := validation.ReadVectors(strings.NewReader(out))
	if err != nil || len(cases) != len(validation.Cases()) {
		t.Errorf("%d cases, %v", len(cases), err)
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
	if code, out, errs := execute(t, "-json", "-answers", write("wrong.json", wrong)); code != 1 || errs == "" || !json.Valid([]byte(out)) || !strings.Contains(out, `"passed": false`) {
		t.Errorf("wrong answers as JSON: exit %d, %s", code, errs)
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

// Answers to the cases of a data set are judged where the data set is.
func TestAnswersToDatasets(t *testing.T) {
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, "jump"), 0o755); err != nil {
		t.Fatal(err)
	}
	record := strings.Repeat("600\n", 544) + strings.Repeat("0\n", 251) + strings.Repeat("600\n", 300)
	if err := os.WriteFile(filepath.Join(dir, "jump", "GRFZjump.txt"), []byte(record), 0o644); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(dir, "answers.json")
	text := `{"schema": 1, "answers": {"datasets/jump/flight": {"take_off": {"unit": "s", "value": 0.9067}}}}`
	if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	if code, out, errs := execute(t, "-datasets", dir, "-answers", name); code != 0 || !strings.Contains(out, "1 passed, 0 missed") {
		t.Errorf("exit %d, %s", code, errs)
	}
	if code, _, errs := execute(t, "-answers", name); code != 1 || !strings.Contains(errs, "datasets/jump/flight") {
		t.Errorf("without the data set: exit %d, %s", code, errs)
	}
	code, out, errs := execute(t, "-datasets", dir, "-cases")
	if code != 0 || !strings.Contains(out, `"id":"datasets/jump/flight"`) {
		t.Errorf("cases: exit %d, %s", code, errs)
	}
}

func TestArguments(t *testing.T) {
	for _, args := range [][]string{{"-nonsense"}, {"extra"}, {"-answers"}} {
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
