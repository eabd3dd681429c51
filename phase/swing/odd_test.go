package swing_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// noisy is a recording of one swing on plates with noise, without marks.
func noisy(t *testing.T, cfg synth.Config) (*synth.Swing, *grf.Recording) {
	t.Helper()
	s := synthetic(t, cfg)
	rec := synth.Disturbance{Seed: 5, ForceNoise: 2, MomentNoise: 0.3}.Apply(s.Recording())
	rec.Marks = nil
	return s, rec
}

// soft events have no sharp instant; how far off they may be, s.
var soft = map[phase.Name]float64{phase.Address: 0.15, phase.Onset: 0.025, phase.Impact: 0.12, phase.Finish: 0.7, phase.TrailLoadPeak: 0.04}

// compareEvents holds found events against those of the swing, whose clock is
// offset behind, and asks for the reason of every other.
func compareEvents(t *testing.T, what string, a *swing.Analysis, s *synth.Swing, offset float64) {
	t.Helper()
	for _, e := range a.Events.Found {
		within, ok := soft[e.Name]
		if !ok {
			within = 0.02
		}
		truth := s.EventTime(string(e.Name)) + offset
		if what == "saturated" && e.Name == phase.LeadVerticalPeak {
			within = 0.05 // anywhere in the part that was cut off
		}
		if d := e.Time - truth; !(math.Abs(d) <= within) {
			t.Errorf("%s: %s at %.3f s, true %.3f s", what, e.Name, e.Time, truth)
		}
	}
	for _, m := range a.Events.Missing {
		if m.Reason == "" {
			t.Errorf("%s: %s is missing without a reason", what, m.Name)
		}
	}
	if n := len(a.Events.Found) + len(a.Events.Missing); n != 12 {
		t.Errorf("%s: %d events are accounted for, want 12", what, n)
	}
}

func codes(ws []grf.Warning) []string {
	var out []string
	for _, w := range ws {
		out = append(out, w.Code)
	}
	return out
}

