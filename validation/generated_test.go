package validation

import (
	"bytes"
	"encoding/json"
	"flag"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
)

var update = flag.Bool("update", false, "write the generated files anew")

// current compares a generated file with what it should hold.
func current(t *testing.T, name string, want []byte) {
	t.Helper()
	if *update {
		if err := os.WriteFile(name, want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	got, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(bytes.ReplaceAll(got, []byte("\r\n"), []byte("\n")), want) {
		t.Errorf("%s is out of date: run go test ./validation -run %s -update", name, t.Name())
	}
}

func TestReportIsCurrent(t *testing.T) {
	var b bytes.Buffer
	if err := Check(Library()).WriteMarkdown(&b); err != nil {
		t.Fatal(err)
	}
	current(t, "REPORT.md", b.Bytes())
}

func TestVectorsAreCurrent(t *testing.T) {
	const name = "vectors/cases.json"
	var b bytes.Buffer
	if err := WriteVectors(&b, Cases()); err != nil {
		t.Fatal(err)
	}
	if *update {
		current(t, name, b.Bytes())
		return
	}
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if bytes.Equal(data, b.Bytes()) {
		return
	}
	// Inputs such as sines may end in another digit on another kind of machine.
	var stored, fresh any
	if err := json.Unmarshal(data, &stored); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b.Bytes(), &fresh); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(fresh, stored, cmpopts.EquateApprox(1e-12, 1e-14)); diff != "" {
		t.Errorf("%s is out of date: run go test ./validation -run TestVectorsAreCurrent -update\n%s", name, diff)
	}
}

// What is written down is what is meant: the file's cases are the cases.
func TestVectorsRoundTrip(t *testing.T) {
	f, err := os.Open("vectors/cases.json")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	read, err := ReadVectors(f)
	if err != nil {
		t.Fatal(err)
	}
	r := CheckCases(Library(), read)
	if err := r.Err(); err != nil {
		t.Error(err)
	}
	cases := Cases()
	if len(read) != len(cases) {
		t.Fatalf("%d cases read, %d written", len(read), len(cases))
	}
	for i := range cases {
		if read[i].ID != cases[i].ID || !reflect.DeepEqual(read[i].Source, cases[i].Source) || len(read[i].Wants) != len(cases[i].Wants) {
			t.Errorf("case %s changed on the way", cases[i].ID)
		}
	}
}

// Answers written to a file and read back are judged as those of a program.
func TestAnswers(t *testing.T) {
	cases := Cases()
	a := Collect(Library(), cases)
	for id, out := range a {
		for name, v := range out {
			if v.Reason == "" {
				v.Reason = "undefined"
				out[name] = v
			}
		}
		a[id] = out
	}
	var b bytes.Buffer
	if err := a.Write(&b); err != nil {
		t.Fatal(err)
	}
	back, err := ReadAnswers(bytes.NewReader(b.Bytes()), cases)
	if err != nil {
		t.Fatal(err)
	}
	if err := back.Check(cases).Err(); err != nil {
		t.Error(err)
	}
	delete(back, cases[0].ID)
	r := back.Check(cases)
	if err := r.Err(); err != nil || r.Results[0].Status != Unsupported {
		t.Errorf("missing answer: %v, %v", err, r.Results[0].Status)
	}
	back[cases[1].ID] = Values{"value": Number("1", 1e9)}
	if back.Check(cases).Err() == nil {
		t.Error("a wrong answer passed")
	}
	for name, text := range map[string]string{
		"not JSON":          "{",
		"another schema":    `{"schema": 2, "answers": {}}`,
		"no schema":         `{"answers": {}}`,
		"unknown case":      `{"schema": 1, "answers": {"nonsense": {}}}`,
		"unknown field":     `{"schema": 1, "answer": {}}`,
		"ragged table":      `{"schema": 1, "answers": {"torque/vector": {"moment": {"unit": "N·m", "value": [[1,2],[3]]}}}}`,
		"value of no shape": `{"schema": 1, "answers": {"torque/vector": {"moment": {"unit": "N·m", "value": {"x": 1}}}}}`,
	} {
		if _, err := ReadAnswers(strings.NewReader(text), cases); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestValueJSON(t *testing.T) {
	for _, c := range []struct {
		v    Value
		text string
	}{
		{Number("N", 1.5), `{"unit":"N","value":1.5}`},
		{List("m", 1, 2), `{"unit":"m","value":[1,2]}`},
		{Table("m", []float64{1, 2, 3}, []float64{4, 5, 6}), `{"unit":"m","value":[[1,2,3],[4,5,6]]}`},
		{Word("lbf"), `{"value":"lbf"}`},
		{Undefined("m", "no load"), `{"unit":"m","value":null,"undefined":"no load"}`},
		{Value{Unit: "m", Numbers: []float64{1, math.NaN()}, Shape: []int{2}, Reason: "gap"}, `{"unit":"m","value":[1,null],"undefined":"gap"}`},
	} {
		data, err := json.Marshal(c.v)
		if err != nil || string(data) != c.text {
			t.Errorf("%+v: %s, %v", c.v, data, err)
		}
		var back Value
		if err := json.Unmarshal(data, &back); err != nil {
			t.Error(err)
		}
		again, err := json.Marshal(back)
		if err != nil || string(again) != c.text {
			t.Errorf("%s came back as %s, %v", data, again, err)
		}
	}
	for name, v := range map[string]Value{
		"infinite":           Number("m", math.Inf(-1)),
		"NaN without reason": Number("m", math.NaN()),
		"empty number":       {Unit: "m"},
		"three dimensions":   {Unit: "m", Shape: []int{1, 1, 1}, Numbers: []float64{1}},
	} {
		if _, err := json.Marshal(v); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

// The seeds are in testdata/fuzz.
func FuzzReadAnswers(f *testing.F) {
	cases := Cases()
	f.Fuzz(func(t *testing.T, text string) {
		a, err := ReadAnswers(strings.NewReader(text), cases)
		if err != nil {
			return
		}
		if r := a.Check(cases); len(r.Results) == 0 {
			t.Error("no results")
		}
	})
}

// What can be read can be put to the library without a panic, and can be
// written and read again.
func FuzzReadVectors(f *testing.F) {
	f.Fuzz(func(t *testing.T, text string) {
		cases, err := ReadVectors(strings.NewReader(text))
		if err != nil {
			return
		}
		for i := range cases {
			for _, r := range checkCase(Library(), &cases[i]) {
				if strings.Contains(r.Message, "panicked") {
					t.Errorf("%s: %s", r.ID, r.Message)
				}
			}
		}
		var b bytes.Buffer
		if err := WriteVectors(&b, cases); err != nil {
			return // a NaN without a reason
		}
		if _, err := ReadVectors(&b); err != nil {
			t.Errorf("not read again: %v", err)
		}
	})
}
