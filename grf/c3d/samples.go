package c3d

import (
	"encoding/binary"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// memory is what the series and the parameters of a File are cut from, kept for
// the next Decode.
type memory struct {
	records    []rawRecord
	dims       []int
	groups     []Group
	parameters []Parameter
	text, raw  []byte // of names and descriptions; of values
	seen       map[parameterKey]bool

	points    []Point
	channels  []Channel
	positions []r3.Vec
	residuals []float64
	cameras   []uint8
	values    []float64
	trailing  []byte
}

// resize returns s with length n, reusing its memory when there is enough.
func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

// cacheBytes is how much of the file is looked at before going on to the next
// channel: small enough for a first-level cache.
const cacheBytes = 24 << 10

// samples reads the frames. All memory that is asked for here is for frames
// whose bytes are present.
func (d *decoder) samples() {
	f := d.f
	l := &f.Layout
	if f.Frames == 0 || l.FrameBytes == 0 {
		d.trailing()
		return
	}
	start := l.DataStart - d.start.shift
	data := d.data[start : start+f.Frames*l.FrameBytes]
	s := &f.stored
	s.data = data
	s.processor, s.storage, s.unsigned = f.Processor, f.Storage, f.Unsigned
	s.frames, s.frameBytes = f.Frames, l.FrameBytes
	s.points, s.channels, s.perFrame = l.DeclaredPoints, l.DeclaredChannels, f.SamplesPerFrame
	s.scale = f.PointScale
	d.pointSamples(data)
	d.analogSamples(data)
	d.trailing()
}

func (d *decoder) pointSamples(data []byte) {
	f := d.f
	m := &f.memory
	n := len(f.Points)
	total := n * f.Frames
	m.positions = resize(m.positions, total)
	m.residuals = resize(m.residuals, total)
	m.cameras = resize(m.cameras, total)
	sink := pointSink{position: m.positions, residual: m.residuals, cameras: m.cameras,
		scale: f.PointScale, zeroGone: d.opt.ZeroIsMissing}
	frame := f.Layout.FrameBytes
	block := max(1, cacheBytes/frame)
	reserved := 0
	for from := 0; from < f.Frames; from += block {
		to := min(from+block, f.Frames)
		for p := range n {
			at := from*frame + p*4*f.Storage.word()
			i := p*f.Frames + from
			switch {
			case f.Storage == Integer && f.Processor == MIPS:
				for range to - from {
					b := data[at : at+8]
					sink.put(i,
						float64(int16(binary.BigEndian.Uint16(b)))*f.PointScale,
						float64(int16(binary.BigEndian.Uint16(b[2:])))*f.PointScale,
						float64(int16(binary.BigEndian.Uint16(b[4:])))*f.PointScale,
						float64(int16(binary.BigEndian.Uint16(b[6:]))))
					i, at = i+1, at+frame
				}
			case f.Storage == Integer:
				for range to - from {
					u := binary.LittleEndian.Uint64(data[at : at+8])
					sink.put(i,
						float64(int16(u))*f.PointScale,
						float64(int16(u>>16))*f.PointScale,
						float64(int16(u>>32))*f.PointScale,
						float64(int16(u>>48)))
					i, at = i+1, at+frame
				}
			case f.Processor == Intel:
				for range to - from {
					b := data[at : at+16]
					sink.put(i,
						float64(math.Float32frombits(binary.LittleEndian.Uint32(b))),
						float64(math.Float32frombits(binary.LittleEndian.Uint32(b[4:]))),
						float64(math.Float32frombits(binary.LittleEndian.Uint32(b[8:]))),
						float64(math.Float32frombits(binary.LittleEndian.Uint32(b[12:]))))
					i, at = i+1, at+frame
				}
			default:
				for range to - from {
					b := data[at : at+16]
					x, y, z, w := f.Processor.float(b), f.Processor.float(b[4:]), f.Processor.float(b[8:]), f.Processor.float(b[12:])
					if f.Processor == DEC && x+y+z+w != x+y+z+w {
						reserved++
					}
					sink.put(i, x, y, z, w)
					i, at = i+1, at+frame
				}
			}
		}
	}
	if reserved > 0 {
		d.warn.add(CodeVAXReserved, "data", "%d points hold reserved operands, which are no numbers", reserved)
	}
	sink.report(&d.warn)
	for p := range f.Points {
		from, to := p*f.Frames, (p+1)*f.Frames
		q := &f.Points[p]
		q.Position = m.positions[from:to:to]
		q.Residual = m.residuals[from:to:to]
		q.Cameras = m.cameras[from:to:to]
	}
}

func (d *decoder) analogSamples(data []byte) {
	f := d.f
	m := &f.memory
	n, per := len(f.Channels), f.SamplesPerFrame
	length := f.Frames * per
	m.values = resize(m.values, n*length)
	frame, word := f.Layout.FrameBytes, f.Storage.word()
	first := f.Layout.DeclaredPoints * 4 * word
	block := max(1, cacheBytes/frame)
	for from := 0; from < f.Frames; from += block {
		to := min(from+block, f.Frames)
		for c := range f.Channels {
			ch := &f.Channels[c]
			dst := m.values[c*length+from*per : c*length+to*per]
			at := from*frame + first + c*word
			scaleSamples(dst, data, at, frame, n*word, per, f.format(), ch.Offset, ch.factor(f.GenScale))
		}
	}
	for c := range f.Channels {
		to := (c + 1) * length
		f.Channels[c].Values = m.values[c*length : to : to]
	}
	d.checkSamples()
}

// format tells the number formats of analog samples apart.
type format uint8

const (
	intLittle format = iota
	intBig
	realIntel
	realMIPS
	realDEC
	unsignedFlag format = 8
)

func (f *File) format() format { return formatOf(f.Processor, f.Storage, f.Unsigned) }

func formatOf(p Processor, s Storage, unsigned bool) format {
	if s == Real {
		return [...]format{Intel: realIntel, MIPS: realMIPS, DEC: realDEC}[p]
	}
	k := intLittle
	if p == MIPS {
		k = intBig
	}
	if unsigned {
		k |= unsignedFlag
	}
	return k
}

// scaleSamples sets dst to (raw − offset) · factor, where the samples of a frame
// lie step bytes apart, per of them, and frames frame bytes.
func scaleSamples(dst []float64, data []byte, at, frame, step, per int, kind format, offset, factor float64) {
	// Sign extension by (u ^ flip) − flip, with flip 0 for unsigned samples.
	flip := int32(0x8000)
	if kind&unsignedFlag != 0 {
		flip = 0
	}
	kind &^= unsignedFlag
	for i := 0; i < len(dst); i += per {
		sub := dst[i : i+per]
		o := at
		switch kind {
		case intLittle:
			for j := range sub {
				raw := (int32(binary.LittleEndian.Uint16(data[o:])) ^ flip) - flip
				sub[j] = (float64(raw) - offset) * factor
				o += step
			}
		case intBig:
			for j := range sub {
				raw := (int32(binary.BigEndian.Uint16(data[o:])) ^ flip) - flip
				sub[j] = (float64(raw) - offset) * factor
				o += step
			}
		case realIntel:
			for j := range sub {
				raw := math.Float32frombits(binary.LittleEndian.Uint32(data[o:]))
				sub[j] = (float64(raw) - offset) * factor
				o += step
			}
		case realMIPS:
			for j := range sub {
				raw := math.Float32frombits(binary.BigEndian.Uint32(data[o:]))
				sub[j] = (float64(raw) - offset) * factor
				o += step
			}
		default:
			for j := range sub {
				sub[j] = (decFloat(binary.LittleEndian.Uint32(data[o:])) - offset) * factor
				o += step
			}
		}
		at += frame
	}
}

// trailing keeps what lies behind the block in which the frames end.
func (d *decoder) trailing() {
	f := d.f
	from := f.Layout.DataEnd - d.start.shift
	end := (from + blockSize - 1) / blockSize * blockSize
	if d.truncated || from > len(d.data) {
		return
	}
	f.stored.tail = append(f.stored.tail, d.data[from:min(end, len(d.data))]...)
	f.stored.whole = true
	if end >= len(d.data) {
		return
	}
	f.memory.trailing = append(f.memory.trailing[:0], d.data[end:]...)
	f.Trailing = f.memory.trailing
}
