package c3d

import (
	"fmt"
	"math"
)

// HeaderBytes is the size of the header and of a block.
const HeaderBytes = 512

// Header is the first block of a file, as stored. Counts are read unsigned
// (Source: C3D User Guide, "The header section"; words are counted from 1).
type Header struct {
	Processor       Processor
	ParameterBlock  int     // byte 1
	Points          int     // word 2
	AnalogPerFrame  int     // word 3: channels × samples per frame
	FirstFrame      int     // word 4
	LastFrame       int     // word 5
	MaxGap          int     // word 6: longest gap that was interpolated, frames
	Scale           float64 // words 7–8: negative when samples are reals
	DataBlock       int     // word 9
	SamplesPerFrame int     // word 10
	Rate            float64 // words 11–12, frames per second
	EventKey        int     // word 150: 12345 when event labels have 4 characters
	EventCount      int     // word 151
	// Events are the header's events, at most 18, on their clock: seconds from
	// the first stored frame.
	Events []Event
	// Raw are the bytes of the block; all zero when nothing was read.
	Raw [HeaderBytes]byte
}

const (
	magic     = 0x50 // byte 2
	blockSize = HeaderBytes
)

// parseHeader reads a header of at least HeaderBytes bytes.
func parseHeader(b []byte, proc Processor) Header {
	word := func(n int) int { return int(proc.uint16(b[2*(n-1):])) }
	float := func(n int) float64 { return proc.float(b[2*(n-1):]) }
	h := Header{
		Processor:       proc,
		ParameterBlock:  int(b[0]),
		Points:          word(2),
		AnalogPerFrame:  word(3),
		FirstFrame:      word(4),
		LastFrame:       word(5),
		MaxGap:          word(6),
		Scale:           float(7),
		DataBlock:       word(9),
		SamplesPerFrame: word(10),
		Rate:            float(11),
		EventKey:        word(150),
		EventCount:      word(151),
	}
	copy(h.Raw[:], b)
	h.Events = h.events()
	return h
}

// sensible says how well the floats of the header read in its byte order: a
// rate that a camera can have, and a scale that a laboratory can have.
func (h *Header) sensible() int {
	n := 0
	if h.Rate >= 0.1 && h.Rate <= 1e6 {
		n++
	}
	if s := math.Abs(h.Scale); s >= 1e-7 && s <= 1e4 {
		n++
	}
	return n
}

// frames returns the number of frames by words 4 and 5, and false when the last
// lies more than one before the first.
func (h *Header) frames() (int, bool) {
	n := h.LastFrame - h.FirstFrame + 1
	return max(n, 0), n >= 0
}

// start is the beginning of a file: what can be said before any word is read.
type start struct {
	shift int // zero bytes before the header
	param int // offset of the parameter section from the header
	code  byte
	proc  Processor
	known bool // the code is one of the three
}

// locate finds header and parameter section. Nothing of more than one byte is
// read, because the byte order is not known yet.
func locate(data []byte, size int64, warn *warnings) (start, error) {
	var s start
	if size < HeaderBytes || len(data) < HeaderBytes {
		return s, &FormatError{Place: "header", Offset: size, Err: ErrTooShort,
			Detail: fmt.Sprintf("%d bytes; a header alone has %d", size, HeaderBytes)}
	}
	if data[1] != magic {
		n := leadingZeros(data)
		if n == 0 || n > blockSize || len(data) < n+HeaderBytes || data[n+1] != magic {
			return s, &FormatError{Place: "header", Offset: 1, Err: ErrNotC3D,
				Detail: fmt.Sprintf("byte 2 is %#02x, not %#02x", data[1], magic)}
		}
		s.shift = n
		warn.add(CodeLeadingZeros, byteAt(0), "%d zero bytes before the header were skipped", n)
		data, size = data[n:], size-int64(n)
	}

	// The fourth byte of the parameter section is the processor code.
	at := func(block int) (byte, bool) {
		o := (block - 1) * blockSize
		if block < 2 || int64(o)+4 > size {
			return 0, false
		}
		if o+4 > len(data) {
			return 0, false
		}
		return data[o+3], true
	}
	block := int(data[0])
	code, ok := at(block)
	if !ok || !isCode(code) {
		if c, ok2 := at(2); ok2 && block != 2 && c >= 84 && c <= 86 {
			warn.add(CodeParameterPointer, byteAt(s.shift), "the parameter section is not at block %d but at block 2", block)
			block, code, ok = 2, c, true
		}
	}
	if !ok {
		return s, &FormatError{Place: "header", Offset: int64(s.shift), Err: ErrParameterPointer,
			Detail: fmt.Sprintf("block %d of a file of %d bytes", block, size)}
	}
	s.param = (block - 1) * blockSize
	s.code = code
	s.known = true
	switch code {
	case 84, 85, 86:
		s.proc = Processor(code - 84)
	case 1, 2, 3:
		s.proc = Processor(code - 1)
		warn.add(CodeProcessor, byteAt(s.shift+s.param+3), "processor code %d taken for %d", code, code+83)
	default:
		s.known = false
	}
	return s, nil
}

func isCode(c byte) bool { return c >= 84 && c <= 86 || c >= 1 && c <= 3 }

// leadingZeros counts the zero bytes at the start, up to one more than a block.
func leadingZeros(data []byte) int {
	for i, b := range data[:min(len(data), blockSize+1)] {
		if b != 0 {
			return i
		}
	}
	return blockSize + 1
}

// header parses the header and settles its byte order.
func (s *start) header(data []byte, guess bool, warn *warnings) (Header, error) {
	where := int64(s.shift + s.param + 3)
	best, bestScore, tie := s.proc, -1, false
	for _, p := range []Processor{Intel, DEC, MIPS} {
		h := parseHeader(data, p)
		switch n := h.sensible(); {
		case n > bestScore:
			best, bestScore, tie = p, n, false
		case n == bestScore:
			tie = true
		}
	}
	if s.known {
		h := parseHeader(data, s.proc)
		if h.sensible() > 0 || bestScore < 2 || tie {
			return h, nil
		}
		if !guess {
			return h, &FormatError{Place: "parameters", Offset: where, Err: ErrByteOrder,
				Detail: fmt.Sprintf("code %d (%v), but the header makes sense as %v only; see Options.GuessProcessor", s.code, s.proc, best)}
		}
	} else {
		if !guess || bestScore < 2 || tie {
			return Header{}, &FormatError{Place: "parameters", Offset: where, Err: ErrProcessor,
				Detail: fmt.Sprintf("%d; known are 84, 85 and 86", s.code)}
		}
	}
	s.proc = best
	warn.add(CodeProcessor, byteAt(int(where)), "processor code %d; the header makes sense as %v", s.code, best)
	return parseHeader(data, best), nil
}

// DecodeHeader reads the first block. When the parameter section, which names
// the byte order, is out of reach, the byte order is the one in which the
// header makes sense.
func DecodeHeader(data []byte) (*Header, error) {
	var w warnings
	s, err := locate(data, int64(len(data)), &w)
	if err != nil {
		if len(data) < HeaderBytes || data[s.shift+1] != magic {
			return nil, err
		}
		s.known = false
	}
	h, err := s.header(data[s.shift:], true, &w)
	if err != nil {
		return nil, err
	}
	return &h, nil
}
