package batch

import (
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
)

// plate is a plate with the axes folded in.
type plate struct {
	plate    *grf.Plate
	axes     grf.Axes
	channels int
	// mix turns the channels into the wrench about the origin of the swing axes.
	// nil for a plate that no matrix describes.
	mix *filter.Mix
}

func newPlate(p *grf.Plate, axes grf.Axes) (plate, error) {
	n := p.Channels()
	f := plate{plate: p, axes: axes, channels: n}
	m, ok := p.MatrixIn(axes)
	if !ok {
		return f, nil
	}
	var err error
	f.mix, err = filter.NewMix(6, m)
	return f, err
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
	if p.mix == nil {
		p.general(dst, stride, channels, zero, from, to)
		return
	}
	p.mix.Apply(dst, stride, channels, zero, from, to)
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
