package main

import (
	"bytes"
	"fmt"

	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/phase/screen"
)

// find holds the swing against the bands of a file, or against the starter
// set when there is no name.
func (s *subject) find(name string) error {
	opt := screen.Options{}
	if name != "" {
		data, err := input.ReadFile(name)
		if err != nil {
			return err
		}
		bands, err := screen.ReadBands(bytes.NewReader(data))
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		opt.Bands = []*screen.Bands{bands}
	}
	var err error
	if s.Findings, err = screen.Swing(s.Analysis, opt); err != nil {
		return err
	}
	s.Warnings = append(s.Warnings, s.Findings.Warnings...)
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
