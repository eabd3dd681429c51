package swing

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"example.com/momentarm/phase/internal/say"
)

// titled returns the label of a measure, or its name if it has none, as the start
// of a sentence.
func titled(label, name string) string {
	if label == "" {
		label = strings.ReplaceAll(name, "_", " ")
	}
	r, size := utf8.DecodeRuneInString(label)
	return string(unicode.ToUpper(r)) + label[size:]
}

// signed writes a difference with its sign and unit, signedBare without the unit.
func signed(v float64, unit string) string { return plus(v) + say.Number(v, unit) }

func signedBare(v float64, unit string) string { return plus(v) + say.Bare(v, unit) }

func plus(v float64) string {
	if v > 0 {
		return "+"
	}
	return "" // a minus comes with the number
}
