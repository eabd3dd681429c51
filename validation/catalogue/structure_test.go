package catalogue

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"example.com/momentarm/grf/c3d"
)

// Rows 1 to 39: the bytes and the structure of C3D files.

// names edits the record of SUBJECTS:NAMES; p is its pointer.
func names(edit func(b []byte, p int) []byte) func(t *testing.T) []byte {
	return bytesOf(func(t *testing.T, b []byte) []byte {
		_, p, _ := record(t, b, "SUBJECTS:NAMES")
		return edit(b, p)
	})
}

// lastRecord edits the record of SUBJECTS:MASS.
func lastRecord(edit func(b []byte, at int) []byte) func(t *testing.T) []byte {
	return bytesOf(func(t *testing.T, b []byte) []byte {
		at, _, _ := record(t, b, "SUBJECTS:MASS")
		return edit(b, at)
	})
}

func plainEdit(edit func(b []byte) []byte) func(t *testing.T) []byte {
	return bytesOf(func(_ *testing.T, b []byte) []byte { return edit(b) })
}

func processor(p c3d.Processor, edit func(b []byte) []byte) func(t *testing.T) []byte {
	return func(t *testing.T) []byte {
		f := small()
		f.Processor = p
		return edit(encode(t, f))
	}
}

var structureRows = []row{
	{1, "a file of 0 bytes", fails(c3d.ErrTooShort), decoded(func(*testing.T) []byte { return nil }, nil), ""},
	{2, "511 bytes", fails(c3d.ErrTooShort), decoded(plainEdit(func(b []byte) []byte { return b[:511] }), nil), ""},
	{3, "text under the ending of C3D", fails(c3d.ErrNotC3D), decoded(func(*testing.T) []byte { return bytes.Repeat([]byte("0 POINT\n"), 100) }, nil), ""},
	{4, "100 zero bytes before the header", warns(c3d.CodeLeadingZeros), decoded(plainEdit(func(b []byte) []byte { return append(make([]byte, 100), b...) }), isSmall), ""},
	{5, "a pointer of 0 to the parameters", warns(c3d.CodeParameterPointer), decoded(plainEdit(func(b []byte) []byte { return put(b, 0, 0) }), isSmall), ""},
	{6, "a pointer beyond the file, nothing at block 2", fails(c3d.ErrParameterPointer), decoded(func(t *testing.T) []byte {
		b := put(encode(t, small())[:512], 0, 200)
		if h, err := c3d.DecodeHeader(b); err != nil || h.Points != 3 {
			t.Errorf("header %+v, %v", h, err)
		}
		return b
	}, nil), "where parameters stand at block 2 they are read, with a warning: files with a wrong pointer are otherwise whole"},
	{7, "parameters at block 7", defined(), decoded(bytesOf(func(t *testing.T, b []byte) []byte { return moved(t, b, 5) }), isSmall), ""},
	{8, "processor code 1", warns(c3d.CodeProcessor), decoded(plainEdit(func(b []byte) []byte { return put(b, 515, 1) }), isSmall), ""},
	{9, "processor code 200", fails(c3d.ErrProcessor), decoded(plainEdit(func(b []byte) []byte { return put(b, 515, 200) }), nil), "Options.GuessProcessor tries all three"},
	{10, "a parameter section that begins with 0, 0", defined(), decoded(plainEdit(func(b []byte) []byte { return put(b, 512, 0, 0) }), isSmall), ""},
	{11, "a block count of 0 and no records", warns(c3d.CodeNoParameters), decoded(plainEdit(func(b []byte) []byte {
		return put(b, 514, append([]byte{0, 84}, make([]byte, 508)...)...)
	}), func(t *testing.T, f *c3d.File) {
		if f.Frames != frames || len(f.Points) != 3 || len(f.Channels) != 12 {
			t.Errorf("%d frames, %d points, %d channels", f.Frames, len(f.Points), len(f.Channels))
		}
	}), ""},
	{12, "a block count smaller than the records need", warns(c3d.CodeBlockCount), decoded(plainEdit(func(b []byte) []byte { return put(b, 514, 1) }), isSmall), ""},
	{13, "a block count into the data", warns(c3d.CodeSectionOverlap), decoded(plainEdit(func(b []byte) []byte { return put(b, 514, 40) }), isSmall), ""},
	{14, "a next-pointer that is too large", warns(c3d.CodeNextPointer), decoded(names(func(b []byte, p int) []byte { return put(b, p, b[p]+3) }), isSmall), ""},
	{15, "a next-pointer with swapped bytes in a big-endian file", warns(c3d.CodeNextPointer), decoded(processor(c3d.MIPS, func(b []byte) []byte {
		_, p, _ := record(new(testing.T), b, "POINT:RATE")
		return put(b, p, b[p+1], b[p])
	}), isSmall), ""},
	{16, "a next-pointer into its own record", warns(c3d.CodeLoop), decoded(names(func(b []byte, p int) []byte { return put(b, p, 1, 0) }), isSmall), "the walk goes on where the record ends by its sizes"},
	{17, "a next-pointer beyond the file", warns(c3d.CodeNextPointer), decoded(names(func(b []byte, p int) []byte { return put(b, p, 0xff, 0xff) }), isSmall), "the walk goes on where the record ends by its sizes"},
	{18, "no byte for the length of a description", warns(c3d.CodeNoDescription), decoded(func(t *testing.T) []byte {
		b := encode(t, small())
		_, p, _ := record(t, b, "SUBJECTS:NAMES")
		end, all := p+int(b[p])+256*int(b[p+1]), decode(t, b).Layout.ParameterEnd
		b = put(slices.Concat(b[:end-1], b[end:all], []byte{0}, b[all:]), p, b[p]-1)
		return b
	}, isSmall), ""},
	{19, "a name of −128 characters", warns(c3d.CodeSectionEnd), decoded(lastRecord(func(b []byte, at int) []byte { return put(b, at, 0x80) }), isSmall), ""},
	{20, "a name with a control character", warns(c3d.CodeControlName), decoded(lastRecord(func(b []byte, at int) []byte { return put(b, at+3, 1) }), isSmall), "lower case and blanks at the end are taken without a word"},
	{21, "a locked parameter", defined(), decoded(lastRecord(func(b []byte, at int) []byte { return put(b, at, byte(-int8(b[at]))) }), func(t *testing.T, f *c3d.File) {
		isSmall(t, f)
		if !f.Groups.Find("SUBJECTS", "MASS").Locked || !decode(t, encode(t, f)).Groups.Find("SUBJECTS", "MASS").Locked {
			t.Error("the lock is lost")
		}
	}), ""},
	{22, "group number 0", warns(c3d.CodeSectionEnd), decoded(lastRecord(func(b []byte, at int) []byte { return put(b, at+1, 0) }), isSmall), ""},
	{23, "a parameter of a group that is not there", warns(c3d.CodeOrphan), decoded(lastRecord(func(b []byte, at int) []byte { return put(b, at+1, 77) }), func(t *testing.T, f *c3d.File) {
		isSmall(t, f)
		if v := f.Groups.Floats("GID_77", "MASS"); len(v) != 1 || v[0] != 71.5 {
			t.Errorf("GID_77:MASS is %v", v)
		}
	}), ""},
	{24, "two groups of one name", warns(c3d.CodeDuplicateGroup), decoded(of(func(f *c3d.File) {
		f.Groups = append(f.Groups, c3d.Group{Name: "SUBJECTS", Parameters: []c3d.Parameter{c3d.NewFloats("HEIGHT", nil, 1.5)}})
	}), func(t *testing.T, f *c3d.File) {
		isSmall(t, f)
		if v, w := f.Groups.Floats("SUBJECTS", "MASS"), f.Groups.Floats("SUBJECTS", "HEIGHT"); len(v) != 1 || len(w) != 1 {
			t.Errorf("not merged: %v, %v", v, w)
		}
	}), ""},
	{25, "two parameters of one name in a group", warns(c3d.CodeDuplicateParam), decoded(of(func(f *c3d.File) {
		for i := range f.Groups {
			if f.Groups[i].Name == "SUBJECTS" {
				f.Groups[i].Parameters = append(f.Groups[i].Parameters, c3d.NewFloats("MASS", nil, 1))
			}
		}
	}), func(t *testing.T, f *c3d.File) {
		if v := f.Groups.Floats("SUBJECTS", "MASS"); v[0] != 71.5 {
			t.Errorf("the first does not win: %v", v)
		}
	}), ""},
	{26, "a parameter before its group", defined(), decoded(func(t *testing.T) []byte {
		b := encode(t, small())
		at, p, _ := record(t, b, "SUBJECTS")
		end, all := p+int(b[p])+256*int(b[p+1]), decode(t, b).Layout.ParameterEnd
		// The group's record goes behind the last parameter.
		return slices.Concat(b[:at], b[end:all], b[at:end], b[all:])
	}, func(t *testing.T, f *c3d.File) {
		isSmall(t, f)
		if v := f.Groups.Floats("SUBJECTS", "MASS"); len(v) != 1 {
			t.Error("the parameter is lost")
		}
	}), ""},
	{27, "a parameter of type 3", warns(c3d.CodeUnknownType), decoded(names(func(b []byte, p int) []byte { return put(b, p+2, 3) }), isSmall), ""},
	{28, "a parameter of 8 dimensions", warns(c3d.CodeTooManyDims), decoded(names(func(b []byte, p int) []byte { return put(b, p+3, 8) }), isSmall), ""},
	{29, "dimensions 255⁷", warns(c3d.CodeValueTooLarge), decoded(func(t *testing.T) []byte {
		b := with("SUBJECTS", c3d.Parameter{Name: "BIG", Type: c3d.Float, Dims: []int{1, 1, 1, 1, 1, 1, 1}, Data: make([]byte, 4)})(t)
		_, p, _ := record(t, b, "SUBJECTS:BIG")
		return put(b, p+4, 255, 255, 255, 255, 255, 255, 255)
	}, isSmall), ""},
	{30, "dimensions 6 × 6 × 0", defined(), decoded(with("FORCE_PLATFORM", c3d.NewFloats("CAL_MATRIX", []int{6, 6, 0})), isSmall), ""},
	{31, "a value longer than its record", warns(c3d.CodeValueOverrun), decoded(names(func(b []byte, p int) []byte { return put(b, p+4, 200, 100) }), isSmall), ""},
	{32, "more than ten thousand records", fails(c3d.ErrLimit), decoded(plainEdit(func(b []byte) []byte {
		b = bytes.Clone(b[:516])
		for range 10_001 {
			b = append(b, 1, 1, 'A', 6, 0, 1, 0, 0, 0)
		}
		return append(word(b, 9, len(b)/512+2), make([]byte, 1024)...)
	}), nil), ""},
	{33, "a reserved operand of a VAX", warns(c3d.CodeVAXReserved), decoded(func(t *testing.T) []byte {
		f := small()
		f.Processor = c3d.DEC
		b := encode(t, f)
		return put(b, decode(t, b).Layout.DataStart+12*4, 0x40, 0x80)
	}, func(t *testing.T, f *c3d.File) {
		if v := f.Channels[0].Values; v[0] == v[0] || v[1] != small().Channels[0].Values[1] {
			t.Errorf("%g, %g", v[0], v[1])
		}
	}), ""},
	{34, "a big-endian file with the code of a VAX", fails(c3d.ErrByteOrder), decoded(processor(c3d.MIPS, func(b []byte) []byte { return put(b, 515, 85) }), nil), "Options.GuessProcessor tries all three"},
	{35, "a degree sign in Latin-1", warns(c3d.CodeTextEncoding), decoded(value("ANALOG:UNITS", 0xb0), func(t *testing.T, f *c3d.File) {
		if !strings.HasPrefix(f.Channels[0].Unit, "°") {
			t.Errorf("unit %q", f.Channels[0].Unit)
		}
	}), ""},
	{36, "UTF-8 in a name", warns(c3d.CodeNonASCIIName), decoded(with("SUBJECTS", c3d.NewFloats("GRÖSSE", nil, 1)), isSmall), ""},
	{37, "a text cut inside a character", warns(c3d.CodeTextCut), decoded(value("ANALOG:UNITS", 'N', 0xe2, 0x82), func(t *testing.T, f *c3d.File) {
		if f.Channels[0].Unit != "N" {
			t.Errorf("unit %q", f.Channels[0].Unit)
		}
	}), ""},
	{38, "a file cut inside the parameters", warns(c3d.CodeTruncatedSection, c3d.CodeTruncated), decoded(func(t *testing.T) []byte {
		b := encode(t, small())
		_, _, at := record(t, b, "FORCE_PLATFORM:CORNERS")
		return b[:at+30]
	}, func(t *testing.T, f *c3d.File) {
		if f.Frames != 0 || len(f.Points) != 3 || f.Units != "mm" {
			t.Errorf("%d frames, %d points in %q", f.Frames, len(f.Points), f.Units)
		}
	}), ""},
	{39, "bytes behind the last frame", defined(), decoded(plainEdit(func(b []byte) []byte { return append(b, "extra"...) }), func(t *testing.T, f *c3d.File) {
		isSmall(t, f)
		if string(f.Trailing) != "extra" {
			t.Errorf("%q", f.Trailing)
		}
	}), ""},
}
