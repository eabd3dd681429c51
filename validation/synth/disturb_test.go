package synth

import (
	"math"
	"testing"

	"example.com/momentarm/grf"
	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat"
)

func still(t *testing.T, seconds float64) *grf.Recording {
	t.Helper()
	s, err := New(Config{Style: Still, Address: seconds})
	if err != nil {
		t.Fatal(err)
	}
	return s.Recording()
}

// column returns one component of the difference between two series, about the
// middle of the plate.
func column(a, b []grf.Wrench, y float64, pick func(grf.Wrench) float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = pick(a[i].Sub(b[i]).MovedTo(vec(0, y, 0)))
	}
	return out
}

func TestDisturbanceNone(t *testing.T) {
	rec := still(t, 1)
	got := Disturbance{Seed: 9}.Apply(rec)
	for i := range rec.Lead {
		d := got.Lead[i].Sub(rec.Lead[i])
		if r3.Norm(d.Force) != 0 || r3.Norm(d.Moment) > 1e-12 {
			t.Fatalf("no disturbance changes sample %d by %v", i, d)
		}
	}
	if got.Mass != rec.Mass || got.Rate != rec.Rate {
		t.Error("no disturbance changes the facts")
	}
}

func TestDisturbanceNoise(t *testing.T) {
	rec := still(t, 10)
	d := Disturbance{Seed: 3, ForceNoise: 3, MomentNoise: 0.5}
	got := d.Apply(rec)
	n := float64(rec.Len())
	for _, c := range []struct {
		name string
		pick func(grf.Wrench) float64
		sd   float64
	}{
		{"Fx", func(w grf.Wrench) float64 { return w.Force.X }, 3},
		{"Fz", func(w grf.Wrench) float64 { return w.Force.Z }, 3},
		{"Mx", func(w grf.Wrench) float64 { return w.Moment.X }, 0.5},
		{"Mz", func(w grf.Wrench) float64 { return w.Moment.Z }, 0.5},
	} {
		lead := column(got.Lead, rec.Lead, plateMiddle, c.pick)
		trail := column(got.Trail, rec.Trail, -plateMiddle, c.pick)
		mean, sd := stat.MeanStdDev(lead, nil)
		// Five standard errors.
		if math.Abs(mean) > 5*c.sd/math.Sqrt(n) || math.Abs(sd-c.sd) > 5*c.sd/math.Sqrt(2*n) {
			t.Errorf("%s noise %g ± %g, want 0 ± %g", c.name, mean, sd, c.sd)
		}
		if r := stat.Correlation(lead, trail, nil); math.Abs(r) > 5/math.Sqrt(n) {
			t.Errorf("%s of the plates correlate: %g", c.name, r)
		}
		if r := stat.Correlation(lead[1:], lead[:len(lead)-1], nil); math.Abs(r) > 5/math.Sqrt(n) {
			t.Errorf("%s is not white: %g", c.name, r)
		}
	}
	if diff := cmp.Diff(got, d.Apply(rec)); diff != "" {
		t.Errorf("the same seed makes other noise: %s", diff[:200])
	}
	d.Seed++
	if other := d.Apply(rec); other.Lead[0] == got.Lead[0] {
		t.Error("another seed makes the same noise")
	}
}

