package validation

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"
)

// oneSum returns a report of one made-up case: an addition that somebody got right,
// wrong, or not at all.
func oneSum(status Status, got Value) *Report {
	c := &Case{
		ID: "sum", Quantity: "sums", Level: Textbook, Given: "one and one",
		Source: Source{Title: "a book of sums", Place: "p. 1"},
	}
	difference := math.Abs(got.Float() - 2)
	if math.IsNaN(difference) {
		difference = -1 // nothing to compare
	}
	return &Report{
		Results: []Result{{Case: c, ID: c.ID, Output: "sum", Expected: Number("N", 2), Got: got, Status: status, Tolerance: 0.1, Difference: difference, Message: "off by too much"}},
		Skipped: []string{"the other book: not there"},
	}
}

func TestReportAsText(t *testing.T) {
	for _, tt := range []struct {
		status Status
		got    Value
		want   []string
	}{
		{Passed, Number("N", 2.01), []string{"SUMS", "a book of sums", "p. 1", "one and one", "expected 2 N", "got 2.01", "ok", "1 passed, 0 missed"}},
		{Missed, Number("N", 3), []string{"MISSED: off by too much", "0 passed, 1 missed", "(1 missed)"}},
		{Unsupported, Undefined("N", "no addition here"), []string{"not supported", "got undefined", "1 unsupported", "(1 unsupported)"}},
	} {
		var b bytes.Buffer
		if err := oneSum(tt.status, tt.got).WriteTable(&b); err != nil {
			t.Fatal(err)
		}
		for _, s := range append(tt.want, "skipped: the other book: not there") {
			if !strings.Contains(b.String(), s) {
				t.Errorf("%q is not in\n%s", s, b.String())
			}
		}
	}
}

// Whole recordings are not listed, and what is undefined is null.
func TestReportAsJSON(t *testing.T) {
	long := List("N", make([]float64, 601)...)
	for _, got := range []Value{Number("N", 2), long, Undefined("N", "no addition here")} {
		var b bytes.Buffer
		if err := oneSum(Passed, got).WriteJSON(&b); err != nil {
			t.Fatal(err)
		}
		var out struct {
			Passed  bool
			Skipped []string
			Results []struct {
				Level  string
				Source struct{ Title string }
			}
		}
		if err := json.Unmarshal(b.Bytes(), &out); err != nil {
			t.Fatalf("%v in\n%s", err, b.String())
		}
		if !out.Passed || len(out.Skipped) != 1 || len(out.Results) != 1 || out.Results[0].Source.Title != "a book of sums" {
			t.Errorf("%s", b.String())
		}
		if b.Len() > 3000 {
			t.Errorf("%d numbers make %d bytes", len(got.Numbers), b.Len())
		}
	}
}

func TestValuesOfOtherShapes(t *testing.T) {
	if l := List("m", 1, 2); !math.IsNaN(l.Float()) || !math.IsNaN(l.Vec().X) || l.Rows() != nil || l.Vecs() != nil {
		t.Error("a list of two is taken for something else")
	}
	for want, s := range map[string]Source{
		"a book":           {Title: "a book"},
		"Somebody, a book": {Authors: "Somebody", Title: "a book"},
		"Somebody 1901":    {Authors: "Somebody", Title: "a book", Year: 1901},
	} {
		if got := s.Short(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// A case that does not fit its operation is refused with the name of what is wrong.
func TestCheckOfCases(t *testing.T) {
	cases := Cases()
	good := cases[0]
	if err := good.check(); err != nil {
		t.Fatal(err)
	}
	want := good.Wants[0]
	with := func(w Want) []Want { return []Want{w} }
	for says, change := range map[string]func(c *Case){
		"no operation":    func(c *Case) { c.Operation = "guess" },
		"has no input":    func(c *Case) { c.Inputs = Values{"luck": Number("1", 1)} },
		"is missing":      func(c *Case) { c.Inputs = nil },
		"wants nothing":   func(c *Case) { c.Wants = nil },
		"has no output":   func(c *Case) { w := want; w.Output = "luck"; c.Wants = with(w) },
		"no tolerance":    func(c *Case) { w := want; w.Abs, w.Rel = 0, 0; c.Wants = with(w) },
		"wanted in \"K\"": func(c *Case) { w := want; w.Value.Unit = "K"; c.Wants = with(w) },
	} {
		c := good
		change(&c)
		if err := c.check(); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v", says, err)
		}
	}
	if n := len(Operations()); n == 0 || n != len(operations) {
		t.Errorf("%d operations", n)
	}
}
