package synth

import (
	"math"
	"testing"
)

// TestPlausible holds swings against ranges that have been reported. It keeps
// the made-up curves believable; it validates nothing.
func TestPlausible(t *testing.T) {
	full := []Style{Balanced, Reverse, LateWide, Squat, EarlyDrift, SmallArm, LeadLift, HangBack}
	for _, style := range full {
		for individual := range uint64(3) {
			s, err := New(Config{Style: style, Individual: individual})
			if err != nil {
				t.Errorf("%v, golfer %d: %v", style, individual, err)
				continue
			}
			cfg := s.Config()
			weight := cfg.Mass * Gravity
			at := func(event string) State { return s.At(s.EventTime(event)) }
			within := func(what string, v, lo, hi float64, source string) {
				t.Helper()
				if !(v >= lo && v <= hi) {
					t.Errorf("%v, golfer %d: %s is %.3f, not %g to %g (%s)", style, individual, what, v, lo, hi, source)
				}
			}
			const (
				bands = "band drawn around Okuda et al. 2010, J. Sports Sci. Med. 9:127–133, Bourgain et al. 2020, Proceedings 49:45 and Worsfold et al. 2007, J. Sports Sci. Med. 6:484–489"
				trade = "common practice (no published source)"
			)
			// Load of the feet.
			within("trail load peak, body weights", at("trail_load_peak").Trail.Force.Z/weight, 0.6, 1.1, bands)
			if style != HangBack {
				within("lead peak, body weights", at("lead_vertical_peak").Lead.Force.Z/weight, 0.7, 1.7, bands)
				within("lead peak before impact, s", s.EventTime("impact")-s.EventTime("lead_vertical_peak"), 0, 0.12,
					"before impact in all players but one: Bourgain et al. 2020")
			}
			within("lowest vertical, body weights", at("lowest_vertical").Net.Force.Z/weight, 0.3, 0.9, trade)
			// Horizontal forces and free moments.
			for x := s.EventTime("address"); x < s.EventTime("finish"); x += 0.002 {
				st := s.At(x)
				within("horizontal force, lead foot", math.Hypot(st.Lead.Force.X, st.Lead.Force.Y)/weight, 0, 0.35, bands)
				within("horizontal force, trail foot", math.Hypot(st.Trail.Force.X, st.Trail.Force.Y)/weight, 0, 0.35, bands)
				if st.Share > 0 {
					within("free moment, lead foot", math.Abs(st.LeadFree), 0, 30,
						"Worsfold et al. 2008, J. Sports Sci. Med. 7:408–414: range of the lead foot about 40 N·m")
				}
				within("free moment, trail foot", math.Abs(st.TrailFree), 0, 30, "the same")
				within("pressure toward the toes, m", math.Abs(st.NetPressure.X), 0, cfg.Stature*0.076, "half a foot length")
			}
			peak := func(f func(State) float64) float64 {
				p := 0.0
				for x := s.EventTime("address"); x < s.EventTime("finish"); x += 0.002 {
					p = math.Max(p, f(s.At(x)))
				}
				return p / weight
			}
			within("largest horizontal force, lead foot", peak(func(st State) float64 { return math.Hypot(st.Lead.Force.X, st.Lead.Force.Y) }), 0.1, 0.35, bands)
			within("largest horizontal force, trail foot", peak(func(st State) float64 { return math.Hypot(st.Trail.Force.X, st.Trail.Force.Y) }), 0.1, 0.35, bands)
			// Torque and arm.
			st := at("frontal_torque_peak")
			arm := st.Moment.X / math.Hypot(st.Net.Force.Y, st.Net.Force.Z)
			if style == SmallArm {
				within("frontal arm, m", arm, 0.03, 0.13, "what the style is named for")
			} else {
				within("frontal arm, m", arm, 0.1, 0.36, trade)
			}
			// The centre of mass stays over the feet and moves as a body can.
			for x := s.Start(); x < s.End(); x += 0.01 {
				st := s.At(x)
				within("travel along the target line", math.Abs(st.Position.Y)/cfg.StanceWidth, 0, 0.5, "between the feet")
				within("travel across it, m", math.Abs(st.Position.X), 0, 0.1, "over the feet")
				within("speed, m/s", math.Sqrt(st.Velocity.X*st.Velocity.X+st.Velocity.Y*st.Velocity.Y+st.Velocity.Z*st.Velocity.Z), 0, 1, trade)
			}
		}
	}
}

