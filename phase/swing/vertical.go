package swing

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
)

// A recording without horizontal forces (grf.Recording.VerticalOnly: from a
// pressure mat, or from a plate that measures vertical load alone) tells loads,
// shares, centres of pressure and the events that these define. The centre of mass
// can not be followed without horizontal force, and moments and arms need both: all
// of them are NaN, and say grf.NoHorizontal.

// flat reports whether horizontal forces were not measured.
func (a *Analysis) flat() bool { return a.Recording.VerticalOnly() }

// lowpass filters a series, of which a filter takes a sample with a NaN for lost,
// whatever instrument it comes from.
func lowpass(f *filter.ZeroPhase, ws []grf.Wrench) ([]grf.Wrench, error) {
	if !grf.VerticalOnly(ws) {
		return f.Wrenches(nil, ws)
	}
	out := make([]grf.Wrench, len(ws))
	for i, w := range ws {
		w.Force.X, w.Force.Y, w.Moment.Z = 0, 0, 0
		out[i] = w
	}
	out, err := f.Wrenches(out, out)
	for i, w := range out {
		out[i] = w.WithoutHorizontal()
	}
	return out, err
}

// noMass leaves the centre of mass undefined.
func (a *Analysis) noMass(opt Options) {
	s, n := &a.Series, a.Recording.Len()
	s.COM, s.COMVelocity = make([]r3.Vec, n), make([]r3.Vec, n)
	for i := range n {
		s.COM[i], s.COMVelocity[i] = nanVec(), nanVec()
	}
	a.Settings.COM = "none: " + grf.NoHorizontal
	a.warn("vertical-only", "", "%s: loads, shares and centres of pressure are worked out; lateral force, free moments, centre of mass, torques and arms are not", grf.NoHorizontal)
	if len(opt.COM) > 0 {
		a.warn("com-not-used", "", "what other instruments tell of the centre of mass was left aside, as it can not be joined with forces: %s", grf.NoHorizontal)
	}
	if m := a.Recording.Mass; m > 0 && math.Abs(m-a.Mass) > 0.02*a.Mass {
		a.warn("mass-mismatch", "mass", "stated %.1f kg, but %.1f kg were carried in the quiet stance; the latter is used (mats weigh less exactly than plates)", m, a.Mass)
	}
	a.step("no centre of mass, moments and arms: %s", grf.NoHorizontal)
}

// needsHorizontal calls measure for measures that need horizontal force, so that
// those which are undefined for want of it say so.
func (a *Analysis) needsHorizontal(measure func()) {
	if a.flat() {
		a.why = grf.NoHorizontal
	}
	measure()
	a.why = ""
}
