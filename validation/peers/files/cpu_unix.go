//go:build unix

package main

import (
	"syscall"
	"time"
)

// processorTime is what the process has used of all processors. Unlike the time
// on the wall it does not grow when the machine has other things to do.
func processorTime() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return time.Since(started)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
