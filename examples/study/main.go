// Command study runs the analysis on random made-up swings whose truth is known
// and prints how well events were found or, with -measures, how far measures and
// curves are off and whether their standard deviations say so.
//
//	study [-n SWINGS] [-seed SEED] [-noise N] [-list] [-measures]
package main

import (
	"flag"
	"fmt"
	"log"
	"os"

	"example.com/momentarm/validation/study"
)

func main() {
	log.SetFlags(0)
	n := flag.Int("n", 1000, "number of swings")
	seed := flag.Uint64("seed", 0, "seed of the first swing")
	noise := flag.Float64("noise", 3, "white noise of each force channel, N")
	list := flag.Bool("list", false, "list what was refused or far off")
	measures := flag.Bool("measures", false, "study measures, not events")
	flag.Parse()

	opt := study.Options{Swings: *n, Seed: *seed, ForceNoise: *noise}
	var err error
	var odd []string
	if *measures {
		table := study.Measures(opt)
		err, odd = table.Write(os.Stdout), table.Refused
	} else {
		table := study.Events(opt)
		err, odd = table.Write(os.Stdout), append(table.Refused, table.Late...)
	}
	if err != nil {
		log.Fatal("study: ", err)
	}
	if *list {
		for _, s := range odd {
			fmt.Println(s)
		}
	}
}
