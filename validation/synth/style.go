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
	turn   curve
	rise   float64
	height curve // m above address on the way
	lift   bool  // whether the lead foot may leave the plate
}

// base is the Balanced style; the others change parts of it.
func base() recipe {
	return recipe{
		share: curve{{0, .5}, {.13, .53}, {.3, .47}, {.48, .25}, {.66, .10}, {.82, .12}, {1, .24}, {1.15, .34},
			{1.35, .50}, {1.5, .62}, {1.75, .79}, {2, .86}, {2.12, .87}, {2.35, .84}, {2.6, .84}, {3, .85}},
		fx: curve{{0, 0}, {.2, .01}, {.5, -.01}, {.9, 0}, {1.2, .03}, {1.6, .04}, {1.9, -.04},
			{2.05, -.05}, {2.3, .01}, {2.6, .01}, {3, 0}},
		fy: curve{{0, 0}, {.14, -.07}, {.3, -.05}, {.45, .03}, {.65, .09}, {.9, .09}, {1.1, .14}, {1.3, .21},
			{1.5, .14}, {1.75, 0}, {2, -.12}, {2.12, -.11}, {2.4, -.05}, {2.7, -.01}, {3, 0}},
		fz: curve{{0, 0}, {.2, -.02}, {.45, .03}, {.7, .05}, {.92, -.02}, {1.15, -.35}, {1.42, .05},
			{1.72, .50}, {2, .18}, {2.09, -.15}, {2.22, -.12}, {2.45, .03}, {2.7, 0}, {3, 0}},
		mz: curve{{0, 0}, {.2, -.25}, {.5, -.05}, {.75, .1}, {1, .3}, {1.3, .55}, {1.57, .76}, {1.82, .38},
			{2, 0}, {2.1, -.45}, {2.3, -.5}, {2.6, -.1}, {3, 0}},
		oppose: curve{{0, .03}, {.7, .05}, {1.4, .08}, {2, .05}, {3, .03}},

		leadLong:  curve{{0, .50}, {.6, .66}, {1, .66}, {1.5, .52}, {2, .36}, {2.4, .30}, {3, .36}},
		leadWide:  curve{{0, -.10}, {.6, -.60}, {1, -.55}, {1.5, .05}, {2, .45}, {2.4, .60}, {3, .40}},
		trailLong: curve{{0, .50}, {.5, .38}, {.9, .40}, {1.4, .58}, {2, .80}, {2.4, .85}, {3, .85}},
		trailWide: curve{{0, -.10}, {.6, .20}, {1.3, -.25}, {2, -.60}, {3, -.55}},

		path: curve{{.7, -.15}, {1, -.12}, {2, .115}}, rise: .04,
		height: curve{{2, -.01}, {2.4, .05}},
		turn:   curve{{1, -.12}, {2, .32}},
		mx: curve{{0, 0}, {.2, -.6}, {.45, -.1}, {.7, .05}, {.85, .2}, {1, .5}, {1.2, 1.3}, {1.5, 2.1},
			{1.75, 1.5}, {2, .4}, {2.1, -.3}, {2.3, -.55}, {2.6, -.3}, {3, 0}},
		my: curve{{0, 0}, {3, 0}},
	}
}

