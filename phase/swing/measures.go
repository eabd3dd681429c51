package swing

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/phase"
	"example.com/momentarm/torque"
)

// add appends a measure without a standard deviation.
func (a *Analysis) add(name, label string, value float64, unit string, t float64) {
	m := Measure{Name: name, Label: label, Value: value, SD: math.NaN(), Unit: unit, Time: t}
	if math.IsNaN(value) {
		m.Note = "not defined here"
	}
	a.Measures = append(a.Measures, m)
}

// addAt appends a measure that belongs to an event, undefined with the reason
// if the event was not found.
func (a *Analysis) addAt(name, label string, event phase.Name, unit string, value func(Instant) float64) {
	t := a.Events.Time(event)
	if math.IsNaN(t) {
		m := Measure{Name: name, Label: label, Value: math.NaN(), SD: math.NaN(), Unit: unit, Time: math.NaN()}
		m.Note = fmt.Sprintf("%s is not known", event)
		for _, miss := range a.Events.Missing {
			if miss.Name == event {
				m.Note += ": " + miss.Reason
			}
		}
		a.Measures = append(a.Measures, m)
		return
	}
	a.add(name, label, value(a.At(t)), unit, t)
}

// bodyWeights turns newtons into percent of body weight.
func (a *Analysis) bodyWeights(n float64) float64 { return 100 * n / a.BodyWeight }

// measure fills in the measures.
func (a *Analysis) measure(opt Options) {
	a.measureLoad()
	a.measureForce()
	a.measureTorque()
	a.measureMass()
	a.measureFeet(opt.Feet)
	a.measureTime()
}

// words says an event's name for people.
func words(n phase.Name) string {
	w, ok := map[phase.Name]string{
		phase.Address:               "address",
		phase.Onset:                 "onset",
		phase.TrailLoadPeak:         "trail load peak",
		phase.LateralTurn:           "lateral force turning to the target",
		phase.LowestVertical:        "lowest vertical force",
		phase.EvenLoad:              "50–50 load",
		phase.LateralPeak:           "lateral force peak",
		phase.FrontalTorquePeak:     "frontal torque peak",
		phase.LeadVerticalPeak:      "lead vertical peak",
		phase.VerticalTorquePeak:    "vertical-axis torque peak",
		phase.Impact:                "impact",
		phase.Finish:                "finish",
		phase.ShaftParallelBack:     "shaft parallel back",
		phase.LeadArmParallelBack:   "lead arm parallel back",
		phase.Top:                   "top",
		phase.LeadArmParallelDown:   "lead arm parallel down",
		phase.ShaftParallelDown:     "shaft parallel down",
		phase.ShaftParallelThrough:  "shaft parallel through",
		phase.TrailArmParallelAfter: "trail arm parallel through",
	}[n]
	if !ok {
		return string(n)
	}
	return w
}

// Words returns an event's name as people say it.
func Words(n phase.Name) string { return words(n) }

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
	for _, f := range phase.Names() {
		if _, ok := a.Events.Get(f); ok && f != phase.EvenLoad {
			a.addAt("lead_share_at_"+string(f), "lead foot's share of the load at "+words(f), f, "%",
				func(i Instant) float64 { return 100 * i.LeadShare })
		}
	}
}

// measureForce: vertical and lateral force of both feet.
func (a *Analysis) measureForce() {
	vertical := func(i Instant) float64 { return i.Net.Force.Z }
	lateral := func(i Instant) float64 { return i.Net.Force.Y }
	a.addAt("lowest_vertical_bw", "lowest vertical force of both feet", phase.LowestVertical, "%BW",
		func(i Instant) float64 { return a.bodyWeights(vertical(i)) })
	t, v := a.extreme(phase.LowestVertical, func(i int) float64 { return a.Series.Net[i].Force.Z })
	a.add("highest_vertical_bw", "highest vertical force of both feet", a.bodyWeights(v), "%BW", t)
	a.addAt("lateral_peak", "peak lateral force toward the target", phase.LateralPeak, "N", lateral)
	a.addAt("lateral_peak_bw", "the same in body weights", phase.LateralPeak, "%BW",
		func(i Instant) float64 { return a.bodyWeights(lateral(i)) })
	a.add("lateral_impulse", "lateral impulse from the force's turn to its peak and on to impact",
		a.integral(phase.LateralTurn, phase.Impact, func(i int) float64 { return a.Series.Net[i].Force.Y }), "N·s", math.NaN())
	a.add("lateral_before_lowest_vertical", "time from the lateral force's turn to the lowest vertical force",
		a.between(phase.LateralTurn, phase.LowestVertical), "s", math.NaN())
}

