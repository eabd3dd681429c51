// Package swing works one golf swing out: a recording of two force plates in,
// an [Analysis] out. It composes the packages below it, in this order:
//
//	recording                          grf.Recording, zeroed, in swing axes
//	  quiet stance → weight, mass      grf.FindQuiet
//	  low-pass, zero phase             grf/filter
//	  centre of pressure, free moment  cop
//	  centre of mass                   cop/com
//	  moments and arms about it        torque
//	  events and phases                phase
//	  measures                         here
//
// Nothing of it is hidden: every stage can be called alone, with other choices.
//
// # How torque comes about
//
// Seen by someone who faces the golfer, the ground pushes with a force F whose
// line passes the centre of mass at a distance, the moment arm:
//
//	Z            o  centre of mass
//	|           /|
//	|    arm   / |            torque = force × arm
//	|         x  |
//	|    F   /   |
//	|     ^ /    |
//	+-----|/-----+------> Y target
//	      p  centre of pressure
//
// There are two ways to more torque: more force, or a longer arm. 100 lbf at 4 ft
// turns as much as 400 lbf at 1 ft (common practice, no published source).
//
// # Measures
//
// Each [Measure] has a unit and the instant that it belongs to. Its name is stable;
// names that end in _bw are in percent of body weight, in _kg per kilogram of
// mass, both of the golfer with all they hold, in _stance in percent of the
// distance along the target line between the feet's centres of pressure at address.
// At and since address is at and since the end of the quiet stance, but in
// lead_share_at_address, which is at the event. Definitions are the trade's (common
// practice, no published source) unless the measure says otherwise; [phase.Name]
// has those of the events and [Analysis.Methods] all of them in sentences.
//
// A measure at an event is the value of the filtered signal at the event's time. A
// peak that is no event is the highest sample:
//
//	highest_vertical_bw              within 1 s after lowest_vertical
//	lateral_away_peak                from onset to lateral_turn
//	lead_preload                     from the quiet stance to trail_load_peak
//	lead_rise                        over 50 ms, from trail_load_peak to
//	                                 lead_vertical_peak
//	frontal_arm_peak, plane_torque…  within 1 s after trail_load_peak, or after
//	                                 lowest_vertical when the feet were not
//	                                 measured apart
//
// Value is stated with one standard deviation, SD: a standard uncertainty, of which
// 1.96 to either side hold some 95 % when errors scatter normally. It is what the
// instruments make of one swing; how much swings differ is in a [Spread].
//
// # Pressure mats
//
// A recording without horizontal forces (grf.Recording.VerticalOnly) gives loads,
// shares, centres of pressure, the events that these define, and their measures.
// Lateral force, free moments, the centre of mass, torques and arms are NaN, their
// events are missing, and every such measure says that horizontal forces were not
// measured. A mat of 100 frames a second needs a lower Options.Cutoff.
//
// # Comparing
//
// Curves of several swings meet on a [Base], evenly stretched or piece by piece
// between landmarks, and [Average] is their mean course. A [Session] of swings
// says how much each measure varies; [Compare] answers whether a golfer has
// really changed between two sessions, and [Session.Relate] what goes along with
// a speed. [SplitPeaks] says why one swing turns harder than another.
//
// The answers are "changed", "related", "not shown" and "not decidable": scatter
// hides small changes, and what is not shown may still be there. A session is
// best compared by few measures that were chosen before.
//
// # An import against the usual direction
//
// Packages of this module import those that know less of golf, and package
// validation comes last. The one exception is the statistics of repeated
// measurements that this package takes from validation/agreement: they know
// nothing of golf and import nothing of this module, so that no cycle can arise.
// A test holds that.
//
// This is mechanics, not medical or training advice.
package swing
