package synth_test

import (
	"math"
	"testing"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
	"example.com/momentarm/torque"
	"example.com/momentarm/validation/synth"
	"gonum.org/v1/gonum/spatial/r3"
)

// TestLibrary asks the rest of the library about exact wrenches and compares
// with the truth.
func TestLibrary(t *testing.T) {
	for _, style := range []synth.Style{synth.Balanced, synth.LateWide, synth.LeadLift} {
		s, err := synth.New(synth.Config{Style: style})
		if err != nil {
			t.Fatal(err)
		}
		rec := s.Recording()
		if err := rec.Check(); err != nil {
			t.Fatal(err)
		}
		for i := 0; i < rec.Len(); i += 7 {
			st := s.At(rec.Time(i))
			p, free := cop.Of(rec.Lead[i].Add(rec.Trail[i]), 0, 20)
			if r3.Norm(r3.Sub(p, st.NetPressure)) > 1e-12 || math.Abs(free-st.NetFree) > 1e-10 {
				t.Fatalf("%v, sample %d: pressure %v, free moment %g, want %v, %g", style, i, p, free, st.NetPressure, st.NetFree)
			}
			if st.Trail.Force.Z > 20 {
				p, free := cop.Of(rec.Trail[i], 0, 20)
				if r3.Norm(r3.Sub(p, st.TrailPressure)) > 1e-11 || math.Abs(free-st.TrailFree) > 1e-10 {
					t.Fatalf("%v, sample %d: trail pressure %v, want %v", style, i, p, st.TrailPressure)
				}
			}
			if share := cop.Share(rec.Lead[i], rec.Trail[i]); math.Abs(share-st.Share) > 1e-12 {
				t.Fatalf("%v, sample %d: share %g, want %g", style, i, share, st.Share)
			}
			m := torque.About(rec.Lead[i].Add(rec.Trail[i]), st.Position)
			if d := r3.Norm(r3.Sub(r3.Vec{X: m.Frontal, Y: m.Sagittal, Z: m.Horizontal}, st.Moment)); d > 1e-10 {
				t.Fatalf("%v, sample %d: torque %v, want %v", style, i, m, st.Moment)
			}
		}
		quiet, err := grf.FindQuiet(rec, grf.QuietOptions{})
		if err != nil {
			t.Fatal(err)
		}
		// The quiet window may reach into the first, gentlest part of the swing.
		if d := quiet.Mass - s.Config().Mass; math.Abs(d) > 1e-3 {
			t.Errorf("%v: mass of the quiet stance is %g kg off", style, d)
		}
	}
}

// TestFeet checks the outlines against the library's feet.
func TestFeet(t *testing.T) {
	s, err := synth.New(synth.Config{})
	if err != nil {
		t.Fatal(err)
	}
	lead, trail := s.Feet()
	for _, c := range []struct {
		side cop.Side
		foot synth.Foot
	}{{cop.Lead, lead}, {cop.Trail, trail}} {
		foot, err := cop.NewFoot(c.side, c.foot.Heel, c.foot.Toe, c.foot.Width)
		if err != nil {
			t.Fatal(err)
		}
		p := r3.Add(r3.Scale(0.5, r3.Add(c.foot.Heel, c.foot.Toe)), r3.Scale(c.foot.Width/4, c.foot.Outer))
		if got := foot.Place(p); math.Abs(got.Along-0.5) > 1e-3 || math.Abs(got.Across-0.5) > 1e-3 || !got.Inside {
			t.Errorf("%v foot: %+v, want the middle, half way to the lateral border", c.side, got)
		}
	}
}
