// Package examples holds programs that use the library. This file keeps the
// README in step with them.
package examples

import (
	"bufio"
	"fmt"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

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
	capture, _ := madeCapture(t, synth.Config{})
	write("swing.c3d", capture)
	run := func(args ...string) string {
		cmd := exec.Command("go", args...)
		cmd.Dir = dir
		cmd.Env = append(os.Environ(), "GOWORK=off")
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("go %v: %v\n%s", args, err, out)
		}
		return string(out)
	}
	run("mod", "init", "mine")
	run("mod", "edit", "-require=example.com/momentarm@v0.0.0", "-replace=example.com/momentarm="+root)
	run("mod", "tidy")
	out := run("run", ".")
	for _, want := range []string{"impact", "frontal_torque_peak", "lowest_vertical_bw"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is missing in\n%s", want, out)
		}
	}
	if strings.Contains(out, "NaN") {
		t.Errorf("a newcomer reads NaN in\n%s", out)
	}
}

// madeCapture is a swing as a C3D file, with the target along −x, and its impact.
func madeCapture(t *testing.T, cfg synth.Config) (data []byte, impact float64) {
	t.Helper()
	s, err := synth.New(cfg)
	if err != nil {
		t.Fatal(err)
	}
	f, err := s.C3D(synth.CaptureOptions{Disturbance: synth.Disturbance{Seed: 1, ForceNoise: 1.5, MomentNoise: 0.3}})
	if err != nil {
		t.Fatal(err)
	}
	data, err = c3d.Append(nil, f)
	if err != nil {
		t.Fatal(err)
	}
	return data, s.EventTime("impact")
}

// commands returns every line of the README's blocks without a language: those are
// commands.
func commands(t *testing.T) []string {
	t.Helper()
	var lines []string
	inside, language := false, ""
	for line := range strings.Lines(readme(t)) {
		line = strings.TrimRight(line, "\n")
		switch after, fence := strings.CutPrefix(line, "```"); {
		case fence:
			inside, language = !inside, after
		case inside && language == "" && !strings.HasPrefix(line, " "): // else a drawing
			lines = append(lines, line)
		}
	}
	return lines
}

// Every command of the README does what it is there for, in a folder with the files
// that it names. Programs are built once and called with the arguments that follow
// "go run".
func TestReadmeCommands(t *testing.T) {
	if testing.Short() {
		t.Skip("builds programs")
	}
	root, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	dir, bin := t.TempDir(), t.TempDir()
	stage(t, dir)
	// What must be in the output, or which files must be there afterwards.
	want := map[string]struct {
		says  string
		files []string
	}{
		"go run ./examples/report": {"frontal torque", []string{"report.html"}},
		"go run ./examples/report -capture swing.c3d -setup setup.json -html":    {"frontal torque", []string{"swing.html", "swing.json", "swing.csv"}},
		"go run ./examples/report -capture now.c3d -setup setup.json -against":   {"before.c3d", []string{"report.html"}},
		"go run ./examples/batch -setup setup.json -resume captures/":            {"2 captures: 2 analysed", nil},
		"go run ./examples/batch -setup setup.json -against captures/results":    {"held against captures/results, 2 swings", []string{"april/results/changes.txt"}},
		"go run ./examples/whatif -capture swing.c3d -setup setup.json -lateral": {"lateral", nil},
		"go run ./examples/inspect swing.c3d":                                    {"plate 2", nil},
		"go run ./examples/embed":                                                {"impact", nil},
		"go run ./examples/validate":                                             {" 0 missed", nil},
		"go run ./examples/study -n 20":                                          {"impact", nil},
	}
	tried := map[string]bool{}
	for _, line := range commands(t) {
		args := words(line)
		switch {
		case line == "go test ./...": // this is it
		case strings.HasPrefix(line, "go mod "): // TestReadmeProgram
		case line == "go run ./examples/live":
			live(t, built(t, root, bin, args[2]))
		case strings.HasPrefix(line, "go run ./examples/browser "): // needs the source around it
			page := filepath.Join(dir, args[len(args)-1])
			cmd := exec.Command(built(t, root, bin, args[2]), "-out", page)
			cmd.Dir = root
			out, err := cmd.CombinedOutput()
			if info, e := os.Stat(page); err != nil || e != nil || info.Size() < 1e6 {
				t.Errorf("%s: %v, %v\n%s", line, err, e, out)
			}
		case strings.HasPrefix(line, "go run ./examples/"):
			var key string
			for k := range want {
				if strings.HasPrefix(line, k) && len(k) > len(key) {
					key = k
				}
			}
			if key == "" {
				t.Errorf("no test for %q", line)
				continue
			}
			tried[key] = true
			cmd := exec.Command(built(t, root, bin, args[2]), args[3:]...)
			cmd.Dir = dir
			out, err := cmd.CombinedOutput()
			if err != nil || !strings.Contains(string(out), want[key].says) {
				t.Errorf("%s: %v, want %q in\n%s", line, err, want[key].says, out)
			}
			for _, name := range want[key].files {
				if info, err := os.Stat(filepath.Join(dir, name)); err != nil || info.Size() == 0 {
					t.Errorf("%s: %v", line, err)
				}
				os.RemoveAll(filepath.Join(dir, name)) // for the next command
			}
		default:
			t.Errorf("no test for %q", line)
		}
	}
	if len(tried) != len(want) {
		t.Errorf("%d of %d kinds of commands are in the README", len(tried), len(want))
	}
}

