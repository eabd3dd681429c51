package phase_test

import (
	"encoding/json"
	"errors"
	"math"
	"testing"

	"example.com/momentarm/phase"
)

func TestEventJSON(t *testing.T) {
	for _, c := range []struct {
		e    phase.Event
		text string
	}{
		{phase.Event{Name: phase.Onset, Time: 1.25, SD: 0.5, Source: phase.Detected}, `{"name":"onset","time_s":1.25,"sd_s":0.5,"source":"detected"}`},
		{phase.Event{Name: phase.Impact, Time: -0.1, SD: math.NaN()}, `{"name":"impact","time_s":-0.1,"sd_s":null,"source":"given"}`},
	} {
		text, err := json.Marshal(c.e)
		if err != nil || string(text) != c.text {
			t.Errorf("%s, want %s; %v", text, c.text, err)
		}
		var got phase.Event
		if err := json.Unmarshal(text, &got); err != nil {
			t.Fatal(err)
		}
		if got.Name != c.e.Name || got.Time != c.e.Time || got.Source != c.e.Source ||
			got.SD != c.e.SD && !(math.IsNaN(got.SD) && math.IsNaN(c.e.SD)) {
			t.Errorf("%+v, want %+v", got, c.e)
		}
	}
	var e phase.Event
	if err := json.Unmarshal([]byte(`{"name":"top"}`), &e); err != nil || !math.IsNaN(e.Time) || !math.IsNaN(e.SD) {
		t.Errorf("%+v, %v", e, err)
	}
	if err := json.Unmarshal([]byte(`{"source":"guessed"}`), &e); !errors.Is(err, phase.ErrInput) {
		t.Error(err)
	}
}
