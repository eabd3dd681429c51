package c3d

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// class is what reading a defective file must give.
type class string

const (
	// fail is a typed error with a place, and no File.
	fail class = "error"
	// warn is a File with located warnings, which strict reading refuses.
	warn class = "warning"
	// defined is a File and no warning.
	defined class = "defined"
)

// row is one entry of a catalogue of bad input that was compiled from defects
// of public files and from what other readers stumble over. Rows that ask for
// something else than this package does say why in note.
type row struct {
	number int
	input  string
	class  class
	codes  []string // of all warnings
	err    error
	data   func(t *testing.T) []byte
	opt    Options
	check  func(t *testing.T, f *File)
	note   string
}

func one(codes ...string) []string { return codes }

// isSmall checks that the defect changed nothing of what the file means.
func isSmall(t *testing.T, f *File) { sameData(t, f) }

// header makes a row's data by editing small.
func header(edit func(b []byte) []byte) func(*testing.T) []byte {
	return func(t *testing.T) []byte { return edit(encode(t, small())) }
}

// replaced makes a row's data by replacing parameters of small.
func replaced(group string, p ...Parameter) func(*testing.T) []byte {
	return func(t *testing.T) []byte { return with(t, group, p...) }
}

// patched makes a row's data by editing the value of a parameter of small.
func patched(group, name string, value ...byte) func(*testing.T) []byte {
	return func(t *testing.T) []byte {
		b := encode(t, small())
		return edit(b, valueAt(t, b, group, name), value...)
	}
}

// pointed makes a row's data by changing the next pointer of SUBJECTS:NAMES.
func pointed(change func(b []byte, pointer int) []byte) func(*testing.T) []byte {
	return func(t *testing.T) []byte {
		b := encode(t, small())
		return change(b, pointer(b, param(t, b, "SUBJECTS", "NAMES")))
	}
}

// integer makes a row's data from small with integer storage.
func integer(change func(f *File), edit func(t *testing.T, b []byte) []byte) func(*testing.T) []byte {
	return func(t *testing.T) []byte {
		f := small()
		f.Storage = Integer
		if change != nil {
			change(f)
		}
		b := encode(t, f)
		if edit != nil {
			b = edit(t, b)
		}
		return b
	}
}

// frame0 makes a row's data by replacing the stored numbers of the first point.
func frame0(x, y, z, w float64) func(*testing.T) []byte {
	return func(t *testing.T) []byte { return withPoint(t, x, y, z, w) }
}

func gone(t *testing.T, f *File) {
	if !missing(f.Points[0].Position[0]) || !math.IsNaN(f.Points[0].Residual[0]) {
		t.Errorf("the point is at %v", f.Points[0].Position[0])
	}
}

const platesElsewhere = "the physics of plates, tested where plates are built"

// TestBadInput holds the rows of the catalogue that concern the reader.
func TestBadInput(t *testing.T) {
	rows := slices.Concat(structureRows, layoutRows, pointRows, plateRows)
	seen := map[int]bool{}
	for _, r := range rows {
		seen[r.number] = true
		t.Run(fmt.Sprintf("%03d %s", r.number, r.input), func(t *testing.T) {
			if r.data == nil {
				if r.note == "" {
					t.Fatal("neither a file nor a reason")
				}
				t.Log(r.note)
				return
			}
			b := r.data(t)
			f, err := Decode(b, r.opt)
			strict := r.opt
			strict.Strict = true
			s, strictErr := Decode(b, strict)
			switch r.class {
			case fail:
				checkError(t, err, r.err)
				checkError(t, strictErr, r.err)
				if f != nil || s != nil {
					t.Error("an error together with a File")
				}
				return
			case warn:
				if err != nil {
					t.Fatal(err)
				}
				warned(t, f, r.codes...)
				if s != nil || strictErr == nil {
					t.Error("strict reading takes it")
				}
				var se *StrictError
				if errors.As(strictErr, &se) && !slices.Contains(r.codes, se.Warning.Code) {
					t.Errorf("strict reading says %v", strictErr)
				}
			case defined:
				if err != nil {
					t.Fatal(err)
				}
				warned(t, f)
				if s == nil {
					t.Errorf("strict reading refuses it: %v", strictErr)
				}
			}
			if r.check != nil {
				r.check(t, f)
			}
			rewrite(t, f)
		})
	}
	for n := 1; n <= 120; n++ {
		if !seen[n] {
			t.Errorf("row %d is missing", n)
		}
	}
}

