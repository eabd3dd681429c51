package c3d

import (
	"bytes"
	"strings"
	"unicode/utf8"
)

// encoding says how well bytes could be read as text.
type encoding uint8

const (
	textClean  encoding = iota // UTF-8
	textLatin1                 // not UTF-8: every byte taken as a character of ISO 8859-1
	textCut                    // UTF-8 whose last character is incomplete, which was dropped
)

// decodeText reads a text cell: up to the first zero byte, without blanks at
// the end. The format asks for ASCII; newer files hold UTF-8 and older ones
// whatever code page the exporter had.
func decodeText(b []byte) (string, encoding) {
	if n, ok := cleanText(b); ok {
		return string(b[:n]), textClean
	}
	if i := bytes.IndexByte(b, 0); i >= 0 {
		b = b[:i]
	}
	full := len(b)
	b = bytes.TrimRight(b, " ")
	if len(b) == full {
		if n := cutRune(b); n > 0 {
			return strings.TrimRight(string(b[:len(b)-n]), " "), textCut
		}
	}
	var s strings.Builder
	for _, c := range b {
		s.WriteRune(rune(c))
	}
	return s.String(), textLatin1
}

// cleanText returns how many bytes of a text cell are its text, and whether they
// are UTF-8.
func cleanText(b []byte) (int, bool) {
	n := len(b)
	if i := bytes.IndexByte(b, 0); i >= 0 {
		n = i
	}
	for n > 0 && b[n-1] == ' ' {
		n--
	}
	return n, utf8.Valid(b[:n])
}

func ascii(b []byte) bool {
	for _, c := range b {
		if c >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// cutRune returns the length of an incomplete character at the end of b when
// everything before it is UTF-8. A lone lead byte could as well be an accented
// letter of Latin-1; it counts as cut only after other non-ASCII characters.
func cutRune(b []byte) int {
	for n := 1; n <= 3 && n <= len(b); n++ {
		tail := b[len(b)-n:]
		if !utf8.RuneStart(tail[0]) {
			continue
		}
		if tail[0] < 0xc2 || tail[0] > 0xf4 || utf8.FullRune(tail) || !utf8.Valid(b[:len(b)-n]) {
			return 0
		}
		if n > 1 || bytes.ContainsFunc(b[:len(b)-n], func(r rune) bool { return r >= utf8.RuneSelf }) {
			return n
		}
		return 0
	}
	return 0
}

// sameName compares names of groups and parameters: without surrounding blanks
// and with the case of ASCII letters ignored, as the format defines no other.
func sameName(a, b string) bool { return foldName(a) == foldName(b) }

// foldName returns the form in which names are compared.
func foldName(s string) string {
	if s != "" && (s[0] <= ' ' || s[len(s)-1] <= ' ') {
		s = strings.Trim(s, " \x00")
	}
	for i := 0; i < len(s); i++ {
		if c := s[i]; 'a' <= c && c <= 'z' {
			u := []byte(s)
			for j, c := range u {
				if 'a' <= c && c <= 'z' {
					u[j] = c - 'a' + 'A'
				}
			}
			return string(u)
		}
	}
	return s
}
