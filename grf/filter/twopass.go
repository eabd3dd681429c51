package filter

import "math"

// blockValues is the size of the blocks that the kernel works on: 32 KB, which
// stay in or next to the fastest cache. Smaller ones cost more beginnings.
const blockValues = 4096

// work is the memory that one call needs besides its series.
type work struct {
	bank  bank
	block []float64 // a whole number of samples
	tail  []float64 // samples behind the end
	rows  []float64 // three single samples
	runs  []span
	bad   error // of what is filtered while it is made
}

func (z *ZeroPhase) take(channels int) *work {
	w, _ := z.work.Get().(*work)
	if w == nil {
		w = new(work)
	}
	if w.bank.channels != channels {
		w.bank = newBank(z.sections, channels)
		if z.plain {
			w.bank.lanes = *new(lanes)
		}
		w.block = make([]float64, blockRows(channels)*channels)
		w.rows = make([]float64, 3*channels)
	}
	return w
}

// blockRows is how many samples are in a block: a multiple of four, which a Mix
// likes, but for hundreds of channels.
func blockRows(channels int) int {
	if n := blockValues / channels; n > 4 {
		return n &^ 3
	}
	return max(1, blockValues/channels)
}

// apply filters src into dst, which has the same shape and may be src.
func apply[R rows[R]](z *ZeroPhase, dst, src R) error {
	w := z.take(src.width())
	defer z.work.Put(w)
	n := src.count()

	var err error
	w.runs, err = appendRuns(w.runs[:0], src, z.opt.NaN, w.rows[:src.width()])
	if err != nil {
		return err
	}
	runs := w.runs
	if z.opt.NaN == NaNInterpolate {
		runs = []span{{w.runs[0].from, w.runs[len(w.runs)-1].to}}
	}
	for _, r := range runs {
		if _, err := z.padFor(r); err != nil {
			return err
		}
	}
	if len(runs) < len(w.runs) { // gaps to bridge
		copyRows(dst, src, w.block)
		bridge(dst, w.runs, w.rows)
		src = dst
	}
	for _, r := range runs {
		pad, _ := z.padFor(r)
		if err := twoPass(w, dst.part(r.from, r.to), src.part(r.from, r.to), pad); err != nil {
			return err
		}
	}
	fill(w.rows, math.NaN())
	eachGap(w.runs, n, func(gap span) {
		for i := gap.from; i < gap.to; i++ {
			dst.write(w.rows[:dst.width()], i)
		}
	})
	return nil
}

// padFor returns by how many samples a run is extended at each end, or an error
// when it is too short for that.
func (z *ZeroPhase) padFor(r span) (int, error) {
	length := r.to - r.from
	if length <= z.pad && z.opt.Short == ShortError {
		return 0, &TooShortError{Start: r.from, Got: length, Need: z.pad + 1}
	}
	return min(z.pad, length-1), nil
}

// twoPass filters src forward and backward into dst, with pad samples of point
// reflection at each end. The samples before the beginning are the first ones
// mirrored and taken in falling order, those behind the end the last ones;
// neither is ever laid out as one long series.
func twoPass[D rows[D], S source](w *work, dst D, src S, pad int) error {
	n, channels := src.count(), src.width()
	first, last := w.rows[:channels], w.rows[channels:2*channels]
	size := len(w.block) / channels
	w.tail = grow(w.tail, pad*channels)

	// Read what lies behind the end before dst, which may be src, is written.
	src.read(last, n-1)
	src.read(w.tail, n-1-pad)
	mirror(w.tail, last)

	// Forward: start at the outermost sample before the beginning.
	src.read(first, 0)
	outermost := w.rows[2*channels:]
	src.read(outermost, pad)
	mirror(outermost, first)
	w.bank.start(outermost)
	for to := pad + 1; to > 1; {
		from := max(1, to-size)
		block := w.block[:(to-from)*channels]
		src.read(block, from)
		mirror(block, first)
		w.bank.run(block, block, descending)
		to = from
	}
	for from := 0; from < n; from += size {
		to := min(from+size, n)
		in, out := src.view(w.block, from, to), dst.open(w.block, from, to)
		w.bank.run(out, in, ascending)
		dst.write(out, from)
	}
	w.bank.run(w.tail, w.tail, descending)

	// Backward: start at the outermost filtered sample behind the end.
	if pad > 0 {
		copy(outermost, w.tail)
	} else {
		dst.read(outermost, n-1)
	}
	w.bank.start(outermost)
	w.bank.run(w.tail, w.tail, ascending)
	for to := n; to > 0; {
		from := max(0, to-size)
		block := dst.view(w.block, from, to)
		w.bank.run(block, block, descending)
		dst.write(block, from)
		to = from
	}
	dst.read(first, 0)
	if !finite(first) {
		return ErrOverflow
	}
	return nil
}

// copyRows copies src to dst by way of block.
func copyRows[R rows[R]](dst, src R, block []float64) {
	n, channels := src.count(), src.width()
	for from := 0; from < n; {
		b := block[:min(len(block)/channels, n-from)*channels]
		src.read(b, from)
		dst.write(b, from)
		from += len(b) / channels
	}
}
