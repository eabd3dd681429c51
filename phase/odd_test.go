package phase_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/validation/synth"
)

// piece returns the samples of a recording between two instants, in reverse order
// if from is the later one.
func piece(rec *grf.Recording, from, to float64) (lead, trail []grf.Wrench) {
	i, j, step := rec.Index(from), rec.Index(to), 1
	if i > j {
		step = -1
	}
	for k := i; k != j; k += step {
		lead, trail = append(lead, rec.Lead[k]), append(trail, rec.Trail[k])
	}
	return lead, trail
}

// pieces puts stretches of a recording one after the other.
func pieces(rec *grf.Recording, bounds ...[2]float64) *grf.Recording {
	out := *rec
	out.Lead, out.Trail, out.Marks = nil, nil, nil
	for _, b := range bounds {
		lead, trail := piece(rec, b[0], b[1])
		out.Lead, out.Trail = append(out.Lead, lead...), append(out.Trail, trail...)
	}
	return &out
}

// whereabouts checks that the events that came out are those of the swing, whose
// clock is offset seconds behind.
func whereabouts(t *testing.T, what string, got map[phase.Name]float64, s *synth.Swing, offset float64) {
	t.Helper()
	for name, within := range map[phase.Name]float64{
		phase.Onset: 0.025, phase.TrailLoadPeak: 0.02, phase.LateralTurn: 0.01, phase.LowestVertical: 0.005, phase.EvenLoad: 0.005,
		phase.LateralPeak: 0.01, phase.LeadVerticalPeak: 0.005,
		// Where this golfer's load creeps along the border of its band, within 1 N of
		// it, noise decides when it is in for good.
		phase.Finish: 0.7,
	} {
		if d := got[name] - s.EventTime(string(name)) - offset; !(math.Abs(d) < within) {
			t.Errorf("%s: %s at %.3f s, true %.3f s", what, name, got[name], s.EventTime(string(name))+offset)
		}
	}
}

// swingsOf streams a recording and returns the events of each swing.
func swingsOf(t *testing.T, rec *grf.Recording) (*phase.Online, []map[phase.Name]float64) {
	t.Helper()
	o := online(t, phase.OnlineOptions{Start: rec.Start, Rate: rec.Rate})
	var swings []map[phase.Name]float64
	for i := range rec.Len() {
		for _, e := range o.Push(sample(rec, i)) {
			if o.Swings() > len(swings) {
				swings = append(swings, map[phase.Name]float64{})
			}
			swings[len(swings)-1][e.Name] = e.Time
		}
	}
	return o, swings
}

func TestWagglesAreNoSwing(t *testing.T) {
	for _, size := range []float64{1, 2, 3, 4} {
		s, rec := plain(t, synth.Config{Style: synth.Still, Waggles: 5, WaggleSize: size})
		if o, swings := swingsOf(t, rec); o.Swings() != 0 || len(swings) != 0 {
			t.Errorf("waggles of size %g: %v", size, swings)
		}
		net := together(t, rec).Net
		weight := s.Config().Mass * synth.Gravity
		if i, err := phase.FindDownswing(net, rec.Rate, weight, 0, len(net)-1); !errors.Is(err, phase.ErrNoSwing) {
			t.Errorf("waggles of size %g: downswing at %.3f s, %v", size, rec.Time(i), err)
		}
		for _, style := range []synth.Style{synth.Balanced, synth.HalfSwing, synth.HangBack} {
			s, rec := plain(t, synth.Config{Style: style, Waggles: 2, WaggleSize: size})
			o, swings := swingsOf(t, rec)
			if len(swings) != 1 || math.Abs(swings[0][phase.Onset]-s.EventTime("onset")) > 0.025 {
				t.Errorf("%v after waggles of size %g: %d swings, %v", style, size, o.Swings(), swings)
			}
		}
	}
}

func TestStepIntoTheStance(t *testing.T) {
	s, rec := plain(t, synth.Config{Unloaded: 1.5})
	if _, swings := swingsOf(t, rec); len(swings) != 1 {
		t.Errorf("%d swings", len(swings))
	} else {
		whereabouts(t, "step in", swings[0], s, 0)
	}
}

