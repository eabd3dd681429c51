package page

import (
	"fmt"
	"math"
	"strings"

	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/phase"
)

// inWords tells the swing in three to six sentences, each built from measures
// that are defined; a sentence whose measures are not is left out.
func inWords(s *Subject) []string {
	var out []string
	for _, f := range []func(*Subject) string{sayAddress, sayTrail, sayTransition, sayLead, sayFrontal, sayVertical} {
		if sentence := f(s); sentence != "" {
			out = append(out, sentence)
		}
	}
	return out
}

// get returns the value of a measure, NaN when there is none.
func (s *Subject) get(name string) float64 {
	if m, ok := s.Measure(name); ok {
		return m.Value
	}
	return math.NaN()
}

// sized writes the size of a measure with its standard deviation and in pounds
// and inches: "0.208 ± 0.011 m (8.2 in)".
func (s *Subject) sized(name string) string {
	m, _ := s.Measure(name)
	v := math.Abs(m.Value)
	text := withSD(v, m.SD, m.Unit)
	if u := us(v, m.Unit); u != "" {
		text += " (" + u + ")"
	}
	return text
}

// signed writes a measure with its sign and its standard deviation.
func (s *Subject) signed(name string) string {
	m, _ := s.Measure(name)
	return withSD(m.Value, m.SD, m.Unit)
}

// timed says when an event was, as when does, with the standard deviation of the time
// that it tells, if that is known.
func (s *Subject) timed(name phase.Name) string {
	e, found := s.Events.Get(name)
	impact, ok := s.Events.Get(phase.Impact)
	if s.exactImpact() {
		impact.SD = 0
	}
	switch d := impact.Time - e.Time; {
	case !found:
		return ""
	case !ok:
		return "at " + seconds(e.Time, e.SD) + " of the recording"
	case math.Abs(d) < 0.0005:
		return "at impact"
	case d > 0:
		return seconds(d, math.Hypot(e.SD, impact.SD)) + " before impact"
	default:
		return seconds(-d, math.Hypot(e.SD, impact.SD)) + " after impact"
	}
}

// seconds writes a time to the millisecond, also where it is known better.
func seconds(t, sd float64) string {
	if 0 < sd && sd < 0.0005 {
		return si(t, "s") + nbsp + milliSD(sd)
	}
	return withSD(t, sd, "s")
}

// exactImpact reports whether somebody gave impact and nobody how sure it is.
func (s *Subject) exactImpact() bool {
	impact, ok := s.Events.Get(phase.Impact)
	return ok && impact.Source == phase.Given && !(impact.SD > 0)
}

// when says when an event was, relative to impact if that is known.
func (s *Subject) when(name phase.Name) string {
	return s.whenAt(s.Events.Time(name))
}

func (s *Subject) whenAt(t float64) string {
	impact, ok := s.Events.Get(phase.Impact)
	switch d := impact.Time - t; {
	case math.IsNaN(t):
		return ""
	case !ok:
		return "at " + si(t, "s") + " of the recording"
	case math.Abs(d) < 0.0005:
		return "at impact"
	case d > 0:
		return si(d, "s") + " before impact"
	default:
		return si(-d, "s") + " after impact"
	}
}

// force writes one with its share of body weight: "690 ± 3 N (155 lbf), 90 % of body
// weight".
func (s *Subject) force(name string) string {
	return s.sized(name) + ", " + percent(100*s.get(name)/s.BodyWeight) + " of body weight"
}

func percent(v float64) string { return join(number(v, 0), "%") }

func defined(vs ...float64) bool {
	for _, v := range vs {
		if math.IsNaN(v) {
			return false
		}
	}
	return true
}

func sayAddress(s *Subject) string {
	text := "Standing still, the golfer pressed on the ground with " + s.sized("body_weight")
	if share := s.get("lead_share_at_address"); defined(share) {
		text += ", " + s.signed("lead_share_at_address") + " of it under the lead foot"
	}
	return text + "."
}

