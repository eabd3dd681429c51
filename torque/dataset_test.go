package torque

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
)

// table reads a file of numbers with one header line of the public data sets, or
// skips the test.
func table(t *testing.T, elem ...string) map[string][]float64 {
	t.Helper()
	dir := os.Getenv("GRF_DATASETS")
	if dir == "" {
		t.Skip("set GRF_DATASETS to a folder with the public data sets; see validation/doc.go")
	}
	f, err := os.Open(filepath.Join(append([]string{dir}, elem...)...))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	c := make(map[string][]float64)
	for _, row := range rows[1:] {
		for j, name := range rows[0] {
			x, err := strconv.ParseFloat(row[j], 64)
			if err != nil {
				t.Fatal(err)
			}
			c[name] = append(c[name], x)
		}
	}
	return c
}

func column3(c map[string][]float64, prefix, suffix string, i int) r3.Vec {
	get := func(axis string) float64 { return c[prefix+axis+suffix][i] }
	return r3.Vec{X: get("x"), Y: get("y"), Z: get("z")}
}

// printed returns half a unit of the last of 9 significant digits of x.
func printed(x float64) float64 {
	if x == 0 {
		return 0.5e-9
	}
	return 0.5 * math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-8)
}

// An overground run over two plates with flights (BMClab/BMC, data/opensim,
// grf_run.mot and motion_capture_run.trc, CC BY 4.0): net centre of pressure, net
// free moment and moment about the kinematic centre of mass as worked out by
// others (numpy), to nine printed digits.
func TestRun(t *testing.T) {
	want := table(t, "com", "run", "oracle", "cop_and_moment.csv")
	force := table(t, "com", "run", "grf.csv") // 300 Hz
	mass := table(t, "com", "run", "com_kinematic.csv")
	for k, time := range want["t"] {
		i, j := int(math.Round(time*300)), int(math.Round(time*150))
		foot := func(side string) grf.Wrench {
			return grf.At(column3(force, side+"F", "", i), column3(force, side+"P", "", i), r3.Vec{Z: force[side+"Tz"][i]})
		}
		net := foot("R").Add(foot("L"))
		com := r3.Vec{X: mass["x"][j], Y: mass["y"][j], Z: mass["z"][j]}
		p, free := cop.Of(net, 0, 50)
		m := About(net, com)
		is := func(name string, got, inputs float64) {
			t.Helper()
			w := want[name][k]
			near(t, name+" at "+strconv.FormatFloat(time, 'f', 4, 64)+" s", got, w, printed(w)+inputs)
		}
		is("Fx", net.Force.X, 1e-12)
		is("Fy", net.Force.Y, 1e-12)
		is("Fz", net.Force.Z, 1e-12)
		is("copx", p.X, 1e-12)
		is("copy", p.Y, 1e-12)
		is("Tz", free, printed(free)+1e-12)
		// The moments were worked out before the positions, which multiply up to
		// 1700 N, were rounded to nine digits: the last printed digits depend on
		// digits that are not in the file.
		f, d := net.Force, r3.Vec{X: printed(com.X) + printed(p.X), Y: printed(com.Y) + printed(p.Y), Z: printed(com.Z)}
		is("tau_kin_x", m.Frontal, math.Abs(f.Z)*d.Y+math.Abs(f.Y)*d.Z+1e-9)
		is("tau_kin_y", m.Sagittal, math.Abs(f.X)*d.Z+math.Abs(f.Z)*d.X+1e-9)
		is("tau_kin_z", m.Horizontal, math.Abs(f.Y)*d.X+math.Abs(f.X)*d.Y+1e-9)
	}
	if len(want["t"]) < 60 {
		t.Errorf("only %d rows", len(want["t"]))
	}
}

// Two feet on two plates with the truth in closed form (public data set
// com/synth, nine printed digits): the moment about the centre of mass, its
// split, and its impulse, which is the change of the angular momentum.
func TestTwoFeetOfKnownTruth(t *testing.T) {
	c := table(t, "com", "synth", "two_truth.csv")
	n := len(c["t"])
	const rate = 500.0
	var right, left, net []grf.Wrench
	var com []r3.Vec
	for i := range n {
		right = append(right, grf.Wrench{Force: column3(c, "RF", "", i), Moment: column3(c, "RM", "", i)})
		left = append(left, grf.Wrench{Force: column3(c, "LF", "", i), Moment: column3(c, "LM", "", i)})
		net = append(net, right[i].Add(left[i]))
		com = append(com, column3(c, "", "", i))
	}
	ms, err := AboutSeries(nil, net, com)
	if err != nil {
		t.Fatal(err)
	}
	for i := range n {
		tau := FromVec(column3(c, "tau", "", i))
		nearPlanes(t, "moment", ms[i], tau, 1e-6)
		nearPlanes(t, "parts", Parts(right[i], left[i], com[i], 0, 20).Total(), tau, 1e-6)
		g := Pivot(right[i], left[i], com[i], 0, 50)
		if net[i].Force.Z > 50 && right[i].Force.Z > 50 && left[i].Force.Z > 50 {
			nearPlanes(t, "three ground moments", g.Total(), tau, 1e-6)
			near(t, "net free moment", g.Pivoting()+g.FootContact(), c["Tz"][i], 1e-6)
			near(t, "contact", g.FootContact(), c["RTz"][i]+c["LTz"][i], 1e-6)
		}
		if t.Failed() {
			t.Fatalf("at %g s", c["t"][i])
		}
	}
	// dL/dt = tau. The trapezoid rule errs by h²/12 times the change of dtau/dt.
	from, to := 0.5, 2.0
	got, err := AngularImpulse(ms, 0, rate, from, to)
	if err != nil {
		t.Fatal(err)
	}
	a, b := int(from*rate), int(to*rate)
	nearPlanes(t, "angular impulse", got, FromVec(r3.Sub(column3(c, "L", "", b), column3(c, "L", "", a))), 1e-3)
	if got.Frontal == 0 {
		t.Error("nothing turned")
	}
}
