package table

import (
	"bytes"
	"unicode/utf8"
)

// cleanText strips a byte-order mark, refuses what is not text and makes bare
// carriage returns (as some old programs end lines) into line feeds.
func cleanText(data []byte) ([]byte, error) {
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	if bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) {
		return nil, &Error{Text: "the text is UTF-16; save it as UTF-8", Err: ErrEncoding}
	}
	if i := bytes.IndexByte(data, 0); i >= 0 {
		return nil, &Error{Line: 1 + bytes.Count(data[:i], []byte{'\n'}), Text: "a zero byte: this is not a text file", Err: ErrEncoding}
	}
	if bytes.IndexByte(data, '\n') < 0 && bytes.IndexByte(data, '\r') >= 0 {
		data = bytes.ReplaceAll(data, []byte{'\r'}, []byte{'\n'})
	}
	return data, nil
}

// utf8String returns b as a string, taken as Latin-1 if it is not UTF-8: older
// programs write '·', '²' and '°' so.
func utf8String(b []byte) string {
	if utf8.Valid(b) {
		return string(b)
	}
	r := make([]rune, len(b))
	for i, c := range b {
		r[i] = rune(c)
	}
	return string(r)
}

// lines walks over the lines of a text.
type lines struct {
	data []byte
	n    int // number of the line last returned, from 1
}

// next returns the next line without its end.
func (l *lines) next() (line []byte, ok bool) {
	if len(l.data) == 0 {
		return nil, false
	}
	l.n++
	if i := bytes.IndexByte(l.data, '\n'); i >= 0 {
		line, l.data = l.data[:i], l.data[i+1:]
	} else {
		line, l.data = l.data, nil
	}
	if k := len(line) - 1; k >= 0 && line[k] == '\r' {
		line = line[:k]
	}
	return line, true
}

// split cuts a line into cells at sep and appends them to dst. A cell in double
// quotes may hold sep, and a double quote written twice; it may not go on in the
// next line. Spaces around a cell are dropped. It reports false for a quote that
// is not closed or has something behind it.
func split(dst [][]byte, line []byte, sep byte) ([][]byte, bool) {
	if bytes.IndexByte(line, '"') < 0 {
		for {
			i := bytes.IndexByte(line, sep)
			if i < 0 {
				return append(dst, trim(line)), true
			}
			dst = append(dst, trim(line[:i]))
			line = line[i+1:]
		}
	}
	for {
		rest := bytes.TrimLeft(line, " ")
		if len(rest) == 0 || rest[0] != '"' {
			i := bytes.IndexByte(line, sep)
			if i < 0 {
				return append(dst, trim(line)), true
			}
			dst = append(dst, trim(line[:i]))
			line = line[i+1:]
			continue
		}
		rest = rest[1:]
		var cell []byte
		for {
			i := bytes.IndexByte(rest, '"')
			if i < 0 {
				return dst, false
			}
			cell = append(cell, rest[:i]...)
			rest = rest[i+1:]
			if len(rest) == 0 || rest[0] != '"' {
				break
			}
			cell = append(cell, '"')
			rest = rest[1:]
		}
		dst = append(dst, trim(cell))
		if rest = bytes.TrimLeft(rest, " "); len(rest) == 0 {
			return dst, true
		}
		if rest[0] != sep {
			return dst, false
		}
		line = rest[1:]
	}
}

func trim(b []byte) []byte {
	for len(b) > 0 && b[0] == ' ' {
		b = b[1:]
	}
	for len(b) > 0 && b[len(b)-1] == ' ' {
		b = b[:len(b)-1]
	}
	return b
}

// blank reports whether a line holds nothing but spaces and tabs.
func blank(line []byte) bool { return len(bytes.Trim(line, " \t")) == 0 }

// comment reports whether a line is a comment.
func comment(line []byte) bool {
	line = bytes.TrimLeft(line, " ")
	return len(line) > 0 && (line[0] == '#' || line[0] == '%')
}

// separatorOf guesses what separates the cells of a line: a tab if there is
// one, else a semicolon, else a comma.
func separatorOf(line []byte) byte {
	quoted, semicolon := false, false
	for _, c := range line {
		switch {
		case c == '"':
			quoted = !quoted
		case quoted:
		case c == '\t':
			return '\t'
		case c == ';':
			semicolon = true
		}
	}
	if semicolon {
		return ';'
	}
	return ','
}
