package com

import (
	"fmt"
	"math"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/spatial/r3"
)

// trackGap is the longest stretch without a position that is interpolated, s.
// Common practice (no published source).
const trackGap = 0.1

// FromTrack returns a given track of the centre of mass on a force clock: n
// samples from start at rate. Between the positions of the track runs a cubic
// spline without curvature at its ends, whose derivative is the velocity.
// Stretches of more than 0.1 s without a position are not bridged: there, and
// outside the track, the path is NaN. A position with a NaN counts as lost.
//
// The spline goes through every position, so that noise of the track comes
// back enlarged in the velocity.
//
// The error wraps [ErrTrack], [grf.ErrLength], [grf.ErrRate] or
// [grf.ErrNoData].
func FromTrack(track grf.Track, start, rate float64, n int) (*Path, error) {
	if n < 1 {
		return nil, fmt.Errorf("%w: asked for %d samples", grf.ErrNoData, n)
	}
	if !(rate > 0) || math.IsInf(rate, 0) {
		return nil, fmt.Errorf("%w: %g Hz", grf.ErrRate, rate)
	}
	if math.IsNaN(start) || math.IsInf(start, 0) {
		return nil, fmt.Errorf("%w: start time %g s", ErrOption, start)
	}
	times, at, err := known(track)
	if err != nil {
		return nil, err
	}
	p := &Path{Start: start, Rate: rate, Method: "given positions, cubic spline",
		Position: make([]r3.Vec, n), Velocity: make([]r3.Vec, n)}
	for i := range p.Position {
		p.Position[i], p.Velocity[i] = nan3(), nan3()
	}
	for lo := 0; lo < len(times); {
		hi := lo + 1
		for hi < len(times) && times[hi]-times[hi-1] <= trackGap {
			hi++
		}
		p.spline(times[lo:hi], at[lo:hi])
		lo = hi
	}
	if sd := track.SD; sd != (r3.Vec{}) {
		p.PositionSD = make([]r3.Vec, n)
		for i := range p.PositionSD {
			p.PositionSD[i] = sd
			if !finite(p.Position[i]) {
				p.PositionSD[i] = nan3()
			}
		}
	}
	lost := 0
	for _, v := range p.Position {
		if !finite(v) {
			lost++
		}
	}
	if lost > 0 {
		p.warn("track-gap", "the track of the centre of mass leaves %d of %d samples undefined", lost, n)
	}
	return p, nil
}

// known returns the defined positions of a track and their times, which must
// increase.
func known(track grf.Track) ([]float64, []r3.Vec, error) {
	if len(track.Time) != len(track.Position) {
		return nil, nil, &grf.LengthError{What: "positions of the track against its times", Want: len(track.Time), Got: len(track.Position)}
	}
	for _, sd := range []float64{track.SD.X, track.SD.Y, track.SD.Z} {
		if !(sd >= 0) || math.IsInf(sd, 0) {
			return nil, nil, fmt.Errorf("%w: standard deviation %v must not be negative", ErrTrack, track.SD)
		}
	}
	var times []float64
	var at []r3.Vec
	last := math.Inf(-1)
	for i, t := range track.Time {
		if !(t > last) || math.IsInf(t, 0) {
			return nil, nil, fmt.Errorf("%w: time %g s of position %d does not come after %g s", ErrTrack, t, i, last)
		}
		last = t
		if finite(track.Position[i]) {
			times, at = append(times, t), append(at, track.Position[i])
		}
	}
	if len(times) == 0 {
		return nil, nil, fmt.Errorf("%w: none of %d positions is known", ErrTrack, len(track.Time))
	}
	return times, at, nil
}

// spline fills the samples of p between the first and last of times.
func (p *Path) spline(times []float64, at []r3.Vec) {
	const slack = 1e-6 // of a sample: times in files are rounded
	first := count(math.Ceil((times[0]-p.Start)*p.Rate - slack))
	last := min(p.Len(), count(math.Floor((times[len(times)-1]-p.Start)*p.Rate+slack)+1)) - 1
	if first > last {
		return
	}
	if len(times) == 1 {
		p.Position[first] = at[0] // a lone position has no velocity
		return
	}
	y := make([]float64, len(times))
	for axis := range 3 {
		for i, v := range at {
			y[i] = *component(&v, axis)
		}
		value, slope := curve(times, y)
		for i := first; i <= last; i++ {
			t := min(max(p.Time(i), times[0]), times[len(times)-1])
			*component(&p.Position[i], axis) = value(t)
			*component(&p.Velocity[i], axis) = slope(t)
		}
	}
}

// curve returns a natural cubic spline and its derivative; a straight line
// through two points.
func curve(x, y []float64) (value, slope func(float64) float64) {
	var s interp.NaturalCubic
	if len(x) > 2 && s.Fit(x, y) == nil {
		return s.Predict, s.PredictDerivative
	}
	var l interp.PiecewiseLinear
	_ = l.Fit(x, y) // fails only for fewer than two points
	return l.Predict, func(t float64) float64 {
		i := 1
		for i < len(x)-1 && t > x[i] {
			i++
		}
		return (y[i] - y[i-1]) / (x[i] - x[i-1])
	}
}

// component returns the place of one component of v.
func component(v *r3.Vec, axis int) *float64 {
	switch axis {
	case 0:
		return &v.X
	case 1:
		return &v.Y
	}
	return &v.Z
}
