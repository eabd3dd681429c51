package swing_test

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

func flattened(ws []grf.Wrench) []grf.Wrench {
	if ws == nil {
		return nil
	}
	out := make([]grf.Wrench, len(ws))
	for i, w := range ws {
		out[i] = w.WithoutHorizontal()
	}
	return out
}

// same reports whether a and b are equal to rounding or both NaN.
func same(a, b, tol float64) bool {
	return math.Abs(a-b) <= tol || math.IsNaN(a) && math.IsNaN(b)
}

// needHorizontal are parts of the names of measures that need horizontal forces.
var needHorizontal = []string{"lateral", "torque", "arm", "com_", "angular", "frontal"}

// A recording without horizontal forces gives the same loads, shares, centres of
// pressure and vertical events as the whole one, to rounding, with the same
// standard deviations; everything else is NaN and says why.
func TestAnalyseVerticalOnly(t *testing.T) {
	for _, handed := range []grf.Handedness{grf.RightHanded, grf.LeftHanded} {
		s := synthetic(t, synth.Config{Handed: handed})
		rec := synth.Disturbance{Seed: 3, ForceNoise: 2, MomentNoise: 0.5}.Apply(s.Recording())
		whole, err := swing.Analyse(rec, swing.Options{})
		if err != nil {
			t.Fatal(err)
		}
		flat := *rec
		flat.Lead, flat.Trail = flattened(rec.Lead), flattened(rec.Trail)
		a, err := swing.Analyse(&flat, swing.Options{Quiet: grf.QuietOptions{From: whole.Quiet.From, To: whole.Quiet.To}})
		if err != nil {
			t.Fatal(err)
		}
		compareVertical(t, a, whole)
		undefinedHorizontal(t, a)
		for _, name := range []phase.Name{phase.TrailLoadPeak, phase.LowestVertical, phase.EvenLoad, phase.LeadVerticalPeak, phase.Impact} {
			if d := a.Events.Time(name) - whole.Events.Time(name); !(math.Abs(d) < 0.002) {
				t.Errorf("%s: %.1f ms apart", name, 1000*d)
			}
		}
	}
}

func compareVertical(t *testing.T, a, whole *swing.Analysis) {
	t.Helper()
	if !same(a.BodyWeight, whole.BodyWeight, 0.5) {
		t.Errorf("body weight %g, %g on plates", a.BodyWeight, whole.BodyWeight)
	}
	x, y := &a.Series, &whole.Series
	wrong := map[string]int{}
	point := func(name string, p, q r3.Vec, tol float64) {
		if !same(p.X, q.X, tol) || !same(p.Y, q.Y, tol) {
			wrong[name]++
		}
	}
	for i := range x.Time {
		p, q := a.Sample(i), whole.Sample(i)
		for name, pair := range map[string][2]float64{
			"lead load":  {x.Lead[i].Force.Z, y.Lead[i].Force.Z},
			"net load":   {x.Net[i].Force.Z, y.Net[i].Force.Z},
			"net moment": {x.Net[i].Moment.X, y.Net[i].Moment.X},
			"share":      {p.LeadShare, q.LeadShare},
		} {
			if !same(pair[0], pair[1], 1e-9) {
				wrong[name]++
			}
		}
		point("lead pressure", x.LeadCOP[i], y.LeadCOP[i], 1e-9)
		point("trail pressure", x.TrailCOP[i], y.TrailCOP[i], 1e-9)
		point("net pressure", x.NetCOP[i], y.NetCOP[i], 1e-9)
		// The noise is that of the quiet stance, which is not quite the same one.
		point("SD of the net pressure", p.NetCOPSD, q.NetCOPSD, 0.02*q.NetCOPSD.X+1e-9)
		if !same(p.LeadShareSD, q.LeadShareSD, 0.02*q.LeadShareSD) {
			wrong["SD of the share"]++
		}
	}
	for name, n := range wrong {
		t.Errorf("%s: %d of %d samples differ from those of the whole recording", name, n, len(x.Time))
	}
}

