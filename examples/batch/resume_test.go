package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"example.com/momentarm/examples/internal/results"
)

func TestResume(t *testing.T) {
	files := mixed()
	dir, setup := fill(t, files), filepath.Join(t.TempDir(), "lab.json")
	put(t, setup, lab)
	out := filepath.Join(dir, defaultOut)
	var extra []string
	again := func(what string, kept int) {
		t.Helper()
		_, stdout, _ := invoke(t, append(extra, "-setup", setup, "-resume", dir)...)
		if n := strings.Count(stdout, ": not changed, "); n != kept {
			t.Errorf("%s: %d results kept, want %d\n%s", what, n, kept, stdout)
		}
		resumed := outputs(t, out)
		whole(t, out)
		fresh := filepath.Join(t.TempDir(), "fresh")
		invoke(t, append(extra, "-setup", setup, "-out", fresh, dir)...)
		for name, text := range outputs(t, fresh) {
			if resumed[name] != text {
				t.Errorf("%s: %s differs from that of a new run", what, name)
			}
		}
	}
	again("nothing there yet", 0)
	again("nothing changed", 4)
	now := time.Now()
	os.Chtimes(filepath.Join(dir, "swing 2.c3d"), now, now.Add(time.Hour))
	again("another date, the same content", 4)
	put(t, filepath.Join(dir, "swing 2.c3d"), files["swing 1.c3d"])
	os.Chtimes(filepath.Join(dir, "swing 2.c3d"), now, now.Add(-time.Hour))
	again("other content with an older date", 3)
	put(t, filepath.Join(dir, "swing 3.c3d"), files["swing 10.C3D"])
	again("one more", 4)
	put(t, filepath.Join(dir, "swing 9.json"), `{"version": 1, "golfer": {"stature": "1.88 m"}}`)
	again("another setup beside one", 4)
	put(t, setup, strings.Replace(lab, "1.78", "1.79", 1))
	again("another setup for the others", 1)
	put(t, filepath.Join(dir, "swing 3.json"), strings.Replace(lab, "1.78", "1.79", 1))
	again("the same setup by another name", 5)
	if err := os.Remove(filepath.Join(dir, "swing 2.c3d")); err != nil {
		t.Fatal(err)
	}
	again("one is gone", 4)
	put(t, filepath.Join(dir, "cut.c3d"), files["swing 1.c3d"])
	again("one that failed is mended", 4)

	// Bands are part of what a result is made from.
	bands := filepath.Join(t.TempDir(), "bands.json")
	put(t, bands, `{"version": 1, "name": "mine", "bands": [{"measure": "frontal_torque_peak", "unit": "N·m", "max": 100, "step": 10, "source": "mine", "level": "own"}]}`)
	extra = []string{"-bands", bands}
	again("other bands", 0)
	again("the same bands again", 5)
	for _, r := range lines(t, read(t, out, swingsFile)) {
		if len(r.Findings) != 1 || r.Findings[0].Verdict != "outside" || r.Findings[0].Source != "mine" {
			t.Errorf("findings %+v", r.Findings)
		}
	}
	extra = nil
	again("no bands of one's own", 0)

	// Earlier results that this program did not write.
	text := read(t, out, swingsFile)
	put(t, filepath.Join(out, swingsFile), strings.Replace(text, fmt.Sprintf(`"schema":%d`, results.Schema), `"schema":0`, 1))
	again("another schema", 4)
	put(t, filepath.Join(out, swingsFile), strings.Replace(text, `"settings":{"version":"`, `"settings":{"version":"older `, 1))
	again("other algorithms", 4)
	put(t, filepath.Join(out, swingsFile), text[:len(text)/2])
	_, stdout, _ := invoke(t, "-setup", setup, "-resume", dir)
	if !strings.HasPrefix(stdout, "earlier results are not kept: ") || !strings.Contains(stdout, swingsFile) || strings.Contains(stdout, "not changed") {
		t.Errorf("half a file:\n%s", stdout)
	}
	whole(t, out)

	// The list of captures is for people: it may be older than the results when a
	// run was killed.
	put(t, filepath.Join(out, capturesFile), "file,setup\na,b\n")
	again("the list of captures is broken", 5)
	if err := os.Remove(filepath.Join(out, capturesFile)); err != nil {
		t.Fatal(err)
	}
	again("the list of captures is gone", 5)
}

