package batch

import (
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// plate is a plate with the axes folded in.
type plate struct {
	plate    *grf.Plate
	axes     grf.Axes
	channels int
	// matrix turns the channels into the wrench about the origin of the swing
	// axes, row by row: 6×channels. nil for a plate that no matrix describes.
	matrix []float64
}

func newPlate(p *grf.Plate, axes grf.Axes) plate {
	n := p.Channels()
	f := plate{plate: p, axes: axes, channels: n}
	m, ok := p.Matrix()
	if !ok {
		return f
	}
	for j := range n {
		w := array(axes.Wrench(wrench([6]float64{m[j], m[n+j], m[2*n+j], m[3*n+j], m[4*n+j], m[5*n+j]})))
		for i, v := range w {
			m[i*n+j] = v
		}
	}
	f.matrix = m
	return f
}

func array(w grf.Wrench) [6]float64 {
	return [6]float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z}
}

func wrench(v [6]float64) grf.Wrench {
	return grf.Wrench{Force: r3.Vec{X: v[0], Y: v[1], Z: v[2]}, Moment: r3.Vec{X: v[3], Y: v[4], Z: v[5]}}
}

// wrenches writes the wrenches of samples from … to−1 to dst, each stride values
// after the one before. zero may be nil.
func (p *plate) wrenches(dst []float64, stride int, channels [][]float64, zero []float64, from, to int) {
	if p.matrix == nil {
		p.general(dst, stride, channels, zero, from, to)
		return
	}
	var empty [6]float64 // the wrench of the zero
	for i := range empty {
		for j, z := range zero {
			empty[i] += float64(p.matrix[i*p.channels+j] * z)
		}
	}
	if p.channels == 6 {
		six(dst, stride, (*[36]float64)(p.matrix), &empty, channels, from, to)
		return
	}
	p.many(dst, stride, &empty, channels, from, to)
}

// six multiplies six channels by a matrix. Products are rounded before they are
// added, so that results do not depend on whether the machine fuses the two.
func six(dst []float64, stride int, m *[36]float64, empty *[6]float64, channels [][]float64, from, to int) {
	a := channels[0][from:to]
	b, c, d := channels[1][from:][:len(a)], channels[2][from:][:len(a)], channels[3][from:][:len(a)]
	e, f := channels[4][from:][:len(a)], channels[5][from:][:len(a)]
	for i, v0 := range a {
		v1, v2, v3, v4, v5 := b[i], c[i], d[i], e[i], f[i]
		w := (*[6]float64)(dst[i*stride:])
		w[0] = (float64(m[0]*v0) + float64(m[1]*v1)) + (float64(m[2]*v2) + float64(m[3]*v3)) + (float64(m[4]*v4) + float64(m[5]*v5)) - empty[0]
		w[1] = (float64(m[6]*v0) + float64(m[7]*v1)) + (float64(m[8]*v2) + float64(m[9]*v3)) + (float64(m[10]*v4) + float64(m[11]*v5)) - empty[1]
		w[2] = (float64(m[12]*v0) + float64(m[13]*v1)) + (float64(m[14]*v2) + float64(m[15]*v3)) + (float64(m[16]*v4) + float64(m[17]*v5)) - empty[2]
		w[3] = (float64(m[18]*v0) + float64(m[19]*v1)) + (float64(m[20]*v2) + float64(m[21]*v3)) + (float64(m[22]*v4) + float64(m[23]*v5)) - empty[3]
		w[4] = (float64(m[24]*v0) + float64(m[25]*v1)) + (float64(m[26]*v2) + float64(m[27]*v3)) + (float64(m[28]*v4) + float64(m[29]*v5)) - empty[4]
		w[5] = (float64(m[30]*v0) + float64(m[31]*v1)) + (float64(m[32]*v2) + float64(m[33]*v3)) + (float64(m[34]*v4) + float64(m[35]*v5)) - empty[5]
	}
}

// many does the same for any number of channels.
func (p *plate) many(dst []float64, stride int, empty *[6]float64, channels [][]float64, from, to int) {
	n := p.channels
	for i := from; i < to; i++ {
		w := (*[6]float64)(dst[(i-from)*stride:])
		for k := range w {
			row := p.matrix[k*n : (k+1)*n]
			var sum float64
			for j, m := range row {
				sum += float64(m * channels[j][i])
			}
			w[k] = sum - empty[k]
		}
	}
}

// general does it for a plate that is not linear in its channels.
func (p *plate) general(dst []float64, stride int, channels [][]float64, zero []float64, from, to int) {
	var sample [12]float64
	for i := from; i < to; i++ {
		for j, c := range channels {
			sample[j] = c[i]
			if zero != nil && !(p.plate.Type() == grf.TypePoint && (j == 3 || j == 4)) {
				sample[j] -= zero[j]
			}
		}
		w := array(p.axes.Wrench(p.plate.Wrench(sample[:p.channels])))
		copy(dst[(i-from)*stride:], w[:])
	}
}
