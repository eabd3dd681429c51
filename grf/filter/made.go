package filter

import "example.com/momentarm/grf"

// Source makes samples of several channels on the way, out of something else.
type Source interface {
	// Samples writes as many samples as fit to block, interleaved, the first of
	// them sample at. It is called for all samples in rising order, and for those
	// near the ends several times; it has to give the same values each time.
	Samples(block []float64, at int)
}

// InterleavedFrom filters what src makes: samples in number, of as many channels.
// It is [ZeroPhase.Interleaved] without the series that is filtered ever laid out
// in memory, which is what a long one costs most. dst must not be what src reads
// from. After an error the content of dst is undefined.
func (z *ZeroPhase) InterleavedFrom(dst []float64, src Source, samples, channels int) ([]float64, error) {
	if err := checkInterleaved(0, channels); err != nil {
		return nil, err
	}
	if samples < 1 {
		return nil, grf.ErrNoData
	}
	dst = grow(dst, samples*channels)
	if z.opt.NaN != NaNError { // gaps have to be known before the first sample is filtered
		src.Samples(dst, 0)
		return z.Interleaved(dst, dst, channels)
	}
	w := z.take(channels)
	defer z.work.Put(w)
	if err := checking(z, w, floats{dst, channels}, made{src, samples, channels, &w.bad}); err != nil {
		return nil, err
	}
	return dst, nil
}

// checking filters src into dst, which is another place, and looks at the samples
// on the way: a long series is fetched from memory once less. src notes in w.bad
// what is not measured.
func checking[S source](z *ZeroPhase, w *work, dst floats, src S) error {
	pad, err := z.padFor(span{0, src.count()})
	if err != nil {
		return err
	}
	w.bad = nil
	err = twoPass(w, dst, src, pad)
	if w.bad != nil {
		return w.bad
	}
	return err
}

// look notes the first sample of block that is not measured in *bad. The first
// sample of block is number from of the series.
func look(block []float64, channels, from int, bad *error) {
	if i := unmeasured(block); *bad == nil && i < len(block) {
		i /= channels
		*bad = notFinite(block[i*channels:][:channels], from+i, NaNError)
	}
}

// looked are samples in memory that are looked at when they are viewed.
type looked struct {
	floats
	bad *error
}

func (l looked) view(_ []float64, from, to int) []float64 {
	block := l.floats.view(nil, from, to)
	look(block, l.n, from, l.bad)
	return block
}

// made are the samples of a Source. *bad becomes the error about the first one
// that is not measured.
type made struct {
	from       Source
	samples, n int
	bad        *error
}

func (m made) count() int                   { return m.samples }
func (m made) width() int                   { return m.n }
func (m made) read(block []float64, at int) { m.from.Samples(block, at) }

func (m made) view(block []float64, from, to int) []float64 {
	block = block[:(to-from)*m.n]
	m.read(block, from)
	look(block, m.n, from, m.bad)
	return block
}
