package phase_test

import (
	"testing"

	"example.com/momentarm/phase"
)

func TestDefinition(t *testing.T) {
	seen := map[string]phase.Name{}
	for _, n := range phase.Names() {
		d := n.Definition()
		if other, ok := seen[d]; ok || d == "" {
			t.Errorf("%s: %q, as %q", n, d, other)
		}
		seen[d] = n
	}
	if d := phase.Name("lunch").Definition(); d != "" {
		t.Errorf("a name that is none: %q", d)
	}
}
