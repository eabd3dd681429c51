package validation

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf/c3d"
)

// smallRun is somebody who stands still for four frames: the force is the
// weight, all positions are the same, and so is every estimate. What should be
// flight is not: the acceleration is off by all of g.
func smallRun() fstest.MapFS {
	text := func(s string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(s)} }
	grf := "t,RFx,RFy,RFz,RPx,RPy,RPz,RTz,LFx,LFy,LFz,LPx,LPy,LPz,LTz\n"
	com, estimates := "t,x,y,z\n", "t,rts_pos_x,rts_pos_y,rts_pos_z,rts_vel_x,rts_vel_y,rts_vel_z,fb_pos_x,fb_pos_y,fb_pos_z,rts_sdpos_x\n"
	for i := range 8 {
		grf += fmt.Sprintf("%.9g,0,0,681.795,0.1,0,0,2,0,0,0,0,0,0,0\n", float64(i)/300)
	}
	for i := range 4 {
		com += fmt.Sprintf("%.9g,0,0,1\n", float64(i)/150)
		estimates += fmt.Sprintf("%.9g,0,0,1,0,0,0,0,0,1,0.001\n", float64(i)/150)
	}
	return fstest.MapFS{
		"com/run/trial.json":                text(`{"mass_kg": 69.5, "g": 9.81, "force_rate_hz": 300, "com_rate_hz": 150, "flight_intervals_s": [[0, 1]]}`),
		"com/run/grf.csv":                   text(grf),
		"com/run/com_kinematic.csv":         text(com),
		"com/run/oracle/run_estimates.csv":  text(estimates),
		"com/run/oracle/cop_and_moment.csv": text("t,Fx,Fy,Fz,copx,copy,Tz,tau_kin_x,tau_kin_y,tau_kin_z,tau_rts_x,tau_rts_y,tau_rts_z\n0.0133333333,0,0,681.795,0.1,0,2,0,-68.1795,2,0,-68.1795,2\n"),
		"com/run/oracle/summary.json": text(`{"mass_69.5": {"gains_l1_l2_per_axis": [[0.03513039289782394, 0.0006281552452372687]],
			"flight": {"kin": {"median_error_amplitude_pct_g": 100}, "fb": {"median_error_amplitude_pct_g": 100}, "rts": {"median_error_amplitude_pct_g": 100}}}}`),
	}
}

// smallC3D is a file with one point that is missing in the last frame, and a
// plate of type 2, z down, at the surface.
func smallC3D(t *testing.T) fstest.MapFS {
	t.Helper()
	none := math.NaN()
	f := &c3d.File{
		Rate: 100, SamplesPerFrame: 1, Units: "mm", PointScale: 0.1,
		Points: []c3d.Point{{Label: "HIP", Position: []r3.Vec{{X: 1, Y: 2, Z: 900}, {X: 3, Y: 2, Z: 900}, {X: none, Y: none, Z: none}}}},
		Plates: []c3d.PlateInfo{{
			Type:     2,
			Corners:  [4]r3.Vec{{X: 300, Y: -250}, {X: -300, Y: -250}, {X: -300, Y: 250}, {X: 300, Y: 250}},
			Origin:   r3.Vec{Z: -40},
			Channels: []int{0, 1, 2, 3, 4, 5},
		}},
	}
	for i, label := range strings.Fields("FX FY FZ MX MY MZ") {
		unit := "N"
		if i >= 3 {
			unit = "Nmm"
		}
		v := [6][]float64{{0, 0, 0}, {0, 0, 0}, {0, -500, -500}, {0, 0, 0}, {0, 50000, 50000}, {0, 0, 1000}}[i]
		f.Channels = append(f.Channels, c3d.Channel{Label: label, Unit: unit, Scale: 1, Values: v})
	}
	var b bytes.Buffer
	if err := c3d.Encode(&b, f); err != nil {
		t.Fatal(err)
	}
	text := func(s string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(s)} }
	analog := "channel,label,raw_first,raw_last,first,second,last,mean,min,max\n"
	for i, row := range []string{"0,0,0,0,0,0,0,0", "0,0,0,0,0,0,0,0", "0,-500,0,-500,-500,-333.33333333333331,-500,0", "0,0,0,0,0,0,0,0",
		"0,50000,0,50000,50000,33333.333333333336,0,50000", "0,1000,0,0,1000,333.33333333333331,0,1000"} {
		analog += fmt.Sprintf("%d,C%d,%s\n", i+1, i+1, row)
	}
	// At plate x = −50000/−500 mm = 100 mm, which is the laboratory's X.
	return fstest.MapFS{
		"c3d/sample99/small.c3d":                     &fstest.MapFile{Data: b.Bytes()},
		"c3d/oracle/sample99__small.c3d.points.csv":  text("index,label,n_valid,first_valid_frame0,x,y,z,last_valid_frame0,x_last,y_last,z_last,mean_x,mean_y,mean_z\n1,HIP,2,0,1,2,900,1,3,2,900,2,2,900\n"),
		"c3d/oracle/sample99__small.c3d.analog.csv":  text(analog),
		"c3d/oracle/sample99__small.c3d.plates.csv":  text("plate,type,baseline,analog_sample0,Fx_lab,Fy_lab,Fz_lab,COPx_lab,COPy_lab,COPz_lab,Tz_plate_axis,Mx_surface,My_surface,Mz_surface\n1,2,none,0,0,0,0,,,,,0,0,0\n1,2,none,2,0,0,500,100,0,0,1000,0,50000,1000\n1,2,ZERO frames,2,9,9,9,9,9,9,9,9,9,9\n"),
		"c3d/oracle/sample98__absent.c3d.points.csv": text("index\n1\n"),
		"c3d/oracle/synthetic__own.c3d.points.csv":   text("index\n1\n"),
		"c3d/synthetic/own.c3d":                      text(""),
	}
}

