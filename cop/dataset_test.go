package cop

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// datasets returns the folder with the public data sets or skips the test.
func datasets(t *testing.T) string {
	t.Helper()
	dir := os.Getenv("GRF_DATASETS")
	if dir == "" {
		t.Skip("set GRF_DATASETS to a folder with the public data sets; see validation/doc.go")
	}
	return dir
}

// table reads a file with one header line; the result has a column of numbers
// per name (NaN where a cell is no number) and the text of the first column.
func table(t *testing.T, comma rune, elem ...string) (columns map[string][]float64, first []string) {
	t.Helper()
	f, err := os.Open(filepath.Join(elem...))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comma = comma
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(rows) < 2 {
		t.Fatalf("%s has no rows", f.Name())
	}
	columns = make(map[string][]float64)
	for j, name := range rows[0] {
		for _, row := range rows[1:] {
			x, err := strconv.ParseFloat(row[j], 64)
			if err != nil {
				x = math.NaN()
			}
			columns[name] = append(columns[name], x)
			if j == 0 {
				first = append(first, row[0])
			}
		}
	}
	return columns, first
}

// D.A. Santos, M. Duarte (2016), A public data set of human balance evaluations,
// PeerJ 4:e2648: 24 standing trials of 60 s at 100 Hz on one plate, with the
// authors' ellipse area, mean velocity and mean (spectral) frequency.
func TestBalanceDataSet(t *testing.T) {
	dir := datasets(t)
	published, trials := table(t, ',', dir, "bds", "published_metrics.csv")
	// Values worked out by others from the same files (numpy).
	oracle, names := table(t, ',', dir, "bds", "oracle", "metrics.csv")
	const n, rate = 6000, 100.0
	for k, trial := range trials {
		if names[k] != trial {
			t.Fatalf("row %d: %s against %s", k, names[k], trial)
		}
		c, _ := table(t, '\t', dir, "bds", trial+".txt")
		if len(c["COPx[cm]"]) != n {
			t.Fatalf("%s has %d samples", trial, len(c["COPx[cm]"]))
		}
		given, ws := make([]r3.Vec, n), make([]grf.Wrench, n)
		for i := range given {
			given[i] = r3.Vec{X: c["COPx[cm]"][i] / 100, Y: c["COPy[cm]"][i] / 100}
			ws[i] = grf.Wrench{
				Force:  r3.Vec{X: c["Fx[N]"][i], Y: c["Fy[N]"][i], Z: c["Fz[N]"][i]},
				Moment: r3.Vec{X: c["Mx[Nm]"][i], Y: c["My[Nm]"][i], Z: c["Mz[Nm]"][i]},
			}
		}
		own, _ := Series(nil, nil, ws, 0, DefaultMinVertical)
		for i := range own {
			// The columns have six decimals of a cm; so have Mx, My and Fz.
			if math.Abs(own[i].X-given[i].X) > 1e-8 || math.Abs(own[i].Y-given[i].Y) > 1e-8 {
				t.Fatalf("%s sample %d: %v, file has %v", trial, i, own[i], given[i])
			}
		}
		for _, v := range []struct {
			name string
			path []r3.Vec
			tol  float64
		}{{"given", given, 1e-9}, {"own", own, 2e-6}} {
			m, err := MeasurePath(v.path, rate, PathOptions{})
			if err != nil {
				t.Fatal(err)
			}
			const cm, cm2 = 100, 1e4
			is := func(what string, got, want float64) {
				t.Helper()
				relative(t, trial+" "+v.name+" "+what, got, want, v.tol)
			}
			// The authors divide by N/rate: 60 s instead of 59.99 s.
			const shorter = (n - 1.0) / n
			is("published area", m.Ellipse.Area*cm2, published["COParea_cm2"][k])
			is("published velocity", m.MeanVelocity*cm*shorter, published["COPvelo_cm_s"][k])
			is("published mean frequency", m.SpectralFrequency, published["COPmfreq_Hz"][k])

			is("duration", m.Duration, oracle["duration_nm1_over_fs"][k])
			is("mean AP", m.X.Mean*cm, oracle["mean_ap"][k])
			is("mean ML", m.Y.Mean*cm, oracle["mean_ml"][k])
			is("mean distance", m.MeanDistance*cm, oracle["mean_distance"][k])
			is("mean distance AP", m.X.MeanDistance*cm, oracle["mean_distance_ap"][k])
			is("mean distance ML", m.Y.MeanDistance*cm, oracle["mean_distance_ml"][k])
			is("RMS distance", m.RMSDistance*cm, oracle["rms_distance"][k])
			is("RMS AP", m.X.RMSDistance*cm, oracle["rms_ap"][k])
			is("RMS ML", m.Y.RMSDistance*cm, oracle["rms_ml"][k])
			is("range AP", m.X.Range*cm, oracle["range_ap"][k])
			is("range ML", m.Y.Range*cm, oracle["range_ml"][k])
			is("path", m.Length*cm, oracle["path_total"][k])
			is("path AP", m.X.Length*cm, oracle["path_ap"][k])
			is("path ML", m.Y.Length*cm, oracle["path_ml"][k])
			is("velocity", m.MeanVelocity*cm, oracle["vel_total_nm1"][k])
			is("velocity AP", m.X.MeanVelocity*cm, oracle["vel_ap_nm1"][k])
			is("velocity ML", m.Y.MeanVelocity*cm, oracle["vel_ml_nm1"][k])
			is("semi-axis 1", m.Ellipse.Major*cm, oracle["semi1"][k])
			is("semi-axis 2", m.Ellipse.Minor*cm, oracle["semi2"][k])
			is("spectral frequency AP", m.X.SpectralFrequency, oracle["mfreq_ap"][k])
			is("spectral frequency ML", m.Y.SpectralFrequency, oracle["mfreq_ml"][k])
			is("max distance", m.MaxDistance*cm, oracle["max_distance"][k])
			near(t, trial+" "+v.name+" angle", m.Ellipse.Orientation*180/math.Pi, oracle["angle_deg_from_ap"][k], 1e-3)
		}
	}
	if len(trials) != 24 {
		t.Errorf("%d trials, want 24", len(trials))
	}
}

