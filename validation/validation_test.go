package validation

import (
	"strings"
	"testing"
)

func TestCasesAreWellFormed(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Cases() {
		if err := c.check(); err != nil {
			t.Error(err)
		}
		if seen[c.ID] {
			t.Errorf("case %s exists twice", c.ID)
		}
		seen[c.ID] = true
		if c.Source.Title == "" || c.Given == "" || c.Quantity == "" {
			t.Errorf("case %s lacks a source, inputs or quantity", c.ID)
		}
	}
}

func TestLibrary(t *testing.T) {
	r := Check(Library())
	if err := r.Err(); err != nil {
		t.Error(err)
	}
	for _, res := range r.Results {
		if res.Status == Unsupported {
			t.Errorf("%s: %s is not supported by the library itself", res.ID, res.Output)
		}
	}
	external, sources := 0, map[string]bool{}
	for _, c := range Cases() {
		if c.Level.External() {
			external++
			sources[c.Source.Title] = true
		}
	}
	t.Logf("%d external cases from %d sources: %v", external, len(sources), r.Counts())
	var names []string
	for s := range sources {
		names = append(names, s)
	}
	t.Log(strings.Join(names, "; "))
}
