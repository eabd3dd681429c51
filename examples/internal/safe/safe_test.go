package safe

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestPlain(t *testing.T) {
	if got := Plain("a\x1b[31mb\nc\u202ed\x00é·−"); got != "a\ufffd[31mb c\ufffdd\ufffdé·−" {
		t.Errorf("%q", got)
	}
}

func TestCell(t *testing.T) {
	for text, want := range map[string]string{
		"":                   "",
		"swing 1.c3d":        "swing 1.c3d",
		"%BW":                "%BW",
		"−3":                 "−3", // a minus sign, which starts no formula
		"a=1":                "a=1",
		"=1+1":               "'=1+1",
		"+1":                 "'+1",
		"-1":                 "'-1",
		"@SUM(A1)":           "'@SUM(A1)",
		"\t=1":               "'\t=1",
		"\r=1":               "'\r=1",
		"\n=1":               "'\n=1",
		"＝1":                 "'＝1",
		"'=1+1":              "''=1+1", // not the same as =1+1
		"a\xffb":             "a\ufffdb",
		"\xff=":              "\ufffd=",
		`x","=cmd|' /C calc`: `x","=cmd|' /C calc`, // the writer of the table quotes it
	} {
		if got := Cell(text); got != want {
			t.Errorf("Cell(%q) = %q, want %q", text, got, want)
		}
	}
}

func TestNumber(t *testing.T) {
	for v, want := range map[float64]string{0.1: "0.1", -3: "-3", math.Copysign(0, -1): "0", math.Inf(1): "", 1e21: "1e+21"} {
		if got := Number(v); got != want {
			t.Errorf("Number(%v) = %q, want %q", v, got, want)
		}
	}
	if got := Number(math.NaN()); got != "" {
		t.Errorf("NaN: %q", got)
	}
}

func TestWriteFile(t *testing.T) {
	dir := t.TempDir()
	name, link := filepath.Join(dir, "file"), filepath.Join(dir, "link")
	read := func(name string) string {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	for _, text := range []string{"first", "", "second"} {
		if err := WriteFile(name, []byte(text)); err != nil || read(name) != text {
			t.Errorf("%q: %v", text, err)
		}
	}
	// The old content is never touched: whoever has it keeps it, also when the new
	// one could not be written to its end.
	if err := os.Link(name, link); err == nil {
		if err := WriteFile(name, []byte("third")); err != nil || read(name) != "third" || read(link) != "second" {
			t.Errorf("%v: the new file holds %q, the old one %q", err, read(name), read(link))
		}
		os.Remove(link)
	}
	if err := os.Symlink("file", link); err == nil {
		if err := WriteFile(link, []byte("through")); err != nil || read(name) != "through" {
			t.Errorf("through a link: %v", err)
		}
		if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
			t.Error("the link was replaced")
		}
		os.Remove(link)
	}
	for name, want := range map[string]string{
		dir:                                 "is a folder",
		filepath.Join(dir, "nowhere", "x"):  "can not be written: no such file",
		filepath.Join(name, "below a file"): "can not be written",
	} {
		err := WriteFile(name, []byte("x"))
		if err == nil || !strings.HasPrefix(err.Error(), name+": "+want) || strings.Count(err.Error(), name) != 1 {
			t.Errorf("%v, want %s", err, want)
		}
	}
	if entries, _ := os.ReadDir(dir); len(entries) != 1 {
		t.Errorf("left behind: %v", entries)
	}
}
