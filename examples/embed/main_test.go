package main

import (
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"example.com/momentarm/phase/live"
	"example.com/momentarm/validation/synth"
)

// What the program prints, in words exactly and in numbers to one of the last
// digit, so that machines which round otherwise agree.
const want = `
 6.200 s  lead  55 %  frontal torque  -48 N·m  arm  -6.5 cm
 6.400 s  lead  39 %  frontal torque  -25 N·m  arm  -3.2 cm
 6.600 s  lead  15 %  frontal torque  -11 N·m  arm  -1.3 cm
 6.800 s  lead  18 %  frontal torque   21 N·m  arm   2.7 cm
 7.000 s  lead  49 %  frontal torque  148 N·m  arm  21.1 cm
 7.200 s  lead  86 %  frontal torque   30 N·m  arm   3.4 cm
 7.400 s  lead  87 %  frontal torque  -36 N·m  arm  -5.5 cm
 6.069 s  address, detected
 6.087 s  onset, detected
 6.645 s  trail_load_peak, detected
 6.404 s  lateral_turn, detected
 6.944 s  lowest_vertical, detected
 6.986 s  lateral_peak, detected
 6.997 s  even_load, detected
 7.039 s  frontal_torque_peak, detected
 7.056 s  vertical_torque_peak, detected
 7.128 s  lead_vertical_peak, detected
 7.183 s  impact, estimated
 7.600 s  lead  84 %  frontal torque  -45 N·m  arm  -6.2 cm
 7.800 s  lead  84 %  frontal torque  -34 N·m  arm  -4.3 cm
 8.000 s  lead  83 %  frontal torque  -17 N·m  arm  -2.2 cm
 8.200 s  lead  83 %  frontal torque    0 N·m  arm   0.0 cm
 8.400 s  lead  84 %  frontal torque   -7 N·m  arm  -0.9 cm
 8.600 s  lead  85 %  frontal torque   -5 N·m  arm  -0.6 cm
 8.800 s  lead  85 %  frontal torque   -5 N·m  arm  -0.7 cm
 9.000 s  lead  85 %  frontal torque   -6 N·m  arm  -0.8 cm
 9.200 s  lead  85 %  frontal torque   -6 N·m  arm  -0.8 cm
 9.400 s  lead  85 %  frontal torque   -7 N·m  arm  -0.9 cm
 7.654 s  finish, detected
`

var numbers = regexp.MustCompile(`-?\d+(\.\d+)?`)

func TestOutput(t *testing.T) {
	var out strings.Builder
	if err := run(&out, newGolfer); err != nil {
		t.Fatal(err)
	}
	got, want := strings.Split(strings.TrimSpace(out.String()), "\n"), strings.Split(strings.TrimSpace(want), "\n")
	if len(got) != len(want) {
		t.Fatalf("%d lines, want %d:\n%s", len(got), len(want), out.String())
	}
	words := func(s string) string { return strings.Join(strings.Fields(numbers.ReplaceAllString(s, "#")), " ") }
	for i := range got {
		g, w := numbers.FindAllString(got[i], -1), numbers.FindAllString(want[i], -1)
		if words(got[i]) != words(want[i]) || len(g) != len(w) {
			t.Errorf("line %d is\n%s, want\n%s", i+1, got[i], want[i])
			continue
		}
		for k := range g {
			a, _ := strconv.ParseFloat(g[k], 64)
			b, _ := strconv.ParseFloat(w[k], 64)
			last := math.Pow10(-max(0, len(w[k])-1-strings.Index(w[k]+".", ".")))
			if math.Abs(a-b) > 1.001*last {
				t.Errorf("line %d: %s, want %s", i+1, g[k], w[k])
			}
		}
	}
}

// The numbers have to be the golfer's, who is known exactly.
func TestOutputIsTrue(t *testing.T) {
	s, err := synth.New(synth.Config{Unloaded: 2})
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	if err := run(&out, newGolfer); err != nil {
		t.Fatal(err)
	}
	seen := 0
	for _, l := range strings.Split(strings.TrimSpace(out.String()), "\n") {
		f := strings.Fields(strings.ReplaceAll(l, ",", ""))
		at, err := strconv.ParseFloat(f[0], 64)
		if err != nil {
			t.Fatal(err)
		}
		if f[2] == "lead" {
			v, _ := strconv.ParseFloat(f[7], 64)
			truth := s.At(at - 0.0045).Moment.X
			// The height is taken from stature; its 3 cm are some 30 N·m at most.
			if at < s.EventTime("impact") && math.Abs(v-truth) > 12 {
				t.Errorf("frontal torque %g N·m at %g s, true %.1f", v, at, truth)
			}
			seen++
		} else if want := s.EventTime(f[2]); f[2] != "address" && f[2] != "finish" && f[2] != "impact" && math.Abs(at-want) > 0.01 {
			t.Errorf("%s at %g s, true %.3f", f[2], at, want)
		}
	}
	if seen < 10 {
		t.Errorf("%d lines of torque", seen)
	}
}

// What a device maker copies has to build and run in a module of their own.
func TestBuildsElsewhere(t *testing.T) {
	if testing.Short() {
		t.Skip("builds a program")
	}
	dir := t.TempDir()
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	for from, to := range map[string]string{"main.go": "main.go", "golfer.go": "golfer.go", "../../go.sum": "go.sum", "../../go.mod": "go.mod"} {
		b, err := os.ReadFile(from)
		if err != nil {
			t.Fatal(err)
		}
		if to == "go.mod" { // the same requirements, so that nothing has to be looked up
			b = regexp.MustCompile(`(?m)^(module|tool) .*$`).ReplaceAll(b, nil)
			b = fmt.Appendf(nil, "module elsewhere\n%s\nrequire example.com/momentarm v0.0.0\nreplace example.com/momentarm => %s\n", b, root)
		}
		if err := os.WriteFile(filepath.Join(dir, to), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command("go", "run", ".")
	cmd.Dir, cmd.Env = dir, append(os.Environ(), "GOFLAGS=-mod=mod", "GOWORK=off")
	out, err := cmd.CombinedOutput()
	if err != nil || !strings.Contains(string(out), "impact, estimated") {
		t.Errorf("%v\n%s", err, out)
	}
}

// Forty lines are what is promised: blank ones and comments do not count.
func TestIsShort(t *testing.T) {
	b, err := os.ReadFile("main.go")
	if err != nil {
		t.Fatal(err)
	}
	_, body, _ := strings.Cut(string(b), "\nfunc run(")
	lines := 0
	for _, l := range strings.Split(body, "\n") {
		if l = strings.TrimSpace(l); l != "" && !strings.HasPrefix(l, "//") {
			lines++
		}
	}
	if lines > 45 {
		t.Errorf("run has %d lines of code", lines)
	}
}

func TestNoDevice(t *testing.T) {
	none := errors.New("none")
	if err := run(&strings.Builder{}, func(live.Config) (device, error) { return device{}, none }); !errors.Is(err, none) {
		t.Error(err)
	}
}
