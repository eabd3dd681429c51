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

// signed writes a difference, with a plus where it is one.
func signed(v float64, unit string) string {
	if v > 0 {
		return "+" + say.Number(v, unit)
	}
	return say.Number(v, unit)
}
