package live

import (
	"fmt"
	"math"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/torque"
)

// Chain turns samples into frames. It gives the same frames for any division of
// the samples into blocks. It must not be used by two goroutines at once.
type Chain struct {
	cfg    Config
	inputs []*input
	width  int     // channels of a sample
	sides  []*side // lead and trail, or both
	settle int     // samples after which the filter has forgotten
	shared float64 // N, the least vertical force that has a share

	// Where in time: samples taken in since the start, lost ones included.
	started     bool
	first, last uint64 // sequence numbers
	clock       clock

	still      still
	tracker    *com.Tracker // nil until a golfer was weighed
	weight     float64      // N, of that golfer
	loaded     float64      // N, the least vertical force with the golfer on the plates
	events     *phase.Online
	sample     phase.Sample // the last one for it: the filtered wrenches are kept here
	skipped    float64      // s by which the detector's clock is behind
	marks      []mark
	found      []phase.Event
	saturated  int // samples for which the flag stays
	settling   int
	standDrift bool // as a golfer who stands still shows it

	machine
}

// New returns a chain that has seen nothing. The error wraps [ErrConfig] or is
// that of the part that refuses its options.
func New(c Config) (*Chain, error) {
	c, err := c.withDefaults()
	if err != nil {
		return nil, err
	}
	ch := &Chain{cfg: c, width: c.channels(), marks: make([]mark, 0, maxMarks), found: make([]phase.Event, 0, 64)}
	ch.shared = max(c.MinVertical, cop.DefaultMinVertical)
	filtered := []*grf.Wrench{&ch.sample.Lead, &ch.sample.Trail}
	if c.feet() == phase.FeetTogether {
		filtered = []*grf.Wrench{&ch.sample.Net}
	}
	for _, w := range filtered {
		s, err := newSide(&c, w)
		if err != nil {
			return nil, fmt.Errorf("%w: %w", ErrConfig, err)
		}
		ch.sides = append(ch.sides, s)
	}
	first := 0
	for i, in := range c.Inputs {
		s := ch.sides[0]
		if in.Foot == Trail {
			s = ch.sides[1]
		}
		p, err := newInput(in, c.Axes, first, s.lowPass)
		if err != nil {
			return nil, fmt.Errorf("%w: plate %d: %w", ErrConfig, i+1, err)
		}
		first += len(p.channels)
		ch.inputs = append(ch.inputs, p)
		s.inputs = append(s.inputs, p)
	}
	ch.settle = int(math.Ceil(5 * ch.Delay() * c.Rate))
	if ch.events, err = phase.NewOnline(phase.OnlineOptions{Rate: c.Rate, Feet: c.feet(), Torque: true, Quiet: c.Quiet}); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrConfig, err)
	}
	// A tracker's options are checked before there is a golfer.
	if _, err := com.NewTracker(ch.trackerOptions(1, 0)); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrConfig, err)
	}
	ch.still.init(c.samples(0.5), c.Rate)
	ch.machine.init(ch)
	ch.forget()
	return ch, nil
}

// Delay returns by how much the chain is late, s: what a frame says of the force
// describes the instant that long before its time.
func (c *Chain) Delay() float64 { return c.sides[0].lowPass.Delay() }

// Latency returns how long after the downswing an event comes out at the latest,
// s: that of [phase.Online.Latency] and the delay of the filter.
func (c *Chain) Latency(name phase.Name) float64 { return c.events.Latency(name) + c.Delay() }

// Restart makes the chain forget all samples and the golfer, but not the zero of
// the plates: for a device that counts its samples from the beginning again.
func (c *Chain) Restart() {
	c.started, c.skipped, c.saturated, c.settling = false, 0, 0, 0
	c.clock = clock{}
	c.marks = c.marks[:0]
	c.events.Reset()
	c.forget()
	c.machine.restart()
}

// forget makes the chain forget the golfer and the past of the filters.
func (c *Chain) forget() {
	for _, s := range c.sides {
		s.reset()
	}
	c.sample.Lead, c.sample.Trail, c.sample.Net = grf.NaN(), grf.NaN(), grf.NaN()
	c.still.reset()
	c.gone()
}

// Push takes in the next sample. The error wraps [grf.ErrChannels] or
// [ErrSequence]; such a sample changes nothing.
func (c *Chain) Push(s Sample) (f Frame, err error) {
	err = c.PushTo(&f, &s)
	return f, err
}

