package c3d

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
)

func checkError(t testing.TB, err, want error) {
	t.Helper()
	if !errors.Is(err, want) {
		t.Errorf("got error %v, want %v", err, want)
		return
	}
	var read *FormatError
	var write *WriteError
	var strict *StrictError
	if !errors.As(err, &read) && !errors.As(err, &write) && !errors.As(err, &strict) {
		t.Errorf("error without a place: %v", err)
	}
}

// moved puts n blocks of filler between header and parameters.
func moved(b []byte, n int) []byte {
	f, err := Decode(b, Options{WithoutSamples: true})
	if err != nil {
		panic(err)
	}
	filler := bytes.Repeat([]byte{0xaa}, n*blockSize)
	b = slices.Concat(b[:blockSize], filler, b[blockSize:])
	b[0] += byte(n)
	start := f.Layout.DataBlock + n
	f.Processor.putUint16(b[16:], uint16(start))
	// POINT:DATA_START is a single number: its value is 4 bytes behind the pointer.
	p := f.Groups.Find("POINT", "DATA_START")
	f.Processor.putUint16(b[p.offset+n*blockSize+2+len(p.rawName)+4:], uint16(start))
	return b
}

// pointer returns the offset of the pointer word of a record.
func pointer(b []byte, record int) int {
	n := int(int8(b[record]))
	return record + 2 + max(n, -n)
}

