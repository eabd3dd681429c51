package swing_test

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
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

// scaledLength returns a recording whose lengths were taken k times too large.
func scaledLength(rec *grf.Recording, k float64) *grf.Recording {
	return each(rec, func(w grf.Wrench) grf.Wrench {
		w.Moment = r3.Scale(k, w.Moment)
		return w
	})
}

func each(rec *grf.Recording, f func(grf.Wrench) grf.Wrench) *grf.Recording {
	out := *rec
	out.Lead, out.Trail = make([]grf.Wrench, len(rec.Lead)), make([]grf.Wrench, len(rec.Trail))
	for i := range rec.Lead {
		out.Lead[i], out.Trail[i] = f(rec.Lead[i]), f(rec.Trail[i])
	}
	return &out
}

// turned returns a recording whose target direction was stated wrong by an angle.
func turned(rec *grf.Recording, angle float64) *grf.Recording {
	sin, cos := math.Sincos(angle)
	turn := func(v r3.Vec) r3.Vec { return r3.Vec{X: cos*v.X - sin*v.Y, Y: sin*v.X + cos*v.Y, Z: v.Z} }
	return each(rec, func(w grf.Wrench) grf.Wrench { return grf.Wrench{Force: turn(w.Force), Moment: turn(w.Moment)} })
}

// Feet that stand too near or too far for feet, or beside the target line, and a
// centre of mass where nobody can be, are doubted for the likely reason.
func TestDoubtfulPlaces(t *testing.T) {
	s := synthetic(t, synth.Config{})
	rec := s.Recording()
	var far grf.Track
	for i := range rec.Lead {
		at := s.At(rec.Time(i)).Position
		far.Time, far.Position = append(far.Time, rec.Time(i)), append(far.Position, r3.Vec{X: at.X, Y: 10 * at.Y, Z: at.Z})
	}
	for name, c := range map[string]struct {
		rec  *grf.Recording
		opt  swing.Options
		want string
	}{
		"right":    {rec, swing.Options{}, ""},
		"feet far": {scaledLength(rec, 8), swing.Options{Quiet: grf.QuietOptions{Limit: 0.1}}, "unit-doubtful"},
		"target":   {turned(rec, 1), swing.Options{}, "target-doubtful"},
		"mass":     {rec, swing.Options{COM: []com.Source{{Name: "far", Track: far, SD: r3.Vec{X: 1e-4, Y: 1e-4, Z: 1e-4}}}}, "place-implausible"},
	} {
		a, err := swing.Analyse(c.rec, c.opt)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for _, code := range []string{"unit-doubtful", "target-doubtful", "place-implausible", "feet-swapped"} {
			if got := slices.Contains(codes(a.Warnings), code); got != (code == c.want) && (code != "place-implausible" || c.want == "") {
				t.Errorf("%s: %v", name, a.Warnings)
			}
		}
		if c.want != "" && !slices.Contains(codes(a.Warnings), c.want) {
			t.Errorf("%s: %v", name, a.Warnings)
		}
	}
}
