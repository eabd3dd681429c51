package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"path/filepath"

	"example.com/momentarm/examples/internal/demo"
	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/examples/internal/safe"
	"example.com/momentarm/units"
)

// Exit statuses.
const (
	exitOK    = 0
	exitWork  = 1 // the capture or a file
	exitUsage = 2 // the arguments
)

// stdout as a file name.
const dash = "-"

// request is what the arguments ask for.
type request struct {
	capture, setup, json string
	ask                  ask
}

// run is the whole program; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	req, status, done := parse(args, stderr)
	if done {
		return status
	}
	if err := work(req, stdout); err != nil {
		fmt.Fprintln(stderr, "whatif:", safe.Plain(err.Error()))
		return exitWork
	}
	return exitOK
}

const usage = `usage: whatif [-capture FILE [-setup FILE]] [-json FILE]
              [-lateral PERCENT] [-arm LENGTH] [-lighten PERCENT]

Without -capture a demonstration capture is used. -json - means standard output,
which then carries nothing else. A negative number asks for less.

`

// parse reads the arguments. When done is true there is nothing to do but to exit
// with the status.
func parse(args []string, stderr io.Writer) (req request, status int, done bool) {
	req.ask = usual
	flags := flag.NewFlagSet("whatif", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.StringVar(&req.capture, "capture", "", "capture to read: C3D, CSV or TSV `FILE`")
	flags.StringVar(&req.setup, "setup", "", "setup of that capture: JSON `FILE`")
	flags.StringVar(&req.json, "json", "", "write the answers as JSON to `FILE`")
	flags.Float64Var(&req.ask.Lateral, "lateral", usual.Lateral, "so many `PERCENT` more lateral force")
	flags.Func("arm", "so much more moment arm: `LENGTH` with its unit (default \"5 cm\")", func(text string) error {
		length, err := units.ParseLength(text)
		req.ask.Arm = float64(length)
		return err
	})
	flags.Float64Var(&req.ask.Lighten, "lighten", usual.Lighten, "so many `PERCENT` of body weight less vertical force")
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
		fmt.Fprintf(stderr, "whatif: %s; see whatif -help\n", safe.Plain(err.Error()))
		return req, exitUsage, true
	}
	return req, exitOK, false
}

// check refuses arguments that make no sense.
func (r request) check(flags *flag.FlagSet) error {
	if flags.NArg() > 0 {
		return fmt.Errorf("unexpected argument %q: name the capture with -capture %s", flags.Arg(0), flags.Arg(0))
	}
	var err error
	flags.Visit(func(f *flag.Flag) {
		if (f.Name == "capture" || f.Name == "setup" || f.Name == "json") && f.Value.String() == "" && err == nil {
			err = fmt.Errorf("-%s needs a file name", f.Name)
		}
	})
	within := func(flag string, x, most float64, unit string) {
		if err == nil && !(math.Abs(x) <= most) {
			err = fmt.Errorf("%s: %g %s is not between −%g and %g", flag, x, unit, most, most)
		}
	}
	within("-lateral", r.ask.Lateral, 100, "%")
	within("-arm", r.ask.Arm, 1, "m")
	within("-lighten", r.ask.Lighten, 100, "%")
	if err != nil {
		return err
	}
	if r.setup != "" && r.capture == "" {
		return errors.New("-setup describes a capture: name it with -capture")
	}
	if r.capture == dash || r.setup == dash {
		return errors.New("standard input is not read: name a file")
	}
	for _, f := range []string{r.capture, r.setup} {
		if f != "" && filepath.Clean(f) == filepath.Clean(r.json) {
			return fmt.Errorf("-json would write over %q: give it another name", f)
		}
	}
	return nil
}

// work reads the capture, answers and writes.
func work(req request, stdout io.Writer) error {
	src := demo.Source()
	if req.capture != "" {
		var err error
		if src, err = input.Load(req.capture, req.setup); err != nil {
			return err
		}
	}
	swing, err := src.Analyse()
	if err != nil {
		return err
	}
	found, err := answerAll(swing, req.ask)
	if err != nil {
		return fmt.Errorf("%s: %w", src.Name, err)
	}
	found.demo = req.capture == ""
	if req.json != "" {
		data, err := found.json()
		if err != nil {
			return err
		}
		if req.json == dash {
			return say(stdout, string(data))
		}
		if err := safe.WriteFile(req.json, data); err != nil {
			return err
		}
	}
	text := found.text()
	if req.json != "" {
		text += "\nwrote " + safe.Plain(req.json) + "\n"
	}
	return say(stdout, text)
}

func say(w io.Writer, text string) error {
	if _, err := io.WriteString(w, text); err != nil {
		return fmt.Errorf("standard output: can not be written: %w", err)
	}
	return nil
}