// measureTorque: moments about the centre of mass, their arms, what they add up
// to.
func (a *Analysis) measureTorque() {
	kg := a.Mass
	frontal := func(i Instant) float64 { return i.Moment.Frontal }
	horizontal := func(i Instant) float64 { return i.Moment.Horizontal }
	a.addAt("frontal_torque_peak", "peak frontal torque", phase.FrontalTorquePeak, "N·m", frontal)
	a.addAt("frontal_torque_peak_kg", "the same per kilogram", phase.FrontalTorquePeak, "N·m/kg",
		func(i Instant) float64 { return frontal(i) / kg })
	a.addAt("frontal_arm_at_peak", "frontal moment arm at that peak", phase.FrontalTorquePeak, "m",
		func(i Instant) float64 { return i.Arm.Frontal })
	a.addAt("frontal_force_at_peak", "force in the frontal plane at that peak", phase.FrontalTorquePeak, "N",
		func(i Instant) float64 { return math.Hypot(i.Net.Force.Y, i.Net.Force.Z) })
	a.addAt("frontal_tilt_at_peak", "tilt of the force toward the target at that peak", phase.FrontalTorquePeak, "deg",
		func(i Instant) float64 { return math.Atan2(i.Net.Force.Y, i.Net.Force.Z) * 180 / math.Pi })
	a.addAt("arm_3d_at_frontal_peak", "distance of the net force from the centre of mass at that peak", phase.FrontalTorquePeak, "m",
		func(i Instant) float64 { return i.Arm3D })
	a.addAt("vertical_torque_peak", "peak vertical-axis torque", phase.VerticalTorquePeak, "N·m", horizontal)
	a.addAt("vertical_torque_peak_kg", "the same per kilogram", phase.VerticalTorquePeak, "N·m/kg",
		func(i Instant) float64 { return horizontal(i) / kg })
	a.addAt("horizontal_arm_at_peak", "horizontal moment arm at that peak", phase.VerticalTorquePeak, "m",
		func(i Instant) float64 { return i.Arm.Horizontal })
	t, v := a.extreme(phase.TrailLoadPeak, func(i int) float64 { return a.Series.InPlane[i] })
	a.add("plane_torque_peak", fmt.Sprintf("peak torque in a swing plane inclined by %.0f°", a.Settings.Plane*180/math.Pi), v, "N·m", t)
	if a.Recording.Split() {
		a.measureFeetShare()
	}
	a.add("frontal_angular_impulse", "frontal angular impulse from the lateral force's turn to impact",
		a.integral(phase.LateralTurn, phase.Impact, func(i int) float64 { return a.Series.Moment[i].Frontal }), "N·m·s", math.NaN())
	a.add("vertical_angular_impulse", "vertical-axis angular impulse from the lateral force's turn to impact",
		a.integral(phase.LateralTurn, phase.Impact, func(i int) float64 { return a.Series.Moment[i].Horizontal }), "N·m·s", math.NaN())
}

// measureFeetShare: which foot made the peaks, and how.
func (a *Analysis) measureFeetShare() {
	least := a.Settings.MinVertical
	parts := func(i Instant) torque.Split { return torque.Parts(i.Lead, i.Trail, i.COM, 0, least) }
	pivot := func(i Instant) torque.GroundMoments { return torque.Pivot(i.Lead, i.Trail, i.COM, 0, least) }
	f, v := phase.FrontalTorquePeak, phase.VerticalTorquePeak
	a.addAt("frontal_torque_lead", "lead foot's part of the frontal torque peak", f, "N·m",
		func(i Instant) float64 { return parts(i).Lead.Total.Frontal })
	a.addAt("frontal_torque_trail", "trail foot's part", f, "N·m",
		func(i Instant) float64 { return parts(i).Trail.Total.Frontal })
	a.addAt("frontal_torque_from_vertical", "made by vertical force times its distance along the target line", f, "N·m",
		func(i Instant) float64 { p := parts(i); return p.Lead.Vertical.Frontal + p.Trail.Vertical.Frontal })
	a.addAt("frontal_torque_from_lateral", "made by lateral force times the height of the centre of mass", f, "N·m",
		func(i Instant) float64 { p := parts(i); return p.Lead.Lateral.Frontal + p.Trail.Lateral.Frontal })
	a.addAt("vertical_torque_ground_force", "of the vertical-axis torque peak: net force times its arm", v, "N·m",
		func(i Instant) float64 { return pivot(i).GroundForce.Horizontal })
	a.addAt("vertical_torque_pivoting", "made by the feet pushing in opposite directions (pivoting couple)", v, "N·m",
		func(i Instant) float64 { return pivot(i).Pivoting() })
	a.addAt("vertical_torque_free", "made by the free moments under the feet", v, "N·m",
		func(i Instant) float64 { return pivot(i).FootContact() })
}

