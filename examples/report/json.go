package main

import (
	"encoding/json"

	"example.com/momentarm/examples/internal/results"
)

// resultsJSON returns the results as JSON.
func resultsJSON(s *subject) ([]byte, error) {
	r := results.Of(s.Swing)
	r.Player, r.Session = s.Player, s.Session
	data, err := json.MarshalIndent(r, "", "  ")
	return append(data, '\n'), err
}
