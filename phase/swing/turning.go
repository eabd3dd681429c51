package swing

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/torque"
)

var (
	frontalTorque = quantity{func(i Instant) float64 { return i.Moment.Frontal }, func(i Instant) float64 { return i.MomentSD.Frontal }}
	turnTorque    = quantity{func(i Instant) float64 { return i.Moment.Horizontal }, func(i Instant) float64 { return i.MomentSD.Horizontal }}
	planeTorque   = quantity{func(i Instant) float64 { return i.InPlane }, func(i Instant) float64 { return i.InPlaneSD }}
	frontalArm    = quantity{func(i Instant) float64 { return i.Arm.Frontal }, func(i Instant) float64 { return i.ArmSD.Frontal }}
	turnArm       = quantity{func(i Instant) float64 { return i.Arm.Horizontal }, func(i Instant) float64 { return i.ArmSD.Horizontal }}
	arm3D         = quantity{func(i Instant) float64 { return i.Arm3D }, func(i Instant) float64 { return i.Arm3DSD }}
)

// measureTorque: moments about the centre of mass, their arms, what they add up
// to.
func (a *Analysis) measureTorque() {
	kg := 1 / a.Mass
	f, v := phase.FrontalTorquePeak, phase.VerticalTorquePeak
	a.putAt("frontal_torque_peak", "peak frontal torque", f, "N·m", frontalTorque)
	a.putAt("frontal_torque_peak_kg", "peak frontal torque, per kilogram", f, "N·m/kg", frontalTorque.times(kg))
	a.putAt("frontal_arm_at_peak", "frontal moment arm at the frontal torque peak", f, "m", frontalArm)
	size, tilt := a.frontalForce()
	a.putAt("frontal_force_at_peak", "force in the frontal plane at that peak", f, "N", size)
	a.putAt("frontal_tilt_at_peak", "tilt of the force toward the target at that peak", f, "deg", tilt)
	a.putAt("arm_3d_at_frontal_peak", "distance of the net force from the centre of mass at that peak", f, "m", arm3D)

	a.putAt("vertical_torque_peak", "peak vertical-axis torque", v, "N·m", turnTorque)
	a.putAt("vertical_torque_peak_kg", "peak vertical-axis torque, per kilogram", v, "N·m/kg", turnTorque.times(kg))
	a.putAt("horizontal_arm_at_peak", "horizontal moment arm at the vertical-axis torque peak", v, "m", turnArm)

	from := a.Events.Time(phase.TrailLoadPeak)
	if !a.Recording.Split() {
		from = a.Events.Time(phase.LowestVertical)
	}
	a.putTime("frontal_arm_peak", "longest frontal moment arm", a.highest(from, from+downswingTime, frontalArm), math.NaN(), "m", frontalArm)
	t := a.highest(from, from+downswingTime, planeTorque)
	plane := fmt.Sprintf("a swing plane inclined by %.0f°", a.Settings.Plane*180/math.Pi)
	a.putTime("plane_torque_peak", "peak torque in "+plane, t, math.NaN(), "N·m", planeTorque)
	a.putTime("plane_torque_peak_kg", "peak torque in that plane, per kilogram", t, math.NaN(), "N·m/kg", planeTorque.times(kg))
	if a.Recording.Split() {
		a.measureFeetShare(t)
	}
	const until = " from the lateral force's turn to impact"
	a.putIntegral("frontal_angular_impulse", "frontal angular impulse"+until, phase.LateralTurn, phase.Impact, "N·m·s", frontalTorque)
	a.putIntegral("vertical_angular_impulse", "vertical-axis angular impulse"+until, phase.LateralTurn, phase.Impact, "N·m·s", turnTorque)
	a.putIntegral("plane_angular_impulse", "angular impulse in "+plane+until, phase.LateralTurn, phase.Impact, "N·m·s", planeTorque)
}

// frontalForce returns size and tilt, in degrees, of the force in the frontal
// plane.
func (a *Analysis) frontalForce() (size, tilt quantity) {
	sd := a.netForce(lateral).sd
	sz := a.netForce(vertical).sd
	length := func(i Instant) float64 { return math.Hypot(i.Net.Force.Y, i.Net.Force.Z) }
	size = quantity{length, func(i Instant) float64 {
		return math.Hypot(i.Net.Force.Y*sd(i), i.Net.Force.Z*sz(i)) / length(i)
	}}
	tilt = quantity{
		func(i Instant) float64 { return math.Atan2(i.Net.Force.Y, i.Net.Force.Z) },
		func(i Instant) float64 {
			return math.Hypot(i.Net.Force.Z*sd(i), i.Net.Force.Y*sz(i)) / (length(i) * length(i))
		},
	}.times(180 / math.Pi)
	return size, tilt
}

