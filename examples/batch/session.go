package main

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/examples/internal/safe"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase/swing"
)

// session is how each measure varies over the analysed captures of one golfer.
type session struct {
	golfer string // "" when nobody named them
	swings []*results.Results
	*swing.Session
	note string // why there is none
}

// sessions are those of the golfers that a folder holds, in the order in which
// they come first; at least one.
type sessions struct {
	swings  []*results.Results // of all
	golfers []session
}

// summarize brings the swings of each golfer together. A kept result counts like a
// fresh one: both are taken from their JSON form.
func summarize(swings []*results.Results) sessions {
	var names []string
	of := map[string][]*results.Results{}
	for _, r := range swings {
		if of[r.Player] == nil {
			names = append(names, r.Player)
		}
		of[r.Player] = append(of[r.Player], r)
	}
	if names == nil {
		names = []string{""} // nothing was analysed: a session that says so
	}
	list := sessions{swings: swings}
	for _, name := range names {
		list.golfers = append(list.golfers, summarizeOne(name, of[name]))
	}
	return list
}

func summarizeOne(golfer string, swings []*results.Results) session {
	s := session{golfer: golfer, swings: swings, Session: &swing.Session{}}
	list := make([]*swing.Analysis, len(swings))
	for i, r := range swings {
		list[i] = bare(r)
	}
	if n := len(list); n < 2 {
		s.note = fmt.Sprintf("no session: %s; what varies from swing to swing takes at least %d", count(n, "swing"), results.LeastSwings)
		return s
	}
	made, err := swing.NewSession(list)
	if err != nil {
		s.note = "no session: " + err.Error()
		return s
	}
	s.Session = made
	return s
}

// bare returns as much of an analysis as a session looks at.
func bare(r *results.Results) *swing.Analysis {
	a := &swing.Analysis{
		BodyWeight: float64(r.BodyWeight), Mass: float64(r.Mass),
		Settings: swing.Settings{
			Version: r.Settings.Version, Cutoff: float64(r.Settings.Cutoff), Order: r.Settings.Order,
			MinVertical: float64(r.Settings.MinVertical), MinPlane: float64(r.Settings.MinPlane),
			Plane: float64(r.Settings.Plane), Gravity: float64(r.Settings.Gravity), COM: r.Settings.COM,
		},
	}
	for _, m := range r.Measures {
		a.Measures = append(a.Measures, swing.Measure{
			Name: m.Name, Label: m.Label, Value: float64(m.Value), SD: float64(m.SD), Unit: m.Unit, Time: float64(m.Time), Note: m.Note,
		})
	}
	return a
}

// summary is the JSON form of a session. That of a folder with several golfers has
// theirs in Golfers and no measures of its own.
type summary struct {
	Schema   int           `json:"schema"`
	Golfer   string        `json:"golfer,omitempty"`
	Captures []string      `json:"captures"`
	Measures []spread      `json:"measures"`
	Warnings []grf.Warning `json:"warnings"`
	Note     string        `json:"note"`
	Golfers  []summary     `json:"golfers,omitempty"`
}

type spread struct {
	Name         string        `json:"name"`
	Label        string        `json:"label"`
	Unit         string        `json:"unit"`
	N            int           `json:"n"`
	Mean         results.Value `json:"mean"`
	SD           results.Value `json:"sd"`
	CV           results.Value `json:"cv"`
	TypicalError results.Value `json:"typical_error"`
	Detectable   results.Value `json:"detectable_change"`
}

func (list sessions) json() ([]byte, error) {
	sum := list.golfers[0].summary()
	if n := len(list.golfers); n > 1 {
		all := session{swings: list.swings, Session: &swing.Session{}, note: fmt.Sprintf("swings of %d golfers: each has a session of their own", n)}
		sum = all.summary()
		for _, s := range list.golfers {
			sum.Golfers = append(sum.Golfers, s.summary())
		}
	}
	data, err := json.MarshalIndent(sum, "", "  ")
	return append(data, '\n'), err
}

func (s session) summary() summary {
	sum := summary{Schema: results.Schema, Golfer: s.golfer, Captures: []string{}, Measures: []spread{}, Warnings: append([]grf.Warning{}, s.Warnings...), Note: s.note}
	for _, r := range s.swings {
		sum.Captures = append(sum.Captures, r.Capture)
	}
	for _, p := range s.Spreads {
		sum.Measures = append(sum.Measures, spread{
			p.Name, p.Label, p.Unit, p.N, results.Value(p.Mean), results.Value(p.SD),
			results.Value(p.CV), results.Value(p.TypicalError), results.Value(p.Detectable),
		})
	}
	return sum
}

// mainMeasures are those that are printed; session.txt has all.
var mainMeasures = []string{
	"trail_load_peak_bw", "lowest_vertical_bw", "lead_vertical_peak_bw", "lateral_peak_bw",
	"frontal_torque_peak", "frontal_arm_at_peak", "vertical_torque_peak", "plane_torque_peak", "tempo",
}

