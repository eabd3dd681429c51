package c3d

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// candidate is one answer to a question about the layout, with its place in the
// file.
type candidate struct {
	value  int
	source string
}

// candidates holds answers in the order of precedence, without repetitions.
type candidates []candidate

func (c *candidates) add(value int, source string) {
	for _, have := range *c {
		if have.value == value {
			return
		}
	}
	*c = append(*c, candidate{value, source})
}

// analogCount is an answer about the analog part of a frame.
type analogCount struct {
	perFrame, perChannel int
	source               string
}

// sizes is one complete answer.
type sizes struct {
	start   candidate // block of the data
	storage candidate
	points  candidate
	analog  analogCount
	frames  candidate
}

// word returns the bytes of one stored number.
func (s Storage) word() int {
	if s == Integer {
		return 2
	}
	return 4
}

func (s *sizes) frameBytes() int {
	return (4*s.points.value + s.analog.perFrame) * Storage(s.storage.value).word()
}

// left returns the bytes that lie behind the frames, negative when some are
// missing.
func (s *sizes) left(size int64) int64 {
	return size - int64(s.start.value-1)*blockSize - int64(s.frames.value)*int64(s.frameBytes())
}

// fits reports whether the frames end where the file ends, but for padding:
// less than two blocks, as some writers pad with one more than needed.
func (s *sizes) fits(size int64) bool {
	l := s.left(size)
	return l >= 0 && l < 2*blockSize
}

// bySize is the source of an answer that only the size of the file gives.
const bySize = "file size"

// maxFrames bounds frame counts, also where an int has 32 bits.
const maxFrames = 1 << 30

// layout settles where the data lie and what a frame is made of. For every
// question the file has several answers; the first combination that fits the
// size of the file wins, the order of precedence decides when none does.
func (d *decoder) layout() error {
	f, h := d.f, &d.f.Header
	starts := d.starts
	storages := d.storageCandidates()
	points := d.countCandidates(h.Points, "header word 2", "POINT", "USED")
	analogs := d.analogCandidates()
	frames, err := d.frameCandidates()
	if err != nil {
		return err
	}

	pick := sizes{starts[0], storages[0], points[0], analogs[0], frames[0]}
	fits := pick.fits(d.size)
	if !fits {
		pick, fits = d.search(pick, starts, storages, points, analogs, frames)
	}
	if !fits && len(storages) > 1 && d.size > int64(pick.start.value-1)*blockSize {
		return &FormatError{Place: "data", Offset: int64(pick.start.value-1)*blockSize + int64(d.start.shift), Err: ErrLayout,
			Detail: d.describe(pick, storages)}
	}
	d.report(pick, fits, starts, storages, points, analogs, frames)

	f.Storage = Storage(pick.storage.value)
	f.SamplesPerFrame = pick.analog.perChannel
	l := &f.Layout
	l.DataBlock = pick.start.value
	l.DataStart = (pick.start.value-1)*blockSize + d.start.shift
	l.FrameBytes = pick.frameBytes()
	l.DeclaredPoints = pick.points.value
	l.DeclaredFrames = pick.frames.value
	d.analogPerFrame = pick.analog.perFrame
	if n := pick.analog.perChannel; n > 0 && pick.analog.perFrame%n == 0 {
		l.DeclaredChannels = pick.analog.perFrame / n
	} else if pick.analog.perFrame > 0 {
		f.AnalogErr = &FormatError{Place: "header", Offset: int64(d.start.shift) + 4, Err: ErrAnalogLayout,
			Detail: fmt.Sprintf("%d values, %d samples per frame", pick.analog.perFrame, n)}
	}
	f.Frames = d.presentFrames(&pick)
	l.DataEnd = l.DataStart + f.Frames*l.FrameBytes
	if l.FrameBytes == 0 {
		l.DataEnd = l.DataStart
	}
	choose := func(fact string, value int, source string) {
		l.Choices = append(l.Choices, Choice{Fact: fact, Value: float64(value), Source: source})
	}
	choose("data block", pick.start.value, pick.start.source)
	choose("points", pick.points.value, pick.points.source)
	choose("analog values per frame", pick.analog.perFrame, pick.analog.source)
	choose("frames", pick.frames.value, pick.frames.source)
	choose("bytes per number", f.Storage.word(), pick.storage.source)
	return nil
}

// search tries all combinations, the least trusted facts first.
func (d *decoder) search(first sizes, starts, storages, points candidates, analogs []analogCount, frames candidates) (sizes, bool) {
	for _, start := range starts {
		for _, storage := range storages {
			for _, point := range points {
				for _, analog := range analogs {
					for _, frame := range frames {
						s := sizes{start, storage, point, analog, frame}
						if s.fits(d.size) {
							return s, true
						}
					}
				}
			}
		}
	}
	return first, false
}

