package validation

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"
)

// WriteTable writes every comparison as a line of text under its case, by
// quantity and source, and the counts of cases by level last.
func (r *Report) WriteTable(w io.Writer) error {
	b := bufio.NewWriter(w)
	quantity, source := "", ""
	var last *Case
	for _, res := range r.sorted() {
		c := res.Case
		if c.Quantity != quantity {
			quantity, source = c.Quantity, ""
			fmt.Fprintf(b, "\n%s\n", strings.ToUpper(quantity))
		}
		if s := c.Source.whole(); s != source {
			source = s
			fmt.Fprintf(b, "  %s\n", s)
		}
		if c != last {
			last = c
			fmt.Fprintf(b, "    %s [%s%s]: %s\n", c.ID, c.Level, place(c.Source), c.Given)
		}
		fmt.Fprintf(b, "      %s %s %s %s %s  %s\n",
			pad(res.Output, 22), pad("expected "+res.Expected.brief(8)+" "+unitText(res.Expected.Unit), 34),
			pad("got "+res.Got.brief(8), 26), pad(res.differenceText(), 18), pad("within "+short(res.Tolerance), 16), res.mark())
	}
	for _, s := range r.Skipped {
		fmt.Fprintf(b, "\nskipped: %s\n", s)
	}
	fmt.Fprintf(b, "\n%s\n", r.Summary())
	return b.Flush()
}

// Summary returns one line: how many values were compared in how many cases,
// and the cases by level.
func (r *Report) Summary() string {
	var passed, missed, unsupported int
	for _, res := range r.Results {
		switch res.Status {
		case Passed:
			passed++
		case Missed:
			missed++
		default:
			unsupported++
		}
	}
	var parts []string
	var cases int
	for _, c := range r.Counts() {
		n := c.Passed + c.Missed + c.Unsupported
		cases += n
		s := fmt.Sprintf("%s %d", c.Level, n)
		if c.Missed > 0 {
			s += fmt.Sprintf(" (%d missed)", c.Missed)
		}
		if c.Unsupported > 0 {
			s += fmt.Sprintf(" (%d unsupported)", c.Unsupported)
		}
		parts = append(parts, s)
	}
	return fmt.Sprintf("%d cases, %d values: %d passed, %d missed, %d unsupported; %s",
		cases, len(r.Results), passed, missed, unsupported, strings.Join(parts, "; "))
}

