package c3d

import (
	"fmt"
	"io"
	"math"
)

// Decode reads a C3D file. Either the File or the error is nil. The File holds
// on to data for [File.RawAnalog] and for [Encode]; its exported fields are
// copies.
func Decode(data []byte, opt Options) (*File, error) {
	f := new(File)
	if err := f.Decode(data, opt); err != nil {
		return nil, err
	}
	return f, nil
}

// Decode reads a C3D file into f and reuses the memory of its series: what was
// taken from f before, slices included, is overwritten: nobody else may be using
// it. After an error f is empty.
func (f *File) Decode(data []byte, opt Options) error {
	_, err := f.decode(data, int64(len(data)), opt)
	return err
}

// Read reads a C3D file of the given size. With [Options.WithoutSamples] it
// fetches the blocks before the data only.
func Read(r io.ReaderAt, size int64, opt Options) (*File, error) {
	if size > math.MaxInt {
		return nil, &UnsupportedError{Feature: fmt.Sprintf("a file of %d bytes on this machine", size)}
	}
	n := size
	if opt.WithoutSamples {
		n = min(n, 1<<18) // room for any parameter pointer and most sections
	}
	for {
		data := make([]byte, n)
		if k, err := r.ReadAt(data, 0); int64(k) < n {
			return nil, fmt.Errorf("c3d: %d of %d bytes could be read: %w", k, n, err)
		}
		f := new(File)
		more, err := f.decode(data, size, opt)
		if more && n < size {
			n = min(4*n, size)
			continue
		}
		if err != nil {
			return nil, err
		}
		return f, nil
	}
}

// decoder is the state of one Decode.
type decoder struct {
	f     *File
	data  []byte // from the header on
	size  int64  // of the file from the header on; data may be less
	opt   Options
	warn  warnings
	start start
	rate  float64

	starts         candidates // for the first block of the data
	analogPerFrame int
	truncated      bool
	short          bool // the parameter section goes on behind data
}

// decode reads a file of the given size of which data is the beginning. more
// says that the parameters go on behind data.
func (f *File) decode(data []byte, size int64, opt Options) (more bool, err error) {
	keep := f.memory
	*f = File{memory: keep}
	d := decoder{f: f, data: data, size: size, opt: opt}
	err = d.run()
	if err == nil {
		f.Warnings = d.warn.finish()
		if opt.Strict && len(f.Warnings) > 0 {
			err = &StrictError{f.Warnings[0]}
		}
	}
	if err != nil {
		*f = File{memory: keep}
	}
	return d.short, err
}

func (d *decoder) run() error {
	f := d.f
	var err error
	if d.start, err = locate(d.data, d.size, &d.warn); err != nil {
		return err
	}
	d.data, d.size = d.data[d.start.shift:], d.size-int64(d.start.shift)
	if f.Header, err = d.start.header(d.data, d.opt.GuessProcessor, &d.warn); err != nil {
		return err
	}
	f.decoded = true
	f.Processor = d.start.proc
	if err := d.parameters(); err != nil {
		return err
	}
	d.checkTypes()
	d.settleRate()
	if err := d.layout(); err != nil {
		return err
	}
	d.settleFirstFrame()
	d.pointFacts()
	d.analogFacts()
	if d.opt.Strict {
		if f.PointsErr != nil {
			return f.PointsErr
		}
		if f.AnalogErr != nil {
			return f.AnalogErr
		}
	}
	if !d.opt.WithoutSamples {
		d.samples()
	}
	d.events()
	d.plates()
	f.stored.firstFrame, f.stored.rate = f.FirstFrame, f.Rate
	return nil
}

// checkTypes warns of text where a number is needed and of numbers where text
// is: such parameters count as missing.
func (d *decoder) checkTypes() {
	for _, c := range []struct {
		group string
		text  bool
		names []string
	}{
		{"POINT", false, []string{"USED", "SCALE", "RATE", "FRAMES", "DATA_START", "LONG_FRAMES"}},
		{"POINT", true, []string{"LABELS", "UNITS"}},
		{"ANALOG", false, []string{"USED", "SCALE", "OFFSET", "GEN_SCALE", "RATE"}},
		{"ANALOG", true, []string{"LABELS", "UNITS", "FORMAT"}},
		{"FORCE_PLATFORM", false, []string{"USED", "TYPE", "CHANNEL", "CORNERS", "ORIGIN", "ZERO", "CAL_MATRIX"}},
		{"EVENT", false, []string{"USED", "TIMES"}},
		{"EVENT", true, []string{"LABELS", "CONTEXTS"}},
	} {
		for _, name := range c.names {
			if p := d.f.Groups.Find(c.group, name); p != nil && p.Len() > 0 && (p.Type == Char) != c.text {
				d.warn.add(CodeParameterType, c.group+":"+name, "type %d, which can not be used here", p.Type)
			}
		}
	}
}

