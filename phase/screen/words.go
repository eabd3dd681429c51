package screen

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/momentarm/phase/internal/say"
	"example.com/momentarm/phase/swing"
)

// sentence says the finding in plain words. impact is NaN when its time is not
// known.
func (f *Finding) sentence(k, impact float64) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s: %s", f.title(), say.WithSD(f.Value, f.SD, f.Band.Unit))
	b.WriteString(f.when(impact))
	switch f.Verdict {
	case Within:
		fmt.Fprintf(&b, "; within the band, %s.", f.Band.edges())
		return b.String()
	case Undecided:
		fmt.Fprintf(&b, "; not decidable: the value with %g times its ±, %s to %s, lies across the edge of the band, %s.", k,
			say.Bare(f.Value-k*f.SD, f.Band.Unit), say.Number(f.Value+k*f.SD, f.Band.Unit), f.Band.edges())
		return b.String()
	}
	fmt.Fprintf(&b, "; %s the band, %s.", f.how(), f.Band.edges())
	if reason := f.reason(); reason != "" {
		b.WriteString(" " + reason)
	}
	if len(f.Beside) > 0 {
		b.WriteString(" Beside it: " + list(f.Beside) + ".")
	}
	return b.String()
}

// when says the instant that the measure belongs to, if it has one.
func (f *Finding) when(impact float64) string {
	t := f.Measure.Time
	if math.IsNaN(t) {
		return ""
	}
	text := ", at " + say.Number(t, "s")
	switch d := impact - t; {
	case math.Abs(d) < 0.0005:
		text += " (impact)"
	case d > 0:
		text += " (" + say.Number(d, "s") + " before impact)"
	case d < 0:
		text += " (" + say.Number(-d, "s") + " after impact)"
	}
	return text
}

// warning says the finding of a set that only warns.
func (f *Finding) warning() string {
	text := fmt.Sprintf("%s: %s; %s the plausible %s.", f.title(), say.WithSD(f.Value, f.SD, f.Band.Unit), f.how(), f.Band.edges())
	if reason := f.reason(); reason != "" {
		text += " " + reason
	}
	return text + " Source: " + f.Band.Cite() + "."
}

// title is what the measure is called, at the start of a sentence.
func (f *Finding) title() string {
	t := f.Band.Label
	if t == "" {
		t = f.Measure.Label
	}
	if t == "" {
		t = strings.ReplaceAll(f.Measure.Name, "_", " ")
	}
	r, size := utf8.DecodeRuneInString(t)
	return string(unicode.ToUpper(r)) + t[size:]
}

// how says how far outside the value is.
func (f *Finding) how() string {
	side := "above"
	if f.Distance < 0 {
		side = "below"
	}
	text := say.Number(math.Abs(f.Distance), f.Band.Unit)
	if f.Band.Unit == "%" {
		text = say.Bare(math.Abs(f.Distance), "%") + " points" // not a part of the value
	}
	if !math.IsNaN(f.DistanceSD) {
		text += " (" + times(math.Abs(f.DistanceSD)) + " its ±)"
	}
	return text + " " + side
}

func (f *Finding) reason() string {
	if f.Distance < 0 {
		return f.Band.Below
	}
	return f.Band.Above
}

// times writes a number of standard deviations.
func times(n float64) string {
	switch {
	case n > 100:
		return "far more than"
	case n >= 10:
		return strconv.FormatFloat(n, 'f', 0, 64) + " times"
	}
	return strconv.FormatFloat(n, 'f', 1, 64) + " times"
}

// edges says the band, with the digits that its writer gave.
func (b Band) edges() string {
	edge := func(v float64) string {
		return strings.Replace(strconv.FormatFloat(v, 'g', -1, 64), "-", "−", 1)
	}
	switch unit := strings.TrimSuffix(" "+b.Unit, " 1"); {
	case b.Max == nil:
		return edge(*b.Min) + unit + " or more"
	case b.Min == nil:
		return edge(*b.Max) + unit + " or less"
	default:
		return edge(*b.Min) + " to " + edge(*b.Max) + unit
	}
}

// list writes measures, the value first because a label may end in a number.
func list(ms []swing.Measure) string {
	parts := make([]string, len(ms))
	for i, m := range ms {
		label := m.Label
		if label == "" {
			label = strings.ReplaceAll(m.Name, "_", " ")
		}
		parts[i] = say.Number(m.Value, m.Unit) + ", " + label
	}
	return strings.Join(parts, "; ")
}

// cautions go with one finding.
func (f *Finding) cautions() []string {
	var list []string
	if math.IsNaN(f.SD) {
		list = append(list, "How sure this value is is not known; it is held against the band as if it were exact.")
	}
	if f.Measure.Note != "" {
		list = append(list, "About the measure: "+f.Measure.Note+".")
	}
	if f.Band.Caution != "" && f.Verdict == Outside {
		list = append(list, f.Band.Caution)
	}
	return list
}
