package phase

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat"

	"example.com/momentarm/grf"
)

// Sentinels for [errors.Is].
var (
	// ErrInput means an input to Detect that is incomplete or contradicts itself.
	ErrInput = errors.New("phase: unusable input")
	// ErrNoSwing means that nothing in the forces looks like a downswing.
	ErrNoSwing = errors.New("phase: no swing found")
	// ErrUnknownMark means a given mark whose name is no event.
	ErrUnknownMark = errors.New("phase: unknown mark")
)

// Input is what Detect looks at: one swing in swing axes, filtered.
type Input struct {
	Start, Rate float64 // s, Hz

	// Net may lack horizontal forces ([grf.VerticalOnly]): then the events that
	// these define are missing.
	Net         []grf.Wrench
	Lead, Trail []grf.Wrench // nil when the feet were not measured apart

	// Frontal and Horizontal are the moments about the forward and the vertical
	// axis through the centre of mass, N·m; nil when it is not known, or when
	// horizontal forces were not measured.
	Frontal, Horizontal []float64

	// COMSD are the standard deviations of the centre of mass, m; nil when not
	// known. They make the times of torque peaks less sure: an error e of the
	// centre of mass adds −e × F to the moment, which moves the peak while the
	// force changes.
	COMSD []r3.Vec

	// Address is the quiet stance before the swing. Its Weight is the scale of
	// what counts as much or little, its window shows the noise.
	Address grf.Quiet
	// Still is the quiet stance after the swing; nil when there is none.
	Still *grf.Quiet

	// From and To bound the search, s: the golfer is on the plates between them.
	// Both 0 mean the whole series.
	From, To float64

	// Given are times that somebody else knows, by event name or by the number
	// of the position: see [NamedMarks].
	Given map[string]float64
}

// halfWidths are half the times over which a peak may be fitted, s; crossings
// take the first. It is long enough to average noise and short against the
// fastest peaks of a swing (which last for some 0.1 s).
var halfWidths = [...]float64{0.02, 0.03, 0.045, 0.065, 0.09, 0.125}

// Detect finds the events of one swing. Events that can not be found are listed
// as missing with the reason. Gaps of lost samples (NaN) of up to 20 ms are bridged
// by straight lines; an event in a longer one is missing. Samples that are infinite or
// beyond 10⁹ N or N·m count as lost. [ErrNoSwing] is returned
// when there is no downswing at all, [ErrInput] and [ErrUnknownMark] when the input
// makes no sense.
func Detect(in Input) (Events, error) {
	d, err := newDetector(in)
	if err != nil {
		return Events{}, err
	}
	if err := d.locate(); err != nil {
		return Events{}, err
	}
	d.detectAll()
	d.ev.dropUndefined()
	d.ev.sort()
	return d.ev, nil
}

// detector carries the signals of one swing and what was found so far.
type detector struct {
	in   Input
	fits []*localFit // by width
	fit  *localFit   // the narrowest
	ev   Events

	leadZ, trailZ, netZ, share []float64
	netX, netY                 []float64 // nil when they were not measured
	tilt                       []float64 // moment about the forward axis through the place of the quiet stance

	first, last int // samples within From…To
	quiet       int // last sample of the quiet stance
	rest        int // last sample of the rest before the onset
	down        int // sample at which the load moves fastest toward the lead foot
	back, fore  int // samples of its turning points before and after
}

