package table

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"

	"example.com/momentarm/grf"
	"example.com/momentarm/units"
)

// maxPreamble is how many lines may come before the numbers.
const maxPreamble = 1000

// maxName is how long the name of a column may be, bytes.
const maxName = 200

// column is a column while it is read.
type column struct {
	Column
	field int  // place in the row, from 0
	skip  bool // named by Options.Ignore
}

// header is what comes before the numbers.
type header struct {
	line int  // of the names
	sep  byte // between cells
	meta map[string]string
	cols []column
	rest lines // from the first row of numbers on
}

// readHeader finds the line of names: the last one before the first row of
// numbers that can be, or the last but one when units stand in a row of their
// own. What else comes before the numbers is preamble.
func readHeader(text []byte, opt Options) (*header, error) {
	var before []kept
	in := lines{data: text}
	for {
		rest := in
		line, ok := in.next()
		if !ok {
			if len(before) == 0 {
				return nil, &Error{Text: "the file is empty", Err: grf.ErrNoData}
			}
			return nil, &Error{Line: before[len(before)-1].n, Text: "no row of numbers follows; want a line with the names of the columns and their units, and rows of numbers", Err: grf.ErrNoData}
		}
		if blank(line) {
			continue
		}
		if !comment(line) && numeric(line, opt.Separator) {
			if len(before) == 0 {
				return nil, &Error{Line: in.n, Text: "numbers where the names and units of the columns are expected, such as Fx[N]", Err: ErrHeader}
			}
			cells, _ := cellsOf(line, opt.Separator)
			h := &header{rest: rest, meta: map[string]string{}}
			return h, h.read(before, len(cells), opt)
		}
		if len(before) == maxPreamble {
			return nil, &Error{Line: in.n, Text: fmt.Sprintf("no row of numbers in the first %d lines", maxPreamble), Err: ErrLimit}
		}
		before = append(before, kept{in.n, line})
	}
}

// kept is a line before the numbers.
type kept struct {
	n    int
	text []byte
}

// read sorts the lines before the numbers into preamble, names and units;
// width is the number of cells of the first row.
func (h *header) read(before []kept, width int, opt Options) error {
	names := namesLine(before, width, opt)
	var unitRow [][]byte
	if cells, ok := unitCells(before[names].text, opt.Separator); ok {
		if up := namesLine(before[:names], len(cells), opt); up >= 0 && cellCount(before[up].text, opt) == len(cells) {
			if _, _, isMeta := metadata(before[up].text); !isMeta {
				unitRow, names = cells, up
			}
		}
	}
	for i, k := range before {
		if i == names {
			continue
		}
		if key, value, ok := metadata(k.text); ok {
			h.meta[key] = value
		}
	}
	h.line = before[names].n
	return h.readNames(before[names].text, unitRow, opt)
}

// namesLine returns which line holds the names of width columns: the last one
// with as many cells that is neither metadata nor a comment, else the last such
// comment, else the last line; −1 when there is none at all.
func namesLine(before []kept, width int, opt Options) int {
	inComment := -1
	for i := len(before) - 1; i >= 0; i-- {
		line := before[i].text
		if _, _, ok := metadata(line); ok || cellCount(line, opt) != width {
			continue
		}
		if !comment(line) {
			return i
		}
		if inComment < 0 {
			inComment = i
		}
	}
	if inComment >= 0 {
		return inComment
	}
	return len(before) - 1
}

func cellCount(line []byte, opt Options) int {
	cells, _ := cellsOf(line, opt.Separator)
	return len(cells)
}

// numeric reports whether a line is a row of numbers: at least half of its
// cells that are not empty are, and one is.
func numeric(line []byte, sep rune) bool {
	cells, ok := cellsOf(line, sep)
	if !ok {
		return false
	}
	numbers, others := 0, 0
	for _, c := range cells {
		if len(c) == 0 {
			continue
		}
		if _, _, ok := parseNumber(c); ok {
			numbers++
		} else {
			others++
		}
	}
	return numbers > 0 && numbers >= others
}

// cellsOf cuts a line of the preamble or header into cells.
func cellsOf(line []byte, sep rune) ([][]byte, bool) {
	line = uncomment(line)
	s := byte(sep)
	if s == 0 {
		s = separatorOf(line)
	}
	return split(nil, line, s)
}