// measureMass: where the centre of mass goes.
func (a *Analysis) measureMass() {
	address := a.At(a.Quiet.To).COM
	stance := a.stanceWidth()
	for _, f := range []phase.Name{phase.Top, phase.TrailLoadPeak, phase.LowestVertical, phase.FrontalTorquePeak, phase.Impact} {
		if _, ok := a.Events.Get(f); !ok {
			continue
		}
		shift := func(i Instant) float64 { return i.COM.Y - address.Y }
		a.addAt("com_shift_at_"+string(f), "centre of mass toward the target since address, at "+words(f), f, "m", shift)
		if !math.IsNaN(stance) {
			a.addAt("com_shift_at_"+string(f)+"_stance", "the same as a part of the stance width", f, "%",
				func(i Instant) float64 { return 100 * shift(i) / stance })
		}
	}
	a.addAt("com_speed_at_impact", "speed of the centre of mass toward the target at impact", phase.Impact, "m/s",
		func(i Instant) float64 { return i.COMVelocity.Y })
}

// stanceWidth is the distance of the feet's centres of pressure along the target
// line at address, m; NaN when the feet were not measured apart.
func (a *Analysis) stanceWidth() float64 {
	i := a.At(a.Quiet.To)
	return i.LeadCOP.Y - i.TrailCOP.Y
}

// measureFeet: where in each foot the pressure is.
func (a *Analysis) measureFeet(feet Feet) {
	for _, f := range []struct {
		name string
		foot *cop.Foot
		at   func(Instant) r3.Vec
		when phase.Name
	}{
		{"trail", feet.Trail, func(i Instant) r3.Vec { return i.TrailCOP }, phase.TrailLoadPeak},
		{"lead", feet.Lead, func(i Instant) r3.Vec { return i.LeadCOP }, phase.LeadVerticalPeak},
	} {
		if f.foot == nil {
			continue
		}
		a.addAt(f.name+"_pressure_along", "place of the pressure in the "+f.name+" foot at "+words(f.when)+": heel 0, toe 100", f.when, "%",
			func(i Instant) float64 { return 100 * f.foot.Place(f.at(i)).Along })
		a.addAt(f.name+"_pressure_across", "the same across: inner border −100, outer border +100", f.when, "%",
			func(i Instant) float64 { return 100 * f.foot.Place(f.at(i)).Across })
	}
}

// measureTime: order and spacing of the peaks, and tempo.
func (a *Analysis) measureTime() {
	for _, f := range []phase.Name{phase.LateralPeak, phase.FrontalTorquePeak, phase.LeadVerticalPeak, phase.VerticalTorquePeak} {
		a.add(string(f)+"_before_impact", "time from "+words(f)+" to impact", a.between(f, phase.Impact), "s", math.NaN())
	}
	for _, p := range a.Phases {
		a.add(p.Name+"_time", fmt.Sprintf("%s: from %s to %s", p.Name, words(p.From.Name), words(p.To.Name)), p.Duration(), "s", math.NaN())
	}
	back, down := a.between(phase.Onset, phase.Top), a.between(phase.Top, phase.Impact)
	if !math.IsNaN(back) && !math.IsNaN(down) {
		a.add("tempo", "backswing time by downswing time", back/down, "1", math.NaN())
	}
}

// between returns the time from one event to another, NaN if either is unknown.
func (a *Analysis) between(from, to phase.Name) float64 {
	return a.Events.Time(to) - a.Events.Time(from)
}

// extreme returns the time and value of the highest sample from an event on for
// the following second; NaN when the event is unknown.
func (a *Analysis) extreme(from phase.Name, x func(i int) float64) (t, v float64) {
	begin := a.Events.Time(from)
	if math.IsNaN(begin) {
		return math.NaN(), math.NaN()
	}
	t, v = math.NaN(), math.NaN()
	for i := a.Recording.Index(begin); i <= min(a.To, a.Recording.Index(begin+1)); i++ {
		if y := x(i); !math.IsNaN(y) && !(y <= v) {
			t, v = a.Series.Time[i], y
		}
	}
	return t, v
}

// integral returns the time integral of x between two events, NaN if either is
// unknown, they are not in order, or x is undefined between them.
func (a *Analysis) integral(from, to phase.Name, x func(i int) float64) float64 {
	t0, t1 := a.Events.Time(from), a.Events.Time(to)
	if !(t0 < t1) {
		return math.NaN()
	}
	v := make([]float64, a.Recording.Len())
	for i := range v {
		v[i] = x(i)
	}
	sum, err := torque.Integral(v, a.Recording.Start, a.Recording.Rate, t0, t1)
	if err != nil {
		return math.NaN()
	}
	return sum
}