func newDetector(in Input) (*detector, error) {
	n := len(in.Net)
	switch {
	case n == 0:
		return nil, fmt.Errorf("%w: no net force", ErrInput)
	case !(in.Rate > 0 && in.Rate <= grf.MaxRate):
		return nil, fmt.Errorf("%w: rate of %g Hz", ErrInput, in.Rate)
	case math.IsNaN(in.Start) || math.IsInf(in.Start, 0):
		return nil, fmt.Errorf("%w: start at %g s", ErrInput, in.Start)
	case !(in.Address.Weight > 0):
		return nil, fmt.Errorf("%w: no body weight", ErrInput)
	case in.Address.First < 0 || in.Address.Last >= n || in.Address.First > in.Address.Last:
		return nil, fmt.Errorf("%w: the quiet stance is samples %d to %d of %d", ErrInput, in.Address.First, in.Address.Last, n)
	case (in.Lead == nil) != (in.Trail == nil):
		return nil, fmt.Errorf("%w: one foot without the other", ErrInput)
	}
	for name, l := range map[string]int{"lead": len(in.Lead), "trail": len(in.Trail), "frontal": len(in.Frontal), "horizontal": len(in.Horizontal), "centre of mass": len(in.COMSD)} {
		if l != 0 && l != n {
			return nil, fmt.Errorf("%w: %d net samples but %d %s samples", ErrInput, n, l, name)
		}
	}
	given, err := NamedMarks(in.Given)
	if err != nil {
		return nil, err
	}
	in.Given = given
	in.Frontal, in.Horizontal = bridged(in.Frontal, in.Rate), bridged(in.Horizontal, in.Rate)
	for name, t := range in.Given {
		if end := in.Start + float64(n-1)/in.Rate; !(t >= in.Start && t <= end) {
			return nil, fmt.Errorf("%w: %q at %g s lies outside the recording, %g to %g s", ErrInput, name, t, in.Start, end)
		}
	}
	d := &detector{in: in, first: 0, last: n - 1, quiet: in.Address.Last}
	for _, h := range halfWidths {
		d.fits = append(d.fits, newLocalFit(h, in.Rate, n))
	}
	d.fit = d.fits[0]
	if in.From != 0 || in.To != 0 {
		first, last := math.Ceil((in.From-in.Start)*in.Rate), math.Floor((in.To-in.Start)*in.Rate)
		if !(first <= last && first < float64(n) && last >= 0) { // NaN included
			return nil, fmt.Errorf("%w: nothing of the series lies between %g and %g s", ErrInput, in.From, in.To)
		}
		d.first, d.last = max(0, int(math.Max(first, -1))), min(n-1, int(math.Min(last, float64(n))))
	}
	component := func(ws []grf.Wrench, f func(grf.Wrench) float64) []float64 {
		if ws == nil {
			return nil
		}
		x := make([]float64, n)
		for i, w := range ws {
			x[i] = f(w)
		}
		return bridged(x, in.Rate)
	}
	vertical := func(w grf.Wrench) float64 { return w.Force.Z }
	d.leadZ, d.trailZ = component(in.Lead, vertical), component(in.Trail, vertical)
	d.netZ = component(in.Net, vertical)
	if !grf.VerticalOnly(in.Net) {
		d.netX = component(in.Net, func(w grf.Wrench) float64 { return w.Force.X })
		d.netY = component(in.Net, func(w grf.Wrench) float64 { return w.Force.Y })
	}
	d.tilt = component(in.Net, func(w grf.Wrench) float64 { return w.Moment.X })
	if slices.ContainsFunc(in.Net, func(w grf.Wrench) bool { return unmeasured(w.Force.Z) || unmeasured(w.Moment.X) }) {
		d.in.Net = slices.Clone(in.Net) // for the search of the downswing
		for i := range d.in.Net {
			d.in.Net[i].Force.Z, d.in.Net[i].Moment.X = d.netZ[i], d.tilt[i]
		}
	}
	d.tilt = about(d.tilt, d.netZ, d.in.Address)
	if in.Lead != nil {
		d.share = make([]float64, n)
		for i := range d.share {
			d.share[i] = d.leadZ[i] / (d.leadZ[i] + d.trailZ[i])
		}
	}
	return d, nil
}

// about returns the moment about the forward axis through the centre of pressure of
// the stance q: about an origin farther away, the vertical force alone would decide
// when the load turns.
func about(moment, vertical []float64, q grf.Quiet) []float64 {
	var sum grf.Wrench
	for i := q.First; i <= q.Last; i++ {
		if !math.IsNaN(moment[i] + vertical[i]) {
			sum.Moment.X += moment[i]
			sum.Force.Z += vertical[i]
		}
	}
	place := pressedAt(sum)
	if !measured(place) { // nobody stands there, or all of it is lost
		return moment
	}
	x := make([]float64, len(moment))
	for i := range x {
		x[i] = moment[i] - place*vertical[i]
	}
	return x
}

func (d *detector) time(i int) float64 { return d.in.Start + float64(i)/d.in.Rate }

func (d *detector) index(t float64) int {
	x := math.Round((t - d.in.Start) * d.in.Rate)
	return int(math.Max(float64(d.first), math.Min(float64(d.last), x)))
}

func (d *detector) samples(seconds float64) int { return samplesIn(seconds, d.in.Rate) }

// locate finds the downswing, near the impact when that is given, and the turning
// points of the load before and after it.
func (d *detector) locate() error {
	first, last := max(d.first, d.quiet), d.last
	if t, ok := d.in.Given[string(Impact)]; ok {
		first, last = max(first, d.index(t-0.5)), min(last, d.index(t+0.05))
	}
	var err error
	if d.down, err = FindDownswing(d.in.Net, d.in.Rate, d.in.Address.Weight, first, last); err != nil {
		return err
	}
	d.back = argBest(d.tilt, max(d.quiet, d.index(d.time(d.down)-1.5)), d.down, less)
	d.fore = argBest(d.tilt, d.down, d.index(d.time(d.down)+0.35), greater)
	return nil
}

