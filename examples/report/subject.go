package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/capture"
	"example.com/momentarm/phase/swing"
)

// subject is one analysed swing and what is known around it.
type subject struct {
	*swing.Analysis
	Capture         string // the file
	Player, Session string // empty when nobody says
	Demo            bool
	Feet            swing.Feet
	Steps           []string      // of reading, then of analysing
	Warnings        []grf.Warning // likewise
}

// source is the content of a capture and its setup, with their names for
// messages.
type source struct {
	name      string
	data      []byte
	setupName string // empty: none was given
	setup     []byte
	open      func(name string) ([]byte, error) // other files that the setup names
}

// load reads the files of a capture, or takes the demonstration when there is no
// name.
func load(name, setup string) (source, error) {
	if name == "" {
		return demo(), nil
	}
	src := source{name: name, setupName: setup}
	var err error
	if src.data, err = readFile(name, maxCapture); err != nil {
		return src, err
	}
	if setup == "" {
		return src, nil
	}
	if src.setup, err = readFile(setup, maxCapture); err != nil {
		return src, err
	}
	// What the setup names lies beside it.
	src.open = func(other string) ([]byte, error) {
		if !filepath.IsAbs(other) {
			other = filepath.Join(filepath.Dir(setup), other)
		}
		data, err := readFile(other, maxCapture)
		if err != nil {
			err = cause(err)
		}
		return data, err
	}
	return src, nil
}

// maxCapture bounds what is read into memory.
const maxCapture = 1 << 30

func readFile(name string, most int64) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("%s: can not be opened: %w; check the name and the folder", name, cause(err))
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.IsDir() {
		return nil, fmt.Errorf("%s: is a folder: name a file in it", name)
	}
	data, err := io.ReadAll(io.LimitReader(f, most+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("%s: can not be read: %w; check the medium and the permission", name, cause(err))
	case int64(len(data)) > most:
		return nil, fmt.Errorf("%s: larger than %d MiB: cut the recording to one swing", name, most>>20)
	}
	return data, nil
}

// examine makes a recording of a capture and analyses it.
func examine(src source) (*subject, error) {
	var setup *capture.Setup
	if src.setupName != "" {
		var err error
		if setup, err = capture.ReadSetup(bytes.NewReader(src.setup)); err != nil {
			return nil, src.fault(err)
		}
	}
	read, err := capture.Read(src.name, src.data, setup, src.open)
	if err != nil {
		return nil, src.fault(err)
	}
	opt, err := options(read)
	if err != nil {
		return nil, src.fault(err)
	}
	a, err := swing.Analyse(read.Recording, opt)
	if err != nil {
		return nil, src.fault(err)
	}
	s := &subject{Analysis: a, Capture: filepath.Base(src.name), Feet: opt.Feet}
	s.Steps = append(append(s.Steps, read.Steps...), a.Steps...)
	s.Warnings = append(append(s.Warnings, read.Warnings...), a.Warnings...)
	return s, nil
}

// fault says in which file an error is: the setup where its text must change,
// else the capture.
func (src source) fault(err error) error {
	var wrong *capture.SetupError
	if errors.As(err, &wrong) {
		text := strings.TrimPrefix(wrong.Error(), "setup: ")
		if src.setupName == "" {
			return fmt.Errorf("%s: needs a setup, named with -setup: %s", src.name, text)
		}
		return fmt.Errorf("%s: %s", src.setupName, text)
	}
	if text := err.Error(); !strings.HasPrefix(text, src.name+": ") {
		return fmt.Errorf("%s: %w", src.name, err)
	}
	return err
}

// options carries what the setup says over to the analysis.
func options(r *capture.Result) (swing.Options, error) {
	p := r.Processing
	opt := swing.Options{
		Cutoff: p.Cutoff, Order: p.Order,
		MinVertical: p.MinVertical, MinPlane: p.MinArmForce,
		Plane: p.SwingPlane, Gravity: p.Gravity,
		Quiet:     grf.QuietOptions{From: p.QuietFrom, To: p.QuietTo},
		COMHeight: p.COMHeight, COMHeightSD: p.COMHeightSD,
	}
	if r.COM != nil {
		opt.COM = []com.Source{{Name: "the setup's table", Track: *r.COM}}
	}
	for _, f := range []struct {
		side cop.Side
		from *capture.FootOutline
		to   **cop.Foot
	}{{cop.Lead, p.Lead, &opt.Feet.Lead}, {cop.Trail, p.Trail, &opt.Feet.Trail}} {
		if f.from == nil {
			continue
		}
		foot, err := cop.NewFoot(f.side, f.from.Heel, f.from.Toe, f.from.Width)
		if err != nil {
			return opt, &capture.SetupError{Path: "feet." + f.side.String(), Text: err.Error(), Err: err}
		}
		*f.to = &foot
	}
	return opt, nil
}

// cause returns what went wrong with a file without its name, which the message
// gives already.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err
	}
	return err
}
