package phase_test

import (
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
)

// A stretch of steady force is an address only if it is one of the same golfer
// standing still: after a waggle it is, at the end of a slow backswing, when load
// has moved and the downswing is being pushed for, it is not.
func TestFindAddressAfterMoves(t *testing.T) {
	for _, c := range []struct {
		name     string
		y, push  float64 // of the second stance, m and N
		wantLast bool
	}{
		{"the same", 0, 0, true},
		{"a little out of place", 0.03, 10, true},
		{"stepped aside", 0.10, 0, true},
		{"at the end of the backswing", -0.06, 12, false},
	} {
		rng := rand.New(rand.NewPCG(1, 2))
		rec := &grf.Recording{Rate: 200}
		stand := func(seconds, y, push float64) {
			for range int(seconds * rec.Rate) {
				f := r3.Vec{X: rng.NormFloat64(), Y: push + rng.NormFloat64(), Z: 760 + rng.NormFloat64()}
				rec.Net = append(rec.Net, grf.At(f, r3.Vec{Y: y}, r3.Vec{}))
			}
		}
		stand(1, 0, 0)
		stand(0.3, 0.15, 90) // a move
		stand(0.7, c.y, c.push)
		q, err := phase.FindAddress(rec, grf.QuietOptions{From: 0, To: rec.End()})
		if err != nil {
			t.Fatal(err)
		}
		if last := q.From > 1.2; last != c.wantLast {
			t.Errorf("%s: quiet from %.2f to %.2f s", c.name, q.From, q.To)
		}
	}
}
