package main

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/momentarm/examples/internal/demo"
	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/examples/internal/page"
	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/grf/table"
	"example.com/momentarm/validation/synth"
)

func TestWithoutArguments(t *testing.T) {
	t.Chdir(t.TempDir())
	status, stdout, stderr := invoke(t)
	if status != exitOK || stderr != "" {
		t.Fatalf("status %d, stderr %q", status, stderr)
	}
	for _, want := range []string{demo.Player, "made up", "frontal torque", "before impact", "wrote report.html"} {
		if !strings.Contains(stdout, want) {
			t.Errorf("the summary does not say %q:\n%s", want, stdout)
		}
	}
	lines := strings.Split(strings.TrimSuffix(stdout, "\n"), "\n")
	if len(lines) > 24 {
		t.Errorf("the summary has %d lines; a screen has 24", len(lines))
	}
	for _, l := range lines {
		if n := len([]rune(l)); n > 80 {
			t.Errorf("%d columns: %s", n, l)
		}
	}
	if page := read(t, "report.html"); !strings.HasPrefix(page, "<!DOCTYPE html>") || !strings.HasSuffix(page, "</html>\n") {
		t.Error("report.html is not a whole page")
	}
	if entries, _ := os.ReadDir("."); len(entries) != 1 {
		t.Errorf("left behind: %v", entries)
	}
}

func TestStandardOutputIsPure(t *testing.T) {
	t.Chdir(t.TempDir())
	status, stdout, stderr := invoke(t, "-json", "-", "-html", "page.html", "-series", "s.csv")
	if status != exitOK || stderr != "" || !json.Valid([]byte(stdout)) {
		t.Errorf("-json -: status %d, stderr %q, valid JSON %v", status, stderr, json.Valid([]byte(stdout)))
	}
	status, stdout, stderr = invoke(t, "-series", "-", "-json", "r.json")
	if status != exitOK || stderr != "" || stdout != read(t, "s.csv") {
		t.Errorf("-series -: status %d, stderr %q, or not what the file has", status, stderr)
	}
	status, stdout, stderr = invoke(t, "-html", "-")
	if status != exitOK || stderr != "" || stdout != read(t, "page.html") {
		t.Errorf("-html -: status %d, stderr %q, or not what the file has", status, stderr)
	}
	if _, err := os.Stat("report.html"); !errors.Is(err, os.ErrNotExist) {
		t.Error("report.html was written although other outputs were asked for")
	}
}

func TestBadArguments(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, c := range []struct {
		args string
		want string
	}{
		{"-nonsense", "-nonsense"},
		{"swing.c3d", "-capture swing.c3d"},
		{"-setup lab.json", "-capture"},
		{"-json - -series -", "-json and -series"},
		{"-html a -json ./a", "-html and -json"},
		{"-capture a -html a", "-capture and -html"},
		{"-capture -", "standard input"},
		{"-capture a -setup -", "standard input"},
		{"-json=", "-json needs a file name"},
	} {
		status, stdout, stderr := invoke(t, strings.Fields(c.args)...)
		if status != exitUsage || stdout != "" || !strings.Contains(stderr, c.want) {
			t.Errorf("%s: status %d, stdout %q, stderr %q; want 2 and %q", c.args, status, stdout, stderr, c.want)
		}
	}
	if entries, _ := os.ReadDir("."); len(entries) != 0 {
		t.Errorf("written in spite of that: %v", entries)
	}
	status, stdout, stderr := invoke(t, "-help")
	if status != exitOK || stdout != "" || !strings.Contains(stderr, "-series FILE") {
		t.Errorf("-help: status %d, stdout %q, stderr %q", status, stdout, stderr)
	}
}

