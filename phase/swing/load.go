package swing

import (
	"math"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
)

// force returns a component of the force of lead, trail or both feet.
func force(of func(Instant) grf.Wrench, cov func(Instant) grf.Covariance, component func(grf.Wrench) float64) quantity {
	return quantity{
		func(i Instant) float64 { return component(of(i)) },
		func(i Instant) float64 { return component(cov(i).SD()) },
	}
}

func vertical(w grf.Wrench) float64 { return w.Force.Z }
func lateral(w grf.Wrench) float64  { return w.Force.Y }

func (a *Analysis) leadForce(component func(grf.Wrench) float64) quantity {
	return force(func(i Instant) grf.Wrench { return i.Lead }, a.leadCovariance, component)
}

func (a *Analysis) trailForce(component func(grf.Wrench) float64) quantity {
	return force(func(i Instant) grf.Wrench { return i.Trail }, a.trailCovariance, component)
}

func (a *Analysis) netForce(component func(grf.Wrench) float64) quantity {
	return force(func(i Instant) grf.Wrench { return i.Net }, a.netCovariance, component)
}

// measureLoad: how the load is shared between the feet.
func (a *Analysis) measureLoad() {
	a.put(Measure{Name: "body_weight", Label: "body weight, with what the golfer holds", Value: a.BodyWeight,
		SD: math.Hypot(a.Quiet.WeightSE, a.netForce(vertical).sd(a.At(a.Quiet.To))), Unit: "N", Time: a.Quiet.From})
	if !a.Recording.Split() {
		return
	}
	lead, trail := a.leadForce(vertical), a.trailForce(vertical)
	a.putAt("trail_load_peak", "peak vertical force under the trail foot", phase.TrailLoadPeak, "N", trail)
	a.putAt("trail_load_peak_bw", "peak vertical force under the trail foot, in body weights", phase.TrailLoadPeak, "%BW", a.bodyWeights(trail))
	a.putLoadTiming()
	a.putAt("lead_vertical_peak", "peak vertical force under the lead foot", phase.LeadVerticalPeak, "N", lead)
	a.putAt("lead_vertical_peak_bw", "peak vertical force under the lead foot, in body weights", phase.LeadVerticalPeak, "%BW", a.bodyWeights(lead))
	share := quantity{func(i Instant) float64 { return i.LeadShare }, func(i Instant) float64 { return i.LeadShareSD }}.times(100)
	for _, f := range phase.Names() {
		// The trade asks for the share at this mark first of all, so it is listed
		// even when nobody gave the mark.
		if _, ok := a.Events.Get(f); ok && f != phase.EvenLoad || f == phase.LeadArmParallelDown {
			a.putAt("lead_share_at_"+string(f), "lead foot's share of the load at "+Words(f), f, "%", share)
		}
	}
	a.putPreload(share)
	a.putRise(lead)
}

// putLoadTiming: how early in the backswing the trail foot's load peaks.
func (a *Analysis) putLoadTiming() {
	m := Measure{Name: "trail_load_peak_in_backswing", Label: "when in the backswing that peak comes: onset 0, top 100", Unit: "%", Time: a.Events.Time(phase.TrailLoadPeak)}
	early, earlySD := a.span(phase.Onset, phase.TrailLoadPeak)
	whole, wholeSD := a.span(phase.Onset, phase.Top)
	m.Value = 100 * early / whole
	m.SD = 100 / whole * math.Hypot(earlySD, early/whole*wholeSD)
	if _, ok := a.Events.Get(phase.Top); !ok {
		m.Note = a.whyMissing(phase.Top)
	}
	a.put(m)
}

// putPreload: the small move to the lead foot that may come before the load goes
// to the trail foot.
func (a *Analysis) putPreload(share quantity) {
	address := share.value(a.At(a.Quiet.To))
	t := a.highest(a.Quiet.To, a.Events.Time(phase.TrailLoadPeak), share)
	a.putTime("lead_preload", "move to the lead foot before the load goes to the trail foot, in points of share", t, math.NaN(), "%",
		quantity{func(i Instant) float64 { return share.value(i) - address }, share.sd})
}

// riseTime is the window of the rate of force development, s (common practice, no
// published source).
const riseTime = 0.05

// putRise: the fastest rise of the vertical force under the lead foot. A lasting
// error of the force drops out of a difference, one of the gain does not.
func (a *Analysis) putRise(lead quantity) {
	noise := a.Noise.Lead.SD().Force.Z * math.Sqrt2 / riseTime
	slope := func(i Instant) float64 {
		return (lead.value(a.At(i.Time+riseTime/2)) - lead.value(a.At(i.Time-riseTime/2))) / riseTime
	}
	rise := quantity{slope, func(i Instant) float64 { return math.Hypot(noise, a.Settings.Errors.Gain*slope(i)) }}
	t := a.highest(a.Events.Time(phase.TrailLoadPeak), a.Events.Time(phase.LeadVerticalPeak), rise)
	a.putTime("lead_rise", "fastest rise of the vertical force under the lead foot, over 50 ms", t, math.NaN(), "N/s", rise)
	a.putTime("lead_rise_bw", "fastest rise of the vertical force under the lead foot, in body weights", t, math.NaN(), "%BW/s", a.bodyWeights(rise))
}
