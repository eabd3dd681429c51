package main

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"example.com/momentarm/examples/internal/results"
)

func TestBadArguments(t *testing.T) {
	dir := fill(t, good())
	for _, c := range []struct {
		args []string
		want string
	}{
		{nil, "name the folder"},
		{[]string{""}, "name the folder"},
		{[]string{dir, "other"}, "one folder"},
		{[]string{"-nonsense", dir}, "-nonsense"},
		{[]string{dir, "-nonsense"}, "-nonsense"},
		{[]string{"-workers", "0", dir}, "at least one"},
		{[]string{"-workers", "many", dir}, "many"},
		{[]string{"-setup=", dir}, "-setup needs"},
		{[]string{"-out", "", dir}, "-out needs"},
		{[]string{"-out", dir + "/.", dir}, "name another"},
	} {
		status, stdout, stderr := invoke(t, c.args...)
		if status != exitUsage || stdout != "" || !strings.Contains(stderr, c.want) {
			t.Errorf("%q: status %d, stdout %q, stderr %q; want 2 and %q", c.args, status, stdout, stderr, c.want)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, defaultOut)); !errors.Is(err, os.ErrNotExist) {
		t.Error("something was written in spite of that")
	}
	if status, stdout, stderr := invoke(t, "-help"); status != exitOK || stdout != "" || !strings.Contains(stderr, "-resume") {
		t.Errorf("-help: status %d, stdout %q, stderr %q", status, stdout, stderr)
	}
}

func TestNothingToWorkOn(t *testing.T) {
	dir := fill(t, map[string]string{"notes.txt": "", ".hidden.c3d": "", "file": "", "broken.json": `{"version": 2}`, "c/a.csv": ""})
	for _, c := range []struct {
		args []string
		want []string
	}{
		{[]string{dir}, []string{"no captures", ".c3d, .csv or .tsv"}},
		{[]string{filepath.Join(dir, "nowhere")}, []string{"nowhere: can not be read", "name a folder"}},
		{[]string{filepath.Join(dir, "file")}, []string{"file: can not be read"}},
		{[]string{"-setup", filepath.Join(dir, "none.json"), dir}, []string{"none.json: can not be opened"}},
		{[]string{"-bands", filepath.Join(dir, "none.json"), filepath.Join(dir, "c")}, []string{"none.json: can not be opened"}},
		{[]string{"-bands", filepath.Join(dir, "broken.json"), filepath.Join(dir, "c")}, []string{"broken.json: bands: version"}},
		{[]string{"-setup", filepath.Join(dir, "broken.json"), dir}, []string{"broken.json: version: version 2 is not known"}},
	} {
		status, stdout, stderr := invoke(t, c.args...)
		if status != exitWork || stdout != "" || strings.Count(stderr, "\n") != 1 {
			t.Errorf("%q: status %d, stdout %q, stderr %q", c.args, status, stdout, stderr)
		}
		for _, w := range c.want {
			if !strings.Contains(stderr, w) {
				t.Errorf("%q: %q is not in %q", c.args, w, stderr)
			}
		}
	}
}

// Names that mean something to a table, a spreadsheet, a terminal.
func TestNames(t *testing.T) {
	c3ds, _ := madeUp()
	names := map[string]string{ // in the folder → in the tables
		`a,b;"c".c3d`:                 `a,b;"c".c3d`,
		"=HYPERLINK(\"x\",\"y\").c3d": "'=HYPERLINK(\"x\",\"y\").c3d",
		"-1+1.c3d":                    "'-1+1.c3d",
		"@cmd.c3d":                    "'@cmd.c3d",
		"'quoted'.c3d":                "''quoted'.c3d",
		"\tindented.c3d":              "'\tindented.c3d",
		"two\nlines.c3d":              "two\nlines.c3d",
		"\x1b[31mred.c3d":             "\x1b[31mred.c3d",
		"日本 − ü.c3d":                  "日本 − ü.c3d",
	}
	files := map[string]string{}
	for name := range names {
		files[name] = string(c3ds[0])
	}
	files["+broken.csv"] = ""
	dir := t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Skip("this file system does not take such names:", err)
		}
	}
	setup := filepath.Join(t.TempDir(), "=lab.json")
	put(t, setup, lab)
	t.Chdir(filepath.Dir(setup))
	status, stdout, stderr := invoke(t, "-setup", "=lab.json", dir)
	if status != exitWork || !strings.Contains(stderr, "1 capture can not be worked on") {
		t.Fatalf("status %d, %s", status, stderr)
	}
	for _, text := range []string{stdout, stderr, read(t, dir, defaultOut, sessionText)} {
		if strings.ContainsAny(text, "\x1b\t") {
			t.Errorf("controls in %q", text)
		}
	}
	want := map[string]bool{"'+broken.csv": true}
	for _, cell := range names {
		want[cell] = true
	}
	for _, row := range rows(t, read(t, dir, defaultOut, capturesFile))[1:] {
		if !want[row[0]] {
			t.Errorf("file %q", row[0])
		}
		delete(want, row[0])
		for _, cell := range row {
			if cell != "" && strings.ContainsRune("=+-@\t", rune(cell[0])) {
				t.Errorf("%q could be a formula", cell)
			}
		}
	}
	if len(want) > 0 {
		t.Errorf("not listed: %v", want)
	}
	for _, row := range rows(t, read(t, dir, defaultOut, measuresFile))[1:] {
		if strings.ContainsRune("=+-@\t", rune(row[0][0])) {
			t.Errorf("%q could be a formula", row[0])
		}
	}
	seen := map[string]bool{}
	for _, r := range lines(t, read(t, dir, defaultOut, swingsFile)) {
		seen[r.Capture] = true
	}
	for name := range names {
		if !seen[name] {
			t.Errorf("%q is not among the lines", name)
		}
	}
	if _, stdout, _ := invoke(t, "-setup", "=lab.json", "-resume", dir); strings.Count(stdout, ": not changed, ") != len(names) {
		t.Errorf("not all are known again:\n%s", stdout)
	}
}

