package safe

import (
	"math"
	"strconv"
	"strings"
)

// Plain makes text from a file harmless for a terminal: what could move the
// cursor, change colours or turn the direction of the line becomes a sign that is
// seen, and the text stays on one line.
func Plain(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return ' '
		case r < ' ', r >= 0x7f && r < 0xa0, r == 0x2028, r == 0x2029, // controls, separators of lines
			r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == 0x200e, r == 0x200f: // directions
			return '\ufffd'
		}
		return r
	}, s)
}

// Cell makes text harmless for a spreadsheet that opens a table: a text that it
// could take for a formula gets an apostrophe before it, as OWASP advises ("CSV
// Injection", owasp.org; the signs from memory). So does one that begins with an
// apostrophe, so that different texts stay different.
func Cell(s string) string {
	s = strings.ToValidUTF8(s, "\ufffd")
	if strings.IndexAny(s, "=+-@\t\r\n'＝＋－＠") == 0 {
		return "'" + s
	}
	return s
}

// Number is the cell of a number: text that reads back exactly, empty when it is
// not finite.
func Number(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return ""
	}
	return strconv.FormatFloat(v+0, 'g', -1, 64) // no -0
}
