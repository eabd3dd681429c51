package page

import (
	"encoding/json"

	"example.com/momentarm/examples/internal/results"
)

// JSON returns the results as JSON.
func (s *Subject) JSON() ([]byte, error) {
	r := results.Of(s.Swing)
	if s.Findings != nil {
		r.Findings = results.FindingsOf(s.Findings)
	}
	if c := s.Against; c != nil {
		r.Against = &results.Against{Capture: c.other.Capture, Remarks: c.Remarks, Warnings: c.other.Warnings}
		for _, p := range c.parts {
			r.Against.Splits = append(r.Against.Splits, results.SplitOf(p))
		}
		for _, d := range c.diffs {
			r.Against.Changes = append(r.Against.Changes, results.Change{Name: d.m.Name, Before: results.Value(d.before.Value),
				Now: results.Value(d.m.Value), Difference: results.Value(d.value), SD: results.Value(d.sd), Unit: d.m.Unit})
		}
	}
	data, err := json.MarshalIndent(r, "", "  ")
	return append(data, '\n'), err
}
