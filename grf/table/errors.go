package table

import (
	"errors"
	"strconv"
	"strings"
)

// Sentinels for [errors.Is]. What [Decode] returns is an [*Error] that wraps
// one of them, or grf.ErrNoData for a table without a row.
var (
	// ErrEncoding means bytes that are not text in UTF-8 or Latin-1.
	ErrEncoding = errors.New("table: not a text table")
	// ErrHeader means that no line with the names of the columns was found.
	ErrHeader = errors.New("table: no usable header")
	// ErrUnit means a column without a unit, or with one that is not known.
	ErrUnit = errors.New("table: unit missing or unknown")
	// ErrDuplicate means two columns of one name.
	ErrDuplicate = errors.New("table: two columns of one name")
	// ErrRow means a row with more or fewer cells than the header.
	ErrRow = errors.New("table: row does not fit the header")
	// ErrNumber means a cell that is not a finite number and not empty.
	ErrNumber = errors.New("table: not a number")
	// ErrTimeOrder means a time stamp that is missing, repeated or earlier than
	// the one before.
	ErrTimeOrder = errors.New("table: time does not advance")
	// ErrIrregular means time stamps that are not evenly spaced.
	ErrIrregular = errors.New("table: time is not evenly spaced")
	// ErrRate means that the sampling rate is not stated, not a rate, or stated
	// twice and differently.
	ErrRate = errors.New("table: sampling rate missing or contradictory")
	// ErrLimit means more columns, rows or preamble than [Options] allow.
	ErrLimit = errors.New("table: larger than allowed")
)

// Error says what is wrong with a table and where.
type Error struct {
	Line   int    // from 1, 0 when no single line is to blame
	Column int    // from 1, 0 when the whole line is meant
	Name   string // of the column, empty when not known
	Text   string // what is wrong and what to do about it
	Err    error  // one of the sentinels
}

func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString("table: ")
	if e.Line > 0 {
		b.WriteString("line " + strconv.Itoa(e.Line))
		if e.Column > 0 {
			b.WriteString(", column " + strconv.Itoa(e.Column))
		}
		if e.Name != "" {
			b.WriteString(" (" + e.Name + ")")
		}
		b.WriteString(": ")
	}
	b.WriteString(e.Text)
	return b.String()
}

// Unwrap returns the sentinel.
func (e *Error) Unwrap() error { return e.Err }

// clip shortens a piece of the file for a message and makes it printable.
func clip(s string) string {
	const most = 40
	r := []rune(s)
	if len(r) > most {
		r = append(r[:most], '…')
	}
	return strconv.Quote(string(r))
}
