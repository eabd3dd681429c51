package examples

import (
	"maps"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/examples/internal/demo"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// The glossary names only what exists, and every measure.
func TestGlossary(t *testing.T) {
	text, err := os.ReadFile("../phase/GLOSSARY.md")
	if err != nil {
		t.Fatal(err)
	}
	_, tables, _ := strings.Cut(string(text), "## Words")
	byName := map[string]*documented{}
	for _, p := range allDocuments(t) {
		byName[p.doc.Name] = p
	}
	symbols := regexp.MustCompile("`([a-z]+)\\.([A-Z][A-Za-z.]*)`").FindAllStringSubmatch(tables, -1)
	for _, m := range symbols {
		if p := byName[m[1]]; p == nil || !p.symbols[m[2]] {
			t.Errorf("%s.%s does not exist", m[1], m[2])
		}
	}
	if all := regexp.MustCompile("`[^`]+`").FindAllString(tables, -1); len(all) != len(symbols) || len(symbols) < 60 {
		t.Errorf("%d of %d names in the tables are functions and types", len(symbols), len(all))
	}

	measures := everyMeasure(t)
	known := slices.Clone(measures)
	for _, n := range phase.Names() {
		known = append(known, string(n))
	}
	var patterns []*regexp.Regexp
	for _, m := range regexp.MustCompile(`\*([a-z0-9_…]+)\*`).FindAllStringSubmatch(tables, -1) {
		re := regexp.MustCompile("^" + strings.ReplaceAll(m[1], "…", "[a-z0-9_]+") + "$")
		if !slices.ContainsFunc(known, re.MatchString) {
			t.Errorf("%s is neither a measure nor an event", m[1])
		}
		patterns = append(patterns, re)
	}
	for _, m := range measures {
		if !slices.ContainsFunc(patterns, func(re *regexp.Regexp) bool { return re.MatchString(m) }) {
			t.Errorf("the measure %s is not in the glossary", m)
		}
	}
}

// everyMeasure returns the names of all measures that an analysis can have.
func everyMeasure(t *testing.T) []string {
	t.Helper()
	names := map[string]bool{}
	add := func(a *swing.Analysis) {
		for _, m := range a.Measures {
			names[m.Name] = true
		}
	}
	shown, err := demo.Source().Analyse()
	if err != nil {
		t.Fatal(err)
	}
	add(shown.Analysis)
	made, err := synth.New(synth.Config{})
	if err != nil {
		t.Fatal(err)
	}
	rec := made.Recording()
	rec.Marks = map[string]float64{}
	for _, n := range phase.Names() {
		if _, ok := phase.PositionOf(n); ok {
			rec.Marks[string(n)] = made.EventTime(string(n))
		}
	}
	still := func(z float64) grf.Track {
		return grf.Track{Time: []float64{rec.Start, 1, 2, rec.End()}, Position: []r3.Vec{{Z: z}, {Z: z}, {Z: z}, {Z: z}}}
	}
	lead, err := cop.NewFoot(cop.Lead, r3.Vec{Y: 0.2}, r3.Vec{X: 0.26, Y: 0.22}, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	a, err := swing.Analyse(rec, swing.Options{
		Feet: swing.Feet{Lead: &lead},
		Points: map[string]grf.Track{
			"lead_knee": still(0.5), "lead_ankle": still(0.1), "trail_knee": still(0.5), "trail_ankle": still(0.1),
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	add(a)
	return slices.Sorted(maps.Keys(names))
}

// The README leads to the glossary.
func TestReadmeLinks(t *testing.T) {
	for _, m := range regexp.MustCompile(`\]\(([^)#]+)[^)]*\)`).FindAllStringSubmatch(readme(t), -1) {
		if strings.Contains(m[1], "://") {
			continue
		}
		if _, err := os.Stat(path.Join("..", m[1])); err != nil {
			t.Errorf("the README links to %s: %v", m[1], err)
		}
	}
	if !strings.Contains(readme(t), "(phase/GLOSSARY.md)") {
		t.Error("the README does not link to the glossary")
	}
}