// TestTradeFigures holds the default golfer against the trade's figures:
// common practice (no published source).
func TestTradeFigures(t *testing.T) {
	s, err := New(Config{})
	if err != nil {
		t.Fatal(err)
	}
	load := s.At(s.EventTime("trail_load_peak"))
	if trail := 1 - load.Share; trail < 0.85 || trail > 0.95 {
		t.Errorf("trail foot carries %.3f at its peak, not some 90 %%", trail)
	}
	takeaway, top := s.EventTime("onset"), s.EventTime("top")
	if early := (load.Time - takeaway) / (top - takeaway); early > 0.8 {
		t.Errorf("trail load peaks after %.2f of the backswing, not early", early)
	}
	if down := s.At(s.EventTime("lead_arm_parallel_down")).Share; down < 0.6 || down > 0.65 {
		t.Errorf("lead foot carries %.3f with the lead arm parallel, not 60 to 65 %%", down)
	}
	if low := s.At(s.EventTime("lowest_vertical")).Net.Force.Z / (s.Config().Mass * Gravity); low < 0.65 || low > 0.75 {
		t.Errorf("lowest vertical is %.3f body weights, not some 0.7", low)
	}
	if x := s.EventTime("lowest_vertical"); x < top-0.05 || x > top+0.1 {
		t.Errorf("lowest vertical %.3f s from the top: not in transition", x-top)
	}
	// Downswing 0.31 ± 0.04 s (Beak 2013, BioMed. Eng. OnLine 12:13), backswing
	// about three times as long (Grober and Cholewicki 2008, arXiv:0806.4762,
	// number from memory).
	if d := s.EventTime("impact") - top; d < 0.25 || d > 0.35 {
		t.Errorf("downswing takes %g s", d)
	}
}

// TestFaults checks that each style carries its fault and that Balanced has
// none of them.
func TestFaults(t *testing.T) {
	type figures struct{ late, outer, lowLead, leadLow, drift, arm, even float64 }
	measure := func(style Style) figures {
		s, err := New(Config{Style: style})
		if err != nil {
			t.Fatal(err)
		}
		onset, top := s.EventTime("onset"), s.EventTime("top")
		weight := s.Config().Mass * Gravity
		f := figures{late: (s.EventTime("trail_load_peak") - onset) / (top - onset), outer: math.Inf(-1)}
		_, trail := s.Feet()
		for x := onset; x < s.EventTime("lowest_vertical"); x += 0.005 {
			_, wide := trail.place(s.At(x).TrailPressure)
			f.outer = math.Max(f.outer, wide)
		}
		low := s.At(s.EventTime("lowest_vertical"))
		f.lowLead, f.leadLow = low.Net.Force.Z/weight, low.Lead.Force.Z/weight
		f.drift = s.At(top).Position.Y / s.Config().StanceWidth
		st := s.At(s.EventTime("frontal_torque_peak"))
		f.arm = st.Moment.X / math.Hypot(st.Net.Force.Y, st.Net.Force.Z)
		f.even = s.EventTime("even_load")
		return f
	}
	good := measure(Balanced)
	for style, bad := range map[Style]func(f figures) bool{
		LateWide:   func(f figures) bool { return f.late > 0.85 && f.outer > 0.6 },
		Squat:      func(f figures) bool { return f.lowLead < 0.55 && f.leadLow < 0.12 },
		EarlyDrift: func(f figures) bool { return f.drift > 0 },
		SmallArm:   func(f figures) bool { return f.arm < 0.13 },
		HangBack:   func(f figures) bool { return math.IsNaN(f.even) },
	} {
		if f := measure(style); !bad(f) {
			t.Errorf("%v lacks its fault: %+v", style, f)
		}
		if bad(good) {
			t.Errorf("balanced has the fault of %v: %+v", style, good)
		}
	}
}
