package swing

import (
	"fmt"
	"math"

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

	// COM is the path of the centre of mass as somebody else knows it; nil means
	// that it is found from the forces.
	COM *grf.Track
	// COMHeight is the height of the centre of mass in the quiet stance, m; 0
	// means a fraction of the stature. It is used when COM is nil.
	COMHeight float64

	// Feet are the outlines of the feet on the surface, if known.
	Feet Feet

	// Points are the paths of body points, if known: "lead_knee", "lead_ankle",
	// "trail_knee" and "trail_ankle" give the lean of the shins.
	Points map[string]grf.Track
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
	if !(o.COMHeight >= 0) || o.COMHeight > 3 {
		return s, fmt.Errorf("%w: centre of mass %g m high", ErrOptions, o.COMHeight)
	}
	return s, nil
}

func orDefault(v, def float64) float64 {
	if v == 0 {
		return def
	}
	return v
}
