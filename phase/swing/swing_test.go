package swing_test

import (
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

func synthetic(t *testing.T, cfg synth.Config) *synth.Swing {
	t.Helper()
	s, err := synth.New(cfg)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// On clean, unfiltered data the forces and moments are exact to rounding, and a
// centre of mass from forces alone is within 5 mm of the truth.
func TestAnalyseAgainstKnownSwing(t *testing.T) {
	for _, handed := range []grf.Handedness{grf.RightHanded, grf.LeftHanded} {
		s := synthetic(t, synth.Config{Handed: handed})
		rec := s.Recording()
		h := s.At(rec.Start).Position.Z
		a, err := swing.Analyse(rec, swing.Options{Cutoff: swing.Unfiltered, COMHeight: h})
		if err != nil {
			t.Fatal(err)
		}
		var worst float64
		for i, time := range a.Series.Time {
			st := s.At(time)
			if d := r3.Norm(r3.Sub(a.Series.Net[i].Force, st.Net.Force)); d > 1e-9 {
				t.Fatalf("net force at %.3f s is %g N off", time, d)
			}
			if d := math.Abs(a.Sample(i).LeadShare - st.Share); d > 1e-12 {
				t.Fatalf("share at %.3f s is %g off", time, d)
			}
			if d := r3.Norm(r3.Sub(a.Series.NetCOP[i], st.NetPressure)); d > 1e-12 {
				t.Fatalf("centre of pressure at %.3f s is %g m off", time, d)
			}
			worst = math.Max(worst, r3.Norm(r3.Sub(a.Series.COM[i], st.Position)))
		}
		if worst > 0.005 {
			t.Errorf("%v: centre of mass is up to %.1f mm off", handed, 1000*worst)
		}
		t.Logf("%v-handed: centre of mass within %.3f mm", handed, 1000*worst)
	}
}

// With the true centre of mass, moments about it are the rate of change of the
// angular momentum.
func TestMomentsWithGivenCentreOfMass(t *testing.T) {
	s := synthetic(t, synth.Config{})
	rec := s.Recording()
	var track grf.Track
	for i := range rec.Lead {
		track.Time = append(track.Time, rec.Time(i))
		track.Position = append(track.Position, s.At(rec.Time(i)).Position)
	}
	a, err := swing.Analyse(rec, swing.Options{Cutoff: swing.Unfiltered, COM: []com.Source{{Name: "truth", Track: track, SD: r3.Vec{X: 1e-6, Y: 1e-6, Z: 1e-6}}}})
	if err != nil {
		t.Fatal(err)
	}
	for i, time := range a.Series.Time {
		m := a.Sample(i).Moment
		if d := r3.Norm(r3.Sub(m.Vec(), s.At(time).Moment)); d > 0.01 {
			t.Fatalf("moment at %.3f s is %g N·m off", time, d)
		}
	}
}

// Events of the analysis, filtered, against the closed form.
func TestEventsOfKnownSwing(t *testing.T) {
	s := synthetic(t, synth.Config{})
	rec := s.Recording()
	rec.Marks = nil
	a, err := swing.Analyse(rec, swing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []phase.Name{phase.TrailLoadPeak, phase.LateralTurn, phase.LowestVertical, phase.EvenLoad,
		phase.LateralPeak, phase.FrontalTorquePeak, phase.LeadVerticalPeak, phase.VerticalTorquePeak} {
		e, ok := a.Events.Get(name)
		if !ok {
			t.Errorf("%s: not found", name)
			continue
		}
		if d := e.Time - s.EventTime(string(name)); math.Abs(d) > 0.002 {
			t.Errorf("%s: %.1f ms off", name, 1000*d)
		}
		if e.Source != phase.Detected {
			t.Errorf("%s: %v", name, e.Source)
		}
	}
	if e, ok := a.Events.Get(phase.Impact); !ok || e.Source != phase.Estimated {
		t.Errorf("impact without a mark: %+v", e)
	}
	if _, ok := a.Events.Get(phase.Finish); !ok {
		t.Errorf("finish: %v", a.Events.Missing)
	}
	for _, m := range a.Measures {
		t.Logf("%-50s %10.3f ± %-8.2g %-8s %s", m.Name, m.Value, m.SD, m.Unit, m.Note)
	}
	for _, w := range a.Warnings {
		t.Log(w)
	}
	for _, st := range a.Steps {
		t.Log(st)
	}
}

func TestAnalyseRefuses(t *testing.T) {
	good := synthetic(t, synth.Config{}).Recording()
	for name, c := range map[string]struct {
		rec  func() *grf.Recording
		opt  swing.Options
		want error
	}{
		"cut-off above half the rate": {opt: swing.Options{Cutoff: 600}, want: swing.ErrOptions},
		"negative cut-off":            {opt: swing.Options{Cutoff: -3}, want: swing.ErrOptions},
		"plane upright":               {opt: swing.Options{Plane: 2}, want: swing.ErrOptions},
		"gravity of the moon":         {opt: swing.Options{Gravity: 1.62}, want: swing.ErrOptions},
		"negative threshold":          {opt: swing.Options{MinVertical: -1}, want: swing.ErrOptions},
		"negative arm threshold":      {opt: swing.Options{MinPlane: -1}, want: swing.ErrOptions},
		"height in mm":                {opt: swing.Options{COMHeight: 950}, want: swing.ErrOptions},
		"nobody": {rec: func() *grf.Recording {
			return &grf.Recording{Rate: 1000, Net: make([]grf.Wrench, 3000)}
		}, want: swing.ErrNobody},
		"upside down": {rec: func() *grf.Recording {
			r := *good
			r.Lead, r.Trail = negated(good.Lead), negated(good.Trail)
			return &r
		}, want: swing.ErrNobody},
		"mark outside": {rec: func() *grf.Recording {
			r := *good
			r.Marks = map[string]float64{"impact": 99}
			return &r
		}, want: grf.ErrWindow},
		"no rate": {rec: func() *grf.Recording { r := *good; r.Rate = 0; return &r }, want: grf.ErrRate},
		"only standing": {rec: func() *grf.Recording {
			r := *good
			r.Lead, r.Trail, r.Marks = good.Lead[:1500], good.Trail[:1500], nil
			return &r
		}, want: phase.ErrNoSwing},
		"no quiet stance": {rec: func() *grf.Recording {
			r := *good
			r.Lead, r.Trail, r.Start = good.Lead[2300:3500], good.Trail[2300:3500], 2.3
			return &r
		}, want: grf.ErrNoQuiet},
	} {
		rec := good
		if c.rec != nil {
			rec = c.rec()
		}
		if a, err := swing.Analyse(rec, c.opt); !errors.Is(err, c.want) || a != nil {
			t.Errorf("%s: %v", name, err)
		} else {
			t.Logf("%s: %v", name, err)
		}
	}
}

func negated(ws []grf.Wrench) []grf.Wrench {
	out := make([]grf.Wrench, len(ws))
	for i, w := range ws {
		out[i] = w.Scale(-1)
	}
	return out
}
