package swing

import (
	"math"

	"example.com/momentarm/phase"
)

// measureForce: force of both feet.
func (a *Analysis) measureForce() {
	v, l := a.netForce(vertical), a.netForce(lateral)
	a.putAt("lowest_vertical_bw", "lowest vertical force of both feet", phase.LowestVertical, "%BW", a.bodyWeights(v))
	low := a.Events.Time(phase.LowestVertical)
	a.putTime("highest_vertical_bw", "highest vertical force of both feet", a.highest(low, low+downswingTime, v), math.NaN(), "%BW", a.bodyWeights(v))

	a.needsHorizontal(func() { a.measureLateral(l) })
}

// measureLateral: lateral force of both feet.
func (a *Analysis) measureLateral(l quantity) {
	away := l.times(-1)
	t := a.highest(a.Events.Time(phase.Onset), a.Events.Time(phase.LateralTurn), away)
	a.putTime("lateral_away_peak", "peak lateral force away from the target before it turns", t, math.NaN(), "N", away)
	a.putAt("lateral_peak", "peak lateral force toward the target", phase.LateralPeak, "N", l)
	a.putAt("lateral_peak_bw", "peak lateral force toward the target, in body weights", phase.LateralPeak, "%BW", a.bodyWeights(l))
	a.putIntegral("lateral_impulse", "lateral impulse toward the target from the force's turn to impact", phase.LateralTurn, phase.Impact, "N·s", l)
	a.putBetween("lateral_before_lowest_vertical", "time from the lateral force's turn to the lowest vertical force", phase.LateralTurn, phase.LowestVertical)
}
