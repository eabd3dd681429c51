package main

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"

	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/grf"
)

func TestGoodFolder(t *testing.T) {
	dir, setup := fill(t, good()), filepath.Join(t.TempDir(), "lab.json")
	put(t, setup, lab)
	status, stdout, stderr := invoke(t, "-setup", setup, dir)
	if status != exitOK || stderr != "" {
		t.Fatalf("status %d, stderr %q", status, stderr)
	}
	want := []string{"swing 1.c3d", "swing 2.c3d", "swing 9.csv", "swing 10.C3D"}
	if got := whole(t, filepath.Join(dir, defaultOut)); !slices.Equal(got, want) {
		t.Errorf("analysed %v, want %v", got, want)
	}
	// A line for each capture, in their order, then the summary.
	for i, l := range strings.Split(stdout, "\n")[:4] {
		if !strings.HasPrefix(l, want[i]+": analysed, ") {
			t.Errorf("line %d: %s", i, l)
		}
	}
	for _, text := range []string{"4 captures: 4 analysed\n", "peak frontal torque", "wrote " + filepath.Join(dir, defaultOut, measuresFile)} {
		if !strings.Contains(stdout, text) {
			t.Errorf("%q is not in\n%s", text, stdout)
		}
	}
	for l := range strings.Lines(stdout) {
		if n := len([]rune(l)); n > 81 && !strings.HasPrefix(l, "wrote ") {
			t.Errorf("%d columns: %s", n, l)
		}
	}
}

func TestBadCapturesDoNotStopTheOthers(t *testing.T) {
	files := mixed()
	files["typo.csv"] = files["swing 9.csv"]
	files["typo.json"] = `{"version": 1, "glofer": {}}`
	dir, setup := fill(t, files), filepath.Join(t.TempDir(), "lab.json")
	put(t, setup, lab)
	if err := os.Mkdir(filepath.Join(dir, "folder.c3d"), 0o755); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(t.TempDir(), "new", "out")
	status, stdout, stderr := invoke(t, dir, "-out", out, "-setup", setup) // flags after the folder, too
	if status != exitWork {
		t.Errorf("status %d", status)
	}
	if got := whole(t, out); len(got) != 4 {
		t.Errorf("analysed %v", got)
	}
	reasons := map[string]string{
		"cut.c3d":     "frames declared",
		"empty.csv":   "the file is empty",
		"picture.c3d": "too short",
		"folder.c3d":  "is a folder",
		"typo.csv":    `typo.json: glofer`,
	}
	if !strings.Contains(stdout, "9 captures: 4 analysed, 5 failed") {
		t.Errorf("stdout:\n%s", stdout)
	}
	listed := strings.Split(strings.TrimSuffix(stderr, "\n"), "\n")
	if listed[0] != "batch: 5 captures can not be worked on:" || len(listed) != 6 {
		t.Errorf("stderr:\n%s", stderr)
	}
	for name, reason := range reasons {
		if !slices.ContainsFunc(listed, func(l string) bool {
			file := name
			if name == "typo.csv" {
				file = "typo.json" // which has to change
			}
			return strings.HasPrefix(l, "  "+file+": ") && strings.Contains(l, reason)
		}) {
			t.Errorf("%s is not listed with %q:\n%s", name, reason, stderr)
		}
	}
	if strings.Contains(stderr, dir) {
		t.Errorf("the folder is named again and again:\n%s", stderr)
	}
	for _, row := range rows(t, read(t, out, capturesFile))[1:] {
		reason, bad := reasons[row[0]]
		if bad != (row[2] == string(failed)) || bad != (row[3] != "") || !strings.Contains(row[3], reason) {
			t.Errorf("%v, want the reason %q", row, reason)
		}
	}
}

// The setup beside a capture wins, and what it names for the centre of mass is no
// capture.
func TestOwnSetup(t *testing.T) {
	c3ds, _ := madeUp()
	dir := fill(t, map[string]string{
		"a.c3d":    string(c3ds[0]),
		"b.c3d":    string(c3ds[0]),
		"b.json":   `{"version": 1, "golfer": {"stature": "1.90 m", "mass": "82 kg"}, "lab": {"target": "-x"}, "com": {"file": "mass.csv", "axes": "swing", "sd": "0.01 m"}}`,
		"mass.csv": "time [s],x [m],y [m],z [m]\n0,0,0,0.9\n1,0,0,0.9\n2,0,0,0.9\n",
	})
	setup := filepath.Join(dir, "lab.json")
	put(t, setup, lab)
	status, stdout, stderr := invoke(t, "-setup", setup, dir)
	if status != exitOK {
		t.Fatalf("status %d: %s", status, stderr)
	}
	if !strings.Contains(stdout, "mass.csv is left out: b.json names it for the centre of mass") {
		t.Error(stdout)
	}
	whole(t, filepath.Join(dir, defaultOut))
	rs := lines(t, read(t, dir, defaultOut, swingsFile))
	if len(rs) != 2 {
		t.Fatalf("%d captures", len(rs))
	}
	has := func(r results.Results, text string) bool {
		return slices.ContainsFunc(r.Warnings, func(w grf.Warning) bool { return strings.Contains(w.Text, text) }) || strings.Contains(r.Settings.COM, text)
	}
	if has(rs[0], "82") || !has(rs[1], "82") || !strings.Contains(rs[1].Settings.COM, "table") || strings.Contains(rs[0].Settings.COM, "table") {
		t.Errorf("own setup not used: %q %v; %q %v", rs[0].Settings.COM, rs[0].Warnings, rs[1].Settings.COM, rs[1].Warnings)
	}
}