func less(a, b float64) bool    { return a < b }
func greater(a, b float64) bool { return a > b }

// argBest returns the sample in first…last that is better than all others.
func argBest(x []float64, first, last int, better func(a, b float64) bool) int {
	best := first
	for i := first; i <= last; i++ {
		if better(x[i], x[best]) || math.IsNaN(x[best]) {
			best = i
		}
	}
	return best
}

// given takes a mark over and reports whether there was one.
func (d *detector) given(name Name) bool {
	t, ok := d.in.Given[string(name)]
	if ok {
		d.ev.add(Event{name, t, math.NaN(), Given})
	}
	return ok
}

func (d *detector) detectAll() {
	for _, name := range Names() {
		if !slices.Contains(forceDefined, name) {
			d.given(name)
		}
	}
	after := d.index(d.time(d.fore) + 0.15)
	d.onset(d.back)
	d.address()
	begin := d.quiet
	if t := d.ev.Time(Onset); !math.IsNaN(t) {
		begin = d.index(t)
	}
	d.peak(TrailLoadPeak, d.trailZ, begin, d.down, greater, "the feet were not measured apart", nil)
	backAt := d.back
	if t := d.ev.Time(TrailLoadPeak); !math.IsNaN(t) {
		backAt = min(backAt, d.index(t))
	}
	d.peak(LeadVerticalPeak, d.leadZ, d.down, after, greater, "the feet were not measured apart", nil)
	lead := d.fore
	if t := d.ev.Time(LeadVerticalPeak); !math.IsNaN(t) {
		lead = d.index(t)
	}
	d.peak(LowestVertical, d.netZ, (begin+backAt)/2, lead, less, "", nil)
	d.peak(LateralPeak, d.netY, d.back-d.samples(0.1), lead, greater, grf.NoHorizontal, nil)
	lateral := d.down
	if t := d.ev.Time(LateralPeak); !math.IsNaN(t) {
		lateral = d.index(t)
	}
	d.crossing(LateralTurn, d.netY, 0, begin, lateral, grf.NoHorizontal)
	d.crossing(EvenLoad, d.share, 0.5, backAt, lead, "the feet were not measured apart")
	unknown := "the centre of mass is not known"
	if d.netY == nil {
		unknown = grf.NoHorizontal
	}
	d.peak(FrontalTorquePeak, d.in.Frontal, d.back, after, greater, unknown, func(sd, rate r3.Vec) float64 {
		return math.Hypot(sd.Y*rate.Z, sd.Z*rate.Y)
	})
	d.peak(VerticalTorquePeak, d.in.Horizontal, d.back, after, greater, unknown, func(sd, rate r3.Vec) float64 {
		return math.Hypot(sd.X*rate.Y, sd.Y*rate.X)
	})
	d.impact()
	d.finish()
}

// restSD is how far the last sample of rest usually lies behind the true end of
// rest, s; found on made-up swings (package validation/study).
const restSD = 0.04

// address is the last sample of the rest before the onset or, when that is not
// known, of the quiet stance. Rest ends too gently to be known better than to the
// time from there to the onset.
func (d *detector) address() {
	if d.given(Address) {
		return
	}
	e := Event{Address, d.time(d.quiet), pause / 2, Detected}
	if onset, ok := d.ev.Get(Onset); ok && onset.Source == Detected {
		e.Time = d.time(d.rest)
		e.SD = math.Max(onset.Time-e.Time, restSD)
	}
	d.ev.add(e)
}

// peak adds the best sample of x in first…last, refined, if it is a turning
// point and not a border. absent is the reason to give when x is nil. lever, if not
// nil, says how unsure the slope of x is for the standard deviations of the centre
// of mass and the rate of change of the force.
func (d *detector) peak(name Name, x []float64, first, last int, better func(a, b float64) bool, absent string, lever func(sd, rate r3.Vec) float64) {
	if d.given(name) {
		return
	}
	if x == nil {
		d.ev.miss(name, "%s", absent)
		return
	}
	first, last = max(first, d.first), min(last, d.last)
	i := argBest(x, first, last, better)
	if math.IsNaN(x[i]) {
		d.ev.miss(name, "the signal is undefined from %.3f to %.3f s", d.time(first), d.time(last))
		return
	}
	if i == first || i == last {
		d.ev.miss(name, "no turning point between %.3f and %.3f s: the signal is highest or lowest at the border", d.time(first), d.time(last))
		return
	}
	if e, ok := d.refine(name, x, first, last, better, lever); ok {
		d.ev.add(e)
		return
	}
	d.ev.add(Event{name, d.time(i), d.fit.dt, Detected})
}

