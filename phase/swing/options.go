package swing

import (
	"errors"
	"fmt"
	"math"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/units"
)

// Options say how a recording is analysed. The zero value means the defaults.
type Options struct {
	// Cutoff is the −3 dB frequency of the whole zero-phase low-pass, Hz; 0 means
	// [DefaultCutoff], [Unfiltered] means none.
	Cutoff float64
	// Order is the order of one of its two passes, even; 0 means 2. Two passes of
	// order 2 are what the literature calls a fourth-order zero-lag filter.
	Order int

	// MinVertical is the vertical force below which a centre of pressure is
	// undefined, N; 0 means [DefaultMinVertical].
	MinVertical float64
	// MinPlane is the force in a plane below which the moment arm in that plane
	// is undefined, N; 0 means [DefaultMinPlane]. An arm is a quotient, too.
	MinPlane float64

	// Plane is the inclination of the swing plane to the ground, rad; 0 means
	// [DefaultPlane].
	Plane float64

	// Gravity is the local acceleration of gravity, m/s²; 0 means
	// [units.StandardGravity].
	Gravity float64

	// Quiet says where to look for the quiet stance and how still it must be. Its
	// From and To are found from the swing when both are 0.
	Quiet grf.QuietOptions

	// COM are other instruments that know where the centre of mass is: markers, a
	// video, a segment model. They correct what the forces say: see
	// [com.Smooth]. None means forces alone.
	COM []com.Source
	// COMHeight is the height of the centre of mass in the quiet stance, m, and
	// COMHeightSD its standard deviation; 0 means a fraction of the stature, or
	// what the sources say.
	COMHeight, COMHeightSD float64

	// Errors say how wrong the plates may be.
	Errors Errors

	// Feet are the outlines of the feet on the surface, if known.
	Feet Feet

	// Points are the paths of body points, if known: "lead_knee", "lead_ankle",
	// "trail_knee" and "trail_ankle" give the lean of the shins.
	Points map[string]grf.Track
}

// Errors are the standard deviations of what can be wrong with the plates beside
// the noise that the quiet stance shows. A field that is 0 takes its default; NaN
// means that there is no such error.
type Errors struct {
	// Force is that of a lasting error of each force component of each foot, N:
	// drift, zero, cross-talk. Default 1 N (common practice, no published source).
	Force float64
	// Moment is that of each moment component of each foot about the centre of
	// pressure of the quiet stance, N·m. Default 0.3 N·m (common practice, no
	// published source).
	Moment float64
	// Place is that of where each plate measures the pressure, m: default 2 mm,
	// between the 1.3 and 1.6 mm that corrected plates reach (Bobbert and
	// Schamhardt, J. Biomech. 23 (1990) 705–710, abstract) and uncorrected ones.
	Place float64
	// Gain is that of the sensitivity of each plate, as a part of it: it makes all
	// that the plate measures too large or too small alike. Default 0.003, as in
	// [com.Noise] (common practice, no published source).
	Gain float64
}

func (e Errors) withDefaults() (Errors, error) {
	fill := func(v *float64, def float64) error {
		switch {
		case math.IsNaN(*v):
			*v = 0
		case *v == 0:
			*v = def
		case !(*v > 0) || math.IsInf(*v, 0):
			return fmt.Errorf("%w: plate error of %g", ErrOptions, *v)
		}
		return nil
	}
	return e, errors.Join(fill(&e.Force, 1), fill(&e.Moment, 0.3), fill(&e.Place, 0.002), fill(&e.Gain, 0.003))
}

const (
	// DefaultCutoff keeps what a swing does with the ground (its fastest force
	// peaks last some 0.1 s) and drops plate noise, Hz. The literature uses 30 to
	// 100 Hz for forces; state it with every result.
	DefaultCutoff = 50
	// DefaultMinVertical is common practice (no published source), N.
	DefaultMinVertical = 20
	// DefaultMinPlane bounds the arms, N.
	DefaultMinPlane = 20
	// DefaultPlane is the inclination of the swing plane, rad: 50°, somewhere
	// between a driver's and a short iron's (common practice, no published
	// source).
	DefaultPlane = 50 * math.Pi / 180
	// Unfiltered as a cut-off means that nothing is filtered.
	Unfiltered = -1
)

// settings fills in the defaults and refuses what makes no sense.
func (o Options) settings(rate float64) (Settings, error) {
	s := Settings{
		Version:     Version,
		Cutoff:      orDefault(o.Cutoff, DefaultCutoff),
		Order:       o.Order,
		MinVertical: orDefault(o.MinVertical, DefaultMinVertical),
		MinPlane:    orDefault(o.MinPlane, DefaultMinPlane),
		Plane:       orDefault(o.Plane, DefaultPlane),
		Gravity:     orDefault(o.Gravity, float64(units.StandardGravity)),
	}
	if s.Order == 0 {
		s.Order = 2
	}
	switch {
	case s.Cutoff == Unfiltered:
		s.Cutoff, s.Order = 0, 0
	case !(s.Cutoff > 0) || s.Cutoff >= rate/2:
		return s, fmt.Errorf("%w: cut-off of %g Hz; it must be above 0 and below half the sampling rate, %g Hz (swing.Unfiltered for none)", ErrOptions, s.Cutoff, rate/2)
	}
	if !(s.MinVertical > 0) || math.IsInf(s.MinVertical, 0) {
		return s, fmt.Errorf("%w: load threshold of %g N", ErrOptions, s.MinVertical)
	}
	if !(s.MinPlane > 0) || math.IsInf(s.MinPlane, 0) {
		return s, fmt.Errorf("%w: force threshold of %g N for the arms", ErrOptions, s.MinPlane)
	}
	if !(s.Plane > 0 && s.Plane < math.Pi/2) {
		return s, fmt.Errorf("%w: swing plane inclined by %g rad; it must be between 0 and π/2", ErrOptions, s.Plane)
	}
	if !(s.Gravity > 9 && s.Gravity < 10) {
		return s, fmt.Errorf("%w: gravity of %g m/s²; it is 9.78 to 9.83 on the Earth", ErrOptions, s.Gravity)
	}
	if !(o.COMHeight >= 0) || o.COMHeight > 3 || !(o.COMHeightSD >= 0) {
		return s, fmt.Errorf("%w: centre of mass %g m high, to within %g m", ErrOptions, o.COMHeight, o.COMHeightSD)
	}
	var err error
	s.Errors, err = o.Errors.withDefaults()
	return s, err
}

func orDefault(v, def float64) float64 {
	if v == 0 {
		return def
	}
	return v
}
