package synth

import (
	"errors"
	"fmt"
	"math"

	"example.com/momentarm/grf"
)

// ErrConfig means a Config that describes no possible swing. The errors that
// wrap it are [*ConfigError].
var ErrConfig = errors.New("synth: unusable configuration")

// ConfigError says which field of a Config is at fault; it wraps [ErrConfig].
type ConfigError struct {
	Field string
	Value any
	Want  string
}

func (e *ConfigError) Error() string {
	return fmt.Sprintf("synth: %s is %v: want %s", e.Field, e.Value, e.Want)
}

func (e *ConfigError) Unwrap() error { return ErrConfig }

// Gravity is the gravitational acceleration that swings are made with, m/s²:
// the standard value (CGPM 1901).
const Gravity = 9.80665

// Config describes a golfer and a swing. The zero value is a sensible
// right-handed golfer with a driver; a field that is zero takes the default
// named beside it.
type Config struct {
	Mass    float64 // kg, of golfer and club; default 78
	Stature float64 // m; default 1.78
	Handed  grf.Handedness
	// StanceWidth is the distance between the middles of the feet along the
	// target line, m; default 0.26 of the stature.
	StanceWidth float64

	Style Style
	// Strength scales the wanted forces, torques and travel of the centre of
	// mass, not the wanted load share; default 1.
	Strength float64
	// Individual, when not 0, gives the golfer habits of their own: it seeds
	// small changes of the style's curves.
	Individual uint64

	Downswing float64 // s from top to impact; default 0.28, of HalfSwing 0.36
	Tempo     float64 // backswing time over downswing time; default 3
	Follow    float64 // s from impact until still; default 1.3

	// Unloaded is the time at the start during which nobody stands on the
	// plates, s; default 0. When it is not 0, two seconds follow in which the
	// golfer steps on, trail foot first: see [Swing.Aboard].
	Unloaded float64
	// Waggles is the number of small practice moves before the swing; default
	// 0. The golfer is still before, between and after them.
	Waggles int
	// WaggleSize scales the waggles; default 1. At 4 they are false starts.
	WaggleSize float64
	Address    float64 // s of stillness just before the swing; default 2
	Hold       float64 // s of stillness after the swing; default 1.5

	Start float64 // s, the clock at the first sample; default 0
	Rate  float64 // Hz, of the recordings; default 1000
}

// Style names a way to swing: what is in the curves, not how good it is.
type Style int

const (
	// Balanced keeps moving the load to the lead foot through impact.
	Balanced Style = iota
	// Reverse moves the load to the lead foot early in the downswing and back
	// toward the middle at impact: the second of the two styles that Ball and
	// Best (2007, J. Sports Sci. 25:757–770) found.
	Reverse
	// LateWide loads the trail foot late, far out on its outer border.
	LateWide
	// Squat sinks deep in transition and leaves the lead foot without load
	// until late.
	Squat
	// EarlyDrift carries the centre of mass to the lead side in the backswing.
	EarlyDrift
	// SmallArm makes large forces that pass close to the centre of mass.
	SmallArm
	// HalfSwing is a short, slow swing.
	HalfSwing
	// LeadLift takes the lead foot off the plate for a moment in the
	// backswing.
	LeadLift
	// HangBack never carries half of the load to the lead foot before impact.
	HangBack
	// Still does not swing at all; Waggles, if any, are all that moves.
	Still

	styles int = iota
)

var styleNames = [...]string{
	"balanced", "reverse", "late-wide", "squat", "early-drift", "small-arm",
	"half-swing", "lead-lift", "hang-back", "still",
}

// String returns the name of the style in lower case.
func (s Style) String() string {
	if s < 0 || int(s) >= len(styleNames) {
		return fmt.Sprintf("Style(%d)", int(s))
	}
	return styleNames[s]
}

// Limits of what a Config may ask for. They keep the swing one that feet on
// two plates can make.
const (
	minAddress = 0.3 // s
	maxTime    = 600 // s
)

// withDefaults replaces zero fields by their defaults and checks all.
func (c Config) withDefaults() (Config, error) {
	fallback := func(v *float64, d float64) {
		if *v == 0 {
			*v = d
		}
	}
	fallback(&c.Mass, 78)
	fallback(&c.Stature, 1.78)
	fallback(&c.StanceWidth, 0.26*c.Stature)
	fallback(&c.Strength, 1)
	if c.Style == HalfSwing {
		fallback(&c.Downswing, 0.36)
	}
	fallback(&c.Downswing, 0.28)
	fallback(&c.Tempo, 3)
	fallback(&c.Follow, 1.3)
	fallback(&c.Address, 2)
	fallback(&c.Hold, 1.5)
	fallback(&c.WaggleSize, 1)
	fallback(&c.Rate, 1000)
	for _, f := range []struct {
		name   string
		v      float64
		lo, hi float64
		unit   string
	}{
		{"Mass", c.Mass, 20, 250, "kg"},
		{"Stature", c.Stature, 1, 2.5, "m"},
		{"StanceWidth", c.StanceWidth, 0.15, 0.9, "m"},
		{"Strength", c.Strength, 0.3, 1.5, ""},
		{"Downswing", c.Downswing, 0.15, 0.8, "s"},
		{"Tempo", c.Tempo, 1.5, 5, ""},
		{"Follow", c.Follow, 0.6, 4, "s"},
		{"Unloaded", c.Unloaded, 0, maxTime, "s"},
		{"WaggleSize", c.WaggleSize, 0.1, 4, ""},
		{"Address", c.Address, minAddress, maxTime, "s"},
		{"Hold", c.Hold, 0, maxTime, "s"},
		{"Rate", c.Rate, 20, 20000, "Hz"},
		{"Start", c.Start, -1e6, 1e6, "s"},
	} {
		if !(f.v >= f.lo && f.v <= f.hi) { // also refuses NaN
			unit := f.unit
			if unit != "" {
				unit = " " + unit
			}
			return c, &ConfigError{f.name, f.v, fmt.Sprintf("%g to %g%s", f.lo, f.hi, unit)}
		}
	}
	switch {
	case c.Handed != grf.RightHanded && c.Handed != grf.LeftHanded:
		return c, &ConfigError{"Handed", c.Handed, "grf.RightHanded or grf.LeftHanded"}
	case c.Style < 0 || int(c.Style) >= styles:
		return c, &ConfigError{"Style", c.Style, "one of the named styles"}
	case c.Waggles < 0 || c.Waggles > 20:
		return c, &ConfigError{"Waggles", c.Waggles, "0 to 20"}
	}
	return c, nil
}

// smoothStep rises from 0 to 1 over 0 ≤ x ≤ 1 with three continuous
// derivatives: the septic step.
func smoothStep(x float64) float64 {
	x = math.Max(0, math.Min(1, x))
	return x * x * x * x * (35 + x*(-84+x*(70-20*x)))
}
