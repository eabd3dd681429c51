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
		name   string
		foot   *cop.Foot
		at, sd func(Instant) r3.Vec
		when   phase.Name
	}{
		{"trail", feet.Trail, func(i Instant) r3.Vec { return i.TrailCOP }, func(i Instant) r3.Vec { return i.TrailCOPSD }, phase.TrailLoadPeak},
		{"lead", feet.Lead, func(i Instant) r3.Vec { return i.LeadCOP }, func(i Instant) r3.Vec { return i.LeadCOPSD }, phase.LeadVerticalPeak},
	} {
		if f.foot == nil || !a.Recording.Split() {
			continue
		}
		// The place is an affine function of the point, so its error is that of the
		// point in either direction.
		within := func(part func(cop.Placement) float64) quantity {
			value := func(p r3.Vec) float64 { return 100 * part(f.foot.Place(p)) }
			return quantity{
				func(i Instant) float64 { return value(f.at(i)) },
				func(i Instant) float64 {
					p, sd := f.at(i), f.sd(i)
					return math.Hypot(value(r3.Add(p, r3.Vec{X: sd.X}))-value(p), value(r3.Add(p, r3.Vec{Y: sd.Y}))-value(p))
				},
			}
		}
		along := within(func(p cop.Placement) float64 { return p.Along })
		across := within(func(p cop.Placement) float64 { return p.Across })
		a.putAt(f.name+"_pressure_along", "pressure along the "+f.name+" foot at "+Words(f.when)+": heel 0, toe 100", f.when, "%", along)
		a.putAt(f.name+"_pressure_across", "pressure across the "+f.name+" foot at "+Words(f.when)+": inner border −100, outer border +100", f.when, "%", across)
		from, to := a.Events.Time(phase.Onset), a.Events.Time(phase.Impact)
		a.putTime(f.name+"_pressure_outermost", "how far out the pressure in the "+f.name+" foot goes between onset and impact", a.highest(from, to, across), math.NaN(), "%", across)
		m := Measure{Name: f.name + "_outer_third_time", Label: "time that the pressure spends in the outer third of the " + f.name + " foot between onset and impact",
			Unit: "s", Time: math.NaN()}
		m.Value, m.SD = a.spent(from, to, across, 100.0/3)
		a.put(m)
	}
}

// spent returns for how long q is above level from t0 to t1, by samples, and by how
// much that changes with one standard deviation of q; NaN when there is no such
// time.
func (a *Analysis) spent(t0, t1 float64, q quantity, level float64) (t, sd float64) {
	if !(t0 < t1) {
		return math.NaN(), math.NaN()
	}
	var n, less, more int
	for k := a.Recording.Index(t0); k < a.Recording.Index(t1); k++ {
		i := a.Sample(k)
		v, s := q.value(i), q.sd(i)
		for _, c := range []struct {
			count *int
			v     float64
		}{{&n, v}, {&less, v - s}, {&more, v + s}} {
			if c.v > level {
				*c.count++
			}
		}
	}
	return float64(n) / a.Recording.Rate, float64(more-less) / 2 / a.Recording.Rate
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
			lean := quantity{func(i Instant) float64 {
				kp, _ := k.At(i.Time)
				np, _ := n.At(i.Time)
				return math.Atan2(kp.Y-np.Y, kp.Z-np.Z) * 180 / math.Pi
			}, func(i Instant) float64 {
				kp, _ := k.At(i.Time)
				np, _ := n.At(i.Time)
				s := math.Hypot(knee.SD.Y, ankle.SD.Y)
				if s == 0 {
					return math.NaN() // nobody said how sure the points are
				}
				return s / math.Hypot(kp.Y-np.Y, kp.Z-np.Z) * 180 / math.Pi
			}}
			a.putAt(side+"_shin_lean_at_"+string(f), side+" shin's lean toward the target at "+Words(f), f, "deg", lean)
		}
	}
}
