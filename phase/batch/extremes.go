package batch

import (
	"math"
)

// Extremes are the smallest and the largest value of a series and the first
// sample that has it. Samples that are NaN do not count; of a series of nothing
// else the values are NaN and the samples −1.
type Extremes struct {
	Min, Max     float64
	MinAt, MaxAt int
}

// none are the extremes of a series that has not begun.
var none = Extremes{Min: math.Inf(1), Max: math.Inf(-1), MinAt: -1, MaxAt: -1}

// close turns what is still as [none] into NaN.
func (e *Extremes) close() {
	if e.MaxAt < 0 {
		e.Min, e.Max = math.NaN(), math.NaN()
	}
}

// push takes in the next values of three series, sample i in x, y and z.
func push(e *[3]Extremes, x, y, z float64, i int) {
	if x < e[0].Min {
		e[0].Min, e[0].MinAt = x, i
	}
	if x > e[0].Max {
		e[0].Max, e[0].MaxAt = x, i
	}
	if y < e[1].Min {
		e[1].Min, e[1].MinAt = y, i
	}
	if y > e[1].Max {
		e[1].Max, e[1].MaxAt = y, i
	}
	if z < e[2].Min {
		e[2].Min, e[2].MinAt = z, i
	}
	if z > e[2].Max {
		e[2].Max, e[2].MaxAt = z, i
	}
}

// extremes takes in the samples from … to−1.
func (r *Result) extremes(from, to int) {
	for i, w := range r.Net.Wrench[from:to] {
		push(&r.ForceExtremes, w.Force.X, w.Force.Y, w.Force.Z, from+i)
	}
	for i, m := range r.Moment[from:to] {
		push(&r.MomentExtremes, m.Frontal, m.Sagittal, m.Horizontal, from+i)
	}
	for i, a := range r.Arm[from:to] {
		push(&r.ArmExtremes, a.Frontal, a.Sagittal, a.Horizontal, from+i)
	}
	var e [3]Extremes
	e[0], e[1], e[2] = r.COPExtremes[0], r.COPExtremes[1], r.FreeExtremes
	free := r.Net.Free[from:to]
	for i, p := range r.Net.COP[from:to] {
		push(&e, p.X, p.Y, free[i], from+i)
	}
	r.COPExtremes[0], r.COPExtremes[1], r.FreeExtremes = e[0], e[1], e[2]
}
