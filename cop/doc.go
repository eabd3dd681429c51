// Package cop says where and how a golfer presses on the ground: the centre of
// pressure and the free moment of one plate, one foot or both, the share of the
// load, the place within the foot, and measures of the path.
//
// # Axes and signs
//
// Everything is in swing axes, in metres, newtons, newton-metres and seconds.
// Forces are the ground's push on the golfer.
//
//	 Y  toward the target
//	 |
//	 |         lateral +1
//	 |      .--------------.
//	 | heel (  lead foot    ) toes
//	 |      '--------------'
//	 |         medial -1
//	-o-------------------------------- X  forward, toward the ball
//	 |         medial -1
//	 |      .--------------.
//	 | heel (  trail foot   ) toes
//	 |      '--------------'
//	 |         lateral +1
//
// Z is up, out of the picture, so a positive free moment turns the golfer
// counter-clockwise as seen from above. The axes of a left-handed golfer are
// mirrored on entry (see the package grf): medial and lateral follow from the
// foot alone.
//
// # The centre of pressure is not the wrench axis
//
// The centre of pressure is the point of a stated plane about which the moment
// has no component along the plane; what is left is the free moment, along the
// plane's normal. It exists when the force pushes on the plane. [Of] takes the
// standing surface, [OnPlane] any plane. [WrenchAxisPoint] is a different point
// for the same wrench: there the moment is parallel to the force.
//
// # Several plates
//
// Wrenches are added first and the quotient is taken once, on a declared plane:
// see [Net]. A mean of the centres of pressure weighted by the vertical force is
// the same only when all plates lie in that plane, and free moments never just
// add up, because the horizontal forces of the two feet make a couple.
//
// # Pressure mats
//
// A [Grid] of pressure cells tells vertical load, its share and the centre of
// pressure of each foot, and nothing else: horizontal force and twist were not
// measured and are NaN all the way, never zero. [GridFrames] makes a recording of
// the frames.
//
// # Undefined is NaN
//
// Under its load threshold a centre of pressure is NaN in all three coordinates
// and so is the free moment: the standard deviation of the point grows as one
// over the vertical force. Filter the wrenches, never the centre of pressure.
// Jumps of a net centre of pressure between the feet are genuine and are kept.
//
// # Sources
//
//	Of, OnPlane        moment balance (closed form); V.M. Zatsiorsky (2002),
//	                   Kinetics of Human Motion, ch. 1 (from memory)
//	WrenchAxisPoint    T. Shimba (1984), J. Biomech. 17(1):53-60
//	MeasurePath        T.E. Prieto et al. (1996), IEEE Trans. Biomed. Eng.
//	                   43(9):956-966
//	Ellipse            V. Chew (1966), J. Am. Stat. Assoc. 61:605-617;
//	                   P. Schubert, M. Kirchner (2014), Gait Posture 39:518-522
//	Grid               first principles: sums of force and force × place
//	SpectralFrequency  P.D. Welch (1967), IEEE Trans. Audio Electroacoust.
//	                   15(2):70-73; the choices of D.A. Santos, M. Duarte (2016),
//	                   PeerJ 4:e2648
package cop