// parameters reads the parameter section.
func (d *decoder) parameters() error {
	f, s := d.f, &d.start
	l := &f.Layout
	l.ParameterBlock = s.param/blockSize + 1
	blocks := int(d.data[s.param+2])
	m := &f.memory
	sec := section{data: d.data, proc: s.proc, warn: &d.warn, shift: s.shift, stop: len(d.data),
		records: m.records[:0], dims: m.dims[:0]}
	declared := (f.Header.DataBlock - 1) * blockSize
	if declared > s.param && declared < len(d.data) {
		sec.stop = declared
	}
	copy(f.stored.section[:], d.data[s.param:s.param+4])
	if blocks == 0 && sec.looks(s.param+4) < 2 {
		d.warn.add(CodeNoParameters, byteAt(s.param+s.shift), "no parameters; everything is taken from the header")
		sec.end = s.param + 4
	} else if err := sec.walk(s.param + 4); err != nil {
		return err
	}
	m.records, m.dims = sec.records, sec.dims
	d.short = sec.short
	f.stored.zeroNext = sec.zeroNext

	end := sec.end
	announced := s.param + blocks*blockSize
	if end > announced && len(sec.records) > 0 {
		d.warn.add(CodeBlockCount, byteAt(s.param+2+s.shift), "%d parameter blocks announced, the parameters end at byte %d", blocks, end+s.shift)
	}
	// Where the data start decides which records are real.
	var w warnings
	f.Groups = m.resolve(sec.records, s.proc, &w)
	if err := d.findStart(end, sec.clean); err != nil {
		return err
	}
	start := (d.starts[0].value - 1) * blockSize
	switch {
	case start < end:
		d.warn.add(CodeSectionOverlap, byteAt(start+s.shift), "the parameters run into the data; what lies behind the start of the data is left out")
		sec.cut(start)
		f.Groups = m.resolve(sec.records, s.proc, &d.warn)
		end = start
	case announced > start && len(sec.records) > 0:
		d.warn.add(CodeSectionOverlap, byteAt(s.param+2+s.shift), "%d parameter blocks announced, which reach into the data at byte %d", blocks, start+s.shift)
		fallthrough
	default:
		d.warn.merge(&w)
	}
	l.ParameterEnd = end + s.shift
	clear(m.records) // they hold on to data
	return nil
}

// findStart fills in the candidates for the first block of the data, given
// where the chain of parameters ends and whether it ends with an end mark.
func (d *decoder) findStart(end int, clean bool) error {
	var good, inside candidates
	add := func(block int, source string) {
		switch offset := (block - 1) * blockSize; {
		case block < 2 || offset <= d.start.param:
		case offset >= end:
			good.add(block, source)
		default:
			inside.add(block, source)
		}
	}
	add(d.f.Header.DataBlock, "header word 9")
	stated, have := d.f.Groups.count("POINT", "DATA_START")
	if have {
		add(stated, "POINT:DATA_START")
	}
	if len(good) == 0 && !clean {
		good = inside
	}
	next := (end+blockSize-1)/blockSize + 1
	if len(good) == 0 {
		if int64(next-1)*blockSize >= d.size && !d.short {
			return &FormatError{Place: "header", Offset: int64(d.start.shift) + 16, Err: ErrDataStart,
				Detail: fmt.Sprintf("word 9 says block %d, POINT:DATA_START block %d, the parameters end at byte %d of %d", d.f.Header.DataBlock, stated, end, d.size)}
		}
		d.warn.add(CodeDataStart, "header word 9", "block %d is no possible start of the data; took the block behind the parameters, %d", d.f.Header.DataBlock, next)
	} else if d.f.Header.DataBlock != good[0].value {
		d.warn.add(CodeDataStart, good[0].source, "data start at block %d; header word 9 says %d", good[0].value, d.f.Header.DataBlock)
	} else if have && stated != good[0].value {
		d.warn.add(CodeDataStart, "POINT:DATA_START", "data start at block %d; POINT:DATA_START says %d", good[0].value, stated)
	}
	if len(good) == 0 {
		good.add(next, "end of the parameters")
	}
	d.starts = good
	return nil
}
