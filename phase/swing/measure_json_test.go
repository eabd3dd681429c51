package swing_test

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"example.com/momentarm/phase/swing"
)

func TestMeasureJSON(t *testing.T) {
	nan := math.NaN()
	want := []swing.Measure{
		{Name: "lateral_peak", Label: "lateral peak", Value: 0.1, SD: 0.25, Unit: "N", Time: 1.5},
		{Name: "tempo", Label: "tempo", Value: nan, SD: nan, Unit: "1", Time: nan, Note: "nobody gave it"},
	}
	const text = `[{"name":"lateral_peak","label":"lateral peak","value":0.1,"sd":0.25,"unit":"N","time_s":1.5,"note":""},` +
		`{"name":"tempo","label":"tempo","value":null,"sd":null,"unit":"1","time_s":null,"note":"nobody gave it"}]`
	written, err := json.Marshal(want)
	if err != nil || string(written) != text {
		t.Errorf("%s, want %s; %v", written, text, err)
	}
	var got []swing.Measure
	if err := json.Unmarshal(written, &got); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, got, cmpopts.EquateNaNs()); d != "" {
		t.Error(d)
	}
	if err := json.Unmarshal([]byte(`[{"value":"1 N"}]`), &got); err == nil {
		t.Error("a text was taken for a number")
	}
}
