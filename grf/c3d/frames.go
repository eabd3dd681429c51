package c3d

import (
	"fmt"
	"math"
)

// saturated is the largest frame count that a 16-bit word can hold; as a count
// it may stand for a larger one (Source: C3D User Guide and its pages "The 3D
// frame count", "Reading the frame count", "POINT:LONG_FRAMES", "The TRIAL
// group").
const saturated = math.MaxUint16

// frameCandidates answers how many frames there are.
func (d *decoder) frameCandidates() (candidates, error) {
	g, h := d.f.Groups, &d.f.Header
	var c candidates
	declared, have := g.count("POINT", "FRAMES")
	if have && declared != saturated {
		c.add(declared, "POINT:FRAMES")
	}
	if n, ok := g.float("POINT", "LONG_FRAMES"); ok && n >= 0 && n <= maxFrames && (n >= saturated || !have || declared != saturated) {
		c.add(int(math.Round(n)), "POINT:LONG_FRAMES")
	}
	first, haveFirst := d.trialField("ACTUAL_START_FIELD")
	last, haveLast := d.trialField("ACTUAL_END_FIELD")
	if haveFirst && haveLast && last >= first-1 {
		if n := last - first + 1; n >= saturated || !have || declared != saturated {
			c.add(n, "TRIAL:ACTUAL_END_FIELD")
		}
	}
	if have && declared == saturated {
		c.add(saturated, "POINT:FRAMES")
	}
	n, ok := h.frames()
	switch {
	case ok && h.LastFrame < saturated:
		c.add(n, "header words 4–5")
	case !ok:
		d.warn.add(CodeFrameRange, "header words 4–5", "the last frame %d lies before the first, %d", h.LastFrame, h.FirstFrame)
	}
	if len(c) == 0 && ok {
		c.add(n, "header words 4–5")
	}
	if len(c) == 0 {
		return nil, &FormatError{Place: "header", Offset: int64(d.start.shift) + 6, Err: ErrFrameRange,
			Detail: fmt.Sprintf("frames %d to %d, and no POINT:FRAMES", h.FirstFrame, h.LastFrame)}
	}
	return c, nil
}

// trialField reads a frame number of the TRIAL group: two words, the low one
// first, or a single number. A TRIAL parameter whose group is missing counts.
func (d *decoder) trialField(name string) (int, bool) {
	return trialField(d.f.Groups, name)
}

func trialField(g Groups, name string) (int, bool) {
	p := g.Find("TRIAL", name)
	for i := 0; p == nil && i < len(g); i++ {
		if g[i].absent {
			p = g.Find(g[i].Name, name)
		}
	}
	v, err := p.Counts()
	if err != nil || len(v) == 0 {
		return 0, false
	}
	n := int64(v[0])
	if len(v) > 1 {
		n += int64(v[1]) << 16
	}
	return int(min(n, maxFrames)), true
}

// settleFirstFrame fills in File.FirstFrame.
func (d *decoder) settleFirstFrame() {
	f := d.f
	f.FirstFrame = f.Header.FirstFrame
	if n, ok := d.trialField("ACTUAL_START_FIELD"); ok {
		if n != f.FirstFrame && f.FirstFrame < saturated {
			d.warn.add(CodeFirstFrame, "TRIAL:ACTUAL_START_FIELD", "first frame: took %d, the header says %d", n, f.FirstFrame)
		}
		f.FirstFrame = n
	}
}

// presentFrames returns how many complete frames the file holds of those that
// were settled on, and warns when that is another number.
func (d *decoder) presentFrames(s *sizes) int {
	frame := int64(s.frameBytes())
	if frame == 0 {
		return s.frames.value
	}
	have := max(0, d.size-int64(s.start.value-1)*blockSize)
	complete := int(min(have/frame, maxFrames))
	declared := s.frames.value
	switch {
	case complete < declared:
		if complete == declared-1 && have < int64(declared)*frame && d.padded(int64(s.start.value-1)*blockSize+int64(complete)*frame) {
			d.warn.add(CodeFrameCount, s.frames.source, "%d frames declared, one more than present", declared)
		} else {
			d.warn.add(CodeTruncated, byteAt(int(d.size)+d.start.shift), "%d frames declared, %d complete ones present; was the file copied whole?", declared, complete)
			d.truncated = true
		}
		return complete
	case declared == saturated && complete > declared && s.left(d.size) >= blockSize && !d.extraBlocks():
		if d.opt.BeyondFrames {
			d.warn.add(CodeMoreFrames, s.frames.source, "%d frames declared, the limit of the count; all %d that are present were read", declared, complete)
			return complete
		}
		d.warn.add(CodeMoreFrames, s.frames.source, "%d frames declared, the limit of the count; %d could be present; see Options.BeyondFrames", declared, complete)
	}
	return declared
}

// padded reports whether nothing but zeros follows offset from (from the
// header): padding, not the start of another frame.
func (d *decoder) padded(from int64) bool {
	for i := from; i < int64(len(d.data)); i++ {
		if d.data[i] != 0 {
			return false
		}
	}
	return true
}

// extraBlocks reports whether the file announces data behind the frames.
func (d *decoder) extraBlocks() bool {
	return d.f.Groups.Has("ROTATION") || d.f.Groups.Has("DATA_BLOCKS")
}
