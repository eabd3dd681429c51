package study

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/validation/synth"
)

// Standard deviations are believable: of 95 % intervals some 85 to 99 % hold the
// truth, and none is more than twice as wide as it need be. The seeds are fixed, so
// this does not fail by chance; examples/study runs more.
func TestMeasures(t *testing.T) {
	n := 60
	if testing.Short() {
		n = 12
	}
	table := Measures(Options{Swings: n})
	if len(table.Refused) > 0 {
		t.Errorf("not analysed: %v", table.Refused)
	}
	if want := len(measures) + len(curves); len(table.Rows) != want {
		t.Errorf("%d rows, want %d", len(table.Rows), want)
	}
	most := map[string]float64{ // RMS error; what plates, golfer and tape measure allow for
		"frontal_torque_peak": 12, "vertical_torque_peak": 2, "frontal_arm_at_peak": 0.012,
		"centre of mass x": 0.01, "centre of mass y": 0.01, "centre of mass z": 0.025,
		"com_shift_at_frontal_torque_peak": 0.008,
	}
	for _, r := range table.Rows {
		t.Logf("%s: n %d, RMS %.3g %s, stated %.3g, covered %.1f %%", r.Name, r.N, r.RMS, r.Unit, r.Stated, 100*r.Covered)
		if r.N < n*8/10 {
			t.Errorf("%s: only %d", r.Name, r.N)
		}
		if limit, ok := most[r.Name]; ok && r.RMS > limit {
			t.Errorf("%s: off by %g %s RMS, want at most %g", r.Name, r.RMS, r.Unit, limit)
		}
		if n < 60 {
			continue
		}
		if r.Covered < 0.85 || r.Stated > 2*r.RMS || r.Stated < 0.7*r.RMS {
			t.Errorf("%s: %.1f %% covered, errors of %g %s RMS, stated %g", r.Name, 100*r.Covered, r.RMS, r.Unit, r.Stated)
		}
		// One value each of 60 swings may all be inside, and the 16 of a curve in
		// one swing are much alike, so that 99 % is not sharp.
		if r.N > 500 && r.Covered > 0.997 {
			t.Errorf("%s: %.1f %% covered", r.Name, 100*r.Covered)
		}
		if math.Abs(r.Bias) > 0.5*r.Stated {
			t.Errorf("%s: %+g %s on average, of a standard deviation of %g", r.Name, r.Bias, r.Unit, r.Stated)
		}
	}
	var b bytes.Buffer
	if err := table.Write(&b); err != nil || !strings.Contains(b.String(), "frontal_arm_at_peak") {
		t.Errorf("%v\n%s", err, b.String())
	}
}

// The sway that is put into a swing obeys Newton and leaves the moment about the
// centre of mass alone.
func TestSway(t *testing.T) {
	cfg := synth.Random(3)
	g, err := newGolfer(cfg, 3, Options{Sway: 0.01}.withDefaults())
	if err != nil {
		t.Fatal(err)
	}
	const h = 1e-3
	for at := 0.5; at < g.swing.End()-0.5; at += 0.1 {
		st := g.at(at)
		a := r3.Scale(1/(h*h), r3.Add(r3.Sub(g.at(at-h).Position, r3.Scale(2, st.Position)), g.at(at+h).Position))
		want := r3.Scale(g.swing.Config().Mass, r3.Add(a, r3.Vec{Z: synth.Gravity}))
		// The second difference leaves h²/12 of the fourth derivative.
		if d := r3.Norm(r3.Sub(st.Net.Force, want)); d > 0.1 {
			t.Fatalf("at %.2f s the force is %g N off", at, d)
		}
		if d := r3.Norm(r3.Sub(st.Net.About(st.Position), st.Moment)); d > 1e-9 {
			t.Fatalf("at %.2f s the moment is %g N·m off", at, d)
		}
		if d := st.Lead.Add(st.Trail).Sub(st.Net); r3.Norm(d.Force)+r3.Norm(d.Moment) > 1e-9 {
			t.Fatalf("at %.2f s the feet are not the net: %v", at, d)
		}
	}
	if rec := g.recording(); len(rec.Marks) > 0 || rec.Len() != g.swing.Len() || rec.Lead[100] == (grf.Wrench{}) {
		t.Error("the recording is not whole")
	}
}
