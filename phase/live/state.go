package live

import (
	"fmt"
	"math"
	"slices"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/torque"
)

// State says what a chain is doing about zero and weight.
type State int

const (
	// Idle: the plates were not zeroed yet.
	Idle State = iota
	// Zeroing: the unloaded plates are being measured.
	Zeroing
	// Zeroed: the plates are zeroed; no golfer was weighed.
	Zeroed
	// Weighing: the golfer, who stands still, is being weighed.
	Weighing
	// Ready: everything is known.
	Ready
)

// String returns the name in lower case.
func (s State) String() string {
	switch s {
	case Idle:
		return "idle"
	case Zeroing:
		return "zeroing"
	case Zeroed:
		return "zeroed"
	case Weighing:
		return "weighing"
	case Ready:
		return "ready"
	}
	return fmt.Sprintf("State(%d)", int(s))
}

// machine goes from state to state.
type machine struct {
	state, before State // before the request at hand

	n       int            // samples collected for it
	zero    [][]float64    // of each channel
	weigh   [][]grf.Wrench // of each side
	bases   []grf.Baseline
	quiet   grf.Quiet
	refusal error
	refused bool // with the sample at hand
	away    int  // samples since the golfer's load was last seen
}

func (m *machine) init(c *Chain) {
	m.zero = make([][]float64, c.width)
	for i := range m.zero {
		m.zero[i] = make([]float64, max(10, c.cfg.samples(c.cfg.ZeroTime)))
	}
	m.weigh = make([][]grf.Wrench, len(c.sides))
	for i := range m.weigh {
		m.weigh[i] = make([]grf.Wrench, max(2, c.cfg.samples(c.cfg.WeighTime)))
	}
}

// restart keeps the zero.
func (m *machine) restart() {
	if m.standing() == Idle {
		m.state = Idle
	} else {
		m.state = Zeroed
	}
	m.n, m.refusal, m.refused, m.away = 0, nil, false, 0
}

// standing returns the state that a refusal leads back to, or the present one.
func (m *machine) standing() State {
	if m.state == Zeroing || m.state == Weighing {
		return m.before
	}
	return m.state
}

func (m *machine) request(s State) {
	m.before = m.standing()
	m.state, m.n = s, 0
}

// Zero asks for the plates to be zeroed with the samples that come. It takes
// effect when they were unloaded and steady for [Config.ZeroTime], and is refused
// otherwise (see [Chain.Refusal]); then the zero before, if any, stays. With a new
// zero the golfer is forgotten and the filters begin anew: their frame of that
// sample is NaN.
func (c *Chain) Zero() { c.request(Zeroing) }

// Weigh asks for the golfer to be weighed with the samples that come. It takes
// effect when they stood still for [Config.WeighTime], and is refused otherwise;
// then the golfer weighed before, if any, stays. Plates that are not zeroed are
// [ErrNotZeroed] at once.
func (c *Chain) Weigh() error {
	if c.standing() == Idle {
		return ErrNotZeroed
	}
	c.request(Weighing)
	return nil
}

// SetZero takes over a zero that was measured before, one baseline for each plate,
// or none at all for plates that zero themselves. Of a baseline the Mean counts,
// so that [Chain.Zeros] may be kept as JSON and read again. The golfer is forgotten.
// The error wraps [grf.ErrChannels]; then nothing changes.
func (c *Chain) SetZero(bases ...grf.Baseline) error {
	if len(bases) == 0 {
		for _, in := range c.inputs {
			in.setZero(make([]float64, len(in.channels)))
		}
		c.zeroed(nil)
		return nil
	}
	if len(bases) != len(c.inputs) {
		return fmt.Errorf("%w: %d baselines for %d plates", grf.ErrChannels, len(bases), len(c.inputs))
	}
	zeros := make([][]float64, len(bases))
	for i, b := range bases {
		zero, err := zeroOf(b, c.inputs[i].Plate)
		if err != nil {
			return fmt.Errorf("plate %d: %w", i+1, err)
		}
		zeros[i] = zero
	}
	for i, in := range c.inputs {
		in.setZero(zeros[i])
	}
	c.zeroed(bases)
	return nil
}

// zeroOf returns what b takes off each channel of a plate. Positions have no zero,
// which a baseline that was kept as JSON no longer knows.
func zeroOf(b grf.Baseline, p *grf.Plate) ([]float64, error) {
	if len(b.Mean) != p.Channels() {
		return nil, fmt.Errorf("%w: baseline of %d, the plate has %d", grf.ErrChannels, len(b.Mean), p.Channels())
	}
	zero := slices.Clone(b.Mean)
	if p.Type() == grf.TypePoint {
		zero[3], zero[4] = 0, 0
	}
	return zero, nil
}

func (c *Chain) zeroed(bases []grf.Baseline) {
	c.bases = bases
	c.forget()
	c.setMeasured([2]grf.Wrench{grf.NaN(), grf.NaN()}) // with another zero
	c.state, c.settling = Zeroed, c.settle
	c.refusal = nil
}

// State returns the state.
func (c *Chain) State() State { return c.state }

