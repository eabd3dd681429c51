//go:build !purego

package filter

import "sync"

// lanes is what the vector kernel works with. Each coefficient stands in all
// four lanes of a vector; the sums lie channel by channel.
type lanes struct {
	b0, b1, a1, a2 [4]float64
	x1, y1, r1, r2 [12]float64
}

// lanes filters groups of four to twelve channels and returns how many channels
// it has done: all of them, or none when there are fewer than four.
func (w way) lanes(block []float64, s *Section, memory []past) int {
	n := len(memory)
	c := 0
	for n-c >= 4 {
		// Groups of 12, 8 and 4. What is no multiple of 4 ends with a group of
		// 5, 6 or 7, whose two vectors share channels.
		size := 4
		switch rest := n - c; {
		case rest == 12 || rest >= 16:
			size = 12
		case rest >= 13:
			size = 8
		case rest <= 8:
			size = rest
		}
		w.group(block, s, memory, c, size)
		c += size
	}
	return c
}

// group filters the channels from c on, 12 or 4 to 8 of them.
func (w way) group(block []float64, s *Section, memory []past, c, size int) {
	var l lanes
	for i := range 4 {
		l.b0[i], l.b1[i], l.a1[i], l.a2[i] = s.B0, s.B1, s.A1, s.A2
	}
	second := min(4, size-4) // channel at which the second vector begins
	for i := range size {
		q := w.begin(block, s, &memory[c+i], c+i)
		l.x1[i], l.y1[i], l.r1[i], l.r2[i] = q.x1, q.y1, q.r1, q.r2
	}
	if size < 8 {
		for _, v := range []*[12]float64{&l.x1, &l.y1, &l.r1, &l.r2} {
			copy(v[4:8], v[second:])
		}
	}
	first, step := &block[w.first+c], 8*w.step
	switch size {
	case 12:
		lanes12(first, step, w.samples, &l)
	case 4:
		lanes4(first, step, w.samples, &l)
	default:
		lanes8(first, step, w.samples, 8*second, &l)
	}
	for i := range size {
		w.end(block, &memory[c+i], c+i)
	}
}

// The vector kernel, in lanes_amd64.s. first is the first channel of the first
// sample, step the way in bytes from one sample to the next. Of l it changes
// nothing. lanes8 filters two vectors, the second of which begins second bytes,
// at most 32, behind the first.

//go:noescape
func lanes12(first *float64, step, samples int, l *lanes)

//go:noescape
func lanes8(first *float64, step, samples, second int, l *lanes)

//go:noescape
func lanes4(first *float64, step, samples int, l *lanes)

// within reports whether no magnitude in x, a multiple of four values, is above
// limit or NaN.
//
//go:noescape
func within(x []float64, limit float64) bool

// cpuid returns what the processor says about leaf 1, in register ECX.
func cpuid1() (ecx uint32)

// xgetbv0 returns which registers the operating system keeps for a thread.
func xgetbv0() (eax uint32)

var processor struct {
	once  sync.Once
	lanes bool
}

// haveLanes reports whether the processor has AVX and the operating system
// keeps its registers (Intel 64 and IA-32 Architectures Software Developer's
// Manual, vol. 1, section 14.3). AVX is all that the kernel uses.
func haveLanes() bool {
	processor.once.Do(func() {
		const osxsave, avx = 1 << 27, 1 << 28
		const xmm, ymm = 1 << 1, 1 << 2
		if c := cpuid1(); c&osxsave != 0 && c&avx != 0 {
			processor.lanes = xgetbv0()&(xmm|ymm) == xmm|ymm
		}
	})
	return processor.lanes
}

// clean reports whether x is all measured. It may say no when it could not
// look.
func clean(x []float64) bool {
	if !haveLanes() {
		return false
	}
	four := len(x) &^ 3
	for _, v := range x[four:] {
		if !measured(v) {
			return false
		}
	}
	return within(x[:four], largest)
}