// The centre of mass that a setup names belongs to the content, too.
func TestResumeSeesTheCentreOfMass(t *testing.T) {
	c3ds, _ := madeUp()
	dir := fill(t, map[string]string{
		"b.c3d":    string(c3ds[0]),
		"b.json":   `{"version": 1, "lab": {"target": "-x"}, "com": {"file": "mass.csv", "axes": "swing", "sd": "0.01 m"}}`,
		"mass.csv": "time [s],x [m],y [m],z [m]\n0,0,0,0.9\n1,0,0,0.9\n2,0,0,0.9\n",
	})
	invoke(t, dir)
	if _, stdout, _ := invoke(t, "-resume", dir); !strings.Contains(stdout, "not changed") {
		t.Error(stdout)
	}
	put(t, filepath.Join(dir, "mass.csv"), "time [s],x [m],y [m],z [m]\n0,0,0,0.95\n1,0,0,0.95\n2,0,0,0.95\n")
	if _, stdout, _ := invoke(t, "-resume", dir); strings.Contains(stdout, "not changed") {
		t.Error(stdout)
	}
}

// built is the program, built once for the tests that need a process.
func built(t *testing.T) string {
	t.Helper()
	if testing.Short() {
		t.Skip("builds the program")
	}
	program := filepath.Join(t.TempDir(), "batch.exe")
	if out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return program
}

// An interrupt in the middle leaves whole files with what was done, and a run with
// -resume completes them as if nothing had been.
func TestInterrupt(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a process can not be sent an interrupt here")
	}
	program := built(t)
	c3ds, _ := madeUp()
	files := map[string]string{}
	for i := range 80 {
		files[fmt.Sprintf("swing %d.c3d", i)] = string(c3ds[i%4])
	}
	dir, setup := fill(t, files), filepath.Join(t.TempDir(), "lab.json")
	put(t, setup, lab)
	out := filepath.Join(dir, defaultOut)

	// interrupted starts the program and interrupts it after so many captures.
	interrupted := func(after int, args ...string) (stdout, stderr string) {
		t.Helper()
		cmd := exec.Command(program, append(args, "-setup", setup, dir)...)
		var errors bytes.Buffer
		cmd.Stderr = &errors
		pipe, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		var said strings.Builder
		lines := bufio.NewScanner(pipe)
		for n := 0; lines.Scan(); n++ {
			if n == after {
				if err := cmd.Process.Signal(os.Interrupt); err != nil {
					t.Fatal(err)
				}
			}
			said.WriteString(lines.Text() + "\n")
		}
		cmd.Wait()
		if code := cmd.ProcessState.ExitCode(); code != exitWork {
			t.Errorf("status %d", code)
		}
		return said.String(), errors.String()
	}

	stdout, stderr := interrupted(3, "-workers", "2")
	done := whole(t, out)
	if len(done) < 3 || len(done) >= len(files) {
		t.Fatalf("%d of %d captures analysed: not in the middle", len(done), len(files))
	}
	for i, name := range done {
		// Captures are taken up in order, so what is done is what came first.
		if want := fmt.Sprintf("swing %d.c3d", i); name != want {
			t.Errorf("capture %d is %s", i, name)
		}
	}
	for text, where := range map[string]string{
		fmt.Sprintf("80 captures: %d analysed, %d not reached", len(done), 80-len(done)):         stdout,
		"batch: stopping after the captures in work":                                             stderr,
		fmt.Sprintf("ended before %d captures had a turn: run again with -resume", 80-len(done)): stderr,
	} {
		if !strings.Contains(where, text) {
			t.Errorf("%q is not in\n%s", text, where)
		}
	}
	missing := 0
	for _, row := range rows(t, read(t, out, capturesFile))[1:] {
		if row[2] == string(notReached) {
			missing++
		}
	}
	if missing != 80-len(done) {
		t.Errorf("%d captures not reached, want %d", missing, 80-len(done))
	}

	// Interrupted once more, at its beginning: what was done before is still there.
	_, _ = interrupted(0, "-workers", "2", "-resume")
	if got := whole(t, out); len(got) < len(done) {
		t.Errorf("%d results after an interrupted resumption, %d before", len(got), len(done))
	}

	done = whole(t, out)
	status, stdout, stderr := invoke(t, "-setup", setup, "-resume", dir)
	if status != exitOK {
		t.Fatal(stderr)
	}
	if n := strings.Count(stdout, ": not changed, "); n != len(done) {
		t.Errorf("%d results kept, want %d", n, len(done))
	}
	resumed := outputs(t, out)
	fresh := filepath.Join(t.TempDir(), "fresh")
	invoke(t, "-setup", setup, "-out", fresh, dir)
	for name, text := range outputs(t, fresh) {
		if resumed[name] != text {
			t.Errorf("%s differs from that of a run without interruption", name)
		}
	}
}

