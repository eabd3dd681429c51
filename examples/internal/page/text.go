package page

import (
	"strings"
	"unicode/utf8"
)

func padRight(s string, width int) string {
	return s + strings.Repeat(" ", max(0, width-utf8.RuneCountInString(s)))
}

func padLeft(s string, width int) string {
	return strings.Repeat(" ", max(0, width-utf8.RuneCountInString(s))) + s
}

// wrap breaks text into lines of a width; the first begins with lead, the others
// are indented by two.
func wrap(text string, width int, lead string) []string {
	var lines []string
	line, empty := lead, true
	for _, w := range strings.Fields(text) {
		if !empty && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) > width {
			lines = append(lines, line)
			line, empty = "  ", true
		}
		if !empty {
			line += " "
		}
		line += w
		empty = false
	}
	return append(lines, line)
}