// The marks of a setup are those of one capture. When several have it they are left
// out for all, which is said; alone, or in a setup of its own, a capture has its marks.
func TestSharedSetupHasNoMarks(t *testing.T) {
	c3ds, _ := madeUp()
	marked := strings.Replace(lab, `"lab"`, `"session": "spring", "marks": {"impact": "2.1 s"}, "lab"`, 1)
	marks := func(r results.Results) bool { // else impact is where the file has it
		return slices.ContainsFunc(r.Events, func(e results.Event) bool { return e.Name == "impact" && e.Time == 2.1 })
	}
	setup := filepath.Join(t.TempDir(), "marked.json")
	put(t, setup, marked)
	one := fill(t, map[string]string{"a.c3d": string(c3ds[0])})
	_, stdout, stderr := invoke(t, "-setup", setup, one)
	rs := lines(t, read(t, one, defaultOut, swingsFile))
	if len(rs) != 1 || !marks(rs[0]) || strings.Contains(stdout, "left out") {
		t.Fatalf("of one capture: %v\n%s%s", rs, stdout, stderr)
	}

	// The run with more captures does not keep what the marks made of the first one.
	put(t, filepath.Join(one, "b.c3d"), string(c3ds[1]))
	put(t, filepath.Join(one, "c.c3d"), string(c3ds[0]))
	put(t, filepath.Join(one, "c.json"), marked)
	status, stdout, stderr := invoke(t, "-resume", "-setup", setup, one)
	if status != exitOK {
		t.Fatal(stdout, stderr)
	}
	if want := "marked.json: left out for all 2 captures that have it, because it belongs to one capture: marks; give each a setup of its own beside it, such as a.json for a.c3d"; strings.Count(stdout, want) != 2 {
		t.Errorf("not said at the start and at the end: %s", stdout)
	}
	for i, r := range lines(t, read(t, one, defaultOut, swingsFile)) {
		left := slices.ContainsFunc(r.Warnings, func(w grf.Warning) bool {
			return w.Code == "setup-shared" && strings.Contains(w.Text, "beside it, "+strings.TrimSuffix(r.Capture, ".c3d")+".json")
		})
		if own := i == 2; own != marks(r) || own == left || r.Session != "spring" {
			t.Errorf("%s of %q: marks are taken: %v; %v", r.Capture, r.Session, marks(r), r.Warnings)
		}
	}
}

// A line holds exactly what the report of the same capture does.
func TestLineIsWhatReportWrites(t *testing.T) {
	if testing.Short() {
		t.Skip("builds another program")
	}
	dir, setup := fill(t, good()), filepath.Join(t.TempDir(), "lab.json")
	put(t, setup, lab)
	if status, _, stderr := invoke(t, "-setup", setup, dir); status != exitOK {
		t.Fatal(stderr)
	}
	program := filepath.Join(t.TempDir(), "report.exe")
	if out, err := exec.Command("go", "build", "-o", program, "../report").CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	for l := range strings.Lines(read(t, dir, defaultOut, swingsFile)) {
		var got, want any
		if err := json.Unmarshal([]byte(l), &got); err != nil {
			t.Fatal(err)
		}
		name := filepath.Join(dir, got.(map[string]any)["capture"].(string))
		use := setup
		if strings.HasSuffix(name, "9.csv") {
			use = filepath.Join(dir, "swing 9.json")
		}
		text, err := exec.Command(program, "-capture", name, "-setup", use, "-json", "-").Output()
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if err := json.Unmarshal(text, &want); err != nil {
			t.Fatal(err)
		}
		delete(got.(map[string]any), "sha256") // batch's own
		a, _ := json.Marshal(got)
		b, _ := json.Marshal(want)
		if string(a) != string(b) {
			t.Errorf("%s: the line is\n%s\nreport writes\n%s", name, a, b)
		}
	}
}

