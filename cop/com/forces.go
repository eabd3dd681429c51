package com

import (
	"fmt"
	"math"
	"slices"

	"example.com/momentarm/grf"
	"example.com/momentarm/units"
	"gonum.org/v1/gonum/spatial/r3"
)

// StandardGravity in m/s², the default of every Gravity option: exact by
// definition (3rd CGPM, 1901). The true value lies between 9.780 and 9.832 m/s²
// on the Earth's surface.
const StandardGravity = 9.80665

// Height of the centre of mass above the floor as a part of stature.
const (
	// StandingHeight holds for upright standing with the arms at the sides
	// (McGinnis, Biomechanics of Sport and Exercise, 2005; Winter,
	// Biomechanics and Motor Control of Human Movement, 2005). People differ.
	StandingHeight = 0.56
	// AddressHeight is the default for a golfer at address. There is no
	// published figure: tilting head, arms and trunk forward by 40° at the
	// hips and bending the knees by 25° lowers the centre of mass by 0.04 of
	// stature when reckoned with the segment masses that Winter tabulates.
	// A measured height is better.
	AddressHeight = 0.52
	// assumedStature, m, stands in when nobody stated one. Common practice (no
	// published source).
	assumedStature = 1.75
)

// ForceOptions say how [FromForces] starts and ends. The zero value finds the
// quiet windows by itself and assumes a height, with a warning.
type ForceOptions struct {
	// Gravity in m/s²; 0 means [StandardGravity].
	Gravity float64

	// Quiet is the window before the swing in which the golfer stands still.
	// The zero Window means: the steadiest half second before the largest
	// force, widened as far as the force stays the same.
	Quiet Window

	// Still is the window after the swing in which the golfer stands still
	// again. The zero Window means: find one; a NaN window: there is none.
	Still Window

	// Height of the centre of mass above the standing surface during the
	// quiet stance, m; 0 means HeightFraction × Stature.
	Height float64
	// Stature of the golfer, m; 0 means unknown: 1.75 m with a warning.
	Stature float64
	// HeightFraction is the part of stature used when Height is 0; 0 means
	// [AddressHeight].
	HeightFraction float64

	// Mass that somebody stated, kg; 0 means none. It is only compared: the
	// path is reckoned with the weight that the plates themselves show in the
	// quiet stance, because a wrong mass is an acceleration that never ends.
	Mass float64

	// MaxGap is the longest stretch of lost samples, s, that is bridged by a
	// straight line in force; 0 means 0.02 s. Beyond a longer gap the path is
	// NaN.
	MaxGap float64
}

// FromForces returns the path of the centre of mass that the net ground
// reaction of a golfer implies, with force sample i taken at start + i/rate.
//
// The acceleration is ΣF/m + g with m = (mean vertical force of the quiet
// stance)/g. The mean horizontal force of the quiet stance, which should be
// zero, is taken for the plates' bias and removed. The acceleration is
// integrated twice, in straight lines between the samples, so that over the
// quiet stance the mean velocity is zero and the mean position lies above the
// centre of pressure (of the mean wrench, at Z = 0) at the height that the
// options say. The path reaches from there to both ends of the recording.
//
// Where the golfer is still again after the swing, the path is made to have
// zero mean velocity there and to lie above the centre of pressure, by the
// smallest force (in the least-squares sense over the time between the middles
// of the two windows) that does it: a straight line in time for the horizontal
// components, a constant for the vertical one, where only the velocity is
// known. Before the first window nothing is corrected; behind the second the
// correction keeps its last value. Without such a window the path drifts and a
// warning says how fast.
//
// A golfer is never perfectly still and a finish is often not balanced: name
// the windows where you can. Forces alone tell nothing about the height, so an
// error of the height stays as it is over the whole swing.
//
// The error wraps [grf.ErrNoData], [grf.ErrRate], [grf.ErrNoQuiet],
// [grf.ErrWindow] or [ErrOption].
//
// Sources: double integration and its start conditions, King & Zatsiorsky,
// Gait & Posture 6:27–38 (1997); the horizontal position over the centre of
// pressure where the horizontal force is zero, Zatsiorsky & King, J. Biomech.
// 31:161–164 (1998).
func FromForces(net []grf.Wrench, start, rate float64, opt ForceOptions) (*Path, error) {
	n := len(net)
	if n < 2 {
		return nil, fmt.Errorf("%w: %d force samples, need two or more", grf.ErrNoData, n)
	}
	if !(rate > 0) || math.IsInf(rate, 0) {
		return nil, fmt.Errorf("%w: %g Hz", grf.ErrRate, rate)
	}
	if math.IsNaN(start) || math.IsInf(start, 0) {
		return nil, fmt.Errorf("%w: start time %g s", ErrOption, start)
	}
	if err := opt.check(); err != nil {
		return nil, err
	}
	gravity := orDefault(opt.Gravity, StandardGravity)

	p := &Path{Start: start, Rate: rate, Method: "forces alone, integrated twice from quiet stance"}
	force := make([]r3.Vec, n)
	for i, w := range net {
		force[i] = w.Force
		if w.IsNaN() {
			force[i] = nan3()
		}
	}
	if !slices.ContainsFunc(force, finite) {
		return nil, fmt.Errorf("%w: all %d force samples are lost", grf.ErrNoData, n)
	}
	maxGap := orDefault(opt.MaxGap, 0.02)
	if filled := bridge(force, count(math.Round(maxGap*rate))); filled > 0 {
		p.warn("gap-bridged", "%d lost force samples were bridged by straight lines", filled)
	}

	quiet, err := findQuiet(net, force, opt.Quiet, start, rate)
	if err != nil {
		return nil, err
	}
	p.Mass = quiet.force.Z / gravity
	lo, hi := around(force, quiet.lo, quiet.hi)
	p.quietWarnings(quiet, p.Mass, opt.Mass)
	if lo > 0 || hi < n {
		p.warn("gap", "force is missing for longer than %g s: the path is known from %g to %g s only", maxGap, p.Time(lo), p.Time(hi-1))
	}

	acceleration := make([]r3.Vec, hi-lo)
	for i := range acceleration {
		acceleration[i] = r3.Scale(1/p.Mass, r3.Sub(force[lo+i], quiet.force))
	}
	p.Position, p.Velocity = make([]r3.Vec, n), make([]r3.Vec, n)
	for i := range p.Position {
		p.Position[i], p.Velocity[i] = nan3(), nan3()
	}
	position, velocity := p.Position[lo:hi], p.Velocity[lo:hi]
	integrate(position, velocity, acceleration, rate)
	at := r3.Vec{X: quiet.cop[0], Y: quiet.cop[1], Z: p.height(opt.Height, opt.Stature, opt.HeightFraction)}
	anchor(position, velocity, quiet.lo-lo, quiet.hi-lo, rate, at)

	still, ok, err := findStill(net, force, quiet, hi, opt.Still, start, rate, quiet.force.Z)
	if err != nil {
		return nil, err
	}
	if !ok {
		p.drift(quiet, hi)
		return p, nil
	}
	p.settle(quiet, still, lo, hi)
	return p, nil
}

