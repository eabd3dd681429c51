package page

import (
	"fmt"
	"math"
	"strings"

	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
)

type eventRow struct {
	N                            int
	Name, Time, When, Source, SD string
	Against                      string // time against impact, or on the clock
	T                            string
	Shown                        bool
	At                           atEvent
}

type missingRow struct{ Name, Reason string }

type phaseRow struct{ Name, From, To, Duration string }

func (p *page) eventsOf(g *stage) {
	s := g.s
	var outside []string
	for _, m := range g.marks {
		r := eventRow{
			N: m.N, Name: eventWords(m.Name), Time: number(m.Time, 3), Source: m.Source.String(),
			SD: milliSD(m.SD), T: exact(m.Time), Shown: g.shown.holds(m.Time), At: s.atEvent(m.Name),
			Against: si(m.Time, "s"),
		}
		p.AtEvents = p.AtEvents || r.At != (atEvent{})
		if s.hasImpact() {
			r.When = s.whenAt(m.Time)
			if m.Name != phase.Impact {
				r.Against = si(m.Time-s.Events.Time(phase.Impact), "s")
			}
		}
		if !r.Shown {
			outside = append(outside, fmt.Sprintf("%d %s", m.N, r.Name))
		}
		p.Keys = append(p.Keys, r)
	}
	p.Outside = strings.Join(outside, ", ")
	for _, m := range s.Events.Missing {
		p.Missing = append(p.Missing, missingRow{eventWords(m.Name), m.Reason})
	}
	for _, ph := range s.Phases {
		p.Phases = append(p.Phases, phaseRow{phaseWords(ph.Name), eventWords(ph.From.Name), eventWords(ph.To.Name), si(ph.Duration(), "s")})
	}
}

func phaseWords(name string) string {
	if numbered(name) {
		return strings.ReplaceAll(strings.ToUpper(name), "_", "–")
	}
	return strings.ReplaceAll(name, "_", "-")
}

func milliSD(sd float64) string {
	if t := measuredOf(1000*sd, 1000*sd, "ms").Spread; t != "" {
		return join(t, "ms")
	}
	return ""
}

// eventWords is an event's name for people.
func eventWords(n phase.Name) string { return swing.Words(n) }

// atEvent is what is known at an event beside its time.
type atEvent struct {
	Share, Shift, ShiftUS, ShiftRelative string
	Note                                 string
}

func (s *Subject) atEvent(name phase.Name) atEvent {
	var a atEvent
	if m, ok := s.Measure(shareAt + string(name)); ok {
		a.Share, a.Note = withSD(m.Value, m.SD, m.Unit), m.Note
	}
	if name == phase.EvenLoad && a.Share == "" && s.Recording.Split() {
		a.Share = percent(50) // by its definition
	}
	if m, ok := s.Measure(shiftAt + string(name)); ok {
		a.Shift, a.ShiftUS = withSD(m.Value, m.SD, m.Unit), us(m.Value, m.Unit)
		if a.Note == "" {
			a.Note = m.Note
		}
		if rel, ok := s.Measure(shiftAt + string(name) + "_stance"); ok && !math.IsNaN(rel.Value) {
			a.ShiftRelative = si(rel.Value, rel.Unit)
		}
	}
	return a
}
