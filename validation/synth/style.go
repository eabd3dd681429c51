package synth

import "math/rand/v2"

// recipe is what a style asks for. Forces are in body weights beyond standing,
// torque in N·m per kg of mass, places in the foot as fractions.
type recipe struct {
	share      curve // lead part of the vertical load, 0…1
	fx, fy, fz curve // net force
	mx, my, mz curve // torque about X, −Y and Z through the centre of mass
	oppose     curve // outward push of the feet against each other, along Y

	// Pressure within each foot: heel 0 to toe 1, and medial −1 to lateral +1.
	leadLong, leadWide, trailLong, trailWide curve

	// Places that the centre of mass passes through, as travel toward the
	// target in stance widths, and how much it has risen at the finish, m.
	path curve
	// Angular momentum about X on the way, kg·m²/s per kg of mass.
	turn curve
	rise float64
	lift bool // whether the lead foot may leave the plate
}

// base is the Balanced style; the others change parts of it.
func base() recipe {
	return recipe{
		share: curve{{0, .5}, {.13, .53}, {.3, .47}, {.48, .25}, {.66, .10}, {.82, .12}, {1, .24}, {1.15, .34},
			{1.35, .50}, {1.5, .62}, {1.75, .79}, {2, .86}, {2.12, .87}, {2.35, .84}, {2.6, .84}, {3, .85}},
		fx: curve{{0, 0}, {.2, .01}, {.5, -.01}, {.9, 0}, {1.2, .03}, {1.6, .04}, {1.9, -.04},
			{2.05, -.05}, {2.3, .01}, {2.6, .01}, {3, 0}},
		fy: curve{{0, 0}, {.14, -.07}, {.3, -.05}, {.45, .03}, {.65, .11}, {.9, .11}, {1.1, .14}, {1.3, .19},
			{1.5, .14}, {1.75, 0}, {2, -.12}, {2.12, -.11}, {2.4, -.05}, {2.7, -.01}, {3, 0}},
		fz: curve{{0, 0}, {.2, -.02}, {.45, .03}, {.7, .05}, {.92, -.02}, {1.15, -.30}, {1.42, .05},
			{1.72, .50}, {2, .18}, {2.09, -.15}, {2.22, -.12}, {2.45, .03}, {2.7, 0}, {3, 0}},
		mz: curve{{0, 0}, {.2, -.25}, {.5, -.05}, {.75, .1}, {1, .3}, {1.3, .6}, {1.6, .85}, {1.85, .5},
			{2, 0}, {2.1, -.45}, {2.3, -.5}, {2.6, -.1}, {3, 0}},
		oppose: curve{{0, .03}, {.7, .05}, {1.4, .08}, {2, .05}, {3, .03}},

		leadLong:  curve{{0, .50}, {.6, .62}, {1.5, .50}, {2, .36}, {2.4, .32}, {3, .36}},
		leadWide:  curve{{0, -.05}, {.6, -.35}, {1.5, 0}, {2, .30}, {2.4, .45}, {3, .35}},
		trailLong: curve{{0, .50}, {.8, .42}, {1.4, .58}, {2, .80}, {2.4, .85}, {3, .85}},
		trailWide: curve{{0, -.05}, {.6, .10}, {1.3, -.25}, {2, -.50}, {3, -.45}},

		path: curve{{.7, -.15}, {1, -.12}, {2, .115}}, rise: .04,
		turn: curve{{1, -.12}, {2, .32}},
		mx: curve{{0, 0}, {.2, -.6}, {.45, -.1}, {.7, .05}, {.85, .2}, {1, .5}, {1.2, 1.3}, {1.5, 2.1},
			{1.75, 1.5}, {2, .4}, {2.1, -.3}, {2.3, -.55}, {2.6, -.3}, {3, 0}},
		my: curve{{0, 0}, {3, 0}},
	}
}

// recipe returns what the style asks for.
func (s Style) recipe() recipe {
	return base()
}

// waggle returns a small move that ends where it began: weight to the trail
// side and back, from the place of r at address.
func (r recipe) waggle(i int) recipe {
	hold := func(c curve) curve { return curve{{0, c[0].value}, {3, c[0].value}} }
	size := 1 - 0.15*float64(i%3)
	s := r.share[0].value
	still := curve{{0, 0}, {3, 0}}
	return recipe{
		share: curve{{0, s}, {0.5, s - 0.07*size}, {1, s - 0.01}, {1.8, s + 0.05*size}, {2.4, s - 0.01}, {3, s}},
		fx:    still,
		fy:    curve{{0, 0}, {0.4, -0.012 * size}, {1, 0.012 * size}, {2, -0.008 * size}, {3, 0}},
		fz:    curve{{0, 0}, {0.6, 0.01 * size}, {1.4, -0.012 * size}, {2.2, 0.004}, {3, 0}},
		mx:    curve{{0, 0}, {0.5, -0.2 * size}, {1.3, 0.2 * size}, {2.2, -0.05}, {3, 0}},
		my:    still,
		mz:    curve{{0, 0}, {0.5, -0.08 * size}, {1.3, 0.1 * size}, {2.2, -0.03}, {3, 0}},

		oppose:   hold(r.oppose),
		leadLong: hold(r.leadLong), leadWide: hold(r.leadWide),
		trailLong: hold(r.trailLong), trailWide: hold(r.trailWide),
	}
}

// habits returns the recipe of one individual.
func (r recipe) habits(seed uint64) recipe {
	if seed == 0 {
		return r
	}
	rng := rand.New(rand.NewPCG(seed, 0x686162697473))
	for _, c := range []*curve{&r.share, &r.fx, &r.fy, &r.fz, &r.mz, &r.oppose,
		&r.leadLong, &r.leadWide, &r.trailLong, &r.trailWide} {
		*c = c.habits(rng.NormFloat64, 0.08)
	}
	return r
}
