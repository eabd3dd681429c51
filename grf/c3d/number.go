package c3d

import (
	"encoding/binary"
	"math"
)

// Source for the number formats: C3D User Guide, "Processor types"; VAX
// Architecture Reference Manual (Leonard, 1987), section on F_floating data.

// uint16 reads a 16-bit word.
func (p Processor) uint16(b []byte) uint16 {
	if p == MIPS {
		return binary.BigEndian.Uint16(b)
	}
	return binary.LittleEndian.Uint16(b)
}

// float reads a 32-bit float. A VAX reserved operand is NaN.
func (p Processor) float(b []byte) float64 {
	switch p {
	case MIPS:
		return float64(math.Float32frombits(binary.BigEndian.Uint32(b)))
	case DEC:
		return decFloat(binary.LittleEndian.Uint32(b))
	}
	return float64(math.Float32frombits(binary.LittleEndian.Uint32(b)))
}

// decFloat reads a VAX F float that was loaded as a little-endian word: its
// halves are swapped, the exponent is biased by 128 and the hidden bit counts
// 1/2, which together make it a quarter of an IEEE float with these bits. There
// are no denormals, no infinities and one NaN: exponent 0 with the sign set.
func decFloat(u uint32) float64 {
	u = u>>16 | u<<16
	exp := u >> 23 & 0xff
	if exp == 0 {
		if u>>31 != 0 {
			return math.NaN()
		}
		return 0
	}
	// Built as a double, because the largest VAX exponents would be infinities
	// in single precision.
	const rebias = 1023 - 129
	return math.Float64frombits(uint64(u>>31)<<63 | uint64(exp+rebias)<<52 | uint64(u&0x7fffff)<<29)
}

// decReserved reports whether a VAX F float that was loaded as a little-endian
// word is a reserved operand.
func decReserved(u uint32) bool {
	return u&0xff80 == 0x8000 // sign set, exponent 0, in the first word
}

// putUint16 writes a 16-bit word.
func (p Processor) putUint16(b []byte, v uint16) {
	if p == MIPS {
		binary.BigEndian.PutUint16(b, v)
		return
	}
	binary.LittleEndian.PutUint16(b, v)
}

// putFloat writes v rounded to single precision and reports whether the format
// can hold it: an overflow can not be stored anywhere, NaN and infinities not in
// VAX floats. What is too small for a VAX float becomes 0.
func (p Processor) putFloat(b []byte, v float64) bool {
	if p == DEC {
		u, ok := decBits(v)
		binary.LittleEndian.PutUint32(b, u)
		return ok
	}
	s := float32(v)
	if math.IsInf(float64(s), 0) && !math.IsInf(v, 0) {
		return false
	}
	if p == MIPS {
		binary.BigEndian.PutUint32(b, math.Float32bits(s))
	} else {
		binary.LittleEndian.PutUint32(b, math.Float32bits(s))
	}
	return true
}

// decBits is the inverse of decFloat, rounding to the 24 bits of a VAX float.
func decBits(v float64) (uint32, bool) {
	frac, exp := math.Frexp(v) // 0.1f as in a VAX float
	m := math.RoundToEven(math.Abs(frac) * (1 << 24))
	if m == 1<<24 {
		m, exp = m/2, exp+1
	}
	switch {
	case !(m <= 1<<24) || exp > 127: // NaN and infinities are not below 2²⁴
		return 0, false
	case m == 0 || exp < -127:
		return 0, true // −0 as well: its bits are the reserved operand
	}
	u := uint32(exp+128)<<23 | uint32(m)&0x7fffff
	if v < 0 {
		u |= 1 << 31
	}
	return u>>16 | u<<16, true
}
