package validation

import "testing"

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
}

// sourceProblem says what a stranger would miss who looks for the source of c.
func sourceProblem(c Case) string {
	s := c.Source
	// What is printed on paper has an author and a year. Programs and files have
	// a version and an address instead.
	paper := c.Level == Textbook || c.Level == Paper || c.Level == Standard || c.Level == FromMemory
	switch {
	case c.Level == CommonPractice && s.Title != string(CommonPractice):
		return "a rule of the trade has another source"
	case c.Level == CommonPractice:
		return ""
	case s.Title == "" || s.Place == "":
		return "no title or no place in it"
	case c.Level != ClosedForm && s.Edition == "" && s.Link == "":
		return "neither an edition nor a link"
	case paper && (s.Authors == "" || s.Year == 0):
		return "no author or no year"
	}
	return ""
}

// What the suite promises: many values that others published, from many of
// them, and each to be found from what is printed.
func TestSources(t *testing.T) {
	external, sources := 0, map[string]bool{}
	for _, c := range Cases() {
		if p := sourceProblem(c); p != "" {
			t.Errorf("%s: %s: %s", c.ID, p, c.Source)
		}
		if c.Level.External() {
			external++
			sources[c.Source.Title] = true
		}
	}
	t.Logf("%d external cases from %d sources", external, len(sources))
	if external < 150 || len(sources) < 18 {
		t.Errorf("%d external cases from %d sources, the suite promises 150 from 18", external, len(sources))
	}
}