var structureRows = []row{
	{1, "0 bytes", fail, nil, ErrTooShort, func(*testing.T) []byte { return nil }, Options{}, nil, ""},
	{2, "511 bytes", fail, nil, ErrTooShort, header(func(b []byte) []byte { return b[:511] }), Options{}, nil, ""},
	{3, "a text file", fail, nil, ErrNotC3D, func(*testing.T) []byte { return bytes.Repeat([]byte("0 POINT\n"), 100) }, Options{}, nil, ""},
	{4, "100 zero bytes before the header", warn, one(CodeLeadingZeros), nil,
		header(func(b []byte) []byte { return append(make([]byte, 100), b...) }), Options{}, isSmall, ""},
	{5, "parameter pointer 0", warn, one(CodeParameterPointer), nil, header(func(b []byte) []byte { return edit(b, 0, 0) }), Options{}, isSmall, ""},
	{6, "parameter pointer beyond the file, nothing at block 2", fail, nil, ErrParameterPointer,
		header(func(b []byte) []byte { return edit(b[:512], 0, 200) }), Options{}, nil,
		"with parameters at block 2 they are read, with a warning: see trap 4"},
	{7, "parameters at block 7", defined, nil, nil, header(func(b []byte) []byte { return moved(b, 5) }), Options{}, isSmall, ""},
	{8, "processor code 1", warn, one(CodeProcessor), nil, header(func(b []byte) []byte { return edit(b, 515, 1) }), Options{}, isSmall, ""},
	{9, "processor code 200", fail, nil, ErrProcessor, header(func(b []byte) []byte { return edit(b, 515, 200) }), Options{}, nil, ""},
	{9, "processor code 200, guessing", warn, one(CodeProcessor), nil, header(func(b []byte) []byte { return edit(b, 515, 200) }), Options{GuessProcessor: true}, isSmall, ""},
	{10, "parameter section starts with 0, 0", defined, nil, nil, header(func(b []byte) []byte { return edit(b, 512, 0, 0) }), Options{}, isSmall, ""},
	{11, "block count 0 and no records", warn, one(CodeNoParameters, CodeMissingLabels, CodeDefaultScale, CodeDefaultOffset, CodeUnitUnknown), nil,
		header(func(b []byte) []byte { return edit(b, 514, append([]byte{0, 84}, make([]byte, 508)...)...) }), Options{}, nil, ""},
	{12, "block count too small", warn, one(CodeBlockCount), nil, header(func(b []byte) []byte { return edit(b, 514, 1) }), Options{}, isSmall, ""},
	{13, "block count into the data", warn, one(CodeSectionOverlap), nil, header(func(b []byte) []byte { return edit(b, 514, 40) }), Options{}, isSmall, ""},
	{14, "next pointer too large", warn, one(CodeNextPointer), nil, pointed(func(b []byte, p int) []byte { return edit(b, p, b[p]+3) }), Options{}, isSmall, ""},
	{15, "next pointer with swapped bytes", warn, one(CodeNextPointer), nil, pointed(func(b []byte, p int) []byte { return edit(b, p, b[p+1], b[p]) }), Options{},
		func(t *testing.T, f *File) { sameData(t, f) }, "swapped, this one is 0: the end of the parameters in a file that ends here"},
	{16, "next pointer into its own record", warn, one(CodeLoop), nil, pointed(func(b []byte, p int) []byte { return edit(b, p, 1, 0) }), Options{}, isSmall,
		"the walk goes on where the record ends by its sizes"},
	{17, "next pointer beyond the file", warn, one(CodeNextPointer), nil, pointed(func(b []byte, p int) []byte { return edit(b, p, 0xff, 0xff) }), Options{}, isSmall,
		"the walk goes on where the record ends by its sizes"},
	{18, "length of a description missing", warn, one(CodeNoDescription), nil, pointed(func(b []byte, p int) []byte {
		end := p + int(Intel.uint16(b[p:]))
		b = slices.Concat(b[:end-1], b[end:end+40], []byte{0}, b[end+40:])
		// The record behind is SUBJECTS:MASS, the last: the byte goes in behind it.
		return edit(b, p, b[p]-1)
	}), Options{}, isSmall, ""},
	{19, "name length −128", warn, one(CodeSectionEnd), nil, func(t *testing.T) []byte {
		b := encode(t, small())
		return edit(b, param(t, b, "SUBJECTS", "MASS"), 0x80)
	}, Options{}, isSmall, ""},
	{20, "control characters in a name", warn, one(CodeControlName), nil, func(t *testing.T) []byte {
		b := encode(t, small())
		return edit(b, param(t, b, "SUBJECTS", "MASS")+3, 1)
	}, Options{}, isSmall, ""},
	{21, "locked parameter", defined, nil, nil, func(t *testing.T) []byte {
		b := encode(t, small())
		at := param(t, b, "POINT", "USED")
		return edit(b, at, byte(-int8(b[at])))
	}, Options{}, func(t *testing.T, f *File) {
		if !f.Groups.Find("POINT", "USED").Locked {
			t.Error("not locked")
		}
	}, ""},
	{22, "group number 0", warn, one(CodeSectionEnd), nil, func(t *testing.T) []byte {
		b := encode(t, small())
		return edit(b, param(t, b, "SUBJECTS", "MASS")+1, 0)
	}, Options{}, isSmall, ""},
	{23, "parameter without a group", warn, one(CodeOrphan), nil, func(t *testing.T) []byte {
		b := encode(t, small())
		return edit(b, param(t, b, "SUBJECTS", "MASS")+1, 77)
	}, Options{}, func(t *testing.T, f *File) {
		if v := f.Groups.Floats("GID_77", "MASS"); len(v) != 1 {
			t.Error("the parameter is lost")
		}
	}, ""},
	{24, "two groups of one name", warn, one(CodeDuplicateGroup), nil, func(t *testing.T) []byte {
		f := small()
		f.Groups = append(f.Groups, Group{Name: "SUBJECTS", Parameters: []Parameter{NewFloats("HEIGHT", nil, 1.8)}})
		return encode(t, f)
	}, Options{}, isSmall, ""},
	{25, "two parameters of one name", warn, one(CodeDuplicateParam), nil, func(t *testing.T) []byte {
		f := small()
		g := &f.Groups[4]
		g.Parameters = append(g.Parameters, NewFloats("MASS", nil, 1))
		return encode(t, f)
	}, Options{}, func(t *testing.T, f *File) {
		if f.Groups.Floats("SUBJECTS", "MASS")[0] != 71.5 {
			t.Error("the second one wins")
		}
	}, ""},
	{26, "parameters before their groups", defined, nil, nil, func(t *testing.T) []byte {
		f := decode(t, encode(t, small()), Options{})
		for i := range f.Groups {
			f.Groups[i].order = 500 + i
		}
		return encode(t, f)
	}, Options{}, isSmall, ""},
	{27, "parameter of type 3", warn, one(CodeUnknownType), nil, pointed(func(b []byte, p int) []byte { return edit(b, p+2, 3) }), Options{}, isSmall, ""},
	{27, "parameter of type −5", warn, one(CodeUnknownType), nil, pointed(func(b []byte, p int) []byte { return edit(b, p+2, 0xfb) }), Options{}, isSmall, ""},
	{28, "8 dimensions", warn, one(CodeTooManyDims), nil, pointed(func(b []byte, p int) []byte { return edit(b, p+3, 8) }), Options{}, isSmall, ""},
	{29, "dimensions 255⁷", warn, one(CodeValueTooLarge), nil, func(t *testing.T) []byte {
		b := with(t, "SUBJECTS", Parameter{Name: "BIG", Type: Float, Dims: []int{1, 1, 1, 1, 1, 1, 1}, Data: make([]byte, 4)})
		return edit(b, pointer(b, param(t, b, "SUBJECTS", "BIG"))+4, 255, 255, 255, 255, 255, 255, 255)
	}, Options{}, isSmall, ""},
	{30, "dimensions [6, 6, 0]", defined, nil, nil, replaced("FORCE_PLATFORM", NewFloats("CAL_MATRIX", []int{6, 6, 0})), Options{}, isSmall, ""},
	{31, "value longer than its record", warn, one(CodeValueOverrun), nil, pointed(func(b []byte, p int) []byte { return edit(b, p+4, 200, 100) }), Options{}, isSmall, ""},
	{32, "more than 10 000 records", fail, nil, ErrLimit, header(func(b []byte) []byte {
		b = b[:516:516]
		for range maxRecords + 1 {
			b = append(b, 1, 1, 'A', 6, 0, 1, 0, 0, 0)
		}
		return append(word(b, 9, len(b)/blockSize+2), make([]byte, 1024)...)
	}), Options{}, nil, ""},
	{33, "VAX reserved operand", warn, one(CodeVAXReserved), nil, func(t *testing.T) []byte {
		f := small()
		f.Processor = DEC
		b := encode(t, f)
		return edit(b, decode(t, b, Options{}).Layout.DataStart+12*4, 0x40, 0x80)
	}, Options{}, nil, ""},
	{34, "big-endian file with the code of VAX", fail, nil, ErrByteOrder, func(t *testing.T) []byte {
		f := small()
		f.Processor = MIPS
		return edit(encode(t, f), 515, 85)
	}, Options{}, nil, ""},
	{34, "the same, guessing", warn, one(CodeProcessor), nil, func(t *testing.T) []byte {
		f := small()
		f.Processor = MIPS
		return edit(encode(t, f), 515, 85)
	}, Options{GuessProcessor: true}, func(t *testing.T, f *File) { f.Processor = Intel; sameData(t, f); f.Processor = MIPS }, ""},
	{35, "Latin-1 degree sign", warn, one(CodeTextEncoding), nil, patched("ANALOG", "UNITS", 0xb0), Options{}, func(t *testing.T, f *File) {
		if !strings.HasPrefix(f.Channels[0].Unit, "°") {
			t.Errorf("unit %q", f.Channels[0].Unit)
		}
	}, ""},
	{36, "UTF-8 in a name", warn, one(CodeNonASCIIName), nil, replaced("SUBJECTS", NewFloats("GRÖSSE", nil, 1)), Options{}, isSmall, ""},
	{37, "text cut inside a character", warn, one(CodeTextCut), nil, patched("ANALOG", "UNITS", 'N', 0xe2, 0x82), Options{}, func(t *testing.T, f *File) {
		if f.Channels[0].Unit != "N" {
			t.Errorf("unit %q", f.Channels[0].Unit)
		}
	}, ""},
	{38, "file cut inside the parameters", warn, nil, nil, nil, Options{}, nil, "see TestCutAnywhere and TestCutInParameters"},
	{39, "bytes behind the last frame", defined, nil, nil, header(func(b []byte) []byte { return append(b, "extra"...) }), Options{}, func(t *testing.T, f *File) {
		if string(f.Trailing) != "extra" {
			t.Errorf("%q", f.Trailing)
		}
	}, ""},
}

