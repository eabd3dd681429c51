package batch

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/torque"
)

// finish fills the result from the filtered rows, and reports whether samples
// are missing.
func (c *Chain) finish(dst *Result, w *way, n int) (missing bool) {
	for from := 0; from < n; from += block {
		to := min(from+block, n)
		dst.spread(from, to)
		for p := range dst.Plates {
			dst.Plates[p].press(c.cfg.MinVertical, from, to)
		}
		missing = dst.Net.press(c.cfg.MinVertical, from, to) || missing
		w.walk(dst.COM, &dst.Net, from, to)
		c.turn(dst, from, to)
		dst.extremes(from, to)
	}
	return missing
}

// spread writes the rows to the plates and their sum to the net.
func (r *Result) spread(from, to int) {
	stride := r.stride()
	net := r.Net.Wrench[from:to]
	for p := range r.Plates {
		ws := r.Plates[p].Wrench[from:to]
		for i := range ws {
			row := (*[6]float64)(r.rows[(from+i)*stride+6*p:])
			w, sum := &ws[i], &net[i]
			w.Force = r3.Vec{X: row[0], Y: row[1], Z: row[2]}
			w.Moment = r3.Vec{X: row[3], Y: row[4], Z: row[5]}
			if p == 0 {
				*sum = *w
				continue
			}
			sum.Force = r3.Vec{X: sum.Force.X + row[0], Y: sum.Force.Y + row[1], Z: sum.Force.Z + row[2]}
			sum.Moment = r3.Vec{X: sum.Moment.X + row[3], Y: sum.Moment.Y + row[4], Z: sum.Moment.Z + row[5]}
		}
	}
}

// press fills in centre of pressure and free moment (the formulas of [cop.Of]
// for the standing surface), and what is noted of the vertical force. It reports
// whether samples are missing.
func (l *Load) press(least float64, from, to int) (missing bool) {
	ws := l.Wrench[from:to]
	ps, frees := l.COP[from:to][:len(ws)], l.Free[from:to][:len(ws)]
	down := from > 0 && l.Wrench[from-1].Force.Z >= least
	if from == 0 {
		down = ws[0].Force.Z >= least
	}
	lo, hi := l.Vertical.Min, l.Vertical.Max
	nan := math.NaN()
	for i := range ws {
		f, m := &ws[i].Force, &ws[i].Moment
		z := f.Z
		if z < lo {
			lo, l.Vertical.MinAt = z, from+i
		}
		if z > hi {
			hi, l.Vertical.MaxAt = z, from+i
		}
		loaded := z >= least
		if loaded != down {
			down = loaded
			l.Crossings = append(l.Crossings, from+i)
		}
		if !loaded {
			missing = missing || z != z
			ps[i] = r3.Vec{X: nan, Y: nan, Z: nan}
			frees[i] = nan
			continue
		}
		q := 1 / z
		x, y := -m.Y*q, m.X*q
		ps[i] = r3.Vec{X: x, Y: y}
		frees[i] = m.Z - (float64(x*f.Y) - float64(y*f.X))
	}
	l.Vertical.Min, l.Vertical.Max = lo, hi
	return missing
}

// turn fills in moment and arms about the centre of mass (the formulas of
// [torque.About] and [torque.Arms]).
func (c *Chain) turn(dst *Result, from, to int) {
	ws := dst.Net.Wrench[from:to]
	coms, frees := dst.COM[from:to][:len(ws)], dst.Net.Free[from:to][:len(ws)]
	moments, arms := dst.Moment[from:to][:len(ws)], dst.Arm[from:to][:len(ws)]
	least := c.cfg.MinForce
	nan := math.NaN()
	for i := range ws {
		f, m, p := &ws[i].Force, &ws[i].Moment, &coms[i]
		mx := m.X - (float64(p.Y*f.Z) - float64(p.Z*f.Y))
		my := m.Y - (float64(p.Z*f.X) - float64(p.X*f.Z))
		mz := m.Z - (float64(p.X*f.Y) - float64(p.Y*f.X))
		moments[i] = torque.Planes{Frontal: mx, Sagittal: my, Horizontal: mz}
		xx, yy, zz := float64(f.X*f.X), float64(f.Y*f.Y), float64(f.Z*f.Z)
		a := torque.Planes{Frontal: nan, Sagittal: nan, Horizontal: nan}
		if d := math.Sqrt(yy + zz); d >= least {
			a.Frontal = mx / d
		}
		if d := math.Sqrt(xx + zz); d >= least {
			a.Sagittal = my / d
		}
		if d := math.Sqrt(xx + yy); d >= least {
			a.Horizontal = (mz - frees[i]) / d
		}
		arms[i] = a
	}
}
