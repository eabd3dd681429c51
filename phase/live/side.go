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
	measured *grf.Wrench // where its side has it
	more     bool        // it is not the first of that side
	axes     grf.Axes
	channels []channel
	linear   bool       // a matrix describes the plate
	offset   [6]float64 // of such a plate: the wrench that takes the zero away, in swing axes
	reading  []float64  // of another: channels less zero
}

// channel is one channel of a plate.
type channel struct {
	wrench    [6]float64 // of one unit, in swing axes, when the plate is linear
	low, high float64    // where it is saturated; NaN when that is not known
	zero      float64    // what it reads without load
}

func newInput(in Input, axes grf.Axes) input {
	n := in.Plate.Channels()
	p := input{Input: in, axes: axes, channels: make([]channel, n), reading: make([]float64, n)}
	m, linear := in.Plate.Matrix()
	p.linear = linear
	for j := range p.channels {
		c := &p.channels[j]
		c.low, c.high = math.NaN(), math.NaN()
		if len(in.Ranges) > 0 {
			r := in.Ranges[min(j, len(in.Ranges)-1)]
			c.low, c.high = r.Low, r.High
		}
		if linear {
			c.wrench = array(axes.Wrench(wrench([6]float64{m[j], m[n+j], m[2*n+j], m[3*n+j], m[4*n+j], m[5*n+j]})))
		}
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
	p.offset = [6]float64{}
	for j := range p.channels {
		c := &p.channels[j]
		c.zero = zero[j]
		for i, v := range c.wrench {
			p.offset[i] -= float64(v * c.zero)
		}
	}
}

// measure sets dst to the wrench of one sample, in swing axes, and returns flags.
func (p *input) measure(dst *grf.Wrench, values []float64) (h Health) {
	// One variable for each component: an array would be kept in memory. Products
	// are rounded before they are added, so that results do not depend on the
	// machine.
	o := &p.offset
	fx, fy, fz, mx, my, mz := o[0], o[1], o[2], o[3], o[4], o[5]
	channels := p.channels[:len(values)]
	for j, v := range values {
		c := &channels[j]
		if v <= c.low || v >= c.high {
			h = Saturated
		}
		fx += float64(c.wrench[0] * v)
		fy += float64(c.wrench[1] * v)
		fz += float64(c.wrench[2] * v)
		mx += float64(c.wrench[3] * v)
		my += float64(c.wrench[4] * v)
		mz += float64(c.wrench[5] * v)
	}
	if !p.linear {
		w := p.other(values)
		fx, fy, fz, mx, my, mz = w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z
	}
	// A channel that is no finite number has spoilt all of it. The first comparison
	// is the quicker one.
	if !(fx*fx+fy*fy+fz*fz+mx*mx+my*my+mz*mz < most*most/36) &&
		!(math.Abs(fx)+math.Abs(fy)+math.Abs(fz)+math.Abs(mx)+math.Abs(my)+math.Abs(mz) < most) {
		*dst = grf.NaN()
		return h | Missing
	}
	dst.Force.X, dst.Force.Y, dst.Force.Z = fx, fy, fz
	dst.Moment.X, dst.Moment.Y, dst.Moment.Z = mx, my, mz
	return h
}

// other returns the wrench, in swing axes, of a plate that no matrix describes.
func (p *input) other(values []float64) grf.Wrench {
	for i, v := range values {
		p.reading[i] = v - p.channels[i].zero
	}
	return grf.Wrench{}.Add(p.axes.Wrench(p.Plate.Wrench(p.reading))) // −0 is no reading
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
	measured *grf.Wrench // where the chain has it
	filtered *grf.Wrench // where the detector of events has it
	idle     idle
}

func newSide(c *Config, measured, filtered *grf.Wrench) (side, error) {
	lowPass, err := filter.NewCausal(filter.CausalOptions{
		Order: c.Order, Cutoff: c.Cutoff, Rate: c.Rate, Channels: 6, NaN: filter.NaNSegments,
	})
	return side{lowPass: lowPass, measured: measured, filtered: filtered, idle: newIdle(c.samples(0.5), c.DriftLimit)}, err
}

func (s *side) reset() {
	s.lowPass.Reset()
	s.idle.reset()
	s.idle.drift = false
}
