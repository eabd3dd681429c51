package page

import (
	"fmt"
	"math"

	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
)

// Comparison is a swing held against an earlier one.
type Comparison struct {
	Before string // what it is held against
	Base   string // the common time base of the charts
	Charts []*chart
	Splits []splitRow
	Rows   []changeRow
	Note   string

	other *Subject
	parts []swing.TorqueSplit
	diffs []change
}

// splitRow says why a peak torque differs.
type splitRow struct {
	Label, From, To, Change string
	Causes                  []causeCell
	Note                    string
}

type causeCell struct{ Name, SI, SD string }

// changeRow is a measure in both swings.
type changeRow struct{ Label, Before, Now, Difference, US, Clear string }

// change is a measure in both swings, in numbers.
type change struct {
	m         swing.Measure // of this swing
	before    swing.Measure
	value, sd float64 // of the difference
	beyond    bool
}

// Hold compares s with an earlier swing.
func (s *Subject) Hold(before *Subject) error {
	c, err := compare(before, s)
	if err == nil {
		s.Against = c
	}
	return err
}

// compare holds s against an earlier swing.
func compare(before, s *Subject) (*Comparison, error) {
	c := &Comparison{Before: before.title(), other: before}
	if before.Session != "" {
		c.Before += ", " + before.Session
	}
	if before.Player != "" { // often the same golfer's: the file tells the two apart
		c.Before += ", " + before.Capture
	}
	var err error
	if c.parts, err = swing.SplitPeaks(before.Analysis, s.Analysis); err != nil {
		return nil, err
	}
	for _, p := range c.parts {
		c.Splits = append(c.Splits, splitOf(p))
	}
	for _, m := range s.Measures {
		b, ok := before.Measure(m.Name)
		if !ok || math.IsNaN(m.Value) || math.IsNaN(b.Value) {
			continue
		}
		d := change{m: m, before: b, value: m.Value - b.Value, sd: math.Hypot(m.SD, b.SD)}
		d.beyond = math.Abs(d.value) > 2*d.sd // false where an uncertainty is unknown
		c.diffs = append(c.diffs, d)
	}
	for _, name := range append([]string{"trail_load_peak_bw", "lead_vertical_peak_bw", "lateral_peak_bw"}, mainMeasures...) {
		for _, d := range c.diffs {
			if d.m.Name == name {
				c.Rows = append(c.Rows, d.row())
			}
		}
	}
	c.draw(s)
	return c, nil
}

func (d change) row() changeRow {
	r := changeRow{
		Label: capital(d.m.Label), Before: si(d.before.Value, d.m.Unit), Now: si(d.m.Value, d.m.Unit),
		Difference: withSD(d.value, d.sd, d.m.Unit), US: us(d.value, d.m.Unit), Clear: "within the uncertainty of two swings",
	}
	switch {
	case d.beyond:
		r.Clear = "beyond it"
	case math.IsNaN(d.sd):
		r.Clear = "uncertainty unknown"
	}
	return r
}

func splitOf(p swing.TorqueSplit) splitRow {
	v, sd := p.Value, p.SD
	r := splitRow{
		Label: capital(p.Label), From: si(v.From, "N·m"), To: si(v.To, "N·m"),
		Change: withSD(v.Change, sd.Change, "N·m"), Note: p.Note,
	}
	for _, c := range []struct {
		name      string
		value, sd float64
	}{
		{"force: how hard", v.ForceSize, sd.ForceSize},
		{"force: where to", v.ForceDirection, sd.ForceDirection},
		{"place of the pressure", v.PressurePlace, sd.PressurePlace},
		{"place of the centre of mass", v.MassPlace, sd.MassPlace},
		{"turning pair and free moments", v.FreeMoment, sd.FreeMoment},
	} {
		spread := measuredOf(c.value, c.sd, "N·m").Spread
		r.Causes = append(r.Causes, causeCell{c.name, si(c.value, "N·m"), spread})
	}
	return r
}

// draw lays the curves of both swings over each other, from onset to impact.
func (c *Comparison) draw(s *Subject) {
	base := swing.Between(phase.Onset, phase.Impact)
	c.Base = base.String()
	percent := make([]float64, swing.DefaultPoints)
	for i := range percent {
		percent[i] = 100 * float64(i) / float64(len(percent)-1)
	}
	for _, name := range []string{"vertical_bw", "lead_share", "lateral_bw", "frontal_torque_kg", "vertical_torque_kg", "frontal_arm"} {
		signal, ok := swing.SignalNamed(name)
		if !ok {
			continue
		}
		now, err1 := s.Curve(signal, base)
		before, err2 := c.other.Curve(signal, base)
		if err1 != nil || err2 != nil {
			c.Note = "The curves can not be laid over each other: onset or impact of a swing is not known."
			return
		}
		ch := &chart{
			ID: "against-" + name, Title: capital(signal.Label), Unit: signal.Unit, Along: clock{0, "from onset, 0 %, to impact, 100 %"},
			Caption: fmt.Sprintf("Onset to impact took %s now and %s before.", si(now.Duration(), "s"), si(before.Duration(), "s")),
			Lines: []curve{
				{Name: "before", Class: "trail", Values: before.Value},
				{Name: "now", Class: "lead", Values: now.Value},
			},
		}
		ch.draw(percent, stretch{0, 100}, nil)
		c.Charts = append(c.Charts, ch)
	}
}

// summaryLines tell the comparison on a terminal.
func (c *Comparison) summaryLines() []string {
	lines := []string{"", "held against " + c.Before}
	for _, r := range c.Splits {
		lines = append(lines, fmt.Sprintf("%s: %s → %s (%s)", r.Label, r.From, r.To, r.Change))
		for _, cause := range r.Causes {
			lines = append(lines, fmt.Sprintf("  %s %s", padRight(cause.Name, 32), padLeft(cause.SI, 10)))
		}
	}
	return lines
}
