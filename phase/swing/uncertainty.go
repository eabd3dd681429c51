package swing

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
	"example.com/momentarm/torque"
)

// noises works out the noise of the wrenches.
func (a *Analysis) noises(raw []grf.Wrench) {
	rec, s := a.Recording, &a.Series
	a.lasting = a.lastingErrors()
	if !rec.Split() {
		a.Noise.Net = a.noise(raw, s.Net)
		return
	}
	a.Noise.Lead, a.Noise.Trail = a.noise(rec.Lead, s.Lead), a.noise(rec.Trail, s.Trail)
	a.Noise.Net = a.Noise.Lead.Add(a.Noise.Trail)
}

// uncertainty works out the standard deviations of a sample. The errors of a
// foot's wrench are of four kinds, independent of each other: noise, a lasting
// error of force and moment, where the plate measures the pressure, which counts
// with the force, and how sensitive the plate is, which counts with all of it.
func (a *Analysis) uncertainty(at *Instant) {
	var net grf.Covariance
	if a.Recording.Split() {
		lead := a.covariance(&a.Noise.Lead, &a.lasting, at.Lead)
		trail := a.covariance(&a.Noise.Trail, &a.lasting, at.Trail)
		at.LeadCOPSD, at.LeadFreeSD = a.pressureSD(at.Lead, at.LeadCOP, &lead)
		at.TrailCOPSD, at.TrailFreeSD = a.pressureSD(at.Trail, at.TrailCOP, &trail)
		at.LeadShareSD = cop.ShareSD(at.Lead, at.Trail, lead.SD().Force.Z, trail.SD().Force.Z)
		net = lead.Add(trail)
	} else {
		net = a.covariance(&a.Noise.Net, &a.lasting, at.Net)
	}
	at.NetCOPSD, at.NetFreeSD = a.pressureSD(at.Net, at.NetCOP, &net)
	u := torque.Uncertainty{Wrench: net, COM: at.COMSD}
	at.MomentSD = torque.AboutSD(at.Net, at.COM, &u)
	at.InPlaneSD = torque.InPlaneSD(at.Net, at.COM, a.Settings.Plane, &u)
	arm := torque.ArmsSD(at.Net, at.COM, a.Settings.MinPlane, &u)
	at.ArmSD, at.Arm3DSD = arm.Planes, arm.ThreeD
}

// covariance is that of all errors of one plate that measures w.
func (a *Analysis) covariance(noise, lasting *grf.Covariance, w grf.Wrench) grf.Covariance {
	e := a.Settings.Errors
	return noise.Add(*lasting).Add(grf.Misplaced(w.Force, r3.Vec{X: e.Place, Y: e.Place})).Add(scaled(w, e.Gain))
}

// scaled is the covariance of a wrench of which all components are too large by
// the same factor, 1 to within sd.
func scaled(w grf.Wrench, sd float64) grf.Covariance {
	var c grf.Covariance
	if sd == 0 {
		return c
	}
	v := [6]float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z}
	for i := range v {
		for j := range v {
			c[i][j] = sd * sd * v[i] * v[j]
		}
	}
	return c
}

// netCovariance is that of both feet at an instant.
func (a *Analysis) netCovariance(i Instant) grf.Covariance {
	if a.Recording.Split() {
		return a.leadCovariance(i).Add(a.trailCovariance(i))
	}
	return a.covariance(&a.Noise.Net, &a.lasting, i.Net)
}

// leadCovariance and trailCovariance are those of the feet at an instant.
func (a *Analysis) leadCovariance(i Instant) grf.Covariance {
	return a.covariance(&a.Noise.Lead, &a.lasting, i.Lead)
}

func (a *Analysis) trailCovariance(i Instant) grf.Covariance {
	return a.covariance(&a.Noise.Trail, &a.lasting, i.Trail)
}

// pressureSD leaves undefined what the unfiltered load left undefined.
func (a *Analysis) pressureSD(w grf.Wrench, at r3.Vec, cov *grf.Covariance) (r3.Vec, float64) {
	if math.IsNaN(at.X) {
		return nanVec(), math.NaN()
	}
	return cop.OfSD(w, cov, 0, a.Settings.MinVertical)
}

// lastingErrors is the covariance of the lasting errors of one foot. Where the
// centre of its plate is, an analysis does not know; force and moment err
// independently about the centre of pressure of the quiet stance, which is near.
// About an origin farther away the error of a force makes one of the moment.
func (a *Analysis) lastingErrors() grf.Covariance {
	e, mean := a.Settings.Errors, a.Quiet.Mean
	near := r3.Vec{X: -mean.Moment.Y / mean.Force.Z, Y: mean.Moment.X / mean.Force.Z}
	c := grf.Diagonal(grf.Wrench{Moment: r3.Vec{X: e.Moment, Y: e.Moment, Z: e.Moment}})
	for _, f := range [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}} {
		c = c.Add(scaled(grf.At(f, near, r3.Vec{}), e.Force))
	}
	return c
}

// noise returns the covariance of the noise that is left after filtering, from
// what the filter took away during the quiet stance. The golfer's sway is slow
// and stays out of that; for white noise of variance σ² the difference between
// raw and filtered has the variance σ² (1 − 2 h₀ + Σh²) and the filtered signal
// σ² Σh², with h the weights of the filter.
func (a *Analysis) noise(raw, filtered []grf.Wrench) grf.Covariance {
	q := a.Quiet
	if a.Settings.Cutoff == 0 {
		return grf.CovarianceOf(raw[q.First : q.Last+1])
	}
	rest := make([]grf.Wrench, q.Last-q.First+1)
	for i := range rest {
		rest[i] = raw[q.First+i].Sub(filtered[q.First+i])
	}
	return grf.CovarianceOf(rest).Scale(a.passed)
}