func sayTrail(s *Subject) string {
	peak := s.get("trail_load_peak")
	if !defined(peak) {
		return ""
	}
	text := "In the backswing the load went to the trail foot, up to " + s.force("trail_load_peak") + ", " + s.timed(phase.TrailLoadPeak)
	if shift := s.get("com_shift_at_trail_load_peak"); defined(shift) && math.Abs(shift) >= 0.005 {
		text += "; by then the centre of mass had moved " + s.sized("com_shift_at_trail_load_peak") + " " + side(shift)
	}
	return text + "."
}

// side says which way along the target line.
func side(y float64) string {
	if y < 0 {
		return "away from the target"
	}
	return "toward the target"
}

func sayTransition(s *Subject) string {
	low, lateral := s.get("lowest_vertical_bw"), s.get("lateral_peak")
	var parts []string
	if defined(low) {
		parts = append(parts, "both feet together pressed least, "+strings.Replace(s.signed("lowest_vertical_bw"), "%BW", "% of body weight", 1)+", "+s.timed(phase.LowestVertical))
	}
	if defined(lateral) {
		text := "the lateral force toward the target was largest "
		if d := s.Events.Time(phase.LowestVertical); len(parts) > 0 && defined(d) {
			text = "the lateral force toward the target reached its largest value, "
		}
		parts = append(parts, text+s.sized("lateral_peak")+", "+s.timed(phase.LateralPeak))
	}
	if len(parts) == 0 {
		return ""
	}
	return capital(strings.Join(parts, ", and ")) + "."
}

func sayLead(s *Subject) string {
	peak := s.get("lead_vertical_peak")
	if !defined(peak) {
		return ""
	}
	text := "The lead foot pressed hardest " + s.timed(phase.LeadVerticalPeak) + ": " + s.force("lead_vertical_peak")
	if t := s.Events.Time(phase.EvenLoad); defined(t) {
		text += "; it had taken over half of the load " + s.timed(phase.EvenLoad)
	}
	return text + "."
}

func sayFrontal(s *Subject) string {
	m, arm, force := s.get("frontal_torque_peak"), s.get("frontal_arm_at_peak"), s.get("frontal_force_at_peak")
	if !defined(m) {
		return ""
	}
	text := "Seen face-on, the ground turned the golfer hardest " + s.timed(phase.FrontalTorquePeak) + ", with " + s.sized("frontal_torque_peak")
	if defined(arm, force) {
		text += ": " + s.sized("frontal_force_at_peak") + " of force, its line passing " + s.sized("frontal_arm_at_peak") + " from the centre of mass on the " + armSide(arm) + " side"
	}
	return text + "."
}

// armSide says on which side of the centre of mass an upward force passes.
func armSide(arm float64) string {
	if arm < 0 {
		return "trail"
	}
	return "target"
}

func sayVertical(s *Subject) string {
	m := s.get("vertical_torque_peak")
	if !defined(m) {
		return ""
	}
	text := "About the vertical axis the turning was largest " + s.timed(phase.VerticalTorquePeak) + ", with " + s.sized("vertical_torque_peak")
	if p, f, g := s.get("vertical_torque_pivoting"), s.get("vertical_torque_free"), s.get("vertical_torque_ground_force"); defined(p, f, g) {
		text += fmt.Sprintf(": %s from the feet pushing in opposite directions, %s from the feet twisting on the ground, %s from the net force passing beside the centre of mass",
			s.signed("vertical_torque_pivoting"), s.signed("vertical_torque_free"), s.signed("vertical_torque_ground_force"))
	}
	return text + "."
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// doubtfulImpact warns where times relative to impact hang on an estimate, "" if
// they do not.
func (s *Subject) doubtfulImpact() string {
	impact, ok := s.Events.Get(phase.Impact)
	switch {
	case !ok:
		return "Impact is not known, so times are those of the recording."
	case impact.Source == phase.Estimated:
		text := "Impact is an estimate from the forces"
		if sd := milliSD(impact.SD); sd != "" {
			text += " (" + sd + ")"
		}
		return text + "; times relative to it are no better. A mark in the setup would settle it."
	}
	return ""
}

// handed says for which golfer the axes were made.
func (s *Subject) handed() string { return results.Handed(s.Recording.Handed) }
