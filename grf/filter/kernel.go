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
}

func newBank(sections []Section, channels int) bank {
	return bank{sections, channels, make([]past, len(sections)*channels)}
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

// run filters block in place. block holds samples of all channels, interleaved.
// This is the one place where the arithmetic is done: every form of filtering
// in this package goes through it. Two channels at a time keep the processor
// busy while each waits for its own output before.
func (b *bank) run(block []float64, d direction) {
	n := b.channels
	samples := len(block) / n
	first, step := 0, n
	if d == descending {
		first, step = (samples-1)*n, -n
	}
	for k := range b.sections {
		s := b.sections[k]
		memory := b.past[k*n : (k+1)*n]
		c := 0
		for ; c+1 < n; c += 2 {
			p, q := memory[c], memory[c+1]
			i := first + c
			for range samples {
				x := block[i : i+2 : i+2]
				p, q = p.next(&s, x[0]), q.next(&s, x[1])
				x[0], x[1] = p.y1, q.y1
				i += step
			}
			memory[c], memory[c+1] = p, q
		}
		if c < n {
			p := memory[c]
			i := first + c
			for range samples {
				p = p.next(&s, block[i])
				block[i] = p.y1
				i += step
			}
			memory[c] = p
		}
	}
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