// TestDisturbanceErrors draws many plates and looks at the spread of their
// errors.
func TestDisturbanceErrors(t *testing.T) {
	rec := still(t, 2)
	rec.Lead, rec.Trail = rec.Lead[:1001], rec.Trail[:1001]
	var bias, drift, gain, cross []float64
	for seed := range uint64(200) {
		b := Disturbance{Seed: seed, ForceBias: 2}.Apply(rec)
		bias = append(bias, b.Lead[0].Force.X-rec.Lead[0].Force.X)
		d := Disturbance{Seed: seed, ForceDrift: 0.5}.Apply(rec)
		drift = append(drift, (d.Trail[1000].Force.Z-d.Trail[0].Force.Z)/1.0)
		if d.Trail[0] != rec.Trail[0] && r3.Norm(d.Trail[0].Sub(rec.Trail[0]).Force) > 1e-12 {
			t.Fatal("drift does not start at 0")
		}
		g := Disturbance{Seed: seed, Gain: 0.01}.Apply(rec)
		gain = append(gain, g.Lead[0].Force.Z/rec.Lead[0].Force.Z-1)
		c := Disturbance{Seed: seed, CrossTalk: 0.02}.Apply(rec)
		cross = append(cross, (c.Lead[0].Force.X-rec.Lead[0].Force.X)/rec.Lead[0].Force.Z)
	}
	for _, c := range []struct {
		name string
		v    []float64
		sd   float64
	}{{"bias", bias, 2}, {"drift", drift, 0.5}, {"gain", gain, 0.01}, {"cross-talk", cross, 0.02}} {
		mean, sd := stat.MeanStdDev(c.v, nil)
		if math.Abs(mean) > 5*c.sd/math.Sqrt(200) || math.Abs(sd/c.sd-1) > 5/math.Sqrt(400) {
			t.Errorf("%s %g ± %g, want 0 ± %g", c.name, mean, sd, c.sd)
		}
	}
}

func TestDisturbanceLimitsAndLoss(t *testing.T) {
	s, err := New(Config{Address: 20})
	if err != nil {
		t.Fatal(err)
	}
	rec := s.Recording()
	got := Disturbance{ForceLimit: 500, MassError: 0.02}.Apply(rec)
	clipped := 0
	for i := range got.Lead {
		if v := got.Lead[i].Force.Z; v == 500 {
			clipped++
		} else if v > 500 {
			t.Fatalf("%g N beyond the limit", v)
		}
	}
	if clipped == 0 {
		t.Error("nothing is clipped")
	}
	if d := got.Mass/rec.Mass - 1.02; math.Abs(d) > 1e-12 {
		t.Errorf("stated mass off by %g", d)
	}
	got.Marks["impact"] = 0
	if rec.Marks["impact"] == 0 {
		t.Error("the copy shares its marks")
	}

	got = Disturbance{Seed: 1, Dropped: 0.05, DropRun: 6}.Apply(rec)
	lost, runs := 0, 0
	for i := range got.Lead {
		if got.Lead[i].IsNaN() != got.Trail[i].IsNaN() {
			t.Fatal("a sample is lost on one plate only")
		}
		if got.Lead[i].IsNaN() {
			lost++
			if i == 0 || !got.Lead[i-1].IsNaN() {
				runs++
			}
		}
	}
	if part := float64(lost) / float64(rec.Len()); part < 0.035 || part > 0.065 {
		t.Errorf("%g of the samples are lost, want 0.05", part)
	}
	if mean := float64(lost) / float64(runs); mean < 4.5 || mean > 7.5 {
		t.Errorf("runs of %g lost samples, want 6", mean)
	}
}

func TestDisturbanceSinglePlate(t *testing.T) {
	rec := still(t, 1)
	net, err := rec.NetWrenches(nil)
	if err != nil {
		t.Fatal(err)
	}
	one := &grf.Recording{Rate: rec.Rate, Net: net, Mass: rec.Mass}
	got := Disturbance{ForceBias: 2}.Apply(one)
	if got.Lead != nil || got.Trail != nil || len(got.Net) != len(net) || got.Net[0] == net[0] {
		t.Error("a recording of one plate is not treated as one")
	}
	if err := got.Check(); err != nil {
		t.Error(err)
	}
}