// WriteJSON writes the report as JSON: counts by level, what was skipped, and
// every comparison with the source of its case.
func (r *Report) WriteJSON(w io.Writer) error {
	type result struct {
		Result
		Level    Level  `json:"level"`
		Quantity string `json:"quantity"`
		Source   Source `json:"source"`
	}
	out := struct {
		Schema  int      `json:"schema"`
		Passed  bool     `json:"passed"`
		Counts  []Count  `json:"counts"`
		Skipped []string `json:"skipped,omitempty"`
		Results []result `json:"results"`
	}{Schema: VectorsSchema, Passed: r.Err() == nil, Counts: r.Counts(), Skipped: r.Skipped}
	for _, res := range r.Results {
		res.Expected, res.Got = res.Expected.clipped(), res.Got.clipped()
		out.Results = append(out.Results, result{res, res.Case.Level, res.Case.Quantity, res.Case.Source})
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	return e.Encode(out)
}

// clipped returns v without numbers when there are thousands: a report is not
// the place for a whole recording.
func (v Value) clipped() Value {
	if len(v.Numbers) > 600 {
		return Value{Unit: v.Unit, Numbers: []float64{math.NaN()}, Reason: fmt.Sprintf("%d numbers, not listed", len(v.Numbers))}
	}
	return v
}

// WriteMarkdown writes the report as a document: the counts, then the cases by
// quantity with their sources in full. What it prints does not depend on the
// rounding of one machine.
func (r *Report) WriteMarkdown(w io.Writer) error {
	b := bufio.NewWriter(w)
	fmt.Fprintf(b, "# Reference values and what the library makes of them\n\n")
	fmt.Fprintf(b, "Written by a test of this package; do not edit. Each line is one comparison: the expected value in SI units,\n"+
		"the library's value, and how much of the tolerance the difference takes. The numbers in brackets name the sources below.\n"+
		"Cases on public data sets are not in this document; `go run ./examples/validate` runs them where they are present.\n\n")
	fmt.Fprintf(b, "| level | cases | passed |\n|---|---|---|\n")
	for _, c := range r.Counts() {
		fmt.Fprintf(b, "| %s | %d | %d |\n", c.Level, c.Passed+c.Missed+c.Unsupported, c.Passed)
	}
	results := r.sorted()
	number := map[string]int{}
	var sources []string
	for _, res := range results {
		if s := res.Case.Source.whole(); number[s] == 0 {
			sources = append(sources, s)
			number[s] = len(sources)
		}
	}
	quantity := ""
	for i, res := range results {
		c := res.Case
		if c.Quantity != quantity {
			quantity = c.Quantity
			fmt.Fprintf(b, "\n## %s\n\n| case | given, source | output | expected | got | of the tolerance |\n|---|---|---|---|---|---|\n", quantity)
		}
		given := ""
		if i == 0 || results[i-1].Case != c {
			given = fmt.Sprintf("%s [%d%s; %s]", c.Given, number[c.Source.whole()], place(c.Source), c.Level)
		}
		share := res.mark()
		if res.Status == Passed && res.Difference >= 0 && res.Tolerance > 0 {
			share = shareText(res)
		}
		fmt.Fprintf(b, "| %s | %s | %s | %s %s | %s | %s |\n", res.ID, cell(given), res.Output,
			res.Expected.brief(10), unitText(res.Expected.Unit), res.gotText(), share)
	}
	fmt.Fprintf(b, "\n## Sources\n\n")
	for i, s := range sources {
		fmt.Fprintf(b, "%d. %s\n", i+1, s)
	}
	return b.Flush()
}

func place(s Source) string {
	if s.Place == "" {
		return ""
	}
	return ", " + s.Place
}

func cell(s string) string { return strings.ReplaceAll(s, "|", "\\|") }

// shareText prints the used part of a tolerance coarsely. Tolerances near the
// rounding of float64 are not broken down: what is left of them differs from
// one kind of machine to another.
func shareText(res Result) string {
	if res.Tolerance < 1e-7*math.Max(res.Expected.scale(), 1e-3) {
		return "within rounding"
	}
	switch share := res.Difference / res.Tolerance; {
	case share < 0.005:
		return "< 1 %"
	default:
		return fmt.Sprintf("%.0f %%", 100*share)
	}
}

// scale returns the largest size among the numbers of v.
func (v Value) scale() float64 {
	scale := 0.0
	for _, x := range v.Numbers {
		scale = math.Max(scale, math.Abs(x))
	}
	return scale
}

// gotText prints what was got to no more digits than all machines share.
func (res Result) gotText() string {
	got := res.Got
	noise := 1e-9
	if scale := res.Expected.scale(); scale > 0 {
		noise = math.Min(noise, 1e-6*scale)
	}
	clean := make([]float64, len(got.Numbers))
	for i, x := range got.Numbers {
		if math.Abs(x) < noise {
			x = 0
		}
		clean[i] = x
	}
	got.Numbers = clean
	return got.brief(6)
}

// sorted returns the results in the order of quantities and sources as they
// first appear.
func (r *Report) sorted() []Result {
	order := map[string]int{}
	key := func(res Result) (int, int) {
		q := res.Case.Quantity
		s := q + "\x00" + res.Case.Source.whole()
		for _, k := range []string{q, s} {
			if _, ok := order[k]; !ok {
				order[k] = len(order)
			}
		}
		return order[q], order[s]
	}
	results := append([]Result(nil), r.Results...)
	for _, res := range results {
		key(res)
	}
	sort.SliceStable(results, func(i, j int) bool {
		qi, si := key(results[i])
		qj, sj := key(results[j])
		if qi != qj {
			return qi < qj
		}
		return si < sj
	})
	return results
}

// whole returns the source without the place inside it.
func (s Source) whole() string {
	s.Place = ""
	return s.String()
}

func (res Result) mark() string {
	switch res.Status {
	case Passed:
		return "ok"
	case Missed:
		return "MISSED: " + res.Message
	}
	return "not supported"
}

func (res Result) differenceText() string {
	if res.Difference < 0 {
		return "difference –"
	}
	return "difference " + short(res.Difference)
}

// brief prints a value on a few columns.
func (v Value) brief(digits int) string {
	one := func(x float64) string {
		if math.IsNaN(x) {
			return "undefined"
		}
		return strconv.FormatFloat(x, 'g', digits, 64)
	}
	switch n := len(v.Numbers); {
	case v.Word != "":
		return v.Word
	case n == 1:
		return one(v.Numbers[0])
	case n <= 3:
		parts := make([]string, n)
		for i, x := range v.Numbers {
			parts[i] = strconv.FormatFloat(x, 'g', min(digits, 5), 64)
		}
		return "(" + strings.Join(parts, ", ") + ")"
	default:
		return fmt.Sprintf("%s … %s (%d)", strconv.FormatFloat(v.Numbers[0], 'g', 4, 64), strconv.FormatFloat(v.Numbers[n-1], 'g', 4, 64), n)
	}
}

func short(x float64) string { return strconv.FormatFloat(x, 'g', 2, 64) }

func unitText(u string) string {
	if u == "1" {
		return ""
	}
	return u
}

// pad fills s with blanks to n columns.
func pad(s string, n int) string {
	if k := n - utf8.RuneCountInString(s); k > 0 {
		return s + strings.Repeat(" ", k)
	}
	return s
}