// uncomment drops the comment mark that a line may start with.
func uncomment(line []byte) []byte {
	if comment(line) {
		line = bytes.TrimLeft(line, " ")
		line = bytes.TrimLeft(line, "#% ")
	}
	return line
}

// metadata reads "key: value" or "key = value", with or without a comment mark
// before it and with the separators behind it that spreadsheets add.
func metadata(line []byte) (key, value string, ok bool) {
	line = bytes.TrimRight(line, ",; \t")
	if n := len(line); n > 1 && line[0] == '"' && line[n-1] == '"' {
		line = line[1 : n-1]
	}
	s := utf8String(uncomment(line))
	i := strings.IndexAny(s, ":=")
	if i < 1 {
		return "", "", false
	}
	key = strings.ToLower(strings.TrimSpace(s[:i]))
	for k, r := range key {
		if !(unicode.IsLetter(r) || k > 0 && (unicode.IsDigit(r) || r == ' ' || r == '_' || r == '-' || r == '.')) {
			return "", "", false
		}
	}
	if key == "" || len(key) > maxName {
		return "", "", false
	}
	return key, strings.TrimSpace(s[i+1:]), true
}

// unitCells cuts a line that holds units and nothing else.
func unitCells(line []byte, sep rune) ([][]byte, bool) {
	cells, ok := cellsOf(line, sep)
	if !ok {
		return nil, false
	}
	any := false
	for i, c := range cells {
		if n := len(c); n > 1 && (c[0] == '[' && c[n-1] == ']' || c[0] == '(' && c[n-1] == ')') {
			c = trim(c[1 : n-1])
			cells[i] = c
		}
		if len(c) == 0 {
			continue
		}
		if _, ok := lookUp(utf8String(c)); !ok {
			return nil, false
		}
		any = true
	}
	return cells, any
}

// readNames fills the columns from the line of names.
func (h *header) readNames(line []byte, unitRow [][]byte, opt Options) error {
	line = uncomment(line)
	h.sep = byte(opt.Separator)
	if h.sep == 0 {
		h.sep = separatorOf(line)
	}
	cells, ok := split(nil, line, h.sep)
	if !ok {
		return &Error{Line: h.line, Text: "a quotation mark is not closed", Err: ErrHeader}
	}
	for len(cells) > 0 && len(cells[len(cells)-1]) == 0 {
		cells = cells[:len(cells)-1]
	}
	if most := opt.maxColumns(); len(cells) > most {
		return &Error{Line: h.line, Text: fmt.Sprintf("%d columns, at most %d are allowed", len(cells), most), Err: ErrLimit}
	}
	seen := map[string]int{}
	for i, cell := range cells {
		c, err := readName(utf8String(cell), opt)
		if err == nil && unitRow != nil && i < len(unitRow) && len(unitRow[i]) > 0 {
			err = c.setUnit(utf8String(unitRow[i]))
		}
		if err == nil && !c.skip && c.Unit.Symbol == "" {
			err = &Error{Name: c.Name, Err: ErrUnit,
				Text: "no unit: write it behind the name as in Fx[N], [1] for a pure number, or declare or ignore the column in the options"}
		}
		if err != nil {
			err.Line, err.Column = h.line, i+1
			return err
		}
		if first, ok := seen[strings.ToLower(c.Name)]; ok {
			return &Error{Line: h.line, Column: i + 1, Name: c.Name, Text: fmt.Sprintf("column %d has the same name; rename one of them", first+1), Err: ErrDuplicate}
		}
		seen[strings.ToLower(c.Name)] = i
		c.field = i
		h.cols = append(h.cols, c)
	}
	if len(h.cols) == 0 {
		return &Error{Line: h.line, Text: "no column has a name", Err: ErrHeader}
	}
	for name := range opt.Units {
		if _, ok := seen[strings.ToLower(name)]; !ok {
			return &Error{Line: h.line, Text: fmt.Sprintf("no column %s, for which a unit was declared; there are %s", clip(name), h.names()), Err: ErrHeader}
		}
	}
	for _, name := range opt.Ignore {
		if _, ok := seen[strings.ToLower(name)]; !ok {
			return &Error{Line: h.line, Text: fmt.Sprintf("no column %s, which was to be ignored; there are %s", clip(name), h.names()), Err: ErrHeader}
		}
	}
	return nil
}

