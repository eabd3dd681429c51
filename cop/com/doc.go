// Package com tells where the whole body's centre of mass is.
//
// Moment arms and torques are only as good as this point. It can be known in
// three ways, and each has its weakness:
//
//   - From forces alone: acceleration = ΣF/m + g, integrated twice. Exact in
//     the short run, but every newton of unnoticed force bias and every percent
//     of wrong mass grows with the square of time (5 N at 75 kg is 13 cm after
//     2 s if it is constant, 4 cm if it builds up evenly). See [FromForces].
//   - From a measured or modelled position (markers, video, a segment model).
//     It does not drift, but it carries millimetres to centimetres of error.
//     See [FromTrack].
//   - From both: the force says how it moves, the position says where it is.
//
// All positions are in swing axes (see package grf):
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
// Units are SI. Undefined values are NaN.
package com