func TestSmallRun(t *testing.T) {
	cases, _, err := DatasetCases(smallRun())
	if err != nil || len(cases) != 7 {
		t.Fatalf("%d cases, %v", len(cases), err)
	}
	for _, c := range cases {
		if err := c.check(); err != nil {
			t.Error(err)
		}
	}
	for _, r := range CheckCases(Library(), cases).Results {
		// The spread of four positions is not the one that was made up.
		if wanted := r.Output == "position_sd"; (r.Status == Missed) != wanted {
			t.Errorf("%s %s: %s %s", r.ID, r.Output, r.Status, r.Message)
		}
	}
}

// Each of these slips in a table of a data set is a miss or an error, none is
// passed over.
func TestSmallRunSlips(t *testing.T) {
	const dir = "com/run/"
	for _, c := range []struct{ file, old, new, miss string }{
		{"oracle/cop_and_moment.csv", "2,0,-68.1795,2,0", "2,0,68.1795,2,0", "datasets/com/run/moment-kinematic"},
		{"oracle/cop_and_moment.csv", "0,-68.1795,2\n", "0,-68.1795,3\n", "datasets/com/run/moment-smoothed"},
		{"oracle/cop_and_moment.csv", "681.795,0.1,", "681.795,-0.1,", "datasets/com/run/moment-kinematic"},
		{"oracle/run_estimates.csv", "0,0,1,0,0,0,0,0,1,0.001\n", "0,0,1.00001,0,0,0,0,0,1,0.001\n", "datasets/com/run/path"},
		{"oracle/summary.json", "0.03513039289782394", "0.03513039289", "datasets/com/run/gains"},
		{"oracle/summary.json", `"kin": {"median_error_amplitude_pct_g": 100}`, `"kin": {"median_error_amplitude_pct_g": 99}`, "datasets/com/run/flight-kinematic"},
		{"oracle/summary.json", `"fb"`, `"bf"`, ""},
		{"oracle/summary.json", `"gains_l1_l2_per_axis"`, `"gains"`, ""},
		{"oracle/summary.json", `{"mass`, `{{"mass`, ""},
		{"oracle/cop_and_moment.csv", "0.0133333333", "0.02", "datasets/com/run/moment-kinematic"},
		{"oracle/cop_and_moment.csv", "0.0133333333", "0.0134", ""},
		{"oracle/cop_and_moment.csv", "tau_rts_x", "tau_x", ""},
		{"oracle/run_estimates.csv", "rts_sdpos_x", "sd", ""},
		{"com_kinematic.csv", "0.02,0,0,1\n", "", ""},
		{"grf.csv", "RTz", "RT", ""},
		{"trial.json", "69.5", "0", ""},
		{"trial.json", "300", "30", ""},
	} {
		folder := smallRun()
		f := folder[dir+c.file]
		if !strings.Contains(string(f.Data), c.old) {
			t.Fatalf("%s holds no %q", c.file, c.old)
		}
		f.Data = []byte(strings.Replace(string(f.Data), c.old, c.new, 1))
		cases, _, err := DatasetCases(folder)
		if c.miss == "" {
			if err == nil {
				t.Errorf("%s: %q for %q: no error", c.file, c.new, c.old)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %q for %q: %v", c.file, c.new, c.old, err)
		}
		missed := false
		for _, r := range CheckCases(Library(), cases).Results {
			missed = missed || r.Status == Missed && r.ID == c.miss && r.Output != "position_sd"
		}
		// At another instant the standing golfer does the same.
		if missed == (c.new == "0.02") {
			t.Errorf("%s: %q for %q: %s missed: %v", c.file, c.new, c.old, c.miss, missed)
		}
	}
}

func TestSmallC3D(t *testing.T) {
	folder := smallC3D(t)
	cases, _, err := DatasetCases(folder)
	if err != nil || len(cases) != 3 {
		t.Fatalf("%d cases, %v", len(cases), err)
	}
	for _, c := range cases {
		if err := c.check(); err != nil {
			t.Error(err)
		}
	}
	r := CheckCases(Library(), cases)
	if err := r.Err(); err != nil {
		t.Error(err)
	}
	// The file goes into the vectors by its name, and comes back without its
	// content: then the library says so.
	var b bytes.Buffer
	if err := WriteVectors(&b, cases); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), `"file":{"file":"c3d/sample99/small.c3d"}`) {
		t.Error("the file is not named in the vectors")
	}
	back, err := ReadVectors(&b)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range CheckCases(Library(), back).Results {
		if r.Status != Missed || !strings.Contains(r.Message, "not loaded") {
			t.Errorf("%s %s: %s %s", r.ID, r.Output, r.Status, r.Message)
		}
	}
	for _, c := range []struct{ file, old, new, miss string }{
		{"points", ",900,1,3", ",901,1,3", "first"},
		{"points", "HIP,2", "HIP,3", "valid"},
		{"analog", "-333.33", "-333.34", "mean"},
		{"analog", "0,1000,0,0", "0,1001,0,0", "stored_last"},
		{"plates", "500,100,", "500,-100,", "points"},
		{"plates", "0,0,1000,0", "0,0,-1000,0", "free_moments"},
		{"plates", "0,0,0,,,,,", "0,0,0,0,0,0,0,", "points"},
		{"plates", "1,2,none,2", "1,2,none,3", "forces"},
		{"points", ",2,0,1,", ",2,x,1,", ""},
		{"analog", "raw_first", "raw", ""},
		{"plates", "baseline", "base", ""},
	} {
		folder := smallC3D(t)
		f := folder["c3d/oracle/sample99__small.c3d."+c.file+".csv"]
		if !strings.Contains(string(f.Data), c.old) {
			t.Fatalf("%s holds no %q", c.file, c.old)
		}
		f.Data = []byte(strings.Replace(string(f.Data), c.old, c.new, 1))
		cases, _, err := DatasetCases(folder)
		if (err == nil) != (c.miss != "") {
			t.Errorf("%s: %q for %q: %v", c.file, c.new, c.old, err)
		}
		missed := c.miss == ""
		for _, r := range CheckCases(Library(), cases).Results {
			missed = missed || r.Status == Missed && r.Output == c.miss
		}
		if !missed {
			t.Errorf("%s: %q for %q: %s did not miss", c.file, c.new, c.old, c.miss)
		}
	}
	// A broken file is the library's answer, not the reader's of the tables.
	folder["c3d/sample99/small.c3d"].Data = []byte("no C3D file")
	if cases, _, err = DatasetCases(folder); err != nil {
		t.Fatal(err)
	}
	for _, r := range CheckCases(Library(), cases).Results {
		if r.Status != Missed {
			t.Errorf("%s %s of a broken file: %s", r.ID, r.Output, r.Status)
		}
	}
}
