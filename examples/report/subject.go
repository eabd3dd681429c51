package main

import (
	"os"
	"path/filepath"
	"strings"

	"example.com/momentarm/examples/internal/demo"
	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/examples/internal/page"
	"example.com/momentarm/phase/screen"
)

// subjectOf reads and analyses what the request names.
func subjectOf(req request) (*page.Subject, error) {
	s, err := examine(req.capture, req.setup, nil)
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
	setup, shared := req.againstSetup, (*lent)(nil)
	if setup == "" {
		setup = req.setup
		if place(req.against) != place(req.capture) {
			shared = &lent{from: req.capture, to: req.against}
		}
	}
	before, err := examine(req.against, setup, shared)
	if err != nil {
		return nil, err
	}
	return s, s.Hold(before)
}

// lent says that a capture has the setup of another one.
type lent struct{ from, to string }

// own says how the capture gets a setup of its own.
func (l *lent) own() string {
	beside := strings.TrimSuffix(l.to, filepath.Ext(l.to)) + ".json"
	if info, err := os.Stat(beside); err == nil && info.Mode().IsRegular() {
		return "if " + filepath.Base(beside) + " beside it is its own, name it with -against-setup"
	}
	return "give it its own with -against-setup"
}

// examine reads the files of a capture, or takes the demonstration when there is
// no name, and analyses it. shared is nil when the setup is this capture's alone.
func examine(name, setup string, shared *lent) (*page.Subject, error) {
	if name == "" {
		return page.New(demo.Source())
	}
	src, err := input.Load(name, setup)
	if err != nil {
		return nil, err
	}
	if shared != nil {
		src.SharedWith, src.Own = filepath.Base(shared.from), shared.own()
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
	bands, err := input.Bands(name, data)
	if err != nil {
		return screen.Options{}, err
	}
	return screen.Options{Bands: []*screen.Bands{bands}}, nil
}
