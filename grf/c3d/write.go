package c3d

import (
	"fmt"
	"io"
	"math"

	"example.com/momentarm/grf"
)

// Encode writes f as a C3D file, in one call of Write and only when all of f
// can be written.
//
// The fields of f win over f.Groups: the parameters that they determine
// (of POINT, ANALOG, FORCE_PLATFORM, EVENT and TRIAL) and the header are made
// to agree with them. A parameter that agrees already is written with its own
// bytes, and so are numbers of frames that still have the value that was read.
// For the latter Encode looks at the bytes that were given to [Decode]; should
// they have changed, the numbers are computed from the values instead, which
// can differ from the original in the last bit.
//
// Errors wrap [ErrRange] for a number that the number format can not hold,
// [ErrLabelLength], [ErrTooLarge], [ErrParameter] or [grf.ErrLength].
func Encode(w io.Writer, f *File) error {
	b, err := Append(nil, f)
	if err != nil {
		return err
	}
	if _, err := w.Write(b); err != nil {
		return fmt.Errorf("c3d: writing: %w", err)
	}
	return nil
}

// Append appends the C3D file to dst, as [Encode] does. After an error dst is
// returned as it was.
func Append(dst []byte, f *File) ([]byte, error) {
	w := writer{f: f}
	if err := w.prepare(); err != nil {
		return dst, err
	}
	out, err := w.file(dst)
	if err != nil {
		return dst, err
	}
	return out, nil
}

// writer is the state of one Append.
type writer struct {
	f *File
	// The facts of f with their defaults filled in.
	frames, first, perFrame int
	pointScale, gen         float64
	channels                []scaling
	groups                  Groups
}

// scaling is how the values of a channel become stored numbers.
type scaling struct {
	scale, offset float64 // as stored
	factor        float64
}

// prepare checks f and fills in the defaults.
func (w *writer) prepare() error {
	f := w.f
	for _, err := range []error{f.PointsErr, f.AnalogErr} {
		if err != nil {
			return &WriteError{Place: "File", Index: -1, Err: err, Detail: "a part that could not be read can not be written"}
		}
	}
	if f.Processor > MIPS || f.Storage > Integer {
		return &WriteError{Place: "File", Index: -1, Err: ErrRange, Detail: fmt.Sprintf("processor %d, storage %d", f.Processor, f.Storage)}
	}
	if f.PointScale != 0 && !(f.PointScale > 0 && storable(f.PointScale)) {
		return &WriteError{Place: "PointScale", Index: -1, Err: ErrRange, Detail: fmt.Sprint(f.PointScale)}
	}
	if f.GenScale != 0 && !storable(f.GenScale) {
		return &WriteError{Place: "GenScale", Index: -1, Err: ErrRange, Detail: fmt.Sprint(f.GenScale)}
	}
	w.perFrame = f.SamplesPerFrame
	if w.perFrame == 0 && len(f.Channels) > 0 {
		w.perFrame = 1
	}
	w.first = f.FirstFrame
	if w.first == 0 && !(f.decoded && f.stored.firstFrame == 0) {
		w.first = 1
	}
	if err := w.count(); err != nil {
		return err
	}
	for _, c := range []struct {
		what  string
		n     int
		limit int
	}{
		{"Frames", w.frames, maxFrames}, {"FirstFrame", w.first, maxFrames},
		{"SamplesPerFrame", w.perFrame, math.MaxUint16},
		{"Points", len(f.Points), math.MaxUint16},
		{"Channels × SamplesPerFrame", len(f.Channels) * w.perFrame, math.MaxUint16},
		{"Plates", len(f.Plates), 255},
	} {
		if c.n < 0 {
			return &WriteError{Place: c.what, Index: -1, Err: ErrRange, Detail: fmt.Sprint(c.n)}
		}
		if c.n > c.limit {
			return &WriteError{Place: c.what, Index: -1, Err: ErrTooLarge, Detail: fmt.Sprintf("%d of at most %d", c.n, c.limit)}
		}
	}
	if !f.decoded || f.Rate != 0 {
		if err := f.CheckRate(); err != nil {
			return &WriteError{Place: "Rate", Index: -1, Err: ErrRate, Detail: fmt.Sprint(f.Rate)}
		}
	}
	w.chooseScales()
	w.groups = make(Groups, len(f.Groups))
	for i, g := range f.Groups {
		g.Parameters = append([]Parameter(nil), g.Parameters...)
		w.groups[i] = g
	}
	return w.sync()
}

