// Batch analyses every capture in a folder.
//
//	go run ./examples/batch -setup lab.json captures
//
// A capture is a file that ends in .c3d, .csv or .tsv; subfolders are not looked
// into. Its setup (JSON, see package grf/capture) is the file beside it with the
// same base name and the ending .json, if there is one, and else that of -setup.
// When several captures have that of -setup, what belongs to one capture in it (see
// capture.Setup.Shared: marks, quiet_stance and the like) is left out: it would be
// wrong for all others. Marks of each go into its own setup.
// A file that a setup names for the centre of mass is no capture.
//
// Into a folder, the subfolder results of the captures' or that of -out, go
//
//	measures.csv   one row for each capture and measure: file, golfer and session as
//	               the setup names them, measure, value, sd (one standard deviation
//	               of value), unit, time_s, note; a cell is empty where there is
//	               nothing
//	swings.jsonl   one JSON object on a line for each analysed capture, with the
//	               same keys as report -json, and sha256 as in captures.csv
//	session.json   how each measure varies from swing to swing, by golfer if the
//	               setups name several, and
//	session.txt    the same for reading
//	methods.txt    how all of them were analysed, for the methods section of a paper
//	changes.txt    with -against: what has changed since the session whose results
//	               are in that folder
//	captures.csv   what became of each capture: file, setup, state (analysed,
//	               failed, not reached), reason, sha256 of the capture, its setup
//	               and the bands
//
// all in the order of the file names, in which numbers count as such: swing 9
// comes before swing 10. A session takes the swings of a golfer for successive ones
// under one set of conditions; where a folder holds something else, look at the
// other files.
//
// A capture that can not be worked on does not stop the others: it is listed at
// the end with its reason. Ctrl-C finishes the captures in work and writes what
// is done; with -resume the next run keeps every result whose capture, setup, bands
// and algorithms have not changed. Files are replaced as a whole, at the end and every
// few seconds, so that a crash leaves whole ones, too.
//
// The exit status is 0 when all captures were analysed, 1 when some were not or
// something could not be read or written, and 2 when the arguments make no sense.
package main

import (
	"context"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second signal ends the program at once
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}
