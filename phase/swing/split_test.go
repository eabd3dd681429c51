package swing_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/torque"
	"example.com/momentarm/validation/synth"
)

// plateaus returns a swing that stands on two feet until 0.5 s, the middle of its
// stance at offset, and then presses once with everything as given.
func plateaus(offset, force, pressure, mass r3.Vec, free float64) *swing.Analysis {
	const n = 101
	a := &swing.Analysis{Recording: &grf.Recording{Rate: 100, Lead: make([]grf.Wrench, n), Trail: make([]grf.Wrench, n)}, To: n - 1, BodyWeight: 750, Mass: 75}
	a.Quiet.To = 0.2
	a.Settings.Plane, a.Settings.MinVertical = math.Pi/4, 20
	s := &a.Series
	s.Time = make([]float64, n)
	s.Net = make([]grf.Wrench, n)
	s.LeadCOP, s.TrailCOP = make([]r3.Vec, n), make([]r3.Vec, n)
	s.COM, s.COMSD = make([]r3.Vec, n), make([]r3.Vec, n)
	for i := range n {
		s.Time[i] = a.Recording.Time(i)
		s.LeadCOP[i], s.TrailCOP[i] = r3.Add(offset, r3.Vec{Y: 0.2}), r3.Add(offset, r3.Vec{Y: -0.2})
		s.COM[i], s.COMSD[i] = r3.Add(offset, mass), r3.Vec{X: 0.01, Y: 0.01, Z: 0.04}
		s.Net[i] = grf.At(force, r3.Add(offset, pressure), r3.Vec{Z: free})
	}
	for _, name := range []phase.Name{phase.FrontalTorquePeak, phase.VerticalTorquePeak} {
		a.Events.Found = append(a.Events.Found, phase.Event{Name: name, Time: 0.7})
	}
	a.Measures = []swing.Measure{{Name: "plane_torque_peak", Time: 0.7, Unit: "N·m"}}
	return a
}

// One cause at a time has the whole change, wherever on the plates the golfer
// stood.
func TestSplitByOneCause(t *testing.T) {
	force, pressure, mass := r3.Vec{X: 20, Y: 120, Z: 800}, r3.Vec{X: 0.02, Y: 0.12}, r3.Vec{X: 0.01, Y: -0.03, Z: 1}
	a := plateaus(r3.Vec{}, force, pressure, mass, 5)
	elsewhere := r3.Vec{X: -0.3, Y: 0.7}
	turned := r3.Scale(r3.Norm(force), r3.Unit(r3.Vec{X: 10, Y: 200, Z: 800}))
	for name, c := range map[string]struct {
		b    *swing.Analysis
		part func(swing.Causes) float64
	}{
		"size":      {plateaus(elsewhere, r3.Scale(1.1, force), pressure, mass, 5), func(c swing.Causes) float64 { return c.ForceSize }},
		"direction": {plateaus(elsewhere, turned, pressure, mass, 5), func(c swing.Causes) float64 { return c.ForceDirection }},
		"pressure":  {plateaus(elsewhere, force, r3.Vec{X: 0.05, Y: 0.16}, mass, 5), func(c swing.Causes) float64 { return c.PressurePlace }},
		"mass":      {plateaus(elsewhere, force, pressure, r3.Vec{X: 0.02, Y: 0.01, Z: 1.02}, 5), func(c swing.Causes) float64 { return c.MassPlace }},
		"twist":     {plateaus(elsewhere, force, pressure, mass, 9), func(c swing.Causes) float64 { return c.FreeMoment }},
		"nothing":   {plateaus(elsewhere, force, pressure, mass, 5), func(c swing.Causes) float64 { return c.Change }},
	} {
		splits, err := swing.SplitPeaks(a, c.b)
		if err != nil || len(splits) != 3 {
			t.Fatal(err)
		}
		want := torque.About(c.b.Series.Net[0], c.b.Series.COM[0]).Sub(torque.About(a.Series.Net[0], a.Series.COM[0]))
		for i, change := range []float64{want.Frontal, want.Horizontal, torque.InPlane(want, math.Pi/4)} {
			v := splits[i].Value
			if !close(v.Change, change, 1e-9) || !close(v.Sum(), change, 1e-9) || !close(v.To-v.From, change, 1e-9) {
				t.Errorf("%s, %s: change %g, sum %g, want %g", name, splits[i].Name, v.Change, v.Sum(), change)
			}
			if !close(c.part(v), change, 1e-9) {
				t.Errorf("%s, %s: %+v", name, splits[i].Name, v)
			}
			if splits[i].Note != "" || splits[i].FromTime != 0.7 || splits[i].ToTime != 0.7 {
				t.Errorf("%s: %+v", name, splits[i])
			}
		}
		if name != "nothing" && splits[1].Value.Change == 0 {
			t.Errorf("%s: nothing changed", name)
		}
	}
}