// count settles the number of frames and checks the lengths of all series.
func (w *writer) count() error {
	f := w.f
	w.frames = f.Frames
	if w.frames == 0 {
		if len(f.Points) > 0 {
			w.frames = len(f.Points[0].Position)
		} else if len(f.Channels) > 0 && w.perFrame > 0 {
			w.frames = len(f.Channels[0].Values) / w.perFrame
		}
	}
	length := func(want, got int, optional bool, format string, args ...any) error {
		if got == want || optional && got == 0 {
			return nil
		}
		return &grf.LengthError{What: "c3d: " + fmt.Sprintf(format, args...), Want: want, Got: got}
	}
	for i := range f.Points {
		p := &f.Points[i]
		if err := length(w.frames, len(p.Position), false, "Points[%d].Position of %s", i, p.Label); err != nil {
			return err
		}
		if err := length(w.frames, len(p.Residual), true, "Points[%d].Residual of %s", i, p.Label); err != nil {
			return err
		}
		if err := length(w.frames, len(p.Cameras), true, "Points[%d].Cameras of %s", i, p.Label); err != nil {
			return err
		}
	}
	for i := range f.Channels {
		if err := length(w.frames*w.perFrame, len(f.Channels[i].Values), false, "Channels[%d].Values of %s", i, f.Channels[i].Label); err != nil {
			return err
		}
	}
	return nil
}

// leastScale is the smallest normal single: below it a scale would lose digits.
const leastScale = 0x1p-126

// storable reports whether a scale can be stored.
func storable(scale float64) bool {
	s := math.Abs(single(scale))
	return s >= leastScale && s <= math.MaxFloat32
}

// single rounds to the precision of stored floats.
func single(v float64) float64 { return float64(float32(v)) }

// fullScale is the stored integer that the largest value gets when a scale is
// chosen: the guide asks for about 32000 (Source: C3D User Guide,
// "POINT:SCALE").
const fullScale = 32000

// chooseScales fills in the scales that f leaves open.
func (w *writer) chooseScales() {
	f := w.f
	if w.gen = single(f.GenScale); w.gen == 0 {
		w.gen = 1
	}
	if w.pointScale = single(f.PointScale); w.pointScale == 0 {
		largest := 0.0
		for i := range f.Points {
			for _, v := range f.Points[i].Position {
				if x := max(math.Abs(v.X), math.Abs(v.Y), math.Abs(v.Z)); x > largest && !math.IsInf(x, 0) {
					largest = x
				}
			}
		}
		w.pointScale = stepFor(largest)
	}
	w.channels = make([]scaling, len(f.Channels))
	for i := range f.Channels {
		c := &f.Channels[i]
		s := scaling{scale: single(c.Scale), offset: single(c.Offset)}
		if s.scale == 0 {
			s.scale = 1
			if f.Storage == Integer {
				largest := 0.0
				for _, v := range c.Values {
					if x := math.Abs(v); x > largest && !math.IsInf(x, 0) {
						largest = x
					}
				}
				s.scale = stepFor(largest / math.Abs(w.gen))
				if f.Unsigned && s.offset == 0 {
					s.offset = 1 << 15
				}
			}
		}
		s.factor = s.scale * w.gen
		w.channels[i] = s
	}
}

// stepFor returns a scale that puts the largest value at fullScale, or the smallest
// that can be stored.
func stepFor(largest float64) float64 {
	if s := single(largest / fullScale); largest > 0 && !math.IsInf(s, 0) {
		return max(s, leastScale)
	}
	return 1
}

