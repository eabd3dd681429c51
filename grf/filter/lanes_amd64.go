//go:build !purego

package filter

import (
	"sync"

	"example.com/momentarm/grf"
)

// lanes is what the vector kernel works with: of each section B0, B1, A1 and A2,
// each in all four lanes of a vector.
type lanes [][4][4]float64

// newLanes returns nil where there is no vector kernel, or nothing for it to do.
func newLanes(sections []Section, channels int) lanes {
	if !haveLanes() || channels < 4 {
		return nil
	}
	l := make(lanes, len(sections))
	for k, s := range sections {
		for i := range 4 {
			l[k][0][i], l[k][1][i], l[k][2][i], l[k][3][i] = s.B0, s.B1, s.A1, s.A2
		}
	}
	return l
}

// run filters all channels and returns how many sections, from k on, it has
// done: two at once where it can, or none.
func (l lanes) run(b *bank, dst, src []float64, k int, w way) int {
	if l == nil || !b.sections[k].symmetric() {
		return 0
	}
	done := 1
	if k+1 < len(b.sections) && b.sections[k+1].symmetric() {
		done = 2
	}
	n := b.channels
	s1, _ := b.of(k)
	for c := 0; c < n; {
		// Groups of 12, 8 and 4. What is no multiple of 4 ends with a group of
		// 5, 6 or 7, whose two vectors share channels, as those of a group of 4
		// do.
		size := 4
		switch rest := n - c; {
		case rest == 12 || rest >= 16:
			size = 12
		case rest >= 13:
			size = 8
		case rest <= 8:
			size = rest
		}
		// Called by their names, so that the compiler knows that nothing is kept.
		to, from, step := &dst[w.first+c], &src[w.first+c], 8*w.step
		switch {
		case size == 12 && done == 2:
			lanes12x2(to, from, step, w.samples, &l[k], &s1[c], 8*n)
		case size == 12:
			lanes12(to, from, step, w.samples, &l[k], &s1[c], 8*n)
		case done == 2:
			lanes8x2(to, from, step, w.samples, &l[k], &s1[c], 8*n, 8*(size-4))
		default:
			lanes8(to, from, step, w.samples, &l[k], &s1[c], 8*n, 8*(size-4))
		}
		c += size
	}
	return done
}

// mixLanes is what the vector kernel mixes with: for each series its weights in the
// first four of six channels and in the last four.
type mixLanes [][2][4]float64

// newMixLanes returns nil where there is no vector kernel.
func newMixLanes(columns [][6]float64) mixLanes {
	if !haveLanes() {
		return nil
	}
	l := make(mixLanes, len(columns))
	for j, w := range columns {
		l[j] = [2][4]float64{[4]float64(w[:4]), [4]float64(w[2:])}
	}
	return l
}

// mix mixes the samples in fours, and returns how many.
func (l mixLanes) mix(dst []float64, stride int, series [][]float64, offset []float64, from, samples int) int {
	samples &^= 3
	if len(l) != 6 || samples == 0 {
		return 0
	}
	o := [2][4]float64{[4]float64(offset), [4]float64(offset[2:])}
	mix6(&dst[0], 8*stride, samples, &series[0], &l[0], &o, 8*from)
	return samples
}

// frontEndLanes is what the vector kernel works with at the front of a live chain, beside
// limit and offset; all zero where there is none.
type frontEndLanes struct {
	weights  *[2][4]float64
	series   int
	coefs    *[4][4]float64
	sections int
	memory   *float64 // as bank has it
}

func (l *frontEndLanes) init(f *FrontEnd) {
	b := &f.filter.bank
	if b.lanes == nil || f.mix.lanes == nil {
		return
	}
	for k := range b.sections {
		if !b.sections[k].symmetric() {
			return
		}
	}
	*l = frontEndLanes{
		weights: &f.mix.lanes[0], series: len(f.mix.lanes),
		coefs: &b.lanes[0], sections: len(b.lanes), memory: &b.memory[0],
	}
}

// push mixes the readings of one sample and filters what comes out, and reports
// whether all is measured and finite. If not, what it wrote means nothing and the
// filter has lost its past, unless there is no kernel, which then has done nothing.
func (f *FrontEnd) push(filtered, mixed *grf.Wrench, readings []float64) bool {
	return f.lanes.weights != nil && mixPush(f, filtered, mixed, &readings[0])
}

//go:noescape
func mixPush(f *FrontEnd, filtered, mixed *grf.Wrench, readings *float64) bool

// mix6 makes a multiple of four samples; the first one lies from bytes behind the
// beginning of its series.
//
//go:noescape
func mix6(dst *float64, stride, samples int, series *[]float64, weights, offset *[2][4]float64, from int)

// The vector kernel, in lanes_amd64.s: twelve channels or two vectors of four,
// the second of which begins second bytes, at most 32, behind the first; one
// section, or two that follow one another. dst and src point at the first channel
// of the first sample and may be the same, step is the way in bytes from one
// sample to the next. memory points at s1 of the first channel; s2, and s1 and
// s2 of a second section, are each next bytes behind.

//go:noescape
func lanes12(dst, src *float64, step, samples int, coefs *[4][4]float64, memory *float64, next int)

//go:noescape
func lanes12x2(dst, src *float64, step, samples int, coefs *[4][4]float64, memory *float64, next int)

//go:noescape
func lanes8(dst, src *float64, step, samples int, coefs *[4][4]float64, memory *float64, next, second int)

//go:noescape
func lanes8x2(dst, src *float64, step, samples int, coefs *[4][4]float64, memory *float64, next, second int)

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
