package page

import (
	"fmt"
	"strings"

	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/examples/internal/safe"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
)

// summaryWidth is the width of a plain terminal.
const summaryWidth = 79

// summaryRows are the peaks that the summary tells, each with the measure that
// repeats it in body weights and the event that it belongs to.
var summaryRows = []struct {
	label, measure, relative string
	event                    phase.Name
}{
	{"trail foot, vertical", "trail_load_peak", "trail_load_peak_bw", phase.TrailLoadPeak},
	{"lead foot, vertical", "lead_vertical_peak", "lead_vertical_peak_bw", phase.LeadVerticalPeak},
	{"lateral, to target", "lateral_peak", "lateral_peak_bw", phase.LateralPeak},
	{"frontal torque", "frontal_torque_peak", "", phase.FrontalTorquePeak},
	{" = force", "frontal_force_at_peak", "", ""},
	{" × moment arm", "frontal_arm_at_peak", "", ""},
	{"vertical-axis torque", "vertical_torque_peak", "", phase.VerticalTorquePeak},
}

// Summary tells the swing on one screen, and which files were written.
func (s *Subject) Summary(written []string) string {
	var b strings.Builder
	line := func(format string, a ...any) {
		b.WriteString(strings.TrimRight(fmt.Sprintf(format, a...), " ") + "\n")
	}
	for _, l := range wrap(safe.Plain(s.heading()), summaryWidth, "") {
		line("%s", l)
	}
	line("body weight %s, mass %s, %s-handed, %g Hz", both(s.BodyWeight, "N"), both(s.Mass, "kg"), s.handed(), s.Recording.Rate)
	line("")
	line("%-22s %15s %10s %5s  %s", "Peak", "SI ± 1 SD", "US", "%BW", "When")
	for _, r := range summaryRows {
		m, ok := s.Measure(r.measure)
		if !ok {
			continue
		}
		relative := ""
		if v := s.get(r.relative); defined(v) {
			relative = number(v, 0)
		}
		line("%s %s %s %5s  %s", padRight(r.label, 22), padLeft(withSD(m.Value, m.SD, m.Unit), 15),
			padLeft(us(m.Value, m.Unit), 10), relative, s.when(r.event))
	}
	for _, m := range s.Events.Missing {
		for _, l := range wrap(safe.Plain(m.Reason), summaryWidth, "not found, "+eventWords(m.Name)+": ") {
			line("%s", l)
		}
	}
	if note := s.doubtfulImpact(); note != "" {
		for _, l := range wrap(note, summaryWidth, "") {
			line("%s", l)
		}
	}
	if h := s.held(); h != nil {
		line("")
		for _, l := range wrap(h.Said, summaryWidth, "> ") {
			line("%s", l)
		}
		for i, f := range s.Findings.Findings {
			if i == 1 {
				line("> and %d more on the page", len(s.Findings.Findings)-1)
				break
			}
			for _, l := range wrap(safe.Plain(f.Sentence), summaryWidth, "> ") {
				line("%s", l)
			}
		}
	}
	if s.Against != nil {
		for _, l := range s.Against.summaryLines() {
			line("%s", safe.Plain(l))
		}
	}
	if s.Against != nil {
		for _, l := range s.Against.warningLines() {
			line("%s", safe.Plain(l))
		}
	}
	if len(s.Warnings) > 0 {
		line("")
		if s.Against != nil {
			line("about this swing, %s", safe.Plain(s.Capture))
		}
		for _, l := range warningLines(s.Warnings, max(fewWarnings, input.Grave(s.Warnings))) {
			line("%s", l)
		}
	}
	line("")
	for _, name := range written {
		line("wrote %s", safe.Plain(name))
	}
	return b.String()
}

// fewWarnings are printed even if none of them is grave.
const fewWarnings = 2

// warningLines are the first warnings for a terminal, and how many are left.
func warningLines(warnings []grf.Warning, most int) []string {
	var lines []string
	most = min(most, len(warnings))
	for _, w := range warnings[:most] {
		lines = append(lines, wrap(safe.Plain(w.String()), summaryWidth, "! ")...)
	}
	if n := len(warnings) - most; n > 0 {
		lines = append(lines, fmt.Sprintf("! and %d of less weight on the page", n))
	}
	return lines
}

// heading says whose swing it is.
func (s *Subject) heading() string {
	text := s.title()
	if s.Session != "" {
		text += ", " + s.Session
	}
	if s.Demo {
		text += " (demonstration: golfer and swing are made up)"
	}
	return text
}
