package com

// Options are everything besides the forces that [Smooth] may know. The zero
// value means forces alone: quiet windows are sought and a height is assumed.
type Options struct {
	Gravity float64 // m/s²; 0 means [StandardGravity]
	// Mass that somebody stated, kg; 0 means none. It is used only when there
	// is no quiet stance; otherwise it is compared with the plates' figure.
	Mass  float64
	Noise Noise

	// Quiet and Still are the windows before and after the swing in which the
	// golfer stands still. The zero Window means: find one if there is one; a
	// NaN window: there is none.
	Quiet, Still Window
	// QuietSD and StillSD say how still; zero fields mean 5 mm and 10 mm/s in
	// Quiet, 20 mm and 30 mm/s in Still. Common practice (no published source).
	QuietSD, StillSD Stillness

	// Height of the centre of mass above the ground in Quiet, m, and its
	// standard deviation, default 0.02 m. Height 0 means unknown: it comes from
	// the sources if there are any, otherwise from HeightFraction (0:
	// [AddressHeight]) × Stature to within 0.04 m, or, without Stature, it is
	// 0.91 to within 0.07 m.
	Height, HeightSD float64
	Stature          float64
	HeightFraction   float64

	// Sources are other instruments that know the centre of mass.
	Sources []Source
}
