package swing

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
)

// measureFeet: where in each foot the pressure is.
func (a *Analysis) measureFeet(feet Feet) {
	for _, f := range []struct {
		name string
		foot *cop.Foot
		at   func(Instant) r3.Vec
		path []r3.Vec
		when phase.Name
	}{
		{"trail", feet.Trail, func(i Instant) r3.Vec { return i.TrailCOP }, a.Series.TrailCOP, phase.TrailLoadPeak},
		{"lead", feet.Lead, func(i Instant) r3.Vec { return i.LeadCOP }, a.Series.LeadCOP, phase.LeadVerticalPeak},
	} {
		if f.foot == nil || f.path == nil {
			continue
		}
		a.addAt(f.name+"_pressure_along", "place of the pressure in the "+f.name+" foot at "+words(f.when)+": heel 0, toe 100", f.when, "%",
			func(i Instant) float64 { return 100 * f.foot.Place(f.at(i)).Along })
		a.addAt(f.name+"_pressure_across", "the same across: inner border −100, outer border +100", f.when, "%",
			func(i Instant) float64 { return 100 * f.foot.Place(f.at(i)).Across })
		across := func(i int) float64 { return 100 * f.foot.Place(f.path[i]).Across }
		from, to := a.Events.Time(phase.Onset), a.Events.Time(phase.Impact)
		t, v := a.extreme(from, to, across)
		a.add(f.name+"_pressure_outermost", "how far out the pressure in the "+f.name+" foot goes between onset and impact", v, "%", t)
		// The outer third of −100…100 begins at 33.
		a.add(f.name+"_outer_third_time", "time that it spends in the outer third of the foot", a.spent(from, to, across, 100.0/3), "s", math.NaN())
	}
}

// spent returns for how long x is above level from t0 to t1, by samples; NaN when
// there is no such time.
func (a *Analysis) spent(t0, t1 float64, x func(i int) float64, level float64) float64 {
	if !(t0 < t1) {
		return math.NaN()
	}
	n := 0
	for i := a.Recording.Index(t0); i < a.Recording.Index(t1); i++ {
		if x(i) > level {
			n++
		}
	}
	return float64(n) / a.Recording.Rate
}

// measureShins: how far the shins lean toward the target, seen by someone who
// faces the golfer, when knee and ankle are known.
func (a *Analysis) measureShins(points map[string]grf.Track) {
	for _, side := range []string{"lead", "trail"} {
		knee, ok1 := points[side+"_knee"]
		ankle, ok2 := points[side+"_ankle"]
		if !ok1 || !ok2 {
			continue
		}
		rec := a.Recording
		k, err1 := com.FromTrack(knee, rec.Start, rec.Rate, rec.Len())
		n, err2 := com.FromTrack(ankle, rec.Start, rec.Rate, rec.Len())
		if err := errors.Join(err1, err2); err != nil {
			a.warn("points", side+" shin", "left out: %v", err)
			continue
		}
		for _, f := range []phase.Name{phase.Address, phase.Top, phase.FrontalTorquePeak, phase.Impact} {
			if _, ok := a.Events.Get(f); !ok {
				continue
			}
			a.addAt(side+"_shin_lean_at_"+string(f), side+" shin's lean toward the target at "+words(f), f, "deg", func(i Instant) float64 {
				kp, _ := k.At(i.Time)
				np, _ := n.At(i.Time)
				return math.Atan2(kp.Y-np.Y, kp.Z-np.Z) * 180 / math.Pi
			})
		}
	}
}