func (opt ForceOptions) check() error {
	return positive(option{"gravity", opt.Gravity}, option{"height", opt.Height}, option{"stature", opt.Stature},
		option{"height fraction", opt.HeightFraction}, option{"mass", opt.Mass}, option{"longest gap", opt.MaxGap})
}

// option is a number by its name.
type option struct {
	name  string
	value float64
}

// positive returns an error when a number is negative or not finite.
func positive(options ...option) error {
	for _, o := range options {
		if !(o.value >= 0) || math.IsInf(o.value, 0) {
			return fmt.Errorf("%w: %s %g must be a positive number, or 0 for the default", ErrOption, o.name, o.value)
		}
	}
	return nil
}

func orDefault(v, otherwise float64) float64 {
	if v == 0 {
		return otherwise
	}
	return v
}

func (p *Path) warn(code, format string, args ...any) {
	p.Warnings = append(p.Warnings, grf.Warning{Code: code, Where: "centre of mass", Text: fmt.Sprintf(format, args...)})
}

// height returns the height of the centre of mass in the quiet stance and
// warns about how little is known of it.
func (p *Path) height(height, stature, fraction float64) float64 {
	if height > 0 {
		return height
	}
	fraction = orDefault(fraction, AddressHeight)
	if stature == 0 {
		p.warn("height-assumed", "neither height nor stature is known: the centre of mass is put %.2f m above the ground, which may be wrong by 0.1 m; 0.1 m changes the frontal torque by 0.1 N·m for each newton of lateral force",
			fraction*assumedStature)
		return fraction * assumedStature
	}
	p.warn("height-from-stature", "the centre of mass is put %.2f m above the ground, %g of stature; a golfer's posture may change this by some 0.05 m", fraction*stature, fraction)
	return fraction * stature
}

// quietWarnings tells what is odd about the quiet stance.
func (p *Path) quietWarnings(quiet stance, mass, stated float64) {
	const horizontal = 0.005 // of body weight: some 4 N
	warn := func(code, format string, args ...any) {
		p.Warnings = append(p.Warnings, grf.Warning{Code: code, Where: "quiet stance", Text: fmt.Sprintf(format, args...)})
	}
	f := quiet.force
	if h := math.Hypot(f.X, f.Y); h > horizontal*f.Z {
		warn("horizontal-at-rest", "mean horizontal force in the quiet stance is (%.1f, %.1f) N where it should be 0; it is taken for the plates' error. Likely causes: plate not zeroed, plate or axes tilted, golfer moving", f.X, f.Y)
	}
	if stated > 0 {
		if d := mass/stated - 1; math.Abs(d) > massTolerance {
			likely := "wrong statement, heavy clothes or bag, plate not zeroed or wrong gain"
			if inPounds := stated * float64(units.Pound); math.Abs(mass/inPounds-1) < 2*massTolerance {
				likely = fmt.Sprintf("pounds stated as kilograms: %.0f lb are %.1f kg", stated, inPounds)
			}
			warn("mass-mismatch", "the plates show %.1f kg in the quiet stance, %+.1f %% against the stated %.1f kg; the plates' figure is used. Likely causes: %s", mass, 100*d, stated, likely)
		}
	}
}

// massTolerance is how far stated and measured mass may differ: clothes, shoes
// and a club weigh about 2 % of a golfer. Common practice (no published source).
const massTolerance = 0.02

// drift warns how wrong the path may be by its end when nothing holds it there.
func (p *Path) drift(quiet stance, hi int) {
	end := p.Velocity[hi-1]
	t := float64(hi-1-(quiet.lo+quiet.hi)/2) / p.Rate
	p.warn("drift", "the golfer is not still again after the swing, so drift was not removed: the last velocity is (%.3f, %.3f, %.3f) m/s and every newton of force bias moves the end by %.0f mm",
		end.X, end.Y, end.Z, 1000*t*t/2/p.Mass)
}
