package filter

import (
	"math"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// largest is the largest magnitude that passes for a measurement. It leaves
// room for everything that a filter does to it.
const largest = 1e150

// measured reports whether x is finite and of a size that can be filtered.
func measured(x float64) bool { return math.Abs(x) <= largest }

// source is a series of samples of several channels that can be read.
type source interface {
	count() int                   // samples
	width() int                   // channels
	read(block []float64, at int) // as many samples as fit, from sample at on
	// view returns samples from … to−1: their own place where that is possible,
	// else as much of block, with the samples read into it.
	view(block []float64, from, to int) []float64
}

// rows is a series of samples, whatever holds them. The kernel works on blocks
// of it, never on channels that were copied apart.
type rows[R any] interface {
	source
	write(block []float64, at int) // the inverse of read
	// open is view without reading: memory to write to.
	open(block []float64, from, to int) []float64
	part(from, to int) R // samples from … to−1
	bad(from int) int    // first sample ≥ from that is not measured, or count
}

// floats are samples of n channels, interleaved.
type floats struct {
	data []float64
	n    int
}

func (f floats) count() int                    { return len(f.data) / f.n }
func (f floats) width() int                    { return f.n }
func (f floats) read(block []float64, at int)  { move(block, f.data[at*f.n:]) }
func (f floats) write(block []float64, at int) { move(f.data[at*f.n:], block) }
func (f floats) part(from, to int) floats      { return floats{f.data[from*f.n : to*f.n], f.n} }

func (f floats) open(_ []float64, from, to int) []float64 { return f.data[from*f.n : to*f.n] }
func (f floats) view(_ []float64, from, to int) []float64 { return f.open(nil, from, to) }

func (f floats) bad(from int) int {
	for at := from * f.n; at < len(f.data); at += blockValues {
		part := f.data[at:min(at+blockValues, len(f.data))]
		if i := unmeasured(part); i < len(part) {
			return (at + i) / f.n
		}
	}
	return f.count()
}

// unmeasured returns the index of the first value that is not measured, or the
// length of x.
func unmeasured(x []float64) int {
	if !clean(x) {
		for i, v := range x {
			if !measured(v) {
				return i
			}
		}
	}
	return len(x)
}

// move is copy that does nothing when both are in the same place.
func move(dst, src []float64) {
	if len(dst) > 0 && len(src) > 0 && &dst[0] != &src[0] {
		copy(dst, src)
	}
}

// wrenches are samples of six channels: Fx Fy Fz Mx My Mz.
type wrenches []grf.Wrench

func (w wrenches) count() int                 { return len(w) }
func (w wrenches) width() int                 { return 6 }
func (w wrenches) part(from, to int) wrenches { return w[from:to] }

func (w wrenches) open(block []float64, from, to int) []float64 { return block[:6*(to-from)] }
func (w wrenches) view(block []float64, from, to int) []float64 {
	block = w.open(block, from, to)
	w.read(block, from)
	return block
}

func (w wrenches) read(block []float64, at int) {
	for ; len(block) >= 6; at++ {
		f, m := &w[at].Force, &w[at].Moment
		block[0], block[1], block[2] = f.X, f.Y, f.Z
		block[3], block[4], block[5] = m.X, m.Y, m.Z
		block = block[6:]
	}
}

func (w wrenches) write(block []float64, at int) {
	for ; len(block) >= 6; at++ {
		w[at] = grf.Wrench{
			Force:  r3.Vec{X: block[0], Y: block[1], Z: block[2]},
			Moment: r3.Vec{X: block[3], Y: block[4], Z: block[5]},
		}
		block = block[6:]
	}
}

func (w wrenches) bad(from int) int {
	for i := from; i < len(w); i++ {
		f, m := &w[i].Force, &w[i].Moment
		if !(measured(f.X) && measured(f.Y) && measured(f.Z) &&
			measured(m.X) && measured(m.Y) && measured(m.Z)) {
			return i
		}
	}
	return len(w)
}

// vectors are samples of three channels.
type vectors []r3.Vec

func (v vectors) count() int                { return len(v) }
func (v vectors) width() int                { return 3 }
func (v vectors) part(from, to int) vectors { return v[from:to] }

func (v vectors) open(block []float64, from, to int) []float64 { return block[:3*(to-from)] }
func (v vectors) view(block []float64, from, to int) []float64 {
	block = v.open(block, from, to)
	v.read(block, from)
	return block
}

func (v vectors) read(block []float64, at int) {
	for ; len(block) >= 3; at++ {
		block[0], block[1], block[2] = v[at].X, v[at].Y, v[at].Z
		block = block[3:]
	}
}

func (v vectors) write(block []float64, at int) {
	for ; len(block) >= 3; at++ {
		v[at] = r3.Vec{X: block[0], Y: block[1], Z: block[2]}
		block = block[3:]
	}
}

func (v vectors) bad(from int) int {
	for i := from; i < len(v); i++ {
		if !(measured(v[i].X) && measured(v[i].Y) && measured(v[i].Z)) {
			return i
		}
	}
	return len(v)
}

// grow returns dst with length n, reusing its memory when there is enough.
func grow[T any](dst []T, n int) []T {
	if cap(dst) < n {
		return make([]T, n)
	}
	return dst[:n]
}

// overlapInPart reports whether n elements of dst share memory with src
// without beginning at the same one. Slices whose capacity was cut differ in
// their last element and are not recognised.
func overlapInPart[T any](dst, src []T, n int) bool {
	d, s := cap(dst), cap(src)
	if n == 0 || d < n || s == 0 || d == s {
		return false // a new dst is made, or both begin at one element
	}
	if &dst[:d][d-1] != &src[:s][s-1] {
		return false
	}
	// Both reach to the same last element: compare places counted from there.
	return d-n < s && s-len(src) < d
}

func fill(x []float64, v float64) {
	for i := range x {
		x[i] = v
	}
}