// The uncertainty of a frontal torque by hand: the force times how sure the centre
// of mass is; that of the mass's place has both swings in it.
func TestSplitUncertainty(t *testing.T) {
	force, pressure, mass := r3.Vec{Y: 100, Z: 800}, r3.Vec{Y: 0.12}, r3.Vec{Z: 1}
	splits, err := swing.SplitPeaks(plateaus(r3.Vec{}, force, pressure, mass, 0), plateaus(r3.Vec{}, force, pressure, r3.Vec{Y: 0.05, Z: 1}, 0))
	if err != nil {
		t.Fatal(err)
	}
	one := math.Hypot(800*0.01, 100*0.04)
	sd := splits[0].SD
	if !close(sd.From, one, 1e-9) || !close(sd.To, one, 1e-9) || !close(sd.Change, math.Sqrt2*one, 1e-9) || !close(sd.MassPlace, math.Sqrt2*one, 1e-9) ||
		!close(sd.ForceSize, 0, 1e-9) || !close(sd.PressurePlace, 0, 1e-9) || !close(sd.FreeMoment, 0, 1e-9) {
		t.Errorf("%+v", sd)
	}
}

// Two made-up golfers: the parts add up, what b has over a is the reverse of what
// a has over b, and the causes are those that the truth has.
func TestSplitOfSwings(t *testing.T) {
	analyse := func(style synth.Style) (*synth.Swing, *swing.Analysis) {
		s, err := synth.New(synth.Config{Style: style, Address: 1, Hold: 0.6})
		if err != nil {
			t.Fatal(err)
		}
		rec := s.Recording()
		rec.Marks = s.Marks()
		a, err := swing.Analyse(rec, swing.Options{Cutoff: swing.Unfiltered, COMHeight: s.At(0).Position.Z})
		if err != nil {
			t.Fatal(err)
		}
		return s, a
	}
	sa, a := analyse(synth.Balanced)
	sb, b := analyse(synth.SmallArm)
	there, err1 := swing.SplitPeaks(a, b)
	back, err2 := swing.SplitPeaks(b, a)
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	for i, x := range there {
		y := back[i].Value
		v := x.Value
		t.Logf("%s: %+v ± %+v", x.Label, v, x.SD)
		if !close(v.Sum(), v.Change, 1e-9*(math.Abs(v.From)+math.Abs(v.To))) {
			t.Errorf("%s: parts add up to %g, change %g", x.Name, v.Sum(), v.Change)
		}
		for _, p := range [][2]float64{{v.From, y.To}, {v.ForceSize, -y.ForceSize}, {v.ForceDirection, -y.ForceDirection},
			{v.PressurePlace, -y.PressurePlace}, {v.MassPlace, -y.MassPlace}, {v.FreeMoment, -y.FreeMoment}} {
			if !close(p[0], p[1], 1e-9) {
				t.Errorf("%s: %g there, %g back", x.Name, p[0], p[1])
			}
		}
		peak, _ := a.Measure(x.Name + "_torque_peak")
		if !close(v.From, peak.Value, 0.01) {
			t.Errorf("%s: from %g, measured %g", x.Name, v.From, peak.Value)
		}
	}
	// The truth at the same instants, with the feet's outlines as the stance. The
	// centre of mass from forces is within 5 mm of it (see above), 5 N·m here.
	state := func(s *synth.Swing, at float64) torque.State {
		st := s.At(at)
		first := s.At(s.Start())
		middle := r3.Scale(0.5, r3.Add(first.LeadPressure, first.TrailPressure))
		return torque.NewState(st.Net, st.Position, 0, 20).MovePressure(r3.Scale(-1, middle)).MoveMass(r3.Scale(-1, middle))
	}
	want := torque.Difference(state(sa, there[0].FromTime), state(sb, there[0].ToTime))
	v := there[0].Value
	for name, p := range map[string][2]float64{
		"size": {v.ForceSize, want.ForceSize.Frontal}, "direction": {v.ForceDirection, want.ForceDirection.Frontal},
		"pressure": {v.PressurePlace, want.PressurePosition.Frontal}, "mass": {v.MassPlace, want.MassPosition.Frontal},
	} {
		if !close(p[0], p[1], 5) {
			t.Errorf("%s: %.2f N·m, truth %.2f N·m", name, p[0], p[1])
		}
	}
	// The small arm comes from places and direction, not from less force.
	if !(v.Change < -50 && math.Abs(v.ForceSize) < 0.2*math.Abs(v.Change)) {
		t.Errorf("%+v", v)
	}
	at, err := swing.SplitAt(a, b, phase.Impact)
	if err != nil || len(at) != 3 || at[0].FromTime != a.Events.Time(phase.Impact) || !strings.Contains(at[0].Label, "at impact") {
		t.Errorf("%+v, %v", at, err)
	}
}

