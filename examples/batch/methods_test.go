package main

import (
	"path/filepath"
	"strings"
	"testing"

	"example.com/momentarm/examples/internal/results"
)

func TestMethods(t *testing.T) {
	got := string(methods([]*results.Results{
		{Methods: []string{"Weight was 700.5 N at (1.0, -2.5, 3) m, see J. 3:1445–1450.", "Filtered at 50 Hz.", "Right."}},
		{Methods: []string{"Weight was 698 N at (1.0, -3.5, 4) m, see J. 3:1445–1450.", "Filtered at 50 Hz.", "Left."}},
		{Methods: []string{"Weight was 702.25 N at (1.0, 0.5, 3) m, see J. 3:1445–1450.", "Filtered at 50 Hz.", "Right.", "More."}},
	}))
	want := `How 3 captures were analysed

Weight was 698…702.25 N at (1.0, -3.5…0.5, 3…4) m, see J. 3:1445–1450.

Filtered at 50 Hz.

Of 2 of 3 captures: Right.

Of 1 of 3 captures: Left.

Of 1 of 3 captures: More.

a…b: from a in one capture to b in another.
`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if got := string(methods(nil)); got != "How 0 captures were analysed\n\n" {
		t.Errorf("of none: %q", got)
	}
}

// What is said of all is what is said of each.
func TestMethodsOfAFolder(t *testing.T) {
	dir, setup := fill(t, good()), filepath.Join(t.TempDir(), "lab.json")
	put(t, setup, lab)
	invoke(t, "-setup", setup, dir)
	text := read(t, dir, defaultOut, methodsText)
	for _, part := range []string{"How 4 captures were analysed", "both passes together at 50 Hz", "The centre of pressure is the point", " of 4 captures: ", "…"} {
		if !strings.Contains(text, part) {
			t.Errorf("%q is missing in\n%s", part, text)
		}
	}
	if strings.Contains(text, "#") || strings.Count(text, "The centre of pressure is the point") != 1 {
		t.Errorf("\n%s", text)
	}
}