var layoutRows = []row{
	{40, "header and POINT:USED differ", warn, one(CodeCountMismatch), nil, header(func(b []byte) []byte { return word(b, 2, 9) }), Options{}, isSmall, ""},
	{40, "the same, the parameter being wrong", warn, one(CodeCountMismatch), nil, patched("POINT", "USED", 9, 0), Options{}, isSmall, ""},
	{40, "header and ANALOG:USED differ", warn, one(CodeCountMismatch), nil, patched("ANALOG", "USED", 9, 0), Options{}, isSmall, ""},
	{41, "POINT:USED −35", warn, one(CodeCountMismatch), nil, patched("POINT", "USED", 0xdd, 0xff), Options{}, func(t *testing.T, f *File) {
		sameData(t, f)
		if !strings.Contains(f.Warnings[0].Text, "65501") {
			t.Errorf("not read unsigned: %v", f.Warnings[0])
		}
	}, ""},
	{42, "USED as byte, FRAMES as float", defined, nil, nil,
		replaced("POINT", Parameter{Name: "USED", Type: Byte, Data: []byte{3}}, NewFloats("FRAMES", nil, 12)), Options{}, isSmall, ""},
	{43, "FRAMES 65535, LONG_FRAMES 73285", defined, nil, nil, func(t *testing.T) []byte { return encode(t, long(73285)) }, Options{},
		func(t *testing.T, f *File) { lengthOf(t, f, 73285) }, ""},
	{44, "FRAMES 65535 and no other source", defined, nil, nil, func(t *testing.T) []byte { return encode(t, long(65535)) }, Options{},
		func(t *testing.T, f *File) { lengthOf(t, f, 65535) }, ""},
	{45, "the same, with more present", warn, one(CodeMoreFrames), nil, func(t *testing.T) []byte {
		return append(encode(t, long(65535)), make([]byte, 14336)...)
	}, Options{}, nil, ""},
	{46, "FRAMES one too many", warn, one(CodeFrameCount), nil, func(t *testing.T) []byte {
		b := encode(t, small())
		b = b[:decode(t, b, Options{}).Layout.DataEnd]
		return word(edit(b, valueAt(t, b, "POINT", "FRAMES"), 13, 0), 5, 13)
	}, Options{}, isSmall, ""},
	{47, "1149 frames declared, 12 present", warn, one(CodeTruncated), nil, func(t *testing.T) []byte {
		b := encode(t, small())
		b = b[:decode(t, b, Options{}).Layout.DataEnd]
		return word(edit(b, valueAt(t, b, "POINT", "FRAMES"), 0x7d, 0x04), 5, 1149)
	}, Options{}, isSmall, ""},
	{48, "cut inside a frame", warn, one(CodeTruncated), nil, func(t *testing.T) []byte {
		b := encode(t, small())
		return b[:decode(t, b, Options{}).Layout.DataEnd-100]
	}, Options{}, func(t *testing.T, f *File) {
		if f.Frames != 11 || len(f.Points[0].Position) != 11 {
			t.Errorf("%d frames", f.Frames)
		}
	}, ""},
	{49, "FRAMES 0", defined, nil, nil, func(t *testing.T) []byte {
		return encode(t, &File{Rate: 100, Units: "mm", Points: []Point{{Label: "A"}}})
	}, Options{}, func(t *testing.T, f *File) {
		if f.Header.FirstFrame != 1 || f.Header.LastFrame != 0 || f.Frames != 0 || len(f.Points) != 1 || len(f.Points[0].Position) != 0 {
			t.Errorf("%d frames, %d points", f.Frames, len(f.Points))
		}
	}, ""},
	{50, "first frame 0", defined, nil, nil, header(func(b []byte) []byte { return word(word(b, 4, 0), 5, 11) }), Options{}, func(t *testing.T, f *File) {
		if f.FirstFrame != 0 || f.FrameTime(0) != 0 {
			t.Errorf("first frame %d at %g s", f.FirstFrame, f.FrameTime(0))
		}
	}, ""},
	{51, "last frame before the first", warn, one(CodeFrameRange, CodeEventRange), nil, header(func(b []byte) []byte { return word(word(b, 4, 12), 5, 1) }), Options{}, nil, "without POINT:FRAMES see trap 20"},
	{52, "TRIAL fields of [2, 1], [2] and single numbers", defined, nil, nil,
		replaced("TRIAL", NewInts("ACTUAL_START_FIELD", []int{2, 1}, 1, 0), NewInts("ACTUAL_END_FIELD", nil, 12)), Options{}, isSmall, ""},
	{53, "rate 0", warn, one(CodeNoRate), nil, func(t *testing.T) []byte {
		return float(with(t, "POINT", NewFloats("RATE", nil, 0)), 11, 0)
	}, Options{}, func(t *testing.T, f *File) { checkError(t, f.CheckRate(), ErrRate) }, ""},
	{54, "ANALOG:RATE 0 without channels", defined, nil, nil, func(t *testing.T) []byte {
		f := small()
		f.Channels, f.Plates = nil, nil
		f.Groups.Set("ANALOG", NewFloats("RATE", nil, 0))
		return encode(t, f)
	}, Options{}, nil, ""},
	{55, "ratio of the rates 16.67", warn, one(CodeRateRatio), nil, replaced("ANALOG", NewFloats("RATE", nil, 1667)), Options{}, isSmall, ""},
	{56, "word 3 no multiple of word 10", warn, one(CodeCountMismatch, CodeAnalog, CodePlateChannel), nil, func(t *testing.T) []byte {
		return edit(word(encode(t, small()), 10, 5), valueAt(t, encode(t, small()), "ANALOG", "USED"), 0, 0)
	}, Options{}, func(t *testing.T, f *File) { checkError(t, f.AnalogErr, ErrAnalogLayout) },
		"the error is that of the channels (File.AnalogErr), the points can be read"},
	{57, "word 10 is 0", warn, one(CodeRateRatio), nil, header(func(b []byte) []byte { return word(b, 10, 0) }), Options{}, isSmall, ""},
	{58, "DATA_START 0", warn, one(CodeDataStart), nil, patched("POINT", "DATA_START", 0, 0), Options{}, isSmall, ""},
	{59, "start of the data inside the parameters", warn, one(CodeDataStart), nil, header(func(b []byte) []byte { return word(b, 9, 3) }), Options{}, isSmall, ""},
	{60, "start of the data at block 33000", defined, nil, nil, func(t *testing.T) []byte {
		b := encode(t, small())
		start := decode(t, b, Options{}).Layout.DataStart
		c := pad(slices.Clone(b[:start]), 32999*blockSize)
		return edit(word(append(c, b[start:]...), 9, 33000), valueAt(t, b, "POINT", "DATA_START"), 0xe8, 0x80)
	}, Options{}, isSmall, ""},
	{61, "no POINT group", defined, nil, nil, func(t *testing.T) []byte {
		f := small()
		f.Points, f.Plates, f.Units, f.Groups = nil, nil, "", nil
		b := encode(t, f)
		return assemble(t, decode(t, b, Options{}), func(w *writer) {
			w.groups = slices.DeleteFunc(w.groups, func(g Group) bool { return g.Name == "POINT" })
		})
	}, Options{}, func(t *testing.T, f *File) {
		if len(f.Points) != 0 || len(f.Channels) != 12 {
			t.Errorf("%d points, %d channels", len(f.Points), len(f.Channels))
		}
	}, ""},
	{62, "no ANALOG group", defined, nil, nil, func(t *testing.T) []byte {
		return encode(t, &File{Rate: 50, Units: "mm", Points: small().Points})
	}, Options{}, func(t *testing.T, f *File) {
		if len(f.Channels) != 0 || f.AnalogRate() != 0 {
			t.Errorf("%d channels", len(f.Channels))
		}
	}, ""},
	{63, "scale 0 with integers", warn, one(CodeScale, CodePoints), nil, integer(nil, func(t *testing.T, b []byte) []byte {
		return float(edit(b, valueAt(t, b, "POINT", "SCALE"), 0, 0, 0, 0), 7, 0)
	}), Options{}, func(t *testing.T, f *File) { checkError(t, f.PointsErr, ErrScale) },
		"the error is that of the points (File.PointsErr), the channels can be read"},
	{64, "header scale +1, POINT:SCALE negative", warn, one(CodeScaleSign, CodeScaleMismatch), nil, header(func(b []byte) []byte { return float(b, 7, 1) }), Options{}, isSmall, ""},
	{65, "sizes that fit neither integers nor reals", fail, nil, ErrLayout, func(t *testing.T) []byte {
		b := float(encode(t, small()), 7, 1)
		return b[:decode(t, b, Options{}).Layout.DataEnd-300]
	}, Options{}, nil, ""},
	{66, "far more declared than present", warn, one(CodeTruncated), nil, func(t *testing.T) []byte {
		return word(with(t, "POINT", NewInts("FRAMES", nil, 65535), NewFloats("LONG_FRAMES", nil, 1e9)), 5, 65535)
	}, Options{}, nil, "not an error: nothing is allocated for frames that are not there, and real files that were cut look the same"},
}