// Every kind of odd recording that is one swing all the same must give the events of
// the swing.
func TestOddRecordings(t *testing.T) {
	impactCut := func(after float64) func(*synth.Swing, *grf.Recording) *grf.Recording {
		return func(s *synth.Swing, rec *grf.Recording) *grf.Recording {
			return synth.Cut(rec, rec.Start, s.EventTime("impact")+after)
		}
	}
	for name, c := range map[string]struct {
		cfg     synth.Config
		change  func(*synth.Swing, *grf.Recording) *grf.Recording
		missing []phase.Name
		warning string
	}{
		"plain":             {},
		"left-handed":       {cfg: synth.Config{Handed: grf.LeftHanded}},
		"waggles":           {cfg: synth.Config{Waggles: 3, WaggleSize: 2}},
		"false starts":      {cfg: synth.Config{Waggles: 2, WaggleSize: 4}},
		"half after false":  {cfg: synth.Config{Style: synth.HalfSwing, Waggles: 2, WaggleSize: 4}},
		"step in":           {cfg: synth.Config{Unloaded: 1.5}},
		"lead foot lifted":  {cfg: synth.Config{Style: synth.LeadLift}},
		"half swing":        {cfg: synth.Config{Style: synth.HalfSwing}},
		"slow half swing":   {cfg: synth.Config{Style: synth.HalfSwing, Downswing: 0.5}},
		"hang back":         {cfg: synth.Config{Style: synth.HangBack}, missing: []phase.Name{phase.EvenLoad}},
		"short address":     {cfg: synth.Config{Address: 0.6}},
		"no hold":           {change: impactCut(0.5), missing: []phase.Name{phase.Finish}},
		"cut at impact":     {change: impactCut(0.05), missing: []phase.Name{phase.Finish}},
		"lost samples":      {change: disturbed(synth.Disturbance{Seed: 3, Dropped: 0.01}), warning: "lost-samples"},
		"many lost samples": {change: disturbed(synth.Disturbance{Seed: 3, Dropped: 0.1}), warning: "lost-samples"},
		"most samples lost": {change: disturbed(synth.Disturbance{Seed: 3, Dropped: 0.5}), warning: "lost-samples"},
		"saturated":         {change: disturbed(synth.Disturbance{Seed: 3, ForceLimit: 850}), warning: "saturated"},
		"double start": {change: func(s *synth.Swing, rec *grf.Recording) *grf.Recording {
			// Up to three quarters of the backswing, back again, a moment of rest;
			// the clock starts so that the second start is where the swing has it.
			from, _ := s.Motion()
			x := from + 0.75*(s.EventTime("top")-from)
			var out grf.Recording
			for _, b := range [][2]float64{{0, x}, {x, from}, {from - 0.3, s.End()}} {
				i, j := rec.Index(b[0]), rec.Index(b[1])
				for k := i; k != j; k += sign(j - i) {
					out.Lead, out.Trail = append(out.Lead, rec.Lead[k]), append(out.Trail, rec.Trail[k])
				}
			}
			out.Rate, out.Start = rec.Rate, -2*(x-from)-0.3
			return &out
		}},
	} {
		s, rec := noisy(t, c.cfg)
		if c.change != nil {
			rec = c.change(s, rec)
		}
		a, err := swing.Analyse(rec, swing.Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		compareEvents(t, name, a, s, 0)
		var missing []phase.Name
		for _, m := range a.Events.Missing {
			missing = append(missing, m.Name)
			t.Logf("%s: %s: %s", name, m.Name, m.Reason)
		}
		if !slices.Equal(missing, c.missing) {
			t.Errorf("%s: missing %v, want %v", name, missing, c.missing)
		}
		got := codes(a.Warnings)
		for _, code := range []string{"several-swings", "swing-left-out", "lost-samples", "saturated"} {
			if slices.Contains(got, code) != (code == c.warning) {
				t.Errorf("%s: warnings %v, want %q", name, got, c.warning)
			}
		}
	}
}

func sign(n int) int {
	if n < 0 {
		return -1
	}
	return 1
}

func disturbed(d synth.Disturbance) func(*synth.Swing, *grf.Recording) *grf.Recording {
	return func(_ *synth.Swing, rec *grf.Recording) *grf.Recording { return d.Apply(rec) }
}

// Recordings without a swing that can be worked on: no event, and the reason.
func TestNoSwingToWorkOn(t *testing.T) {
	s, rec := noisy(t, synth.Config{})
	from, _ := s.Motion()
	standing := func(waggles int, size float64) *grf.Recording {
		_, rec := noisy(t, synth.Config{Style: synth.Still, Waggles: waggles, WaggleSize: size})
		return rec
	}
	for name, c := range map[string]struct {
		rec  *grf.Recording
		want error
	}{
		"standing":            {standing(0, 0), phase.ErrNoSwing},
		"waggles":             {standing(4, 1), phase.ErrNoSwing},
		"false starts":        {standing(4, 4), phase.ErrNoSwing},
		"backswing only":      {synth.Cut(rec, 0, s.EventTime("top")-0.1), phase.ErrNoSwing},
		"from the backswing":  {synth.Cut(rec, from+0.3, s.EventTime("impact")+0.5), grf.ErrNoQuiet},
		"after the downswing": {synth.Cut(rec, s.EventTime("impact")+0.1, s.End()), phase.ErrNoSwing},
		"only lost samples":   {lostBetween(rec, 0, s.End()), swing.ErrNobody},
		"address lost":        {lostBetween(rec, 0, from+0.3), grf.ErrNoQuiet},
		"downswing lost":      {lostBetween(rec, s.EventTime("top")-0.3, s.EventTime("impact")+0.3), phase.ErrNoSwing},
	} {
		if a, err := swing.Analyse(c.rec, swing.Options{}); !errors.Is(err, c.want) || a != nil {
			t.Errorf("Analyse, %s: %v", name, err)
		}
		if parts, _, err := swing.Split(c.rec, swing.Options{}); !errors.Is(err, c.want) || parts != nil {
			t.Errorf("Split, %s: %v", name, err)
		}
	}
}

func lostBetween(rec *grf.Recording, from, to float64) *grf.Recording {
	out := *rec
	out.Lead, out.Trail = slices.Clone(rec.Lead), slices.Clone(rec.Trail)
	for i := rec.Index(from); i <= rec.Index(to); i++ {
		out.Lead[i], out.Trail[i] = grf.NaN(), grf.NaN()
	}
	return &out
}

// Values at lost samples are undefined, beside them they are not.
func TestLostSamplesStayUndefined(t *testing.T) {
	s, rec := noisy(t, synth.Config{})
	at := rec.Index(s.EventTime("impact"))
	rec = lostBetween(rec, rec.Time(at), rec.Time(at+7))
	a, err := swing.Analyse(rec, swing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i := at - 3; i < at+11; i++ {
		undefined := i >= at && i <= at+7
		if z := a.Series.Net[i].Force.Z; math.IsNaN(z) != undefined || math.IsNaN(a.Series.NetCOP[i].X) != undefined || math.IsNaN(a.Sample(i).Moment.Frontal) != undefined {
			t.Errorf("sample %d from the gap on: %g N", i-at, z)
		}
		if st := s.At(rec.Time(i)); !undefined && math.Abs(a.Series.Net[i].Force.Z-st.Net.Force.Z) > 15 {
			t.Errorf("sample %d from the gap on: %g N, true %g N", i-at, a.Series.Net[i].Force.Z, st.Net.Force.Z)
		}
	}
	if w := a.Warnings[0]; w.Code != "lost-samples" || !strings.Contains(w.Text, "8 of ") {
		t.Error(w)
	}
}
