package main

import (
	"fmt"
	"path/filepath"
	"strconv"
	"strings"
	"unicode/utf8"

	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/examples/internal/safe"
	"example.com/momentarm/phase/swing"
)

// before is what the sessions of this folder are held against: those of another
// day, from the results that were written then.
type before struct {
	name string
	sessions
}

// readBefore reads the results folder of another day.
func readBefore(name string) (*before, error) {
	file := filepath.Join(name, swingsFile)
	lines, err := readLines(file)
	switch {
	case err != nil:
		return nil, err
	case lines == nil:
		return nil, fmt.Errorf("%s: no such file; -against names the folder that an earlier batch wrote its results to", file)
	case len(lines) == 0:
		return nil, fmt.Errorf("%s: no results that this version can read: work those captures out again", file)
	}
	var swings []*results.Results
	for _, l := range lines {
		swings = append(swings, l.Results)
	}
	return &before{name, summarize(swings)}, nil
}

// of returns the earlier session of a golfer. A golfer whom nobody named is the
// only one of the other day.
func (b *before) of(now session, alone bool) (session, bool) {
	for _, s := range b.golfers {
		if s.golfer == now.golfer {
			return s, true
		}
	}
	if alone && len(b.golfers) == 1 && (now.golfer == "" || b.golfers[0].golfer == "") {
		return b.golfers[0], true
	}
	return session{}, false
}

// changes is what has changed since then in the main measures, which are few and
// chosen before anybody has seen them: the more one asks about, the less can be
// shown of each.
func (b *before) changes(now sessions) (string, error) {
	var text strings.Builder
	legend := "" // only with a table
	for _, s := range now.golfers {
		text.WriteString("\n" + s.heading() + ",\nheld against " + safe.Plain(b.name))
		then, ok := b.of(s, len(now.golfers) == 1)
		if !ok {
			text.WriteString(": no swings of this golfer there\n")
			continue
		}
		fmt.Fprintf(&text, ", %s\n", count(len(then.swings), "swing"))
		if s.note != "" || then.note != "" {
			text.WriteString(tooFew(len(then.swings), len(s.swings)))
			continue
		}
		c, err := swing.Compare(then.Session, s.Session, swing.ChangeOptions{Measures: common(then, s)})
		if err != nil {
			return "", fmt.Errorf("%s: %w", b.name, err)
		}
		text.WriteString(changeTable(c))
		legend = changeLegend
		if min(len(then.swings), len(s.swings)) < results.LeastSwings {
			text.WriteString(tooFew(len(then.swings), len(s.swings)))
		}
		for _, w := range c.Warnings {
			text.WriteString("! " + safe.Plain(w.String()) + "\n")
			if w.Code == "between-days-unknown" {
				text.WriteString(learnDays)
			}
		}
	}
	text.WriteString(legend)
	return text.String(), nil
}

// tooFew says that so many swings of either day show no change, and how many do.
func tooFew(then, now int) string {
	have := fmt.Sprintf("%s then and %d now", count(then, "swing"), now)
	if then == 1 && now == 1 {
		have = "one swing a day"
	}
	return fmt.Sprintf("%s can not show a change; record at least %d of each day\n", have, results.LeastSwings)
}

// learnDays says how to learn what differs between days without a change.
const learnDays = `  To learn it, record two days between which nothing was meant to change, with feet
  placed and plates zeroed anew, and hold one against the other like here: what
  seems to change then is that error, and a later change has to be larger.
`

// common returns the main measures that either session has.
func common(a, b session) []string {
	names := []string{} // none is not all
	for _, name := range mainMeasures {
		p, _ := a.Spread(name)
		q, _ := b.Spread(name)
		if p.N > 0 || q.N > 0 {
			names = append(names, name)
		}
	}
	return names
}

// difference is that of the numbers as they are read, so that what is read subtracts;
// the exact one where one of them is no number.
func difference(before, now string, exact float64) float64 {
	b, err1 := strconv.ParseFloat(before, 64)
	n, err2 := strconv.ParseFloat(now, 64)
	if err1 != nil || err2 != nil {
		return exact
	}
	return n - b
}

func changeTable(c *swing.Comparison) string {
	width := len("measure")
	for _, d := range c.Changes {
		width = max(width, utf8.RuneCountInString(words(d.After, mainWords)))
	}
	var b strings.Builder
	row := func(name, unit, before, now, difference, least, answer string) {
		line := pad(name, width) + "  " + pad(unit, 4)
		for _, text := range []string{before, now, difference, least} {
			line += " " + padLeft(text, 8)
		}
		b.WriteString(line + "  " + answer + "\n")
	}
	row("measure", "unit", "before", "now", "change", "least", "answer")
	for _, d := range c.Changes {
		n := max(decimals(d.Before), decimals(d.After))
		before, now := fixed(d.Before.Mean, n), fixed(d.After.Mean, n)
		row(words(d.After, mainWords), d.Unit, before, now, fixed(difference(before, now, d.Difference), n), fixed(d.Detectable, n), string(d.Answer))
	}
	return b.String()
}

const changeLegend = `changed: more than chance, for this many measures at 95 % (Welch's test or paired,
Holm 1979), and more than the least change that stands out from single swings'
errors (Weir 2005).
`
