package filter

import "math"

// next puts the next input of one channel through a section and returns the
// output and what the section then remembers of the channel, the two sums s1 and
// s2. This is direct form II, transposed (Oppenheim and Schafer, Discrete-Time
// Signal Processing), the form that SciPy's sosfilt has. The conversions keep
// the compiler from fusing multiplications with additions, so that every
// machine and every way of calling gives the same digits.
func (s *Section) next(s1, s2, x float64) (y, t1, t2 float64) {
	y = float64(s.B0*x) + s1
	return y, float64(s.B1*x) + s2 - float64(s.A1*y), float64(s.B2*x) - float64(s.A2*y)
}

// steady returns what a section remembers when x has been its input for ever,
// and its output.
func (s *Section) steady(x float64) (s1, s2, y float64) {
	y = x * s.gainDC()
	s2 = float64(s.B2*x) - float64(s.A2*y)
	s1 = float64(s.B1*x) + s2 - float64(s.A1*y)
	return s1, s2, y
}

// symmetric reports whether B2 is B0, as in every low-pass with its zeros on
// the unit circle. Then one product serves twice.
func (s *Section) symmetric() bool { return s.B0 == s.B2 }

// direction is the order in which the samples of a block are taken.
type direction int

const (
	ascending direction = iota
	descending
)

// bank runs sections over several channels in step.
type bank struct {
	sections []Section
	channels int
	// memory holds s1 of all channels, then s2 of all channels, section after
	// section.
	memory []float64
	lanes  lanes // the vector kernel, where there is one; the digits are the same
}

func newBank(sections []Section, channels int) bank {
	return bank{sections, channels, make([]float64, 2*len(sections)*channels), newLanes(sections, channels)}
}

// of returns what section k remembers.
func (b *bank) of(k int) (s1, s2 []float64) {
	n := b.channels
	m := b.memory[2*k*n:][: 2*n : 2*n]
	return m[:n], m[n:]
}

// start makes the bank remember row, one value per channel, as the input that
// has lasted for ever: every section is in its steady state.
func (b *bank) start(row []float64) {
	for c, x := range row {
		for k := range b.sections {
			s1, s2 := b.of(k)
			s1[c], s2[c], x = b.sections[k].steady(x)
		}
	}
}

// run filters src into dst, which has the same length and may be src. Both hold
// samples of all channels, interleaved.
func (b *bank) run(dst, src []float64, d direction) {
	n := b.channels
	w := way{first: 0, step: n, samples: len(src) / n}
	if w.samples == 0 {
		return
	}
	if d == descending {
		w.first, w.step = (w.samples-1)*n, -n
	}
	for k := 0; k < len(b.sections); {
		done := b.lanes.run(b, dst, src, k, w)
		if done == 0 {
			b.section(dst, src, k, w)
			done = 1
		}
		src = dst
		k += done
	}
}

// section runs one section, three channels at a time and what is left one by one.
func (b *bank) section(dst, src []float64, k int, w way) {
	s := &b.sections[k]
	s1, s2 := b.of(k)
	c := 0
	if s.symmetric() {
		for ; c+3 <= b.channels; c += 3 {
			w.triple(dst, src, s, s1, s2, c)
		}
	}
	for ; c < b.channels; c++ {
		w.single(dst, src, s, &s1[c], &s2[c], c)
	}
}

// way is how the samples of a block follow one another.
type way struct {
	first, step int // place of the first sample, and from one to the next
	samples     int
}

// single filters one channel.
func (w way) single(dst, src []float64, s *Section, s1, s2 *float64, c int) {
	p1, p2, q := *s1, *s2, *s
	i := w.first + c
	for range w.samples {
		dst[i], p1, p2 = q.next(p1, p2, src[i])
		i += w.step
	}
	*s1, *s2 = p1, p2
}

// triple filters channels c to c+2: each keeps the processor busy while the
// others wait for their own outputs before. Every product and every sum is the
// one of [Section.next].
func (w way) triple(dst, src []float64, s *Section, s1, s2 []float64, c int) {
	m1, m2 := s1[c:c+3:c+3], s2[c:c+3:c+3]
	p1, p2, q1, q2, r1, r2 := m1[0], m2[0], m1[1], m2[1], m1[2], m2[2]
	b0, b1, a1, a2 := s.B0, s.B1, s.A1, s.A2
	i := w.first + c
	for range w.samples {
		x, y := src[i:i+3:i+3], dst[i:i+3:i+3]
		x0, x1, x2 := x[0], x[1], x[2]
		t := float64(b0 * x0)
		o := t + p1
		p1 = float64(b1*x0) + p2 - float64(a1*o)
		p2 = t - float64(a2*o)
		y[0] = o
		t = float64(b0 * x1)
		o = t + q1
		q1 = float64(b1*x1) + q2 - float64(a1*o)
		q2 = t - float64(a2*o)
		y[1] = o
		t = float64(b0 * x2)
		o = t + r1
		r1 = float64(b1*x2) + r2 - float64(a1*o)
		r2 = t - float64(a2*o)
		y[2] = o
		i += w.step
	}
	m1[0], m2[0], m1[1], m2[1], m1[2], m2[2] = p1, p2, q1, q2, r1, r2
}

// finite reports whether a row of outputs is finite. If the last one of a pass
// is, all before it were, in every section: a recursion never forgets a value
// that was not finite, and passes it on.
func finite(row []float64) bool {
	for _, y := range row {
		if !isFinite(y) {
			return false
		}
	}
	return true
}

func isFinite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
