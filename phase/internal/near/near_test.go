package near

import (
	"strings"
	"testing"
)

func TestName(t *testing.T) {
	known := []string{"measure", "unit", "min", "max", "beside"}
	for name, want := range map[string]string{
		"measure":                "measure",
		"mesure":                 "measure", // one dropped
		"meassure":               "measure", // one inserted
		"meazure":                "measure", // one replaced
		"maesure":                "measure", // neighbours swapped
		"MAX":                    "max",
		"mim":                    "min",
		"beisde":                 "beside",
		"quite other":            "",
		strings.Repeat("x", 500): "",
	} {
		if got := Name(name, known); got != want {
			t.Errorf("%q: %q, want %q", name, got, want)
		}
	}
	if got := Name("x", nil); got != "" {
		t.Errorf("nothing known: %q", got)
	}
}

// The distance of kitten and sitting is the textbook example (from memory: 3).
func TestPlaces(t *testing.T) {
	for _, c := range []struct {
		a, b string
		want int
	}{
		{"kitten", "sitting", 3}, {"", "abc", 3}, {"abc", "", 3}, {"", "", 0},
		{"ca", "ac", 1}, {"ca", "abc", 3}, {"größe", "grösse", 2},
	} {
		if got := places(c.a, c.b); got != c.want {
			t.Errorf("%q, %q: %d, want %d", c.a, c.b, got, c.want)
		}
		if got := places(c.b, c.a); got != c.want {
			t.Errorf("%q, %q: %d, want %d", c.b, c.a, got, c.want)
		}
	}
}
