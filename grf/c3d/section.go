package c3d

import (
	"bytes"
	"fmt"
	"math"
)

// The parameter section is a chain of records (Source: C3D User Guide, "The
// parameter section", "Group format", "Parameter format"):
//
//	byte    length of the name, negative when locked; 0 ends the chain
//	byte    −id for a group, id of the group for a parameter; 0 ends the chain
//	bytes   name
//	word    distance from this word to the next record; 0 ends the chain
//	        parameters only: byte type, byte number of dimensions,
//	        bytes dimensions, values
//	byte    length of the description
//	bytes   description

// rawRecord is one record of the section.
type rawRecord struct {
	record
	isGroup bool
	id      int
	locked  bool
	typ     Type
	dims    []int
	data    []byte
	spoilt  bool // the value was given up
	end     int  // behind the record, in the data
}

// section walks the parameter section.
type section struct {
	data  []byte
	proc  Processor
	warn  *warnings
	shift int // of offsets, for bytes skipped before the header
	stop  int // start of the data, as far as known: no searching behind it

	records  []rawRecord
	dims     []int // what the sizes of the records are cut from
	end      int   // behind the last record
	short    bool  // the walk ended for lack of bytes
	zeroNext bool  // the last record had a pointer of 0
	clean    bool  // the chain ended at a proper end mark
}

// head is the start of a record, parsed.
type head struct {
	name     int // length of the name
	id       int8
	pointer  int // offset of the pointer word
	got      int // its value
	body     int // bytes of type and dimensions, 0 for groups
	typ      Type
	dims     int   // number of dimensions
	size     int64 // bytes of the value, −1 when they can not be known
	enough   bool  // all of the above was present
	ordinary bool  // nothing about it is odd
}

// head parses the record at pos.
func (s *section) head(pos int) head {
	d := s.data
	var h head
	if pos < 0 || pos+2 > len(d) {
		return h
	}
	n := int(int8(d[pos]))
	h.id = int8(d[pos+1])
	if n == 0 || n == -128 || h.id == 0 {
		return h
	}
	h.name = max(n, -n)
	h.pointer = pos + 2 + h.name
	if h.pointer+3 > len(d) {
		return h
	}
	h.got = int(s.proc.uint16(d[h.pointer:]))
	if h.id < 0 {
		h.enough = true
		h.ordinary = printable(d[pos+2 : h.pointer])
		return h
	}
	if h.pointer+4 > len(d) {
		return h
	}
	h.typ = Type(int8(d[h.pointer+2]))
	h.dims = int(d[h.pointer+3])
	h.body = 2 + h.dims
	if h.pointer+2+h.body > len(d) {
		return h
	}
	h.enough = true
	h.size = -1
	if width, ok := h.typ.width(); ok && h.dims <= 7 {
		h.size = int64(width)
		for _, n := range d[h.pointer+4 : h.pointer+4+h.dims] {
			h.size *= int64(n) // at most 4 · 255⁷ < 2⁵⁹
		}
		h.ordinary = printable(d[pos+2 : h.pointer])
	}
	return h
}

// width returns the bytes of one number of the type.
func (t Type) width() (int, bool) {
	switch t {
	case Char, Byte:
		return 1, true
	case Int:
		return 2, true
	case Float:
		return 4, true
	}
	return 0, false
}

// printable reports whether a name has no control characters.
func printable(name []byte) bool {
	return !bytes.ContainsFunc(name, func(r rune) bool { return r < ' ' || r == 0x7f })
}

// want returns where the next record should start by the sizes of this one, and
// false when the value or the description do not fit the bytes that are there.
func (s *section) want(h head) (int, bool) {
	if !h.enough || h.size < 0 {
		return 0, false
	}
	at := int64(h.pointer) + 2 + int64(h.body) + h.size // of the description's length
	if at >= int64(len(s.data)) {
		return 0, false
	}
	next := at + 1 + int64(s.data[at])
	return int(next), next <= int64(len(s.data))
}

// looks says what the bytes at pos look like: 2 an ordinary record that leads
// somewhere, 1 the end mark or a record of a strange type, 0 neither.
func (s *section) looks(pos int) int {
	if pos+2 <= len(s.data) && pos >= 0 && s.data[pos] == 0 && s.data[pos+1] == 0 {
		return 1
	}
	h := s.head(pos)
	if !h.enough || !printable(s.data[pos+2:h.pointer]) {
		return 0
	}
	inside := h.got >= 2+h.body && h.pointer+h.got <= len(s.data)
	if !h.ordinary {
		if inside {
			return 1
		}
		return 0
	}
	if _, ok := s.want(h); ok || inside || h.got == 0 {
		return 2
	}
	return 0
}

// walk reads the records from pos on.
func (s *section) walk(pos int) error {
	s.end = pos
	for {
		if pos+2 > len(s.data) {
			s.short = true
			s.warn.add(CodeTruncatedSection, byteAt(pos+s.shift), "the file ends in the parameter section; what was read before is kept")
			return nil
		}
		if n := int8(s.data[pos]); n == 0 || n == -128 || s.data[pos+1] == 0 {
			s.clean = n == 0 && s.data[pos+1] == 0
			if !s.clean {
				s.warn.add(CodeSectionEnd, byteAt(pos+s.shift), "name length %d with group %d taken as the end of the parameters", n, int8(s.data[pos+1]))
			}
			return nil
		}
		h := s.head(pos)
		if !h.enough {
			s.short = true
			s.warn.add(CodeTruncatedSection, byteAt(pos+s.shift), "the file ends in a parameter record; what was read before is kept")
			return nil
		}
		if !h.ordinary && s.looks(h.pointer+h.got) == 0 {
			// Not a record, or one that leads nowhere.
			next := s.search(pos + 1)
			if next < 0 {
				s.warn.add(CodeSectionEnd, byteAt(pos+s.shift), "no parameter record here nor behind; the parameters end without an end mark")
				return nil
			}
			s.warn.add(CodeNextPointer, byteAt(pos+s.shift), "no parameter record here; continued at byte %d", next+s.shift)
			pos = next
			continue
		}
		if len(s.records) >= maxRecords {
			return &FormatError{Place: "parameters", Offset: int64(pos + s.shift), Err: ErrLimit,
				Detail: fmt.Sprintf("more than %d parameter records", maxRecords)}
		}
		next := s.take(pos, h)
		if next <= pos {
			return nil
		}
		pos = next
	}
}

