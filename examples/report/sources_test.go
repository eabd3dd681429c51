package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/momentarm/examples/internal/demo"
	"example.com/momentarm/examples/internal/page"
	"example.com/momentarm/examples/internal/results"
)

// Whatever knows the centre of mass can be named in the setup: nothing but the
// forces, a height, a table, markers of the file; each shows in the results. What
// does not go together has one clear error.
func TestSourcesOfTheCentreOfMass(t *testing.T) {
	dir := t.TempDir()
	put := func(name string, data []byte) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o644); err != nil {
			t.Fatal(err)
		}
		return path
	}
	capture := put("swing.c3d", demo.Capture)
	var table strings.Builder
	table.WriteString("time [s],x [m],y [m],z [m]\n")
	s, err := page.New(demo.Source())
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(s.Series.Time); i += 20 {
		if p := s.Series.COM[i]; p.X == p.X {
			row, _ := json.Marshal([]float64{s.Series.Time[i] + 0.03, p.X, p.Y, p.Z})
			table.WriteString(strings.Trim(string(row), "[]") + "\n")
		}
	}
	put("com.csv", []byte(table.String()))
	pelvis := `"points": {"landmarks": {"pelvis": ["L.HIP", "R.HIP", "SACRUM"]}}, `
	for _, c := range []struct {
		fields string
		method string // of the centre of mass
		wrong  string // the error, after the name of the setup
	}{
		{``, "forces, quiet stance, still finish; ", ""},
		{`"com": {"height": "0.9 m", "height_sd": "1 cm"}, `, "forces, quiet stance, still finish; ", ""},
		{`"com": {"file": "com.csv", "axes": "swing", "sd": "1 cm", "seek_delay": "0.1 s"}, `, "table com.csv", ""},
		{pelvis + `"com": {"model": "pelvis"}, `, "pelvis markers as a proxy", ""},
		{pelvis + `"com": {"model": "pelvis", "file": "com.csv", "axes": "lab"}, `, "", "com.model: com.file is given as well"},
		{pelvis + `"com": {"model": "de_leva_men"}, `, "", "points.landmarks: the landmarks given span 0.0 %"},
		{`"com": {"model": "pelvis"}, `, "", "points.landmarks.pelvis: missing"},
		{`"points": {"landmarks": {"pelvis": "SACRU"}}, "com": {"model": "pelvis"}, `, "", `points.landmarks.pelvis: no point "SACRU" in the file; did you mean "SACRUM"?`},
		{`"com": {"sd": "1 cm"}, `, "", "com.sd: goes with com.file or com.model"},
	} {
		setup := put("setup.json", []byte(strings.Replace(string(demo.Setup), `"sense"`, c.fields+`"sense"`, 1)))
		status, stdout, stderr := invoke(t, "-capture", capture, "-setup", setup, "-json", "-")
		if c.wrong != "" {
			if status != exitWork || stdout != "" || !strings.HasPrefix(stderr, "report: "+setup+": "+c.wrong) || strings.Count(stderr, "\n") != 1 {
				t.Errorf("%s: status %d, %q", c.fields, status, stderr)
			}
			continue
		}
		var r results.Results
		if err := json.Unmarshal([]byte(stdout), &r); err != nil {
			t.Fatalf("%s: status %d, %q, %v", c.fields, status, stderr, err)
		}
		if !strings.Contains(r.Settings.COM, c.method) {
			t.Errorf("%s: centre of mass from %q", c.fields, r.Settings.COM)
		}
		if c.method == "table com.csv" && !strings.Contains(strings.Join(r.Steps, "\n"), "table com.csv: 30.") {
			t.Errorf("%s: no delay of 30 ms in %q", c.fields, r.Steps)
		}
	}
}
