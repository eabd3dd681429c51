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
// # Instruments without horizontal force
//
// A mat of pressure cells measures vertical load and its place only. Its wrenches
// have NaN in Force.X, Force.Y and Moment.Z ([Vertical]), and so has everything that
// is worked out from those; [Recording.VerticalOnly] tells.
package grf
