package validation

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Level says how independent of this library an expected value is.
type Level string

// The levels, the most binding first.
const (
	Standard         Level = "standard"                              // a standard or certified reference value
	Textbook         Level = "textbook"                              // printed in a textbook
	Paper            Level = "paper"                                 // printed in a scientific paper
	OpenDataset      Level = "open dataset"                          // published together with measured data
	ReferenceLibrary Level = "reference library"                     // computed by a general-purpose library or published by one as its expectation
	ClosedForm       Level = "closed form"                           // follows from first principles, worked out here
	CommonPractice   Level = "common practice (no published source)" // the trade's rule or arithmetic
	FromMemory       Level = "from memory"                           // published, but not seen while the case was written
)

// levels lists all levels in the order of reports.
var levels = []Level{Standard, Textbook, Paper, OpenDataset, ReferenceLibrary, ClosedForm, CommonPractice, FromMemory}

// External reports whether a value of this level was published or computed by
// somebody else and seen: closed forms, common practice and memory are not.
func (l Level) External() bool {
	switch l {
	case Standard, Textbook, Paper, OpenDataset, ReferenceLibrary:
		return true
	}
	return false
}

// Source is where an expected value can be found.
type Source struct {
	Authors string `json:"authors,omitempty"`
	Year    int    `json:"year,omitempty"`
	Title   string `json:"title"`
	Edition string `json:"edition,omitempty"` // edition, publisher, volume and pages, version
	Link    string `json:"link,omitempty"`    // DOI or address
	Place   string `json:"place,omitempty"`   // table, example, section, page
	Via     string `json:"via,omitempty"`     // where it was read, when not in the original
}

// at returns s with the place inside it.
func (s Source) at(format string, args ...any) Source {
	s.Place = fmt.Sprintf(format, args...)
	return s
}

// via returns s as read somewhere else.
func (s Source) via(where string) Source {
	s.Via = where
	return s
}

// String returns the whole reference on one line.
func (s Source) String() string {
	var parts []string
	add := func(p string) {
		if p != "" {
			parts = append(parts, p)
		}
	}
	head := s.Authors
	if s.Year != 0 {
		head = strings.TrimSpace(fmt.Sprintf("%s (%d)", head, s.Year))
	}
	add(head)
	add(s.Title)
	add(s.Edition)
	add(s.Link)
	add(s.Place)
	if s.Via != "" {
		add("read in " + s.Via)
	}
	return strings.Join(parts, ", ")
}

// Short returns authors and year, or the title where there are no authors.
func (s Source) Short() string {
	if s.Authors == "" {
		return s.Title
	}
	if s.Year == 0 {
		return s.Authors + ", " + s.Title
	}
	return fmt.Sprintf("%s %d", s.Authors, s.Year)
}

// Case is one check value with everything that is needed to find and to
// repeat it.
type Case struct {
	ID        string `json:"id"`        // unique and stable
	Quantity  string `json:"quantity"`  // what is checked, for grouping
	Operation string `json:"operation"` // see [Operations]
	Level     Level  `json:"level"`
	Source    Source `json:"source"`
	Given     string `json:"given"`          // the inputs as printed
	Note      string `json:"note,omitempty"` // why the case is here, what to beware of
	Inputs    Values `json:"inputs"`         // the inputs in SI
	Wants     []Want `json:"wants"`
}

// Want is one expected output.
type Want struct {
	Output  string `json:"output"`            // name of the output
	Index   []int  `json:"index,omitempty"`   // the number inside the output, counted from 0; without it, all
	Value   Value  `json:"value"`             // expected, SI
	Printed string `json:"printed,omitempty"` // the digits as printed, in the unit of the source
	// An output passes when |got − want| ≤ Abs + Rel·|want|, for each number.
	// NaN is wanted by NaN only.
	Abs    float64 `json:"abs"`
	Rel    float64 `json:"rel,omitempty"`
	Reason string  `json:"reason"` // why this tolerance
}

// components maps the suffix of an output's name to its index.
var components = map[string]int{"x": 0, "y": 1, "z": 2}

// output splits "moment.z" into the name and the index.
func output(name string) (string, []int) {
	base, suffix, ok := strings.Cut(name, ".")
	if !ok {
		return name, nil
	}
	var index []int
	for _, s := range strings.Split(suffix, ".") {
		i, ok := components[s]
		if !ok {
			var err error
			if i, err = strconv.Atoi(s); err != nil {
				panic("validation: output " + name)
			}
		}
		index = append(index, i)
	}
	return base, index
}

// printed wants the number that a source prints, such as "3.21" or "4.20e3",
// in a unit that is factor times the SI unit. The tolerance is half a unit of
// the last printed digit.
func printed(name, digits, unit string, factor float64) Want {
	x, err := strconv.ParseFloat(digits, 64)
	if err != nil {
		panic(err) // a typing mistake in a table of this package
	}
	base, index := output(name)
	return Want{
		Output: base, Index: index, Value: Number(unit, x*factor), Printed: digits,
		// A hair more than half a unit, for values that end in 5.
		Abs: 0.5000001 * lastDigit(digits) * factor, Reason: "half a unit of the last printed digit",
	}
}

// si is [printed] for a value printed in the SI unit.
func si(name, digits, unit string) Want { return printed(name, digits, unit, 1) }

// lastDigit returns the worth of the last digit of a decimal number.
func lastDigit(digits string) float64 {
	mantissa, exponent, _ := strings.Cut(strings.ToLower(digits), "e")
	e, _ := strconv.Atoi(exponent)
	if _, fraction, ok := strings.Cut(mantissa, "."); ok {
		e -= len(fraction)
	}
	return math.Pow10(e)
}

// within replaces the tolerance.
func (w Want) within(abs float64, reason string) Want {
	w.Abs, w.Rel, w.Reason = abs, 0, reason
	return w
}

// relative replaces the tolerance by a fraction of the value.
func (w Want) relative(rel float64, reason string) Want {
	w.Abs, w.Rel, w.Reason = 0, rel, reason
	return w
}

// exact wants a value that follows from the inputs, up to rounding.
func exact(name string, v Value) Want {
	base, index := output(name)
	var size float64
	for _, x := range v.Numbers {
		size = math.Max(size, math.Abs(x))
	}
	return Want{Output: base, Index: index, Value: v, Abs: 1e-12 * math.Max(size, 1), Reason: "rounding of float64"}
}

func itoa(i int) string { return strconv.Itoa(i) }
