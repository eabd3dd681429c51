package page

import "example.com/momentarm/phase/screen"

// Find holds the swing against bands; the zero value of opt is the starter set.
func (s *Subject) Find(opt screen.Options) error {
	found, err := screen.Swing(s.Analysis, opt)
	if err != nil {
		return err
	}
	s.Findings = found
	s.Warnings = append(s.Warnings, found.Warnings...)
	return nil
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