// refine finds the turning point of x between first and last by the widest fit that
// describes x there as well as it describes the noise of the quiet stance: a flat
// top needs many samples, or noise chooses where it is; a sharp one allows few.
func (d *detector) refine(name Name, x []float64, first, last int, better func(a, b float64) bool, lever func(sd, rate r3.Vec) float64) (Event, bool) {
	for _, fit := range slices.Backward(d.fits) {
		i := fit.best(x, first, last, better)
		misfit, ok := fit.misfit(x, i)
		noise := fit.meanMisfit(x, d.in.Address.First, d.in.Address.Last)
		if narrowest := fit == d.fit; !ok || !narrowest && !(misfit < maxMisfit*noise) {
			continue
		}
		offset, curvature, ok := fit.peak(x, i)
		if !ok || better(curvature, 0) {
			continue
		}
		_, slope := fit.scatter(x, d.in.Address.First, d.in.Address.Last)
		slope *= chosen
		if lever != nil && d.in.COMSD != nil {
			slope = math.Hypot(slope, lever(d.in.COMSD[i], d.forceRate(i)))
		}
		return Event{name, d.time(i) + offset, math.Abs(slope / curvature), Detected}, true
	}
	return Event{}, false
}

// maxMisfit is by how much the misfit of a fit may exceed that of noise. Noise
// alone reaches it in one of five fits.
const maxMisfit = 1.2

// chosen widens the standard deviation of a peak's time for the width having been
// chosen by the same noise, and for what the polynomial leaves out; found on
// made-up swings (package validation/study).
const chosen = 1.55

// forceRate returns the rate of change of the net force at sample i, N/s.
func (d *detector) forceRate(i int) r3.Vec {
	slope := func(x []float64) float64 {
		c, _ := d.fit.at(x, i)
		return c[1]
	}
	return r3.Vec{X: slope(d.netX), Y: slope(d.netY), Z: slope(d.netZ)}
}

// crossing adds the last passage of x upward through level in first…last.
func (d *detector) crossing(name Name, x []float64, level float64, first, last int, absent string) {
	if d.given(name) {
		return
	}
	if x == nil {
		d.ev.miss(name, "%s", absent)
		return
	}
	smooth := d.fits[levelFit].smooth(x)
	for i := min(last, d.last); i > max(first, d.first); i-- {
		if !(smooth[i-1] < level && smooth[i] >= level) {
			continue
		}
		slope := (smooth[i] - smooth[i-1]) / d.fit.dt
		e := Event{name, d.time(i) + (level-smooth[i])/slope, d.fit.dt, Detected}
		for _, fit := range slices.Backward(d.fits) {
			misfit, ok := fit.misfit(x, i)
			noise := fit.meanMisfit(x, d.in.Address.First, d.in.Address.Last)
			if narrowest := fit == d.fit; !ok || !narrowest && !(misfit < maxMisfit*noise) {
				continue
			}
			if offset, slope, ok := fit.crossing(x, i, level); ok && slope > 0 {
				value, _ := fit.scatter(x, d.in.Address.First, d.in.Address.Last)
				e.Time, e.SD = d.time(i)+offset, chosen*value/slope
				break
			}
		}
		d.ev.add(e)
		return
	}
	d.ev.miss(name, "no upward passage through %g between %.3f and %.3f s", level, d.time(first), d.time(last))
}

// moved is how far a foot's vertical force has to be from its quiet level, as a
// part of body weight, for a move to have begun or not yet ended (common
// practice, no published source). Motion begins and ends too gently to have an
// instant of its own, so that a level has to define it.
const moved = 0.02

// level is a smoothed signal and the band in which it counts as quiet.
type level struct {
	x          []float64
	mean, band float64
}

// levelFit is the width of the fit that smooths such a signal: noise must not
// carry a load that comes close to its band out of it.
const levelFit = 2

// levels returns the signals that say whether the golfer moves, with their
// values during the quiet stance q. Where the feet were not measured apart, the
// moment on the ground stands for the shift between feet some 0.4 m apart.
func (d *detector) levels(q grf.Quiet) []level {
	band := moved * d.in.Address.Weight
	if d.leadZ != nil {
		return []level{d.level(d.leadZ, band, q), d.level(d.trailZ, band, q)}
	}
	return []level{d.level(d.netZ, band, q), d.level(d.tilt, 0.4*band, q)}
}

