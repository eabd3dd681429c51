package torque

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// LinearImpulse returns ∫F dt of the force from time from to time to, in N·s.
// Sample i of ws was taken at start + i/rate; the rest is as for [Integral]. The
// weight is in it: the change of momentum is the impulse less the body weight
// times the duration.
func LinearImpulse(ws []grf.Wrench, start, rate, from, to float64) (r3.Vec, error) {
	var sum r3.Vec
	err := trapezoids(len(ws), start, rate, from, to, func(i int, weight float64) {
		sum = r3.Add(sum, r3.Scale(weight, ws[i].Force))
	})
	if err != nil {
		return r3.Vec{}, err
	}
	return sum, nil
}

// AngularImpulse returns ∫M dt of the moment from time from to time to, in
// N·m·s per plane: the change of angular momentum when ms are the moments about
// the centre of mass. Otherwise as [LinearImpulse].
func AngularImpulse(ms []Planes, start, rate, from, to float64) (Planes, error) {
	var sum Planes
	err := trapezoids(len(ms), start, rate, from, to, func(i int, weight float64) {
		sum = sum.Add(ms[i].Scale(weight))
	})
	if err != nil {
		return Planes{}, err
	}
	return sum, nil
}

// Integral returns ∫x dt from time from to time to, s, of samples taken at start
// + i/rate: an impulse of a force, the work of a power. The signal runs straight
// between samples (trapezoid rule), so from and to may fall between them.
//
// A sample that is NaN makes the integral NaN if the window touches it or the
// space beside it. The error wraps [grf.ErrRate] for a rate that is not positive
// and finite, [grf.ErrNoData] for no samples, and [grf.ErrWindow] for a window
// that ends before it starts, is not finite, or leaves the samples.
func Integral(xs []float64, start, rate, from, to float64) (float64, error) {
	var sum float64
	err := trapezoids(len(xs), start, rate, from, to, func(i int, weight float64) {
		sum += float64(weight * xs[i])
	})
	if err != nil {
		return 0, err
	}
	return sum, nil
}

// trapezoids calls add with the weights, in s, whose products with the n samples
// sum up to the integral from time from to time to.
func trapezoids(n int, start, rate, from, to float64, add func(i int, weight float64)) error {
	if !(rate > 0) || math.IsInf(rate, 0) {
		return fmt.Errorf("%w: %g Hz", grf.ErrRate, rate)
	}
	if n == 0 {
		return grf.ErrNoData
	}
	a, b := inSamples(from, start, rate), inSamples(to, start, rate)
	last := float64(n - 1)
	if !(a >= 0 && a <= b && b <= last) {
		return fmt.Errorf("%w: from %g to %g s, samples are from %g to %g s", grf.ErrWindow,
			from, to, start, start+last/rate)
	}
	for i := int(a); float64(i) < b; i++ {
		// The part of the step from sample i to i+1 that is in the window.
		u, v := math.Max(a-float64(i), 0), math.Min(b-float64(i), 1)
		right := (v*v - u*u) / 2
		add(i, (v-u-right)/rate)
		add(i+1, right/rate)
	}
	return nil
}

// inSamples returns a time as a sample number, held to a whole one within a
// millionth of a step: the time of a sample must mean that sample.
func inSamples(t, start, rate float64) float64 {
	s := (t - start) * rate
	if r := math.Round(s); math.Abs(s-r) < 1e-6 {
		return r
	}
	return s
}
