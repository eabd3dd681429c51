package c3d

import (
	"encoding/binary"
	"math"
	"testing"
)

// TestTrap03VAXFloats checks VAX F floats against known patterns. Sources: the
// first five are computed from the definition in the VAX Architecture Reference
// Manual (exponent excess 128, fraction 0.1f); the limits are those of the same
// definition.
func TestTrap03VAXFloats(t *testing.T) {
	for _, c := range []struct {
		bytes [4]byte
		want  float64
	}{
		{[4]byte{0x80, 0x40, 0, 0}, 1},
		{[4]byte{0x80, 0xc0, 0, 0}, -1},
		{[4]byte{0x48, 0x43, 0, 0}, 50},
		{[4]byte{0x87, 0x45, 0, 0}, 1080},
		{[4]byte{0xcc, 0xbe, 0xcd, 0xcc}, float64(float32(-0.1))},
		{[4]byte{0x00, 0x00, 0, 0}, 0},
		{[4]byte{0x7f, 0x00, 0xff, 0xff}, 0},              // exponent 0: zero whatever the fraction
		{[4]byte{0x00, 0x80, 0, 0}, math.NaN()},           // reserved operand
		{[4]byte{0x7f, 0x80, 0xff, 0xff}, math.NaN()},     // reserved operand
		{[4]byte{0x80, 0x00, 0, 0}, 0x1p-128},             // smallest
		{[4]byte{0xff, 0x7f, 0xff, 0xff}, 0x1.fffffep126}, // largest
	} {
		got := DEC.float(c.bytes[:])
		if got != c.want && !(math.IsNaN(got) && math.IsNaN(c.want)) {
			t.Errorf("% x: got %g, want %g", c.bytes, got, c.want)
		}
		if r := decReserved(binary.LittleEndian.Uint32(c.bytes[:])); r != math.IsNaN(c.want) {
			t.Errorf("% x: reserved is %v", c.bytes, r)
		}
		if math.IsNaN(c.want) || c.bytes == [4]byte{0x7f, 0, 0xff, 0xff} {
			continue
		}
		var b [4]byte
		if !DEC.putFloat(b[:], c.want) || b != c.bytes {
			t.Errorf("%g: wrote % x, want % x", c.want, b, c.bytes)
		}
	}
}

// TestFloatsThatCanNotBeStored: VAX floats have no infinities and no NaN, and
// no format holds what overflows single precision.
func TestFloatsThatCanNotBeStored(t *testing.T) {
	var b [4]byte
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0x1p127, -0x1p127, 1e39} {
		if DEC.putFloat(b[:], v) {
			t.Errorf("%g was stored as a VAX float", v)
		}
	}
	for _, p := range []Processor{Intel, MIPS} {
		if p.putFloat(b[:], 1e39) {
			t.Errorf("%v: 1e39 was stored", p)
		}
		if !p.putFloat(b[:], math.Inf(1)) || !math.IsInf(p.float(b[:]), 1) {
			t.Errorf("%v: infinity did not survive", p)
		}
	}
	if !DEC.putFloat(b[:], math.Copysign(0, -1)) || DEC.float(b[:]) != 0 {
		t.Error("negative zero must not become a reserved operand")
	}
}

// TestNumbersSurvive writes and reads words and floats in all three formats.
func TestNumbersSurvive(t *testing.T) {
	var b [4]byte
	for _, p := range []Processor{Intel, DEC, MIPS} {
		for v := range 1 << 16 {
			p.putUint16(b[:], uint16(v))
			if got := p.uint16(b[:]); got != uint16(v) {
				t.Fatalf("%v: word %d came back as %d", p, v, got)
			}
		}
		for e := -120; e < 120; e++ {
			for _, m := range []float64{1, -1.5, 1.999999} {
				want := float64(float32(math.Ldexp(m, e)))
				if !p.putFloat(b[:], want) || p.float(b[:]) != want {
					t.Fatalf("%v: %g came back as %g", p, want, p.float(b[:]))
				}
			}
		}
	}
}