// search returns the next ordinary record from pos on and before the data, or
// −1.
func (s *section) search(pos int) int {
	for ; pos < s.stop; pos++ {
		if s.looks(pos) == 2 {
			return pos
		}
	}
	return -1
}

// take stores the record at pos and returns where the next one starts, or 0
// when there is none.
func (s *section) take(pos int, h head) int {
	r := rawRecord{
		record:  record{offset: pos + s.shift, order: len(s.records) + 1, rawName: s.data[pos+2 : h.pointer]},
		isGroup: h.id < 0,
		id:      int(max(h.id, -h.id)),
		locked:  int8(s.data[pos]) < 0,
		typ:     h.typ,
	}
	if h.id == -128 { // has no positive counterpart
		r.id = 128
	}
	want, wantOK := s.want(h)
	got := h.pointer + h.got
	least := h.pointer + 2 + h.body // nothing can follow before this

	next := got
	switch {
	case h.got == 0:
		s.zeroNext = true
		next = 0
	case wantOK && got == want:
	case h.got < 2+h.body:
		s.warn.add(CodeLoop, r.place(), "the pointer to the next record leads into the record itself")
		next = s.choose(0, want, wantOK, least)
	default:
		next = s.choose(got, want, wantOK, least)
		if next != got && next != 0 {
			s.warn.add(CodeNextPointer, r.place(), "the pointer to the next record says byte %d, the record ends at byte %d", got+s.shift, want+s.shift)
		}
	}

	// The record's own bytes end where the next one starts.
	end := next
	if end == 0 {
		if end = want; !wantOK {
			end = len(s.data)
			if h.got != 0 {
				end = max(least, min(got, end))
			}
		}
		if h.got != 0 {
			s.short = s.short || got > len(s.data)
			s.warn.add(CodeTruncatedSection, r.place(), "the next record can not be found; what was read before is kept")
		}
	}
	r.end = end
	s.value(&r, h, end)
	s.records = append(s.records, r)
	s.end = end
	s.clean = next == 0 && h.got == 0
	return next
}

// choose settles a pointer that disagrees with the sizes of its record: the
// place that looks more like a record wins, the pointer when both do. It
// returns 0 when there is no next record.
func (s *section) choose(got, want int, wantOK bool, least int) int {
	g, w := 0, 0
	if got >= least && got <= len(s.data) {
		g = s.looks(got)
	}
	if wantOK {
		w = s.looks(want)
	}
	switch {
	case g > 0 && g >= w:
		return got
	case w > 0:
		return want
	}
	if next := s.search(least); next > 0 {
		return next
	}
	return 0
}

// value fills in the value and the description of a record that ends at end.
func (s *section) value(r *rawRecord, h head, end int) {
	at := h.pointer + 2
	if !r.isGroup {
		if h.dims > 7 {
			s.warn.add(CodeTooManyDims, r.place(), "%d dimensions; the format has at most 7; the value is kept unread", h.dims)
		} else if h.size < 0 {
			s.warn.add(CodeUnknownType, r.place(), "type %d is none of −1, 1, 2, 4; the value is kept unread", h.typ)
		}
		if h.dims == 0 {
			r.dims = []int{}
		} else {
			n := len(s.dims)
			for _, size := range s.data[at+2 : at+2+h.dims] {
				s.dims = append(s.dims, int(size))
			}
			r.dims = s.dims[n:len(s.dims):len(s.dims)]
		}
		at += h.body
		if h.size < 0 {
			r.data, r.spoilt = s.data[min(at, end):end], true
			return
		}
		if int64(at)+h.size > int64(end) {
			code := CodeValueOverrun
			if h.size > math.MaxUint16 {
				code = CodeValueTooLarge
			}
			s.warn.add(code, r.place(), "the sizes ask for %d bytes, the record has %d; the value is left empty", h.size, max(0, end-at))
			r.data, r.spoilt = s.data[min(at, end):end], true
			return
		}
		r.data = s.data[at : at+int(h.size)]
		at += int(h.size)
	}
	if at >= end {
		r.noDesc = true
		s.warn.add(CodeNoDescription, r.place(), "the length of the description is missing")
		return
	}
	n := int(s.data[at])
	r.rawDesc = s.data[at+1 : max(at+1, min(at+1+n, end))]
}

// cut gives up what lies behind offset, where the data start.
func (s *section) cut(offset int) {
	for i := range s.records {
		r := &s.records[i]
		if r.offset-s.shift >= offset {
			s.records = s.records[:i]
			break
		}
		if r.end > offset {
			s.warn.add(CodeValueOverrun, r.place(), "the value runs into the data and is left empty")
			r.data, r.rawDesc, r.spoilt = nil, nil, true
		}
	}
	s.end = min(s.end, offset)
}

// place names a record for warnings, before its group is known.
func (r *rawRecord) place() string {
	name, _ := decodeText(r.rawName)
	if r.isGroup {
		return fmt.Sprintf("group %s, byte %d", name, r.offset)
	}
	return fmt.Sprintf("parameter %s, byte %d", name, r.offset)
}