// recipe returns what the style asks for.
func (s Style) recipe() recipe {
	r := base()
	switch s {
	case Reverse:
		r.share = curve{{0, .5}, {.13, .53}, {.3, .47}, {.48, .25}, {.66, .12}, {.82, .14}, {1, .28}, {1.15, .40},
			{1.35, .58}, {1.5, .69}, {1.68, .75}, {2, .58}, {2.14, .54}, {2.4, .55}, {3, .60}}
		r.path = curve{{.7, -.15}, {1, -.10}, {2, .08}}
	case LateWide:
		r.share = curve{{0, .5}, {.13, .52}, {.35, .47}, {.6, .33}, {.8, .19}, {.96, .11}, {1.12, .17}, {1.35, .37},
			{1.5, .51}, {1.75, .70}, {2, .80}, {2.12, .82}, {2.35, .80}, {3, .82}}
		r.trailWide = curve{{0, -.10}, {.5, .25}, {.9, .80}, {1.15, .72}, {1.6, .05}, {2, -.40}, {3, -.45}}
		r.path = curve{{.7, -.13}, {1, -.15}, {2, .08}}
	case Squat:
		r.share = curve{{0, .5}, {.13, .53}, {.3, .47}, {.48, .25}, {.66, .11}, {.82, .11}, {1, .14}, {1.15, .15},
			{1.35, .23}, {1.5, .36}, {1.7, .58}, {1.85, .71}, {2, .79}, {2.15, .82}, {2.4, .82}, {3, .84}}
		r.fz = curve{{0, 0}, {.2, -.02}, {.45, .03}, {.7, .05}, {.88, -.05}, {1.12, -.50}, {1.42, -.08}, {1.78, .68},
			{2, .38}, {2.12, -.12}, {2.24, -.12}, {2.45, .03}, {2.7, 0}, {3, 0}}
		r.path = curve{{.7, -.15}, {1, -.13}, {2, .08}}
		r.height = curve{{2, -.03}, {2.4, .05}}
	case EarlyDrift:
		r.share = curve{{0, .5}, {.13, .51}, {.3, .45}, {.48, .33}, {.66, .26}, {.82, .30}, {1, .42}, {1.15, .50},
			{1.35, .61}, {1.5, .69}, {1.75, .82}, {2, .89}, {2.12, .90}, {2.35, .86}, {3, .86}}
		r.fy = curve{{0, 0}, {.14, -.05}, {.3, -.01}, {.45, .06}, {.65, .07}, {.9, .06}, {1.1, .09}, {1.3, .12},
			{1.5, .08}, {1.75, -.03}, {2, -.14}, {2.12, -.12}, {2.4, -.05}, {2.7, -.01}, {3, 0}}
		r.mz = r.mz.times(.75)
		r.path = curve{{.7, -.04}, {1, .06}, {2, .25}}
	case SmallArm:
		r.share = curve{{0, .5}, {.13, .53}, {.3, .47}, {.48, .25}, {.66, .12}, {.82, .13}, {1, .20}, {1.15, .25},
			{1.35, .35}, {1.5, .43}, {1.75, .60}, {2, .74}, {2.12, .77}, {2.35, .80}, {3, .82}}
		r.fz = curve{{0, 0}, {.2, -.02}, {.45, .03}, {.7, .05}, {.92, -.03}, {1.15, -.34}, {1.42, .14}, {1.72, .78},
			{2, .30}, {2.09, -.18}, {2.22, -.16}, {2.45, .03}, {2.7, 0}, {3, 0}}
		r.mx = r.mx.times(.5)
		r.turn = curve{{1, -.08}, {2, .14}}
		r.path = curve{{.7, -.15}, {1, -.09}, {2, .16}}
	case HalfSwing:
		r.share = curve{{0, .5}, {.13, .52}, {.3, .48}, {.5, .36}, {.7, .28}, {.85, .30}, {1, .37}, {1.15, .42},
			{1.35, .52}, {1.5, .59}, {1.75, .69}, {2, .75}, {2.12, .76}, {2.35, .74}, {3, .74}}
		for _, c := range []*curve{&r.fx, &r.fy, &r.fz, &r.mx, &r.mz, &r.turn, &r.path, &r.height} {
			*c = c.times(.5)
		}
		r.fy = r.fy.times(1.4)
	case LeadLift:
		r.share = curve{{0, .5}, {.13, .53}, {.3, .44}, {.45, .2}, {.6, -.06}, {.85, -.06}, {1, .14}, {1.15, .29},
			{1.35, .48}, {1.5, .61}, {1.75, .79}, {2, .86}, {2.12, .87}, {2.35, .84}, {3, .85}}
		r.fy = curve{{0, 0}, {.14, -.09}, {.3, -.07}, {.45, .03}, {.65, .12}, {.9, .11}, {1.1, .17}, {1.3, .27},
			{1.5, .17}, {1.75, 0}, {2, -.13}, {2.12, -.12}, {2.4, -.05}, {2.7, -.01}, {3, 0}}
		r.fz = curve{{0, 0}, {.2, -.03}, {.45, -.01}, {.72, .06}, {.92, -.02}, {1.15, -.35}, {1.42, .05},
			{1.72, .50}, {2, .18}, {2.09, -.15}, {2.22, -.12}, {2.45, .03}, {2.7, 0}, {3, 0}}
		r.path = curve{{.7, -.20}, {1, -.17}, {2, .10}}
		r.lift = true
	case HangBack:
		r.share = curve{{0, .5}, {.13, .52}, {.3, .46}, {.48, .26}, {.66, .14}, {.82, .15}, {1, .24}, {1.15, .30},
			{1.35, .34}, {1.5, .36}, {1.75, .37}, {2, .36}, {2.12, .39}, {2.35, .50}, {3, .60}}
		r.fy = curve{{0, 0}, {.14, -.07}, {.3, -.05}, {.45, .03}, {.65, .07}, {.9, .12}, {1.1, .14}, {1.3, .17},
			{1.5, .11}, {1.75, 0}, {2, -.08}, {2.12, -.07}, {2.4, -.03}, {2.7, -.01}, {3, 0}}
		r.fz = r.fz.times(.7)
		r.mx = r.mx.times(.8)
		r.turn = curve{{1, -.12}, {2, .24}}
		r.path = curve{{.7, -.18}, {1, -.155}, {2, -.09}}
	}
	return r
}

// waggle returns a small move that ends where it began: weight to the trail
// side and back, from the place of r at address.
func (r recipe) waggle(i int, scale float64) recipe {
	hold := func(c curve) curve { return curve{{0, c[0].value}, {3, c[0].value}} }
	size := scale * (1 - 0.15*float64(i%3))
	s := r.share[0].value
	still := curve{{0, 0}, {3, 0}}
	return recipe{
		share: curve{{0, s}, {0.5, s - 0.07*size}, {1, s - 0.01*size}, {1.8, s + 0.05*size}, {2.4, s - 0.01*size}, {3, s}},
		fx:    still,
		fy:    curve{{0, 0}, {0.4, -0.012 * size}, {1, 0.012 * size}, {2, -0.008 * size}, {3, 0}},
		fz:    curve{{0, 0}, {0.6, 0.01 * size}, {1.4, -0.012 * size}, {2.2, 0.004 * size}, {3, 0}},
		mx:    curve{{0, 0}, {0.5, -0.2 * size}, {1.3, 0.2 * size}, {2.2, -0.05 * size}, {3, 0}},
		my:    still,
		mz:    curve{{0, 0}, {0.5, -0.08 * size}, {1.3, 0.1 * size}, {2.2, -0.03 * size}, {3, 0}},

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