func TestBar(t *testing.T) {
	var b bytes.Buffer
	clock := time.Unix(0, 0)
	p := newProgress(&b, make([]file, 4))
	if p.terminal {
		t.Fatal("a buffer is no terminal")
	}
	p.terminal, p.start, p.now = true, clock, func() time.Time { return clock }
	analysedOne := outcome{state: analysed, results: &results.Results{}}
	want := []struct {
		o    outcome
		text string
	}{
		{outcome{state: analysed, earlier: true, results: &results.Results{}}, "\r[#######-----------------------] 1 of 4"},
		{analysedOne, "\r[###############---------------] 2 of 4"},
		{outcome{state: failed}, "\r[######################--------] 3 of 4, 1 failed, 15s left"}, // two worked on in 30 s
		{analysedOne, "\r[##############################] 4 of 4, 1 failed          "},            // over the longer one
	}
	for i, w := range want {
		clock = clock.Add(10 * time.Second)
		p.done(i, w.o)
		if got := b.String(); got != w.text {
			t.Errorf("%d: %q, want %q", i, got, w.text)
		}
		b.Reset()
	}
	p.end()
	if got, width := b.String(), len("[##############################] 4 of 4, 1 failed"); got != "\r"+strings.Repeat(" ", width)+"\r" {
		t.Errorf("cleared by %q", got)
	}
	b.Reset()
	p.end()
	if b.Len() > 0 {
		t.Errorf("cleared twice: %q", b.String())
	}
}

func TestLinesKeepTheirOrder(t *testing.T) {
	var b bytes.Buffer
	p := newProgress(&b, []file{{name: "a"}, {name: "b"}, {name: "c"}, {name: "d"}})
	o := outcome{state: analysed, results: &results.Results{}}
	p.done(1, o)
	if b.Len() > 0 {
		t.Errorf("b before a: %q", b.String())
	}
	p.done(0, o)
	p.done(3, outcome{state: failed, reason: "d: broken"})
	if got := b.String(); got != "a: analysed, 0 findings, 0 warnings\nb: analysed, 0 findings, 0 warnings\n" {
		t.Errorf("%q", got)
	}
	b.Reset()
	p.end() // c was not reached
	if got := b.String(); got != "failed: d: broken\n" {
		t.Errorf("%q", got)
	}
}

func TestTerminal(t *testing.T) {
	f, err := os.Create(filepath.Join(t.TempDir(), "log"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if isTerminal(f) || isTerminal(&bytes.Buffer{}) {
		t.Error("a file or a buffer is taken for a terminal")
	}
	// The null device is a character device, as a terminal is.
	null, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	if err != nil {
		t.Skip(err)
	}
	defer null.Close()
	if info, err := null.Stat(); err != nil || info.Mode()&os.ModeCharDevice == 0 {
		t.Skipf("%s is no character device here", os.DevNull)
	}
	t.Setenv("TERM", "xterm")
	if !isTerminal(null) {
		t.Error("a character device is not taken for a terminal")
	}
	t.Setenv("TERM", "dumb")
	if isTerminal(null) {
		t.Error("a dumb terminal can not draw over a line")
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestStandardOutputFails(t *testing.T) {
	dir := fill(t, good())
	var stderr strings.Builder
	if status := run(t.Context(), []string{dir}, fullDisk{}, &stderr); status != exitWork || !strings.Contains(stderr.String(), "standard output: ") {
		t.Errorf("status %d, stderr %q", status, stderr.String())
	}
	whole(t, filepath.Join(dir, defaultOut))
}

// A fault in the program, too, is one capture's alone.
func TestPanicIsContained(t *testing.T) {
	c3ds, _ := madeUp()
	dir := fill(t, map[string]string{"a.c3d": string(c3ds[0]), "a.json": lab})
	// An earlier outcome without results can only come from a fault.
	f := file{name: "a.c3d", setup: filepath.Join(dir, "a.json"), own: true}
	in := folder{path: dir}
	o := analyseOne(in, f, outcome{})
	o = analyseOne(in, f, outcome{state: analysed, digest: o.digest})
	if o.state != failed || !strings.HasPrefix(o.reason, "a.c3d: a fault in the program: ") {
		t.Errorf("%+v", o)
	}
}