// measureFeetShare: which foot made the peaks, and how. plane is the time of the
// peak in the swing plane.
func (a *Analysis) measureFeetShare(plane float64) {
	least := a.Settings.MinVertical
	foot := func(of func(Instant) grf.Wrench, cov func(Instant) grf.Covariance, part func(torque.Planes) float64) quantity {
		return quantity{
			func(i Instant) float64 { return part(torque.About(of(i), i.COM)) },
			func(i Instant) float64 {
				return part(torque.AboutSD(of(i), i.COM, &torque.Uncertainty{Wrench: cov(i), COM: i.COMSD}))
			},
		}
	}
	lead := func(i Instant) grf.Wrench { return i.Lead }
	trail := func(i Instant) grf.Wrench { return i.Trail }
	frontal := func(p torque.Planes) float64 { return p.Frontal }
	horizontal := func(p torque.Planes) float64 { return p.Horizontal }

	f, v := phase.FrontalTorquePeak, phase.VerticalTorquePeak
	a.putAt("frontal_torque_lead", "lead foot's part of the frontal torque peak", f, "N·m", foot(lead, a.leadCovariance, frontal))
	a.putAt("frontal_torque_trail", "trail foot's part of the frontal torque peak", f, "N·m", foot(trail, a.trailCovariance, frontal))
	byVertical, byLateral := a.frontalParts()
	a.putAt("frontal_torque_from_vertical", "of the frontal torque peak, by the vertical force and its distance along the target line", f, "N·m", byVertical)
	a.putAt("frontal_torque_from_lateral", "of the frontal torque peak, by the lateral force and the height of the centre of mass", f, "N·m", byLateral)

	a.putAt("vertical_torque_lead", "lead foot's part of the vertical-axis torque peak", v, "N·m", foot(lead, a.leadCovariance, horizontal))
	a.putAt("vertical_torque_trail", "trail foot's part of the vertical-axis torque peak", v, "N·m", foot(trail, a.trailCovariance, horizontal))
	pivot := func(i Instant) torque.GroundMoments { return torque.Pivot(i.Lead, i.Trail, i.COM, 0, least) }
	pivotSD := func(i Instant) torque.GroundMomentsSD {
		return torque.PivotSD(i.Lead, i.Trail, i.COM, least,
			&torque.Uncertainty{Wrench: a.leadCovariance(i), COM: i.COMSD}, &torque.Uncertainty{Wrench: a.trailCovariance(i), COM: i.COMSD})
	}
	a.putAt("vertical_torque_ground_force", "of the vertical-axis torque peak, by the net force and its arm", v, "N·m", quantity{
		func(i Instant) float64 { return pivot(i).GroundForce.Horizontal }, func(i Instant) float64 { return pivotSD(i).GroundForce.Horizontal }})
	a.putAt("vertical_torque_pivoting", "of the vertical-axis torque peak, by the feet pushing in opposite directions (pivoting couple)", v, "N·m", quantity{
		func(i Instant) float64 { return pivot(i).Pivoting() }, func(i Instant) float64 { return pivotSD(i).Pivoting }})
	a.putAt("vertical_torque_free", "of the vertical-axis torque peak, by the free moments under the feet", v, "N·m", quantity{
		func(i Instant) float64 { return pivot(i).FootContact() }, func(i Instant) float64 { return pivotSD(i).FootContact }})

	tilt := a.Settings.Plane
	inPlane := func(of func(Instant) grf.Wrench, cov func(Instant) grf.Covariance) quantity {
		return quantity{
			func(i Instant) float64 { return torque.InPlane(torque.About(of(i), i.COM), tilt) },
			func(i Instant) float64 {
				return torque.InPlaneSD(of(i), i.COM, tilt, &torque.Uncertainty{Wrench: cov(i), COM: i.COMSD})
			},
		}
	}
	a.putTime("plane_torque_lead", "lead foot's part of the swing-plane torque peak", plane, math.NaN(), "N·m", inPlane(lead, a.leadCovariance))
	a.putTime("plane_torque_trail", "trail foot's part of the swing-plane torque peak", plane, math.NaN(), "N·m", inPlane(trail, a.trailCovariance))
}

// frontalParts splits the frontal moment of both feet by the component of the
// force: y·Fz and z·Fy, from the centre of mass to where the feet press.
func (a *Analysis) frontalParts() (byVertical, byLateral quantity) {
	least := a.Settings.MinVertical
	parts := func(i Instant) torque.Split { return torque.Parts(i.Lead, i.Trail, i.COM, 0, least) }
	flat := func(v r3.Vec) r3.Vec { v.Z = 0; return v }
	byVertical = quantity{
		func(i Instant) float64 { p := parts(i); return p.Lead.Vertical.Frontal + p.Trail.Vertical.Frontal },
		func(i Instant) float64 {
			// On the surface the moment about X is that of the vertical force alone.
			u := torque.Uncertainty{Wrench: a.leadCovariance(i).Add(a.trailCovariance(i)), COM: flat(i.COMSD)}
			return torque.AboutSD(i.Net, flat(i.COM), &u).Frontal
		},
	}
	sy := a.netForce(lateral).sd
	byLateral = quantity{
		func(i Instant) float64 { p := parts(i); return p.Lead.Lateral.Frontal + p.Trail.Lateral.Frontal },
		func(i Instant) float64 { return math.Hypot(i.COM.Z*sy(i), i.Net.Force.Y*i.COMSD.Z) },
	}
	return byVertical, byLateral
}
