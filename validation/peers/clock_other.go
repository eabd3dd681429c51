//go:build !unix

package main

func processorTime() (int64, bool) { return 0, false }
