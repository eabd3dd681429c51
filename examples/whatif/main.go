// Whatif tells what a change would do to the turning of one swing: more lateral
// force, a longer arm, less vertical force. It answers at the instant at which the
// ground turned the golfer hardest seen face-on, and at that about the vertical
// axis.
//
//	go run ./examples/whatif
//	go run ./examples/whatif -capture swing.c3d -setup lab.json -lateral 20 -arm "1 in"
//
// Without -capture it works on a demonstration of an invented golfer. It prints
// tables, in SI and in pounds, feet and inches, and writes the same as JSON when
// asked.
//
// This is mechanics at one instant with everything else held fixed: in a body
// nothing else stays fixed, so it is no forecast of what a change of the swing
// would do, and no advice.
//
// The exit status is 0, 1 when the capture can not be read or worked on, has
// neither instant, or a file can not be written, and 2 when the arguments make no
// sense.
package main

import "os"

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }
