package validation

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/momentarm/grf/capture"
	"example.com/momentarm/phase"
)

// A setup can mark the events that an analysis knows, no more and no less, in
// the same order. Package capture, which lies below phase, can not ask for them.
func TestMarksAreEvents(t *testing.T) {
	var events []string
	for _, n := range phase.Names() {
		events = append(events, string(n))
	}
	if diff := cmp.Diff(events, capture.MarkNames()); diff != "" {
		t.Errorf("marks differ from events (-events +marks):\n%s", diff)
	}
}
