package table

import (
	"bytes"
	"fmt"
	"math"

	"example.com/momentarm/grf"
)

// rows reads the numbers.
type rows struct {
	in       lines
	sep      byte
	mark     byte // decimal mark, 0 until a number has one
	markLine int  // that number's line, 0 when the mark was declared
	most     int  // rows allowed

	cols  []column
	field []int // for each field of a row the index in cols, −1 to skip
	line  []int32
	cells [][]byte // work space for quoted rows

	pending  []int32 // lines of rows with empty cells alone: dropped at the end
	warnings []grf.Warning
}

func newRows(h *header, opt Options) *rows {
	r := &rows{in: h.rest, sep: h.sep, mark: byte(opt.Decimal), most: opt.maxRows()}
	r.field = make([]int, len(h.cols))
	for i, c := range h.cols {
		r.field[i] = -1
		if !c.skip {
			r.field[i] = len(r.cols)
			r.cols = append(r.cols, c)
		}
	}
	// A row has at least one byte for each column: the separators and the end
	// of the line. That keeps a file of empty lines from claiming memory.
	n := min(1+bytes.Count(h.rest.data, []byte{'\n'}), 1+len(h.rest.data)/len(h.cols), r.most)
	for i := range r.cols {
		r.cols[i].Values = make([]float64, 0, n)
	}
	r.line = make([]int32, 0, n)
	return r
}

func (r *rows) read() error {
	for {
		line, ok := r.in.next()
		if !ok {
			break
		}
		if r.in.n > math.MaxInt32 {
			return &Error{Text: "too many lines", Err: ErrLimit}
		}
		if empty, isRow := r.emptyRow(line); empty {
			if isRow {
				r.pending = append(r.pending, int32(r.in.n))
			}
			continue
		}
		if comment(line) {
			continue
		}
		for _, n := range r.pending { // rows follow: those were samples, too
			r.addEmpty(n)
		}
		r.pending = r.pending[:0]
		if len(r.line) >= r.most {
			return &Error{Line: r.in.n, Text: fmt.Sprintf("more than %d rows", r.most), Err: ErrLimit}
		}
		if err := r.row(line); err != nil {
			return err
		}
	}
	if len(r.pending) > 0 && len(r.field) > 1 {
		r.warnings = append(r.warnings, grf.Warning{
			Code: "empty-rows", Where: fmt.Sprintf("line %d", r.pending[0]),
			Text: fmt.Sprintf("%d rows without a number at the end were dropped", len(r.pending)),
		})
	}
	return nil
}

// emptyRow reports whether a line holds no number at all, and whether it is a
// row all the same: one of empty cells. Where there is one column an empty line
// is one.
func (r *rows) emptyRow(line []byte) (empty, isRow bool) {
	if len(line) > 0 && line[0] > ';' || len(line) > 1 && line[0]-'0' <= 9 {
		return false, false // the usual case, quickly
	}
	separators := 0
	for _, c := range line {
		switch c {
		case r.sep:
			separators++
		case ' ', '\t':
		default:
			return false, false
		}
	}
	return true, separators > 0 || len(r.field) == 1
}

func (r *rows) addEmpty(line int32) {
	if len(r.line) >= r.most {
		return // the caller refuses the next row
	}
	r.line = append(r.line, line)
	for i := range r.cols {
		r.cols[i].Values = append(r.cols[i].Values, math.NaN())
	}
}

// row reads one line. Plain numbers are read where they stand; anything else
// goes through cell.
func (r *rows) row(line []byte) error {
	r.line = append(r.line, int32(r.in.n))
	if bytes.IndexByte(line, '"') >= 0 {
		return r.quotedRow(line)
	}
	f := 0
	rest := line
	for {
		if f == len(r.field) {
			return r.tooMany(line, rest)
		}
		k := r.field[f]
		if k >= 0 {
			c := &r.cols[k]
			if v, n, ok := scanNumber(rest, r.mark); ok && (n == len(rest) || rest[n] == r.sep) {
				v *= c.Unit.SI
				c.Values = append(c.Values, v)
				f++
				if n == len(rest) {
					break
				}
				rest = rest[n+1:]
				continue
			}
		}
		end := bytes.IndexByte(rest, r.sep)
		last := end < 0
		if last {
			end = len(rest)
		}
		if k >= 0 {
			if err := r.cell(f, rest[:end]); err != nil {
				return err
			}
		}
		f++
		if last {
			break
		}
		rest = rest[end+1:]
	}
	if f < len(r.field) {
		return r.tooFew(f)
	}
	return nil
}

func (r *rows) quotedRow(line []byte) error {
	cells, ok := split(r.cells[:0], line, r.sep)
	r.cells = cells
	if !ok {
		return &Error{Line: r.in.n, Text: "a quotation mark is not closed, or has something behind it", Err: ErrRow}
	}
	if len(cells) < len(r.field) {
		return r.tooFew(len(cells))
	}
	for f, cell := range cells {
		switch {
		case f >= len(r.field):
			if len(cell) > 0 {
				return r.tooMany(line, nil)
			}
		case r.field[f] >= 0:
			if err := r.cell(f, cell); err != nil {
				return err
			}
		}
	}
	return nil
}

// cell reads one cell with all that may be odd about it.
func (r *rows) cell(f int, cell []byte) error {
	c := &r.cols[r.field[f]]
	cell = trim(cell)
	v, seen, ok := parseNumber(cell)
	bad := func(why string) error {
		return &Error{Line: r.in.n, Column: f + 1, Name: c.Name, Text: clip(utf8String(cell)) + " is not a number" + why, Err: ErrNumber}
	}
	if !ok {
		switch {
		case bytes.IndexByte(cell, ',') >= 0 && bytes.IndexByte(cell, '.') >= 0:
			return bad(": thousands must not be grouped")
		case bytes.ContainsAny(cell, " \t"):
			return bad(": are the cells parted by commas, semicolons or tabs?")
		}
		return bad("; leave the cell empty where nothing was measured")
	}
	if seen != 0 {
		switch {
		case r.mark == 0:
			r.mark, r.markLine = seen, r.in.n
		case r.mark != seen && r.markLine > 0:
			return bad(fmt.Sprintf(": the decimal mark is %q since line %d", r.mark, r.markLine))
		case r.mark != seen:
			return bad(fmt.Sprintf(": the decimal mark was declared to be %q", r.mark))
		}
	}
	v *= c.Unit.SI
	if math.IsInf(v, 0) {
		return &Error{Line: r.in.n, Column: f + 1, Name: c.Name, Text: clip(string(cell)) + " is too large a number", Err: ErrNumber}
	}
	c.Values = append(c.Values, v)
	return nil
}

func (r *rows) tooFew(f int) error {
	text := fmt.Sprintf("%d cells, the header has %d columns", f, len(r.field))
	if len(r.in.data) == 0 {
		text += "; the file may have been cut off here"
	}
	return &Error{Line: r.in.n, Text: text, Err: ErrRow}
}

// tooMany refuses cells behind the last column, unless they are empty.
func (r *rows) tooMany(line, rest []byte) error {
	if rest != nil && len(bytes.Trim(rest, string(rune(r.sep))+" ")) == 0 {
		return nil
	}
	n := 1 + bytes.Count(line, []byte{r.sep})
	text := fmt.Sprintf("%d cells, the header has %d columns", n, len(r.field))
	if r.sep == ',' {
		text += "; if commas are the decimal marks, part the cells by semicolons or tabs"
	}
	return &Error{Line: r.in.n, Text: text, Err: ErrRow}
}
