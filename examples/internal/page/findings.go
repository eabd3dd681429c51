package page

import (
	"fmt"
	"strings"

	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/phase/screen"
)

// Find holds the swing against bands; the zero value of opt is the starter set.
func (s *Subject) Find(opt screen.Options) error {
	opt.Warnings = append(opt.Warnings, s.Warnings...) // those of reading, too
	found, err := screen.Swing(s.Analysis, opt)
	if err != nil {
		return err
	}
	s.Findings = found
	s.bands = "starter "
	if opt.Bands != nil {
		s.bands = ""
	}
	s.Warnings = input.ByWeight(append(s.Warnings, found.Warnings...))
	return nil
}

// held says how many bands the swing was held against and what came out.
type held struct{ Heading, Said string }

// held is nil without bands.
func (s *Subject) held() *held {
	r := s.Findings
	if r == nil {
		return nil
	}
	outside, open, within, without := len(r.Findings), len(r.Undecided), len(r.Within), len(r.Unmeasured)
	all := outside + open + within + without
	if all == 0 {
		return nil
	}
	h := &held{Heading: "Outside of the bands"}
	bands := plural(all, s.bands+"band")
	if len(r.HeldBack) > 0 {
		h.Heading = "Findings held back"
		h.Said = fmt.Sprintf("Held against none of the %s, because the analysis is in doubt: see the warning %s.", bands, r.HeldBack[0].Code)
		return h
	}
	if outside == 0 {
		h.Heading = "Nothing outside of the bands"
		h.Said = "Nothing outside the " + bands
	} else {
		h.Said = fmt.Sprintf("Outside %d of the %s", outside, bands)
	}
	var rest []string
	for _, p := range []struct {
		n    int
		what string
	}{{within, "within"}, {open, "not decidable"}, {without, "without a value here"}} {
		if p.n > 0 {
			rest = append(rest, fmt.Sprintf("%d %s", p.n, p.what))
		}
	}
	if len(rest) > 0 {
		h.Said += ": " + strings.Join(rest, ", ")
	}
	h.Said += "."
	return h
}

func plural(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d %s", n, what)
}

// findingRow is a finding on the page.
type findingRow struct {
	Sentence, Source string
	Cautions         []string
}

func findingRows(fs []screen.Finding) []findingRow {
	var rows []findingRow
	for _, f := range fs {
		rows = append(rows, findingRow{f.Sentence, f.Band.Cite(), f.Cautions})
	}
	return rows
}
