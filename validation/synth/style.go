package synth

import "math/rand/v2"

// recipe is what a style asks for. Forces are in body weights beyond standing,
// torque in N·m per kg of mass, places in the foot as fractions.
type recipe struct {
	share      curve // lead part of the vertical load, 0…1
	fx, fy, fz curve // net force
	mz         curve // torque about the vertical through the centre of mass
	oppose     curve // outward push of the feet against each other, along Y

	// Pressure within each foot: heel 0 to toe 1, and medial −1 to lateral +1.
	leadLong, leadWide, trailLong, trailWide curve

	// Places that the centre of mass passes through, as travel toward the
	// target in stance widths, and how much it has risen at the finish, m.
	path curve
	rise float64
	// Angular momentum about X, in kg·m²/s per kg of mass.
	turn curve
	lift bool // whether the lead foot may leave the plate
}

// base is the Balanced style; the others change parts of it.
func base() recipe {
	return recipe{
		share: curve{{0, .5}, {.12, .52}, {.28, .47}, {.48, .25}, {.68, .10}, {.85, .14}, {1, .24}, {1.15, .34},
			{1.35, .50}, {1.5, .62}, {1.75, .78}, {2, .86}, {2.1, .87}, {2.3, .83}, {2.6, .84}, {3, .85}},
		fx: curve{{0, 0}, {.2, .01}, {.5, -.01}, {.9, 0}, {1.2, .03}, {1.6, .04}, {1.9, -.04},
			{2.05, -.05}, {2.3, .01}, {2.6, .01}, {3, 0}},
		fy: curve{{0, 0}, {.18, -.06}, {.35, -.01}, {.65, .09}, {.9, .11}, {1.1, .13}, {1.35, .18},
			{1.6, .10}, {1.8, -.02}, {2, -.13}, {2.12, -.10}, {2.35, -.03}, {2.6, -.02}, {3, 0}},
		fz: curve{{0, 0}, {.2, -.02}, {.45, .03}, {.7, .05}, {.92, -.02}, {1.15, -.30}, {1.42, .05},
			{1.72, .50}, {2, .18}, {2.09, -.15}, {2.22, -.12}, {2.45, .03}, {2.7, 0}, {3, 0}},
		mz: curve{{0, 0}, {.2, -.25}, {.5, -.05}, {.75, .1}, {1, .3}, {1.3, .6}, {1.6, .85}, {1.85, .5},
			{2, 0}, {2.1, -.45}, {2.3, -.5}, {2.6, -.1}, {3, 0}},
		oppose: curve{{0, .03}, {.7, .05}, {1.4, .08}, {2, .05}, {3, .03}},

		leadLong:  curve{{0, .50}, {.6, .62}, {1.5, .50}, {2, .36}, {2.4, .32}, {3, .36}},
		leadWide:  curve{{0, -.05}, {.6, -.35}, {1.5, 0}, {2, .30}, {2.4, .45}, {3, .35}},
		trailLong: curve{{0, .50}, {.8, .42}, {1.4, .58}, {2, .80}, {2.4, .85}, {3, .85}},
		trailWide: curve{{0, -.05}, {.6, .10}, {1.3, -.25}, {2, -.50}, {3, -.45}},

		path: curve{{.7, -.135}, {1, -.11}, {2, .115}}, rise: .04,
		turn: curve{{.4, -.11}, {.75, -.08}, {1, -.04}, {2, .36}},
	}
}

// recipe returns what the style asks for.
func (s Style) recipe() recipe {
	return base()
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
