package swing

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
	"example.com/momentarm/torque"
)

// Instant is everything that is known of one time: the values of the series there,
// what follows from them, and the standard deviations of both. What was not
// measured is NaN.
type Instant struct {
	Time float64 // s

	Lead, Trail, Net             grf.Wrench
	LeadCOP, TrailCOP, NetCOP    r3.Vec
	LeadFree, TrailFree, NetFree float64
	LeadShare                    float64 // lead part of the vertical load, 0…1
	COM, COMVelocity             r3.Vec

	Moment  torque.Planes // of the ground force about the centre of mass, N·m
	InPlane float64       // the same in the swing plane, N·m
	Arm     torque.Planes // signed moment arms, m
	Arm3D   float64       // |r × F|/|F| of the net force at the net centre of pressure, m

	// Standard deviations, to first order: noise as the quiet stance shows it,
	// lasting errors of the plates, the centre of mass.
	LeadCOPSD, TrailCOPSD, NetCOPSD    r3.Vec
	LeadFreeSD, TrailFreeSD, NetFreeSD float64
	LeadShareSD                        float64
	COMSD, COMVelocitySD, COMShiftSD   r3.Vec // see [Series]
	MomentSD, ArmSD                    torque.Planes
	InPlaneSD, Arm3DSD                 float64
}

// Sample returns what is known of sample i. Share, moments, arms and most standard
// deviations are worked out when they are asked for: kept for every sample they
// would take more memory than all that they are made of. Like an index it panics
// when there is no such sample.
func (a *Analysis) Sample(i int) Instant {
	at := a.values(i)
	a.uncertainty(&at)
	return at
}

// At returns what is known of time t, s, by straight lines between the samples.
// Outside the recording and next to undefined samples it is NaN.
func (a *Analysis) At(t float64) Instant {
	x := (t - a.Recording.Start) * a.Recording.Rate
	if on := math.Round(x); math.Abs(x-on) < 1e-6 {
		x = on // rounding must not let an undefined neighbour spoil a sample
	}
	n := len(a.Series.Time)
	if !(x >= -1e-9 && x <= float64(n-1)+1e-9) {
		return nowhere(t)
	}
	i := max(0, min(int(x), n-2))
	at := a.Sample(i)
	if f := x - float64(i); f != 0 {
		at = toward(at, a.Sample(min(i+1, n-1)), f)
	}
	at.Time = t
	return at
}

// values returns sample i without standard deviations, which are NaN.
func (a *Analysis) values(i int) Instant {
	s := &a.Series
	at := nowhere(s.Time[i])
	pick(&at.Lead, s.Lead, i)
	pick(&at.Trail, s.Trail, i)
	pick(&at.Net, s.Net, i)
	pick(&at.LeadCOP, s.LeadCOP, i)
	pick(&at.TrailCOP, s.TrailCOP, i)
	pick(&at.NetCOP, s.NetCOP, i)
	pick(&at.LeadFree, s.LeadFree, i)
	pick(&at.TrailFree, s.TrailFree, i)
	pick(&at.NetFree, s.NetFree, i)
	pick(&at.COM, s.COM, i)
	pick(&at.COMVelocity, s.COMVelocity, i)
	pick(&at.COMSD, s.COMSD, i)
	pick(&at.COMVelocitySD, s.COMVelocitySD, i)
	pick(&at.COMShiftSD, s.COMShiftSD, i)

	at.LeadShare = cop.ShareOf(at.Lead.Force.Z, at.Trail.Force.Z, a.Settings.MinVertical)
	at.Moment = torque.About(at.Net, at.COM)
	at.InPlane = torque.InPlane(at.Moment, a.Settings.Plane)
	arm := torque.Arms(at.Net, at.COM, at.NetFree, a.Settings.MinPlane)
	at.Arm, at.Arm3D = arm.Planes, arm.ThreeD
	return at
}

// pick leaves *dst when there is no series.
func pick[T any](dst *T, series []T, i int) {
	if series != nil {
		*dst = series[i]
	}
}

// nowhere is an instant of which nothing is known.
func nowhere(t float64) Instant {
	n, v, w := math.NaN(), nanVec(), grf.NaN()
	p := torque.FromVec(v)
	return Instant{
		Time: t,
		Lead: w, Trail: w, Net: w,
		LeadCOP: v, TrailCOP: v, NetCOP: v,
		LeadFree: n, TrailFree: n, NetFree: n,
		LeadShare: n,
		COM:       v, COMVelocity: v,
		Moment: p, InPlane: n, Arm: p, Arm3D: n,
		LeadCOPSD: v, TrailCOPSD: v, NetCOPSD: v,
		LeadFreeSD: n, TrailFreeSD: n, NetFreeSD: n,
		LeadShareSD: n,
		COMSD:       v, COMVelocitySD: v, COMShiftSD: v,
		MomentSD: p, ArmSD: p,
		InPlaneSD: n, Arm3DSD: n,
	}
}

// toward is the part f of the way from a to b; the time is that of a.
func toward(a, b Instant, f float64) Instant {
	num := func(a *float64, b float64) { *a += float64(f * (b - *a)) }
	vec := func(a *r3.Vec, b r3.Vec) {
		num(&a.X, b.X)
		num(&a.Y, b.Y)
		num(&a.Z, b.Z)
	}
	wrench := func(a *grf.Wrench, b grf.Wrench) {
		vec(&a.Force, b.Force)
		vec(&a.Moment, b.Moment)
	}
	planes := func(a *torque.Planes, b torque.Planes) {
		num(&a.Frontal, b.Frontal)
		num(&a.Sagittal, b.Sagittal)
		num(&a.Horizontal, b.Horizontal)
	}
	wrench(&a.Lead, b.Lead)
	wrench(&a.Trail, b.Trail)
	wrench(&a.Net, b.Net)
	vec(&a.LeadCOP, b.LeadCOP)
	vec(&a.TrailCOP, b.TrailCOP)
	vec(&a.NetCOP, b.NetCOP)
	num(&a.LeadFree, b.LeadFree)
	num(&a.TrailFree, b.TrailFree)
	num(&a.NetFree, b.NetFree)
	num(&a.LeadShare, b.LeadShare)
	vec(&a.COM, b.COM)
	vec(&a.COMVelocity, b.COMVelocity)
	planes(&a.Moment, b.Moment)
	num(&a.InPlane, b.InPlane)
	planes(&a.Arm, b.Arm)
	num(&a.Arm3D, b.Arm3D)
	vec(&a.LeadCOPSD, b.LeadCOPSD)
	vec(&a.TrailCOPSD, b.TrailCOPSD)
	vec(&a.NetCOPSD, b.NetCOPSD)
	num(&a.LeadFreeSD, b.LeadFreeSD)
	num(&a.TrailFreeSD, b.TrailFreeSD)
	num(&a.NetFreeSD, b.NetFreeSD)
	num(&a.LeadShareSD, b.LeadShareSD)
	vec(&a.COMSD, b.COMSD)
	vec(&a.COMVelocitySD, b.COMVelocitySD)
	vec(&a.COMShiftSD, b.COMShiftSD)
	planes(&a.MomentSD, b.MomentSD)
	planes(&a.ArmSD, b.ArmSD)
	num(&a.InPlaneSD, b.InPlaneSD)
	num(&a.Arm3DSD, b.Arm3DSD)
	return a
}

func nanVec() r3.Vec { n := math.NaN(); return r3.Vec{X: n, Y: n, Z: n} }