// words splits a command as a shell does, with double quotes.
func words(line string) []string {
	var out []string
	for _, m := range regexp.MustCompile(`"([^"]*)"|\S+`).FindAllStringSubmatch(line, -1) {
		if m[1] != "" {
			out = append(out, m[1])
		} else {
			out = append(out, m[0])
		}
	}
	return out
}

// built builds a program of this project and returns its file.
func built(t *testing.T, root, bin, path string) string {
	t.Helper()
	file := filepath.Join(bin, filepath.Base(path)+".exe")
	if _, err := os.Stat(file); err == nil {
		return file
	}
	cmd := exec.Command("go", "build", "-o", file, path)
	cmd.Dir = root
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%s: %v\n%s", path, err, out)
	}
	return file
}

// stage writes the files that the README's commands name: captures of a made-up
// swing, and the README's own setup with the impact of that swing.
func stage(t *testing.T, dir string) {
	t.Helper()
	write := func(name string, data []byte) {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, folder := range []string{"captures", "april"} {
		if err := os.Mkdir(filepath.Join(dir, folder), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	var impact float64
	for name, cfg := range map[string]synth.Config{
		"swing.c3d": {Unloaded: 1}, "now.c3d": {Unloaded: 1, Individual: 3}, "before.c3d": {Unloaded: 1, Individual: 4},
		"captures/1.c3d": {Unloaded: 1, Individual: 5}, "captures/2.c3d": {Unloaded: 1, Individual: 6},
		"april/1.c3d": {Unloaded: 1, Individual: 7}, "april/2.c3d": {Unloaded: 1, Individual: 8},
	} {
		var data []byte
		data, impact = madeCapture(t, cfg)
		write(name, data)
	}
	setup := block(t, readme(t), "json", 0)
	write("setup.json", regexp.MustCompile(`"impact": "[^"]*"`).ReplaceAll([]byte(setup), fmt.Appendf(nil, `"impact": "%.3f s"`, impact)))
	bands, err := os.ReadFile("../phase/screen/starter.json")
	if err != nil {
		t.Fatal(err)
	}
	write("bands.json", bands)
}

// live starts the program on a free port, asks for its page and ends it.
func live(t *testing.T, program string) {
	cmd := exec.Command(program, "-listen", "127.0.0.1:0")
	out, err := cmd.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd.Stdout = cmd.Stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	defer cmd.Wait()
	defer cmd.Process.Kill()
	timer := time.AfterFunc(30*time.Second, func() { cmd.Process.Kill() })
	defer timer.Stop()
	address := regexp.MustCompile(`http://[0-9.:]+/?`)
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if url := address.FindString(lines.Text()); url != "" {
			r, err := http.Get(url)
			if err != nil {
				t.Error(err)
				return
			}
			r.Body.Close()
			if r.StatusCode != http.StatusOK {
				t.Errorf("the live page: %s", r.Status)
			}
			return
		}
	}
	t.Error("the live program names no page")
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

// Commands in running text work as well.
func TestReadmeCommandsInText(t *testing.T) {
	if testing.Short() {
		t.Skip("runs programs")
	}
	root, err := filepath.Abs("..")
	if err != nil {
		t.Fatal(err)
	}
	elsewhere := t.TempDir()
	for name, text := range map[string]string{
		"go.mod":  "module demo\n\ngo 1.24\n",
		"main.go": "package main\n\nimport _ \"example.com/momentarm/units\"\n\nfunc main() {}\n",
	} {
		if err := os.WriteFile(filepath.Join(elsewhere, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	says := map[string]string{
		"go doc ./grf":          "International Society of Biomechanics",
		"go doc ./grf/capture":  "quiet_stance.from",
		"go doc ./phase/screen": "bands",
		"go list -m all":        "gonum.org/v1/gonum",
	}
	run := func(dir string, args ...string) string {
		cmd := exec.Command(args[0], args[1:]...)
		cmd.Dir = dir
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Errorf("%v: %v\n%s", args, err, out)
		}
		return string(out)
	}
	for _, m := range regexp.MustCompile("`(go [a-z]+ [^`]+)`").FindAllStringSubmatch(readme(t), -1) {
		command := m[1]
		if strings.HasPrefix(command, "go mod ") {
			continue // TestReadmeProgram
		}
		if strings.HasPrefix(command, "go work") {
			run(elsewhere, strings.Fields(strings.Replace(command, "/path/to/checkout", root, 1))...)
			run(elsewhere, "go", "build", ".")
			continue
		}
		want, ok := says[command]
		if !ok {
			t.Errorf("no test knows what %q has to say", command)
		}
		if out := run(root, strings.Fields(command)...); !strings.Contains(out, want) {
			t.Errorf("%q is not in what %q says:\n%s", want, command, out)
		}
		delete(says, command)
	}
	for command := range says {
		t.Errorf("%q is not in the README", command)
	}
}
