// Package synth makes golf swings on two force plates whose truth is known
// exactly, so that everything computed from forces can be held against it:
// centre of pressure, centre of mass, torque, events, and their uncertainty.
//
// # What is exact
//
// A [Swing] is a function of time in closed form. The path r of the centre of
// mass and the angular momentum L about it are sums of polynomial B-splines
// (degree 7 and 6 on equal knots), so their derivatives are known exactly:
//
//	F = m (d²r/dt² + g)        Newton: the net ground force
//	M = dL/dt                  Euler: its moment about the centre of mass
//
// The net centre of pressure p on the surface Z = 0 and the net free moment T
// are then no longer free, because M = (p − r) × F + T ẑ. The feet share the
// result without changing it: with a load share s and pressure points p_L, p_T
// chosen so that s p_L + (1−s) p_T = p, and with the horizontal force h of an
// opposing pair and free moments T_L, T_T chosen so that
// T_L + T_T + ((p_L − p_T) × h)_z = T, both feet together are the net wrench to
// rounding. Before the swing, between waggles and after the finish the golfer
// is exactly still.
//
//	       Z up     Y toward the target
//	       |      /
//	       |    lead foot
//	       |  /
//	       |/_________ X toward the ball
//	      /
//	trail foot
//
// # What is plausible only
//
// The shapes of the curves are made up. They are tuned to lie within what the
// literature and the trade report for full swings (see the tests, where each
// range has its source), not fitted to anybody's data, and they model no
// muscles, no ball and no club beyond the instants at which the club is
// somewhere. Use them to test computations, never as a norm for golfers.
//
// # How a swing is made
//
// A [Style] lists wanted curves over the phases of the swing: load share,
// force, torque, pressure within the feet, places of the centre of mass. They
// contradict each other, because pressure, force and torque are bound by the
// equations above and what moves has to come to rest: New takes the smooth
// compromise with the least sum of squared departures. That is a linear problem
// with one solution, so a Config makes the same swing on every machine up to
// rounding.
//
// [Random] draws golfers of all styles for studies of many swings, a
// [Disturbance] makes real plates of perfect ones, [Swing.Track] is another
// instrument that follows the centre of mass, [Join] and [Cut] make recordings
// of several swings and of parts of one, [Swing.C3D] and [WriteTable] files.
//
// # Sources
//
// Newton–Euler equations of a system of particles: any mechanics textbook, for
// instance Goldstein, Classical Mechanics, 2nd ed. 1980, equations 1-22 and
// 1-26 (from memory). B-splines: de Boor, A Practical Guide to Splines, rev.
// ed. 2001, chapter X; Piegl and Tiller, The NURBS Book, 2nd ed. 1997,
// algorithm A2.2 (both from memory).
package synth