func undefinedHorizontal(t *testing.T, a *swing.Analysis) {
	t.Helper()
	x := &a.Series
	for i := range x.Time {
		at := a.Sample(i)
		for name, v := range map[string]float64{
			"lateral force": x.Net[i].Force.Y, "forward force": x.Net[i].Force.X, "free moment": x.NetFree[i],
			"COM": x.COM[i].Y, "COM height": x.COM[i].Z, "speed": x.COMVelocity[i].X,
			"frontal moment": at.Moment.Frontal, "horizontal moment": at.Moment.Horizontal, "in plane": at.InPlane,
			"frontal arm": at.Arm.Frontal, "arm": at.Arm3D, "SD of a moment": at.MomentSD.Frontal,
			"SD of the free moment": at.NetFreeSD, "SD of an arm": at.ArmSD.Sagittal,
		} {
			if !math.IsNaN(v) {
				t.Fatalf("%s at sample %d is %g, want NaN: it was not measured", name, i, v)
			}
		}
	}
	for _, name := range []phase.Name{phase.LateralTurn, phase.LateralPeak, phase.FrontalTorquePeak, phase.VerticalTorquePeak} {
		found := false
		for _, m := range a.Events.Missing {
			found = found || m.Name == name && m.Reason == grf.NoHorizontal
		}
		if !found {
			t.Errorf("%s is not missing for want of horizontal forces: %v", name, a.Events.Missing)
		}
	}
	defined := 0
	for _, m := range a.Measures {
		need := false
		for _, part := range needHorizontal {
			need = need || strings.Contains(m.Name, part) && !strings.Contains(m.Name, "lead_arm_parallel")
		}
		switch {
		case need && (!math.IsNaN(m.Value) || !math.IsNaN(m.SD)):
			t.Errorf("%s is %g ± %g, but it needs horizontal forces", m.Name, m.Value, m.SD)
		case need && !strings.Contains(m.Note, grf.NoHorizontal):
			t.Errorf("%s is undefined with the note %q", m.Name, m.Note)
		case !need && strings.Contains(m.Note, grf.NoHorizontal):
			t.Errorf("%s needs no horizontal forces: %q", m.Name, m.Note)
		case !need && !math.IsNaN(m.Value):
			defined++
		}
	}
	if defined < 10 {
		t.Errorf("only %d measures are defined", defined)
	}
	if a.Quality != nil || !strings.Contains(a.Settings.COM, grf.NoHorizontal) {
		t.Errorf("quality %v, centre of mass %q", a.Quality, a.Settings.COM)
	}
	warned := false
	for _, w := range a.Warnings {
		warned = warned || w.Code == "vertical-only"
	}
	if !warned {
		t.Errorf("no warning among %v", a.Warnings)
	}
}

