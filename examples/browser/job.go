package main

import (
	"bytes"
	"errors"
	"fmt"
	"path"
	"strings"

	"example.com/momentarm/examples/internal/demo"
	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/examples/internal/page"
	"example.com/momentarm/grf/capture"
	"example.com/momentarm/phase/screen"
)

// file is one that was dropped on the page.
type file struct {
	name string
	data []byte
}

// job is what the page asks for. A file without a name is not there.
type job struct {
	demo    bool // the demonstration instead of a capture and its setup
	capture file
	setup   file
	before  file   // an earlier capture to hold this one against
	others  []file // files that the setup names
}

// outcome is what it gets: an error that says what is wrong and what to do, or the
// report in its three forms.
type outcome struct {
	err                string
	title              string
	html, json, series []byte
}

// work analyses the files of a job. It never panics: whatever a file can cause is
// an error, and should the program itself be wrong, that is said, too.
func work(j job) (out outcome) {
	defer func() {
		if broken := recover(); broken != nil {
			out = outcome{err: fmt.Sprintf("%s: the analysis broke (%v). This is a fault of the program and not of the file; "+
				"please report it with the message, and the file if you may", j.name(), broken)}
		}
	}()
	s, err := j.subject()
	if err != nil {
		return outcome{err: err.Error()}
	}
	out.title = s.Capture
	for _, form := range []struct {
		to   *[]byte
		make func() ([]byte, error)
	}{{&out.html, s.HTML}, {&out.json, s.JSON}, {&out.series, s.CSV}} {
		if *form.to, err = form.make(); err != nil {
			return outcome{err: j.name() + ": " + err.Error()}
		}
	}
	return out
}

func (j job) name() string {
	if j.demo {
		return "demonstration"
	}
	return j.capture.name
}

// subject is the analysed swing, held against the starter bands and, if there is
// one, against an earlier swing with the same setup, but for what belongs to one
// capture.
func (j job) subject() (*page.Subject, error) {
	src := demo.Source()
	if !j.demo {
		src = j.source(j.capture)
	}
	s, err := examine(src)
	if err != nil {
		return nil, err
	}
	s.Demo = j.demo
	if err := s.Find(screen.Options{}); err != nil {
		return nil, err
	}
	if j.before.name == "" {
		return s, nil
	}
	src = j.source(j.before)
	if !bytes.Equal(src.Data, j.capture.data) {
		src.SharedWith, src.Own = j.name(), "on this page it can have none of its own, but events in its file count as marks"
	}
	before, err := examine(src)
	if err != nil {
		return nil, err
	}
	return s, s.Hold(before)
}

func (j job) source(f file) input.Source {
	src := input.Source{Name: f.name, Data: f.data, Open: j.open}
	if j.setup.name != "" {
		src.SetupName, src.Setup = j.setup.name, j.setup.data
	}
	return src
}

// open finds a file that the setup names among those that were dropped, by its
// name without a folder, as a browser tells no folders.
func (j job) open(name string) ([]byte, error) {
	want := path.Base(strings.ReplaceAll(name, `\`, "/"))
	for _, f := range j.others {
		if f.name == want {
			return f.data, nil
		}
	}
	return nil, fmt.Errorf("%q was not given to the page: choose it among the files that the setup names", want)
}

// examine is a variable for the test of what happens when it breaks.
var examine = examineSource

// examineSource reads and analyses a capture. What a setup has to say is worded for
// this page where there is none.
func examineSource(src input.Source) (*page.Subject, error) {
	s, err := page.New(src)
	var wrong *capture.SetupError
	if src.SetupName == "" && errors.As(err, &wrong) {
		return nil, fmt.Errorf("%s: needs a setup, chosen or written on this page: %s", src.Name, strings.TrimPrefix(wrong.Error(), "setup: "))
	}
	return s, err
}
