package c3d

import (
	"fmt"
	"math"
	"strings"
)

// Channel is one analog channel.
type Channel struct {
	// Label is never empty after Decode: a channel without one is named A001,
	// A002, … by its place.
	Label       string
	Description string
	Unit        string // ANALOG:UNITS without blanks, "" when not stated

	// Scale and Offset are ANALOG:SCALE and ANALOG:OFFSET:
	// value = (raw − Offset) · Scale · GenScale, in files of integers and of
	// reals (Source: C3D User Guide, "The ANALOG group"). Encode takes a Scale
	// of 0 for one chosen from the data (1 in files of reals).
	Scale, Offset float64

	// Values are the scaled samples in Unit, SamplesPerFrame for each frame.
	// They are NaN when Scale is 0 or not finite.
	Values []float64
}

// factor returns what a raw value less its offset is multiplied by. The product
// of two single-precision scales is exact in double precision.
func (c *Channel) factor(gen float64) float64 {
	if !usable(c.Scale) {
		return math.NaN()
	}
	return c.Scale * gen
}

func usable(scale float64) bool {
	return scale != 0 && !math.IsNaN(scale) && !math.IsInf(scale, 0)
}

// analogCounts is what describeChannels had to make up.
type analogCounts struct {
	unlabelled, unscaled, unset int
	misspelt                    bool
}

// describeChannels fills in everything of channels but their values, from the
// parameters.
func describeChannels(g Groups, channels []Channel, unsigned bool) analogCounts {
	var made analogCounts
	labels := g.Strings("ANALOG", "LABELS")
	descriptions := g.Strings("ANALOG", "DESCRIPTIONS")
	units := g.Strings("ANALOG", "UNITS")
	if p := g.Find("ANALOG", "UNITS"); p != nil && len(p.Dims) == 1 && len(units) == 1 {
		for range len(channels) - 1 {
			units = append(units, units[0]) // one unit for all
		}
	}
	scales := g.Floats("ANALOG", "SCALE")
	name := "OFFSET"
	if g.Find("ANALOG", name) == nil && g.Find("ANALOG", "OFFSETS") != nil {
		name = "OFFSETS"
		made.misspelt = true
	}
	offsets := g.Floats("ANALOG", name)
	for i := range channels {
		c := &channels[i]
		c.Label, c.Description, c.Unit = cell(labels, i), cell(descriptions, i), cell(units, i)
		if c.Label == "" {
			c.Label = fmt.Sprintf("A%03d", i+1)
			made.unlabelled++
		}
		c.Scale, c.Offset = 1, 0
		if i < len(scales) {
			c.Scale = scales[i]
		} else {
			made.unscaled++
		}
		if i < len(offsets) {
			c.Offset = offsets[i]
			if unsigned && c.Offset < 0 && c.Offset >= math.MinInt16 {
				c.Offset += 1 << 16 // ANALOG:FORMAT rules the offsets as well
			}
		} else {
			made.unset++
		}
	}
	return made
}

// genScale returns ANALOG:GEN_SCALE, with 1 for a missing or unusable one.
func genScale(g Groups) (scale float64, stated float64, ok bool) {
	s, have := g.float("ANALOG", "GEN_SCALE")
	if !have {
		return 1, 1, true
	}
	if !usable(s) {
		return 1, s, false
	}
	return s, s, true
}

// statedUnsigned reads ANALOG:FORMAT; without it samples are signed.
func statedUnsigned(g Groups) (unsigned, known bool) {
	s := g.Strings("ANALOG", "FORMAT")
	if len(s) == 0 || s[0] == "" {
		return false, true
	}
	switch strings.ToUpper(strings.TrimSpace(s[0])) {
	case "SIGNED":
		return false, true
	case "UNSIGNED":
		return true, true
	}
	return false, false
}

