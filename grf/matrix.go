package grf

import "gonum.org/v1/gonum/spatial/r3"

// Matrix returns the 6×n matrix, row by row, that [Plate.Wrench] multiplies the n
// channels by, with the rows Fx Fy Fz Mx My Mz, and true. It is for callers who
// fold a plate into larger matrices. A plate of [TypePoint] or with a position
// correction has none: then it returns nil and false.
func (p *Plate) Matrix() ([]float64, bool) {
	if !p.linear() {
		return nil, false
	}
	return append([]float64(nil), p.lab...), true
}

// linear reports whether the wrench is a matrix times the channels.
func (p *Plate) linear() bool { return p.typ != TypePoint && p.correction == nil }

// MatrixIn is [Plate.Matrix] with the axes folded in: the 6×n matrix, row by row, that
// makes of n channels the wrench in swing axes and about their origin, as
// [Axes.Wrench] does, and true; nil and false for a plate that has none.
func (p *Plate) MatrixIn(axes Axes) ([]float64, bool) {
	m, ok := p.Matrix()
	if !ok {
		return nil, false
	}
	n := len(m) / 6
	for j := range n {
		w := axes.Wrench(Wrench{
			Force:  r3.Vec{X: m[j], Y: m[n+j], Z: m[2*n+j]},
			Moment: r3.Vec{X: m[3*n+j], Y: m[4*n+j], Z: m[5*n+j]},
		})
		for i, v := range [6]float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z} {
			m[i*n+j] = v
		}
	}
	return m, true
}
