package swing

import (
	"math"

	"example.com/momentarm/phase"
)

// measureLoad: how the load is shared between the feet.
func (a *Analysis) measureLoad() {
	a.add("body_weight", "body weight, with what the golfer holds", a.BodyWeight, "N", a.Quiet.From)
	if !a.Recording.Split() {
		return
	}
	trail := func(i Instant) float64 { return i.Trail.Force.Z }
	lead := func(i Instant) float64 { return i.Lead.Force.Z }
	a.addAt("trail_load_peak", "peak vertical force under the trail foot", phase.TrailLoadPeak, "N", trail)
	a.addAt("trail_load_peak_bw", "the same in body weights", phase.TrailLoadPeak, "%BW",
		func(i Instant) float64 { return a.bodyWeights(trail(i)) })
	a.addAt("lead_vertical_peak", "peak vertical force under the lead foot", phase.LeadVerticalPeak, "N", lead)
	a.addAt("lead_vertical_peak_bw", "the same in body weights", phase.LeadVerticalPeak, "%BW",
		func(i Instant) float64 { return a.bodyWeights(lead(i)) })
	a.add("trail_load_peak_in_backswing", "when in the backswing that peak comes: onset 0, top 100",
		100*a.between(phase.Onset, phase.TrailLoadPeak)/a.between(phase.Onset, phase.Top), "%", a.Events.Time(phase.TrailLoadPeak))
	share := func(i Instant) float64 { return 100 * i.LeadShare }
	for _, f := range phase.Names() {
		// The trade asks for the share at this mark first of all, so it is listed
		// even when nobody gave the mark.
		if _, ok := a.Events.Get(f); ok && f != phase.EvenLoad || f == phase.LeadArmParallelDown {
			a.addAt("lead_share_at_"+string(f), "lead foot's share of the load at "+words(f), f, "%", share)
		}
	}
	a.measurePreload()
	a.measureRise()
}

// measurePreload: the small move to the lead foot that may come before the load
// goes to the trail foot.
func (a *Analysis) measurePreload() {
	address := a.At(a.Quiet.To).LeadShare
	t, v := a.extreme(a.Quiet.To, a.Events.Time(phase.TrailLoadPeak), func(i int) float64 { return a.Series.LeadShare[i] })
	a.add("lead_preload", "move to the lead foot before the load goes to the trail foot, in points of share", 100*(v-address), "%", t)
}

// riseTime is the window of the rate of force development, s.
const riseTime = 0.05

// measureRise: the fastest rise of the vertical force under the lead foot.
func (a *Analysis) measureRise() {
	half := max(1, int(math.Round(riseTime/2*a.Recording.Rate)))
	lead := a.Series.Lead
	t, v := a.extreme(a.Events.Time(phase.TrailLoadPeak), a.Events.Time(phase.LeadVerticalPeak), func(i int) float64 {
		if i < half || i+half >= len(lead) {
			return math.NaN()
		}
		return (lead[i+half].Force.Z - lead[i-half].Force.Z) / (float64(2*half) / a.Recording.Rate)
	})
	a.add("lead_rise", "fastest rise of the vertical force under the lead foot, over 50 ms", v, "N/s", t)
	a.add("lead_rise_bw", "the same in body weights", a.bodyWeights(v), "%BW/s", t)
}
