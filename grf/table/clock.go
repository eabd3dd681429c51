package table

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/momentarm/grf"
	"example.com/momentarm/units"
)

// Preamble keys that Decode knows.
var (
	rateKeys = []string{"rate", "sampling rate", "sample rate", "sampling frequency"}
	startKey = "start"
)

// lostMost is the part of the rows that may be missing from a table with time
// stamps.
const lostMost = 0.1

// setClock moves the columns of r into t and finds Start and Rate.
func (t *Table) setClock(h *header, r *rows, opt Options) error {
	rate, err := declaredRate(h, opt)
	if err != nil {
		return err
	}
	at, err := timeColumn(h, r.cols, opt)
	if err != nil {
		return err
	}
	for i, c := range r.cols {
		if i != at {
			t.Columns = append(t.Columns, c.Column)
		}
	}
	t.Rows = len(r.line)
	if at < 0 {
		if rate == 0 {
			return &Error{Line: h.line, Err: ErrRate,
				Text: `no time column and no rate: add a column such as time[s], or a line "rate: 1000 Hz" before the names`}
		}
		t.Rate = rate
		if text, ok := h.meta[startKey]; ok {
			start, err := units.ParseTime(text)
			if err != nil {
				return &Error{Text: "start: " + err.Error(), Err: ErrTimeOrder}
			}
			t.Start = float64(start)
		}
		return nil
	}
	c := r.cols[at]
	for i, v := range c.Values {
		text := ""
		switch {
		case math.IsNaN(v):
			text = "a row without a time"
		case i > 0 && v == c.Values[i-1]:
			text = fmt.Sprintf("the time %g s stands in the row before, too", v)
		case i > 0 && v < c.Values[i-1]:
			text = fmt.Sprintf("the time goes back from %g to %g s", c.Values[i-1], v)
		}
		if text != "" {
			return &Error{Line: int(r.line[i]), Column: c.field + 1, Name: c.Name, Text: text, Err: ErrTimeOrder}
		}
	}
	t.Time, t.Start = c.Values, c.Values[0]
	k := clock{stamps: t.Time, line: r.line, unit: c.Unit.SI, jitter: opt.jitter(), declared: rate, most: opt.maxRows()}
	if err := k.measure(opt.Clock); err != nil {
		err.Column, err.Name = c.field+1, c.Name
		return err
	}
	t.Rate = k.rate
	t.Warnings = append(t.Warnings, k.warnings...)
	if k.row != nil {
		t.spread(k.row)
	}
	return nil
}

// declaredRate returns the rate of the options or the preamble, 0 for none.
func declaredRate(h *header, opt Options) (float64, error) {
	if opt.Rate > 0 {
		return opt.Rate, nil
	}
	for _, key := range rateKeys {
		text, ok := h.meta[key]
		if !ok {
			continue
		}
		f, err := units.ParseFrequency(text)
		if err != nil {
			return 0, &Error{Text: key + ": " + err.Error(), Err: ErrRate}
		}
		if !(f > 0) {
			return 0, &Error{Text: fmt.Sprintf("%s: %q is no rate", key, text), Err: ErrRate}
		}
		return float64(f), nil
	}
	return 0, nil
}

// timeColumn returns which column holds the time stamps, −1 for none.
func timeColumn(h *header, cols []column, opt Options) (int, error) {
	var found, named []int
	for i, c := range cols {
		isTime := c.Unit.Quantity == units.QuantityTime
		if opt.Time != "" && strings.EqualFold(c.Name, opt.Time) {
			if !isTime {
				return 0, &Error{Line: h.line, Column: c.field + 1, Name: c.Name, Text: c.Unit.Symbol + " is not a unit of time", Err: ErrUnit}
			}
			return i, nil
		}
		if isTime {
			found = append(found, i)
			if strings.EqualFold(c.Name, "time") || strings.EqualFold(c.Name, "t") {
				named = append(named, i)
			}
		}
	}
	switch {
	case opt.Time != "":
		return 0, &Error{Line: h.line, Text: fmt.Sprintf("no time column %s; there are %s", clip(opt.Time), h.names()), Err: ErrHeader}
	case len(named) == 1:
		return named[0], nil
	case len(found) == 1:
		return found[0], nil
	case len(found) == 0:
		return -1, nil
	}
	return 0, &Error{Line: h.line, Column: cols[found[1]].field + 1, Name: cols[found[1]].Name,
		Text: fmt.Sprintf("a unit of time, as column %d has: say which one holds the time stamps, or call it time", cols[found[0]].field+1), Err: ErrHeader}
}

// clock looks for the rate of ascending time stamps.
type clock struct {
	stamps   []float64
	line     []int32
	unit     float64 // s, of the file
	jitter   float64
	declared float64 // Hz, 0 for none
	most     int

	rate     float64
	row      []int // where rows were lost: the place of each row, else nil
	warnings []grf.Warning
}

