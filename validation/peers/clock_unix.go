//go:build unix

package main

import "syscall"

// processorTime returns the time that processors have spent on this process, ns.
func processorTime() (int64, bool) {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0, false
	}
	return u.Utime.Nano() + u.Stime.Nano(), true
}
