package phase

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// last returns the number of the last sample, −1 before the first.
func (o *Online) last() int { return o.base + len(o.net) - 1 }

func (o *Online) time(k int) float64 { return o.opt.Start + float64(k)/o.opt.Rate }

func (o *Online) samples(seconds float64) int { return int(math.Ceil(seconds*o.opt.Rate - 1e-9)) }

// Push takes the next sample in and returns the events that it made certain,
// mostly none. The slice is valid until the next call. A wrench with a NaN, an
// infinity or more than 10⁹ N or N·m is a lost sample: nobody is still while samples are lost, and 0.1 s of them mean that
// the golfer is gone, as does no load for so long.
func (o *Online) Push(s Sample) []Event { return o.PushFrom(&s) }

// PushFrom is [Online.Push] for live systems: nothing is copied on the way. It
// neither changes *s nor keeps s.
func (o *Online) PushFrom(s *Sample) []Event {
	o.out = o.out[:0]
	o.keep(s)
	k := o.last()
	o.window.push(o.net)
	still := o.window.still(&o.opt.Quiet)

	if o.state != Waiting {
		if o.net[k-o.base].Force.Z >= 0.2*o.weight {
			o.onLast = k
		} else if k-o.onLast > o.samples(offPlates) {
			o.leave()
			return o.out
		}
	}
	switch o.state {
	case Waiting:
		if still {
			o.ready()
		}
	case Ready:
		if still {
			o.ready()
		} else {
			o.state, o.best = Moving, -1
		}
	case Moving:
		o.watch(still)
	case Swinging:
		o.follow(still)
	}
	return o.out
}

// ready notes that the golfer is still.
func (o *Online) ready() {
	k := o.last()
	o.state, o.stance, o.onLast, o.weight = Ready, k, k, o.window.mean()
}

// leave notes that the golfer is gone: what belongs to a swing is as certain as it
// will ever be.
func (o *Online) leave() {
	if o.state == Swinging {
		o.settle(o.onLast)
		o.finish("the golfer left the plates before being still again")
	}
	o.state = Waiting
}

// keep appends a sample.
func (o *Online) keep(s *Sample) {
	if len(o.net) == cap(o.net) {
		o.drop()
	}
	k := len(o.net)
	o.net = o.net[:k+1]
	net := &o.net[k]
	if o.lead != nil {
		o.lead, o.trail = o.lead[:k+1], o.trail[:k+1]
		lead, trail := &o.lead[k], &o.trail[k]
		*lead = s.Lead
		*trail = s.Trail
		a, b := &s.Lead, &s.Trail
		if !allMeasured(a) || !allMeasured(b) {
			onlyMeasured(lead)
			onlyMeasured(trail)
			a, b = lead, trail
		}
		// Not by Wrench.Add, which copies both.
		f, m := &net.Force, &net.Moment
		f.X, f.Y, f.Z = a.Force.X+b.Force.X, a.Force.Y+b.Force.Y, a.Force.Z+b.Force.Z
		m.X, m.Y, m.Z = a.Moment.X+b.Moment.X, a.Moment.Y+b.Moment.Y, a.Moment.Z+b.Moment.Z
	} else {
		*net = s.Net
		if !allMeasured(&s.Net) {
			onlyMeasured(net)
		}
	}
	if o.frontal != nil {
		o.frontal, o.horizontal, o.comSD = o.frontal[:k+1], o.horizontal[:k+1], o.comSD[:k+1]
		o.frontal[k], o.horizontal[k], o.comSD[k] = s.Frontal, s.Horizontal, s.COMSD
	}
}

// drop drops the samples that are older than what is kept.
func (o *Online) drop() {
	drop := len(o.net) - o.kept
	o.base += drop
	o.net = o.net[:copy(o.net, o.net[drop:])]
	if o.lead != nil {
		o.lead = o.lead[:copy(o.lead, o.lead[drop:])]
		o.trail = o.trail[:copy(o.trail, o.trail[drop:])]
	}
	if o.frontal != nil {
		o.frontal = o.frontal[:copy(o.frontal, o.frontal[drop:])]
		o.horizontal = o.horizontal[:copy(o.horizontal, o.horizontal[drop:])]
		o.comSD = o.comSD[:copy(o.comSD, o.comSD[drop:])]
	}
}

