package c3d

import (
	"encoding/binary"
	"math"
	"testing"
)

// Big-endian data without the help of the writer: the samples of a file from a
// little-endian machine are turned round word by word, as the C3D standard has it
// (IEEE floats of 4 bytes, integers of 2, most significant byte first), and put into
// a big-endian file in the place of its own. Header and parameters stay those of the
// big-endian file.
func TestBigEndianSamples(t *testing.T) {
	for _, s := range []Storage{Real, Integer} {
		for _, unsigned := range []bool{false, true} {
			f := small()
			f.Storage, f.Unsigned, f.GenScale = s, unsigned, 0.5
			for i := range f.Channels {
				f.Channels[i].Offset = 512
			}
			little := encode(t, f)
			f.Processor = MIPS
			big := encode(t, f)
			from, to := decode(t, little, Options{}).Layout, decode(t, big, Options{}).Layout
			n := from.DataEnd - from.DataStart
			if n == 0 || n != to.DataEnd-to.DataStart {
				t.Fatalf("%v: %d and %d bytes of samples", s, n, to.DataEnd-to.DataStart)
			}
			size := 4
			if s == Integer {
				size = 2
			}
			samples := big[to.DataStart:to.DataEnd]
			clear(samples)
			for i := 0; i < n; i += size {
				for k := range size {
					samples[i+k] = little[from.DataStart+i+size-1-k]
				}
			}
			g := decode(t, big, Options{Strict: true})
			if g.Processor != MIPS {
				t.Fatalf("%v: read as %v", s, g.Processor)
			}
			g.Processor = Intel
			if d := differ(decode(t, little, Options{}), g); d != "" {
				t.Errorf("%v, unsigned %v:\n%s", s, unsigned, d)
			}
		}
	}
	// By hand: −118.625 is 0xC2ED4000, and −2 is 0xFFFE (IEEE 754, two's complement).
	if got := MIPS.float([]byte{0xc2, 0xed, 0x40, 0x00}); got != -118.625 {
		t.Errorf("%g", got)
	}
	if got := int16(MIPS.uint16([]byte{0xff, 0xfe})); got != -2 {
		t.Errorf("%d", got)
	}
	if got := math.Float32frombits(binary.LittleEndian.Uint32([]byte{0x00, 0x40, 0xed, 0xc2})); float64(got) != Intel.float([]byte{0x00, 0x40, 0xed, 0xc2}) {
		t.Errorf("%g", got)
	}
}