var pointRows = []row{
	{67, "fourth number −1 with coordinates", defined, nil, nil, frame0(1, 2, 3, -1), Options{}, gone, ""},
	{68, "NaN coordinate", warn, one(CodeNaNPoint), nil, frame0(1, math.NaN(), 3, 0), Options{}, gone, ""},
	{69, "infinite coordinate", warn, one(CodeInfPoint), nil, frame0(1, math.Inf(-1), 3, 0), Options{}, gone, ""},
	{70, "coordinates 9999999", warn, one(CodeSentinel), nil, frame0(9999999, 9999999, 9999999, 0), Options{}, gone, ""},
	{71, "the origin with residual 0", defined, nil, nil, frame0(0, 0, 0, 0), Options{}, func(t *testing.T, f *File) {
		if f.Points[0].Position[0] != (r3.Vec{}) {
			t.Error("taken as missing")
		}
	}, ""},
	{71, "the same, as missing", defined, nil, nil, frame0(0, 0, 0, 0), Options{ZeroIsMissing: true}, gone, ""},
	{72, "residual word 300.7", warn, one(CodeResidualFraction), nil, frame0(1, 2, 3, 300.7), Options{}, func(t *testing.T, f *File) {
		if p := f.Points[0]; p.Residual[0] != 45*0.0625 || p.Cameras[0] != 1 { // 301 = 256 + 45
			t.Errorf("residual %g, cameras %b", p.Residual[0], p.Cameras[0])
		}
	}, ""},
	{73, "unit mete", warn, one(CodeUnitSpelling), nil, replaced("POINT", NewText("UNITS", "mete")), Options{}, func(t *testing.T, f *File) {
		if m, err := f.UnitMetres(); m != 1 || err != nil {
			t.Errorf("%g m, %v", m, err)
		}
	}, ""},
	{74, "no unit", warn, one(CodeUnitUnknown), nil, replaced("POINT", NewText("UNITS", "  ")), Options{}, func(t *testing.T, f *File) {
		_, err := f.UnitMetres()
		checkError(t, err, ErrUnit)
	}, ""},
	{75, "a unit for each point, all equal", defined, nil, nil, replaced("POINT", NewText("UNITS", "mm", "mm", "mm")), Options{}, isSmall, ""},
	{75, "a unit for each point, different ones", warn, one(CodeMixedUnits), nil, replaced("POINT", NewText("UNITS", "mm", "m ", "mm")), Options{}, func(t *testing.T, f *File) {
		_, err := f.UnitMetres()
		checkError(t, err, ErrMixedUnits)
	}, ""},
	{76, "fewer labels than points", warn, one(CodeMissingLabels), nil, replaced("POINT", NewText("LABELS", "HIP", "KNEE")), Options{}, func(t *testing.T, f *File) {
		if f.Points[2].Label != "M003" {
			t.Errorf("label %q", f.Points[2].Label)
		}
	}, ""},
	{77, "one label twice", warn, one(CodeDuplicateLabel), nil, replaced("POINT", NewText("LABELS", "HIP", "HIP", "HIPANGLE")), Options{}, func(t *testing.T, f *File) {
		if f.PointIndex("HIP") != 0 {
			t.Error("looking it up does not find the first")
		}
	}, ""},
	{78, "LABELS2 behind a short LABELS", warn, one(CodeLabelsSplit), nil, replaced("POINT", NewText("LABELS", "HIP", "KNEE"),
		Parameter{Name: "LABELS2", Type: Char, Dims: []int{8, 1}, Data: []byte("HIPANGLE")}), Options{}, isSmall, ""},
	{79, "300 labels of width 0", warn, one(CodeMissingLabels), nil, replaced("POINT", Parameter{Name: "LABELS", Type: Char, Dims: []int{0, 150, 2}}), Options{}, func(t *testing.T, f *File) {
		if f.Points[0].Label != "M001" {
			t.Errorf("label %q", f.Points[0].Label)
		}
	}, ""},
	{80, "25 events in the header", warn, one(CodeEventCount), nil, header(func(b []byte) []byte { return word(b, 151, 25) }), Options{}, func(t *testing.T, f *File) {
		if len(f.Header.Events) != 18 {
			t.Errorf("%d events", len(f.Header.Events))
		}
	}, ""},
	{81, "event outside the recording", warn, one(CodeEventRange), nil, header(func(b []byte) []byte { return float(b, 153, 8) }), Options{}, func(t *testing.T, f *File) {
		if !f.Events[0].OutOfRange || f.Events[1].OutOfRange {
			t.Error("not marked")
		}
	}, ""},
	{82, "event at NaN", warn, one(CodeEventTime), nil, replaced("EVENT", NewFloats("TIMES", []int{2, 2}, 0, math.NaN(), 0, 0.05)), Options{}, func(t *testing.T, f *File) {
		if e := groupEvents(f)[0]; !math.IsNaN(e.Time) || !e.OutOfRange {
			t.Errorf("%+v", e)
		}
	}, ""},
	{82, "negative minutes", warn, one(CodeEventTime, CodeEventRange), nil, replaced("EVENT", NewFloats("TIMES", []int{2, 2}, -1, 0.05, 0, 0.05)), Options{}, nil, ""},
	{83, "EVENT:TIMES in one dimension", defined, nil, nil, replaced("EVENT", NewFloats("TIMES", []int{4}, 0, 0.03125, 0, 0.109375)), Options{}, isSmall, ""},
	{84, "EVENT:USED 12, 2 times", warn, one(CodeEventCount), nil, replaced("EVENT", NewInts("USED", nil, 12)), Options{}, isSmall, ""},
	{85, "events without label and context", warn, one(CodeEventText), nil, func(t *testing.T) []byte { return stripped(t, "EVENT:LABELS", "EVENT:CONTEXTS") }, Options{}, func(t *testing.T, f *File) {
		if e := groupEvents(f)[1]; e.Label != "" || e.Context != "General" {
			t.Errorf("%+v", e)
		}
	}, ""},
	{86, "event times from the first stored frame", warn, one(CodeEventClock, CodeFirstFrame), nil, replaced("TRIAL", NewInts("ACTUAL_START_FIELD", []int{2}, 200, 0), NewInts("ACTUAL_END_FIELD", []int{2}, 211, 0)), Options{}, func(t *testing.T, f *File) {
		if e := groupEvents(f)[0]; e.Time != 0.03125 {
			t.Errorf("%+v", e)
		}
	}, ""},
	{87, "word 150 is 57", warn, one(CodeEventKey), nil, header(func(b []byte) []byte { return word(b, 150, 57) }), Options{}, isSmall, ""},
	{87, "word 150 is 0", warn, one(CodeEventKey), nil, header(func(b []byte) []byte { return word(b, 150, 0) }), Options{}, func(t *testing.T, f *File) {
		if f.Events[0].Label != "TO" {
			t.Errorf("label %q", f.Events[0].Label)
		}
	}, ""},
	{88, "events out of order", defined, nil, nil, replaced("EVENT", NewFloats("TIMES", []int{2, 2}, 0, 0.1, 0, 0.05)), Options{}, func(t *testing.T, f *File) {
		if e := groupEvents(f); e[0].Time < e[1].Time || f.EventsByTime()[0].Label != "Foot Off" {
			t.Errorf("stored %+v, sorted %+v", e, f.EventsByTime())
		}
	}, ""},
}