func TestSplitOfWhatIsMissing(t *testing.T) {
	force, pressure, mass := r3.Vec{Y: 100, Z: 800}, r3.Vec{Y: 0.12}, r3.Vec{Z: 1}
	a, b := plateaus(r3.Vec{}, force, pressure, mass, 0), plateaus(r3.Vec{}, force, pressure, mass, 0)
	b.Events.Found = b.Events.Found[:1]
	b.Events.Missing = []phase.Missing{{Name: phase.VerticalTorquePeak, Reason: "no turning point"}}
	b.Measures = nil
	splits, err := swing.SplitPeaks(a, b)
	if err != nil {
		t.Fatal(err)
	}
	if splits[0].Note != "" || math.IsNaN(splits[0].Value.Change) {
		t.Errorf("%+v", splits[0])
	}
	for _, x := range splits[1:] {
		if !math.IsNaN(x.Value.Change) || !math.IsNaN(x.SD.Change) || !strings.Contains(x.Note, "second swing") {
			t.Errorf("%+v", x)
		}
	}
	if !strings.Contains(splits[1].Note, "no turning point") {
		t.Error(splits[1].Note)
	}
	b = plateaus(r3.Vec{}, force, pressure, mass, 0)
	b.Settings.COM = "markers"
	if splits, err = swing.SplitPeaks(a, b); err != nil || !strings.Contains(splits[0].Note, "different ways") {
		t.Errorf("%+v, %v", splits, err)
	}
	b.Series.COM[70].Y = math.NaN()
	if splits, err = swing.SplitPeaks(a, b); err != nil || !math.IsNaN(splits[0].Value.Change) || !strings.Contains(splits[0].Note, "not defined") {
		t.Errorf("%+v, %v", splits, err)
	}
	b.Settings.Plane = 1
	for name, c := range map[string][2]*swing.Analysis{"none": {nil, a}, "one": {a, nil}, "other plane": {a, b}} {
		if _, err := swing.SplitPeaks(c[0], c[1]); !errors.Is(err, swing.ErrUnlike) {
			t.Errorf("%s: %v", name, err)
		}
		if _, err := swing.SplitAt(c[0], c[1], phase.Impact); !errors.Is(err, swing.ErrUnlike) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if splits, err := swing.SplitAt(a, a, phase.Top); err != nil || !strings.Contains(splits[0].Note, "first swing the time of top is not known") {
		t.Errorf("%+v, %v", splits, err)
	}
}
