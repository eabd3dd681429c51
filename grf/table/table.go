package table

import (
	"fmt"
	"math"
	"strings"

	"example.com/momentarm/grf"
	"example.com/momentarm/units"
)

// Options tell [Decode] what the file does not say. The zero value reads a file
// that says everything.
type Options struct {
	// Separator is what stands between cells: ',', ';' or '\t'. 0 takes what the
	// line of names has: a tab, else a semicolon, else a comma.
	Separator rune
	// Decimal is the decimal mark, '.' or ','. 0 takes the first one that a
	// number of the file has.
	Decimal rune

	// Units are unit symbols by the name of the column, for headers without them.
	Units map[string]string
	// Ignore names columns that are not read; they need no unit and no numbers.
	Ignore []string

	// Rate, Hz, is for tables without a time column. It goes before a rate in the
	// preamble. 0 when unknown.
	Rate float64
	// Time names the time column. Without it the only column in a unit of time
	// is taken or, of several, the one called "time" or "t".
	Time string
	// Clock says how strict time stamps are looked at.
	Clock Clock
	// Jitter is the largest deviation of a time stamp from even spacing, as a
	// part of the spacing and beyond what the printed digits explain. 0 takes
	// [DefaultJitter].
	Jitter float64

	// MaxColumns and MaxRows bound what is read; 0 takes [DefaultMaxColumns] and
	// [DefaultMaxRows].
	MaxColumns, MaxRows int
}

// Clock says what time stamps must be like.
type Clock int

const (
	// Even stamps are wanted: the table has one rate. Rows that are missing come
	// back as NaN, if they are few; anything else is an error.
	Even Clock = iota
	// Ascending stamps are enough: [Table.Rate] is 0 when they are not even.
	Ascending
)

// Defaults of [Options].
const (
	DefaultJitter     = 0.05
	DefaultMaxColumns = 1000
	DefaultMaxRows    = 20_000_000
)

func (o Options) jitter() float64 {
	if o.Jitter > 0 {
		return o.Jitter
	}
	return DefaultJitter
}

func (o Options) maxColumns() int {
	if o.MaxColumns > 0 {
		return o.MaxColumns
	}
	return DefaultMaxColumns
}

func (o Options) maxRows() int {
	if o.MaxRows > 0 {
		return o.MaxRows
	}
	return DefaultMaxRows
}

func (o Options) check() error {
	bad := func(format string, a ...any) error {
		return fmt.Errorf("table: options: "+format, a...)
	}
	switch o.Separator {
	case 0, ',', ';', '\t':
	default:
		return bad("separator %q: comma, semicolon and tab are known", o.Separator)
	}
	switch o.Decimal {
	case 0, '.', ',':
	default:
		return bad("decimal mark %q: point and comma are known", o.Decimal)
	}
	if o.Decimal == ',' && o.Separator == ',' {
		return bad("the comma can not be both separator and decimal mark")
	}
	if o.Clock != Even && o.Clock != Ascending {
		return bad("clock %d is not known", o.Clock)
	}
	if o.Rate != 0 && !(o.Rate > 0 && o.Rate <= math.MaxFloat64) {
		return fmt.Errorf("%w: %g Hz in the options", ErrRate, o.Rate)
	}
	if !(o.Jitter >= 0 && o.Jitter < 0.5) {
		return bad("a jitter of %g: want 0 to 0.5 of the spacing", o.Jitter)
	}
	return nil
}

// Table is what a file holds, in SI units.
type Table struct {
	// Columns in the order of the file, without ignored ones and without the
	// time column.
	Columns []Column
	// Rows is the length of every column.
	Rows int
	// Start is the instant of the first row, s; Rate the rows per second, 0 when
	// they are not evenly spaced (see [Ascending]). Row i was taken at
	// Start + i/Rate.
	Start, Rate float64
	// Time holds the time stamps, s; nil when the table has none.
	Time []float64
	// Meta are the "key: value" lines of the preamble, keys in lower case.
	Meta map[string]string
	// Separator and Decimal are what the cells were parted with and the decimal
	// mark; Decimal is 0 when no number has one.
	Separator, Decimal rune
	// Warnings lists repairs, doubts and what was detected.
	Warnings []grf.Warning
}

// Column is a series of numbers under one name.
type Column struct {
	Name string
	// Unit is the unit in the file. Its Quantity is 0 for pure numbers and
	// voltages.
	Unit units.Unit
	// Values are in the SI unit of the quantity, NaN for empty cells.
	Values []float64
}

// Column returns the column of this name, in upper or lower case.
func (t *Table) Column(name string) (Column, bool) {
	for _, c := range t.Columns {
		if strings.EqualFold(c.Name, name) {
			return c, true
		}
	}
	return Column{}, false
}

// Names returns the names of the columns in their order.
func (t *Table) Names() []string {
	names := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		names[i] = c.Name
	}
	return names
}

// Decode reads a table; the package comment says what one looks like. The
// error, if any, is an [*Error] that says where and wraps one of the sentinels;
// bad options give a plain error. With an error there is no table.
//
// Memory is bounded by a small multiple of the size of data, to which Decode
// keeps no reference.
func Decode(data []byte, opt Options) (*Table, error) {
	if err := opt.check(); err != nil {
		return nil, err
	}
	text, err := cleanText(data)
	if err != nil {
		return nil, err
	}
	h, err := readHeader(text, opt)
	if err != nil {
		return nil, err
	}
	r := newRows(h, opt)
	if err := r.read(); err != nil {
		return nil, err
	}
	t := &Table{Meta: h.meta, Separator: rune(h.sep), Decimal: rune(r.mark), Warnings: r.warnings}
	if r.mark == ',' {
		t.Warnings = append(t.Warnings, grf.Warning{Code: "decimal-comma", Text: "numbers were read with the comma as decimal mark"})
	}
	if err := t.setClock(h, r, opt); err != nil {
		return nil, err
	}
	return t, nil
}
