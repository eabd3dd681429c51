package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/validation/synth"
)

// demo writes a small capture and returns its name.
func demo(t *testing.T) string {
	t.Helper()
	s, err := synth.New(synth.Config{Rate: 200})
	if err != nil {
		t.Fatal(err)
	}
	f, err := s.C3D(synth.CaptureOptions{})
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "swing.c3d")
	data, err := c3d.Append(nil, f)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, data, 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

func do(args ...string) (code int, stdout, stderr string) {
	var out, err bytes.Buffer
	code = run(args, &out, &err)
	return code, out.String(), err.String()
}

func TestText(t *testing.T) {
	code, out, stderr := do(demo(t))
	if code != 0 || stderr != "" {
		t.Fatalf("status %d, %s", code, stderr)
	}
	for _, want := range []string{"swing.c3d: C3D", "analog rate Hz     200", "plate 1: type 2, channels [1 2 3 4 5 6]", "under load it reports the action"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is missing in\n%s", want, out)
		}
	}
}

func TestJSONAlone(t *testing.T) {
	code, out, stderr := do("-json", "-", demo(t))
	if code != 0 || stderr != "" {
		t.Fatalf("status %d, %s", code, stderr)
	}
	var s struct {
		Schema int
		Format string
		Plates []struct {
			Type int
			Size []float64 `json:"size_m"`
		}
		Warnings []any
	}
	if err := json.Unmarshal([]byte(out), &s); err != nil {
		t.Fatal(err)
	}
	if s.Schema != schema || s.Format != "C3D" || len(s.Plates) != 2 || s.Plates[0].Type != 2 || s.Warnings == nil {
		t.Errorf("%+v", s)
	}
}