// file lays the parts out and appends them to dst.
func (w *writer) file(dst []byte) ([]byte, error) {
	f := w.f
	paramBlock, keepBlock := 2, 0
	if f.decoded && f.Layout.ParameterBlock >= 2 {
		paramBlock = f.Layout.ParameterBlock
		if f.Frames > 0 && f.Layout.FrameBytes > 0 {
			keepBlock = f.Layout.DataBlock // room that the file had for parameters stays
		}
	}
	// The start of the data depends on the size of the parameters. That does not
	// depend on the number that is stored for it, but when what stood in its place
	// was no number the first one changes the size: the third time it has settled.
	var section []byte
	var dataBlock int
	for range 3 {
		var err error
		if section, err = w.section(paramBlock, keepBlock); err != nil {
			return nil, err
		}
		dataBlock = max(paramBlock+(len(section)+blockSize-1)/blockSize, keepBlock)
		if dataBlock > math.MaxUint16 {
			return nil, &WriteError{Place: "parameters", Index: -1, Err: ErrTooLarge, Detail: fmt.Sprintf("the data would start at block %d", dataBlock)}
		}
		if !w.syncCount("POINT", "DATA_START", dataBlock) {
			break
		}
	}
	header, err := w.header(paramBlock, dataBlock)
	if err != nil {
		return nil, err
	}
	base := len(dst)
	dst = append(dst, header[:]...)
	dst = pad(dst, base+(paramBlock-1)*blockSize)
	dst = append(dst, section...)
	dst = pad(dst, base+(dataBlock-1)*blockSize)
	if dst, err = w.appendFrames(dst); err != nil {
		return nil, err
	}
	return w.appendTail(dst, base), nil
}

// pad appends zeros up to length n.
func pad(b []byte, n int) []byte {
	for len(b) < n {
		b = append(b, make([]byte, min(n-len(b), 1<<16))...)
	}
	return b
}

// appendTail fills the last block, as it was when the data were not changed in
// size, and appends what came behind it.
func (w *writer) appendTail(dst []byte, base int) []byte {
	s := &w.f.stored
	end := len(dst) + (blockSize-(len(dst)-base)%blockSize)%blockSize
	if s.whole && len(dst)+len(s.tail) <= end {
		dst = append(dst, s.tail...)
		if len(w.f.Trailing) == 0 && s.frames == w.frames && s.frameBytes == w.frameBytes() {
			return dst // some writers do not fill the last block
		}
	}
	dst = pad(dst, end)
	return append(dst, w.f.Trailing...)
}

func (w *writer) frameBytes() int {
	return (4*len(w.f.Points) + len(w.f.Channels)*w.perFrame) * w.f.Storage.word()
}

// header returns the first block: as read, with the words that differ changed.
func (w *writer) header(paramBlock, dataBlock int) (b [HeaderBytes]byte, err error) {
	f := w.f
	p := f.Processor
	h := &f.Header
	keep := f.decoded && h.Processor == p
	if keep {
		b = h.Raw
	} else if f.decoded {
		p.putUint16(b[10:], uint16(h.MaxGap))
	}
	b[0], b[1] = byte(paramBlock), magic
	word := func(n, v int) { p.putUint16(b[2*(n-1):], uint16(min(v, math.MaxUint16))) }
	word(2, len(f.Points))
	word(3, len(f.Channels)*w.perFrame)
	first := w.first
	if w.frames == 0 {
		first = max(first, 1) // no frames can only be told by a last one before the first
	}
	word(4, first)
	word(5, first+w.frames-1)
	word(9, dataBlock)
	word(10, max(w.perFrame, 0))
	scale := w.pointScale
	if f.Storage == Real {
		scale = -scale
	}
	if !keep || h.Scale != scale {
		if !p.putFloat(b[12:], scale) {
			return b, &WriteError{Place: "PointScale", Index: -1, Err: ErrRange, Detail: fmt.Sprint(scale)}
		}
	}
	if !keep || h.Rate != single(f.Rate) {
		if !p.putFloat(b[20:], f.Rate) {
			return b, &WriteError{Place: "Rate", Index: -1, Err: ErrRange, Detail: fmt.Sprint(f.Rate)}
		}
	}
	return b, w.headerEvents(&b, keep)
}
