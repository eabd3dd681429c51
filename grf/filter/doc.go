// Package filter takes noise out of ground forces: low-pass filtering of
// recorded and of live series, choosing a cut-off, and putting series on a
// common clock. It knows neither plates nor swings.
//
// # Two filters, two types
//
//	             one pass                      two passes
//	in  ──▶ [ section ]…[ section ] ──▶ out    forward, then backward in time
//	          late by Delay()                  not late, needs the whole series
//	          [Causal]: live                   [ZeroPhase]: recordings
//
// Both are Butterworth low-passes of even order, made of second-order sections
// ([Butterworth]). In a [Causal] the cut-off is the −3 dB point of its one pass;
// in a [ZeroPhase] it is that of both passes together, so that '50 Hz' is what
// the result has. Order is always that of one pass: order 2 in two passes is the
// fourth-order zero-lag filter of the literature.
//
// # What to filter
//
// Filter forces and moments with one and the same filter, then compute what is a
// quotient of them, such as the centre of pressure. Filtering the quotient
// spreads samples of no load into those beside them. Decide contact from
// unfiltered force: a filter smears force to before the contact. When forces
// meet positions in one computation give both the same cut-off; for impulses
// and loading rates alone use a high cut-off or none (Bezodis et al. 2013;
// Edwards et al. 2011).
//
// # Several channels
//
// Channels are filtered in step, as they lie in memory: as interleaved values,
// as grf.Wrench, as r3.Vec. For given sections the digits of a channel do not
// depend on its neighbours, on the form of the call, on how a live series is cut
// into blocks, or on the machine. (A design contains a tangent and sines, whose
// last digit can differ between machines.)
//
// On amd64 with AVX a vector kernel filters four to twelve channels at a time, two
// sections in one go, and makes six of them out of six series ([Mix]) or out of the
// readings of one sample ([FrontEnd]). Elsewhere, and with the build tag purego, its
// twin in Go does, with the same digits.
//
// # Missing samples
//
// One NaN would spoil everything after it, and in two passes everything. What is
// done instead is the caller's choice: [NaNError] by default, [NaNSegments] or
// [NaNInterpolate]. Infinite values are always errors.
//
// # Digits
//
// Against SciPy the filters agree to 1e-12 of the largest value (see the tests
// for versions). Rounding in the recursion grows toward low cut-offs; for order
// 2 the result is good to 1e-16·(rate/cutoff)^1.5 of the largest value or
// better: 1e-14 at 50 Hz and 1000 Hz, 3e-12 at 1 Hz, and 1e-7 at the lowest
// cut-off that is accepted, a millionth of the rate.
//
// After some thousand samples of exact zeros the memory of a filter holds
// subnormal numbers, which some processors handle slowly. Results are not
// affected.
//
// # Sources
//
//   - Winter, Biomechanics and Motor Control of Human Movement, 4th ed. 2009,
//     chapter 2: coefficients (eq. 2.19), two passes, residual analysis.
//   - Robertson, Caldwell, Hamill, Kamen and Whittlesey, Research Methods in
//     Biomechanics, 2nd ed. 2013: the correction for two passes by order.
//   - Oppenheim and Schafer, Discrete-Time Signal Processing: bilinear
//     transform, direct form, group delay.
//   - SciPy, signal.sosfiltfilt: padding and start of the two passes.
//   - Gustafsson, IEEE Trans. Signal Process. 44:988–992, 1996: start
//     conditions of two-pass filters.
//   - de Boor, A Practical Guide to Splines, 1978: not-a-knot splines.
package filter
