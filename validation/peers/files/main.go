// Program files times what the package tests can not hold: reading of files and
// computing of plates beside other programs, and how cost and memory grow with
// the length of a recording. See README.md. It is run by files.py, which asks
// one question a line and gets one JSON line back, so that the contestants take
// turns on one machine.
package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"strings"
)

func main() {
	in := bufio.NewScanner(os.Stdin)
	out := json.NewEncoder(os.Stdout)
	answerers := map[string]func(args []string) (any, error){
		"csv": csv, "c3d": decodeC3D, "plates": plates, "chain": chainCost, "swing": swingCost,
	}
	for in.Scan() {
		words := strings.Split(in.Text(), "\t")
		f := answerers[words[0]]
		if f == nil {
			fmt.Fprintf(os.Stderr, "files: %q is no question\n", words[0])
			os.Exit(2)
		}
		answer, err := f(words[1:])
		if err != nil {
			fmt.Fprintf(os.Stderr, "files: %s: %v\n", in.Text(), err)
			os.Exit(1)
		}
		if err := out.Encode(answer); err != nil {
			os.Exit(1)
		}
	}
}
