package swing

import (
	"math"

	"example.com/momentarm/phase"
)

// measureForce: vertical and lateral force of both feet.
func (a *Analysis) measureForce() {
	vertical := func(i Instant) float64 { return i.Net.Force.Z }
	lateral := func(i Instant) float64 { return i.Net.Force.Y }
	a.addAt("lowest_vertical_bw", "lowest vertical force of both feet", phase.LowestVertical, "%BW",
		func(i Instant) float64 { return a.bodyWeights(vertical(i)) })
	t0, t1 := a.after(phase.LowestVertical)
	t, v := a.extreme(t0, t1, func(i int) float64 { return a.Series.Net[i].Force.Z })
	a.add("highest_vertical_bw", "highest vertical force of both feet", a.bodyWeights(v), "%BW", t)
	t, v = a.extreme(a.Events.Time(phase.Onset), a.Events.Time(phase.LateralTurn), func(i int) float64 { return -a.Series.Net[i].Force.Y })
	a.add("lateral_away_peak", "peak lateral force away from the target before that", v, "N", t)
	a.addAt("lateral_peak", "peak lateral force toward the target", phase.LateralPeak, "N", lateral)
	a.addAt("lateral_peak_bw", "the same in body weights", phase.LateralPeak, "%BW",
		func(i Instant) float64 { return a.bodyWeights(lateral(i)) })
	a.add("lateral_impulse", "lateral impulse toward the target from the force's turn to impact",
		a.integral(phase.LateralTurn, phase.Impact, func(i int) float64 { return a.Series.Net[i].Force.Y }), "N·s", math.NaN())
	a.add("lateral_before_lowest_vertical", "time from the lateral force's turn to the lowest vertical force",
		a.between(phase.LateralTurn, phase.LowestVertical), "s", math.NaN())
}
