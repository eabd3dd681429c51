package synth

import (
	"math"
	"testing"
)

// TestEventsDense looks for the events in samples taken every 50 µs.
func TestEventsDense(t *testing.T) {
	const step = 50e-6
	for name, s := range swings(t) {
		if s.Config().Style == Still {
			if len(s.Events()) != 0 || len(s.Marks()) != 0 {
				t.Errorf("%s has events %v and marks %v", name, s.Events(), s.Marks())
			}
			continue
		}
		from, to := s.Motion()
		impact := s.EventTime("impact")
		weight := s.Config().Mass * Gravity
		start, end := s.At(from), s.At(to)

		onset, finish := math.NaN(), math.NaN()
		even, turn := math.NaN(), math.NaN()
		var last State
		type best struct{ value, time float64 }
		peaks := map[string]*best{}
		for _, n := range []string{"trail_load_peak", "lowest_vertical", "lateral_peak", "frontal_torque_peak", "vertical_torque_peak", "lead_vertical_peak"} {
			peaks[n] = &best{math.Inf(-1), math.NaN()}
		}
		keep := func(n string, x, v float64) {
			if b := peaks[n]; v > b.value {
				*b = best{v, x}
			}
		}
		moved := func(a, b State) bool {
			return math.Abs(a.Lead.Force.Z-b.Lead.Force.Z) > OnsetLevel*weight || math.Abs(a.Trail.Force.Z-b.Trail.Force.Z) > OnsetLevel*weight
		}
		for x := from; x <= to; x += step {
			st := s.At(x)
			if math.IsNaN(onset) && moved(st, start) {
				onset = x
			}
			if moved(st, end) {
				finish = x
			}
			if x <= impact {
				keep("trail_load_peak", x, st.Trail.Force.Z)
				keep("lowest_vertical", x, -st.Net.Force.Z)
				keep("lateral_peak", x, st.Net.Force.Y)
				keep("frontal_torque_peak", x, st.Moment.X)
				keep("vertical_torque_peak", x, st.Moment.Z)
				if last.Share < 0.5 && st.Share >= 0.5 {
					even = x
				}
			}
			if x <= s.EventTime("lateral_peak") && last.Net.Force.Y < 0 && st.Net.Force.Y >= 0 {
				turn = x
			}
			if x >= s.EventTime("lowest_vertical") && x <= impact+s.Config().Downswing/2 {
				keep("lead_vertical_peak", x, st.Lead.Force.Z)
			}
			last = st
		}
		if s.At(impact).Share <= 0.5 {
			even = math.NaN()
		}
		want := map[string]float64{"onset": onset, "finish": finish, "even_load": even, "lateral_turn": turn, "address": from}
		for n, b := range peaks {
			want[n] = b.time
		}
		for n, x := range want {
			got := s.EventTime(n)
			if math.IsNaN(x) != math.IsNaN(got) || math.Abs(x-got) > 1.5*step {
				t.Errorf("%s: %s at %.6f s, in the samples at %.6f s", name, n, got, x)
			}
		}
		if name != "hang-back" && math.IsNaN(even) || name == "hang-back" && !math.IsNaN(even) {
			t.Errorf("%s: even load at %g", name, even)
		}
	}
}

// TestEventsExact checks that events are roots to the resolution of the clock.
func TestEventsExact(t *testing.T) {
	for name, s := range swings(t) {
		if s.Config().Style == Still {
			continue
		}
		lead, trail, vertical, lateral, share, frontal, horizontal := s.signals()
		slope := func(f signal) func(float64) float64 { return func(t float64) float64 { return f(t).slope } }
		from, _ := s.Motion()
		for n, f := range map[string]func(float64) float64{
			"trail_load_peak": slope(trail), "lead_vertical_peak": slope(lead), "lowest_vertical": slope(vertical),
			"lateral_peak": slope(lateral), "frontal_torque_peak": slope(frontal), "vertical_torque_peak": slope(horizontal),
			"even_load":    func(t float64) float64 { return share(t).value - 0.5 },
			"lateral_turn": func(t float64) float64 { return lateral(t).value },
		} {
			x := s.EventTime(n)
			if math.IsNaN(x) {
				continue
			}
			if a, b := f(x-1e-11), f(x+1e-11); (a < 0) == (b < 0) && a != 0 && b != 0 {
				t.Errorf("%s: no root of %s at %.12f s: %g, %g", name, n, x, a, b)
			}
		}
		// The slopes against differences of the values.
		for _, f := range []signal{lead, trail, vertical, lateral, share, frontal, horizontal} {
			for x := from; x < from+1.2; x += 0.0317 {
				const h = 1e-6
				if d := (f(x+h).value - f(x-h).value) / (2 * h); math.Abs(d-f(x).slope) > 1e-3*(1+math.Abs(d)) {
					t.Fatalf("%s at %g s: slope %g, difference quotient %g", name, x, f(x).slope, d)
				}
			}
		}
		// Order in time, and the marks among them.
		events := s.Events()
		for i, e := range events {
			if i > 0 && events[i-1].Time > e.Time {
				t.Errorf("%s: %s before %s", name, e.Name, events[i-1].Name)
			}
		}
		for n, x := range s.Marks() {
			if s.EventTime(n) != x {
				t.Errorf("%s: mark %s at %g s is no event", name, n, x)
			}
		}
		cfg := s.Config()
		m := s.Marks()
		if d := m["impact"] - m["top"]; math.Abs(d-cfg.Downswing) > 1e-12 {
			t.Errorf("%s: downswing of %g s", name, d)
		}
	}
}
