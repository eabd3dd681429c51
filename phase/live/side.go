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
	p.zero, p.empty = zero, [6]float64{}
	for j := range p.columns {
		for i, c := range p.columns[j] {
			p.empty[i] += float64(c * zero[j])
		}
	}
}

// measure adds the wrench of one sample, in swing axes, to sum and returns flags.
func (p *input) measure(sum *grf.Wrench, channels []float64) (h Health) {
	for i := range p.ranges {
		if v := channels[i]; v <= p.ranges[i].Low || v >= p.ranges[i].High {
			h = Saturated
		}
	}
	if p.columns == nil {
		for i, v := range channels {
			p.reading[i] = v - p.zero[i]
		}
		w := p.axes.Wrench(p.Plate.Wrench(p.reading))
		return h | gather(sum, w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z)
	}
	// One variable for each component: an array would be kept in memory. Products
	// are rounded before they are added, so that results do not depend on the
	// machine.
	e := &p.empty
	fx, fy, fz, mx, my, mz := -e[0], -e[1], -e[2], -e[3], -e[4], -e[5]
	columns := p.columns
	for j, v := range channels[:len(columns)] {
		c := &columns[j]
		fx += float64(c[0] * v)
		fy += float64(c[1] * v)
		fz += float64(c[2] * v)
		mx += float64(c[3] * v)
		my += float64(c[4] * v)
		mz += float64(c[5] * v)
	}
	return h | gather(sum, fx, fy, fz, mx, my, mz)
}

// gather adds what a plate measured. A channel that is no finite number has
// spoilt all of it.
func gather(sum *grf.Wrench, fx, fy, fz, mx, my, mz float64) Health {
	if !(math.Abs(fx)+math.Abs(fy)+math.Abs(fz)+math.Abs(mx)+math.Abs(my)+math.Abs(mz) < most) {
		*sum = grf.NaN()
		return Missing
	}
	f, m := &sum.Force, &sum.Moment
	f.X, f.Y, f.Z = f.X+fx, f.Y+fy, f.Z+fz
	m.X, m.Y, m.Z = m.X+mx, m.Y+my, m.Z+mz
	return 0
}

// most is what forces and moments do not reach, N or N·m: more would stop a
// filter.
const most = 1e12

// set is *dst = w, and add is *dst = a + b, component by component: values that
// were just computed are copied faster like that than as a whole.
func set(dst, w *grf.Wrench) {
	dst.Force.X, dst.Force.Y, dst.Force.Z = w.Force.X, w.Force.Y, w.Force.Z
	dst.Moment.X, dst.Moment.Y, dst.Moment.Z = w.Moment.X, w.Moment.Y, w.Moment.Z
}

func add(dst, a, b *grf.Wrench) {
	dst.Force.X, dst.Force.Y, dst.Force.Z = a.Force.X+b.Force.X, a.Force.Y+b.Force.Y, a.Force.Z+b.Force.Z
	dst.Moment.X, dst.Moment.Y, dst.Moment.Z = a.Moment.X+b.Moment.X, a.Moment.Y+b.Moment.Y, a.Moment.Z+b.Moment.Z
}

// side is what stands on one foot's plates, or on the plates of both.
type side struct {
	lowPass  *filter.Causal
	measured grf.Wrench  // the last one
	filtered *grf.Wrench // where it is kept
	idle     idle
}

func newSide(c *Config, filtered *grf.Wrench) (*side, error) {
	lowPass, err := filter.NewCausal(filter.CausalOptions{
		Order: c.Order, Cutoff: c.Cutoff, Rate: c.Rate, Channels: 6, NaN: filter.NaNSegments,
	})
	if err != nil {
		return nil, err
	}
	s := &side{lowPass: lowPass, filtered: filtered}
	s.idle.n = c.samples(0.5)
	return s, nil
}

func (s *side) reset() {
	s.lowPass.Reset()
	s.measured = grf.NaN()
	s.idle.reset()
	s.idle.drift = false
}

// push filters the next wrench.
func (s *side) push(w *grf.Wrench) {
	s.lowPass.PushWrenchTo(s.filtered, w)
	s.measured = *w
}
