// Package phase finds the events of a golf swing in what the ground did, and
// the phases between them.
//
// # Events
//
// An event is given by somebody who knows (a trigger, a club tracker, a coach's
// click), detected in the forces, or estimated from them; a given one always
// wins. In the order in which they usually come:
//
//	address             the last instant of the rest before the swing, which the
//	                    forces know only roughly
//	onset               a foot's vertical force leaves its quiet level by 2 % of body
//	                    weight for good
//	trail_load_peak     highest vertical force under the trail foot
//	lateral_turn        the lateral force turns toward the target for good
//	lowest_vertical     lowest vertical force of both feet: the unweighting
//	even_load           both feet carry the same on the way to the lead foot
//	lateral_peak        highest lateral force toward the target
//	frontal_torque_peak highest moment about the forward axis through the
//	                    centre of mass
//	lead_vertical_peak  highest vertical force under the lead foot
//	vertical_torque_peak highest moment about the vertical axis through the
//	                    centre of mass
//	impact              given, or an estimate that says so
//	finish              both feet's vertical forces stay within 2 % of body weight
//	                    of their levels in the quiet stance after the swing
//
// Besides, marks of the club's position that only a camera or a club tracker
// can know are carried through when given, by name or by number: see [Position].
// They bound phases of their own; the others are bounded by what the forces do
// ([Events.Phases]).
//
// The definitions are the trade's (common practice, no published source), put
// into mechanics here; the instants of force peaks relative to impact vary
// between golfers, so no event is derived from another by a fixed delay.
//
// # How an instant is found
//
// The downswing is located first: it is where the moment of the ground force
// about the forward axis on the ground, that is load times place along the
// target line, rises fastest while the golfer is on the plates. Places are counted
// from where the golfer presses, so that the laboratory's origin does not matter:
// for the rise from the centre of pressure of its middle, below from that of the
// quiet stance. Peaks and crossings are then searched in windows around it. With
// back and fore for the instants at which that moment is least, up to 1.5 s before,
// and greatest, up to 0.35 s after:
//
//	trail_load_peak       from onset to the downswing's instant
//	lead_vertical_peak    from there to 0.15 s after fore
//	lowest_vertical       from half-way between onset and trail_load_peak to
//	                      lead_vertical_peak
//	lateral_peak          from 0.1 s before back to lead_vertical_peak
//	lateral_turn          last rise through zero from onset to lateral_peak
//	even_load             last rise of the lead foot's share through one half from
//	                      trail_load_peak to lead_vertical_peak
//	frontal_torque_peak,  from back to 0.15 s after fore
//	vertical_torque_peak
//
// Each is refined by a polynomial fitted to the
// samples around it, as wide as it describes them as well as the noise of the
// quiet stance, so that its time falls between samples; its standard deviation
// is the scatter of the same fit's slope (for a peak) or value (for a crossing)
// during the quiet stance, divided by the curvature or the slope at the event. For
// a peak of torque the uncertainty of the centre of mass counts, too. Filter
// distortion is not part of it. Package validation/study measures all this on
// made-up swings with known events.
//
// What can not be found is reported with the reason, never with a made-up time.
//
// # Recordings and streams
//
// [Detect] takes a recording of one swing, [Online] one sample after the other;
// what Online reports is what Detect finds, and is never revised. Of a recording,
// [FindDownswings] tells where the swings are, [FindAddress] and [FindStill] the
// stances before and after each: waggles, steps into the stance and starts that
// stop are no swings.
package phase
