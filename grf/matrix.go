package grf

// Matrix returns the 6×n matrix, row by row, that [Plate.Wrench] multiplies the n
// channels by, with the rows Fx Fy Fz Mx My Mz, and true. It is for callers who
// fold a plate into larger matrices. A plate of [TypePoint] or with a position
// correction has none: then it returns nil and false.
func (p *Plate) Matrix() ([]float64, bool) {
	if p.typ == TypePoint || p.correction != nil {
		return nil, false
	}
	return append([]float64(nil), p.lab...), true
}
