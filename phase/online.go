package phase

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// ErrReported means a mark for an event that was reported already.
var ErrReported = errors.New("phase: the event was reported already")

// FeetMeasured says whether each foot stands on a plate of its own.
type FeetMeasured int

const (
	// FeetApart means that each foot is on a plate of its own.
	FeetApart FeetMeasured = iota
	// FeetTogether means that one plate carries both.
	FeetTogether
)

// OnlineOptions describe what an [Online] will be given. Rate is required; the
// zero value of everything else is the default.
type OnlineOptions struct {
	Start, Rate float64 // s, of the first sample; Hz

	Feet FeetMeasured

	// Torque says that the samples carry moments about the centre of mass.
	Torque bool

	// Quiet says how still the golfer has to be before the swing. From and To
	// are not used.
	Quiet grf.QuietOptions
}

// Sample is what is known at one instant, in swing axes. The wrenches may be
// filtered as long as the filter is causal; events then come late by its delay.
type Sample struct {
	Lead, Trail grf.Wrench // of each foot; used with [FeetApart]
	Net         grf.Wrench // of both; used with [FeetTogether]

	// Frontal and Horizontal are the moments about the forward and the vertical
	// axis through the centre of mass, N·m; used when the options say that there
	// are some, NaN where they are not known. COMSD is the standard deviation of
	// the centre of mass, m.
	Frontal, Horizontal float64
	COMSD               r3.Vec
}

// State says what an [Online] is waiting for.
type State int

const (
	// Waiting for the golfer to stand still on the plates.
	Waiting State = iota
	// Ready: the golfer stands still.
	Ready
	// Moving: the golfer left the quiet stance, to waggle or to swing.
	Moving
	// Swinging: there was a downswing; its events are coming in.
	Swinging
)

// String returns the name in lower case.
func (s State) String() string {
	switch s {
	case Waiting:
		return "waiting"
	case Ready:
		return "ready"
	case Moving:
		return "moving"
	case Swinging:
		return "swinging"
	}
	return fmt.Sprintf("State(%d)", int(s))
}

// Online finds the events of swings while they happen: samples in, events out,
// each as soon as no later sample can change it. An event that was returned is
// never taken back or revised. Events come out in the order in which they become
// certain, which is not that of their times.
//
// The rules are those of [Detect], which Online asks on what it has kept of the
// past, so that both give the same times. Online knows only what came so far:
//
//   - The golfer has to stand still for half a second first, and to begin the
//     downswing at most 6 s after leaving that stance. The last stance counts, of
//     which the last 3 s tell the weight and the noise.
//   - A downswing is the fastest shift of load, as in [FindDownswings], when none
//     is faster within half a second after it. Until then nothing is reported:
//     before the downswing a backswing can not be told from a waggle. A false
//     start that moves as much load as a swing counts as a swing.
//   - What is not found by its time is missing, with the reason: see
//     [Online.Events].
//
// How late each event is reported at the latest, [Online.Latency] says.
//
// Push allocates nothing, except with those few samples of a swing at which
// events become certain (at most four, of some 20 ms each at 1000 Hz). An
// Online keeps the last 14 to 28 s, and must not be used by two goroutines at
// once.
type Online struct {
	opt OnlineOptions

	// The past: sample k since the start is at k−base.
	base, kept  int // kept is how many samples are left when the oldest are dropped
	net         []grf.Wrench
	lead, trail []grf.Wrench
	frontal     []float64
	horizontal  []float64
	comSD       []r3.Vec

	window stillness
	shift  shift // with the lengths that watch needs
	state  State
	weight float64 // as the stance tells, N
	stance int     // last sample of the quiet stance
	onLast int     // last sample with the golfer on the plates
	best   int     // fastest sample since the stance, −1 for none

	swing  onlineSwing
	given  map[string]float64
	events Events // of the swing at hand, or of the last one
	out    []Event
	swings int
}

// onlineSwing is what is known of the swing at hand.
type onlineSwing struct {
	address grf.Quiet // samples since the start
	down    int       // fastest shift of load
	peaks   int       // sample from which on the peaks are certain
	impact  int       // sample from which on the impact is
	still   int       // first sample of stillness after it, −1 for none
	asStill float64   // how much the load may vary in it, as a part of the weight
	settled [3]bool   // backswing, downswing, impact
}

// Times, s.
const (
	onlineKeep    = 14.0 // of the past: more than all of the below
	onlineRoom    = 3    // times that: the more, the more seldom is it moved
	stanceKeep    = 3.0  // of the quiet stance
	mostMoving    = 6.0  // from the quiet stance to the downswing
	settleDown    = 0.5  // without a faster shift, for a downswing to be one
	settleStill   = 0.5  // of further stillness, for a finish to be one
	mostFollowing = 4.0  // from the downswing to the stillness after it
	offPlates     = 0.1  // without load, for the golfer to be gone
)

