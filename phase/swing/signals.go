package swing

import (
	"math"

	"example.com/momentarm/torque"
)

// Signal is something that has a value at any instant of a swing, to draw as a
// curve.
type Signal struct {
	Name  string // for programs: lower case with underscores; stable
	Label string // for people
	Unit  string // as in [Measure]
	// Value returns the value at an instant of the analysis, NaN where it is
	// undefined.
	Value func(*Analysis, Instant) float64
}

// Signals returns the curves that one looks at first. Forces are in percent of
// body weight, moments per kilogram of mass and shifts from address, so that
// swings of different golfers can be laid over each other. Callers add their own.
func Signals() []Signal {
	weights := func(force func(Instant) float64) func(*Analysis, Instant) float64 {
		return func(a *Analysis, i Instant) float64 { return 100 * force(i) / a.BodyWeight }
	}
	perKilogram := func(moment func(Instant) float64) func(*Analysis, Instant) float64 {
		return func(a *Analysis, i Instant) float64 { return moment(i) / a.Mass }
	}
	plain := func(value func(Instant) float64) func(*Analysis, Instant) float64 {
		return func(_ *Analysis, i Instant) float64 { return value(i) }
	}
	return []Signal{
		{"vertical_bw", "vertical force of both feet", "%BW", weights(func(i Instant) float64 { return i.Net.Force.Z })},
		{"lead_vertical_bw", "vertical force under the lead foot", "%BW", weights(func(i Instant) float64 { return i.Lead.Force.Z })},
		{"trail_vertical_bw", "vertical force under the trail foot", "%BW", weights(func(i Instant) float64 { return i.Trail.Force.Z })},
		{"lateral_bw", "lateral force toward the target", "%BW", weights(func(i Instant) float64 { return i.Net.Force.Y })},
		{"forward_bw", "force toward the ball", "%BW", weights(func(i Instant) float64 { return i.Net.Force.X })},
		{"lead_share", "lead foot's share of the load", "%", plain(func(i Instant) float64 { return 100 * i.LeadShare })},
		{"frontal_torque_kg", "frontal torque", "N·m/kg", perKilogram(func(i Instant) float64 { return i.Moment.Frontal })},
		{"sagittal_torque_kg", "sagittal torque", "N·m/kg", perKilogram(func(i Instant) float64 { return i.Moment.Sagittal })},
		{"vertical_torque_kg", "vertical-axis torque", "N·m/kg", perKilogram(func(i Instant) float64 { return i.Moment.Horizontal })},
		{"plane_torque_kg", "torque in the swing plane", "N·m/kg", perKilogram(func(i Instant) float64 { return i.InPlane })},
		{"frontal_arm", "frontal moment arm", "m", plain(func(i Instant) float64 { return i.Arm.Frontal })},
		{"horizontal_arm", "horizontal moment arm", "m", plain(func(i Instant) float64 { return i.Arm.Horizontal })},
		{"pressure_lateral", "net centre of pressure along the target line", "m", plain(func(i Instant) float64 { return i.NetCOP.Y })},
		{"pressure_forward", "net centre of pressure toward the ball", "m", plain(func(i Instant) float64 { return i.NetCOP.X })},
		{"com_shift", "centre of mass toward the target since address", "m", func(a *Analysis, i Instant) float64 {
			return i.COM.Y - a.At(a.Quiet.To).COM.Y
		}},
		{"com_rise", "height of the centre of mass since address", "m", func(a *Analysis, i Instant) float64 {
			return i.COM.Z - a.At(a.Quiet.To).COM.Z
		}},
		{"force_tilt", "tilt of the net force toward the target", "deg", func(a *Analysis, i Instant) float64 {
			return torque.TiltOf(i.Net.Force, a.Settings.MinPlane).Frontal * 180 / math.Pi
		}},
	}
}

// SignalNamed returns that one of [Signals] which has this name, and whether
// there is one.
func SignalNamed(name string) (Signal, bool) {
	for _, s := range Signals() {
		if s.Name == name {
			return s, true
		}
	}
	return Signal{}, false
}
