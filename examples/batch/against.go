package main

import (
	"fmt"
	"path/filepath"
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
	for _, s := range now.golfers {
		text.WriteString("\n" + s.heading() + ",\nheld against " + safe.Plain(b.name))
		then, ok := b.of(s, len(now.golfers) == 1)
		if !ok {
			text.WriteString(": no swings of this golfer there\n")
			continue
		}
		fmt.Fprintf(&text, ", %s\n", count(len(then.swings), "swing"))
		if s.note != "" || then.note != "" {
			text.WriteString(safe.Plain(s.note+then.note) + "\n")
			continue
		}
		c, err := swing.Compare(then.Session, s.Session, swing.ChangeOptions{Measures: common(then, s)})
		if err != nil {
			return "", fmt.Errorf("%s: %w", b.name, err)
		}
		text.WriteString(changeTable(c))
		for _, w := range c.Warnings {
			text.WriteString("! " + safe.Plain(w.String()) + "\n")
		}
	}
	text.WriteString(changeLegend)
	return text.String(), nil
}

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

func changeTable(c *swing.Comparison) string {
	width := len("measure")
	for _, d := range c.Changes {
		width = max(width, utf8.RuneCountInString(d.Name))
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
		row(d.Name, d.Unit, fixed(d.Before.Mean, n), fixed(d.After.Mean, n), fixed(d.Difference, n), fixed(d.Detectable, n), string(d.Answer))
	}
	return b.String()
}

const changeLegend = `changed: more than chance, for this many measures at 95 % (Welch's test or paired,
Holm 1979), and more than the least change that stands out from single swings'
errors (Weir 2005).
`
