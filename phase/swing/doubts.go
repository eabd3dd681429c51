package swing

import (
	"math"

	"example.com/momentarm/phase"
)

// doubts warns of what looks like a setup that is the wrong way round: numbers
// would come out all the same.
func (a *Analysis) doubts() {
	a.doubtFeet()
	a.doubtHand()
}

// doubtFeet looks at where both feet press in the quiet stance.
func (a *Analysis) doubtFeet() {
	if !a.Recording.Split() {
		return
	}
	var apart float64 // lead nearer the target is positive
	n := 0
	for i := a.Quiet.First; i <= a.Quiet.Last; i++ {
		if d := a.Series.LeadCOP[i].Y - a.Series.TrailCOP[i].Y; !math.IsNaN(d) {
			apart += d
			n++
		}
	}
	if apart < 0 {
		a.warn("feet-swapped", "feet", "in the quiet stance the lead foot presses %.0f mm farther from the target than the trail foot; are lead and trail, or the target, the wrong way round? Exchange the feet, or turn the target's direction",
			-1000*apart/float64(n))
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
