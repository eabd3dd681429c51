package swing

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/phase"
)

// doubts warns of what looks like a setup that is the wrong way round: numbers
// would come out all the same.
func (a *Analysis) doubts() {
	a.doubtFeet()
	a.doubtHand()
	a.doubtPlaces()
}

// Bounds of the distance between the centres of pressure of two feet that stand on
// the ground, m: feet are some 0.1 m wide, and nobody swings in a split (common
// practice, no published source).
const leastFeetApart, mostFeetApart = 0.1, 2.0

// doubtFeet looks at where both feet press in the quiet stance.
func (a *Analysis) doubtFeet() {
	if !a.Recording.Split() {
		return
	}
	var apart r3.Vec // lead nearer the target is positive
	n := 0.0
	for i := a.Quiet.First; i <= a.Quiet.Last; i++ {
		if d := r3.Sub(a.Series.LeadCOP[i], a.Series.TrailCOP[i]); !math.IsNaN(d.X + d.Y) {
			apart = r3.Add(apart, d)
			n++
		}
	}
	if n == 0 {
		return
	}
	apart = r3.Scale(1/n, apart)
	code, text := feetDoubt(apart.X, apart.Y)
	switch {
	case code != "":
		a.warn(code, "feet", "in the quiet stance %s", text)
	case apart.Y < 0:
		a.warn("feet-swapped", "feet", "in the quiet stance the lead foot presses %.0f mm farther from the target than the trail foot; are lead and trail, or the target, the wrong way round? Exchange the feet, or turn the target's direction",
			-1000*apart.Y)
	}
}

// lengthUnit is what to ask when feet or pressure are where they can not be.
const lengthUnit = "is the unit of length (of positions, or of moments) right?"

// feetDoubt says what is odd about feet that press so far apart, m, across and along
// the target direction, and the code of the warning; "" when nothing is.
func feetDoubt(across, along float64) (code, text string) {
	across, along = math.Abs(across), math.Abs(along)
	switch d := math.Hypot(across, along); {
	case d < leastFeetApart || d > mostFeetApart:
		return "unit-doubtful", fmt.Sprintf("the feet press %s apart; %s", span(d), lengthUnit)
	case along < across:
		return "target-doubtful", fmt.Sprintf("the feet press %s apart, but only %s along the target direction; is the target's direction right? It points from the trail foot to the lead foot and on to the target.", span(d), span(along))
	}
	return "", ""
}

// span writes a distance whatever its size.
func span(d float64) string {
	if d < 1 {
		return fmt.Sprintf("%.3g mm", 1000*d)
	}
	return fmt.Sprintf("%.3g m", d)
}

// mostShift is how far the centre of mass may go from its place at address, in
// stance widths: from the middle of the stance to half a stance beyond a foot (common
// practice, no published source). A golfer who is farther out falls.
const mostShift = 1.0

// doubtPlaces looks at where the centre of mass goes.
func (a *Analysis) doubtPlaces() {
	stance, address := a.stanceWidth(), a.At(a.Quiet.To).COM.Y
	for _, e := range a.Events.Found {
		shift := (a.At(e.Time).COM.Y - address) / stance
		if math.Abs(shift) > mostShift && e.Name != phase.Finish { // a golfer may step out of the finish
			a.warn("place-implausible", "centre of mass", "at %s the centre of mass is %.0f %% of the stance width from its place at address, where nobody could stand; are the unit of length, the target's direction and the zero of the plates right?",
				Words(e.Name), 100*shift)
			return
		}
	}
}

// turnsAway is how hard the vertical-axis torque must turn the golfer away from the
// target in the downswing to be doubtful, N·m per kilogram (common practice, no
// published source).
const turnsAway = 0.2

// doubtHand looks at which way the ground turns the golfer about the vertical from
// the lowest vertical force to impact: toward the target, unless the axes were made
// for a golfer of the other hand.
func (a *Analysis) doubtHand() {
	from, to := a.Events.Time(phase.LowestVertical), a.Events.Time(phase.Impact)
	if math.IsNaN(from) || math.IsNaN(to) {
		return
	}
	lowest, highest := 0.0, 0.0
	for i := max(a.From, a.Recording.Index(from)); i <= min(a.To, a.Recording.Index(to)); i++ {
		m := a.values(i).Moment.Horizontal
		if math.IsNaN(m) {
			continue
		}
		lowest, highest = math.Min(lowest, m), math.Max(highest, m)
	}
	if -lowest > turnsAway*a.Mass && -lowest > 2*highest {
		a.warn("hand-doubtful", "golfer", "in the downswing the vertical-axis torque turns the golfer away from the target, by up to %.0f N·m; is the golfer's hand (right or left) the stated one?", -lowest)
	}
}