// Start, stop, start again: wherever in the backswing the golfer turns back, and
// however short the pause at address is then, the second start counts.
func TestDoubleStart(t *testing.T) {
	s, rec := plain(t, synth.Config{})
	from, _ := s.Motion()
	for _, stop := range []float64{0.3, 0.6, 0.85, 1} {
		for _, rest := range []float64{0.3, 1} {
			x := from + stop*(s.EventTime("top")-from)
			double := pieces(rec, [2]float64{0, x}, [2]float64{x, from}, [2]float64{from - rest, from}, [2]float64{from, s.End()})
			what := fmt.Sprintf("stop at %g of the backswing, %g s of rest", stop, rest)
			if _, swings := swingsOf(t, double); len(swings) != 1 {
				t.Errorf("%s: %d swings", what, len(swings))
			} else {
				whereabouts(t, what, swings[0], s, 2*(x-from)+rest)
			}
		}
	}
}

func TestOnlineSeveralSwings(t *testing.T) {
	var swings []*synth.Swing
	for _, style := range []synth.Style{synth.Balanced, synth.HalfSwing, synth.LeadLift, synth.Reverse} {
		s, err := synth.New(synth.Config{Style: style})
		if err != nil {
			t.Fatal(err)
		}
		swings = append(swings, s)
	}
	rec, offset, err := synth.Join(1.5, swings...)
	if err != nil {
		t.Fatal(err)
	}
	rec = synth.Disturbance{Seed: 6, ForceNoise: 2, MomentNoise: 0.3}.Apply(rec)
	_, got := swingsOf(t, rec)
	if len(got) != len(swings) {
		t.Fatalf("%d swings", len(got))
	}
	for i, s := range swings {
		whereabouts(t, s.Config().Style.String(), got[i], s, offset[i])
	}
}

// A golfer who is gone, does not hold the finish or has not enough time: the finish
// is missing with the reason, the rest is there.
func TestOnlineWithoutFinish(t *testing.T) {
	s, rec := plain(t, synth.Config{})
	gone := *rec
	gone.Lead, gone.Trail = append([]grf.Wrench(nil), rec.Lead...), append([]grf.Wrench(nil), rec.Trail...)
	for i := rec.Index(s.EventTime("impact") + 0.3); i < rec.Len(); i++ {
		gone.Lead[i], gone.Trail[i] = grf.Wrench{}, grf.Wrench{}
	}
	// Back and forth between two instants of the follow-through.
	a, b := s.EventTime("impact")+0.1, s.EventTime("impact")+0.5
	restless := [][2]float64{{0, b}}
	for range 10 {
		restless = append(restless, [2]float64{b, a}, [2]float64{a, b})
	}
	for name, rec := range map[string]*grf.Recording{"gone": &gone, "restless": pieces(rec, restless...)} {
		o, swings := swingsOf(t, rec)
		if len(swings) != 1 || o.State() == phase.Swinging {
			t.Fatalf("%s: %d swings, %v", name, len(swings), o.State())
		}
		for _, event := range []phase.Name{phase.Onset, phase.TrailLoadPeak, phase.LowestVertical, phase.LeadVerticalPeak} {
			if d := swings[0][event] - s.EventTime(string(event)); !(math.Abs(d) < 0.02) {
				t.Errorf("%s: %s %.1f ms off", name, event, 1000*d)
			}
		}
		why := map[phase.Name]string{}
		for _, m := range o.Events().Missing {
			why[m.Name] = m.Reason
		}
		if _, ok := swings[0][phase.Finish]; ok || why[phase.Finish] == "" {
			t.Errorf("%s: finish %v, %q", name, ok, why[phase.Finish])
		}
		t.Logf("%s: %s", name, why[phase.Finish])
	}
}

// A golfer who walks off or a plate that falls silent in the middle of the downswing
// leaves what was known, and reasons for the rest.
func TestOnlineCutOff(t *testing.T) {
	s, rec := plain(t, synth.Config{})
	for _, after := range []float64{0.1, 0.3, 0.5} {
		end := rec.Index(s.EventTime("impact") + after)
		silent := *rec
		silent.Lead, silent.Trail = append([]grf.Wrench(nil), rec.Lead...), append([]grf.Wrench(nil), rec.Trail...)
		for i := end; i < rec.Len(); i++ {
			silent.Lead[i], silent.Trail[i] = grf.NaN(), grf.NaN()
		}
		o, swings := swingsOf(t, &silent)
		if o.State() != phase.Waiting {
			t.Errorf("%g s after impact: %v", after, o.State())
		}
		if len(swings) == 0 {
			continue // silent before the downswing was certain
		}
		found, missing := len(o.Events().Found), len(o.Events().Missing)
		if found+missing != 12 || found < 3 {
			t.Errorf("%g s after impact: %d events are found and %d missing: %v", after, found, missing, o.Events())
		}
		for name, at := range swings[0] {
			if at > rec.Time(end) || math.Abs(at-s.EventTime(string(name))) > 0.06 {
				t.Errorf("%g s after impact: %s at %.3f s", after, name, at)
			}
		}
	}
}

