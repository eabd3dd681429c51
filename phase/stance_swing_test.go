package phase_test

import (
	"errors"
	"math"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/validation/synth"
)

// However still the golfer is before and between the waggles, the stance next to the
// swing is the address.
func TestFindAddress(t *testing.T) {
	for seed := uint64(1); seed <= 8; seed++ {
		s, err := synth.New(synth.Config{Waggles: 3, Individual: seed})
		if err != nil {
			t.Fatal(err)
		}
		// Three stances of the same noise: which is the stillest is chance.
		rec := synth.Disturbance{Seed: seed, ForceNoise: 3, MomentNoise: 0.5}.Apply(s.Recording())
		from, _ := s.Motion()
		q, err := phase.FindAddress(rec, grf.QuietOptions{From: rec.Start, To: s.EventTime("even_load")})
		if err != nil {
			t.Fatal(err)
		}
		// The first 0.15 s of a swing do not rise above the noise of half a second.
		if d := q.To - from; !(d > -0.05 && d < 0.2) || q.From > from-1.5 {
			t.Errorf("individual %d: stance from %.3f to %.3f s, the swing begins at %.3f s", seed, q.From, q.To, from)
		}
		if math.Abs(q.Weight-s.Config().Mass*synth.Gravity) > 1 {
			t.Errorf("weight %.2f N", q.Weight)
		}
		if q.From != rec.Time(q.First) || q.To != rec.Time(q.Last) {
			t.Errorf("samples %d to %d are not %g to %g s", q.First, q.Last, q.From, q.To)
		}
	}
}

// After the swing the first stance counts, however long the golfer stands elsewhere
// later.
func TestFindStill(t *testing.T) {
	a, err := synth.New(synth.Config{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := synth.New(synth.Config{Style: synth.Still, Address: 4})
	if err != nil {
		t.Fatal(err)
	}
	rec, _, err := synth.Join(2, a, b)
	if err != nil {
		t.Fatal(err)
	}
	rec = synth.Disturbance{Seed: 3, ForceNoise: 2, MomentNoise: 0.3}.Apply(rec)
	_, to := a.Motion()
	weight := a.Config().Mass * synth.Gravity
	opt := grf.QuietOptions{From: a.EventTime("impact") + 0.3, To: rec.End()}
	q, err := phase.FindStill(rec, weight, opt)
	if err != nil {
		t.Fatal(err)
	}
	if q.From < to-0.3 || q.From > to+0.35 || q.To < a.End()-0.1 || q.To > a.End()+0.5 {
		t.Errorf("stance from %.3f to %.3f s, the golfer is still from %.3f to %.3f s", q.From, q.To, to, a.End())
	}
	// Somebody else's weight, and a stretch without stillness.
	if _, err := phase.FindStill(rec, 1.1*weight, opt); !errors.Is(err, grf.ErrNoQuiet) {
		t.Errorf("of another weight: %v", err)
	}
	opt.To = a.EventTime("impact") + 0.7
	if q, err := phase.FindStill(rec, weight, opt); err == nil {
		t.Errorf("still from %g to %g s while moving", q.From, q.To)
	}
}
