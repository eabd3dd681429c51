package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/examples/internal/safe"
)

// line is a line of swings.jsonl: results and what they were made from. Both in one
// line are replaced together, so that a run that was killed while it wrote has lost
// nothing that it had written before.
type line struct {
	*results.Results
	Digest string `json:"sha256"` // of the capture, its setup and the bands
}

// readEarlier returns the outcomes that an earlier run wrote, by the capture's
// name as [safe.Cell] writes it, because JSON does not keep every name: those that
// have results of the present schema. Without an earlier run there are none. With
// an error there are none either.
func readEarlier(out string) (map[string]outcome, error) {
	lines, err := readLines(filepath.Join(out, swingsFile))
	past := map[string]outcome{}
	for _, l := range lines {
		past[safe.Cell(l.Capture)] = outcome{state: analysed, digest: l.Digest, results: l.Results, earlier: true}
	}
	return past, err
}

// readLines returns the results of the present schema in a file of JSON lines, in
// their order; nil when there is no such file.
func readLines(name string) ([]line, error) {
	data, err := os.ReadFile(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	lines := []line{}
	for n := 1; len(data) > 0; n++ {
		text, rest, _ := bytes.Cut(data, []byte("\n"))
		data = rest
		var head struct {
			Schema int `json:"schema"`
		}
		if err := json.Unmarshal(text, &head); err != nil {
			return nil, fmt.Errorf("%s: line %d: %w", name, n, err)
		}
		if head.Schema != results.Schema {
			continue
		}
		l := line{Results: new(results.Results)}
		if err := json.Unmarshal(text, &l); err != nil {
			return nil, fmt.Errorf("%s: line %d: %w", name, n, err)
		}
		lines = append(lines, l)
	}
	return lines, nil
}