// D.A. dos Santos et al. (2017), A data set with kinematic and ground reaction
// forces of human balance, PeerJ 5:e3626: two plates, the net centre of pressure
// by the authors (rounded to 1e-5 m before they resampled it).
func TestTwoPlateDataSet(t *testing.T) {
	dir := datasets(t)
	published, trials := table(t, ',', dir, "pds", "published_metrics.csv")
	check, _ := table(t, ',', dir, "pds", "oracle", "netcop_check.csv")
	// x is anterior, y up, z to the right; the right foot plays the lead.
	axes, err := grf.NewAxes(r3.Vec{Y: 1}, r3.Vec{Z: -1}, r3.Vec{}, grf.RightHanded)
	if err != nil {
		t.Fatal(err)
	}
	for k, trial := range trials {
		c, _ := table(t, '\t', dir, "pds", trial+"grf.txt")
		n := len(c["Time"])
		vec := func(name string, i int) r3.Vec {
			return r3.Vec{X: c[name+"_X"][i], Y: c[name+"_Y"][i], Z: c[name+"_Z"][i]}
		}
		right, left, given := make([]grf.Wrench, n), make([]grf.Wrench, n), make([]r3.Vec, n)
		for i := range given {
			right[i] = axes.Wrench(grf.At(vec("RGRF", i), vec("RCOP", i), r3.Vec{Y: c["RFREEMOMENT_Y"][i]}))
			left[i] = axes.Wrench(grf.At(vec("LGRF", i), vec("LCOP", i), r3.Vec{Y: c["LFREEMOMENT_Y"][i]}))
			given[i] = axes.Point(vec("COPNET", i))
		}
		net, free, err := NetSeries(nil, nil, right, left, 0, DefaultMinVertical)
		if err != nil {
			t.Fatal(err)
		}
		share, err := ShareSeries(nil, right, left, DefaultMinVertical)
		if err != nil {
			t.Fatal(err)
		}
		var meanShare, meanFree, sumOfFree float64
		for i := range net {
			if r3.Norm(r3.Sub(net[i], given[i])) > 1e-5 {
				t.Fatalf("%s sample %d: %v, file has %v", trial, i, net[i], given[i])
			}
			meanShare += share[i] / float64(n)
			meanFree += free[i] / float64(n)
			sumOfFree += (c["RFREEMOMENT_Y"][i] + c["LFREEMOMENT_Y"][i]) / float64(n)
		}
		relative(t, trial+" share", meanShare, check["right_share_mean"][k], 1e-12)
		relative(t, trial+" net free moment", meanFree, check["net_free_moment_mean_Nm"][k], 1e-9)
		relative(t, trial+" sum of free moments, which is not it", sumOfFree, check["sum_of_free_moments_mean_Nm"][k], 1e-9)

		m, err := MeasurePath(given, 100, PathOptions{})
		if err != nil {
			t.Fatal(err)
		}
		shorter := float64(n-1) / float64(n) // the authors divide by N/rate
		relative(t, trial+" area", m.Ellipse.Area*1e4, published["COParea_cm2"][k], 1e-9)
		relative(t, trial+" velocity", m.MeanVelocity*100*shorter, published["COPvelo_cm_s"][k], 1e-9)
		relative(t, trial+" mean frequency", m.SpectralFrequency, published["COPmfreq_Hz"][k], 1e-9)
	}
	if len(trials) != 3 {
		t.Errorf("%d trials, want 3", len(trials))
	}
}

// Two feet whose truth is known in closed form (public data set com/synth): nine
// printed digits.
func TestTwoFeetOfKnownTruth(t *testing.T) {
	dir := datasets(t)
	c, _ := table(t, ',', dir, "com", "synth", "two_truth.csv")
	wrench := func(foot string, i int) grf.Wrench {
		at := func(q string) r3.Vec {
			return r3.Vec{X: c[foot+q+"x"][i], Y: c[foot+q+"y"][i], Z: c[foot+q+"z"][i]}
		}
		return grf.Wrench{Force: at("F"), Moment: at("M")}
	}
	n := 0
	for i := range c["t"] {
		r, l := wrench("R", i), wrench("L", i)
		p, free := Net(r, l, 0, 50)
		if r3.Norm(p) == 0 || math.IsNaN(p.X) {
			continue
		}
		n++
		near(t, "x", p.X, c["copx"][i], 1e-7)
		near(t, "y", p.Y, c["copy"][i], 1e-7)
		near(t, "free", free, c["Tz"][i], 1e-6)
		near(t, "share", Share(r, l), c["share_right"][i], 1e-8)
		if r.Force.Z > 50 {
			p, free := Of(r, 0, 50)
			near(t, "right x", p.X, c["RPx"][i], 1e-7)
			near(t, "right y", p.Y, c["RPy"][i], 1e-7)
			near(t, "right free", free, c["RTz"][i], 1e-6)
		}
		if l.Force.Z > 50 {
			p, free := Of(l, 0, 50)
			near(t, "left x", p.X, c["LPx"][i], 1e-7)
			near(t, "left y", p.Y, c["LPy"][i], 1e-7)
			near(t, "left free", free, c["LTz"][i], 1e-6)
		}
		if t.Failed() {
			t.Fatalf("at %g s", c["t"][i])
		}
	}
	if n < 1000 {
		t.Errorf("only %d samples compared", n)
	}
}