// level returns x, smoothed, with its mean during q and a band, at least three
// standard deviations wide.
func (d *detector) level(x []float64, band float64, q grf.Quiet) level {
	x = d.fits[levelFit].smooth(x)
	mean, sd := stat.MeanStdDev(x[q.First:q.Last+1], nil)
	return level{x, mean, math.Max(band, 3*sd)}
}

// outside returns the first signal that is outside of its band at sample i.
func outside(levels []level, i int) (level, bool) {
	for _, l := range levels {
		if !(math.Abs(l.x[i]-l.mean) < l.band) {
			return l, true
		}
	}
	return level{}, false
}

// leave returns the event of the signal that passes its band between sample i,
// inside, and sample i+step, outside.
func (d *detector) leave(name Name, l level, i, step int, q grf.Quiet) Event {
	edge := l.mean + math.Copysign(l.band, l.x[i+step]-l.mean)
	slope := (l.x[i+step] - l.x[i]) / (float64(step) * d.fit.dt)
	offset := (edge - l.x[i]) / slope
	sd := stat.StdDev(l.x[q.First:q.Last+1], nil)
	return Event{name, d.time(i) + offset, math.Abs(sd / slope), Detected}
}

// onset looks backward from the first big turning point for the last stretch of
// time that was quiet, in the horizontal force too, and takes the first move
// after it.
func (d *detector) onset(before int) {
	if d.given(Onset) {
		return
	}
	q := d.in.Address
	loads := d.levels(q)
	all := d.levels(q)
	if d.netY != nil {
		all = append(all, d.level(d.netY, moved/2*q.Weight, q), d.level(d.netX, moved/2*q.Weight, q))
	}
	need := max(1, d.samples(pause))
	run, left := 0, -1
	for i := before; i >= q.First && run < need; i-- {
		if _, out := outside(all, i); out {
			run = 0
			continue
		}
		if run == 0 {
			left = i
		}
		run++
	}
	if run < need {
		d.ev.miss(Onset, "the forces were never at the level of the quiet stance for %g s before %.3f s", pause, d.time(before))
		return
	}
	d.rest = left
	for i := left; i < before; i++ {
		if l, out := outside(loads, i+1); out {
			d.ev.add(d.leave(Onset, l, i, 1, q))
			return
		}
	}
	d.ev.miss(Onset, "no foot's load leaves its quiet level between %.3f and %.3f s", d.time(left), d.time(before))
}

// pause is how long the golfer has to be quiet before the swing begins, s: longer
// than a load takes to pass through its quiet level, shorter than the rest after
// a waggle.
const pause = 0.2

// impactFall is the part of its peak to which the lead foot's vertical force
// has fallen at impact: 0.90/1.09 and 1.05/1.13 in two groups of golfers (Okuda,
// Gribble, Armstrong, J. Sports Sci. Med. 9 (2010) 127–133, after a secondary
// table, so a lead rather than evidence).
const impactFall = 0.88

// impact takes the given mark, or estimates the instant, with a standard
// deviation that says how little the forces know of it.
func (d *detector) impact() {
	if d.given(Impact) {
		return
	}
	x, from := d.leadZ, d.ev.Time(LeadVerticalPeak)
	if x == nil || math.IsNaN(from) {
		x, from = d.netZ, d.time(argBest(d.netZ, d.down, d.index(d.time(d.fore)+0.15), greater))
	}
	top := x[d.index(from)]
	for i := d.index(from); i <= min(d.last, d.index(from+0.3)); i++ {
		if x[i] <= impactFall*top {
			d.ev.add(Event{Impact, d.time(i), 0.04, Estimated})
			return
		}
	}
	d.ev.miss(Impact, "not given, and the vertical force does not fall after its peak at %.3f s", from)
}

// finish looks backward from the second quiet stance for the last move.
func (d *detector) finish() {
	switch {
	case d.given(Finish):
		return
	case d.in.Still == nil:
		d.ev.miss(Finish, "the golfer is not still again before the recording ends")
		return
	}
	q := *d.in.Still
	levels := d.levels(q)
	for i := q.Last - 1; i > d.down; i-- {
		if l, out := outside(levels, i); out {
			d.ev.add(d.leave(Finish, l, i+1, -1, q))
			return
		}
	}
	d.ev.miss(Finish, "the load never left the level of the stance at %.3f s", q.From)
}