// watch looks for a downswing since the stance.
func (o *Online) watch(still bool) {
	k := o.last()
	shift := &o.shift
	shift.net, shift.weight, shift.first = o.net, o.weight, max(0, o.stance-o.base)
	i := k - shift.half // the last sample whose rise is known
	if at := i - o.base; i > o.stance && at >= shift.half && shift.fast(at) && (o.best < 0 || shift.rise(at) > shift.rise(o.best-o.base)) {
		o.best = i
	}
	if o.best >= 0 && i-o.best >= o.samples(settleDown) {
		down := o.best
		o.best = -1
		if shift.swing(down-o.base) && o.begin(down) {
			return
		}
	}
	switch {
	case still && o.best < 0:
		o.ready()
	case k-o.stance > o.samples(mostMoving) && o.best < 0:
		o.state = Waiting
	}
}

// begin starts a swing with its downswing at sample down, and reports whether
// there is one.
func (o *Online) begin(down int) bool {
	q := o.opt.Quiet
	from := max(o.base, o.stance+1-o.samples(stanceKeep))
	q.From, q.To = o.time(from), o.time(down)
	rec := o.recording()
	address, err := FindAddress(&rec, q)
	if err != nil {
		return false
	}
	address.First, address.Last = address.First+o.base, address.Last+o.base
	o.state = Swinging
	o.swings++
	o.weight = address.Weight
	o.events = Events{}

	// The windows of Detect: the load's turning point after the downswing, what
	// follows it, and half the widest fit.
	place, fore, most := pressedAt(address.Mean), down, math.NaN()
	for i := down; i <= min(o.last(), down+o.samples(0.35)); i++ {
		w := &o.net[i-o.base]
		if m := w.Moment.X - place*w.Force.Z; m > most || math.IsNaN(most) {
			fore, most = i, m
		}
	}
	after := fore + o.samples(0.15) + 1
	o.swing = onlineSwing{
		address: address, down: down, still: -1,
		asStill: nearlyAsStill(address, 1.25, 0.002, o.opt.Quiet.Limit),
		peaks:   after + o.samples(halfWidths[len(halfWidths)-1]),
		impact:  after + o.samples(0.3),
	}
	o.follow(false)
	return true
}

// Events by the stage in which they become certain.
var (
	backEvents = []Name{Address, Onset, TrailLoadPeak}
	downEvents = []Name{LateralTurn, LowestVertical, EvenLoad, LateralPeak, FrontalTorquePeak, LeadVerticalPeak, VerticalTorquePeak}
)

// follow reports what has become certain of the swing at hand.
func (o *Online) follow(still bool) {
	k, s := o.last(), &o.swing
	if !s.settled[0] {
		ev := o.detect(k, nil)
		s.settled[0] = true
		o.report(ev, backEvents)
	}
	if !s.settled[1] && k >= s.peaks {
		ev := o.detect(k, nil)
		s.settled[1] = true
		o.report(ev, downEvents)
		if _, ok := ev.Get(Impact); ok {
			s.settled[2] = true
			o.report(ev, []Name{Impact})
		}
	}
	if !s.settled[2] && k >= s.impact {
		ev := o.detect(k, nil)
		s.settled[2] = true
		o.report(ev, []Name{Impact})
	}
	if s.settled[1] && s.settled[2] {
		o.seekFinish(still)
	}
}

// settle reports all but the finish by what there is up to sample end.
func (o *Online) settle(end int) {
	s := &o.swing
	if s.settled[1] && s.settled[2] {
		return
	}
	ev := o.detect(end, nil)
	if !s.settled[1] {
		o.report(ev, downEvents)
	}
	if !s.settled[2] {
		o.report(ev, []Name{Impact})
	}
	s.settled = [3]bool{true, true, true}
}

