package c3d

import (
	"fmt"
	"math"
)

// Type is the number type of a parameter, with the codes of the format.
type Type int8

const (
	Char  Type = -1
	Byte  Type = 1 // 8 bits
	Int   Type = 2 // 16 bits
	Float Type = 4 // 32 bits
)

// Groups are the parameter groups of a file, in its order. Lookups ignore case
// and surrounding blanks. Groups that share a name are one group for lookups;
// the first parameter of a name wins.
type Groups []Group

// Group is a set of parameters.
type Group struct {
	Name        string
	Description string
	// ID is the positive number that ties parameters to their group, 1…127.
	// Encode gives one to a group with ID 0.
	ID         int
	Locked     bool
	Parameters []Parameter

	record
	absent bool // made for parameters whose group is missing; not written
}

// Parameter is a named array of characters or numbers.
type Parameter struct {
	Name        string
	Description string
	Locked      bool
	Type        Type
	// Dims are the sizes, the first running fastest; empty for a single value.
	// In an array of text the first size is the width of a cell in bytes.
	Dims []int
	// Data are the values as stored, in the byte order of the file that they
	// were read from. It is empty when the file holds less than Dims promises.
	Data []byte

	record
	proc   Processor // whose numbers Data holds
	unread []byte    // what the record holds in place of a value
}

// record is what is kept of a stored record so that it can be written again.
type record struct {
	offset  int    // of the record in the file
	order   int    // place in the file, from 1; 0 when it was not read
	rawName []byte // name as stored
	rawDesc []byte
	noDesc  bool // the length byte of the description is missing
}

// NewText returns a text parameter. One cell makes a single text, several make
// an array whose cells are padded with blanks to the longest.
func NewText(name string, cells ...string) Parameter {
	width := 0
	for _, c := range cells {
		width = max(width, len(c))
	}
	p := Parameter{Name: name, Type: Char, Dims: []int{width, len(cells)}}
	if len(cells) == 1 {
		p.Dims = p.Dims[:1]
	}
	for _, c := range cells {
		p.Data = append(p.Data, c...)
		for range width - len(c) {
			p.Data = append(p.Data, ' ')
		}
	}
	return p
}

// NewInts returns a parameter of 16-bit integers; values are taken modulo 65536,
// so that counts up to 65535 may be given. nil dims make a single value or a
// list.
func NewInts(name string, dims []int, values ...int) Parameter {
	p := Parameter{Name: name, Type: Int, Dims: listDims(dims, len(values)), Data: make([]byte, 2*len(values))}
	for i, v := range values {
		p.proc.putUint16(p.Data[2*i:], uint16(v))
	}
	return p
}

// NewFloats returns a parameter of 32-bit floats. nil dims make a single value
// or a list. A value beyond single precision becomes an infinity.
func NewFloats(name string, dims []int, values ...float64) Parameter {
	p := Parameter{Name: name, Type: Float, Dims: listDims(dims, len(values)), Data: make([]byte, 4*len(values))}
	for i, v := range values {
		if !p.proc.putFloat(p.Data[4*i:], v) {
			p.proc.putFloat(p.Data[4*i:], math.Copysign(math.Inf(1), v))
		}
	}
	return p
}

func listDims(dims []int, n int) []int {
	if dims == nil && n != 1 {
		return []int{n}
	}
	return dims
}

// Len returns the number of values (of characters for text) that are present.
func (p *Parameter) Len() int {
	if p == nil {
		return 0
	}
	if w, ok := p.Type.width(); ok {
		return len(p.Data) / w
	}
	return 0
}

// Floats returns the values as numbers, the first dimension running fastest,
// and bytes as signed. The error wraps [ErrType] when the parameter is text or
// of an unknown type. For a nil Parameter both are nil.
func (p *Parameter) Floats() ([]float64, error) {
	if p == nil {
		return nil, nil
	}
	if err := p.numeric(); err != nil {
		return nil, err
	}
	v := make([]float64, p.Len())
	for i := range v {
		switch p.Type {
		case Byte:
			v[i] = float64(int8(p.Data[i]))
		case Int:
			v[i] = float64(int16(p.proc.uint16(p.Data[2*i:])))
		case Float:
			v[i] = p.proc.float(p.Data[4*i:])
		}
	}
	return v, nil
}

// Ints returns the values as signed integers; floats are rounded. The error
// wraps [ErrType] when the parameter is text, of an unknown type, or holds a
// float that is no 32-bit integer.
func (p *Parameter) Ints() ([]int, error) {
	f, err := p.Floats()
	if err != nil || f == nil {
		return nil, err
	}
	v := make([]int, len(f))
	for i, x := range f {
		if !(math.Abs(x) <= math.MaxInt32) {
			return nil, &FormatError{Place: p.Name, Offset: p.place(), Err: ErrType, Detail: fmt.Sprintf("%g is no integer", x)}
		}
		v[i] = int(math.Round(x))
	}
	return v, nil
}

// Counts returns the values as counts. The format stores counts up to 65535 in
// 16-bit words and up to 255 in bytes, so that what reads as a negative number
// is a large one (Source: C3D User Guide, "Parameter format"); a negative float
// is taken as such a word as well.
func (p *Parameter) Counts() ([]int, error) {
	v, err := p.Ints()
	for i, x := range v {
		switch {
		case x >= 0:
		case p.Type == Byte:
			v[i] = x + 1<<8
		case x >= math.MinInt16:
			v[i] = x + 1<<16
		default:
			v[i] = 0
		}
	}
	return v, err
}

// Strings returns the cells of a text parameter without blanks at their ends.
// Text that is not UTF-8 is read as Latin-1. The error wraps [ErrType] when the
// parameter is not text. For a nil Parameter both are nil.
func (p *Parameter) Strings() ([]string, error) {
	if p == nil {
		return nil, nil
	}
	if p.Type != Char {
		return nil, &FormatError{Place: p.Name, Offset: p.place(), Err: ErrType, Detail: "numbers where text is needed"}
	}
	var cells []string
	p.eachCell(func(b []byte) {
		s, _ := decodeText(b)
		cells = append(cells, s)
	})
	return cells, nil
}

// eachCell calls f for the cells of a text parameter; there are none of width 0.
func (p *Parameter) eachCell(f func([]byte)) {
	width := len(p.Data)
	if len(p.Dims) > 1 {
		width = p.Dims[0]
	}
	if width <= 0 {
		return
	}
	for at := 0; at+width <= len(p.Data); at += width {
		f(p.Data[at : at+width])
	}
}

// checkText warns of text that is not UTF-8.
func (p *Parameter) checkText(g *Group, warn *warnings) {
	worst := textClean
	p.eachCell(func(b []byte) {
		if worst == textClean && !ascii(b) {
			_, worst = decodeText(b)
		}
	})
	where := g.Name + ":" + p.Name
	switch worst {
	case textLatin1:
		warn.add(CodeTextEncoding, where, "text that is not UTF-8 was read as Latin-1")
	case textCut:
		warn.add(CodeTextCut, where, "a cell ends inside a character; the part of it was dropped")
	}
}

func (p *Parameter) numeric() error {
	switch p.Type {
	case Byte, Int, Float:
		return nil
	}
	return &FormatError{Place: p.Name, Offset: p.place(), Err: ErrType, Detail: fmt.Sprintf("type %d is no number", p.Type)}
}

// place returns the offset of the record in the file, −1 when it was not read.
func (p *Parameter) place() int64 {
	if p.order == 0 {
		return -1
	}
	return int64(p.offset)
}
