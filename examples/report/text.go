package main

import (
	"strings"
	"unicode/utf8"
)

// pad fills text with spaces to a width: to the right of it, or to the left when
// the width is negative… see lay.
func pad(s string, width int) string {
	n := utf8.RuneCountInString(s)
	if width < 0 {
		return s + strings.Repeat(" ", max(0, -width-n))
	}
	return strings.Repeat(" ", max(0, width-n)) + s
}

// wrap breaks text into lines of a width; the first begins with lead, the others
// are indented as far.
func wrap(text string, width int, lead string) []string {
	indent := strings.Repeat(" ", utf8.RuneCountInString(lead))
	var lines []string
	line := lead
	empty := true
	for _, w := range strings.Fields(text) {
		if !empty && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) > width {
			lines = append(lines, line)
			line, empty = indent, true
		}
		if !empty {
			line += " "
		}
		line += w
		empty = false
	}
	return append(lines, line)
}
