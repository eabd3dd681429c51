package live

import (
	"math"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
)

// input is a plate with its zero, folded with the axes.
type input struct {
	Input
	first    int // where its channels begin in a sample
	axes     grf.Axes
	channels []channel
	front    *filter.FrontEnd // channels → wrench in swing axes, unfiltered and filtered; nil when no matrix describes the plate
	zero     []float64        // what the channels read without load
	reading  []float64        // of a plate without matrix: channels less zero
}

// channel is the range of a channel: its ends, where it is saturated, its middle, and
// one over half its width. When it is not known the ends are NaN and the rest is 0, and
// when only the ends are to be asked the middle is NaN.
type channel struct{ low, high, middle, scale float64 }

// newInput returns a plate whose channels begin at first, on a side whose filter is
// lowPass.
func newInput(in Input, axes grf.Axes, first int, lowPass *filter.Causal) (*input, error) {
	n := in.Plate.Channels()
	p := &input{Input: in, first: first, axes: axes, channels: make([]channel, n), reading: make([]float64, n)}
	for j := range p.channels {
		p.channels[j] = channel{low: math.NaN(), high: math.NaN()}
		if len(in.Ranges) > 0 {
			r := in.Ranges[min(j, len(in.Ranges)-1)]
			width := r.High - r.Low
			p.channels[j] = channel{r.Low, r.High, r.Low + width/2, 2 / width}
			if !(width > 1e-9*math.Max(math.Abs(r.Low), math.Abs(r.High))) {
				p.channels[j].middle = math.NaN() // it would be too far off
			}
		}
	}
	if m, ok := in.Plate.MatrixIn(axes); ok {
		mix, err := filter.NewMix(6, m)
		if err != nil {
			return p, err
		}
		if p.front, err = filter.NewFrontEnd(mix, lowPass, most); err != nil {
			return p, err
		}
	}
	p.setZero(make([]float64, n))
	return p, nil
}

func (p *input) setZero(zero []float64) {
	p.zero = zero
	if p.front != nil {
		p.front.SetZero(zero)
	}
}

// values returns the channels of the plate in a sample.
func (p *input) values(sample []float64) []float64 { return sample[p.first:][:len(p.channels)] }

// health returns whether a channel is at the end of its range.
func (p *input) health(values []float64) Health {
	// None is as long as all together are well inside, as nearly always.
	channels := p.channels[:len(values)]
	var all float64
	for j, v := range values {
		c := &channels[j]
		u := (v - c.middle) * c.scale
		all += u * u
	}
	if all < 0.99 {
		return 0
	}
	for j, v := range values {
		if c := &channels[j]; v <= c.low || v >= c.high {
			return Saturated
		}
	}
	return 0
}

// measure sets dst to the wrench of one sample, in swing axes.
func (p *input) measure(dst *grf.Wrench, values []float64) {
	if p.front != nil {
		p.front.WrenchTo(dst, values)
		return
	}
	for i, v := range values {
		p.reading[i] = v - p.zero[i]
	}
	*dst = grf.Wrench{}.Add(p.axes.Wrench(p.Plate.Wrench(p.reading))) // −0 is no reading
}

// most is what no component of a wrench reaches, N or N·m: more would stop a filter.
const most = 1e12

// add is *dst = a + b, component by component: a wrench that was just computed is
// copied slower as a whole.
func add(dst, a, b *grf.Wrench) {
	dst.Force.X, dst.Force.Y, dst.Force.Z = a.Force.X+b.Force.X, a.Force.Y+b.Force.Y, a.Force.Z+b.Force.Z
	dst.Moment.X, dst.Moment.Y, dst.Moment.Z = a.Moment.X+b.Moment.X, a.Moment.Y+b.Moment.Y, a.Moment.Z+b.Moment.Z
}

// side is what stands on one foot's plates, or on the plates of both.
type side struct {
	inputs   []*input
	lowPass  *filter.Causal
	measured grf.Wrench  // the sum of the plates, in swing axes
	filtered *grf.Wrench // where the detector of events has it
	idle     idle
}

func newSide(c *Config, filtered *grf.Wrench) (*side, error) {
	lowPass, err := filter.NewCausal(filter.CausalOptions{
		Order: c.Order, Cutoff: c.Cutoff, Rate: c.Rate, Channels: 6, NaN: filter.NaNSegments,
	})
	return &side{lowPass: lowPass, measured: grf.NaN(), filtered: filtered, idle: newIdle(c.samples(0.5), c.DriftLimit)}, err
}

// measure adds up what the plates measured.
func (s *side) measure(sample []float64) (h Health) {
	for i, in := range s.inputs {
		values := in.values(sample)
		h |= in.health(values)
		var w grf.Wrench
		if in.measure(&w, values); !possible(&w) {
			w = grf.NaN()
			h |= Missing
		}
		if i == 0 {
			s.measured = w
		} else {
			add(&s.measured, &s.measured, &w)
		}
	}
	return h
}

// filter filters what was measured.
func (s *side) filter() { s.lowPass.PushWrenchTo(s.filtered, &s.measured) }

// take is measure and filter in one.
func (s *side) take(sample []float64) (h Health) {
	in := s.inputs[0]
	if len(s.inputs) > 1 || in.front == nil {
		h = s.measure(sample)
		s.filter()
		return h
	}
	values := in.values(sample)
	h = in.health(values)
	if !in.front.PushTo(s.filtered, &s.measured, values) {
		h |= Missing
	}
	return h
}

// possible reports whether a plate can have measured w. A channel that is no finite
// number has spoilt all of it.
func possible(w *grf.Wrench) bool {
	for _, v := range [6]float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z} {
		if !(math.Abs(v) <= most) {
			return false
		}
	}
	return true
}

func (s *side) reset() {
	s.lowPass.Reset()
	s.idle.reset()
	s.idle.drift = false
}
