// Command inspect says what is in a capture: format facts, rates, points,
// channels, plates, events and what is doubtful. With -plates it writes what the
// force plates measured, in the file's laboratory axes, with no zeroing, no filter
// and no choice of sign.
//
//	inspect [-json FILE] [-plates FILE] CAPTURE
//
// A capture is a C3D file, or a CSV or TSV file whose header carries units. FILE
// may be - for standard output; then nothing else is written there.
//
// The exit status is 0, 1 when the capture can not be read, 2 for wrong flags.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/examples/internal/safe"
	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/grf/table"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("inspect", flag.ContinueOnError)
	flags.SetOutput(stderr)
	jsonFile := flags.String("json", "", "write what is in the capture as JSON to `FILE` (- for standard output)")
	plateFile := flags.String("plates", "", "write the plates' wrenches in laboratory axes as CSV to `FILE` (- for standard output)")
	flags.Usage = func() {
		fmt.Fprintln(stderr, "usage: inspect [-json FILE] [-plates FILE] CAPTURE")
		flags.PrintDefaults()
	}
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return 0
		}
		return 2
	}
	if flags.NArg() != 1 {
		fmt.Fprintln(stderr, "inspect: one capture is needed, got", flags.NArg())
		flags.Usage()
		return 2
	}
	if *jsonFile == "-" && *plateFile == "-" {
		fmt.Fprintln(stderr, "inspect: -json and -plates can not both go to standard output")
		return 2
	}
	if err := inspect(flags.Arg(0), *jsonFile, *plateFile, stdout, stderr); err != nil {
		fmt.Fprintln(stderr, "inspect:", safe.Plain(err.Error()))
		return 1
	}
	return 0
}

func inspect(name, jsonFile, plateFile string, stdout, stderr io.Writer) error {
	data, err := input.ReadFile(name)
	if err != nil {
		return err
	}
	s, err := look(name, data)
	if err != nil {
		return err
	}
	if plateFile != "" {
		if s.c3d == nil {
			return fmt.Errorf("%s: -plates: a table holds no force plates of its own; use report with a setup", name)
		}
		if err := write(plateFile, stdout, s.writePlates); err != nil {
			return err
		}
		for _, p := range s.usable {
			if p.Err != nil {
				fmt.Fprintf(stderr, "inspect: %s\n", safe.Plain(fmt.Sprintf("%s: left out: %v", name, p.Err)))
			}
		}
	}
	if jsonFile != "" {
		if err := write(jsonFile, stdout, s.writeJSON); err != nil {
			return err
		}
	}
	if jsonFile == "-" || plateFile == "-" {
		return nil
	}
	return s.writeText(stdout)
}

// look reads a capture of either kind, told by its content.
func look(name string, data []byte) (*summary, error) {
	if len(data) == 0 {
		return nil, fmt.Errorf("%s: the file is empty", name)
	}
	f, err := c3d.Decode(data, c3d.Options{})
	if err == nil {
		return summarizeC3D(name, len(data), f), nil
	}
	if !errors.Is(err, c3d.ErrNotC3D) && !errors.Is(err, c3d.ErrTooShort) {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	t, tableErr := table.Decode(data, table.Options{})
	if tableErr != nil {
		return nil, fmt.Errorf("%s: neither a C3D file (%w) nor a table (%w)", name, err, tableErr)
	}
	return summarizeTable(name, len(data), t), nil
}

// write calls f with standard output for "-", and otherwise with a new file that
// gets its name only once it is complete.
func write(name string, stdout io.Writer, f func(io.Writer) error) error {
	if name == "-" {
		return f(stdout)
	}
	part := name + ".part"
	w, err := os.Create(part)
	if err != nil {
		return err
	}
	err = errors.Join(f(w), w.Close())
	if err == nil {
		err = os.Rename(part, name)
	}
	if err != nil {
		os.Remove(part)
		return fmt.Errorf("%s: %w", name, err)
	}
	return nil
}
