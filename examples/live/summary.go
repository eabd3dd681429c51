package main

import (
	"context"
	"math"
	"strconv"

	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
)

// shownMeasures are those of [swing.Analysis] that the page has room for.
var shownMeasures = []string{
	"trail_load_peak_bw", "lowest_vertical_bw", "lateral_peak_bw", "lead_vertical_peak_bw", "lead_share_at_impact",
	"frontal_torque_peak", "frontal_arm_at_peak", "vertical_torque_peak", "plane_torque_peak",
}

// summary is what a page gets to know of a swing that is over. Times of events and
// curves count from impact if there is one, or else from the downswing's fastest
// shift of load.
type summary struct {
	Version  string    `json:"version"` // of the algorithms of the analysis
	Number   int       `json:"number"`
	Failed   string    `json:"failed,omitempty"` // why there is nothing more
	Mass     number    `json:"mass"`
	Measures []measure `json:"measures,omitempty"`
	Events   []event   `json:"events,omitempty"`
	// Curves are time, lead and trail vertical force, frontal and vertical-axis
	// torque, every 5 ms.
	Curves   [][5]exact `json:"curves,omitempty"`
	Warnings int        `json:"warnings"`
}

type measure struct {
	Label string `json:"label"`
	Value number `json:"value"`
	SD    number `json:"sd"`
	Unit  string `json:"unit"`
}

type event struct {
	Label  string `json:"label"`
	Time   exact  `json:"t"`
	Source string `json:"source"`
}

// summarise works out swings as they come, beside everything else.
func summarise(ctx context.Context, swings <-chan captured, h *hub) {
	for {
		select {
		case <-ctx.Done():
			return
		case c := <-swings:
			h.publishSwing(encode(summaryOf(c)))
		}
	}
}

func summaryOf(c captured) summary {
	s := summary{Version: swing.Version, Number: c.number, Mass: number(math.NaN())}
	a, err := swing.Analyse(c.rec, swing.Options{})
	if err != nil {
		s.Failed = err.Error()
		return s
	}
	s.Mass, s.Warnings = number(a.Mass), len(a.Warnings)
	for _, name := range shownMeasures {
		if m, ok := a.Measure(name); ok {
			s.Measures = append(s.Measures, measure{m.Label, number(m.Value), number(m.SD), m.Unit})
		}
	}
	zero := a.Events.Time(phase.Impact)
	if math.IsNaN(zero) {
		zero = a.Events.Time(phase.EvenLoad)
	}
	if math.IsNaN(zero) {
		zero = c.rec.Start
	}
	from, to := zero-1.5, zero+0.6
	for _, e := range a.Events.Found {
		s.Events = append(s.Events, event{swing.Words(e.Name), exact(e.Time - zero), e.Source.String()})
		if e.Name == phase.Onset {
			from = e.Time - 0.1
		}
	}
	step := max(1, int(math.Round(0.005*c.rec.Rate)))
	for i := c.rec.Index(from); i <= c.rec.Index(to); i += step {
		d := a.Sample(i)
		s.Curves = append(s.Curves, [5]exact{
			exact(d.Time - zero), exact(d.Lead.Force.Z), exact(d.Trail.Force.Z), exact(d.Moment.Frontal), exact(d.Moment.Horizontal),
		})
	}
	return s
}

func decimal(n uint64) string { return strconv.FormatUint(n, 10) }