func (h *header) names() string {
	names := make([]string, len(h.cols))
	for i, c := range h.cols {
		names[i] = c.Name
	}
	s := strings.Join(names, ", ")
	if len(s) > 300 {
		s = s[:strings.LastIndexByte(s[:300], ',')+1] + " …"
	}
	return s
}

// readName reads the name and the unit of one column.
func readName(cell string, opt Options) (column, *Error) {
	var c column
	name, unit := cutUnit(cell)
	c.Name = name
	if name == "" {
		return c, &Error{Text: "the column has no name", Err: ErrHeader}
	}
	if len(name) > maxName {
		return c, &Error{Text: fmt.Sprintf("a name of %d bytes, at most %d are allowed", len(name), maxName), Err: ErrLimit}
	}
	for _, r := range name {
		if unicode.IsControl(r) {
			return c, &Error{Text: "a control character in the name " + clip(name), Err: ErrHeader}
		}
	}
	for _, ignored := range opt.Ignore {
		// The whole cell counts, too: "trial (all)" needs no unit.
		if strings.EqualFold(ignored, name) || strings.EqualFold(ignored, strings.TrimSpace(cell)) {
			c.skip = true
			c.Name = ignored
			return c, nil
		}
	}
	if strings.ContainsAny(name, "[]") {
		return c, &Error{Name: name, Text: "brackets inside the name: are the columns separated by commas, semicolons or tabs?", Err: ErrHeader}
	}
	if unit != "" {
		if err := c.setUnit(unit); err != nil {
			return c, err
		}
	}
	for declared, unit := range opt.Units {
		if strings.EqualFold(declared, name) {
			if err := c.setUnit(unit); err != nil {
				return c, err
			}
		}
	}
	return c, nil
}

// setUnit sets the unit unless another one is set already.
func (c *column) setUnit(symbol string) *Error {
	u, ok := lookUp(symbol)
	if !ok {
		return &Error{Name: c.Name, Text: "unknown unit " + clip(symbol), Err: ErrUnit}
	}
	if c.Unit.Symbol != "" && c.Unit != u {
		return &Error{Name: c.Name, Text: fmt.Sprintf("two units, %s and %s", c.Unit.Symbol, u.Symbol), Err: ErrUnit}
	}
	c.Unit = u
	return nil
}

// cutUnit parts a cell of the header into name and unit: "Fx[N]", "Fx (N)",
// "Fx / N" or "fx_N". Behind a slash or an underscore only what is known counts
// as a unit.
func cutUnit(cell string) (name, unit string) {
	cell = strings.TrimSpace(cell)
	for _, b := range [2]string{"[]", "()"} {
		if strings.HasSuffix(cell, b[1:]) {
			if i := strings.LastIndex(cell, b[:1]); i >= 0 {
				unit = strings.TrimSpace(cell[i+1 : len(cell)-1])
				return strings.TrimSpace(cell[:i]), unit
			}
		}
	}
	if i := strings.IndexByte(cell, '/'); i > 0 {
		unit = strings.Trim(strings.TrimSpace(cell[i+1:]), "()")
		if _, ok := lookUp(unit); ok {
			return strings.TrimSpace(cell[:i]), unit
		}
	}
	if i := strings.LastIndexByte(cell, '_'); i > 0 {
		unit = cell[i+1:]
		if u, ok := lookUp(unit); ok && u.Quantity != 0 {
			return cell[:i], unit
		}
	}
	return cell, ""
}

// plain are the units of columns that have no quantity of package units: pure
// numbers, and what comes out of an amplifier.
var plain = [...]units.Unit{
	{Symbol: "1", SI: 1},
	{Symbol: "%", SI: 0.01},
	{Symbol: "V", SI: 1},
	{Symbol: "mV", SI: 0.001},
}

// lookUp finds a unit by its symbol.
func lookUp(symbol string) (units.Unit, bool) {
	symbol = strings.TrimSpace(symbol)
	if symbol == "-" {
		symbol = "1"
	}
	for _, u := range plain {
		if u.Symbol == symbol {
			return u, true
		}
	}
	return units.LookUp(symbol)
}
