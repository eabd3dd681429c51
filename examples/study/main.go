// Command study runs the analysis on random made-up swings whose truth is known
// and prints how well events were found.
//
//	study [-n SWINGS] [-seed SEED] [-noise N] [-list]
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
	flag.Parse()

	table := study.Events(study.Options{Swings: *n, Seed: *seed, ForceNoise: *noise})
	if err := table.Write(os.Stdout); err != nil {
		log.Fatal("study: ", err)
	}
	if *list {
		for _, s := range append(table.Refused, table.Late...) {
			fmt.Println(s)
		}
	}
}
