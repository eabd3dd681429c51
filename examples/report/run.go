package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"path/filepath"
	"slices"

	"example.com/momentarm/examples/internal/safe"
)

// Exit statuses.
const (
	exitOK    = 0
	exitWork  = 1 // the capture or a file
	exitUsage = 2 // the arguments
)

// stdout as a file name.
const dash = "-"

// defaultPage is written when no output is asked for.
const defaultPage = "report.html"

// request is what the arguments ask for.
type request struct {
	capture, setup     string
	html, json, series string

	against, againstSetup string
	bands                 string
}

// run is the whole program; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	req, status, done := parse(args, stderr)
	if done {
		return status
	}
	if err := work(req, stdout); err != nil {
		fmt.Fprintln(stderr, "report:", safe.Plain(err.Error()))
		return exitWork
	}
	return exitOK
}

const usage = `usage: report [-capture FILE [-setup FILE]] [-against FILE [-against-setup FILE]]
              [-bands FILE] [-html FILE] [-json FILE] [-series FILE]

Without -capture a demonstration capture is used. -against names an earlier
swing to hold this one against; without a setup of its own it has the same, but
not what belongs to one capture in it, such as marks.
-bands names a coach's bands instead of the starter set. Without -html, -json and
-series the page report.html is written. FILE - means standard output, which
then carries nothing else.

`

// parse reads the arguments. When done is true there is nothing to do but to
// exit with the status.
func parse(args []string, stderr io.Writer) (req request, status int, done bool) {
	flags := flag.NewFlagSet("report", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.StringVar(&req.capture, "capture", "", "capture to read: C3D, CSV or TSV `FILE`")
	flags.StringVar(&req.setup, "setup", "", "setup of that capture: JSON `FILE`")
	flags.StringVar(&req.against, "against", "", "earlier capture to compare with: C3D, CSV or TSV `FILE`")
	flags.StringVar(&req.againstSetup, "against-setup", "", "setup of that capture, which needs its own marks: JSON `FILE`")
	flags.StringVar(&req.bands, "bands", "", "bands to hold the measures against: JSON `FILE`")
	flags.StringVar(&req.html, "html", "", "write the page to `FILE`")
	flags.StringVar(&req.json, "json", "", "write the results as JSON to `FILE`")
	flags.StringVar(&req.series, "series", "", "write the series as CSV to `FILE`")
	flags.Usage = func() {
		fmt.Fprint(stderr, usage)
		flags.PrintDefaults()
	}
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return req, exitOK, true
		}
		return req, exitUsage, true
	}
	if err := req.check(flags); err != nil {
		fmt.Fprintf(stderr, "report: %v; see report -help\n", err)
		return req, exitUsage, true
	}
	if req.html == "" && req.json == "" && req.series == "" {
		req.html = defaultPage
	}
	return req, exitOK, false
}

// check refuses arguments that contradict each other.
func (r request) check(flags *flag.FlagSet) error {
	if flags.NArg() > 0 {
		return fmt.Errorf("unexpected argument %q: name the capture with -capture %s", flags.Arg(0), flags.Arg(0))
	}
	var err error
	flags.Visit(func(f *flag.Flag) {
		if f.Value.String() == "" && err == nil {
			err = fmt.Errorf("-%s needs a file name", f.Name)
		}
	})
	if err != nil {
		return err
	}
	if r.setup != "" && r.capture == "" {
		return errors.New("-setup describes a capture: name it with -capture")
	}
	if r.againstSetup != "" && r.against == "" {
		return errors.New("-against-setup describes a capture: name it with -against")
	}
	if slices.Contains([]string{r.capture, r.setup, r.against, r.againstSetup, r.bands}, dash) {
		return errors.New("standard input is not read: name a file")
	}
	used := map[string]string{}
	for _, f := range []struct {
		flag, name string
		output     bool
	}{
		{"-capture", r.capture, false}, {"-setup", r.setup, false}, {"-against", r.against, false},
		{"-against-setup", r.againstSetup, false}, {"-bands", r.bands, false},
		{"-html", r.html, true}, {"-json", r.json, true}, {"-series", r.series, true},
	} {
		if f.name == "" {
			continue
		}
		key := place(f.name)
		// A file may be read twice: a swing held against itself is a test.
		if other, ok := used[key]; ok && (f.output || f.flag == "-setup") {
			return fmt.Errorf("%s and %s name the same file %q: give each its own", other, f.flag, f.name)
		}
		used[key] = f.flag
	}
	return nil
}

// place returns what tells two file names apart: the file itself where it
// exists, through links.
func place(name string) string {
	if name == dash {
		return dash
	}
	if real, err := filepath.EvalSymlinks(name); err == nil {
		name = real
	}
	if abs, err := filepath.Abs(name); err == nil {
		name = abs
	}
	return name
}

// work reads the capture, analyses it and writes what is asked for. Everything
// is made before the first file is written, so a failure leaves no half set.
func work(req request, stdout io.Writer) error {
	s, err := subjectOf(req)
	if err != nil {
		return err
	}
	var outputs []output
	for _, o := range []struct {
		name string
		make func() ([]byte, error)
	}{
		{req.html, s.HTML}, {req.json, s.JSON}, {req.series, s.CSV},
	} {
		if o.name == "" {
			continue
		}
		data, err := o.make()
		if err != nil {
			return err
		}
		outputs = append(outputs, output{o.name, data})
	}
	var written []string
	quiet := false
	for _, o := range outputs {
		if err := o.write(stdout); err != nil {
			return err
		}
		written = append(written, o.name)
		quiet = quiet || o.name == dash
	}
	if quiet {
		return nil
	}
	_, err = io.WriteString(stdout, s.Summary(written))
	return err
}
