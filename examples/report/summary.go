package main

import (
	"fmt"
	"strings"

	"example.com/momentarm/phase"
)

// summaryWidth is the width of a plain terminal.
const summaryWidth = 79

// summary tells the swing on one screen.
func summary(s *subject, outputs []output) string {
	var b strings.Builder
	line := func(format string, a ...any) { b.WriteString(strings.TrimRight(fmt.Sprintf(format, a...), " ") + "\n") }
	line("%s", plain(s.title()))
	line("%s", s.facts())
	line("")
	line("  %-28s %10s %11s %7s   %s", "Peak", "SI", "US", "%BW", "When")
	row := func(label, measure, bw string, event phase.Name) {
		m, ok := s.Measure(measure)
		if !ok {
			return
		}
		rel := ""
		if v := s.get(bw); defined(v) {
			rel = number(v, 0)
		}
		line("  %s %s %s %7s   %s", pad(label, -28), pad(si(m.Value, m.Unit), 10), pad(us(m.Value, m.Unit), 11), rel, s.when(event))
	}
	row("trail foot, vertical", "trail_load_peak", "trail_load_peak_bw", phase.TrailLoadPeak)
	row("lead foot, vertical", "lead_vertical_peak", "lead_vertical_peak_bw", phase.LeadVerticalPeak)
	row("sideways, toward target", "lateral_peak", "lateral_peak_bw", phase.LateralPeak)
	row("frontal torque", "frontal_torque_peak", "", phase.FrontalTorquePeak)
	row("  = force", "frontal_force_at_peak", "", "")
	row("  × moment arm", "frontal_arm_at_peak", "", "")
	row("vertical-axis torque", "vertical_torque_peak", "", phase.VerticalTorquePeak)
	for _, m := range s.Events.Missing {
		for _, l := range wrap(m.Reason, summaryWidth-2, "not found: "+eventWords(m.Name)+": ") {
			line("  %s", l)
		}
	}
	if n := len(s.Warnings); n > 0 {
		const most = 3
		line("")
		for i, w := range s.Warnings {
			if i == most {
				line("  and %d more", n-most)
				break
			}
			for _, l := range wrap(plain(w.String()), summaryWidth-2, "! ") {
				line("  %s", l)
			}
		}
	}
	line("")
	for _, o := range outputs {
		line("wrote %s", plain(o.name))
	}
	return b.String()
}

// facts is one line about the capture.
func (s *subject) facts() string {
	return fmt.Sprintf("body weight %s, mass %s, %s-handed, %g Hz", both(s.BodyWeight, "N"), both(s.Mass, "kg"), s.handed(), s.Recording.Rate)
}
