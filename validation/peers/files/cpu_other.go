//go:build !unix

package main

import "time"

// processorTime is the time on the wall where nothing better is at hand.
func processorTime() time.Duration { return time.Since(started) }