func TestTable(t *testing.T) {
	name := filepath.Join(t.TempDir(), "forces.csv")
	if err := os.WriteFile(name, []byte("time [s],Fz [lbf]\n0,100\n0.001,\n0.002,120\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	code, out, stderr := do(name)
	if code != 0 || !strings.Contains(out, "table") || !strings.Contains(out, "Fz") {
		t.Errorf("status %d, %s\n%s", code, stderr, out)
	}
	// 100 and 120 in the unit of the file: the empty cell between them hides neither.
	if !regexp.MustCompile(`Fz +lbf +100 +120  1 empty\n`).MatchString(out) {
		t.Errorf("least, most and empty cells of Fz:\n%s", out)
	}
	if code, _, stderr := do("-plates", "-", name); code != 1 || !strings.Contains(stderr, "table") {
		t.Errorf("plates of a table: status %d, %s", code, stderr)
	}
}

func TestStatus(t *testing.T) {
	dir := t.TempDir()
	empty := filepath.Join(dir, "empty.c3d")
	text := filepath.Join(dir, "notes.c3d")
	os.WriteFile(empty, nil, 0o644)
	os.WriteFile(text, []byte("this is neither\n"), 0o644)
	for _, c := range []struct {
		args []string
		code int
		say  string
	}{
		{nil, 2, "one capture"},
		{[]string{"a", "b"}, 2, "one capture"},
		{[]string{"-nonsense", empty}, 2, "nonsense"},
		{[]string{"-json", "-", "-plates", "-", empty}, 2, "both"},
		{[]string{"-h"}, 0, "usage"},
		{[]string{filepath.Join(dir, "absent.c3d")}, 1, "absent.c3d"},
		{[]string{empty}, 1, "empty.c3d"},
		{[]string{text}, 1, "notes.c3d: neither"},
		{[]string{"-json", filepath.Join(dir, "no", "such.json"), demo(t)}, 1, "such.json"},
	} {
		code, out, stderr := do(c.args...)
		if code != c.code || !strings.Contains(stderr, c.say) || out != "" {
			t.Errorf("%v: status %d, said %q, wrote %q", c.args, code, stderr, out)
		}
	}
}

// The CSV of every public capture must agree with values that were computed
// independently of this library, from the description of the format: forces to
// 1e-3 N, centre of pressure to 1e-5 m, free moment to 1e-5 N·m.
func TestPlatesAgainstPublicFiles(t *testing.T) {
	root := os.Getenv("GRF_DATASETS")
	if root == "" {
		t.Skip("set GRF_DATASETS to a folder with the public data sets; see validation/doc.go")
	}
	oracles, _ := filepath.Glob(filepath.Join(root, "c3d", "oracle", "*.plates.csv"))
	compared := 0
	for _, oracle := range oracles {
		name := strings.TrimSuffix(filepath.Base(oracle), ".plates.csv")
		file := filepath.Join(root, "c3d", strings.Replace(name, "__", "/", 1))
		t.Run(name, func(t *testing.T) {
			code, out, stderr := do("-plates", "-", file)
			if code != 0 {
				t.Fatal(stderr)
			}
			got := map[string][]string{}
			rows, err := csv.NewReader(strings.NewReader(out)).ReadAll()
			if err != nil {
				t.Fatal(err)
			}
			for _, r := range rows[1:] {
				got[r[0]+" "+r[1]] = r
			}
			compared += compareOracle(t, oracle, metres(name), got)
		})
	}
	if compared < 300 {
		t.Errorf("only %d samples were compared", compared)
	}
}

// metres says which of the public captures count in metres; the others count in
// millimetres.
func metres(name string) float64 {
	if strings.HasPrefix(name, "sample15") || strings.HasPrefix(name, "sample24") {
		return 1
	}
	return 0.001
}

func compareOracle(t *testing.T, oracle string, unit float64, got map[string][]string) (n int) {
	t.Helper()
	f, err := os.Open(oracle)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, c := range rows[0] {
		column[c] = i
	}
	value := func(r []string, c int) float64 {
		v, err := strconv.ParseFloat(r[c], 64)
		if err != nil {
			return math.NaN()
		}
		return v
	}
	for _, want := range rows[1:] {
		if want[column["baseline"]] != "none" {
			continue
		}
		key := want[0] + " " + want[column["analog_sample0"]]
		row, ok := got[key]
		if !ok {
			t.Errorf("plate and sample %s: not written", key)
			continue
		}
		vec := func(r []string, c int) r3.Vec { return r3.Vec{X: value(r, c), Y: value(r, c+1), Z: value(r, c+2)} }
		if d := r3.Norm(r3.Sub(vec(row, 3), vec(want, column["Fx_lab"]))); !(d < 1e-3) {
			t.Errorf("%s: force %.3g N off", key, d)
		}
		wantAt := r3.Scale(unit, vec(want, column["COPx_lab"]))
		gotAt := vec(row, 6)
		wantFree := unit * value(want, column["Tz_plate_axis"])
		if strings.Contains(oracle, "FP1") {
			// This file states (0, 0, 0) where a plate with corner sensors has the
			// distances of its sensors. Put in, they make every moment zero and
			// the centre of pressure the plate's centre: not a measurement, so it
			// is undefined here.
			wantAt, wantFree = r3.Vec{X: math.NaN()}, math.NaN()
		}
		if math.IsNaN(wantAt.X) != math.IsNaN(gotAt.X) {
			t.Errorf("%s: centre of pressure %v, want %v", key, gotAt, wantAt)
		} else if d := r3.Norm(r3.Sub(gotAt, wantAt)); d > 1e-5 {
			t.Errorf("%s: centre of pressure %.3g m off", key, d)
		}
		if d := math.Abs(value(row, 9) - wantFree); d > 1e-5 {
			t.Errorf("%s: free moment %.3g N·m off", key, d)
		}
		n++
	}
	return n
}

// Names that want to move the cursor, begin a line of their own or be a formula do no
// harm.
func TestHostileNames(t *testing.T) {
	data, err := os.ReadFile(demo(t))
	if err != nil {
		t.Fatal(err)
	}
	f, err := c3d.Decode(data, c3d.Options{})
	if err != nil {
		t.Fatal(err)
	}
	f.Points[0].Label = "\x1b[2J\x1b]0;title\x07HEEL"
	f.Channels[0].Label = "Fx1\nplate 9: forged"
	f.Channels[1].Label = "=1+1"
	f.Events = append(f.Events, c3d.Event{Label: "\u202eevil\x9b31m", Context: "\x07", Time: 0.5})
	if data, err = c3d.Append(nil, f); err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "\x1b[31mred.c3d")
	if err := os.WriteFile(name, data, 0o644); err != nil {
		t.Skip(err) // not every system takes such a name
	}
	code, out, stderr := do(name)
	if code != 0 {
		t.Fatal(stderr)
	}
	_, _, wrong := do(name + "x")
	for _, text := range []string{out, wrong} {
		if strings.ContainsAny(text, "\x1b\x07\u202e\u009b") || strings.Contains(text, "\nplate 9") {
			t.Errorf("%q", text)
		}
	}
	// Tables hold numbers only.
	_, out, _ = do("-plates", "-", name)
	for _, row := range strings.Split(strings.TrimSpace(out), "\n")[1:] {
		for _, cell := range strings.Split(row, ",") {
			if _, err := strconv.ParseFloat(cell, 64); cell != "" && err != nil {
				t.Fatalf("cell %q", cell)
			}
		}
	}
}
