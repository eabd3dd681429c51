//go:build unix

package main

import (
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// A pipe that nobody writes to must not hold up the others.
func TestPipe(t *testing.T) {
	dir, setup := fill(t, good()), filepath.Join(t.TempDir(), "lab.json")
	put(t, setup, lab)
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe.csv"), 0o644); err != nil {
		t.Skip("no pipes here:", err)
	}
	status, _, stderr := invoke(t, "-setup", setup, dir)
	if status != exitWork || !strings.Contains(stderr, "pipe.csv: is no ordinary file") {
		t.Errorf("status %d, %s", status, stderr)
	}
	if got := whole(t, filepath.Join(dir, defaultOut)); len(got) != 4 {
		t.Errorf("analysed %v", got)
	}
}
