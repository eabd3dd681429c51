package results_test

import (
	"encoding/json"
	"math"
	"reflect"
	"strings"
	"testing"

	"example.com/momentarm/examples/internal/demo"
	"example.com/momentarm/examples/internal/results"
)

func TestValue(t *testing.T) {
	for v, want := range map[float64]string{
		0.1: "0.1", math.Copysign(0, -1): "0", math.Inf(1): "null", math.Inf(-1): "null", 1e-9: "1e-9", -3: "-3",
	} {
		if got, err := json.Marshal(results.Value(v)); err != nil || string(got) != want {
			t.Errorf("%v: %s, %v; want %s", v, got, err, want)
		}
	}
	if got, err := json.Marshal(results.Value(math.NaN())); err != nil || string(got) != "null" {
		t.Errorf("NaN: %s, %v", got, err)
	}
	var v results.Value
	if err := json.Unmarshal([]byte("null"), &v); err != nil || !math.IsNaN(float64(v)) {
		t.Errorf("null reads as %v, %v", v, err)
	}
	if err := json.Unmarshal([]byte("0.30000000000000004"), &v); err != nil || v != 0.30000000000000004 {
		t.Errorf("a number reads as %v, %v", v, err)
	}
	if err := json.Unmarshal([]byte(`"1"`), &v); err == nil {
		t.Error("a text reads as a number")
	}
}

// What is read back is what was written, to the last bit.
func TestRoundTrip(t *testing.T) {
	s, err := demo.Source().Analyse()
	if err != nil {
		t.Fatal(err)
	}
	first, err := json.Marshal(results.Of(s))
	if err != nil {
		t.Fatal(err)
	}
	var r results.Results
	d := json.NewDecoder(strings.NewReader(string(first)))
	d.DisallowUnknownFields()
	if err := d.Decode(&r); err != nil {
		t.Fatal(err)
	}
	second, err := json.Marshal(r)
	if err != nil || string(first) != string(second) {
		t.Errorf("%v\n%s\n%s", err, first, second)
	}
	if len(r.Measures) != len(s.Measures) || !reflect.DeepEqual(r.Steps, s.Steps) || !reflect.DeepEqual(r.Methods, s.Methods) || len(r.Methods) < 10 {
		t.Error("something got lost")
	}
	for i, m := range s.Measures {
		if got := float64(r.Measures[i].Value); got != m.Value && !(math.IsNaN(got) && math.IsNaN(m.Value)) {
			t.Errorf("%s is %v, was %v", m.Name, got, m.Value)
		}
	}
}