// NewOnline returns a detector that has seen nothing yet. It fails with
// [ErrInput] when the options make no sense.
func NewOnline(opt OnlineOptions) (*Online, error) {
	switch {
	case !(opt.Rate >= 20) || opt.Rate > 1e5:
		return nil, fmt.Errorf("%w: rate of %g Hz; want 20 to 100000 Hz", ErrInput, opt.Rate)
	case math.IsNaN(opt.Start) || math.IsInf(opt.Start, 0):
		return nil, fmt.Errorf("%w: start at %g s", ErrInput, opt.Start)
	case opt.Feet != FeetApart && opt.Feet != FeetTogether:
		return nil, fmt.Errorf("%w: feet measured in way %d", ErrInput, int(opt.Feet))
	}
	fill := func(v *float64, def float64) {
		if *v == 0 {
			*v = def
		}
	}
	q := &opt.Quiet
	q.From, q.To = 0, 0
	fill(&q.Duration, 0.5)
	fill(&q.Limit, 0.02)
	fill(&q.MinWeight, 100)
	if !(q.Duration >= 0.1 && q.Duration <= stanceKeep-1) || !(q.Limit > 0 && q.Limit < 1) || !(q.MinWeight > 0) {
		return nil, fmt.Errorf("%w: quiet stance of %g s (0.1 to %g s) that varies by %g of its vertical force of at least %g N",
			ErrInput, q.Duration, stanceKeep-1, q.Limit, q.MinWeight)
	}
	o := &Online{opt: opt, given: make(map[string]float64), out: make([]Event, 0, len(Names()))}
	o.kept = int(onlineKeep * opt.Rate)
	room := onlineRoom * o.kept
	o.net = make([]grf.Wrench, 0, room)
	if opt.Feet == FeetApart {
		o.lead, o.trail = make([]grf.Wrench, 0, room), make([]grf.Wrench, 0, room)
	}
	if opt.Torque {
		o.frontal, o.horizontal = make([]float64, 0, room), make([]float64, 0, room)
		o.comSD = make([]r3.Vec, 0, room)
	}
	o.shift = newShift(o.net[:room], opt.Rate, 0, 0)
	o.window = newStillness(max(2, int(math.Round(q.Duration*opt.Rate))))
	o.Reset()
	return o, nil
}

// Reset makes it forget all samples, marks and events. The next sample is at the
// start again.
func (o *Online) Reset() {
	o.base, o.net = 0, o.net[:0]
	if o.lead != nil {
		o.lead, o.trail = o.lead[:0], o.trail[:0]
	}
	if o.frontal != nil {
		o.frontal, o.horizontal, o.comSD = o.frontal[:0], o.horizontal[:0], o.comSD[:0]
	}
	o.window.reset()
	o.state, o.best, o.swings = Waiting, -1, 0
	o.swing, o.events, o.out = onlineSwing{}, Events{}, o.out[:0]
	clear(o.given)
}

// State returns what it is waiting for.
func (o *Online) State() State { return o.state }

// Swings returns how many downswings there were since the start.
func (o *Online) Swings() int { return o.swings }

// Time returns the instant of the last sample, s; that before the first when
// there was none.
func (o *Online) Time() float64 { return o.time(o.last()) }

// Downswing returns when the load moved fastest toward the lead foot in the swing
// at hand or, after it, in the last one, s; NaN before the first.
func (o *Online) Downswing() float64 {
	if o.swings == 0 {
		return math.NaN()
	}
	return o.time(o.swing.down)
}

// Address returns the quiet stance before that swing, with samples counted since
// the start, and whether there was one.
func (o *Online) Address() (grf.Quiet, bool) { return o.swing.address, o.swings > 0 }

// Events returns what was reported of that swing so far, by time, and what is
// missing for good.
func (o *Online) Events() Events {
	ev := Events{slices.Clone(o.events.Found), slices.Clone(o.events.Missing)}
	ev.sort()
	return ev
}

// Latency returns how long after [Online.Downswing] an event is reported at the
// latest, s: 0.55 s for what precedes the downswing, 0.65 s for its peaks and
// crossings, 0.85 s for an estimated impact and 4.05 s for the finish, plus two
// samples. A golfer who holds the finish as still as the address has it within
// some 1.5 s. The delay of a filter before it comes on top. It is NaN for what is
// no event; a mark is reported with the next events after it was given.
func (o *Online) Latency(name Name) float64 {
	more := 2 / o.opt.Rate
	switch name {
	case Address, Onset, TrailLoadPeak:
		return 0.55 + more
	case Impact:
		return 0.85 + more
	case Finish:
		return mostFollowing + 0.05 + more
	}
	if slices.Contains(Names(), name) {
		return 0.65 + more
	}
	return math.NaN()
}

// Mark gives the time of an event that somebody else knows, in seconds on the
// clock of the samples: by its name or the number of its position (see
// [Position]). It beats what the forces say, as in [Detect], and counts for the
// swing at hand or the next one. It must not lie after the last sample nor
// further back than what is kept ([ErrInput]), nor be of an event that was
// reported already ([ErrReported]). A mark of the impact counts for a downswing
// at most 0.5 s before and 0.05 s after it.
func (o *Online) Mark(name string, t float64) error {
	named, err := NamedMarks(map[string]float64{name: t})
	if err != nil {
		return err
	}
	if from, to := o.time(o.base), o.Time(); !(t >= from && t <= to) {
		return fmt.Errorf("%w: %q at %g s is not between %g and %g s, the samples that are kept", ErrInput, name, t, from, to)
	}
	for key := range named {
		if o.state == Swinging && o.known(Name(key)) {
			return fmt.Errorf("%w: %q", ErrReported, name)
		}
		o.given[key] = t
	}
	return nil
}