// PushTo is Push into a frame that is used again: nothing is copied on the way. After
// an error dst is as before. s is not changed.
func (c *Chain) PushTo(dst *Frame, s *Sample) error {
	c.found = c.found[:0]
	return c.push(dst, s)
}

// PushBlock takes in samples that follow each other without a gap: sample i has
// the channels from i × their number on and the sequence number of the first plus
// i. It sets dst[i] to the frame of sample i and returns dst, grown if it was too
// short. Stamps are those of the first sample. The errors are those of Push, and
// then nothing has changed.
func (c *Chain) PushBlock(dst []Frame, first Sample) ([]Frame, error) {
	n := len(first.Channels) / c.width
	if n*c.width != len(first.Channels) {
		return dst[:0], c.channelError(len(first.Channels))
	}
	if n > 0 && first.Sequence+uint64(n-1) < first.Sequence { // the numbers run out
		return dst[:0], &SequenceError{Last: math.MaxUint64, Got: first.Sequence + uint64(n-1)}
	}
	if cap(dst) < n {
		dst = make([]Frame, n)
	}
	dst = dst[:n]
	c.found = c.found[:0]
	s := first
	for i := range dst {
		s.Channels = first.Channels[i*c.width : (i+1)*c.width]
		if err := c.push(&dst[i], &s); err != nil {
			return dst[:0], err
		}
		s.Sequence++
		s.Stamp = 0
	}
	return dst, nil
}

func (c *Chain) channelError(n int) error {
	return fmt.Errorf("%w: a sample of these plates has %d, got %d", grf.ErrChannels, c.width, n)
}

func (c *Chain) push(f *Frame, s *Sample) error {
	if len(s.Channels) != c.width {
		return c.channelError(len(s.Channels))
	}
	if c.started && s.Sequence <= c.last {
		return &SequenceError{Last: c.last, Got: s.Sequence}
	}
	var lost uint64
	if c.started {
		lost = s.Sequence - c.last - 1
	} else {
		c.started, c.first, c.settling = true, s.Sequence, c.settle
	}
	f.Sequence, f.Lost, f.Time = s.Sequence, lost, float64(s.Sequence-c.first)/c.cfg.Rate
	from := len(c.found)

	var health Health
	if lost == 0 {
		health = c.take(s.Channels)
	} else {
		health = c.bridge(f, lost, s.Channels)
	}
	if s.Stamp != 0 && c.clock.push(s, c.cfg.Rate) {
		health |= Clock
	}
	c.last = s.Sequence
	c.advance(f)
	if c.state == Zeroing || c.state == Weighing {
		c.collect(f, s.Channels, health, lost)
	}
	c.describe(f, health)
	f.Events = c.found[from:len(c.found):len(c.found)]
	return nil
}

// take measures a sample and filters it.
func (c *Chain) take(sample []float64) (h Health) {
	for _, s := range c.sides {
		h |= s.take(sample)
	}
	return c.note(h)
}

// measure measures a sample.
func (c *Chain) measure(sample []float64) (h Health) {
	for _, s := range c.sides {
		h |= s.measure(sample)
	}
	return c.note(h)
}

// note keeps what a sample leaves behind.
func (c *Chain) note(h Health) Health {
	if h.Has(Saturated) {
		c.saturated = c.settle
	}
	if h.Has(Missing) {
		c.settling = c.settle
	}
	return h
}

// bridge measures a sample and takes in those that were lost before it: along a
// straight line if they are few, as unknown if they are more, and when they are too
// many to say anything about the golfer, not at all.
func (c *Chain) bridge(f *Frame, lost uint64, sample []float64) Health {
	last := c.measured()
	h := c.measure(sample) | Lost
	next := c.measured()
	if n := uint64(c.cfg.samples(c.cfg.Bridge)); lost <= n {
		for k := uint64(1); k <= lost; k++ {
			u := float64(k) / float64(lost+1)
			for i, s := range c.sides {
				s.measured = last[i].Add(next[i].Sub(last[i]).Scale(u))
			}
			c.filter()
			c.advance(f)
		}
		c.setMeasured(next)
		c.filter()
		return h | Bridged
	}
	c.setMeasured([2]grf.Wrench{grf.NaN(), grf.NaN()})
	hold := uint64(c.cfg.samples(c.cfg.Hold))
	for range min(lost, hold) {
		c.filter()
		c.advance(f)
	}
	c.settling = c.settle
	if lost > hold {
		c.skipped += float64(lost-hold) / c.cfg.Rate
		c.forget()
	}
	c.setMeasured(next)
	c.filter()
	return h
}

