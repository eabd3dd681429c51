// Package acceptance checks force plates before they are trusted: with dead weights
// on a grid ([CheckWeights]) and with pressed points and lateral pushes at known
// places ([CheckPlacement]).
//
// # Dead weights
//
//	     y
//	o    o    o        weights of two or more sizes at five or more marked places,
//	                   some of them laid on twice; each reading zeroed with the
//	o    +----o-- x    plate empty, a mean of a second or so
//
//	o    o    o
//
// Places and readings are in plate axes about the centre of the standing surface, x
// along corner 2 → 1 and y along corner 4 → 1, so that neither the laboratory nor
// the sense of force matters. What comes out:
//
//	cop_error_*     measured centre of pressure against the place of the weight
//	load_error_max  measured vertical force against the weight
//	gain_error      slope of measured against true load, less 1
//	linearity       largest distance from the fitted straight line, as a part of the
//	                greatest load
//	crosstalk_x, _y horizontal force under a vertical load, as a part of the load: a
//	                plate that leans by 1 mm per metre shows 0.001
//	crosstalk_twist free moment about the vertical as a part of the load, m
//	repeatability_* scatter of readings of one load at one place, pooled
//
// Limits are the maker's: [Limits]. There is no standard for plates in biomechanics
// that sets them; [Context] lists what the literature reports.
//
// # Placement
//
// Which way round a plate lies, and which plate is which, no file can be trusted to
// tell: a plate turned by 180° has all its pressure on the plate and is wrong
// everywhere. Somebody presses on known points and pushes along the surface in known
// directions; of the eight ways in which a rectangle can lie on itself, and of all
// plates, the one is found that explains what was measured.
//
// # Sources
//
// The protocol is common practice (no published source); pooled scatter as in ISO
// 5725-2 (from memory); figures as [Context] says.
package acceptance
