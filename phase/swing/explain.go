package swing

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
)

// explained puts the likely cause in front of an error that tells only what came of
// it: a wrong unit of time or length, a recording that does not hold the swing.
func explained(rec *grf.Recording, err error) error {
	if err == nil || rec.Check() != nil {
		return err
	}
	if r := rec.Rate; r < leastRate || r > mostRate {
		return fmt.Errorf("sampling rate %.4g Hz: is the unit of time right? Otherwise: %w", r, err)
	}
	if !errors.Is(err, phase.ErrNoSwing) && !errors.Is(err, grf.ErrNoQuiet) && !errors.Is(err, grf.ErrWindow) {
		return err
	}
	if doubt := placeDoubt(rec); doubt != "" {
		return fmt.Errorf("%s Otherwise: %w", doubt, err)
	}
	if !incomplete(rec) {
		return err
	}
	text := fmt.Sprintf("swing: no complete swing in the recording, which is %.3g s long", float64(rec.Len())/rec.Rate)
	if endsLoaded(rec) {
		text += " and ends with the golfer on the plates; does it begin too late or end too early? In detail"
	}
	return fmt.Errorf("%s: %w", text, err)
}

// incomplete reports whether nothing in a recording is a whole downswing: what moves
// like one is a step onto the plates, comes before a stance could, or breaks off. A
// downswing the other way round is whole; then feet or target are wrong.
func incomplete(rec *grf.Recording) bool {
	net, err := rec.NetWrenches(nil)
	if err != nil {
		return false
	}
	weight, last := loadedMedian(net), len(net)-1
	if !(weight <= mostWeight) { // NaN included
		return false
	}
	downs := phase.FindDownswings(net, rec.Rate, weight, 0, last)
	for _, down := range downs {
		stepped := float64(down) < leastStance*rec.Rate
		for i := max(0, down-int(rec.Rate)); i < down; i++ {
			stepped = stepped || net[i].Force.Z < 0.1*weight
		}
		if !stepped && float64(last-down) >= afterDownswing*rec.Rate {
			return false
		}
	}
	if len(downs) > 0 {
		return true
	}
	for i := range net {
		net[i].Moment.X = -net[i].Moment.X
	}
	return len(phase.FindDownswings(net, rec.Rate, weight, 0, last)) == 0
}

// leastRate and mostRate bound the rates at which swings are recorded, Hz (common
// practice, no published source).
const leastRate, mostRate = 20.0, 20_000.0

// placeDoubt says what is odd about where the feet press; "" when nothing is.
func placeDoubt(rec *grf.Recording) string {
	const loaded = 50.0 // N, on each plate
	var x, y []float64
	if !rec.Split() {
		for _, w := range rec.Net {
			if p, _ := cop.Of(w, 0, 2*loaded); !math.IsNaN(p.X + p.Y) {
				x, y = append(x, p.X), append(y, p.Y)
			}
		}
		// But for what is at the borders of being loaded.
		if d := math.Hypot(between5And95(x), between5And95(y)); d < 0.001 || d > mostFeetApart {
			return fmt.Sprintf("the pressure travels %s in all; %s", span(d), lengthUnit)
		}
		return ""
	}
	for i := range rec.Lead {
		a, _ := cop.Of(rec.Lead[i], 0, loaded)
		b, _ := cop.Of(rec.Trail[i], 0, loaded)
		if d := r3.Sub(a, b); !math.IsNaN(d.X + d.Y) {
			x, y = append(x, math.Abs(d.X)), append(y, math.Abs(d.Y))
		}
	}
	_, text := feetDoubt(median(x), median(y))
	return text
}

// median and between5And95, how much lies between these percentiles, are NaN of
// nothing. They sort x.
func median(x []float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	slices.Sort(x)
	return x[len(x)/2]
}

func between5And95(x []float64) float64 {
	if len(x) == 0 {
		return math.NaN()
	}
	slices.Sort(x)
	return x[len(x)-1-len(x)/20] - x[len(x)/20]
}

// leastStance is the shortest quiet stance by default, s: see [grf.QuietOptions].
const leastStance = 0.5

// endsLoaded reports whether somebody stands on the plates at the end.
func endsLoaded(rec *grf.Recording) bool {
	last := rec.Len() - 1
	if rec.Split() {
		return rec.Lead[last].Force.Z+rec.Trail[last].Force.Z > leastWeight
	}
	return rec.Net[last].Force.Z > leastWeight
}
