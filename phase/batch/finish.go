package batch

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/torque"
)

// finish fills the result from the filtered rows, and reports whether samples
// are missing.
func (c *Chain) finish(dst *Result, w *way, n int) (missing bool) {
	stride := dst.stride()
	for from := 0; from < n; from += block {
		to := min(from+block, n)
		rows, net := dst.rows[from*stride:to*stride], dst.net[:6*(to-from)]
		for p := range dst.Plates {
			dst.Plates[p].press(rows[6*p:], stride, c.cfg.MinVertical, from, to)
		}
		sum(net, rows, stride)
		missing = dst.Net.press(net, 6, c.cfg.MinVertical, from, to) || missing
		w.walk(dst.COM[from:to], net)
		c.turn(dst, net, from, to)
	}
	return missing
}

// sum writes the sum of all wrenches of a sample to the net.
func sum(net, rows []float64, stride int) {
	if stride == 6 {
		copy(net, rows)
		return
	}
	for i, o := 0, 0; o < len(net); i, o = i+stride, o+6 {
		a, s := rows[i:i+12:i+12], net[o:o+6:o+6]
		s[0], s[1], s[2], s[3], s[4], s[5] = a[0]+a[6], a[1]+a[7], a[2]+a[8], a[3]+a[9], a[4]+a[10], a[5]+a[11]
	}
	for p := 12; p < stride; p += 6 {
		for i, o := p, 0; o < len(net); i, o = i+stride, o+6 {
			a, s := (*[6]float64)(rows[i:]), (*[6]float64)(net[o:])
			s[0], s[1], s[2], s[3], s[4], s[5] = s[0]+a[0], s[1]+a[1], s[2]+a[2], s[3]+a[3], s[4]+a[4], s[5]+a[5]
		}
	}
}

// press fills in centre of pressure and free moment (the formulas of [cop.Of]
// for the standing surface), and what is noted of the vertical force, of samples
// from … to−1, whose wrenches are in rows. It reports whether samples are
// missing.
func (l *Load) press(rows []float64, stride int, least float64, from, to int) (missing bool) {
	ps := l.COP[from:to]
	frees := l.Free[from:to][:len(ps)]
	down := l.down
	if from == 0 {
		down = rows[2] >= least
	}
	nan := math.NaN()
	e := l.Vertical
	for i, o := 0, 0; i < len(ps); { // stretch by stretch
		if down {
			for ; i < len(ps); i, o = i+1, o+stride {
				row, p := rows[o:o+6:o+6], &ps[i]
				z := row[2]
				if !(z >= least) {
					break
				}
				if z > e.Max || z < e.Min {
					e.note(z, from+i)
				}
				q := 1 / z
				x, y := -row[4]*q, row[3]*q
				p.X, p.Y, p.Z = x, y, 0
				frees[i] = row[5] - (float64(x*row[1]) - float64(y*row[0]))
			}
		} else {
			for ; i < len(ps); i, o = i+1, o+stride {
				z := rows[o+2]
				if z >= least {
					break
				}
				if z > e.Max || z < e.Min {
					e.note(z, from+i)
				}
				missing = missing || math.IsNaN(z)
				ps[i] = r3.Vec{X: nan, Y: nan, Z: nan}
				frees[i] = nan
			}
		}
		if i < len(ps) {
			down = !down
			l.Crossings = append(l.Crossings, from+i)
		}
	}
	l.down, l.Vertical = down, e
	return missing
}

// turn fills in moment and arms about the centre of mass (the formulas of
// [torque.About] and [torque.Arms]) and takes in the extremes of the net.
func (c *Chain) turn(dst *Result, net []float64, from, to int) {
	coms := dst.COM[from:to]
	cops, frees := dst.Net.COP[from:to][:len(coms)], dst.Net.Free[from:to][:len(coms)]
	moments, arms := dst.Moment[from:to][:len(coms)], dst.Arm[from:to][:len(coms)]
	least := c.cfg.MinForce
	fe, ce, me, ae := &dst.ForceExtremes, &dst.PressureExtremes, &dst.MomentExtremes, &dst.ArmExtremes
	o := 0
	for i := range coms {
		w, p := net[o:o+6:o+6], &coms[i]
		o += 6
		fx, fy, fz := w[0], w[1], w[2]
		mx := w[3] - (float64(p.Y*fz) - float64(p.Z*fy))
		my := w[4] - (float64(p.Z*fx) - float64(p.X*fz))
		mz := w[5] - (float64(p.X*fy) - float64(p.Y*fx))
		moments[i] = torque.Planes{Frontal: mx, Sagittal: my, Horizontal: mz}

		t := frees[i]
		xx, yy, zz := float64(fx*fx), float64(fy*fy), float64(fz*fz)
		frontal := arm(mx, math.Sqrt(yy+zz), least)
		sagittal := arm(my, math.Sqrt(xx+zz), least)
		horizontal := arm(mz-t, math.Sqrt(xx+yy), least)
		arms[i] = torque.Planes{Frontal: frontal, Sagittal: sagittal, Horizontal: horizontal}

		// Spelt out: a call would have all values kept in memory, for every sample.
		if beyond(fe, fx, fy, fz) {
			fe[0].note(fx, from+i)
			fe[1].note(fy, from+i)
			fe[2].note(fz, from+i)
		}
		if at := &cops[i]; beyond(ce, at.X, at.Y, t) {
			ce[0].note(at.X, from+i)
			ce[1].note(at.Y, from+i)
			ce[2].note(t, from+i)
		}
		if beyond(me, mx, my, mz) {
			me[0].note(mx, from+i)
			me[1].note(my, from+i)
			me[2].note(mz, from+i)
		}
		if beyond(ae, frontal, sagittal, horizontal) {
			ae[0].note(frontal, from+i)
			ae[1].note(sagittal, from+i)
			ae[2].note(horizontal, from+i)
		}
	}
}

// beyond reports whether one of three values is a new extreme of its series.
func beyond(e *[3]Extremes, x, y, z float64) bool {
	return x > e[0].Max || x < e[0].Min || y > e[1].Max || y < e[1].Min || z > e[2].Max || z < e[2].Min
}

func arm(moment, force, least float64) float64 {
	if force >= least {
		return moment / force
	}
	return math.NaN()
}
