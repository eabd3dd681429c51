package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
)

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// Statuses: 0 all agree, 1 they do not or something failed, 2 usage, 3 no SciPy.
func run(args []string, stdout, stderr io.Writer) int {
	flags := flag.NewFlagSet("peers", flag.ContinueOnError)
	flags.SetOutput(stderr)
	python := flags.String("python", "/usr/bin/python3", "interpreter that has numpy and scipy")
	rounds := flags.Int("rounds", 7, "rounds in which the contestants take turns; 0 only checks that they agree")
	seed := flags.Uint64("seed", 1, "seed of the made-up recordings")
	recordings := flags.Int("recordings", 200, "recordings of 5 s in the batch")
	clock := flags.String("clock", "wall", "what counts: the clock on the wall, or the time of the processor, for machines that others use as well")
	if err := flags.Parse(args); err != nil {
		return 2
	}
	if *clock != "wall" && *clock != "processor" {
		fmt.Fprintln(stderr, "peers: -clock is wall or processor")
		return 2
	}
	if flags.NArg() > 0 || *rounds < 0 || *recordings < 2 {
		fmt.Fprintln(stderr, "peers: no arguments are taken, rounds are 0 or more, recordings 2 or more")
		return 2
	}
	works := []work{
		{name: "5s", samples: 5 * rate, recordings: 1, repetitions: 40},
		{name: "60s", samples: 60 * rate, recordings: 1, repetitions: 4},
		{name: "batch", samples: 5 * rate, recordings: *recordings, repetitions: 1},
	}
	err := compete(works, options{python: *python, seed: *seed, rounds: *rounds, processor: *clock == "processor"}, stdout)
	switch {
	case errors.Is(err, errNoSciPy):
		fmt.Fprintln(stderr, "peers: skipped:", err)
		return 3
	case err != nil:
		fmt.Fprintln(stderr, "peers:", err)
		return 1
	}
	return 0
}
