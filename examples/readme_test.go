// Package examples holds programs that use the library. This file keeps the
// README in step with them.
package examples

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/grf/capture"
	"example.com/momentarm/validation/synth"
)

func readme(t *testing.T) string {
	t.Helper()
	b, err := os.ReadFile("../README.md")
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// block returns the n-th fenced block of the given language.
func block(t *testing.T, text, language string, n int) string {
	t.Helper()
	m := regexp.MustCompile("(?s)```"+language+"\n(.*?)```").FindAllStringSubmatch(text, -1)
	if len(m) <= n {
		t.Fatalf("the README has %d %q blocks", len(m), language)
	}
	return m[n][1]
}

// The program of the README must build in a module of its own, run, and find the
// swing.
func TestReadmeProgram(t *testing.T) {
	if testing.Short() {
		t.Skip("builds a program")
	}
	dir := t.TempDir()
	root, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	write := func(name string, data []byte) {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("main.go", []byte(block(t, readme(t), "go", 0)))
	mod, err := os.ReadFile("../go.mod")
	if err != nil {
		t.Fatal(err)
	}
	// The same requirements, so that nothing has to be looked up.
	text := strings.Replace(string(mod), "module example.com/momentarm", "module demo", 1)
	text = regexp.MustCompile(`(?m)^tool .*$`).ReplaceAllString(text, "")
	write("go.mod", []byte(text))
	sum, err := os.ReadFile("../go.sum")
	if err != nil {
		t.Fatal(err)
	}
	write("go.sum", sum)
	write("swing.c3d", demoCapture(t))
	run := func(args ...string) string {
		cmd := exec.Command("go", args...)
		cmd.Dir = dir
		cmd.Env = append(os.Environ(), "GOFLAGS=-mod=mod", "GOWORK=off")
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("go %v: %v\n%s", args, err, out)
		}
		return string(out)
	}
	run("mod", "edit", "-require=example.com/momentarm@v0.0.0", "-replace=example.com/momentarm="+root)
	out := run("run", ".")
	for _, want := range []string{"impact", "frontal_torque_peak", "lowest_vertical_bw"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is missing in\n%s", want, out)
		}
	}
}

// demoCapture is a swing as a C3D file, with the target along −x.
func demoCapture(t *testing.T) []byte {
	t.Helper()
	s, err := synth.New(synth.Config{})
	if err != nil {
		t.Fatal(err)
	}
	f, err := s.C3D(synth.CaptureOptions{})
	if err != nil {
		t.Fatal(err)
	}
	data, err := c3d.Append(nil, f)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// The setup of the README must be one.
func TestReadmeSetup(t *testing.T) {
	if _, err := capture.ReadSetup(strings.NewReader(block(t, readme(t), "json", 0))); err != nil {
		t.Error(err)
	}
}

func TestReadmeIsShort(t *testing.T) {
	if n := strings.Count(readme(t), "\n"); n > 200 {
		t.Errorf("the README has %d lines, 200 are enough", n)
	}
}
