package page

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase/screen"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// What is read subtracts, and the parts add up to what is read.
func TestRoundedNumbersAgree(t *testing.T) {
	for _, c := range []struct {
		before, now, sd float64
		unit, b, n, d   string
	}{
		{87.44, 193.56, 14, "N·m", "87\u00a0N·m", "194\u00a0N·m", "107\u00a0±\u00a014\u00a0N·m"}, // 106.12 without
		{0.0894, 0.2105, 0.017, "m", "0.089\u00a0m", "0.210\u00a0m", "0.121\u00a0±\u00a00.017\u00a0m"},
		{83.62, 89.04, 0.46, "%BW", "83.6\u00a0%BW", "89.0\u00a0%BW", "5.4\u00a0±\u00a00.5\u00a0%BW"},
		{100.4, 99.6, 3, "N", "100\u00a0N", "100\u00a0N", "0\u00a0±\u00a03\u00a0N"},
		{1, 2, math.NaN(), "N", "1\u00a0N", "2\u00a0N", "1\u00a0N"},
	} {
		if b, n, d := subtracted(c.before, c.now, c.sd, c.unit); b != c.b || n != c.n || d != c.d {
			t.Errorf("%q %q %q, want %q %q %q", b, n, d, c.b, c.n, c.d)
		}
	}
	for _, c := range []struct {
		parts []float64
		whole float64
		want  []float64
	}{
		{[]float64{-9.7, 42.7, 66.7, 6.2, 0.2}, 107, []float64{-9, 43, 67, 6, 0}},
		{[]float64{0.4, 0.4, 0.2}, 1, []float64{1, 0, 0}},
		{[]float64{-0.4, -0.4, -0.2}, -1, []float64{-1, 0, 0}},
		{[]float64{0.5, 0.5}, 0, []float64{0, 0}},
		{[]float64{1.9, 1.9}, 5, []float64{3, 2}}, // a whole that is one off: nothing breaks
		{nil, 0, []float64{}},
	} {
		got, sum := addingUp(c.parts, c.whole), 0.0
		for i, v := range got {
			sum += v
			if v != math.Round(v) || math.Abs(v-c.parts[i]) > 2 {
				t.Errorf("%v: part %g for %g", c.parts, v, c.parts[i])
			}
		}
		if c.whole != 5 && (sum != c.whole || c.parts != nil && c.parts[0] == -9.7 && !slices.Equal(got, c.want)) {
			t.Errorf("%v: %v, want %v", c.parts, got, c.want)
		}
	}
}

// The comparison says what its verdicts mean, what makes the two unlike, and lists
// the earlier swing's own warnings.
func TestComparisonExplainsItself(t *testing.T) {
	now, before := made(t, synth.Config{}, swing.Options{}, nil), made(t, synth.Config{Style: synth.SmallArm, Handed: grf.LeftHanded}, swing.Options{}, nil)
	now.Player, before.Player = "A. One", "B. Two"
	before.Capture = "before.c3d"
	before.Warnings = []grf.Warning{{Code: "mass-mismatch", Where: "mass", Text: "heavier than stated"}, {Code: "decimal-comma", Text: "commas"}}
	if err := now.Hold(before); err != nil {
		t.Fatal(err)
	}
	said := text(pageOf(t, now))
	terminal := strings.Join(strings.Fields(now.Summary(nil)), " ")
	for _, want := range []string{
		"One swing of each day proves no change", "at least 4 of each day", "batch -against",
		"more than the measurement's error", "Two golfers: A. One now, B. Two before", "Two hands: right-handed now, left-handed before",
		"heavier than stated",
	} {
		if !strings.Contains(said, want) {
			t.Errorf("the page does not say %q", want)
		}
		if !strings.Contains(terminal, want) {
			t.Errorf("the terminal does not say %q:\n%s", want, terminal)
		}
	}
	for _, want := range []string{"About the earlier swing, B. Two", "commas", "more than 2 of these standard deviations", "Force, how hard:", "the mean of what that did"} {
		if !strings.Contains(said, want) {
			t.Errorf("the page does not say %q", want)
		}
	}
	if strings.Contains(terminal, "commas") {
		t.Errorf("the terminal tells of the earlier swing's commas:\n%s", terminal)
	}
	for l := range strings.Lines(now.Summary(nil)) {
		if n := len([]rune(strings.TrimSpace(l))); n > summaryWidth {
			t.Errorf("%d columns: %s", n, l)
		}
	}
}

// Whatever the order of reading, all that is grave is on the terminal, before the rest.
func TestGraveWarningsArePrinted(t *testing.T) {
	s := made(t, synth.Config{}, swing.Options{}, nil)
	s.Warnings = []grf.Warning{
		{Code: "decimal-comma", Text: "commas"}, {Code: "cop-filled", Text: "filled"}, {Code: "feet-automatic", Text: "chosen"},
		{Code: "feet-swapped", Text: "swapped"}, {Code: "mass-mismatch", Text: "heavy"}, {Code: "hand-doubtful", Text: "hand"}, {Code: "impulse", Text: "pushed"},
	}
	if err := s.Find(screen.Options{}); err != nil {
		t.Fatal(err)
	}
	said := s.Summary(nil)
	for _, want := range []string{"swapped", "heavy", "hand", "pushed", "! and 3 of less weight on the page"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is missing:\n%s", want, said)
		}
	}
	page := pageOf(t, s)
	if a, b := strings.Index(page, "(impulse)"), strings.Index(page, "<code>decimal-comma"); a > b && b >= 0 {
		t.Error("a note comes first")
	}
	if strings.Index(page, "<code>impulse") > strings.Index(page, "<code>feet-automatic") {
		t.Error("a choice comes before a doubt")
	}
}

// That bands were looked at is said even if nothing lies outside; the count of remarks
// is the page's.
func TestBandsAreSpokenOf(t *testing.T) {
	s := demoSubject(t)
	if err := s.Find(screen.Options{}); err != nil {
		t.Fatal(err)
	}
	s.Findings.Within = append(s.Findings.Within, s.Findings.Findings...)
	s.Findings.Findings = nil
	s.Warnings = []grf.Warning{{Code: "a", Text: "one"}, {Code: "b", Text: "two"}, {Code: "c", Text: "three"}}
	page := text(pageOf(t, s))
	for _, said := range []string{page, s.Summary(nil)} {
		if !strings.Contains(said, "Nothing outside the 8 starter bands: ") {
			t.Errorf("nothing is said of the bands:\n%.3000s", said)
		}
	}
	s.Findings.Unmeasured = append(s.Findings.Unmeasured, screen.Unmeasured{Band: screen.Band{Measure: "trail_pressure_outermost"}, Reason: "nobody gave it"})
	if page := text(pageOf(t, s)); !strings.Contains(page, "Trail pressure outermost: nobody gave it") {
		t.Error("why a band had no value is not said")
	}
	if !strings.Contains(page, "3 remarks on this capture first") {
		t.Error("the number of warnings is not that of the remarks")
	}
}

// Two standard deviations of a difference may be error; what is not known is not called
// a difference.
func TestVerdict(t *testing.T) {
	for _, c := range []struct {
		value, sd float64
		want      string
	}{
		{1.9, 1, withinError}, {-1.9, 1, withinError}, {2.1, 1, moreThanError}, {-2.1, 1, moreThanError},
		{5, math.NaN(), unknownError}, {math.NaN(), 1, unknownError},
	} {
		if got := verdictOf(c.value, c.sd); got != c.want {
			t.Errorf("%g with %g: %s, want %s", c.value, c.sd, got, c.want)
		}
	}
}
