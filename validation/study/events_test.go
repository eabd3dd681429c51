package study

import (
	"bytes"
	"strings"
	"testing"

	"example.com/momentarm/phase"
)

// A small version of the study. The limits are those of a thousand swings, with
// room for the scatter of a few dozen: every event that the forces define is
// found, none is made up, and its time is as good and as sure as it says.
func TestEvents(t *testing.T) {
	n := 40
	if testing.Short() {
		n = 8
	}
	table := Events(Options{Swings: n})
	if len(table.Refused) > 0 {
		t.Errorf("not analysed: %v", table.Refused)
	}
	seen := 0
	for _, r := range table.Rows {
		if r.Made > 0 {
			t.Errorf("%s was made up %d times: %v", r.Event, r.Made, table.Late)
		}
		switch r.Event {
		case phase.Address, phase.Impact, phase.Finish:
			continue // not sharp in the forces
		}
		seen++
		if r.Found != r.There {
			t.Errorf("%s: found %d of %d", r.Event, r.Found, r.There)
		}
		if r.Median > 0.0035 || r.P95 > 0.03 {
			t.Errorf("%s: median error %.1f ms, 95 %% within %.1f ms", r.Event, 1000*r.Median, 1000*r.P95)
		}
		if n >= 40 && r.Covered < 0.75 {
			t.Errorf("%s: only %.0f %% of the errors are within what is stated", r.Event, 100*r.Covered)
		}
	}
	if r := table.Sharp; r.Median > 0.002 || r.P95 > 0.01 || r.Covered < 0.85 {
		t.Errorf("all together: median error %.1f ms, 95 %% within %.1f ms, %.0f %% covered", 1000*r.Median, 1000*r.P95, 100*r.Covered)
	}
	if seen < 9 {
		t.Errorf("only %d events were looked at", seen)
	}
	var b bytes.Buffer
	if err := table.Write(&b); err != nil || !strings.Contains(b.String(), "frontal_torque_peak") {
		t.Errorf("%v\n%s", err, b.String())
	}
}
