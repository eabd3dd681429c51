// Package com tells where the whole body's centre of mass is, and how sure that
// is.
//
// Moment arms and torques are only as good as this point. All positions are in
// swing axes (see package grf), units are SI, undefined values are NaN:
//
//	  Z up
//	  |   COM o----> velocity
//	  |      /|
//	  |     / | height
//	  |    /  |
//	  o---/---+----> Y toward the target
//	 /   x centre of pressure
//	X forward, toward the ball
//
// # What can be known
//
// Each kind of knowledge has its own weakness:
//
//   - Forces: acceleration = ΣF/m + g. Exact in the short run, but an unnoticed
//     force bias or a wrong mass grows with the square of time: 5 N at 75 kg is
//     13 cm after 2 s if it is constant, 4 cm if it builds up evenly, and 1 % of
//     mass is 0.1 m/s² for as long as it lasts.
//   - Standing still: no velocity, and on average the centre of mass lies above
//     the centre of pressure. Nobody stands perfectly still.
//   - Positions: a segment model of markers ([NewModel]), a camera, pelvis
//     markers as a proxy. They do not drift, but err by millimetres to
//     centimetres, and most of that error lasts from frame to frame.
//
// [Smooth] puts all of them together: the force drives position and velocity,
// everything else corrects them, force bias and mass error are found on the
// way, and the standard deviations of the result follow from those of the
// inputs. [Tracker] is its forward half for live use. [FromForces] is the plain
// double integration between still windows, without uncertainty, and
// [FromTrack] a given path on the clock of the forces.
//
// # Clocks
//
// A camera or motion capture has its own clock. [Clock] turns its stamps into
// instants of the forces: given, from events that both show ([FindTaps],
// [FitClock]), or from the movement itself ([FitMotion], [CorrelateTrack],
// [Correlate] for any pair of signals).
//
// # Is it right?
//
// [CheckQuality] holds a recording against the laws that it must obey and names
// likely causes where it does not.
//
// # Cautions
//
// The standard deviations speak of what was put in. A segment table that does
// not fit the golfer, a plate whose sensitivity is wrong, a height that was
// guessed: unless Source.SlowSD, Noise.MassSD and Options.HeightSD allow for
// them they are not in the result. Forces tell nothing about the height.
//
// # Sources
//
//	FromForces       King & Zatsiorsky, Gait & Posture 6:27–38 (1997);
//	                 Zatsiorsky & King, J. Biomech. 31:161–164 (1998)
//	Smooth, Tracker  Rauch, Tung, Striebel, AIAA J. 3:1445–1450 (1965);
//	                 Le Mouel, Peer Community J. 5:e10 (2025); after Maus et
//	                 al., J. Exp. Biol. 214:3511–3517 (2011)
//	SteadyGains,     Le Mouel 2025
//	FlightError
//	tables           de Leva, J. Biomech. 29:1223–1230 (1996); Dempster (1955)
//	                 as in Winter, Biomechanics and Motor Control of Human
//	                 Movement, 4th ed. (2009), table 4.1
//	Correlate        Knapp & Carter, IEEE Trans. Acoust. Speech Signal Process.
//	                 24:320–327 (1976)
package com
