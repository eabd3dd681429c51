package page

import (
	"html/template"
	"math"
	"strings"
	"unicode/utf8"

	"example.com/momentarm/phase"
)

// phaseStrip draws the phases as bars on the time axis of the charts.
func phaseStrip(g *stage, z size) template.HTML {
	const row = 24
	x := scale{g.shown.From, g.shown.To, z.left, z.width - z.right}
	rows := 1
	for _, p := range g.s.Phases {
		rows = max(rows, laneOf(p.Name)+1)
	}
	s := newSVG("strip "+z.name, "Phases of the swing", z.width, float64(rows*row)+4)
	for _, p := range g.s.Phases {
		a, b := math.Max(p.From.Time, g.shown.From), math.Min(p.To.Time, g.shown.To)
		if a >= b {
			continue
		}
		y := float64(laneOf(p.Name)*row) + 2
		s.el("rect", "class", "phase", "x", x.at(a), "y", y, "width", x.at(b)-x.at(a), "height", row-4)
		name := phaseWords(p.Name)
		if float64(utf8.RuneCountInString(name))*z.font*0.56 < x.at(b)-x.at(a) {
			s.text((x.at(a)+x.at(b))/2, y+row/2+2, name, "class", "phasename", "text-anchor", "middle")
		}
	}
	return s.html()
}

// laneOf keeps the phases that marks of the club bound, and those from one numbered
// position to the next, apart from the others, which they overlap.
func laneOf(name string) int {
	switch {
	case name == "backswing" || name == "downswing":
		return 1
	case numbered(name):
		return 2
	}
	return 0
}

// numbered reports whether a phase goes from one numbered position to the next:
// "p4_p5".
func numbered(name string) bool {
	from, _, ok := strings.Cut(name, "_")
	_, err := phase.ParsePosition(from)
	return ok && err == nil
}