// Every failure names the file, the place in it and what to do.
func TestFailures(t *testing.T) {
	dir := t.TempDir()
	t.Chdir(dir)
	put := func(name, text string) {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	put("demo.c3d", string(demo.Capture))
	put("cut.c3d", string(demo.Capture[:300]))
	put("empty.c3d", "")
	put("picture.bin", "\xff\xd8\xff\xe0\x00\x10JFIF\x00")
	put("table.csv", "time [s],lead_fx\n0,1\n")
	put("lab.json", string(demo.Setup))
	put("broken.json", "{\n  \"version\": 1,\n  oops\n}")
	put("typo.json", strings.Replace(string(demo.Setup), `"golfer"`, `"glofer"`, 1))
	put("unit.json", strings.Replace(string(demo.Setup), `"75 kg"`, `"75"`, 1))
	put("swapped.json", strings.Replace(string(demo.Setup), `"trail": [1], "lead": [2]`, `"trail": [2], "lead": [7]`, 1))
	put("other.json", strings.Replace(string(demo.Setup), `"marks"`, `"com": {"file": "nowhere.csv", "axes": "lab"}, "marks"`, 1))
	put("old.html", "old")
	os.Mkdir("folder", 0o755)

	for _, c := range []struct {
		args   string
		file   string
		place  string // or what is wrong
		remedy string
	}{
		{"-capture nowhere.c3d", "nowhere.c3d", "can not be opened", "check the name"},
		{"-capture folder", "folder", "is a folder", "name a file"},
		{"-capture empty.c3d", "empty.c3d", "empty", ""},
		{"-capture cut.c3d", "cut.c3d", "byte", ""},
		{"-capture picture.bin", "picture.bin", "neither the mark of a C3D file nor text", ""},
		{"-capture table.csv", "table.csv", "lead_fx", ""},
		{"-capture demo.c3d", "demo.c3d", "lab.target", "-setup"},
		{"-capture demo.c3d -setup nowhere.json", "nowhere.json", "can not be opened", "check the name"},
		{"-capture demo.c3d -setup broken.json", "broken.json", "line 3", ""},
		{"-capture demo.c3d -setup typo.json", "typo.json", "glofer", `did you mean "golfer"`},
		{"-capture demo.c3d -setup unit.json", "unit.json", "golfer.mass", "kg"},
		{"-capture demo.c3d -setup swapped.json", "swapped.json", "plates.lead[0]", "the capture has 2"},
		{"-capture demo.c3d -setup other.json", "other.json", "com.file", ""},
		{"-html nowhere/x.html", "nowhere/x.html", "can not be written", "check that the folder exists"},
		{"-json folder", "folder", "is a folder", "name a file"},
	} {
		status, stdout, stderr := invoke(t, append(strings.Fields(c.args), "-series", "s.csv")...)
		if status != exitWork || stdout != "" {
			t.Errorf("%s: status %d, stdout %q", c.args, status, stdout)
		}
		if !strings.HasPrefix(stderr, "report: "+c.file+": ") || strings.Count(stderr, "\n") != 1 ||
			!strings.Contains(stderr, c.place) || !strings.Contains(stderr, c.remedy) {
			t.Errorf("%s: %q; want one line with %q, %q and %q", c.args, stderr, c.file, c.place, c.remedy)
		}
		if strings.Count(stderr, c.file) > 2 {
			t.Errorf("%s: names the file again and again: %q", c.args, stderr)
		}
	}
	// Nothing half is left, and an old file survives a failure.
	if status, _, _ := invoke(t, "-capture", "cut.c3d", "-html", "old.html"); status != exitWork || read(t, "old.html") != "old" {
		t.Error("a failure changed the old page")
	}
	if left, _ := filepath.Glob(".*.tmp"); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

// A link stays a link, and what it points to is replaced as a whole.
func TestWriteThroughLink(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.WriteFile("real.html", []byte("old"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink("real.html", "link.html"); err != nil {
		t.Skip("no links here:", err)
	}
	if status, _, stderr := invoke(t, "-html", "link.html"); status != exitOK {
		t.Fatal(stderr)
	}
	if info, err := os.Lstat("link.html"); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Error("the link was replaced")
	}
	if !strings.Contains(read(t, "real.html"), demo.Player) {
		t.Error("the file behind the link was not written")
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestStandardOutputFails(t *testing.T) {
	t.Chdir(t.TempDir())
	var stderr strings.Builder
	if status := run([]string{"-json", "-"}, fullDisk{}, &stderr); status != exitWork || !strings.Contains(stderr.String(), "standard output: ") {
		t.Errorf("status %d, stderr %q", status, stderr.String())
	}
}

// A capture need not be a C3D file, and needs no setup when its header says all.
func TestTables(t *testing.T) {
	sw, err := synth.New(synth.Config{})
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	if err := synth.WriteTable(&b, sw.Recording()); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"swing.csv": b.String(), "swing.tsv": strings.ReplaceAll(b.String(), ",", "\t")} {
		file := write(t, name, []byte(text))
		setup := write(t, "lab.json", []byte(`{"version": 1, "golfer": {"stature": "1.78 m"}}`))
		status, stdout, stderr := invoke(t, "-capture", file, "-setup", setup, "-json", "-")
		if status != exitOK {
			t.Errorf("%s: %s", name, stderr)
			continue
		}
		var r results.Results
		if err := json.Unmarshal([]byte(stdout), &r); err != nil {
			t.Fatal(err)
		}
		if d := float64(r.BodyWeight) - sw.Config().Mass*synth.Gravity; d > 0.01 || d < -0.01 {
			t.Errorf("%s: body weight is %g N off", name, d)
		}
	}
	var where *table.Error
	if _, err := page.New(input.Source{Name: "x.csv", Data: []byte("a,b\n1,2\n")}); !errors.As(err, &where) {
		t.Errorf("the cause of %v got lost", err)
	}
}
