package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"path/filepath"

	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/examples/internal/safe"
)

// The files that are written, in this order: an outcome stands in the last one
// only when its results stand in the others.
const (
	measuresFile = "measures.csv"
	swingsFile   = "swings.jsonl"
	sessionJSON  = "session.json"
	sessionText  = "session.txt"
	methodsText  = "methods.txt"
	capturesFile = "captures.csv"

	changesText = "changes.txt" // only with -against
)

var (
	measuresHeader = []string{"file", "golfer", "session", "measure", "value", "sd", "unit", "time_s", "note"}
	capturesHeader = []string{"file", "setup", "state", "reason", "sha256"}
)

// write writes everything that is known so far.
func write(out string, found folder, outcomes []outcome) error {
	swings := swingsOf(outcomes)
	s := summarize(swings)
	for _, f := range []struct {
		name string
		make func() ([]byte, error)
	}{
		{measuresFile, func() ([]byte, error) { return measuresCSV(swings) }},
		{swingsFile, func() ([]byte, error) { return swingLines(outcomes) }},
		{sessionJSON, s.json},
		{sessionText, s.text},
		{methodsText, func() ([]byte, error) { return methods(swings), nil }},
		{capturesFile, func() ([]byte, error) { return capturesCSV(found, outcomes) }},
	} {
		data, err := f.make()
		if err != nil {
			return err
		}
		if err := safe.WriteFile(filepath.Join(out, f.name), data); err != nil {
			return err
		}
	}
	return nil
}

// swingsOf returns the results that there are, in the order of the captures.
func swingsOf(outcomes []outcome) []*results.Results {
	var list []*results.Results
	for _, o := range outcomes {
		if o.results != nil {
			list = append(list, o.results)
		}
	}
	return list
}

func measuresCSV(swings []*results.Results) ([]byte, error) {
	rows := [][]string{measuresHeader}
	for _, s := range swings {
		for _, m := range s.Measures {
			rows = append(rows, []string{
				safe.Cell(s.Capture), safe.Cell(s.Player), safe.Cell(s.Session), safe.Cell(m.Name),
				safe.Number(float64(m.Value)), safe.Number(float64(m.SD)), safe.Cell(m.Unit), safe.Number(float64(m.Time)),
				safe.Cell(m.Note),
			})
		}
	}
	return table(rows)
}

func swingLines(outcomes []outcome) ([]byte, error) {
	var b bytes.Buffer
	for _, o := range outcomes {
		if o.results == nil {
			continue
		}
		text, err := json.Marshal(line{o.results, o.digest})
		if err != nil {
			return nil, err
		}
		b.Write(text)
		b.WriteByte('\n')
	}
	return b.Bytes(), nil
}

func capturesCSV(found folder, outcomes []outcome) ([]byte, error) {
	rows := [][]string{capturesHeader}
	for i, o := range outcomes {
		f := found.captures[i]
		rows = append(rows, []string{safe.Cell(f.name), safe.Cell(f.setupName()), string(o.state), safe.Cell(o.reason), o.digest})
	}
	return table(rows)
}

func table(rows [][]string) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	err := w.WriteAll(rows)
	return b.Bytes(), err
}