// mainWords call the main measures in the width of a terminal, beside the rest of a
// table.
var mainWords = map[string]string{
	"trail_load_peak_bw":    "trail foot, peak load",
	"lowest_vertical_bw":    "both feet, least load",
	"lead_vertical_peak_bw": "lead foot, peak load",
	"lateral_peak_bw":       "peak force to target",
	"frontal_torque_peak":   "peak frontal torque",
	"frontal_arm_at_peak":   "frontal arm at peak",
	"vertical_torque_peak":  "peak vertical torque",
	"plane_torque_peak":     "peak in-plane torque",
	"tempo":                 "back- by downswing",
}

// words is what a measure is called in a table: short where that has words for it.
func words(p swing.Spread, short map[string]string) string {
	if w, ok := short[p.Name]; ok {
		return w
	}
	if p.Label == "" {
		return strings.ReplaceAll(p.Name, "_", " ")
	}
	return p.Label
}

// text is the sessions for reading.
func (list sessions) text() ([]byte, error) {
	var b strings.Builder
	for _, s := range list.golfers {
		b.WriteString(s.heading() + "\n\n")
		var names []string
		for _, p := range s.Spreads {
			names = append(names, p.Name)
		}
		b.WriteString(s.table(names, 0, nil) + "\n")
	}
	b.WriteString(legend)
	return []byte(b.String()), nil
}

// heading says whose swings they are and how many.
func (s session) heading() string {
	text := "Session of " + count(len(s.swings), "swing")
	if s.golfer != "" {
		text += " of " + safe.Plain(s.golfer)
	}
	if n := len(s.swings); n > 0 {
		text += fmt.Sprintf(", %s to %s", safe.Plain(s.swings[0].Capture), safe.Plain(s.swings[n-1].Capture))
	}
	return text
}

// short is what is printed at the end: the main measures of each golfer.
func (list sessions) short() string {
	var b strings.Builder
	legend := ""
	for i, s := range list.golfers {
		if len(list.golfers) > 1 {
			if i > 0 {
				b.WriteString("\n")
			}
			b.WriteString(s.heading() + "\n")
		}
		b.WriteString(s.table(mainMeasures, 1, mainWords))
		if s.note == "" {
			legend = shortLegend
		}
	}
	return b.String() + legend
}

// shortLegend goes with the printed table.
const shortLegend = `error: typical error of one swing; change: the least between two swings that is
more than that at 95 %; both from four swings on
`

const legend = `SD: from swing to swing. CV: SD as a part of the mean, where that means something.
Error: typical error of a single swing, without a steady drift over the session
(Hopkins 2000). Change: the least difference between two single swings that is more
than such error, at 95 % (Weir 2005); both from four swings on. It is mechanics, not
advice.
`

// table is the table of those of the named measures that have at least so many
// values, under short words if there are some and else under their whole labels, and
// what is doubtful about the session.
func (s session) table(names []string, least int, short map[string]string) string {
	if s.note != "" {
		return safe.Plain(s.note) + "\n"
	}
	width := len("measure")
	for _, name := range names {
		if p, _ := s.Spread(name); p.N >= least {
			width = max(width, utf8.RuneCountInString(words(p, short)))
		}
	}
	var b strings.Builder
	row := func(name, unit, n, mean, sd, cv, e, change string) {
		line := pad(name, width) + "  " + pad(unit, 6)
		if short == nil { // whole labels are long: they stand behind the numbers
			line = pad(unit, 6)
		}
		for _, c := range []struct {
			text  string
			width int
		}{{n, 3}, {mean, 8}, {sd, 7}, {cv, 6}, {e, 7}, {change, 7}} {
			line += " " + padLeft(c.text, c.width)
		}
		if short == nil {
			line += "  " + name
		}
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	row("measure", "unit", "n", "mean", "SD", "CV %", "error", "change")
	for _, name := range names {
		p, _ := s.Spread(name)
		if p.N < least {
			continue
		}
		d := decimals(p)
		row(words(p, short), p.Unit, strconv.Itoa(p.N), fixed(p.Mean, d), fixed(p.SD, d), fixed(100*p.CV, 1), fixed(p.TypicalError, d), fixed(p.Detectable, d))
	}
	for _, w := range s.Warnings {
		b.WriteString("! " + safe.Plain(w.String()) + "\n")
	}
	return b.String()
}

// decimals gives the scatter of a measure two significant digits, and the measure
// as many decimals.
func decimals(p swing.Spread) int {
	if !(p.SD > 0) {
		return 3
	}
	return min(max(1-int(math.Floor(math.Log10(p.SD))), 0), 5)
}

// fixed writes a number with decimals, "-" when it is undefined.
func fixed(v float64, decimals int) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "-"
	}
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return text
}

func pad(s string, width int) string {
	return s + strings.Repeat(" ", max(0, width-utf8.RuneCountInString(s)))
}

func padLeft(s string, width int) string {
	return strings.Repeat(" ", max(0, width-utf8.RuneCountInString(s))) + s
}
