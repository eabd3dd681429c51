package page

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/grf"
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
	// Remarks are what may make the two unlike, and Warnings those of the earlier
	// swing by itself.
	Remarks  []string
	Warnings []grf.Warning

	other *Subject
	parts []swing.TorqueSplit
	diffs []change
}

// coverage is how many standard deviations of a difference the measurement's error
// may explain (JCGM 100:2008, 6.3.3: about 95 %).
const coverage = 2

// The verdicts on a difference of two single swings.
const (
	moreThanError = "more than the measurement's error"
	withinError   = "within the measurement's error"
	unknownError  = "measurement's error unknown"
)

// oneEach goes with every comparison of two single swings.
var oneEach = fmt.Sprintf("One swing of each day proves no change: swings of one golfer differ from each other, too. "+
	"To know, record at least %d of each day and hold the days against each other: batch -against.", results.LeastSwings)

// Caution goes with it, as do how many standard deviations count as an error.
func (c *Comparison) Caution() string { return oneEach }

// Coverage is that number.
func (c *Comparison) Coverage() int { return coverage }

// splitRow says why a peak torque differs.
type splitRow struct {
	Label, From, To, Change, Clear string
	Causes                         []causeCell
	Note                           string
}

type causeCell struct{ Name, SI, SD string }

// changeRow is a measure in both swings.
type changeRow struct{ Label, Before, Now, Difference, US, Clear string }

// change is a measure in both swings, in numbers.
type change struct {
	m         swing.Measure // of this swing
	before    swing.Measure
	value, sd float64 // of the difference
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
	c.Warnings = before.Warnings
	c.remark(before, s)
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

// remark says what makes the two swings differ beside the swing.
func (c *Comparison) remark(before, s *Subject) {
	if before.Player != "" && s.Player != "" && before.Player != s.Player {
		c.Remarks = append(c.Remarks, fmt.Sprintf("Two golfers: %s now, %s before. What differs is no change of one golfer.", s.Player, before.Player))
	}
	if before.handed() != s.handed() {
		c.Remarks = append(c.Remarks, fmt.Sprintf("Two hands: %s-handed now, %s-handed before. Both are laid over each other with the target on one side, the left-handed one mirrored; if it is one golfer who swings one way, golfer.handed is wrong in a setup.", s.handed(), before.handed()))
	}
	pair, err := swing.NewSession([]*swing.Analysis{before.Analysis, s.Analysis})
	if err != nil {
		return // nor can they be held against each other
	}
	for _, w := range pair.Warnings {
		c.Remarks = append(c.Remarks, capital(w.Text)+".")
	}
}

func (d change) row() changeRow {
	r := changeRow{Label: capital(d.m.Label), US: us(d.value, d.m.Unit), Clear: verdictOf(d.value, d.sd)}
	r.Before, r.Now, r.Difference = subtracted(d.before.Value, d.m.Value, d.sd, d.m.Unit)
	return r
}

// verdictOf says whether the measurement's error may explain a difference.
func verdictOf(value, sd float64) string {
	switch {
	case math.IsNaN(value + sd):
		return unknownError
	case math.Abs(value) > coverage*sd:
		return moreThanError
	}
	return withinError
}

// subtracted writes two values and their difference, with its standard deviation, so
// that what is read subtracts: the difference is that of the rounded values.
func subtracted(before, now, sd float64, unit string) (b, n, difference string) {
	d, u := measuredOf(now-before, sd, unit).decimals, formOf(unit).SI
	m := measuredOf(rounded(now, d)-rounded(before, d), sd, unit)
	return join(number(before, d), u), join(number(now, d), u), m.Full()
}

// rounded is the number that number writes.
func rounded(v float64, decimals int) float64 {
	v, _ = strconv.ParseFloat(strconv.FormatFloat(v, 'f', decimals, 64), 64)
	return v
}

// addingUp rounds parts to whole numbers so that they add up to the rounded whole:
// those with the largest remainders are rounded up (the method of largest
// remainders).
func addingUp(parts []float64, whole float64) []float64 {
	out := make([]float64, len(parts))
	rest := whole
	order := make([]int, len(parts))
	for i, p := range parts {
		out[i], order[i] = math.Floor(p), i
		rest -= out[i]
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(parts[b]-out[b], parts[a]-out[a]) })
	for i := 0; i < len(order) && rest > 0.5; i++ {
		out[order[i]]++
		rest--
	}
	for i := len(order) - 1; i >= 0 && rest < -0.5; i-- {
		out[order[i]]--
		rest++
	}
	return out
}

func splitOf(p swing.TorqueSplit) splitRow {
	v, sd := p.Value, p.SD
	r := splitRow{Label: capital(p.Label), Note: p.Note, Clear: verdictOf(v.Change, sd.Change)}
	r.From, r.To, r.Change = subtracted(v.From, v.To, sd.Change, "N·m")
	causes := []struct {
		name      string
		value, sd float64
	}{
		{"force: how hard", v.ForceSize, sd.ForceSize},
		{"force: where to", v.ForceDirection, sd.ForceDirection},
		{"place of the pressure", v.PressurePlace, sd.PressurePlace},
		{"place of the centre of mass", v.MassPlace, sd.MassPlace},
		{"turning pair and free moments", v.FreeMoment, sd.FreeMoment},
	}
	values := make([]float64, len(causes))
	for i, c := range causes {
		values[i] = c.value
	}
	if defined(values...) {
		values = addingUp(values, rounded(v.To, 0)-rounded(v.From, 0))
	}
	for i, c := range causes {
		r.Causes = append(r.Causes, causeCell{c.name, si(values[i], "N·m"), measuredOf(c.value, c.sd, "N·m").Spread})
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
		lines = append(lines, fmt.Sprintf("%s: %s → %s (%s)", r.Label, r.From, r.To, r.Change), "  "+r.Clear)
		for _, cause := range r.Causes {
			lines = append(lines, fmt.Sprintf("  %s %s", padRight(cause.Name, 32), padLeft(cause.SI, 10)))
		}
	}
	lines = append(lines, wrap(oneEach, summaryWidth, "")...)
	for _, r := range c.Remarks {
		lines = append(lines, wrap(r, summaryWidth, "! ")...)
	}
	return lines
}

// warningLines are the warnings of the earlier swing for a terminal.
func (c *Comparison) warningLines() []string {
	grave := input.Grave(c.Warnings)
	if grave == 0 {
		return nil
	}
	lines := []string{"", "about the earlier swing, " + c.other.Capture}
	return append(lines, warningLines(c.Warnings, grave)...)
}
