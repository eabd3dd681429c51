package swing_test

import (
	"slices"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// Golfers of all styles and both hands are not doubted, and those whose feet or hand
// are the wrong way round are.
func TestDoubts(t *testing.T) {
	analyse := func(rec *grf.Recording) []string {
		a, err := swing.Analyse(rec, swing.Options{})
		if err != nil {
			return []string{"error"}
		}
		return codes(a.Warnings)
	}
	n := uint64(20)
	if testing.Short() {
		n = 4
	}
	caught := map[string]int{}
	for seed := range n {
		s := synthetic(t, synth.Random(seed))
		rec := synth.Disturbance{Seed: seed, ForceNoise: 2, MomentNoise: 0.3}.Apply(s.Recording())
		if got := analyse(rec); slices.Contains(got, "feet-swapped") || slices.Contains(got, "hand-doubtful") {
			t.Errorf("seed %d, style %v: %v", seed, s.Config().Style, got)
		}
		swapped := *rec
		swapped.Lead, swapped.Trail = rec.Trail, rec.Lead
		other := *rec // as read for the other hand: X the other way, Y kept
		other.Lead, other.Trail = otherHand(rec.Lead), otherHand(rec.Trail)
		for _, c := range []struct {
			code string
			rec  *grf.Recording
		}{{"feet-swapped", &swapped}, {"hand-doubtful", &other}} {
			if slices.Contains(analyse(c.rec), c.code) {
				caught[c.code]++
			}
		}
	}
	t.Logf("of %d: %v", n, caught)
	if caught["feet-swapped"] < int(n)*9/10 || caught["hand-doubtful"] < int(n)*7/10 {
		t.Errorf("caught %v of %d", caught, n)
	}
}

// otherHand returns wrenches as they come out of axes that were made for a golfer of
// the other hand: forward is backward, and axial vectors change accordingly.
func otherHand(ws []grf.Wrench) []grf.Wrench {
	out := make([]grf.Wrench, len(ws))
	for i, w := range ws {
		w.Force.X = -w.Force.X
		w.Moment.Y, w.Moment.Z = -w.Moment.Y, -w.Moment.Z
		out[i] = w
	}
	return out
}
