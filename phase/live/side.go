package live

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
)

// input is a plate with its zero, folded with the axes.
type input struct {
	Input
	axes     grf.Axes
	channels int
	ranges   []Range   // one per channel, nil when not known
	zero     []float64 // what each channel reads without load

	// Of a plate that a matrix describes: the wrench, in swing axes, of one unit
	// of each channel, and of the zero.
	columns [][6]float64
	empty   [6]float64
	// Of another: channels less zero.
	reading []float64
}

func newInput(in Input, axes grf.Axes) input {
	n := in.Plate.Channels()
	p := input{Input: in, axes: axes, channels: n}
	switch len(in.Ranges) {
	case 0:
	case 1:
		for range n {
			p.ranges = append(p.ranges, in.Ranges[0])
		}
	default:
		p.ranges = append(p.ranges, in.Ranges...)
	}
	if m, ok := in.Plate.Matrix(); ok {
		p.columns = make([][6]float64, n)
		for j := range p.columns {
			p.columns[j] = array(axes.Wrench(wrench([6]float64{m[j], m[n+j], m[2*n+j], m[3*n+j], m[4*n+j], m[5*n+j]})))
		}
	} else {
		p.reading = make([]float64, n)
	}
	p.setZero(make([]float64, n))
	return p
}

func array(w grf.Wrench) [6]float64 {
	return [6]float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z}
}

func wrench(v [6]float64) grf.Wrench {
	return grf.Wrench{Force: r3.Vec{X: v[0], Y: v[1], Z: v[2]}, Moment: r3.Vec{X: v[3], Y: v[4], Z: v[5]}}
}

func (p *input) setZero(zero []float64) {
	p.zero = zero
	p.empty = [6]float64{}
	p.empty = p.product(zero)
}

// product returns the wrench of the channels less that of the zero. Products are
// rounded before they are added, so that results do not depend on the machine.
func (p *input) product(channels []float64) [6]float64 {
	w := [6]float64{-p.empty[0], -p.empty[1], -p.empty[2], -p.empty[3], -p.empty[4], -p.empty[5]}
	columns := p.columns
	for j, v := range channels[:len(columns)] {
		c := &columns[j]
		w[0] += float64(c[0] * v)
		w[1] += float64(c[1] * v)
		w[2] += float64(c[2] * v)
		w[3] += float64(c[3] * v)
		w[4] += float64(c[4] * v)
		w[5] += float64(c[5] * v)
	}
	return w
}

// measure returns the wrench of one sample in swing axes, with flags.
func (p *input) measure(channels []float64) (w grf.Wrench, h Health) {
	for i := range p.ranges {
		if v := channels[i]; v <= p.ranges[i].Low || v >= p.ranges[i].High {
			h = Saturated
		}
	}
	if p.columns != nil {
		w = wrench(p.product(channels))
	} else {
		for i, v := range channels {
			p.reading[i] = v - p.zero[i]
		}
		w = p.axes.Wrench(p.Plate.Wrench(p.reading))
	}
	// A channel that is no finite number has spoilt all of it.
	if f, m := &w.Force, &w.Moment; !(math.Abs(f.X) < most && math.Abs(f.Y) < most && math.Abs(f.Z) < most &&
		math.Abs(m.X) < most && math.Abs(m.Y) < most && math.Abs(m.Z) < most) {
		return grf.NaN(), Missing
	}
	return w, h
}

// most is what no force or moment reaches, N or N·m: more would stop a filter.
const most = 1e12

// side is what stands on one foot's plates, or on the plates of both.
type side struct {
	lowPass  *filter.Causal
	measured grf.Wrench // the last one
	filtered grf.Wrench
	idle     idle
}

func newSide(c *Config) (*side, error) {
	lowPass, err := filter.NewCausal(filter.CausalOptions{
		Order: c.Order, Cutoff: c.Cutoff, Rate: c.Rate, Channels: 6, NaN: filter.NaNSegments,
	})
	if err != nil {
		return nil, err
	}
	s := &side{lowPass: lowPass, measured: grf.NaN(), filtered: grf.NaN()}
	s.idle.n = c.samples(0.5)
	return s, nil
}

func (s *side) reset() {
	s.lowPass.Reset()
	s.measured, s.filtered = grf.NaN(), grf.NaN()
	s.idle.reset()
	s.idle.drift = false
}

// push filters the next wrench.
func (s *side) push(w grf.Wrench) {
	s.measured = w
	s.filtered = s.lowPass.PushWrench(w)
}
