package swing

import (
	"fmt"
	"math"

	"example.com/momentarm/phase"
	"example.com/momentarm/torque"
)

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
	t0, t1 := a.after(phase.TrailLoadPeak)
	t, v := a.extreme(t0, t1, func(i int) float64 { return a.Series.Arm[i].Frontal })
	a.add("frontal_arm_peak", "longest frontal moment arm", v, "m", t)
	t, v = a.extreme(t0, t1, func(i int) float64 { return a.Series.InPlane[i] })
	a.add("plane_torque_peak", fmt.Sprintf("peak torque in a swing plane inclined by %.0f°", a.Settings.Plane*180/math.Pi), v, "N·m", t)
	a.add("plane_torque_peak_kg", "the same per kilogram", v/kg, "N·m/kg", t)
	if a.Recording.Split() {
		a.measureFeetShare()
	}
	a.add("frontal_angular_impulse", "frontal angular impulse from the lateral force's turn to impact",
		a.integral(phase.LateralTurn, phase.Impact, func(i int) float64 { return a.Series.Moment[i].Frontal }), "N·m·s", math.NaN())
	a.add("vertical_angular_impulse", "vertical-axis angular impulse from the lateral force's turn to impact",
		a.integral(phase.LateralTurn, phase.Impact, func(i int) float64 { return a.Series.Moment[i].Horizontal }), "N·m·s", math.NaN())
	a.add("plane_angular_impulse", "angular impulse in the swing plane from the lateral force's turn to impact",
		a.integral(phase.LateralTurn, phase.Impact, func(i int) float64 { return a.Series.InPlane[i] }), "N·m·s", math.NaN())
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
	a.addAt("vertical_torque_lead", "lead foot's part of the vertical-axis torque peak", v, "N·m",
		func(i Instant) float64 { return parts(i).Lead.Total.Horizontal })
	a.addAt("vertical_torque_trail", "trail foot's part", v, "N·m",
		func(i Instant) float64 { return parts(i).Trail.Total.Horizontal })
	a.addAt("vertical_torque_ground_force", "of the vertical-axis torque peak: net force times its arm", v, "N·m",
		func(i Instant) float64 { return pivot(i).GroundForce.Horizontal })
	a.addAt("vertical_torque_pivoting", "made by the feet pushing in opposite directions (pivoting couple)", v, "N·m",
		func(i Instant) float64 { return pivot(i).Pivoting() })
	a.addAt("vertical_torque_free", "made by the free moments under the feet", v, "N·m",
		func(i Instant) float64 { return pivot(i).FootContact() })
}
