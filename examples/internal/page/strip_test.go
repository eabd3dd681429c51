package page

import (
	"strings"
	"testing"
)

// A phase between two numbered positions is named as such, in the picture and among
// the measures.
func TestNumberedPhases(t *testing.T) {
	for name, want := range map[string]string{"p4_p5": "P4–P5", "p9_p10": "P9–P10", "follow_through": "follow-through", "p4": "p4"} {
		if got := phaseWords(name); got != want {
			t.Errorf("%s is %q, want %q", name, got, want)
		}
	}
	s := demoSubject(t) // has marks at the top and at the arm parallel
	if m, ok := s.Measure("p4_p5_time"); !ok || m.Label != "P4 to P5: from top to lead arm parallel down" {
		t.Errorf("label %q", m.Label)
	}
	if said := text(pageOf(t, s)); strings.Contains(strings.ToLower(said), "p4 p5") {
		t.Error("a name of the program is on the page")
	}
}
