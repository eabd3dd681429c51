package c3d

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// trap is a way in which C3D files lead readers astray, by the numbers of a
// list that was compiled from the C3D User Guide, from public files and from
// the public issue lists of other readers.
type trap struct {
	number int
	name   string
	test   func(t *testing.T)
	// elsewhere says why there is nothing to test in this package.
	elsewhere string
}

// TestTraps builds a file for each trap, with the writer and by editing bytes.
func TestTraps(t *testing.T) {
	all := slices.Concat(containerTraps, frameTraps, pointTraps, eventTraps, analogTraps, plateTraps)
	for i, tr := range all {
		if tr.number != i+1 {
			t.Fatalf("trap %d stands at place %d", tr.number, i+1)
		}
		if (tr.test == nil) == (tr.elsewhere == "") {
			t.Errorf("trap %d has neither a test nor a reason, or both", tr.number)
		}
		t.Run(fmt.Sprintf("%02d %s", tr.number, tr.name), func(t *testing.T) {
			if tr.test == nil {
				t.Log(tr.elsewhere)
				return
			}
			tr.test(t)
		})
	}
	if len(all) != 69 {
		t.Errorf("%d traps, want 69", len(all))
	}
}

// assemble writes a file whose parameters are those of f after change, whether
// they agree with f or not.
func assemble(t testing.TB, f *File, change func(w *writer)) []byte {
	t.Helper()
	w := writer{f: f}
	if err := w.prepare(); err != nil {
		t.Fatal(err)
	}
	if change != nil {
		change(&w)
	}
	b, err := w.file(nil)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// stripped is small as it was read, so that nothing is added to it, after the
// named parameters ("POINT:UNITS") or groups ("EVENT") were taken away.
func stripped(t testing.TB, names ...string) []byte {
	t.Helper()
	return assemble(t, decode(t, encode(t, small()), Options{}), func(w *writer) {
		for _, n := range names {
			if group, name, ok := strings.Cut(n, ":"); ok {
				w.remove(group, name)
				continue
			}
			w.groups = slices.DeleteFunc(w.groups, func(g Group) bool { return g.Name == n })
		}
	})
}

// with is small with parameters replaced or added.
func with(t testing.TB, group string, params ...Parameter) []byte {
	t.Helper()
	return assemble(t, small(), func(w *writer) {
		for _, p := range params {
			w.groups.Set(group, p)
		}
	})
}

// word sets a 16-bit word of the header of an Intel file, counted from 1.
func word(b []byte, n, v int) []byte {
	b = slices.Clone(b)
	Intel.putUint16(b[2*(n-1):], uint16(v))
	return b
}

// float sets two words of the header of an Intel file.
func float(b []byte, n int, v float64) []byte {
	b = slices.Clone(b)
	Intel.putFloat(b[2*(n-1):], v)
	return b
}

// sameData checks that a file means what small means.
func sameData(t testing.TB, f *File) {
	t.Helper()
	want := small()
	want.Frames = 12
	want.GenScale = 1
	if d := differ(want, f); d != "" {
		t.Error(d)
	}
}

// fails checks that reading fails with an error of this kind, at a place, and
// without a File.
func fails(t testing.TB, b []byte, opt Options, want error) {
	t.Helper()
	f, err := Decode(b, opt)
	checkError(t, err, want)
	if f != nil {
		t.Error("an error together with a File")
	}
}