// seekFinish waits for the golfer to be as still again as at address, or, since a
// finish is held on one foot, for the end of the time that there is, and then looks
// for the stance.
func (o *Online) seekFinish(still bool) {
	k, s := o.last(), &o.swing
	if _, ok := o.given[string(Finish)]; ok {
		o.report(o.detect(k, nil), []Name{Finish})
		o.end(still)
		return
	}
	from, until := s.down+o.samples(0.5), s.down+o.samples(mostFollowing)
	if s.still < 0 && still && k-o.window.n+1 >= from && o.window.variation() <= s.asStill {
		s.still = k
	}
	if k < until && (s.still < 0 || k < s.still+o.samples(settleStill)) {
		return
	}
	q := o.opt.Quiet
	q.Duration, q.From, q.To = 0, o.time(from), o.time(k)
	rec := o.recording()
	stance, err := FindStill(&rec, o.weight, q)
	switch {
	case err == nil:
		stance.First, stance.Last = stance.First+o.base, stance.Last+o.base
		o.report(o.detect(k, &stance), []Name{Finish})
	case k < until: // as still, but not of the golfer's weight
		s.still = -1
		return
	default:
		o.finish("the golfer is not still again within 4 s of the downswing")
	}
	o.end(still)
}

// recording returns what is kept.
func (o *Online) recording() grf.Recording {
	rec := grf.Recording{Start: o.time(o.base), Rate: o.opt.Rate, Lead: o.lead, Trail: o.trail}
	if o.lead == nil {
		rec.Net = o.net
	}
	return rec
}

// finish notes why there is none.
func (o *Online) finish(why string) {
	if !o.known(Finish) {
		o.events.miss(Finish, "%s", why)
	}
}

// end closes the swing at hand.
func (o *Online) end(still bool) {
	clear(o.given)
	o.state = Waiting
	if still {
		o.ready()
	}
}

// detect asks Detect about the samples from the quiet stance to end.
func (o *Online) detect(end int, still *grf.Quiet) Events {
	s := &o.swing
	first := max(o.base, s.address.First-o.samples(2*halfWidths[len(halfWidths)-1])) // for fits at its start
	lo, hi := first-o.base, end+1-o.base
	in := Input{Start: o.time(first), Rate: o.opt.Rate, Net: o.net[lo:hi], Address: s.address}
	if o.lead != nil {
		in.Lead, in.Trail = o.lead[lo:hi], o.trail[lo:hi]
	}
	if o.frontal != nil {
		in.Frontal, in.Horizontal = o.frontal[lo:hi], o.horizontal[lo:hi]
		if slices.ContainsFunc(o.comSD[lo:hi], func(v r3.Vec) bool { return v != r3.Vec{} }) {
			in.COMSD = o.comSD[lo:hi]
		}
	}
	in.Address.First, in.Address.Last = s.address.First-first, s.address.Last-first
	if still != nil {
		q := *still
		q.First, q.Last = q.First-first, q.Last-first
		in.Still = &q
	}
	for name, t := range o.given {
		down := o.time(s.down)
		if t < in.Start || t > o.time(end) || name == string(Impact) && !(t >= down-0.05 && t <= down+0.5) {
			continue // of no use for this swing
		}
		if in.Given == nil {
			in.Given = make(map[string]float64, len(o.given))
		}
		in.Given[name] = t
	}
	ev, err := Detect(in)
	if err != nil {
		for _, name := range forceDefined {
			ev.miss(name, "%v", err)
		}
	}
	return ev
}

// known reports whether an event was reported or is missing for good.
func (o *Online) known(name Name) bool {
	_, ok := o.events.Get(name)
	return ok || slices.ContainsFunc(o.events.Missing, func(m Missing) bool { return m.Name == name })
}

// report returns the named events, and given ones, to the caller of Push.
func (o *Online) report(ev Events, names []Name) {
	for _, e := range ev.Found {
		if (e.Source == Given || slices.Contains(names, e.Name)) && !o.known(e.Name) {
			o.events.add(e)
			o.out = append(o.out, e)
		}
	}
	for _, m := range ev.Missing {
		if slices.Contains(names, m.Name) && !o.known(m.Name) {
			o.events.Missing = append(o.events.Missing, m)
		}
	}
}