// One plate and one mat: the lead foot is known in full, the net only vertically.
func TestAnalyseMatAndPlate(t *testing.T) {
	rec := synthetic(t, synth.Config{}).Recording()
	mixed := *rec
	mixed.Trail = flattened(rec.Trail)
	whole, err := swing.Analyse(rec, swing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	a, err := swing.Analyse(&mixed, swing.Options{Quiet: grf.QuietOptions{From: whole.Quiet.From, To: whole.Quiet.To}})
	if err != nil {
		t.Fatal(err)
	}
	compareVertical(t, a, whole)
	undefinedHorizontal(t, a)
	for i := range a.Series.Time {
		if !same(a.Series.Lead[i].Force.Y, whole.Series.Lead[i].Force.Y, 1e-9) || !same(a.Series.LeadFree[i], whole.Series.LeadFree[i], 1e-9) ||
			!same(a.Sample(i).LeadFreeSD, whole.Sample(i).LeadFreeSD, 1e-6) {
			t.Fatalf("the lead foot stands on a whole plate: sample %d", i)
		}
	}
}

// The same swing on one mat of pressure cells, 200 frames a second, from the frames
// to the measures.
func TestAnalyseMatFrames(t *testing.T) {
	s := synthetic(t, synth.Config{Rate: 200})
	rec := s.Recording()
	g, err := cop.NewGrid(cop.GridConfig{Rows: 100, Columns: 60, First: r3.Vec{X: -0.295, Y: 0.495},
		Across: r3.Vec{X: 0.01}, Down: r3.Vec{Y: -0.01}, Unit: cop.NewtonPerCell})
	if err != nil {
		t.Fatal(err)
	}
	frames := make([][]float64, rec.Len())
	for i := range frames {
		frames[i] = make([]float64, g.Cells())
		for _, w := range []grf.Wrench{rec.Lead[i], rec.Trail[i]} {
			spread(g, frames[i], w)
		}
	}
	quiet := rec.Index(s.EventTime("onset") - 0.2)
	// Each foot is pressed at one point here, which one cell short of a foot shows
	// as a region of its own.
	feet, err := cop.DivideByRegions(g, frames[quiet:quiet+20], cop.RegionOptions{})
	if err != nil {
		t.Fatal(err)
	}
	mat, err := cop.GridFrames(g, frames, rec.Start, rec.Rate, feet)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := swing.Analyse(rec, swing.Options{Cutoff: 40})
	if err != nil {
		t.Fatal(err)
	}
	opt := swing.Options{Cutoff: 40, Quiet: grf.QuietOptions{From: whole.Quiet.From, To: whole.Quiet.To}}
	a, err := swing.Analyse(mat, opt)
	if err != nil {
		t.Fatal(err)
	}
	compareVertical(t, a, whole)
	undefinedHorizontal(t, a)

	// Both feet together, with an instrument that knows where the mass is.
	net, err := cop.GridFrames(g, frames, rec.Start, rec.Rate, nil)
	if err != nil {
		t.Fatal(err)
	}
	opt.COM = []com.Source{{Name: "video"}}
	if a, err = swing.Analyse(net, opt); err != nil {
		t.Fatal(err)
	}
	for i := range a.Series.Time {
		if p, q := a.Series.NetCOP[i], whole.Series.NetCOP[i]; !same(p.X, q.X, 1e-9) || !same(p.Y, q.Y, 1e-9) {
			t.Fatalf("net centre of pressure at sample %d: %v, %v on plates", i, p, q)
		}
	}
	told := false
	for _, w := range a.Warnings {
		told = told || w.Code == "com-not-used"
	}
	if !told {
		t.Errorf("an unused source goes without saying: %v", a.Warnings)
	}
}

// spread shares the vertical force of a foot between the four cells around its
// centre of pressure, so that force and centre are kept.
func spread(g *cop.Grid, cells []float64, w grf.Wrench) {
	cfg := g.Config()
	p, _ := cop.Of(w, 0, 1e-9)
	if math.IsNaN(p.X) {
		return
	}
	c := (p.X - cfg.First.X) / cfg.Across.X
	r := (p.Y - cfg.First.Y) / cfg.Down.Y
	c0, r0 := math.Floor(c), math.Floor(r)
	for _, k := range [][2]float64{{0, 0}, {0, 1}, {1, 0}, {1, 1}} {
		part := (1 - math.Abs(c-c0-k[0])) * (1 - math.Abs(r-r0-k[1]))
		cells[int(r0+k[1])*cfg.Columns+int(c0+k[0])] += part * w.Force.Z
	}
}

// What compares swings takes those of a mat for what they are.
func TestCompareVerticalOnly(t *testing.T) {
	var mats []*swing.Analysis
	for seed := range uint64(6) {
		s := synthetic(t, synth.Config{Rate: 250})
		rec := synth.Disturbance{Seed: seed + 1, ForceNoise: 2, MomentNoise: 0.5}.Apply(s.Recording())
		rec.Lead, rec.Trail = flattened(rec.Lead), flattened(rec.Trail)
		a, err := swing.Analyse(rec, swing.Options{})
		if err != nil {
			t.Fatal(err)
		}
		mats = append(mats, a)
	}
	splits, err := swing.SplitPeaks(mats[0], mats[1])
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range splits {
		if !math.IsNaN(p.Value.Change) || p.Note == "" {
			t.Errorf("%s torque differs by %g: %q", p.Name, p.Value.Change, p.Note)
		}
	}
	base := swing.Between(phase.Onset, phase.Impact)
	for _, name := range []string{"lead_share", "frontal_torque_kg"} {
		sig, _ := swing.SignalNamed(name)
		c, err := mats[0].Curve(sig, base)
		if err != nil {
			t.Fatal(err)
		}
		if undefined := math.IsNaN(c.Value[50]); undefined != (name != "lead_share") {
			t.Errorf("%s: %g", name, c.Value[50])
		}
	}
}
