// Validate puts the reference values of package validation to this library, or
// to the recorded answers of another implementation, and prints what came out.
//
//	go run ./examples/validate                      # this library
//	go run ./examples/validate -answers FILE        # answers in JSON, see validation/vectors
//	go run ./examples/validate -json FILE           # the report as JSON, "-" for standard output
//	go run ./examples/validate -datasets FOLDER     # also the public data sets in a folder
//
// The folder of data sets is also taken from the environment variable
// GRF_DATASETS. The last line of the table counts the cases by level. The exit
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
	jsonFile := flags.String("json", "", "write the report as JSON to this `file`, - for standard output instead of the table")
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
	report, err := check(*answers, *folder)
	if err == nil {
		err = write(report, *jsonFile, stdout)
	}
	if err == nil {
		err = report.Err()
	}
	if err != nil {
		fmt.Fprintln(stderr, "validate:", err)
		return 1
	}
	return 0
}

func check(answers, folder string) (*validation.Report, error) {
	cases := validation.Cases()
	if answers != "" {
		f, err := os.Open(answers)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		a, err := validation.ReadAnswers(f, cases)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", answers, err)
		}
		return a.Check(cases), nil
	}
	skipped := []string{fmt.Sprintf("data sets: set %s to a folder with the public data sets; see the documentation of package validation", validation.DatasetsVariable)}
	if folder != "" {
		if _, err := os.Stat(folder); err != nil {
			return nil, fmt.Errorf("folder of the data sets: %w", err)
		}
		more, missing, err := validation.DatasetCases(os.DirFS(folder))
		if err != nil {
			return nil, err
		}
		cases, skipped = append(cases, more...), missing
	}
	report := validation.CheckCases(validation.Library(), cases)
	report.Skipped = skipped
	return report, nil
}

func write(report *validation.Report, jsonFile string, stdout io.Writer) error {
	switch jsonFile {
	case "":
		return report.WriteTable(stdout)
	case "-":
		return report.WriteJSON(stdout)
	}
	f, err := os.Create(jsonFile)
	if err != nil {
		return err
	}
	if err := report.WriteJSON(f); err != nil {
		f.Close()
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return report.WriteTable(stdout)
}