func (k *clock) measure(policy Clock) *Error {
	n := len(k.stamps)
	if n == 1 {
		k.rate = k.declared
		if k.rate == 0 && policy == Even {
			return &Error{Line: int(k.line[0]), Text: "one row: no rate can be told from it", Err: ErrRate}
		}
		return nil
	}
	const quiet = 1e-3 // of the spacing: nobody needs to hear of it
	step := (k.stamps[n-1] - k.stamps[0]) / float64(n-1)
	printed := 0.0 // what the last digit of a stamp is worth, s
	off, at := k.deviation(step)
	lost := false
	if off > k.jitter*step {
		// Lost rows are looked for before rounded digits: where the last digit is
		// as large as the spacing, rounding could explain them away.
		lost = k.findLost(0)
		if !lost {
			printed = k.lastDigit()
		}
	} else if off > quiet*step {
		printed = k.lastDigit()
	}
	if !lost && off > k.jitter*step+printed {
		if lost = k.findLost(printed); !lost && policy == Even {
			return &Error{Line: int(k.line[at]), Err: ErrIrregular, Text: fmt.Sprintf(
				"time stamps are not evenly spaced: here they are %.3g ms, %.0f %% of the mean spacing, away from it; resample them to one rate",
				1000*off, 100*off/step)}
		}
		if !lost {
			return nil
		}
	}
	if lost {
		if policy == Ascending {
			k.row, k.warnings = nil, nil
			return nil
		}
		n = k.row[n-1] + 1
		step = (k.stamps[len(k.stamps)-1] - k.stamps[0]) / float64(n-1)
		off, at = k.deviation(step)
	}
	if off > quiet*step+printed && policy == Even {
		k.warnings = append(k.warnings, grf.Warning{Code: "time-jitter", Where: fmt.Sprintf("line %d", k.line[at]), Text: fmt.Sprintf(
			"time stamps deviate by up to %.3g ms (%.1f %% of their spacing) from even spacing, which was assumed", 1000*off, 100*off/step)})
	}
	return k.settle(n, printed)
}

// settle sets the rate of n rows: the declared one, or the whole number of hertz
// that the stamps agree with, or what they say.
func (k *clock) settle(n int, printed float64) *Error {
	span := k.stamps[len(k.stamps)-1] - k.stamps[0]
	k.rate = float64(n-1) / span
	slack := math.Max(printed, 1e-9*span+1e-15*math.Abs(k.stamps[len(k.stamps)-1]))
	if k.declared > 0 {
		want := float64(n-1) / k.declared
		if math.Abs(span-want) > math.Max(slack, math.Max(1e-3*span, k.jitter/k.declared)) {
			return &Error{Line: int(k.line[0]), Err: ErrRate, Text: fmt.Sprintf(
				"the time stamps make %.6g Hz, but %.6g Hz are declared", k.rate, k.declared)}
		}
		k.rate = k.declared
		return nil
	}
	if whole := math.Round(k.rate); whole > 0 && math.Abs(span-float64(n-1)/whole) <= slack {
		k.rate = whole
	}
	return nil
}

// deviation returns the largest distance of a stamp from even spacing, s, and
// where it is.
func (k *clock) deviation(step float64) (off float64, at int) {
	for i, v := range k.stamps {
		place := i
		if k.row != nil {
			place = k.row[i]
		}
		if d := math.Abs(v - (k.stamps[0] + float64(float64(place)*step))); d > off {
			off, at = d, i
		}
	}
	return off, at
}

// lastDigit returns what one unit in the last printed digit of the stamps is
// worth, s; 0 when there are too many digits to matter.
func (k *clock) lastDigit() float64 {
	scale := 1.0
	i := 0
	for places := 0; places <= 9; places++ {
		for ; i < len(k.stamps); i++ {
			v := k.stamps[i] / k.unit * scale
			if math.Abs(v-math.Round(v)) > 1e-4 {
				break
			}
		}
		if i == len(k.stamps) {
			return k.unit / scale
		}
		scale *= 10
	}
	return 0
}

// findLost reports whether the stamps are even but for some that are missing,
// and notes where each row belongs.
func (k *clock) findLost(printed float64) bool {
	n := len(k.stamps)
	steps := make([]float64, n-1)
	for i := range steps {
		steps[i] = k.stamps[i+1] - k.stamps[i]
	}
	sorted := slices.Clone(steps)
	slices.Sort(sorted)
	median := sorted[len(sorted)/2]
	// The mean of the single steps, because printed stamps are rounded. A lost
	// row makes a double step.
	var sum float64
	var count int
	for _, s := range sorted {
		if s <= 1.6*median {
			sum += s
			count++
		}
	}
	step := sum / float64(count)
	row := make([]int, n)
	lost, gaps, first := 0, 0, 0
	for i, s := range steps {
		by := math.Max(1, math.Round(s/step))
		if by > 1 {
			if gaps == 0 {
				first = i
			}
			gaps++
		}
		if by > float64(n) {
			return false
		}
		lost += int(by) - 1
		if float64(lost) > lostMost*float64(n) || n+lost > k.most {
			return false
		}
		row[i+1] = row[i] + int(by)
	}
	if lost == 0 {
		return false
	}
	k.row = row
	step = (k.stamps[n-1] - k.stamps[0]) / float64(row[n-1])
	if off, _ := k.deviation(step); off > k.jitter*step+printed {
		k.row = nil
		return false
	}
	k.warnings = append(k.warnings, grf.Warning{Code: "rows-lost", Where: fmt.Sprintf("line %d", k.line[first+1]), Text: fmt.Sprintf(
		"%d rows are missing in %d places, by the time stamps; they were filled with NaN", lost, gaps)})
	return true
}

// spread puts every row in its place and NaN between them.
func (t *Table) spread(row []int) {
	n := row[len(row)-1] + 1
	for c := range t.Columns {
		v := make([]float64, n)
		for i := range v {
			v[i] = math.NaN()
		}
		for i, place := range row {
			v[place] = t.Columns[c].Values[i]
		}
		t.Columns[c].Values = v
	}
	stamps := make([]float64, n)
	for i := range stamps {
		stamps[i] = t.Start + float64(i)/t.Rate
	}
	for i, place := range row {
		stamps[place] = t.Time[i]
	}
	t.Time, t.Rows = stamps, n
}
