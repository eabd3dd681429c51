package phase

import (
	"fmt"
	"math"

	"example.com/momentarm/grf"
)

// leastShift is how far the centre of pressure of both feet has to move toward
// the lead foot within 80 ms for a downswing, m (common practice, no published
// source): a full swing moves it some 80 mm, swaying and breathing some 5 mm.
const leastShift = 0.012

// FindDownswing returns the sample at which the load moves fastest toward the
// lead foot: the fastest rise over 80 ms of the moment about the forward axis on
// the ground, which is load times place along the target line, within the
// samples first to last of net and while the plates carry at least a third of
// weight. It fails with [ErrNoSwing] when the load never moves that quickly. It
// works on raw and on filtered forces; samples that are NaN do not count.
func FindDownswing(net []grf.Wrench, rate, weight float64, first, last int) (int, error) {
	half := max(1, int(math.Round(0.04*rate)))
	margin := max(half, int(math.Round(0.3*rate)))
	best, at := leastShift*weight, -1
	for i := max(first, half); i <= min(last, len(net)-1-half); i++ {
		loaded := true
		for _, k := range [...]int{max(first, i-margin), i - half, i, i + half} {
			loaded = loaded && net[k].Force.Z > 0.3*weight
		}
		if rise := net[i+half].Moment.X - net[i-half].Moment.X; loaded && rise > best {
			best, at = rise, i
		}
	}
	if at < 0 {
		return 0, fmt.Errorf("%w: the load never moves quickly toward the lead foot; are lead and trail, the target direction and the handedness right?", ErrNoSwing)
	}
	return at, nil
}
