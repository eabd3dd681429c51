//go:build !js

package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"

	"example.com/momentarm/examples/internal/safe"
)

// Exit statuses.
const (
	exitOK    = 0
	exitWork  = 1 // the page can not be made or written
	exitUsage = 2 // the arguments
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run is the whole program that makes the page; it returns the exit status.
func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("browser", flag.ContinueOnError)
	flags.SetOutput(stderr)
	out := flags.String("out", "browser.html", "write the page to `FILE`")
	flags.Usage = func() {
		fmt.Fprint(stderr, "usage: browser [-out FILE]\n\nMakes the ground report as one page that works without a server. Needs the go\ncommand and this module's source.\n\n")
		flags.PrintDefaults()
	}
	switch err := flags.Parse(args); {
	case errors.Is(err, flag.ErrHelp):
		return exitOK
	case err != nil:
		return exitUsage
	case flags.NArg() > 0 || *out == "":
		fmt.Fprintln(stderr, "browser: name the page with -out FILE and nothing else; see browser -help")
		return exitUsage
	}
	page, err := build()
	if err == nil {
		err = safe.WriteFile(*out, page)
	}
	if err != nil {
		fmt.Fprintln(stderr, "browser:", safe.Plain(err.Error()))
		return exitWork
	}
	fmt.Fprintf(stdout, "wrote %s, %.1f MB; open it in a browser\n", safe.Plain(*out), float64(len(page))/1e6)
	return exitOK
}
