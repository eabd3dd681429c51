// Package torque says how much turning the ground force produced about a point,
// by which arm, what made it, and what would change it. The point is any point
// that the caller gives, usually the centre of mass of the golfer.
//
// # Axes and signs
//
// Everything is in swing axes, in metres, newtons, newton-metres and seconds: X
// forward, toward the ball, Y toward the target, Z up. Forces are the ground's
// push on the golfer. With r from the point to where the force F acts, the
// moment is r × F plus the free moment T about the vertical:
//
//	 Z up                           about X, frontal:     ry·Fz − rz·Fy
//	 |   \                          about Y, sagittal:    rz·Fx − rx·Fz
//	 |    \                         about Z, horizontal:  rx·Fy − ry·Fx + T
//	 o-arm-\
//	mass    \  line of the force
//	 |       \
//	 |        \
//	 |         \
//	-+----------o------ Y           seen face-on, from the ball: Y points
//	 centre of pressure             toward the target
//
// A positive frontal moment turns the golfer counter-clockwise in this picture,
// the way the downswing goes; a positive horizontal moment turns them toward the
// target; a positive sagittal moment tips them forward. The same holds for a
// left-handed golfer, whose axes are mirrored on entry (see the package grf). The
// force in the picture pushes up and away from the target; its line passes the
// mass on the target side, so its frontal moment is positive. The arm is square
// to that line.
//
// # A force times an arm
//
// A small force far from the mass turns as hard as a large one near it. [Arms]
// gives the distance per plane, [Parts] says which foot and which component of
// the force made the moment, [Pivot] keeps the moment of the net force, the
// couple of the two feet and the feet's own free moments apart, [Difference]
// splits the change from one instant or swing to another by cause, and
// [Elasticities] and the methods of [State] answer what a change would do.
//
// # Undefined is NaN
//
// An arm, tilt or part whose force is under its threshold is NaN, and so is
// whatever depends on a NaN in the arguments: component by component, so that an
// unknown height of the mass leaves the horizontal moment defined.
//
// # Sources
//
//	About, Arms     r × F: e.g. S.J. Ling, J. Sanny, W. Moebs, University Physics
//	                vol. 1 (OpenStax), sect. 10.6
//	Pivot           K.H. Han et al. (2019), Sports Biomech. 18(2):115-134 (the
//	                three golfer-ground moments)
//	AngularImpulse  Ling, Sanny, Moebs, vol. 1, sect. 9.2 and 11.2
//	Difference      L.S. Shapley (1953), A value for n-person games, Ann. Math.
//	                Studies 28:307-317
package torque
