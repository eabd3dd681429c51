package phase_test

import (
	"math"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/validation/synth"
)

// A mat measures no horizontal force: what the vertical forces define comes out
// where the closed form has it, and the rest is missing with the reason.
func TestDetectWithoutHorizontalForce(t *testing.T) {
	s, in := clean(t, synth.Config{})
	for _, ws := range [][]grf.Wrench{in.Net, in.Lead, in.Trail} {
		for i := range ws {
			ws[i] = ws[i].WithoutHorizontal()
		}
	}
	in.Frontal, in.Horizontal = nil, nil
	rec := &grf.Recording{Start: in.Start, Rate: in.Rate, Lead: in.Lead, Trail: in.Trail}
	q, err := phase.FindAddress(rec, grf.QuietOptions{From: rec.Start, To: s.EventTime("top")})
	if err != nil {
		t.Fatal(err)
	}
	in.Address = q
	ev, err := phase.Detect(in)
	if err != nil {
		t.Fatal(err)
	}
	reasons := map[phase.Name]string{}
	for _, m := range ev.Missing {
		reasons[m.Name] = m.Reason
	}
	for _, name := range instants {
		switch name {
		case phase.LateralTurn, phase.LateralPeak, phase.FrontalTorquePeak, phase.VerticalTorquePeak:
			if reasons[name] != grf.NoHorizontal {
				t.Errorf("%s: time %g, reason %q", name, ev.Time(name), reasons[name])
			}
		default:
			if d := ev.Time(name) - s.EventTime(string(name)); !(math.Abs(d) < 1e-4) {
				t.Errorf("%s: %.2f ms off", name, 1000*d)
			}
		}
	}
	if d := ev.Time(phase.Onset) - s.EventTime("onset"); !(math.Abs(d) < 1e-3) {
		t.Errorf("onset %.1f ms off", 1000*d)
	}
	if _, ok := ev.Get(phase.Impact); !ok {
		t.Error("no estimate of the impact")
	}
	// Somebody else may know what the mat does not.
	in.Given = map[string]float64{"lateral_peak": s.EventTime("lateral_peak")}
	if ev, err = phase.Detect(in); err != nil {
		t.Fatal(err)
	}
	if e, ok := ev.Get(phase.LateralPeak); !ok || e.Source != phase.Given {
		t.Errorf("given lateral peak: %+v", e)
	}
}

// A stance that is quiet on plates is the same one on a mat.
func TestStancesWithoutHorizontalForce(t *testing.T) {
	s, err := synth.New(synth.Config{})
	if err != nil {
		t.Fatal(err)
	}
	plates := s.Recording()
	mat := *plates
	mat.Lead, mat.Trail = nil, nil
	for i := range plates.Lead {
		mat.Lead = append(mat.Lead, plates.Lead[i].WithoutHorizontal())
		mat.Trail = append(mat.Trail, plates.Trail[i].WithoutHorizontal())
	}
	opt := grf.QuietOptions{From: s.EventTime("impact") + 0.5, To: s.End()}
	want, err := phase.FindStill(plates, address(plates).Weight, opt)
	if err != nil {
		t.Fatal(err)
	}
	got, err := phase.FindStill(&mat, want.Weight, opt)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(got.From-want.From) > 0.1 || math.Abs(got.Weight-want.Weight) > 0.01*want.Weight {
		t.Errorf("mat: still from %.3f s with %.1f N, plates: from %.3f s with %.1f N", got.From, got.Weight, want.From, want.Weight)
	}
}

func address(rec *grf.Recording) grf.Quiet {
	q, _ := phase.FindAddress(rec, grf.QuietOptions{From: rec.Start, To: rec.Start + 2})
	return q
}
