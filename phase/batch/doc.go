// Package batch runs the way from raw plate channels to torque over whole
// recordings, for services that process many of them:
//
//	channels of each plate
//	  − zero, calibration, plate → swing axes     one 6×n matrix and one constant
//	  low-pass, forward and backward              filter.ZeroPhase, all plates in step
//	  net wrench
//	  centre of pressure, free moment             of each plate and of the net
//	  centre of mass                              given, or force integrated twice
//	  moment and arms about it
//	  extremes, crossings of the load threshold
//
// The packages below compute the same one stage at a time: [grf.Plate.Wrenches],
// [filter.ZeroPhase], cop.Of, com.FromForces, torque.About and torque.Arms. A
// [Chain] gives their numbers (the tests hold it to 1e-12 of the largest value)
// with the stages folded together, so that a recording is walked through a few
// times and not once for each stage. It knows nothing of events and uncertainty:
// that is what package phase/swing is for, at a higher price.
//
// # Memory
//
// A [Chain] does not change once it is made and may be used by any number of
// goroutines. All that a run needs besides lies in the [Result] that it writes
// to: a Result belongs to one goroutine at a time, and a run into one that was
// used for a recording of the same length or a longer one allocates nothing.
// No goroutine is started here: the example of a pool shows how several cores
// share many recordings, each with a Result of its own.
//
// # Speed
//
// On amd64 with AVX the filter has a vector kernel; elsewhere, and with the build
// tag purego, it is Go and gives the same digits.
// validation/peers holds the chain against SciPy, and its README says what one
// machine gets done in an hour.
//
// # Missing samples
//
// Undefined is NaN, never zero. What the filter does about a NaN in a channel is
// decided by its [filter.NaNPolicy], an error by default. Under the other
// policies a sample with a NaN in one channel of one plate is missing in all
// plates, and from there on an integrated centre of mass is NaN: nothing is
// bridged without being told to. Infinite channels are always errors.
//
// # Sources
//
// Each stage names its formula's source where the package below has it: package
// grf for plates, grf/filter, cop, cop/com (King & Zatsiorsky, Gait & Posture
// 6:27–38, 1997, for the twofold integration) and torque.
//
// This is mechanics, not medical or training advice.
package batch