// analogFacts reads what the parameters say about the channels.
func (d *decoder) analogFacts() {
	f := d.f
	n := f.Layout.DeclaredChannels
	if f.AnalogErr != nil {
		d.warn.add(CodeAnalog, "header", "the channels can not be read: %v", f.AnalogErr)
		n = 0
	}
	if f.Frames == 0 {
		n = min(n, maxWithoutFrames)
	}
	var known bool
	f.Unsigned, known = statedUnsigned(f.Groups)
	if !known {
		d.warn.add(CodeAnalogFormat, "ANALOG:FORMAT", "%q is neither SIGNED nor UNSIGNED; read as signed", f.Groups.Strings("ANALOG", "FORMAT")[0])
	}
	if d.opt.Analog != AsStated {
		f.Unsigned = d.opt.Analog == UnsignedSamples
	}
	var stated float64
	var ok bool
	if f.GenScale, stated, ok = genScale(f.Groups); !ok {
		d.warn.add(CodeGenScale, "ANALOG:GEN_SCALE", "%g is no scale; took 1", stated)
	}
	f.Channels = resize(f.memory.channels, n)
	f.memory.channels = f.Channels
	for i := range f.Channels {
		f.Channels[i] = Channel{}
	}
	made := describeChannels(f.Groups, f.Channels, f.Unsigned)
	if n == 0 {
		return
	}
	if made.misspelt {
		d.warn.add(CodeMisspelt, "ANALOG:OFFSETS", "read as OFFSET")
	}
	if made.unlabelled > 0 {
		d.warn.add(CodeMissingLabels, "ANALOG:LABELS", "%d of %d channels have no label; they are named by their place", made.unlabelled, n)
	}
	if made.unscaled > 0 {
		d.warn.add(CodeDefaultScale, "ANALOG:SCALE", "%d of %d channels have no scale; took 1", made.unscaled, n)
	}
	if made.unset > 0 {
		d.warn.add(CodeDefaultOffset, "ANALOG:OFFSET", "%d of %d channels have no offset; took 0", made.unset, n)
	}
	suspect := !f.Unsigned && d.opt.Analog == AsStated
	for i := range f.Channels {
		c := &f.Channels[i]
		if !usable(c.Scale) {
			d.warn.add(CodeBadScale, channelPlace(i, c), "scale %g; the values are unknown", c.Scale)
		}
		suspect = suspect && c.Offset <= -32000
	}
	if suspect {
		d.warn.add(CodeSuspectUnsigned, "ANALOG:OFFSET", "every offset is −32000 or less, as when unsigned samples are announced as signed; see Options.Analog")
	}
	d.checkLabels("ANALOG", n, func(i int) string { return f.Channels[i].Label })
	d.checkAnalogRate()
}

func channelPlace(i int, c *Channel) string { return fmt.Sprintf("channel %d %s", i+1, c.Label) }

// checkSamples looks for samples at the ends of their range and for samples
// that are no numbers.
func (d *decoder) checkSamples() {
	f := d.f
	low, high := float64(math.MinInt16), float64(math.MaxInt16)
	if f.Unsigned {
		low, high = 0, math.MaxUint16
	}
	for i := range f.Channels {
		c := &f.Channels[i]
		if !usable(c.Scale) {
			continue
		}
		if f.Storage == Real {
			if n, first := notFinite(c.Values); n > 0 {
				code := CodeNotFinite
				if f.Processor == DEC {
					code = CodeVAXReserved // the only VAX floats that are no numbers
				}
				d.warn.add(code, channelPlace(i, c), "%d samples are no finite numbers, the first is sample %d", n, first)
			}
			continue
		}
		// The smallest stored number may be −32767 or −32768.
		k := c.factor(f.GenScale)
		a, b := (low-c.Offset)*k, (high-c.Offset)*k
		if !f.Unsigned {
			a = (low + 1 - c.Offset) * k
		}
		if runs, first, last := runsBeyond(c.Values, min(a, b), max(a, b)); runs > 0 {
			d.warn.add(CodeSaturated, channelPlace(i, c), "%d stretches at the end of the range, the first from sample %d, the last to sample %d", runs, first, last)
		}
	}
}

// notFinite counts NaN and infinite values.
func notFinite(v []float64) (n, first int) {
	sum := 0.0
	for _, x := range v {
		sum += x * 0
	}
	if sum == 0 {
		return 0, 0
	}
	first = -1
	for i, x := range v {
		if x-x != 0 {
			n++
			if first < 0 {
				first = i
			}
		}
	}
	return n, first
}

// runsBeyond counts the stretches of two or more equal samples that are not
// between low and high.
func runsBeyond(v []float64, low, high float64) (runs, first, last int) {
	for i := 1; i < len(v); i++ {
		if x := v[i]; x > low && x < high || x != v[i-1] {
			continue
		}
		from := i - 1
		for i+1 < len(v) && v[i+1] == v[i] {
			i++
		}
		if runs == 0 {
			first = from
		}
		runs++
		last = i
	}
	return runs, first, last
}

// RawAnalog appends the stored numbers of a channel, before offset and scale,
// to dst. They are taken from the bytes that were given to [Decode], which must
// not have been changed since. The error wraps [ErrNoRaw] when the File was not
// read, was read without samples, or has no such channel.
func (f *File) RawAnalog(dst []float64, channel int) ([]float64, error) {
	s := &f.stored
	if len(s.data) == 0 || channel < 0 || channel >= s.channels {
		return dst, &FormatError{Place: fmt.Sprintf("channel %d", channel+1), Offset: -1, Err: ErrNoRaw}
	}
	n := len(dst)
	dst = append(dst, make([]float64, s.frames*s.perFrame)...)
	word := s.storage.word()
	scaleSamples(dst[n:], s.data, (4*s.points+channel)*word, s.frameBytes, s.channels*word, s.perFrame,
		formatOf(s.processor, s.storage, s.unsigned), 0, 1)
	return dst, nil
}
