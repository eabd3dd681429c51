package batch

import (
	"math"

	"example.com/momentarm/torque"
)

// finish fills the result from the filtered rows, and reports whether samples
// are missing.
func (c *Chain) finish(dst *Result, w *way, n int) (missing bool) {
	for from := 0; from < n; from += block {
		to := min(from+block, n)
		for p := range dst.Plates {
			dst.spread(p, from, to)
			dst.Plates[p].press(c.cfg.MinVertical, from, to)
		}
		dst.sum(from, to)
		missing = dst.Net.press(c.cfg.MinVertical, from, to) || missing
		w.walk(dst.COM, dst.Net.Wrench, from, to)
		c.turn(dst, from, to)
	}
	return missing
}

// spread writes the rows of a plate to its wrenches.
func (r *Result) spread(p, from, to int) {
	stride := r.stride()
	rows := r.rows[from*stride+6*p:]
	ws := r.Plates[p].Wrench[from:to]
	for i := range ws {
		row, w := (*[6]float64)(rows[i*stride:]), &ws[i]
		w.Force.X, w.Force.Y, w.Force.Z = row[0], row[1], row[2]
		w.Moment.X, w.Moment.Y, w.Moment.Z = row[3], row[4], row[5]
	}
}

// sum writes the sum of all plates to the net.
func (r *Result) sum(from, to int) {
	net := r.Net.Wrench[from:to]
	a := r.Plates[0].Wrench[from:to]
	copy(net, a)
	for p := 1; p < len(r.Plates); p++ {
		b := r.Plates[p].Wrench[from:to][:len(net)]
		for i := range net {
			w, v := &net[i], &b[i]
			w.Force.X, w.Force.Y, w.Force.Z = w.Force.X+v.Force.X, w.Force.Y+v.Force.Y, w.Force.Z+v.Force.Z
			w.Moment.X, w.Moment.Y, w.Moment.Z = w.Moment.X+v.Moment.X, w.Moment.Y+v.Moment.Y, w.Moment.Z+v.Moment.Z
		}
	}
}

// press fills in centre of pressure and free moment (the formulas of [cop.Of]
// for the standing surface), and what is noted of the vertical force. It reports
// whether samples are missing.
func (l *Load) press(least float64, from, to int) (missing bool) {
	ws := l.Wrench[from:to]
	ps, frees := l.COP[from:to][:len(ws)], l.Free[from:to][:len(ws)]
	down := l.Wrench[max(from-1, 0)].Force.Z >= least
	nan := math.NaN()
	for i := range ws {
		f, m, p := &ws[i].Force, &ws[i].Moment, &ps[i]
		z := f.Z
		l.Vertical.note(z, from+i)
		if loaded := z >= least; loaded != down {
			down = loaded
			l.Crossings = append(l.Crossings, from+i)
		}
		if !down {
			missing = missing || math.IsNaN(z)
			p.X, p.Y, p.Z = nan, nan, nan
			frees[i] = nan
			continue
		}
		q := 1 / z
		x, y := -m.Y*q, m.X*q
		p.X, p.Y, p.Z = x, y, 0
		frees[i] = m.Z - (float64(x*f.Y) - float64(y*f.X))
	}
	return missing
}

// turn fills in moment and arms about the centre of mass (the formulas of
// [torque.About] and [torque.Arms]) and takes in the extremes of the net.
func (c *Chain) turn(dst *Result, from, to int) {
	ws := dst.Net.Wrench[from:to]
	cops, frees := dst.Net.COP[from:to][:len(ws)], dst.Net.Free[from:to][:len(ws)]
	coms, moments, arms := dst.COM[from:to][:len(ws)], dst.Moment[from:to][:len(ws)], dst.Arm[from:to][:len(ws)]
	least := c.cfg.MinForce
	fe, ce, me, ae := &dst.ForceExtremes, &dst.PressureExtremes, &dst.MomentExtremes, &dst.ArmExtremes
	for i := range ws {
		f, m, p := &ws[i].Force, &ws[i].Moment, &coms[i]
		fx, fy, fz := f.X, f.Y, f.Z
		mx := m.X - (float64(p.Y*fz) - float64(p.Z*fy))
		my := m.Y - (float64(p.Z*fx) - float64(p.X*fz))
		mz := m.Z - (float64(p.X*fy) - float64(p.Y*fx))
		moments[i] = torque.Planes{Frontal: mx, Sagittal: my, Horizontal: mz}

		t := frees[i]
		xx, yy, zz := float64(fx*fx), float64(fy*fy), float64(fz*fz)
		frontal := arm(mx, math.Sqrt(yy+zz), least)
		sagittal := arm(my, math.Sqrt(xx+zz), least)
		horizontal := arm(mz-t, math.Sqrt(xx+yy), least)
		arms[i] = torque.Planes{Frontal: frontal, Sagittal: sagittal, Horizontal: horizontal}

		if beyond(fe, fx, fy, fz) {
			note(fe, fx, fy, fz, from+i)
		}
		if at := &cops[i]; beyond(ce, at.X, at.Y, t) {
			note(ce, at.X, at.Y, t, from+i)
		}
		if beyond(me, mx, my, mz) {
			note(me, mx, my, mz, from+i)
		}
		if beyond(ae, frontal, sagittal, horizontal) {
			note(ae, frontal, sagittal, horizontal, from+i)
		}
	}
}

// beyond reports whether one of three values is a new extreme of its series.
func beyond(e *[3]Extremes, x, y, z float64) bool {
	return x > e[0].Max || x < e[0].Min || y > e[1].Max || y < e[1].Min || z > e[2].Max || z < e[2].Min
}

// note takes in the values of sample i.
func note(e *[3]Extremes, x, y, z float64, i int) {
	e[0].note(x, i)
	e[1].note(y, i)
	e[2].note(z, i)
}

func arm(moment, force, least float64) float64 {
	if force >= least {
		return moment / force
	}
	return math.NaN()
}
