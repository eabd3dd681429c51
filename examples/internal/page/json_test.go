package page

import (
	"encoding/json"
	"math"
	"testing"

	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// decoded is JSON as somebody else's program sees it.
func decoded(t *testing.T, s *Subject) map[string]any {
	t.Helper()
	data, err := s.JSON()
	if err != nil {
		t.Fatal(err)
	}
	var m map[string]any
	if err := json.Unmarshal(data, &m); err != nil {
		t.Fatal(err)
	}
	return m
}

// number that JSON has, NaN for null.
func numberIn(t *testing.T, v any) float64 {
	t.Helper()
	switch v := v.(type) {
	case nil:
		return math.NaN()
	case float64:
		return v
	}
	t.Fatalf("%v is neither a number nor null", v)
	return 0
}

func TestJSONHasWhatTheAnalysisHas(t *testing.T) {
	s := demoSubject(t)
	m := decoded(t, s)
	for key, want := range map[string]float64{
		"schema": results.Schema, "body_weight_N": s.BodyWeight, "mass_kg": s.Mass, "rate_Hz": s.Recording.Rate,
	} {
		if got := numberIn(t, m[key]); got != want {
			t.Errorf("%s is %v, want %v", key, got, want)
		}
	}
	events := m["events"].([]any)
	if len(events) != len(s.Events.Found) || len(events) == 0 {
		t.Fatalf("%d events, want %d", len(events), len(s.Events.Found))
	}
	for i, e := range s.Events.Found {
		got := events[i].(map[string]any)
		if got["name"] != string(e.Name) || got["source"] != e.Source.String() ||
			numberIn(t, got["time_s"]) != e.Time || !same(numberIn(t, got["sd_s"]), e.SD) {
			t.Errorf("event %v, want %+v", got, e)
		}
	}
	measures := m["measures"].([]any)
	if len(measures) != len(s.Measures) || len(measures) == 0 {
		t.Fatalf("%d measures, want %d", len(measures), len(s.Measures))
	}
	for i, want := range s.Measures {
		got := measures[i].(map[string]any)
		if got["name"] != want.Name || got["label"] != want.Label || got["unit"] != want.Unit ||
			!same(numberIn(t, got["value"]), want.Value) || !same(numberIn(t, got["time_s"]), want.Time) || !same(numberIn(t, got["sd"]), want.SD) {
			t.Errorf("measure %v, want %+v", got, want)
		}
		if got["value"] == nil && got["note"] == "" {
			t.Errorf("%s is null without a reason", want.Name)
		}
	}
	for _, key := range []string{"missing", "phases", "steps", "warnings"} {
		if _, ok := m[key].([]any); !ok {
			t.Errorf("%s is no list", key)
		}
	}
	if _, ok := m["settings"].(map[string]any); !ok {
		t.Error("no settings")
	}
}

// A swing without some events: null values with the reason, missing events with
// theirs.
func TestJSONOfWhatIsUndefined(t *testing.T) {
	s := made(t, synth.Config{Style: synth.HangBack}, swing.Options{}, noMarks)
	s.Measures = append(s.Measures, swing.Measure{Name: "nothing", Value: math.NaN(), SD: math.NaN(), Time: math.Inf(1), Unit: "N"})
	m := decoded(t, s)
	missing := m["missing"].([]any)
	if len(missing) != len(s.Events.Missing) || len(missing) == 0 {
		t.Fatalf("missing: %v, want %v", missing, s.Events.Missing)
	}
	if got := missing[0].(map[string]any); got["name"] == "" || got["reason"] == "" {
		t.Errorf("missing event %v", got)
	}
	measures := m["measures"].([]any)
	last := measures[len(measures)-1].(map[string]any)
	if last["value"] != nil || last["sd"] != nil || last["time_s"] != nil || last["note"] == "" {
		t.Errorf("undefined measure %v", last)
	}
	estimated := false
	for _, e := range m["events"].([]any) {
		e := e.(map[string]any)
		estimated = estimated || e["name"] == string(phase.Impact) && e["source"] == "estimated"
	}
	if !estimated {
		t.Error("an impact without a mark should be called estimated")
	}
}

// Lists are never null, also of an analysis that has none.
func TestJSONOfEmptyLists(t *testing.T) {
	s := &Subject{Swing: &input.Swing{Analysis: &swing.Analysis{Recording: &grf.Recording{}}}}
	m := decoded(t, s)
	for _, key := range []string{"events", "missing", "phases", "measures", "steps", "warnings"} {
		if l, ok := m[key].([]any); !ok || len(l) != 0 {
			t.Errorf("%s is %v, want an empty list", key, m[key])
		}
	}
}
