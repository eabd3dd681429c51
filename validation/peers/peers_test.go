package main

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.com/momentarm/phase/batch"
)

// Small recordings, compared and not timed. Debian's interpreter is the one that
// the program takes, too.
func TestAgreesWithSciPy(t *testing.T) {
	works := []work{
		{name: "short", samples: 700, recordings: 1, repetitions: 1},
		{name: "some", samples: 1500, recordings: 3, repetitions: 1},
	}
	var out strings.Builder
	err := compete(works, options{python: "/usr/bin/python3", seed: 7}, &out)
	if errors.Is(err, errNoSciPy) {
		t.Skip(err)
	}
	if err != nil {
		t.Fatal(err)
	}
	if strings.Count(out.String(), "36 rows agree") != len(works) {
		t.Errorf("it said:\n%s", &out)
	}
}

// The comparison sees what it is there to see.
func TestDifferencesAreSeen(t *testing.T) {
	folder := t.TempDir()
	lab, err := newSetup(3)
	if err != nil {
		t.Fatal(err)
	}
	if err := lab.write(folder); err != nil {
		t.Fatal(err)
	}
	them, err := startSciPy("/usr/bin/python3", folder)
	if errors.Is(err, errNoSciPy) {
		t.Skip(err)
	}
	if err != nil {
		t.Fatal(err)
	}
	defer them.stop()
	w := work{name: "one", samples: 900, recordings: 1}
	if err := w.make(lab, 3, folder); err != nil {
		t.Fatal(err)
	}
	if err := load(them, &w); err != nil {
		t.Fatal(err)
	}
	chain, err := lab.chain(them.sos)
	if err != nil {
		t.Fatal(err)
	}
	var r batch.Result
	for name, spoil := range map[string]func(){
		"":                          func() {},
		"net free moment":           func() { r.Net.Free[450] *= 1 + 1e-9 },
		"centre of mass":            func() { r.COM[899].Z += 1e-9 },
		"sample 17":                 func() { r.Arm[17].Frontal = math.NaN() },
		"extremes of the net force": func() { r.ForceExtremes[1].MaxAt++ },
		"crossings":                 func() { r.Plates[0].Crossings = append(r.Plates[0].Crossings, 899) },
	} {
		if err := chain.Run(&r, w.inputs[0]); err != nil {
			t.Fatal(err)
		}
		spoil()
		_, err := agree(them, folder, variants[0], 0, &r)
		switch {
		case name == "" && err != nil:
			t.Error(err)
		case name != "" && (err == nil || !strings.Contains(err.Error(), name)):
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestWithoutSciPy(t *testing.T) {
	var out, errs strings.Builder
	if status := run([]string{"-python", "/no/such/python3", "-rounds", "0"}, &out, &errs); status != 3 || !strings.Contains(errs.String(), "skipped") {
		t.Errorf("status %d: %s", status, &errs)
	}
	for _, args := range [][]string{{"-rounds", "-1"}, {"something"}, {"-clock", "water"}, {"-recordings", "1"}, {"-nonsense"}} {
		if status := run(args, &out, &errs); status != 2 {
			t.Errorf("%v: status %d", args, status)
		}
	}
}
