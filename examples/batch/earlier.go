package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/examples/internal/safe"
)

// readEarlier returns the outcomes that an earlier run wrote, by the capture's
// name as [safe.Cell] writes it: those of analysed captures that have results of
// the present schema. Without an earlier run there are none. With an error there
// are none either.
func readEarlier(out string) (map[string]outcome, error) {
	swings, err := readLines(filepath.Join(out, swingsFile))
	if err != nil || swings == nil {
		return nil, err
	}
	name := filepath.Join(out, capturesFile)
	data, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	r := csv.NewReader(bytes.NewReader(data))
	r.FieldsPerRecord = len(capturesHeader)
	rows, err := r.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	of := map[string]*results.Results{}
	for _, r := range swings {
		of[safe.Cell(r.Capture)] = r
	}
	past := map[string]outcome{}
	for _, row := range rows {
		if r, ok := of[row[0]]; ok && state(row[2]) == analysed {
			past[row[0]] = outcome{state: analysed, digest: row[4], results: r, earlier: true}
		}
	}
	return past, nil
}

// readLines returns the results of the present schema in a file of JSON lines, in
// their order; nil when there is no such file.
func readLines(name string) ([]*results.Results, error) {
	data, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	swings := []*results.Results{}
	for n := 1; len(data) > 0; n++ {
		line, rest, _ := bytes.Cut(data, []byte("\n"))
		data = rest
		var head struct {
			Schema int `json:"schema"`
		}
		if err := json.Unmarshal(line, &head); err != nil {
			return nil, fmt.Errorf("%s: line %d: %w", name, n, err)
		}
		if head.Schema != results.Schema {
			continue
		}
		r := new(results.Results)
		if err := json.Unmarshal(line, r); err != nil {
			return nil, fmt.Errorf("%s: line %d: %w", name, n, err)
		}
		swings = append(swings, r)
	}
	return swings, nil
}