var plateRows = []row{
	{89, "no OFFSET", warn, one(CodeDefaultOffset), nil, func(t *testing.T) []byte { return stripped(t, "ANALOG:OFFSET") }, Options{}, nil,
		"0 is taken with a warning, because a forgotten offset is a common cause of wrong forces"},
	{89, "OFFSETS", warn, one(CodeMisspelt), nil, func(t *testing.T) []byte {
		return assemble(t, small(), func(w *writer) { w.groups.Find("ANALOG", "OFFSET").Name = "OFFSETS" })
	}, Options{}, isSmall, ""},
	{90, "SCALE shorter than USED", warn, one(CodeDefaultScale), nil, replaced("ANALOG", NewFloats("SCALE", nil, -0.5, -0.5)), Options{}, nil, ""},
	{91, "SCALE 0 for one channel", warn, one(CodeBadScale), nil, patched("ANALOG", "SCALE", 0, 0, 0, 0), Options{}, func(t *testing.T, f *File) {
		if v := f.Channels[0].Values[0]; !math.IsNaN(v) || math.IsNaN(f.Channels[1].Values[0]) {
			t.Errorf("value %g", v)
		}
	}, ""},
	{92, "GEN_SCALE 0", warn, one(CodeGenScale), nil, patched("ANALOG", "GEN_SCALE", 0, 0, 0, 0), Options{}, isSmall, ""},
	{93, "GEN_SCALE −1", defined, nil, nil, patched("ANALOG", "GEN_SCALE", reals(-1)...), Options{}, func(t *testing.T, f *File) {
		if f.Channels[0].Values[9] != -small().Channels[0].Values[9] {
			t.Error("not applied")
		}
	}, ""},
	{94, "UNSIGNED, OFFSET −32768", defined, nil, nil, integer(func(f *File) {
		f.Unsigned = true
		for i := range f.Channels {
			f.Channels[i].Offset = 32768
		}
	}, nil), Options{}, func(t *testing.T, f *File) {
		if v, _ := f.Groups.Find("ANALOG", "OFFSET").Ints(); v[0] != -32768 || !slices.Equal(f.Channels[3].Values, small().Channels[3].Values) {
			t.Errorf("stored %d, read %g", v[0], f.Channels[3].Values[0])
		}
	}, ""},
	{95, "SIGNED, OFFSET −32768", warn, one(CodeSuspectUnsigned), nil, func(t *testing.T) []byte {
		n := make([]int, 12)
		for i := range n {
			n[i] = -32768
		}
		return with(t, "ANALOG", NewText("FORMAT", "SIGNED"), NewInts("OFFSET", nil, n...))
	}, Options{}, func(t *testing.T, f *File) {
		if f.Unsigned || f.Channels[0].Offset != -32768 {
			t.Error("FORMAT is not obeyed")
		}
	}, ""},
	{96, "FORMAT with other case and blanks", defined, nil, nil, integer(func(f *File) {
		f.Groups.Set("ANALOG", NewText("FORMAT", "unsigned  "))
		f.Unsigned = true
		offsets(f, 32768)
	}, nil), Options{}, func(t *testing.T, f *File) {
		if !f.Unsigned {
			t.Error("not unsigned")
		}
	}, ""},
	{96, "FORMAT UNSIGNED16", warn, one(CodeAnalogFormat), nil, func(t *testing.T) []byte {
		return assemble(t, small(), func(w *writer) { w.groups.Set("ANALOG", NewText("FORMAT", "UNSIGNED16")) })
	}, Options{}, func(t *testing.T, f *File) {
		if f.Unsigned {
			t.Error("unsigned")
		}
	}, ""},
	{97, "BITS 13", defined, nil, nil, replaced("ANALOG", NewInts("BITS", nil, 13)), Options{}, isSmall, ""},
	{98, "a channel at the end of its range", warn, one(CodeSaturated), nil, integer(func(f *File) {
		for k := 7; k < 11; k++ {
			f.Channels[2].Values[k] = -0.5 * (32767 - 2)
		}
		f.Channels[5].Values[1], f.Channels[5].Values[2] = -0.5*(-32768-2), -0.5*(-32768-2)
		f.Channels[6].Values[1], f.Channels[6].Values[2] = -0.5*(-32767-2), -0.5*(-32767-2)
		f.Channels[7].Values[1], f.Channels[7].Values[2] = -0.5*(-32766-2), -0.5*(-32766-2) // not the end
		f.Channels[3].Values[7] = -0.5 * (-32768 - 2)                                       // a single sample is no stretch
	}, nil), Options{}, func(t *testing.T, f *File) {
		if w := f.Warnings[0]; len(f.Warnings) != 3 || w.Where != "channel 3 Fz1" || !strings.Contains(w.Text, "from sample 7, the last to sample 10") {
			t.Errorf("%v", f.Warnings)
		}
	}, ""},
	{99, "2 plates announced, 1 type", warn, one(CodePlateCount), nil, replaced("FORCE_PLATFORM", NewInts("TYPE", []int{1}, 2)), Options{}, func(t *testing.T, f *File) {
		if len(f.Plates) != 1 {
			t.Errorf("%d plates", len(f.Plates))
		}
	}, ""},
	{100, "USED −1", defined, nil, nil, replaced("FORCE_PLATFORM", NewInts("USED", nil, -1)), Options{}, func(t *testing.T, f *File) {
		if len(f.Plates) != 0 {
			t.Errorf("%d plates", len(f.Plates))
		}
	}, ""},
	{101, "CHANNEL beyond the channels", warn, one(CodePlateChannel), nil, replaced("FORCE_PLATFORM", NewInts("CHANNEL", []int{6, 2}, 1, 2, 3, 4, 5, 6, 8, 9, 10, 11, 12, 13)), Options{}, func(t *testing.T, f *File) {
		_, err := f.PlateValues(1)
		checkError(t, err, ErrPlateChannel)
		if _, err = f.PlateValues(0); err != nil {
			t.Error(err)
		}
	}, ""},
	{102, "CHANNEL used twice", warn, one(CodePlateChannelTwin), nil, replaced("FORCE_PLATFORM", NewInts("CHANNEL", []int{6, 2}, 1, 2, 3, 4, 5, 5, 7, 8, 9, 10, 11, 12)), Options{}, nil, ""},
	{103, "TYPE 9", defined, nil, nil, replaced("FORCE_PLATFORM", NewInts("TYPE", []int{2}, 9, 21)), Options{}, func(t *testing.T, f *File) {
		if v, err := f.PlateValues(0); err != nil || len(v) != 6 {
			t.Errorf("the channels can not be had: %d, %v", len(v), err)
		}
	}, "refused for that plate where plates are built; here its parameters and channels come out"},
	{104, "TYPE 4 without CAL_MATRIX", defined, nil, nil, replaced("FORCE_PLATFORM", NewInts("TYPE", []int{2}, 4, 4)), Options{}, func(t *testing.T, f *File) {
		if f.Plates[0].Calibration != nil {
			t.Error("a matrix out of nowhere")
		}
	}, "refused for that plate where plates are built"},
	{105, "CAL_MATRIX singular", "", nil, nil, nil, Options{}, nil, platesElsewhere},
	{106, "CAL_MATRIX in a file of type 2", defined, nil, nil, replaced("FORCE_PLATFORM", NewFloats("CAL_MATRIX", []int{6, 6, 2}, make([]float64, 72)...)), Options{}, isSmall, ""},
	{107, "corners all 0", "", nil, nil, nil, Options{}, nil, platesElsewhere},
	{108, "corners on a line", "", nil, nil, nil, Options{}, nil, platesElsewhere},
	{109, "corners that are no rectangle", "", nil, nil, nil, Options{}, nil, platesElsewhere},
	{110, "corners in the other sense", "", nil, nil, nil, Options{}, nil, platesElsewhere},
	{111, "corners in other units", "", nil, nil, nil, Options{}, nil, platesElsewhere},
	{112, "ORIGIN with z > 0", defined, nil, nil, replaced("FORCE_PLATFORM", NewFloats("ORIGIN", []int{3, 2}, 0, 0, 40, 0, 0, -40)), Options{}, func(t *testing.T, f *File) {
		if f.Plates[0].Origin.Z != 40 {
			t.Errorf("origin %v is not as stored", f.Plates[0].Origin)
		}
	}, platesElsewhere},
	{113, "ORIGIN 0", "", nil, nil, nil, Options{}, nil, platesElsewhere},
	{114, "ORIGIN 400 mm deep", "", nil, nil, nil, Options{}, nil, platesElsewhere},
	{115, "ZERO (1, 0)", defined, nil, nil, replaced("FORCE_PLATFORM", NewInts("ZERO", []int{2}, 1, 0)), Options{}, func(t *testing.T, f *File) {
		_, _, err := f.ZeroFrames()
		checkError(t, err, ErrZero)
	}, ""},
	{116, "ZERO outside the file", defined, nil, nil, replaced("FORCE_PLATFORM", NewInts("ZERO", []int{2}, 5, 100)), Options{}, func(t *testing.T, f *File) {
		_, _, err := f.ZeroFrames()
		checkError(t, err, ErrZero)
	}, "the error comes when somebody asks for the range; whether it is loaded, plates tell"},
	{117, "moments 1000 times too large", "", nil, nil, nil, Options{}, nil, platesElsewhere},
	{118, "loaded vertical negative", "", nil, nil, nil, Options{}, nil, platesElsewhere},
	{119, "a plate that is never loaded", "", nil, nil, nil, Options{}, nil, platesElsewhere},
	{120, "a dead channel", "", nil, nil, nil, Options{}, nil, platesElsewhere},
}

func offsets(f *File, to float64) {
	for i := range f.Channels {
		f.Channels[i].Offset = to
	}
}
