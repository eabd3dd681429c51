// Live shows what the ground does under a golfer while it happens: a device sends
// the raw channels of two force plates over TCP, this program runs the live chain
// on them, and a browser shows forces, load share, moment arm, torque and the last
// swing.
//
//	go run ./examples/live
//
// starts a made-up device and a server, both on this machine alone, and prints the
// address of the page. With a device of your own that sends the frames of package
// wire:
//
//	go run ./examples/live -device 127.0.0.1:7000 -stature "1.80 m"
//
// The path of a sample:
//
//	device --TCP--> link --> engine: live.Chain --> latest view --> hub --> viewers
//	                            |                                    ^
//	                            +--> last swing --> swing.Analyse ---+
//
// The engine waits for nobody. Where something behind it is slow, a newer view
// takes the place of one that was not sent yet, and that is counted.
//
// The server is meant for the machine it runs on. It listens on a loopback address
// unless told otherwise, answers only to names of that address, takes requests from
// its own page only, and bounds connections, requests and times. It has no log-in
// and no encryption: do not put it on a network without a proxy that has both.
//
// It ends on an interrupt. Its exit status is 0, 1 when it can not run, and 2 when
// the arguments make no sense.
package main

import (
	"context"
	"os"
	"os/signal"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdout, os.Stderr))
}
