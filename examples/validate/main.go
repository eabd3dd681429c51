// Validate puts the reference values of package validation to this library, or
// to the recorded answers of another implementation, and prints what came out.
//
//	go run ./examples/validate                      # this library
//	go run ./examples/validate -answers FILE        # answers in JSON, see validation/vectors
//	go run ./examples/validate -json                # the report as JSON instead of a table
//	go run ./examples/validate -datasets FOLDER     # also the public data sets in a folder
//	go run ./examples/validate -cases               # the cases themselves as JSON, to be answered elsewhere
//
// The folder of data sets is also taken from the environment variable
// GRF_DATASETS; package validation says where they can be had. The last line of the table counts the cases by level. The exit
// status is 0 when values were compared and all were met, 1 when one was missed
// or nothing was compared or a file could not be read, and 2 for bad arguments.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"example.com/momentarm/validation"
)

func main() {
	os.Exit(run(os.Args[1:], os.Getenv(validation.DatasetsVariable), os.Stdout, os.Stderr))
}

func run(args []string, datasets string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("validate", flag.ContinueOnError)
	flags.SetOutput(stderr)
	answers := flags.String("answers", "", "judge the answers in this JSON `file` instead of this library")
	asJSON := flags.Bool("json", false, "write the report as JSON instead of a table")
	list := flags.Bool("cases", false, "write the cases as JSON, those of the data sets included, and check nothing")
	folder := flags.String("datasets", datasets, "`folder` with the public data sets")
	if err := flags.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return 0
		}
		return 2
	}
	if flags.NArg() > 0 {
		fmt.Fprintf(stderr, "validate: unexpected argument %q\n", flags.Arg(0))
		return 2
	}
	err := act(*answers, *folder, *asJSON, *list, stdout)
	if err != nil {
		fmt.Fprintln(stderr, "validate:", err)
		return 1
	}
	return 0
}

// act writes what was asked for and returns what went wrong, misses included.
func act(answers, folder string, asJSON, list bool, stdout io.Writer) error {
	cases, skipped, err := collect(folder)
	if err != nil {
		return err
	}
	if list {
		return validation.WriteVectors(stdout, cases)
	}
	report := &validation.Report{}
	if answers == "" {
		report = validation.CheckCases(validation.Library(), cases)
	} else if report, err = judge(answers, cases); err != nil {
		return err
	}
	report.Skipped = skipped
	write := report.WriteTable
	if asJSON {
		write = report.WriteJSON
	}
	if err := write(stdout); err != nil {
		return err
	}
	return report.Err()
}

// collect returns all cases, and what was left out.
func collect(folder string) (cases []validation.Case, skipped []string, err error) {
	cases = validation.Cases()
	if folder == "" {
		return cases, []string{fmt.Sprintf("data sets: set %s to a folder with the public data sets; see the documentation of package validation", validation.DatasetsVariable)}, nil
	}
	if _, err := os.Stat(folder); err != nil {
		return nil, nil, fmt.Errorf("folder of the data sets: %w", err)
	}
	more, skipped, err := validation.DatasetCases(os.DirFS(folder))
	return append(cases, more...), skipped, err
}

// judge compares recorded answers with cases.
func judge(name string, cases []validation.Case) (*validation.Report, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	a, err := validation.ReadAnswers(f, cases)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return a.Check(cases), nil
}