// Zeros returns the zero of each plate; nil when there is none or the plates zero
// themselves. The slice must not be changed.
func (c *Chain) Zeros() []grf.Baseline { return c.bases }

// Golfer returns the stance in which the golfer was weighed, with times on the
// scale of [Frame.Time], and whether there is one.
func (c *Chain) Golfer() (grf.Quiet, bool) { return c.quiet, c.tracker != nil }

// Refusal returns why the last request was refused, a [*Refusal], or nil when
// there was none since one took effect.
func (c *Chain) Refusal() error { return c.refusal }

// collect adds the sample at hand to what the request needs, and decides it when
// there is enough.
func (c *Chain) collect(f *Frame, channels []float64, h Health, lost uint64) {
	switch {
	case lost > 0 && c.n > 0:
		c.refuse(-1, fmt.Errorf("%w: %d of them", ErrLost, lost))
		return
	case h.Has(Missing):
		c.refuse(-1, fmt.Errorf("%w: a channel is not a finite number, or enormous", ErrLost))
		return
	case h.Has(Saturated):
		c.refuse(-1, ErrSaturated)
		return
	}
	if c.state == Zeroing {
		for i, v := range channels {
			c.machine.zero[i][c.n] = v
		}
		if c.n++; c.n == len(c.machine.zero[0]) {
			c.decideZero()
		}
		return
	}
	if c.settling > 0 {
		return
	}
	for i := range c.sides {
		c.weigh[i][c.n] = *c.sides[i].filtered
	}
	if c.n++; c.n == len(c.weigh[0]) {
		c.decideWeight(f)
	}
}

func (c *Chain) decideZero() {
	var bases []grf.Baseline
	for i, in := range c.inputs {
		b, err := grf.MeasureBaseline(in.Plate, c.machine.zero[in.first:][:len(in.channels)], 0, c.n-1, c.cfg.Zero)
		if err != nil {
			c.refuse(i, err)
			return
		}
		bases = append(bases, b)
	}
	if err := c.SetZero(bases...); err != nil {
		c.refuse(-1, err)
	}
}

func (c *Chain) decideWeight(f *Frame) {
	if c.clock.off {
		c.refuse(-1, fmt.Errorf("%w: %.6g Hz by its stamps, %g Hz declared", ErrClock, c.clock.rate, c.cfg.Rate))
		return
	}
	now := c.now()
	rec := grf.Recording{Start: now - float64(c.n-1)/c.cfg.Rate, Rate: c.cfg.Rate}
	if len(c.sides) == 1 {
		rec.Net = c.weigh[0]
	} else {
		rec.Lead, rec.Trail = c.weigh[0], c.weigh[1]
	}
	opt := c.cfg.Quiet
	opt.Duration = float64(c.n) / c.cfg.Rate
	quiet, err := grf.FindQuiet(&rec, opt)
	if err != nil {
		c.refuse(-1, err)
		return
	}
	tracker, err := com.NewTracker(c.trackerOptions(quiet.Mass, now))
	if err != nil {
		c.refuse(-1, err)
		return
	}
	c.tracker, c.weight, c.quiet = tracker, quiet.Weight, quiet
	c.loaded = math.Max(c.cfg.MinVertical, 0.2*c.weight)
	c.state, c.refusal, c.away = Ready, nil, 0
	tracker.PushTo(&f.COM, &c.sample.Net)
	f.Moment = torque.About(c.sample.Net, f.COM.Position)
	c.stand(f)
}

func (c *Chain) trackerOptions(mass, start float64) com.TrackerOptions {
	return com.TrackerOptions{
		Mass: mass, Rate: c.cfg.Rate, Start: start, Gravity: c.cfg.Quiet.Gravity,
		Noise: c.cfg.Noise, Lag: c.cfg.Lag,
	}
}

// now returns the time of the last sample, s.
func (c *Chain) now() float64 { return float64(c.last-c.first) / c.cfg.Rate }

// refuse leads back to where the request came from.
func (c *Chain) refuse(input int, why error) {
	c.refusal = &Refusal{Request: c.state, Time: c.now(), Input: input, Err: why}
	c.refused = true
	c.state, c.n = c.before, 0
}

func (m *machine) takeRefused() Health {
	if !m.refused {
		return 0
	}
	m.refused = false
	return Refused
}

// leaveTime is how long the plates have to be without the golfer's load for the
// golfer to have left them, s; a jump is shorter.
const leaveTime = 1

// miss notices when the golfer has left: another sample is without their load.
func (c *Chain) miss() {
	if c.tracker == nil {
		return
	}
	if c.away++; c.away > c.cfg.samples(leaveTime) {
		c.gone()
	}
}

// gone forgets the golfer.
func (c *Chain) gone() {
	c.tracker, c.weight, c.away, c.standDrift = nil, 0, 0, false
	c.sample.Frontal, c.sample.Horizontal, c.sample.COMSD = math.NaN(), math.NaN(), nan3()
	if c.state == Ready {
		c.state = Zeroed
	}
	if c.before == Ready {
		c.before = Zeroed
	}
}