// The table says what the lines say: numbers to the last bit, nothing where there
// is no number.
func TestTableIsTidy(t *testing.T) {
	dir, setup := fill(t, good()), filepath.Join(t.TempDir(), "lab.json")
	put(t, setup, lab)
	invoke(t, "-setup", setup, dir)
	table := rows(t, read(t, dir, defaultOut, measuresFile))
	if !slices.Equal(table[0], []string{"file", "golfer", "session", "measure", "value", "sd", "unit", "time_s", "note"}) {
		t.Errorf("header %v", table[0])
	}
	number := func(cell string) float64 {
		if cell == "" {
			return math.NaN()
		}
		var v float64
		if err := json.Unmarshal([]byte(cell), &v); err != nil {
			t.Fatal(err)
		}
		return v
	}
	same := func(cell string, v results.Value) bool {
		n := number(cell)
		return n == float64(v) || math.IsNaN(n) && math.IsNaN(float64(v))
	}
	k, empty := 1, 0
	for _, r := range lines(t, read(t, dir, defaultOut, swingsFile)) {
		for _, m := range r.Measures {
			row := table[k]
			k++
			if row[0] != r.Capture || row[1] != r.Player || row[2] != r.Session || row[3] != m.Name || !same(row[4], m.Value) || !same(row[5], m.SD) || row[6] != m.Unit || !same(row[7], m.Time) || row[8] != m.Note {
				t.Errorf("row %v, want %s %+v", row, r.Capture, m)
			}
			if row[4] == "" {
				empty++
				if row[8] == "" {
					t.Errorf("no value and no reason: %v", row)
				}
			}
		}
	}
	if empty == 0 {
		t.Error("no measure is undefined: the test shows nothing about that")
	}
}

// The session's numbers against their definitions.
func TestSessionNumbers(t *testing.T) {
	dir, setup := fill(t, good()), filepath.Join(t.TempDir(), "lab.json")
	put(t, setup, lab)
	invoke(t, "-setup", setup, dir)
	values := map[string][]float64{}
	for _, r := range lines(t, read(t, dir, defaultOut, swingsFile)) {
		for _, m := range r.Measures {
			if !math.IsNaN(float64(m.Value)) {
				values[m.Name] = append(values[m.Name], float64(m.Value))
			}
		}
	}
	var s summary
	if err := json.Unmarshal([]byte(read(t, dir, defaultOut, sessionJSON)), &s); err != nil {
		t.Fatal(err)
	}
	near := func(name string, got results.Value, want float64) {
		t.Helper()
		if math.Abs(float64(got)-want) > 1e-12*math.Abs(want) {
			t.Errorf("%s is %v, want %v", name, got, want)
		}
	}
	checked := 0
	for _, m := range s.Measures {
		x := values[m.Name]
		if m.N != len(x) {
			t.Errorf("%s: n is %d, want %d", m.Name, m.N, len(x))
		}
		if len(x) < 4 {
			continue
		}
		mean, sd := stat.MeanStdDev(x, nil)
		near(m.Name+" mean", m.Mean, mean)
		near(m.Name+" SD", m.SD, sd)
		// Hopkins 2000: the SD of successive differences over √2, with the factor
		// for differences that share a swing.
		var d []float64
		for i := 1; i < len(x); i++ {
			d = append(d, x[i]-x[i-1])
		}
		e := stat.StdDev(d, nil) / math.Sqrt2 * math.Sqrt(float64(len(x)-1)/float64(len(x)))
		near(m.Name+" error", m.TypicalError, e)
		near(m.Name+" change", m.Detectable, 1.959963984540054*math.Sqrt2*e)
		checked++
	}
	if checked < 50 || s.Schema != results.Schema || s.Note != "" {
		t.Errorf("%d measures checked, %+v", checked, s.Note)
	}
}

// One swing is no session, and says so.
func TestSessionOfOne(t *testing.T) {
	c3ds, _ := madeUp()
	dir := fill(t, map[string]string{"one.c3d": string(c3ds[0]), "one.json": lab})
	status, stdout, stderr := invoke(t, dir)
	if status != exitOK || !strings.Contains(stdout, "no session: ") {
		t.Errorf("status %d, %s\n%s", status, stderr, stdout)
	}
	whole(t, filepath.Join(dir, defaultOut))
	var s summary
	if err := json.Unmarshal([]byte(read(t, dir, defaultOut, sessionJSON)), &s); err != nil || !strings.Contains(s.Note, "1") || s.Measures == nil {
		t.Errorf("%v %+v", err, s)
	}
}