func TestTrack(t *testing.T) {
	s, err := New(Config{Unloaded: 1})
	if err != nil {
		t.Fatal(err)
	}
	exact := s.Track(TrackOptions{})
	if exact.Time[0] != s.Aboard() || math.Abs(exact.Time[1]-exact.Time[0]-0.01) > 1e-12 {
		t.Errorf("track from %g s at %g s", exact.Time[0], exact.Time[1]-exact.Time[0])
	}
	for i, x := range exact.Time {
		if exact.Position[i] != s.At(x).Position {
			t.Fatalf("position %d is not exact", i)
		}
	}
	late := s.Track(TrackOptions{Rate: 60, SD: 0.02, Delay: 0.015, Seed: 4})
	var off []float64
	for i, x := range late.Time {
		d := r3.Sub(late.Position[i], s.At(x-0.015).Position)
		off = append(off, d.X, d.Y, d.Z)
	}
	if mean, sd := stat.MeanStdDev(off, nil); math.Abs(mean) > 0.005 || math.Abs(sd-0.02) > 0.003 {
		t.Errorf("noise %g ± %g m, want 0 ± 0.02", mean, sd)
	}
	if late.SD != vec(0.02, 0.02, 0.02) {
		t.Errorf("stated noise %v", late.SD)
	}
	gaps := s.Track(TrackOptions{Rate: 200, Dropped: 0.2, Seed: 2})
	lost := 0
	for _, p := range gaps.Position {
		if math.IsNaN(p.X) {
			lost++
		}
	}
	if part := float64(lost) / float64(len(gaps.Time)); part < 0.1 || part > 0.3 {
		t.Errorf("%g of the positions are lost, want 0.2", part)
	}
}

func TestJoinAndCut(t *testing.T) {
	a, err := New(Config{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := New(Config{Style: Reverse, Start: 100})
	if err != nil {
		t.Fatal(err)
	}
	rec, offset, err := Join(1.5, a, b, a)
	if err != nil {
		t.Fatal(err)
	}
	if err := rec.Check(); err != nil {
		t.Fatal(err)
	}
	if want := 2*a.Len() + b.Len() + 2*1500; rec.Len() != want {
		t.Errorf("%d samples, want %d", rec.Len(), want)
	}
	weight := a.Config().Mass * Gravity
	for k, s := range []*Swing{a, b, a} {
		x := s.EventTime("lead_vertical_peak")
		i := rec.Index(x + offset[k])
		want := s.At(rec.Time(i) - offset[k])
		if d := rec.Lead[i].Sub(want.Lead); r3.Norm(d.Force) > 1e-6 {
			t.Errorf("swing %d is displaced: %v", k, d)
		}
	}
	for i := a.Len(); i < a.Len()+1500; i++ {
		if v := rec.Lead[i].Force.Z + rec.Trail[i].Force.Z; math.Abs(v-weight) > 1e-9 {
			t.Fatalf("%g N in the gap", v)
		}
	}
	if _, _, err := Join(1); err == nil {
		t.Error("nothing was joined without an error")
	}
	other, err := New(Config{Mass: 60})
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := Join(1, a, other); err == nil {
		t.Error("two golfers were joined into one")
	}
	if _, _, err := Join(math.NaN(), a, b); err == nil {
		t.Error("a gap of NaN s was accepted")
	}

	whole := a.Recording()
	part := Cut(whole, 2.5, 3.0)
	if part.Start != 2.5 || part.Len() != 501 || part.Lead[0] != whole.Lead[2500] || len(part.Marks) != 0 {
		t.Errorf("cut from %g s, %d samples, marks %v", part.Start, part.Len(), part.Marks)
	}
	if part := Cut(whole, 3, 4); part.Marks["impact"] != whole.Marks["impact"] {
		t.Error("the cut lost its mark")
	}
	for _, c := range [][2]float64{{-5, 99}, {50, 60}, {3, 2}, {-3, -2}} {
		part := Cut(whole, c[0], c[1])
		if all := c[1] == 99; all && part.Len() != whole.Len() || !all && part.Len() != 0 {
			t.Errorf("cut %v has %d samples", c, part.Len())
		}
	}
}
