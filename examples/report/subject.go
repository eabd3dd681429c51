package main

import (
	"example.com/momentarm/examples/internal/demo"
	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/phase/screen"
)

// subject is one analysed swing and what it is held against.
type subject struct {
	*input.Swing
	Demo bool

	Findings *screen.Report
	Against  *comparison // nil without -against
}

// load reads the files of a capture, or takes the demonstration when there is no
// name.
func load(name, setup string) (input.Source, error) {
	if name == "" {
		return demo.Source(), nil
	}
	return input.Load(name, setup)
}

// examine makes a recording of a capture and analyses it.
func examine(src input.Source) (*subject, error) {
	s, err := src.Analyse()
	if err != nil {
		return nil, err
	}
	return &subject{Swing: s}, nil
}