// Swings of several golfers are several sessions: what differs between golfers is
// no scatter of one golfer's swing.
func TestSeveralGolfers(t *testing.T) {
	c3ds, _ := madeUp()
	files := map[string]string{}
	for i, name := range []string{"A", "B", "A"} {
		base := string(rune('a' + i))
		files[base+".c3d"] = string(c3ds[i])
		files[base+".json"] = strings.Replace(lab, `"golfer": {`, `"session": "before", "golfer": {"name": "`+name+`", `, 1)
	}
	dir := fill(t, files)
	_, stdout, stderr := invoke(t, dir)
	for _, want := range []string{"Session of 2 swings of A, a.c3d to c.c3d\n", "Session of 1 swing of B, b.c3d to b.c3d\nno session: "} {
		if text := read(t, dir, defaultOut, sessionText); !strings.Contains(stdout, want) || !strings.Contains(strings.ReplaceAll(text, "\n\n", "\n"), want) {
			t.Errorf("%q is missing in\n%s\n%s\n%s", want, stdout, stderr, text)
		}
	}
	var s summary
	if err := json.Unmarshal([]byte(read(t, dir, defaultOut, sessionJSON)), &s); err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(s.Captures, []string{"a.c3d", "b.c3d", "c.c3d"}) || len(s.Measures) != 0 || !strings.Contains(s.Note, "2 golfers") || len(s.Golfers) != 2 {
		t.Errorf("of all: %v, %d measures, %q, %d golfers", s.Captures, len(s.Measures), s.Note, len(s.Golfers))
	}
	if g := s.Golfers[0]; g.Golfer != "A" || !slices.Equal(g.Captures, []string{"a.c3d", "c.c3d"}) || len(g.Measures) < 50 || g.Measures[0].N != 2 {
		t.Errorf("of A: %q %v, %d measures", g.Golfer, g.Captures, len(g.Measures))
	}
	if g := s.Golfers[1]; g.Golfer != "B" || len(g.Measures) != 0 || !strings.Contains(g.Note, "no session") {
		t.Errorf("of B: %q %q", g.Golfer, g.Note)
	}
	for _, row := range rows(t, read(t, dir, defaultOut, measuresFile))[1:] {
		if want := map[string]string{"a.c3d": "A", "b.c3d": "B", "c.c3d": "A"}[row[0]]; row[1] != want || row[2] != "before" {
			t.Fatalf("%v", row)
		}
	}
	os.Remove(filepath.Join(dir, "b.c3d"))
	if _, stdout, _ := invoke(t, dir); strings.Contains(stdout, "Session of") {
		t.Error(stdout)
	}
}

// Whatever the workers do, the same bytes come out, on screen, too.
func TestSameWithAnyWorkers(t *testing.T) {
	dir, setup := fill(t, mixed()), filepath.Join(t.TempDir(), "lab.json")
	put(t, setup, lab)
	var first map[string]string
	var said string
	for _, n := range []string{"1", "2", "7", "64"} {
		_, stdout, stderr := invoke(t, "-workers", n, "-setup", setup, dir)
		files := outputs(t, filepath.Join(dir, defaultOut))
		if first == nil {
			first, said = files, stdout+stderr
			continue
		}
		if stdout+stderr != said {
			t.Errorf("%s workers say\n%s", n, stdout+stderr)
		}
		for name, text := range files {
			if text != first[name] {
				t.Errorf("%s workers write another %s", n, name)
			}
		}
	}
}

// Every file is whole at every moment.
func TestFilesAreWholeWhileWritten(t *testing.T) {
	c3ds, _ := madeUp()
	files := map[string]string{}
	for i := range 24 {
		files[string(rune('a'+i))+".c3d"] = string(c3ds[i%4])
	}
	dir, setup, out := fill(t, files), filepath.Join(t.TempDir(), "lab.json"), t.TempDir()
	put(t, setup, lab)
	done := make(chan error)
	go func() {
		var sink strings.Builder
		_, err := work(context.Background(), request{folder: dir, setup: setup, out: out, workers: 2, pause: 1}, &sink, &sink)
		done <- err
	}()
	most := 0
	for looks := 0; ; looks++ {
		select {
		case err := <-done:
			if err != nil {
				t.Fatal(err)
			}
			if n := len(whole(t, out)); n != len(files) {
				t.Errorf("%d captures analysed", n)
			}
			t.Logf("%d looks, up to %d captures before the end", looks, most)
			return
		default:
		}
		if data, err := os.ReadFile(filepath.Join(out, swingsFile)); err == nil {
			most = max(most, len(lines(t, string(data))))
		}
		if data, err := os.ReadFile(filepath.Join(out, measuresFile)); err == nil && len(data) > 0 && data[len(data)-1] != '\n' {
			t.Fatal("half a table")
		}
	}
}
