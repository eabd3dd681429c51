package com

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Noise says how wrong the forces may be. A field that is 0 takes its default;
// NaN means that this error does not exist and is not sought.
type Noise struct {
	// ForceSD is the standard deviation of one sample of each component of the
	// net force, N; default 2 N (Le Mouel 2025). It is white noise: of a signal
	// that was filtered, give the figure before filtering, because the filter
	// leaves the slow part of the noise, which is the one that matters here.
	ForceSD r3.Vec
	// BiasSD is the standard deviation of a constant error of each force
	// component, N; default 2 N. Common practice (no published source).
	BiasSD float64
	// BiasWalk is by how much that error wanders in one second, N; in t seconds
	// it is √t as much. Default 0.5 N. Common practice (no published source).
	BiasWalk float64
	// MassSD is the standard deviation of the mass as a part of it; default
	// 0.003. It stands for the gain of the plates, too. Common practice (no
	// published source).
	MassSD float64
	// GapSD is the standard deviation of the force where it was lost, as a part
	// of body weight; default 0.2. Common practice (no published source).
	GapSD float64
}

func (n Noise) withDefaults() (Noise, error) {
	for _, f := range []struct {
		name  string
		value *float64
		usual float64
	}{
		{"force SD x", &n.ForceSD.X, 2}, {"force SD y", &n.ForceSD.Y, 2}, {"force SD z", &n.ForceSD.Z, 2},
		{"bias SD", &n.BiasSD, 2}, {"bias walk", &n.BiasWalk, 0.5},
		{"mass SD", &n.MassSD, 0.003}, {"gap SD", &n.GapSD, 0.2},
	} {
		switch v := *f.value; {
		case v < 0 || math.IsInf(v, 0):
			return n, fmt.Errorf("%w: %s %g must be positive, 0 for the default or NaN for none", ErrOption, f.name, v)
		case v == 0:
			*f.value = f.usual
		case math.IsNaN(v):
			*f.value = 0
		}
	}
	if n.BiasSD == 0 {
		n.BiasWalk = 0
	}
	return n, nil
}

// Fix is something that is known of the centre of mass at one instant. A
// component whose standard deviation is 0, or whose value is NaN, says
// nothing; the zero Fix says nothing at all.
type Fix struct {
	Time                 float64 // s, on the clock of the forces
	Position, PositionSD r3.Vec  // m
	Velocity, VelocitySD r3.Vec  // m/s
}

// apply corrects the three axes.
func (f *Fix) apply(ax *[3]axis) {
	for k := range ax {
		if z, sd := *component(&f.Position, k), *component(&f.PositionSD, k); sd > 0 && !math.IsNaN(z) {
			ax[k].correct(0, z, sd*sd)
		}
		if z, sd := *component(&f.Velocity, k), *component(&f.VelocitySD, k); sd > 0 && !math.IsNaN(z) {
			ax[k].correct(1, z, sd*sd)
		}
	}
}
