package main

import (
	"bytes"
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/grf/capture"
)

// file is a capture to work on.
type file struct {
	name  string // without the folder
	setup string // path of its setup; empty when there is none
	own   bool   // the setup lies beside it and belongs to it alone
	// shared says how many other captures have the setup; empty when none has
	shared string
}

// folder is what was found in a folder.
type folder struct {
	path     string
	captures []file
	bands    bands
	// leftOut says why something that looks like a capture is none.
	leftOut []string
	// shared says what of the setup that several captures have is left out.
	shared string
}

// setupName is the setup as messages and results name it.
func (f file) setupName() string {
	if f.own {
		return filepath.Base(f.setup)
	}
	return f.setup
}

// look finds the captures in a folder, in the order of their names.
func look(path, setup string) (folder, error) {
	found := folder{path: path}
	entries, err := os.ReadDir(path)
	if err != nil {
		return found, fmt.Errorf("%s: can not be read: %w; name a folder with captures", path, input.Cause(err))
	}
	names := map[string]bool{}
	for _, e := range entries {
		names[e.Name()] = true
	}
	masses := map[string]string{} // a file with the centre of mass → the setup that names it
	if setup != "" {
		if err := checkSetup(setup, masses); err != nil {
			return found, err
		}
	}
	for _, e := range entries {
		if !isCapture(e.Name()) {
			continue
		}
		f := file{name: e.Name(), setup: setup}
		if own := ownSetup(f.name); names[own] {
			f.setup, f.own = filepath.Join(path, own), true
			_ = checkSetup(f.setup, masses) // what is wrong with it is told when the capture's turn comes
		}
		found.captures = append(found.captures, f)
	}
	slices.SortFunc(found.captures, func(a, b file) int { return natural(a.name, b.name) })
	found.captures = slices.DeleteFunc(found.captures, func(f file) bool {
		by, ok := masses[absolute(filepath.Join(path, f.name))]
		if ok {
			found.leftOut = append(found.leftOut, fmt.Sprintf("%s is left out: %s names it for the centre of mass", f.name, filepath.Base(by)))
		}
		return ok
	})
	if len(found.captures) == 0 {
		return found, fmt.Errorf("%s: no captures in it: their names end in .c3d, .csv or .tsv", path)
	}
	return found, found.share(setup)
}

// ownSetup is the name of the setup that is a capture's own.
func ownSetup(name string) string {
	return strings.TrimSuffix(name, filepath.Ext(name)) + ".json"
}

// share notes which captures have the setup of the arguments together, and says what
// of it is therefore left out.
func (found *folder) share(setup string) error {
	n, first := 0, ""
	for _, f := range found.captures {
		if setup != "" && !f.own {
			if n == 0 {
				first = f.name
			}
			n++
		}
	}
	if n < 2 {
		return nil
	}
	for i := range found.captures {
		if f := &found.captures[i]; !f.own {
			f.shared = count(n-1, "other capture")
		}
	}
	data, err := input.ReadFile(setup)
	if err != nil {
		return err
	}
	read, err := capture.ReadSetup(bytes.NewReader(data))
	if err != nil {
		return err // it was read before
	}
	_, left := read.Shared()
	left = slices.DeleteFunc(left, func(field string) bool { return field == "session" }) // they are one
	if len(left) > 0 {
		found.shared = fmt.Sprintf("! %s: left out for all %d captures that have it, because it belongs to one capture: %s; give each a setup of its own beside it, such as %s for %s",
			filepath.Base(setup), n, strings.Join(left, ", "), ownSetup(first), first)
	}
	return nil
}

// isCapture tells captures by their names. A name that begins with a dot belongs
// to some system.
func isCapture(name string) bool {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".c3d", ".csv", ".tsv":
		return !strings.HasPrefix(name, ".")
	}
	return false
}

// checkSetup reads a setup and notes which file it names for the centre of mass.
func checkSetup(name string, masses map[string]string) error {
	data, err := input.ReadFile(name)
	if err != nil {
		return err
	}
	setup, err := capture.ReadSetup(bytes.NewReader(data))
	if err != nil {
		return fmt.Errorf("%s: %s", name, strings.TrimPrefix(err.Error(), "setup: "))
	}
	if setup.COM.File != "" {
		masses[absolute(input.Beside(name, setup.COM.File))] = name
	}
	return nil
}

func absolute(name string) string {
	if abs, err := filepath.Abs(name); err == nil {
		return abs
	}
	return name
}

// natural compares names as people order them: runs of digits by the number that
// they are. Names that differ in leading zeros alone go by their bytes.
func natural(a, b string) int {
	x, y := a, b
	for x != "" && y != "" {
		m, n := digits(x), digits(y)
		if m > 0 && n > 0 {
			p, q := strings.TrimLeft(x[:m], "0"), strings.TrimLeft(y[:n], "0")
			if c := cmp.Or(cmp.Compare(len(p), len(q)), cmp.Compare(p, q)); c != 0 {
				return c
			}
			x, y = x[m:], y[n:]
			continue
		}
		if x[0] != y[0] {
			return cmp.Compare(x[0], y[0])
		}
		x, y = x[1:], y[1:]
	}
	return cmp.Or(cmp.Compare(len(x), len(y)), cmp.Compare(a, b))
}

// digits returns how many bytes at the start of s are digits.
func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}