// Lost samples here and there must not make anything up; those far from an event do
// not matter.
func TestOnlineLostSamples(t *testing.T) {
	s, rec := plain(t, synth.Config{})
	lossy := synth.Disturbance{Seed: 4, Dropped: 0.002}.Apply(rec)
	o, swings := swingsOf(t, lossy)
	if len(swings) != 1 {
		t.Fatalf("%d swings", len(swings))
	}
	for name, at := range swings[0] {
		if d := at - s.EventTime(string(name)); name != phase.Finish && !(math.Abs(d) < 0.1) {
			t.Errorf("%s: %.1f ms off", name, 1000*d)
		}
	}
	if n := len(o.Events().Found) + len(o.Events().Missing); n != 12 {
		t.Errorf("%d events are accounted for", n)
	}
	never := synth.Disturbance{Seed: 4, Dropped: 1}.Apply(rec)
	if o, swings := swingsOf(t, never); len(swings) != 0 || o.State() != phase.Waiting {
		t.Errorf("only lost samples: %v, %v", swings, o.State())
	}
}

// An instrument without horizontal forces: stances, loads and shares are as well
// known, and so is what they define.
func TestOnlineWithoutHorizontalForces(t *testing.T) {
	s, rec := plain(t, synth.Config{})
	flat := *rec
	flat.Lead, flat.Trail = nil, nil
	for i := range rec.Lead {
		flat.Lead = append(flat.Lead, rec.Lead[i].WithoutHorizontal())
		flat.Trail = append(flat.Trail, rec.Trail[i].WithoutHorizontal())
	}
	o, swings := swingsOf(t, &flat)
	if len(swings) != 1 {
		t.Fatalf("%d swings", len(swings))
	}
	for _, name := range []phase.Name{phase.Onset, phase.TrailLoadPeak, phase.LowestVertical, phase.EvenLoad, phase.LeadVerticalPeak} {
		if d := swings[0][name] - s.EventTime(string(name)); !(math.Abs(d) < 0.02) {
			t.Errorf("%s: %.1f ms off", name, 1000*d)
		}
	}
	for _, name := range []phase.Name{phase.LateralTurn, phase.LateralPeak} {
		if _, ok := swings[0][name]; ok {
			t.Errorf("%s was found without lateral force: %v", name, o.Events())
		}
	}
}

// Gaps up to 20 ms are bridged, longer ones leave an event missing, never NaN.
func TestDetectOverGaps(t *testing.T) {
	for _, gap := range []float64{0.004, 0.018, 0.1} {
		for _, at := range append([]phase.Name{phase.Onset, phase.Finish}, instants...) {
			s, in := clean(t, synth.Config{})
			still, err := phase.FindStill(s.Recording(), in.Address.Weight, grf.QuietOptions{From: s.EventTime("impact") + 0.4, To: s.End()})
			if err != nil {
				t.Fatal(err)
			}
			in.Still = &still
			for i := range in.Net {
				if x := in.Start + float64(i)/in.Rate; math.Abs(x-s.EventTime(string(at))) <= gap/2 {
					in.Net[i], in.Lead[i], in.Trail[i] = grf.NaN(), grf.NaN(), grf.NaN()
					in.Frontal[i], in.Horizontal[i] = math.NaN(), math.NaN()
				}
			}
			ev, err := phase.Detect(in)
			if err != nil {
				t.Fatal(err)
			}
			if n := len(ev.Found) + len(ev.Missing); n != 12 {
				t.Errorf("%g s lost at %s: %d events are accounted for", gap, at, n)
			}
			for _, e := range ev.Found {
				d := math.Abs(e.Time - s.EventTime(string(e.Name)))
				// A straight line over a peak cuts it off by at most half its length.
				if soft := e.Name == phase.Address || e.Name == phase.Impact; !soft && !(d <= gap/2+0.004) {
					t.Errorf("%g s lost at %s: %s %.1f ms off", gap, at, e.Name, 1000*d)
				}
			}
			if gap < 0.02 && len(ev.Missing) > 0 {
				t.Errorf("%g s lost at %s: missing %v", gap, at, ev.Missing)
			}
		}
	}
}
