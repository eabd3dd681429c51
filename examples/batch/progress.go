package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"time"
	"unicode/utf8"

	"example.com/momentarm/examples/internal/results"
	"example.com/momentarm/examples/internal/safe"
	"example.com/momentarm/phase/screen"
)

// progress shows how far the work is: a bar that is drawn again and again on a
// terminal, else a line for each capture, in their order.
type progress struct {
	w        io.Writer
	terminal bool
	start    time.Time
	now      func() time.Time

	captures []file
	finished int
	failed   int
	kept     int
	lines    []string // of captures whose turn has not come
	printed  int
	drawn    int // width of the bar on the screen
}

func newProgress(w io.Writer, captures []file) *progress {
	return &progress{
		w: w, terminal: isTerminal(w), start: time.Now(), now: time.Now,
		captures: captures, lines: make([]string, len(captures)),
	}
}

// isTerminal reports whether what is written to w goes to a screen that can draw a
// line over another.
func isTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	if !ok || os.Getenv("TERM") == "dumb" {
		return false
	}
	info, err := f.Stat()
	return err == nil && info.Mode()&os.ModeCharDevice != 0
}

// say prints a line of its own.
func (p *progress) say(text string) {
	p.clear()
	fmt.Fprintln(p.w, safe.Plain(text))
}

// done shows the outcome of a capture.
func (p *progress) done(index int, o outcome) {
	p.finished++
	line := fmt.Sprintf("%s: analysed, ", p.captures[index].name)
	switch {
	case o.state == failed:
		p.failed++
		line = "failed: " + o.reason
	case o.earlier:
		p.kept++
		line = fmt.Sprintf("%s: not changed, ", p.captures[index].name)
		fallthrough
	default:
		line += count(findings(o.results), "finding") + ", " + count(len(o.results.Warnings), "warning")
	}
	if p.terminal {
		p.draw()
		return
	}
	p.lines[index] = line
	for p.printed < len(p.lines) && p.lines[p.printed] != "" {
		p.say(p.lines[p.printed])
		p.printed++
	}
}

// end makes room for what comes next, and prints the lines that waited for others.
func (p *progress) end() {
	p.clear()
	for ; p.printed < len(p.lines); p.printed++ {
		if p.lines[p.printed] != "" {
			p.say(p.lines[p.printed])
		}
	}
}

// barWidth is the width of the bar itself: with the text after it, it fits on 79
// columns.
const barWidth = 30

// draw draws the bar over the one before.
func (p *progress) draw() {
	total := len(p.captures)
	full := barWidth * p.finished / total
	text := fmt.Sprintf("[%s%s] %d of %d", strings.Repeat("#", full), strings.Repeat("-", barWidth-full), p.finished, total)
	if p.failed > 0 {
		text += fmt.Sprintf(", %d failed", p.failed)
	}
	// Kept results cost no time, and the first capture alone tells little.
	if worked, left := p.finished-p.kept, total-p.finished; worked > 1 && left > 0 {
		each := p.now().Sub(p.start) / time.Duration(worked)
		text += fmt.Sprintf(", %v left", (each * time.Duration(left)).Round(time.Second))
	}
	width := utf8.RuneCountInString(text)
	fmt.Fprint(p.w, "\r"+text+strings.Repeat(" ", max(0, p.drawn-width)))
	p.drawn = width
}

// clear takes the bar off the screen.
func (p *progress) clear() {
	if p.drawn > 0 {
		fmt.Fprint(p.w, "\r"+strings.Repeat(" ", p.drawn)+"\r")
		p.drawn = 0
	}
}

// findings counts those that are certain.
func findings(r *results.Results) int {
	n := 0
	for _, f := range r.Findings {
		if f.Verdict == screen.Outside.String() {
			n++
		}
	}
	return n
}

// count writes "1 measure" or "2 measures".
func count(n int, what string) string {
	if n != 1 {
		what += "s"
	}
	return fmt.Sprintf("%d %s", n, what)
}
