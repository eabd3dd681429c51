package main

import (
	"bytes"
	"fmt"

	"example.com/momentarm/examples/internal/demo"
	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/examples/internal/page"
	"example.com/momentarm/phase/screen"
)

// subjectOf reads and analyses what the request names.
func subjectOf(req request) (*page.Subject, error) {
	s, err := examine(req.capture, req.setup)
	if err != nil {
		return nil, err
	}
	s.Demo = req.capture == ""
	opt, err := bandsOf(req.bands)
	if err != nil {
		return nil, err
	}
	if err := s.Find(opt); err != nil {
		return nil, err
	}
	if req.against == "" {
		return s, nil
	}
	setup := req.againstSetup
	if setup == "" {
		setup = req.setup
	}
	before, err := examine(req.against, setup)
	if err != nil {
		return nil, err
	}
	return s, s.Hold(before)
}

// examine reads the files of a capture, or takes the demonstration when there is
// no name, and analyses it.
func examine(name, setup string) (*page.Subject, error) {
	if name == "" {
		return page.New(demo.Source())
	}
	src, err := input.Load(name, setup)
	if err != nil {
		return nil, err
	}
	return page.New(src)
}

// bandsOf reads the bands of a file; without a name they are the starter set.
func bandsOf(name string) (screen.Options, error) {
	if name == "" {
		return screen.Options{}, nil
	}
	data, err := input.ReadFile(name)
	if err != nil {
		return screen.Options{}, err
	}
	bands, err := screen.ReadBands(bytes.NewReader(data))
	if err != nil {
		return screen.Options{}, fmt.Errorf("%s: %w", name, err)
	}
	return screen.Options{Bands: []*screen.Bands{bands}}, nil
}
