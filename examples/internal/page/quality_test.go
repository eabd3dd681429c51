package page

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
)

// fold returns the text of the folded part with an id.
func fold(t *testing.T, page, id string) string {
	t.Helper()
	m := regexp.MustCompile(`(?s)<details id="` + id + `">(.*?)</details>`).FindStringSubmatch(page)
	if m == nil {
		t.Fatalf("no folded part %q", id)
	}
	return text(m[1])
}

func TestQualityAndMethodsAreFolded(t *testing.T) {
	s := demoSubject(t)
	s.Quality.Newton = []*com.MotionFit{nil, {
		Source: "camera <b>", Resting: r3.Vec{Z: 3}, RestingSD: r3.Vec{Z: 1}, MassError: r3.Vec{Z: 0.01}, MassErrorSD: r3.Vec{Z: math.NaN()},
		Residual: r3.Vec{X: 0.003, Z: 0.004}, Chi2: 1.5,
	}}
	s.Quality.Outside = math.NaN()
	page := pageOf(t, s)
	said := fold(t, page, "quality")
	for _, want := range []string{
		si(s.Quality.HorizontalAtRest.Y, "N"), si(s.Quality.Impulse.Z, "N·s"),
		"Pressure outside of the stance n/a the outlines of the feet are not given", "camera <b>", "3 ± 1 N", "mass in error by 1 %", "0.005 m", "1.50",
	} {
		if !strings.Contains(said, strings.ReplaceAll(want, nbsp, " ")) {
			t.Errorf("no %q in %q", want, said)
		}
	}
	said = fold(t, page, "methods")
	if len(s.Methods) == 0 {
		t.Fatal("the analysis says nothing of its methods")
	}
	for _, m := range s.Methods {
		if !strings.Contains(said, strings.Join(strings.Fields(strings.ReplaceAll(m, nbsp, " ")), " ")) {
			t.Errorf("the page does not say %q", m)
		}
	}
	if said = fold(t, page, "steps"); !strings.Contains(said, s.Steps[0]) {
		t.Errorf("no steps in %q", said)
	}
	s.Quality, s.Methods = nil, nil
	if page := pageOf(t, s); strings.Contains(page, `id="quality"`) || strings.Contains(page, `id="methods"`) {
		t.Error("parts without content")
	}
}

// A column that no measure of a table fills is not there.
func TestEmptyColumnsAreLeftOut(t *testing.T) {
	page := pageOf(t, demoSubject(t))
	for name, want := range map[string]int{"Timing": 3, "Load": 5} {
		m := regexp.MustCompile(`(?s)<summary>` + name + ` .*?<thead>(.*?)</thead>`).FindStringSubmatch(page)
		if m == nil || strings.Count(m[1], "<th>") != want {
			t.Errorf("%s has other columns than %d: %q", name, want, m)
		}
	}
}