var containerTraps = []trap{
	{1, "nothing is read before the byte order is known", func(t *testing.T) {
		for _, p := range []Processor{Intel, DEC, MIPS} {
			f := small()
			f.Processor = p
			g := decode(t, encode(t, f), Options{Strict: true})
			if g.Processor != p {
				t.Errorf("got %v, want %v", g.Processor, p)
			}
			g.Processor = Intel
			sameData(t, g)
		}
	}, ""},
	{2, "processor codes", func(t *testing.T) {
		b := encode(t, small())
		f := decode(t, edit(b, 515, 1), Options{})
		warned(t, f, CodeProcessor)
		sameData(t, f)
		for _, c := range []byte{0, 4, 83, 87, 200} {
			fails(t, edit(b, 515, c), Options{}, ErrProcessor)
			if _, err := Decode(edit(b, 515, c), Options{}); !strings.Contains(err.Error(), fmt.Sprint(c)) {
				t.Errorf("the error does not name the byte: %v", err)
			}
			f := decode(t, edit(b, 515, c), Options{GuessProcessor: true})
			warned(t, f, CodeProcessor)
			sameData(t, f)
		}
	}, ""},
	{3, "VAX floats", func(t *testing.T) {
		// The patterns are in TestTrap03VAXFloats. Here: reserved operands in a
		// point and in a channel.
		f := small()
		f.Processor = DEC
		b := encode(t, f)
		start := decode(t, b, Options{}).Layout.DataStart
		g := decode(t, edit(b, start+12*4, 0x00, 0x80, 0, 0), Options{}) // first sample of channel 1
		warned(t, g, CodeVAXReserved)
		if v := g.Channels[0].Values; v[0] == v[0] || v[1] != small().Channels[0].Values[1] {
			t.Errorf("values %g, %g", v[0], v[1])
		}
		g = decode(t, edit(b, start+4, 0x00, 0x80, 0, 0), Options{})
		warned(t, g, CodeVAXReserved, CodeNaNPoint)
		if !missing(g.Points[0].Position[0]) {
			t.Errorf("position %v", g.Points[0].Position[0])
		}
	}, ""},
	{4, "parameter section elsewhere", func(t *testing.T) {
		b := encode(t, small())
		for _, n := range []int{1, 5, 9} {
			f := decode(t, moved(b, n), Options{})
			warned(t, f)
			sameData(t, f)
			if f.Layout.ParameterBlock != 2+n {
				t.Errorf("parameter block %d, want %d", f.Layout.ParameterBlock, 2+n)
			}
		}
		for _, p := range []byte{0, 1, 3, 200} {
			f := decode(t, edit(b, 0, p), Options{})
			warned(t, f, CodeParameterPointer)
			sameData(t, f)
		}
		fails(t, b[:blockSize], Options{}, ErrParameterPointer)
		fails(t, edit(moved(b, 3), 0, 0), Options{}, ErrParameterPointer)
	}, ""},
	{5, "zeros before the header", func(t *testing.T) {
		b := encode(t, small())
		f := decode(t, append(make([]byte, 100), b...), Options{})
		warned(t, f, CodeLeadingZeros)
		sameData(t, f)
		if p := f.Groups.Find("POINT", "USED"); p.offset != decode(t, b, Options{}).Groups.Find("POINT", "USED").offset+100 {
			t.Error("offsets do not count the skipped bytes")
		}
		fails(t, append(make([]byte, 100), b...), Options{Strict: true}, ErrStrict)
		fails(t, append(make([]byte, 513), b...), Options{}, ErrNotC3D)
		fails(t, append(make([]byte, 100), b[:500]...), Options{}, ErrNotC3D) // not even a header behind them
	}, ""},
	{6, "reserved bytes of the parameter section", func(t *testing.T) {
		f := decode(t, edit(encode(t, small()), 512, 0, 0), Options{Strict: true})
		sameData(t, f)
		if b := encode(t, f); b[512] != 0 || b[513] != 0 {
			t.Error("rewriting changes them")
		}
	}, ""},
	{7, "wrong count of parameter blocks", func(t *testing.T) {
		b := encode(t, small())
		used := int(b[514])
		for n, code := range map[int]string{1: CodeBlockCount, used - 1: CodeBlockCount, used + 1: CodeSectionOverlap, 255: CodeSectionOverlap, 0: CodeBlockCount} {
			f := decode(t, edit(b, 514, byte(n)), Options{})
			warned(t, f, code)
			sameData(t, f)
		}
		// A count of 0 with no records: everything is in the header.
		f := decode(t, edit(b, 514, append([]byte{0, 84}, make([]byte, 508)...)...), Options{})
		warned(t, f, CodeNoParameters, CodeMissingLabels, CodeDefaultScale, CodeDefaultOffset, CodeUnitUnknown)
		if len(f.Points) != 3 || len(f.Channels) != 12 || f.Frames != 12 || f.Rate != 100 || f.Points[0].Position[3].X != 3 {
			t.Errorf("read %d points, %d channels, %d frames at %g", len(f.Points), len(f.Channels), f.Frames, f.Rate)
		}
	}, ""},
	{8, "ends of the parameters", func(t *testing.T) {
		b := encode(t, small())
		end := decode(t, b, Options{}).Layout.ParameterEnd
		last := param(t, b, "SUBJECTS", "MASS")
		f := decode(t, edit(b, pointer(b, last), 0, 0), Options{Strict: true}) // next pointer 0
		sameData(t, f)
		if f.Groups.Find("SUBJECTS", "MASS") == nil {
			t.Error("the last parameter is lost")
		}
		f = decode(t, edit(b, end, 4, 0, 'A', 'B', 'C', 'D'), Options{}) // group 0
		warned(t, f, CodeSectionEnd)
		sameData(t, f)
		// No end mark at all: a record fills the last block up to the data.
		var c []byte
		for n := 0; n < 510; n++ {
			f := small()
			p := NewText("FILL", strings.Repeat("x", max(0, n-255)))
			p.Description = strings.Repeat("d", min(n, 255))
			f.Groups.Set("SUBJECTS", p)
			c = encode(t, f)
			if end = decode(t, c, Options{}).Layout.ParameterEnd; end%blockSize == 0 {
				break
			}
		}
		if end%blockSize != 0 {
			t.Fatalf("the parameters end inside a block, at %d", end)
		}
		cut := slices.Concat(c[:end], c[end+blockSize:]) // without the block that held the mark
		cut = word(cut, 9, end/blockSize+1)
		cut = edit(cut, valueAt(t, c, "POINT", "DATA_START"), byte(end/blockSize+1), 0)
		cut[514]--
		f = decode(t, cut, Options{Strict: true}) // the data begin with zeros, which serve as the mark
		sameData(t, f)
		f = decode(t, edit(cut, end, 0x20, 0x9e, 0x41, 0x9d), Options{})
		warned(t, f, CodeSectionEnd)
		f.Points[0].Position[0].X = 0
		sameData(t, f)
	}, ""},
	{9, "next pointers that lie", func(t *testing.T) {
		b := encode(t, small())
		at := param(t, b, "ANALOG", "USED")
		for _, by := range []int{1, 3, -1, 200, 60000} {
			f := decode(t, edit(b, pointer(b, at), binary.LittleEndian.AppendUint16(nil, uint16(int(Intel.uint16(b[pointer(b, at):]))+by))...), Options{})
			warned(t, f, CodeNextPointer)
			sameData(t, f)
		}
		// Swapped bytes in a big-endian file.
		m := small()
		m.Processor = MIPS
		c := encode(t, m)
		at = pointer(c, param(t, c, "POINT", "RATE"))
		f := decode(t, edit(c, at, c[at+1], c[at]), Options{})
		warned(t, f, CodeNextPointer)
		f.Processor = Intel
		sameData(t, f)
		// The length of the description left out.
		at = param(t, b, "POINT", "RATE")
		p := pointer(b, at)
		end := p + int(Intel.uint16(b[p:]))
		short := slices.Concat(b[:end-1], b[end:])
		short = edit(short, p, byte(end-1-p), 0)
		short = slices.Insert(short, decode(t, b, Options{}).Layout.ParameterEnd, 0)
		f = decode(t, short, Options{})
		warned(t, f, CodeNoDescription)
		sameData(t, f)
		// A pointer into its own record is no loop.
		for v := range 4 {
			f = decode(t, edit(b, p, byte(v), 0), Options{})
			if v == 0 {
				continue // legal: the end of the parameters
			}
			warned(t, f, CodeLoop)
			sameData(t, f)
		}
		// A crafted file with more records than anybody writes.
		many := append([]byte(nil), b[:516]...)
		for range maxRecords + 1 {
			many = append(many, 1, 1, 'A', 5, 0, 1, 0, 0, 0)
			many[len(many)-6] = 6
		}
		many = word(many, 9, len(many)/blockSize+2)
		fails(t, append(many, make([]byte, 2*blockSize)...), Options{}, ErrLimit)
	}, ""},
	{10, "a value beyond its next pointer", func(t *testing.T) {
		b := encode(t, small())
		at := param(t, b, "SUBJECTS", "NAMES")
		f := decode(t, edit(b, pointer(b, at)+4, 200, 200), Options{}) // 40000 characters
		warned(t, f, CodeValueOverrun)
		if p := f.Groups.Find("SUBJECTS", "NAMES"); len(p.Data) != 0 || f.Groups.Floats("SUBJECTS", "MASS")[0] != 71.5 {
			t.Errorf("value %q, next %v", p.Data, f.Groups.Floats("SUBJECTS", "MASS"))
		}
		sameData(t, f)
	}, ""},
	{11, "groups and parameters in any order", func(t *testing.T) {
		f := decode(t, encode(t, small()), Options{})
		// Sparse numbers, and every parameter before every group.
		n := 0
		for i := range f.Groups {
			g := &f.Groups[i]
			g.ID, g.order = 100-7*i, 1000+i
			for j := range g.Parameters {
				n++
				g.Parameters[j].order = 1 + (n*37)%500
			}
		}
		g := decode(t, encode(t, f), Options{Strict: true})
		sameData(t, g)
		if g.Groups.Floats("SUBJECTS", "MASS")[0] != 71.5 {
			t.Error("a parameter went to another group")
		}
	}, ""},
	{12, "orphans and duplicates", func(t *testing.T) {
		f := decode(t, encode(t, small()), Options{})
		for i := range f.Groups {
			if f.Groups[i].Name == "SUBJECTS" {
				f.Groups[i].absent = true // its record is not written
			}
		}
		b := encode(t, f)
		g := decode(t, b, Options{})
		warned(t, g, CodeOrphan)
		if v := g.Groups.Floats(fmt.Sprintf("GID_%d", f.Groups[len(f.Groups)-1].ID), "MASS"); len(v) != 1 || v[0] != 71.5 {
			t.Errorf("orphan: %v", v)
		}
		if c := encode(t, g); !bytes.Equal(b, c) {
			t.Error("orphans are not written as they were")
		}
		// Orphans that belong to TRIAL are found.
		f = long(70000)
		b = encode(t, f)
		g = decode(t, b, Options{})
		for i := range g.Groups {
			if g.Groups[i].Name == "TRIAL" {
				g.Groups[i].absent = true
			}
		}
		b = assemble(t, g, func(w *writer) { w.remove("POINT", "LONG_FRAMES") })
		g = decode(t, b, Options{})
		warned(t, g, CodeOrphan)
		lengthOf(t, g, 70000)
		f = small()
		f.Groups = append(f.Groups, Group{Name: "subjects", Parameters: []Parameter{NewFloats("MASS", nil, 1), NewFloats("HEIGHT", nil, 1.8)}})
		g = decode(t, encode(t, f), Options{})
		warned(t, g, CodeDuplicateGroup, CodeDuplicateParam)
		if g.Groups.Floats("SUBJECTS", "MASS")[0] != 71.5 || g.Groups.Floats("SUBJECTS", "HEIGHT")[0] != single(1.8) {
			t.Error("lookups do not merge groups of one name, the first hit winning")
		}
		g.Groups = slices.DeleteFunc(g.Groups, func(g Group) bool { return g.Name == "subjects" })
		i := len(g.Groups) - 1
		g.Groups[i].Parameters = append(g.Groups[i].Parameters, NewFloats("mass", nil, 3))
		h := decode(t, encode(t, g), Options{})
		warned(t, h, CodeDuplicateParam)
		if h.Groups.Floats("SUBJECTS", "MASS")[0] != 71.5 || len(h.Groups[i].Parameters) != 3 {
			t.Error("the second parameter of a name is lost, or wins")
		}
	}, ""},
	{13, "locked names", func(t *testing.T) {
		f := small()
		f.Groups[4].Locked = true
		f.Groups[4].Parameters[0].Locked = true
		g := decode(t, encode(t, f), Options{Strict: true})
		sameData(t, g)
		h := decode(t, encode(t, g), Options{Strict: true})
		for i := range h.Groups {
			if s := h.Groups[i].Name == "SUBJECTS"; h.Groups[i].Locked != s || h.Groups[i].Parameters[0].Locked != s {
				t.Errorf("group %s: locked %v", h.Groups[i].Name, h.Groups[i].Locked)
			}
		}
		b := encode(t, small())
		h = decode(t, edit(b, param(t, b, "SUBJECTS", "MASS"), 0x80), Options{}) // a length of −128
		warned(t, h, CodeSectionEnd)
		sameData(t, h)
	}, ""},
	{14, "names: case, blanks, misspellings", func(t *testing.T) {
		f := decode(t, encode(t, small()), Options{})
		for i := range f.Groups {
			f.Groups[i].Name = strings.ToLower(f.Groups[i].Name)
			for j := range f.Groups[i].Parameters {
				f.Groups[i].Parameters[j].Name = strings.ToLower(f.Groups[i].Parameters[j].Name) + "  "
			}
		}
		g := decode(t, encode(t, f), Options{Strict: true})
		sameData(t, g)
		if !g.Groups.Has(" Force_Platform ") || g.Groups.Find("force_PLATFORM", "used") == nil || g.Groups[0].Name != "subjects" && g.Groups[0].Name != "point" {
			t.Errorf("groups %q", g.Groups[0].Name)
		}
		b := assemble(t, small(), func(w *writer) {
			for i := range w.groups {
				switch g := &w.groups[i]; g.Name {
				case "FORCE_PLATFORM":
					g.Name = "FORCE_PLATEFORM"
				case "EVENT":
					g.Name = "EVENTS"
				case "ANALOG":
					w.groups.Find("ANALOG", "OFFSET").Name = "OFFSETS"
				}
			}
		})
		h := decode(t, b, Options{})
		warned(t, h, CodeMisspelt)
		sameData(t, h)
		rewrite(t, h)
	}, ""},
	{15, "unexpected number types", func(t *testing.T) {
		n := float64(12)
		b := assemble(t, small(), func(w *writer) {
			w.groups.Set("POINT", Parameter{Name: "USED", Type: Byte, Data: []byte{3}})
			w.groups.Set("POINT", NewFloats("FRAMES", nil, n))
			w.groups.Set("ANALOG", NewFloats("OFFSET", []int{12}, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2, 2))
			w.groups.Set("ANALOG", NewInts("USED", []int{1, 1}, 12))
			w.groups.Set("FORCE_PLATFORM", NewFloats("USED", []int{1}, 2))
			w.groups.Set("FORCE_PLATFORM", NewInts("ZERO", []int{2, 1}, 1, 2))
		})
		f := decode(t, b, Options{Strict: true})
		sameData(t, f)
		if g := decode(t, encode(t, f), Options{}); g.Groups.Find("POINT", "FRAMES").Type != Float || g.Groups.Find("POINT", "USED").Type != Byte {
			t.Error("rewriting changes the types")
		}
		g := decode(t, with(t, "POINT", NewText("USED", "3"), NewText("SCALE", "-1")), Options{})
		warned(t, g, CodeParameterType)
		sameData(t, g)
		g = decode(t, with(t, "POINT", NewInts("LABELS", nil, 1, 2, 3)), Options{})
		warned(t, g, CodeParameterType, CodeMissingLabels)
		var place *FormatError
		if _, err := g.Groups.Find("POINT", "LABELS").Strings(); !errors.As(err, &place) || place.Offset != int64(param(t, encode(t, g), "POINT", "LABELS")) {
			t.Errorf("numbers as text: %v", err)
		}
		if _, err := ref(NewText("USED", "3")).Ints(); !errors.As(err, &place) || place.Offset != -1 {
			t.Errorf("text as integers: %v", err)
		}
		if _, err := ref(NewText("USED", "3")).Floats(); !errors.Is(err, ErrType) {
			t.Errorf("text as a number: %v", err)
		}
		if _, err := ref(NewFloats("X", nil, 1e12)).Ints(); !errors.Is(err, ErrType) {
			t.Errorf("a float beyond integers: %v", err)
		}
	}, ""},
	{16, "counts are unsigned", func(t *testing.T) {
		v, err := ref(NewInts("N", nil, 65501, 7)).Counts()
		if err != nil || v[0] != 65501 || v[1] != 7 {
			t.Errorf("counts %v, %v", v, err)
		}
		if v, _ := (&Parameter{Name: "N", Type: Byte, Data: []byte{200}}).Counts(); v[0] != 200 {
			t.Errorf("byte count %d", v[0])
		}
		// Dimensions of 255⁷: no memory, no overflow.
		f := decode(t, with(t, "SUBJECTS", NewInts("BIG", []int{1, 1, 1, 1, 1, 1, 1}, 1)), Options{})
		b := encode(t, f)
		at := pointer(b, param(t, b, "SUBJECTS", "BIG")) + 4
		g := decode(t, edit(b, at, 255, 255, 255, 255, 255, 255, 255), Options{})
		warned(t, g, CodeValueTooLarge)
		sameData(t, g)
	}, ""},
	{17, "more than 255 labels", func(t *testing.T) {
		f := &File{Rate: 10, Units: "m", SamplesPerFrame: 1}
		for i := range 600 {
			f.Points = append(f.Points, Point{Label: fmt.Sprintf("P%d", i), Description: fmt.Sprint("d", i), Position: make([]vec, 2)})
			f.Channels = append(f.Channels, Channel{Label: fmt.Sprintf("C%d", i), Unit: fmt.Sprintf("u%d", i), Scale: float64(i + 1), Offset: float64(i), Values: make([]float64, 2)})
		}
		g := decode(t, encode(t, f), Options{Strict: true})
		if p := g.Groups.Find("POINT", "LABELS3"); p == nil || p.Dims[1] != 90 {
			t.Fatalf("LABELS3 %v", p)
		}
		for i := range 600 {
			p, c := g.Points[i], g.Channels[i]
			if p.Label != fmt.Sprintf("P%d", i) || p.Description != fmt.Sprint("d", i) || c.Label != fmt.Sprintf("C%d", i) ||
				c.Unit != fmt.Sprintf("u%d", i) || c.Scale != float64(i+1) || c.Offset != float64(i) {
				t.Fatalf("%d: %+v %+v", i, p, c)
			}
		}
		// Fewer again: the continuations go.
		g.Points, g.Channels = g.Points[:10], g.Channels[:10]
		h := decode(t, encode(t, g), Options{Strict: true})
		if h.Groups.Find("POINT", "LABELS2") != nil && h.Groups.Find("POINT", "LABELS2").Len() > 0 && len(h.Groups.Strings("POINT", "LABELS")) < 10 {
			t.Error("labels are lost")
		}
		// A second list though the first is not full.
		f = decode(t, with(t, "POINT", NewText("LABELS", "HIP", "KNEE"), Parameter{Name: "LABELS2", Type: Char, Dims: []int{8, 1}, Data: []byte("HIPANGLE")}), Options{})
		warned(t, f, CodeLabelsSplit)
		if f.Points[2].Label != "HIPANGLE" {
			t.Errorf("label %q", f.Points[2].Label)
		}
	}, ""},
	{18, "limits of the section", func(t *testing.T) {
		f := small()
		for i := range 3 {
			f.Groups.Set("FILL", Parameter{Name: fmt.Sprintf("F%d", i), Type: Byte, Dims: []int{255, 250}, Data: make([]byte, 255*250)})
		}
		_, err := Append(nil, f)
		checkError(t, err, ErrTooLarge)
		f = small()
		f.Groups.Set("FILL", Parameter{Name: "F", Type: Byte, Dims: []int{255, 255}, Data: make([]byte, 255*255)})
		sameData(t, decode(t, encode(t, f), Options{Strict: true})) // 127 blocks and more
		f.Groups.Set("FILL", Parameter{Name: "F", Type: Float, Dims: []int{255, 255}, Data: make([]byte, 4*255*255)})
		_, err = Append(nil, f)
		checkError(t, err, ErrTooLarge)
	}, ""},
	{19, "files of other programs", func(t *testing.T) {
		fails(t, nil, Options{}, ErrTooShort)
		fails(t, make([]byte, 511), Options{}, ErrTooShort)
		fails(t, make([]byte, 4096), Options{}, ErrNotC3D)
		fails(t, bytes.Repeat([]byte("Model: cube\r\n"), 100), Options{}, ErrNotC3D)
	}, ""},
}
