package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"time"

	"example.com/momentarm/examples/internal/safe"
)

// Exit statuses.
const (
	exitOK    = 0
	exitWork  = 1 // captures or files
	exitUsage = 2 // the arguments
)

// request is what the arguments ask for.
type request struct {
	folder, setup, bands, out string
	against                   string // results folder of another day
	workers                   int
	resume                    bool
	pause                     time.Duration // between writings while captures are worked on
}

// checkpoint is how often what is done is written.
const checkpoint = 5 * time.Second

// run is the whole program; it returns the exit status.
func run(ctx context.Context, args []string, stdout, stderr io.Writer) int {
	req, status, done := parse(args, stderr)
	if done {
		return status
	}
	complete, err := work(ctx, req, stdout, stderr)
	if err != nil {
		fmt.Fprintln(stderr, "batch:", safe.Plain(err.Error()))
	}
	if err != nil || !complete {
		return exitWork
	}
	return exitOK
}

const usage = `usage: batch [-setup FILE] [-bands FILE] [-out FOLDER] [-against FOLDER]
             [-workers N] [-resume] FOLDER

Analyses the captures (.c3d, .csv, .tsv) in FOLDER. A setup beside a capture, with
the same base name and the ending .json, wins over that of -setup. Where several
captures have that of -setup, what belongs to one capture in it, such as marks, is
left out.

`

// parse reads the arguments; flags may stand after the folder, too. When done is
// true there is nothing to do but to exit with the status.
func parse(args []string, stderr io.Writer) (req request, status int, done bool) {
	req.pause = checkpoint
	flags := flag.NewFlagSet("batch", flag.ContinueOnError)
	flags.SetOutput(stderr)
	flags.StringVar(&req.setup, "setup", "", "setup of the captures that have none of their own: JSON `FILE`")
	flags.StringVar(&req.bands, "bands", "", "bands to hold the measures against instead of the starter set: JSON `FILE`")
	flags.StringVar(&req.out, "out", "", "write into this `FOLDER` instead of the subfolder "+defaultOut)
	flags.StringVar(&req.against, "against", "", "say what has changed since the session whose results are in this `FOLDER`")
	flags.IntVar(&req.workers, "workers", runtime.GOMAXPROCS(0), "work on `N` captures at a time")
	flags.BoolVar(&req.resume, "resume", false, "keep earlier results of captures that have not changed")
	flags.Usage = func() {
		fmt.Fprint(stderr, usage)
		flags.PrintDefaults()
	}
	var folders []string
	for rest := args; ; {
		if err := flags.Parse(rest); err != nil {
			if errors.Is(err, flag.ErrHelp) {
				return req, exitOK, true
			}
			return req, exitUsage, true
		}
		if flags.NArg() == 0 {
			break
		}
		folders, rest = append(folders, flags.Arg(0)), flags.Args()[1:]
	}
	if err := req.check(flags, folders); err != nil {
		fmt.Fprintf(stderr, "batch: %s; see batch -help\n", safe.Plain(err.Error()))
		return req, exitUsage, true
	}
	return req, exitOK, false
}

// defaultOut is the subfolder that results go to.
const defaultOut = "results"

// check refuses arguments that make no sense and fills in the default.
func (r *request) check(flags *flag.FlagSet, folders []string) error {
	switch len(folders) {
	case 0:
		return errors.New("name the folder with the captures")
	case 1:
		r.folder = folders[0]
	default:
		return fmt.Errorf("one folder at a time, got %q and %q", folders[0], folders[1])
	}
	var err error
	flags.Visit(func(f *flag.Flag) {
		if f.Value.String() == "" && err == nil {
			err = fmt.Errorf("-%s needs a name", f.Name)
		}
	})
	switch {
	case err != nil:
		return err
	case r.folder == "":
		return errors.New("name the folder with the captures")
	case r.workers < 1:
		return fmt.Errorf("-workers %d: at least one is needed", r.workers)
	}
	if r.out == "" {
		r.out = filepath.Join(r.folder, defaultOut)
	}
	if sameFolder(r.folder, r.out) {
		return errors.New("-out is the folder of the captures, where results would be taken for captures the next time: name another one")
	}
	return nil
}

func sameFolder(a, b string) bool {
	if filepath.Clean(a) == filepath.Clean(b) {
		return true
	}
	x, err1 := os.Stat(a)
	y, err2 := os.Stat(b)
	return err1 == nil && err2 == nil && os.SameFile(x, y)
}
