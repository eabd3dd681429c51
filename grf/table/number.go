package table

import (
	"math"
	"strconv"
)

// scanNumber reads a decimal number at the start of b, with mark ('.' or ',',
// or 0 for neither) before its fraction, and returns how many bytes it has. It
// reports false for anything that is not plainly a number which a float64
// multiplication or division gets exactly right: then [parseNumber] decides.
//
// A whole number below 2⁵³ and a power of ten up to 10²² are exact in float64,
// so their product or quotient is correctly rounded (Clinger, How to read
// floating point numbers accurately, PLDI 1990).
func scanNumber(b []byte, mark byte) (v float64, n int, ok bool) {
	i := 0
	negative := false
	if i < len(b) && (b[i] == '-' || b[i] == '+') {
		negative = b[i] == '-'
		i++
	}
	var m uint64
	digits, fraction := 0, 0
	for ; i < len(b) && b[i]-'0' <= 9; i++ {
		m = 10*m + uint64(b[i]-'0')
		digits++
	}
	if i < len(b) && b[i] == mark && mark != 0 {
		whole := i + 1
		for i++; i < len(b) && b[i]-'0' <= 9; i++ {
			m = 10*m + uint64(b[i]-'0')
		}
		fraction = i - whole
		digits += fraction
	}
	if digits == 0 || digits > 19 {
		return 0, 0, false
	}
	exp := -fraction
	if i < len(b) && (b[i] == 'e' || b[i] == 'E') {
		i++
		sign := 1
		if i < len(b) && (b[i] == '-' || b[i] == '+') {
			if b[i] == '-' {
				sign = -1
			}
			i++
		}
		e, first := 0, i
		for ; i < len(b) && b[i]-'0' <= 9 && i-first < 4; i++ {
			e = 10*e + int(b[i]-'0')
		}
		if i == first {
			return 0, 0, false
		}
		exp += sign * e
	}
	if m > 1<<53 || exp < -22 || exp > 22 {
		return 0, 0, false
	}
	v = float64(m)
	if exp < 0 {
		v /= powersOfTen[-exp]
	} else {
		v *= powersOfTen[exp]
	}
	if negative {
		v = -v
	}
	return v, i, true
}

var powersOfTen = [...]float64{
	1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11,
	1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
}

// parseNumber reads a whole cell: empty and "NaN" (in any case) are NaN. seen is
// the decimal mark that the cell has, 0 for none. It reports false for anything
// but a finite decimal number.
func parseNumber(cell []byte) (v float64, seen byte, ok bool) {
	if len(cell) == 0 || len(cell) == 3 && lower(cell[0]) == 'n' && lower(cell[1]) == 'a' && lower(cell[2]) == 'n' {
		return math.NaN(), 0, true
	}
	if len(cell) > 400 { // no number that was measured is as long
		return 0, 0, false
	}
	var buf [32]byte
	text := buf[:0]
	for _, c := range cell {
		switch {
		case c == '.' || c == ',':
			if seen != 0 {
				return 0, 0, false
			}
			seen = c
			c = '.'
		case c-'0' <= 9, c == '-', c == '+', c == 'e', c == 'E':
		default: // also keeps out Inf, hexadecimal and digit groups
			return 0, 0, false
		}
		text = append(text, c)
	}
	v, err := strconv.ParseFloat(string(text), 64)
	return v, seen, err == nil
}

func lower(c byte) byte { return c | 0x20 }
