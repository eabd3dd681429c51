package filter

import "math"

// past is what a section remembers of one channel: its last two inputs and
// outputs. This is direct form I: of the sum that makes an output only the last
// term waits for the output before it, which keeps the recursive chain as short
// as it can be, and starting from a steady state needs no algebra.
type past struct{ x1, x2, y1, y2 float64 }

// next returns what s remembers after one more input; y1 of the result is the
// output. The conversions keep the compiler from fusing multiplications with
// additions, so that every machine and every way of calling gives the same
// digits.
func (p past) next(s *Section, x float64) past {
	y := (float64(s.B0*x) + float64(s.B1*p.x1)) + (float64(s.B2*p.x2) - float64(s.A2*p.y2)) - float64(s.A1*p.y1)
	return past{x, p.x1, y, p.y1}
}

// push takes in one more input in place and returns the output.
func (p *past) push(s *Section, x float64) float64 {
	q := p.next(s, x)
	p.x1, p.x2, p.y1, p.y2 = q.x1, q.x2, q.y1, q.y2
	return q.y1
}

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
	past     []past // of section k, channel c: past[k*channels+c]
	lanes    bool   // use the vector kernel; the digits are the same
}

func newBank(sections []Section, channels int) bank {
	return bank{sections, channels, make([]past, len(sections)*channels), haveLanes()}
}

// start makes the bank remember row, one value per channel, as the input that
// has lasted for ever: every section is in its steady state.
func (b *bank) start(row []float64) {
	for c, x := range row {
		for k := range b.sections {
			y := x * b.sections[k].gainDC()
			b.past[k*b.channels+c] = past{x, x, y, y}
			x = y
		}
	}
}

// few is the number of samples below which it does not pay to prepare sums.
const few = 6

// run filters block in place. block holds samples of all channels, interleaved.
// It goes through the block once for each section, in up to three ways that
// give the same digits: four to twelve channels at a time in a vector kernel
// where there is one, two channels at a time, and one by one.
func (b *bank) run(block []float64, d direction) {
	n := b.channels
	w := way{first: 0, step: n, samples: len(block) / n}
	if d == descending {
		w.first, w.step = (w.samples-1)*n, -n
	}
	for k := range b.sections {
		s := &b.sections[k]
		memory := b.past[k*n : (k+1)*n]
		c := 0
		if w.samples >= few && s.B0 == s.B2 {
			if b.lanes {
				c = w.lanes(block, s, memory)
			}
			for ; c+1 < n; c += 2 {
				w.pair(block, s, memory, c)
			}
		}
		for ; c < n; c++ {
			w.single(block, s, &memory[c], c)
		}
	}
}

// way is how the samples of a block follow one another.
type way struct {
	first, step int // place of the first sample, and from one to the next
	samples     int
}

// single filters one channel.
func (w way) single(block []float64, s *Section, memory *past, c int) {
	p := *memory
	i := w.first + c
	for range w.samples {
		p = p.next(s, block[i])
		block[i] = p.y1
		i += w.step
	}
	*memory = p
}

// sums are the terms of the next outputs that are known before their inputs
// are. With them a section whose B2 is its B0, as in every low-pass with its
// zeros on the unit circle, needs one multiplication less for each output, and
// has four instead of five numbers to hold.
type sums struct{ x1, y1, r1, r2 float64 } // B1·x1, A1·y1, B0·x − A2·y one and two samples ago

func (p past) sums(s *Section) sums {
	return sums{
		x1: float64(s.B1 * p.x1),
		y1: float64(s.A1 * p.y1),
		r1: float64(s.B0*p.x1) - float64(s.A2*p.y1),
		r2: float64(s.B0*p.x2) - float64(s.A2*p.y2),
	}
}

// begin returns the sums of channel c and makes p remember the last inputs
// of the block, which are about to be overwritten.
func (w way) begin(block []float64, s *Section, p *past, c int) sums {
	q := p.sums(s)
	last := w.first + (w.samples-1)*w.step + c
	p.x1, p.x2 = block[last], block[last-w.step]
	return q
}

// end makes p remember the last outputs.
func (w way) end(block []float64, p *past, c int) {
	last := w.first + (w.samples-1)*w.step + c
	p.y1, p.y2 = block[last], block[last-w.step]
}

// pair filters channels c and c+1: each keeps the processor busy while the
// other waits for its own output before. Every product and every sum is the one
// of [past.next], in the same order.
func (w way) pair(block []float64, s *Section, memory []past, c int) {
	p, q := w.begin(block, s, &memory[c], c), w.begin(block, s, &memory[c+1], c+1)
	b0, b1, a1, a2 := s.B0, s.B1, s.A1, s.A2
	i := w.first + c
	for range w.samples {
		x := block[i : i+2 : i+2]
		u := float64(b0 * x[0])
		y := u + p.x1 + p.r2 - p.y1
		p = sums{float64(b1 * x[0]), float64(a1 * y), u - float64(a2*y), p.r1}
		x[0] = y
		u = float64(b0 * x[1])
		y = u + q.x1 + q.r2 - q.y1
		q = sums{float64(b1 * x[1]), float64(a1 * y), u - float64(a2*y), q.r1}
		x[1] = y
		i += w.step
	}
	w.end(block, &memory[c], c)
	w.end(block, &memory[c+1], c+1)
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
