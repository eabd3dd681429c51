package capture

import (
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// What belongs to one capture is left out and named; all else stays, and the setup
// that it comes from is as it was.
func TestShared(t *testing.T) {
	const text = `{"version": 1, "session": "today", "golfer": {"handed": "left"}, "lab": {"target": "-y"},
		"zero": {"from": "0 s", "to": "0.4 s"}, "quiet_stance": {"from": "1 s", "to": "2 s"},
		"marks": {"impact": "3.1 s"}, "events": {"Ball": "impact"},
		"com": {"file": "com.csv", "axes": "lab", "sd": "1 cm", "height": "0.95 m"},
		"feet": {"at": "1 s", "lead": {"heel": "LHEE", "toe": "LTOE", "width": "9 cm"},
			"trail": {"heel": ["0 m", "0 m", "0 m"], "toe": ["0.3 m", "0 m", "0 m"], "width": "9 cm"}}}`
	s := readSetup(t, text)
	got, left := s.Shared()
	want := readSetup(t, `{"version": 1, "golfer": {"handed": "left"}, "lab": {"target": "-y"},
		"zero": {"from": "0 s", "to": "0.4 s"}, "events": {"Ball": "impact"}, "com": {"height": "0.95 m"},
		"feet": {"lead": {"heel": "LHEE", "toe": "LTOE", "width": "9 cm"}}}`)
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	if fields := []string{"session", "quiet_stance", "marks", "com.file", "feet.at", "feet.trail"}; !slices.Equal(left, fields) {
		t.Errorf("left out %v, want %v", left, fields)
	}
	if d := cmp.Diff(readSetup(t, text), s); d != "" {
		t.Error("the setup itself changed", d)
	}
	again, left := got.Shared()
	if !reflect.DeepEqual(again, got) || left != nil {
		t.Errorf("of what is shared, %v is left out", left)
	}
}

// A setup that is shared makes as much sense as the whole one.
func TestSharedPassesCheck(t *testing.T) {
	full, err := os.ReadFile("testdata/full.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{string(full), `{"version": 1}`,
		`{"version": 1, "com": {"file": "a.csv", "axes": "swing", "sd": "1 cm", "slow_sd": "1 cm", "slow_time": "1 s", "columns": ["a", "b", "c"], "rate": "100 Hz"}}`,
		`{"version": 1, "feet": {"axes": "swing", "lead": {"heel": ["0 m", "0 m", "0 m"], "toe": ["0.3 m", "0 m", "0 m"], "width": "9 cm"}}}`,
	} {
		other, left := readSetup(t, text).Shared()
		if err := other.Check(); err != nil {
			t.Errorf("without %s: %v", strings.Join(left, ", "), err)
		}
	}
}
