// Report tells in plain words, pictures and numbers what the ground did during
// one golf swing.
//
// Without arguments it works on a demonstration capture of an invented golfer:
//
//	go run ./examples/report
//
// With a capture of two force plates (C3D, CSV or TSV) and, where the file alone
// does not say enough, a setup (JSON, see package grf/capture):
//
//	go run ./examples/report -capture swing.c3d -setup lab.json -html swing.html
//
// It prints a summary and writes an HTML page that needs nothing else, the
// results as JSON, or the series as CSV, as asked. Its exit status is 0, 1 when
// the capture can not be read or worked on or a file can not be written, and 2
// when the arguments make no sense.
package main

import "os"

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }
