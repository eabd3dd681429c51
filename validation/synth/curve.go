package synth

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/interp"
)

// A curve is a wanted course of one quantity: values at phases of the swing,
// joined without overshoot. Phase 0 is take-away, 1 the top, 2 impact and 3
// the instant of stillness.
type curve []point

type point struct{ phase, value float64 }

// function returns the curve as a function of the phase: the monotone cubic of
// Fritsch and Butland, constant outside.
func (c curve) function() (func(phase float64) float64, error) {
	xs, ys := make([]float64, len(c)), make([]float64, len(c))
	for i, p := range c {
		xs[i], ys[i] = p.phase, p.value
		if i > 0 && !(xs[i] > xs[i-1]) {
			return nil, fmt.Errorf("synth: phases %g and %g of a curve are out of order", xs[i-1], xs[i])
		}
	}
	var f interp.FritschButland
	if err := f.Fit(xs, ys); err != nil {
		return nil, fmt.Errorf("synth: curve: %w", err)
	}
	first, last := xs[0], xs[len(xs)-1]
	return func(phase float64) float64 {
		return f.Predict(math.Max(first, math.Min(last, phase)))
	}, nil
}

// scaled returns the curve with every departure from its first value
// multiplied by k.
func (c curve) scaled(k float64) curve {
	out := make(curve, len(c))
	for i, p := range c {
		out[i] = point{p.phase, c[0].value + k*(p.value-c[0].value)}
	}
	return out
}

// habits returns the curve of one individual: every departure from the first
// value scaled by one random factor and each inner point moved a little, by a
// fraction of the range and of the distance to its neighbours.
func (c curve) habits(normal func() float64, amount float64) curve {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range c {
		lo, hi = math.Min(lo, p.value), math.Max(hi, p.value)
	}
	limited := func() float64 { return math.Max(-2, math.Min(2, normal())) }
	out := c.scaled(1 + amount*limited())
	for i := 1; i < len(c)-1; i++ {
		gap := math.Min(c[i].phase-c[i-1].phase, c[i+1].phase-c[i].phase)
		out[i].value += 0.4 * amount * (hi - lo) * limited()
		out[i].phase += 0.7 * amount * gap * limited()
	}
	return out
}

// times returns the curve with every value multiplied by k.
func (c curve) times(k float64) curve {
	out := make(curve, len(c))
	for i, p := range c {
		out[i] = point{p.phase, k * p.value}
	}
	return out
}