// measured returns what each side measured.
func (c *Chain) measured() (w [2]grf.Wrench) {
	for i, s := range c.sides {
		w[i] = s.measured
	}
	return w
}

func (c *Chain) setMeasured(w [2]grf.Wrench) {
	for i, s := range c.sides {
		s.measured = w[i]
	}
}

// filter filters what each side measured.
func (c *Chain) filter() {
	for _, s := range c.sides {
		s.filter()
	}
}

// advance goes one sample period further with what was filtered, and fills the frame
// with what is known of the centre of mass.
func (c *Chain) advance(f *Frame) {
	for _, s := range c.sides {
		s.idle.push(&s.filtered.Force)
	}
	sample := &c.sample
	net := &sample.Net
	if len(c.sides) == 2 {
		add(net, &sample.Lead, &sample.Trail)
	}
	c.still.push(net)
	if c.tracker != nil {
		c.tracker.PushTo(&f.COM, net)
		torque.AboutTo(&f.Moment, net, &f.COM.Position)
		sample.Frontal, sample.Horizontal, sample.COMSD = f.Moment.Frontal, f.Moment.Horizontal, f.COM.PositionSD
	}
	if len(c.marks) > 0 {
		c.applyMarks()
	}
	for _, e := range c.events.PushFrom(sample) {
		e.Time += c.skipped - c.Delay()
		c.found = append(c.found, e)
	}
	if c.still.due(c.events.State() == phase.Ready) {
		c.stand(f)
	}
	if net.Force.Z >= c.loaded {
		c.away = 0
	} else {
		c.miss()
	}
}

// describe fills the frame with what is known now.
func (c *Chain) describe(f *Frame, health Health) {
	if c.saturated > 0 {
		c.saturated--
		health |= Saturated
	}
	if c.settling > 0 {
		c.settling--
		health |= Settling
	}
	if c.clock.off {
		health |= Clock
	}
	if c.drifted() {
		health |= Drift
	}
	f.Health = health | c.takeRefused()
	f.State = c.state
	f.Motion = c.events.State()
	if c.tracker == nil {
		f.COM, f.Moment = unknownCOM(f.Time), torque.FromVec(nan3())
	}
	least := c.cfg.MinVertical
	f.Lead = c.sample.Lead // one by one: otherwise they take a detour
	f.Trail = c.sample.Trail
	f.Net = c.sample.Net
	cop.OfTo(&f.NetCOP, &f.NetFree, &c.sample.Net, 0, least)
	f.Arm = torque.ArmsOf(f.Moment, f.Net.Force, f.NetFree, c.cfg.MinForce)
	if len(c.sides) == 1 {
		f.MeasuredLead, f.MeasuredTrail, f.MeasuredNet = grf.NaN(), grf.NaN(), c.sides[0].measured
		f.LeadCOP, f.TrailCOP = nan3(), nan3()
		f.LeadFree, f.TrailFree, f.LeadShare = math.NaN(), math.NaN(), math.NaN()
		return
	}
	lead, trail := &c.sides[0].measured, &c.sides[1].measured
	f.MeasuredLead = *lead
	f.MeasuredTrail = *trail
	add(&f.MeasuredNet, lead, trail)
	cop.OfTo(&f.LeadCOP, &f.LeadFree, &c.sample.Lead, 0, least)
	cop.OfTo(&f.TrailCOP, &f.TrailFree, &c.sample.Trail, 0, least)
	f.LeadShare = cop.ShareOf(c.sample.Lead.Force.Z, c.sample.Trail.Force.Z, c.shared)
}

// drifted reports whether zeroed plates show a force where there is none.
func (c *Chain) drifted() bool {
	drift := c.standDrift || c.sides[0].idle.drift || c.sides[len(c.sides)-1].idle.drift
	return drift && c.standing() != Idle
}

func unknownCOM(t float64) com.Estimate {
	n := nan3()
	return com.Estimate{Time: t, Position: n, PositionSD: n, Velocity: n, VelocitySD: n, Bias: n, BiasSD: n}
}
