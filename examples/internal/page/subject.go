package page

import (
	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/phase/screen"
)

// Subject is one analysed swing and what it is held against.
type Subject struct {
	*input.Swing
	Demo bool // the golfer and the swing are made up, which the page says

	Findings *screen.Report // nil unless held against bands
	bands    string         // what they are called
	Against  *Comparison    // nil unless held against another swing
}

// New makes a subject of a capture: it is read and analysed. Errors begin with the
// name of the file that is at fault.
func New(src input.Source) (*Subject, error) {
	s, err := src.Analyse()
	if err != nil {
		return nil, err
	}
	return &Subject{Swing: s}, nil
}
