// Package grf knows what a force plate measures: ground-reaction wrenches, the
// plates and axes they come from, and what a golfer standing still tells about
// them. It knows neither files nor swings.
//
// # Axes
//
// Everything after a plate is in swing axes, for golfers of either hand:
//
//	         Z up
//	         |   Y toward the target
//	         |  /
//	         | /
//	         |/______ X forward, from the golfer toward the ball
//	         O
//	origin on the standing surface (Z = 0), between the feet
//
//	seen from above:
//
//	       target
//	         ^ Y
//	         |
//	  [ lead foot  ]
//	         O -----> X      o ball
//	  [ trail foot ]
//
// They are right-handed for a right-handed golfer. A left-handed golfer is
// mirrored in Y on entry (see [Axes]), so that one sign means one thing:
//
//   - a moment about X > 0 turns the golfer in the downswing's direction in the
//     frontal plane, as seen by someone who faces them;
//   - a moment about Z > 0 turns them toward the target, as seen from above.
//
// The International Society of Biomechanics counts a laboratory's axes otherwise: X
// in the direction of progression, Y up, Z to the right (G. Wu, P.R. Cavanagh, J.
// Biomech. 28:1257–1261, 1995; from memory). With the target as the direction of
// progression, places and forces (x, y, z) and moments (Mx, My, Mz) of here are there
//
//	right-handed golfer   (y, z, x)     (My, Mz, Mx)
//	left-handed golfer    (y, z, −x)    (−My, −Mz, Mx)
//
// # Signs
//
// A force is the ground's push on the golfer (the reaction), so that a standing
// golfer has Force.Z > 0. Plates report either that or its opposite; the sign
// is settled once, at the [Plate], by declaration or by what it shows under load
// ([SenseUnderLoad]).
//
// # Units
//
// Metres, newtons, newton-metres, seconds, kilograms, radians. What is undefined
// or was not measured is NaN, never zero.
//
// # From channels to wrenches
//
//	plate, err := grf.NewPlate(config)             // geometry and calibration
//	base, err := grf.MeasureBaseline(plate, ch, …) // while nobody stands on it
//	ch, err = base.Subtract(nil, ch)
//	lab, err := plate.Wrenches(nil, ch)            // laboratory axes
//	lead := axes.Wrenches(nil, lab)                // swing axes
//
// Zeroing works on channels, filtering (package filter) on wrenches, and the
// centre of pressure (package cop) is computed last, because it is a quotient.
// Where the calibration matrix of a plate is not known, [FitCalibration] finds it
// from known loads.
//
// # What a recording can not show
//
// Some faults leave no trace that a program could be sure of; whoever sets plates
// up has to exclude them:
//
//   - A plate on a soft floor, or under a heavy top, rings at its own frequency after
//     a stroke, and makes forces larger long before that: a plate with little damping
//     by a third at half of it and by 7 % at a quarter. Know that frequency (tap the
//     unloaded plate and look), filter well below it, and do not read rates of loading
//     or peaks of a stroke that are as fast.
//   - A wall, a bag, a second person or a club that leans on the ground carries part
//     of the weight or adds to it. Only the stated mass can give that away.
//   - A constant gain that is wrong by some per cent looks like a golfer of another
//     weight; one of one plate alone looks like a golfer who stands unevenly.
//   - A plate that was turned by 180° has all its pressure on the plate and is wrong
//     everywhere: press on known places first (package validation/acceptance).
//
// # Instruments without horizontal force
//
// A mat of pressure cells measures vertical load and its place only. Its wrenches
// have NaN in Force.X, Force.Y and Moment.Z ([Vertical]), and so has everything that
// is worked out from those; [Recording.VerticalOnly] tells.
package grf
