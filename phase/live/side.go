package live

import (
	"math"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
)

// input is a plate with its zero.
type input struct {
	Input
	channels int
	ranges   []Range   // one per channel, nil when not known
	zero     []float64 // what each channel reads without load
	reading  []float64 // scratch: channels less zero
}

func newInput(in Input) input {
	n := in.Plate.Channels()
	p := input{Input: in, channels: n, zero: make([]float64, n), reading: make([]float64, n)}
	switch len(in.Ranges) {
	case 0:
	case 1:
		for range n {
			p.ranges = append(p.ranges, in.Ranges[0])
		}
	default:
		p.ranges = append(p.ranges, in.Ranges...)
	}
	return p
}

// wrench returns the wrench of one sample in laboratory axes, with flags.
func (p *input) wrench(channels []float64) (grf.Wrench, Health) {
	var h Health
	var sum float64
	for i, v := range channels {
		p.reading[i] = v - p.zero[i]
		sum += v - v // NaN if v is not finite
	}
	if sum != 0 {
		return grf.NaN(), Missing
	}
	for i, r := range p.ranges {
		if v := channels[i]; v <= r.Low || v >= r.High {
			h = Saturated
		}
	}
	w := p.Plate.Wrench(p.reading)
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