// A run that is over before it begins writes whole, empty files.
func TestInterruptedAtOnce(t *testing.T) {
	dir := fill(t, good())
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var out, errors bytes.Buffer
	if status := run(ctx, []string{dir}, &out, &errors); status != exitWork {
		t.Errorf("status %d", status)
	}
	if got := whole(t, filepath.Join(dir, defaultOut)); len(got) != 0 {
		t.Errorf("analysed %v", got)
	}
	var s summary
	if err := json.Unmarshal([]byte(read(t, dir, defaultOut, sessionJSON)), &s); err != nil || s.Captures == nil || s.Note == "" {
		t.Errorf("%v, %+v", err, s)
	}
}

// What can not be written ends the work.
func TestCannotWrite(t *testing.T) {
	dir := fill(t, good())
	taken := filepath.Join(t.TempDir(), "taken")
	put(t, taken, "a file")
	status, stdout, stderr := invoke(t, "-out", taken, dir)
	if status != exitWork || stdout != "" || !strings.HasPrefix(stderr, "batch: "+taken+": ") || !strings.Contains(stderr, "-out") {
		t.Errorf("status %d, stdout %q, stderr %q", status, stdout, stderr)
	}
	out := t.TempDir()
	if err := os.Mkdir(filepath.Join(out, sessionText), 0o755); err != nil {
		t.Fatal(err)
	}
	var said, errors strings.Builder
	complete, err := work(context.Background(), request{folder: dir, out: out, workers: 1, pause: 1}, &said, &errors)
	if complete || err == nil || !strings.Contains(err.Error(), sessionText) || strings.Contains(said.String(), "captures: ") || errors.Len() > 0 {
		t.Errorf("%v; %v\n%s\n%s", complete, err, &said, &errors)
	}
	if n := strings.Count(said.String(), "\n"); n == 0 || n >= 4 {
		t.Errorf("%d captures worked on although nothing can be written", n)
	}
	if left, _ := filepath.Glob(filepath.Join(out, ".*")); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

func TestNatural(t *testing.T) {
	want := []string{"", "1", "2", "9", "09a", "10", "10a", "a", "a 01", "a 1", "a 01b", "a 1b", "a 2", "a 10", "a 10.1", "a 10.1.2", "a b", "b007", "b7", "b8", "é", "日本"}
	for i, a := range want {
		for j, b := range want {
			if got := natural(a, b); got != compare(i, j) {
				t.Errorf("natural(%q, %q) = %d", a, b, got)
			}
		}
	}
	list := slices.Clone(want)
	slices.Reverse(list)
	slices.SortFunc(list, natural)
	if !slices.Equal(list, want) {
		t.Errorf("%q", list)
	}
}

func compare(i, j int) int {
	switch {
	case i < j:
		return -1
	case i > j:
		return 1
	}
	return 0
}