// report warns of every fact whose sources disagree.
func (d *decoder) report(pick sizes, fits bool, starts, storages, points candidates, analogs []analogCount, frames candidates) {
	why := "by precedence"
	if fits {
		why = "which fits the size of the file"
	}
	tell := func(code, what string, c candidates, taken candidate) {
		if len(c) < 2 {
			return
		}
		var others []string
		for _, o := range c {
			if o != taken {
				others = append(others, fmt.Sprintf("%d (%s)", o.value, o.source))
			}
		}
		d.warn.add(code, taken.source, "%s: took %d, %s, not %s", what, taken.value, why, strings.Join(others, ", "))
	}
	tell(CodeCountMismatch, "points", points, pick.points)
	if pick.frames.value > saturated {
		// POINT:FRAMES at its limit says no more than "many".
		frames = slices.DeleteFunc(slices.Clone(frames), func(c candidate) bool { return c.value == saturated })
	}
	tell(CodeFrameCount, "frames", frames, pick.frames)
	if len(storages) > 1 && storages[0].source != bySize {
		d.warn.add(CodeScaleSign, pick.storage.source, "header and POINT:SCALE differ in sign; read as %v, %s", Storage(pick.storage.value), why)
	}
	if len(analogs) > 1 {
		var others []string
		for _, a := range analogs {
			if a != pick.analog {
				others = append(others, fmt.Sprintf("%d with %d samples (%s)", a.perFrame, a.perChannel, a.source))
			}
		}
		d.warn.add(CodeCountMismatch, pick.analog.source, "analog values per frame: took %d with %d samples, %s, not %s",
			pick.analog.perFrame, pick.analog.perChannel, why, strings.Join(others, ", "))
	}
	if pick.start != starts[0] {
		d.warn.add(CodeDataStart, pick.start.source, "data taken to start at block %d, %s, not at block %d (%s)",
			pick.start.value, why, starts[0].value, starts[0].source)
	}
}

// describe lists what the possible layouts would need.
func (d *decoder) describe(s sizes, storages candidates) string {
	var b strings.Builder
	for _, st := range storages {
		s.storage = st
		fmt.Fprintf(&b, "%d frames of %d points and %d analog values as %v (%s) need %d bytes; ",
			s.frames.value, s.points.value, s.analog.perFrame, Storage(st.value), st.source, int64(s.frames.value)*int64(s.frameBytes()))
	}
	fmt.Fprintf(&b, "there are %d", d.size-int64(s.start.value-1)*blockSize)
	return b.String()
}

// countCandidates answers from a header word and a parameter.
func (d *decoder) countCandidates(word int, source, group, name string) candidates {
	var c candidates
	c.add(word, source)
	if n, ok := d.f.Groups.count(group, name); ok {
		c.add(n, group+":"+name)
	}
	return c
}

// storageCandidates answers from the signs of the scales: negative for reals
// (Source: C3D User Guide, "POINT:SCALE").
func (d *decoder) storageCandidates() candidates {
	var c candidates
	add := func(scale float64, source string) {
		switch {
		case scale < 0:
			c.add(int(Real), source)
		case scale > 0:
			c.add(int(Integer), source)
		}
	}
	if s, ok := d.f.Groups.float("POINT", "SCALE"); ok {
		add(s, "POINT:SCALE")
	}
	add(d.f.Header.Scale, "header words 7–8")
	if len(c) == 0 {
		// Both are 0 or no numbers: let the size decide, if it can.
		c.add(int(Real), bySize)
		c.add(int(Integer), bySize)
	}
	return c
}

// analogCandidates answers what the analog part of a frame holds.
func (d *decoder) analogCandidates() []analogCount {
	f, h := d.f, &d.f.Header
	var list []analogCount
	add := func(perFrame, perChannel int, source string) {
		for _, a := range list {
			if a.perFrame == perFrame && a.perChannel == perChannel {
				return
			}
		}
		list = append(list, analogCount{perFrame, perChannel, source})
	}
	used, haveUsed := f.Groups.count("ANALOG", "USED")
	ratio := 0
	if r, ok := f.Groups.float("ANALOG", "RATE"); ok && d.rate > 0 {
		if x := math.Round(r / d.rate); x >= 1 && x <= math.MaxUint16 {
			ratio = int(x)
		}
	}
	n := h.SamplesPerFrame
	if n == 0 && ratio > 0 && h.AnalogPerFrame > 0 && h.AnalogPerFrame%ratio == 0 {
		// Word 10 is missing: the rates say the same.
		add(h.AnalogPerFrame, ratio, "ANALOG:RATE")
		d.warn.add(CodeRateRatio, "header word 10", "no samples per frame stated; took %d from the rates", ratio)
	} else {
		add(h.AnalogPerFrame, n, "header word 3")
	}
	if haveUsed && used > 0 {
		if n > 0 {
			add(used*n, n, "ANALOG:USED")
		}
		if ratio > 0 && ratio != n {
			add(used*ratio, ratio, "ANALOG:USED and ANALOG:RATE")
		}
	} else if haveUsed && h.AnalogPerFrame > 0 {
		add(0, n, "ANALOG:USED")
	}
	// Differing ways to the same number of values are no disagreement worth a
	// warning as long as the header's own numbers agree with each other.
	if first := list[0]; len(list) > 1 && first.perChannel > 0 && first.perFrame%first.perChannel == 0 &&
		(!haveUsed || used == first.perFrame/first.perChannel) {
		list = list[:1]
	}
	return list
}
