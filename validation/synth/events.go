package synth

import (
	"math"
	"sort"
)

// Event is an instant that is known exactly.
type Event struct {
	Name string
	Time float64 // s
}

// OnsetLevel is how far the vertical load of a foot must have moved from its
// value at address, as a part of body weight, for the events "onset" and
// "finish". Motion begins and ends too gently to have an instant of its own;
// see [Swing.Motion] for the exact bounds of stillness.
const OnsetLevel = 0.02

// Events returns what happens in the swing in order of time, and nothing for
// [Still]. Extrema are roots of exact derivatives and crossings roots of exact
// functions, both to about 1e-12 s. An event that the swing does not have is
// left out.
//
//	address              the last still instant
//	onset                a foot's vertical load has moved by OnsetLevel
//	trail_load_peak      largest vertical load of the trail foot before impact
//	lateral_turn         last change of the net lateral force from away from
//	                     the target to toward it, before its peak
//	lowest_vertical      least net vertical force before impact
//	even_load            lead share rises through one half, last time before
//	                     impact
//	lead_vertical_peak   largest vertical load of the lead foot between the
//	                     lowest vertical and half a downswing after impact
//	lateral_peak         largest net lateral force before impact
//	frontal_torque_peak  largest moment about X before impact
//	vertical_torque_peak largest moment about Z before impact
//	finish               the feet's vertical loads stay within OnsetLevel of
//	                     their final values
//
// and the places of the club, impact among them, which are set and not found:
// see [Swing.Marks].
func (s *Swing) Events() []Event { return append([]Event(nil), s.events...) }

// EventTime returns the instant of the named event, NaN when the swing has
// none of that name.
func (s *Swing) EventTime(name string) float64 {
	for _, e := range s.events {
		if e.Name == name {
			return e.Time
		}
	}
	return math.NaN()
}

// Motion returns the exact bounds of the swing: the golfer is still up to from
// and from to on. Without a swing both are NaN.
func (s *Swing) Motion() (from, to float64) { return s.from, s.to }

// Marks returns the instants at which the club is somewhere, and impact, by
// event name: what a camera or a club tracker would tell. It is empty for
// [Still].
func (s *Swing) Marks() map[string]float64 {
	marks := make(map[string]float64)
	if !s.swings() {
		return marks
	}
	for name, phase := range clubPhases {
		marks[name] = s.marks.time(phase)
	}
	return marks
}

// clubPhases are the phases at which the club is somewhere: from common
// practice (no published source).
var clubPhases = map[string]float64{
	"shaft_parallel_back":        0.42,
	"lead_arm_parallel_back":     0.68,
	"top":                        1,
	"lead_arm_parallel_down":     1.50,
	"shaft_parallel_down":        1.80,
	"impact":                     2,
	"shaft_parallel_through":     2.04,
	"trail_arm_parallel_through": 2.12,
}

// rate is a value and its first derivative.
type rate struct{ value, slope float64 }

// signal is a quantity of the swing with its exact derivative.
type signal func(t float64) rate

func (s *Swing) signals() (lead, trail, vertical, lateral, share, frontal, horizontal signal) {
	of := func(c spline, scale, offset float64) signal {
		return func(t float64) rate {
			w := s.grid.at(t)
			return rate{scale*c.value(&w, forceDegree) + offset, scale * c.slope(&w, forceDegree, s.grid.step)}
		}
	}
	m := s.cfg.Mass
	vertical = of(s.acceleration[2], m, m*Gravity)
	lateral = of(s.acceleration[1], m, 0)
	share = of(s.share, 1, 0)
	frontal = of(s.moment[0], 1, 0)
	horizontal = of(s.moment[2], 1, 0)
	part := func(sign, offset float64) signal {
		return func(t float64) rate {
			f, p := vertical(t), share(t)
			k := offset + sign*p.value
			return rate{k * f.value, sign*p.slope*f.value + k*f.slope}
		}
	}
	return part(1, 0), part(-1, 1), vertical, lateral, share, frontal, horizontal
}

func (s *Swing) findEvents() []Event {
	lead, trail, _, lateral, share, _, _ := s.signals()
	from, to := s.Motion()
	impact := s.marks.impact

	var events []Event
	add := func(name string, t float64) {
		if !math.IsNaN(t) {
			events = append(events, Event{name, t})
		}
	}
	for name, t := range s.Marks() {
		add(name, t)
	}
	add("address", from)
	level := OnsetLevel * s.cfg.Mass * Gravity
	first, last := math.Inf(1), math.Inf(-1)
	for _, foot := range []signal{lead, trail} {
		for _, side := range []float64{-1, 1} {
			for _, t := range s.crossings(foot, foot(from).value+side*level, from, impact) {
				first = math.Min(first, t)
			}
			for _, t := range s.crossings(foot, foot(to).value+side*level, impact, to) {
				last = math.Max(last, t)
			}
		}
	}
	if !math.IsInf(first, 0) {
		add("onset", first)
	}
	if !math.IsInf(last, 0) {
		add("finish", last)
	}

	for _, e := range s.extremes() {
		add(e.name, e.time)
		if e.name == "lateral_peak" {
			add("lateral_turn", lastRise(lateral, s.crossings(lateral, 0, from+s.grid.step, e.time)))
		}
	}
	if share(impact).value > 0.5 {
		add("even_load", lastRise(share, s.crossings(share, 0.5, from+s.grid.step, impact)))
	}
	sort.Slice(events, func(i, j int) bool { return events[i].Time < events[j].Time })
	return events
}

// lastRise returns the last of these instants at which f rises, NaN for none.
func lastRise(f signal, times []float64) float64 {
	last := math.NaN()
	for _, t := range times {
		if f(t).slope > 0 {
			last = t
		}
	}
	return last
}

// extreme is an event that is the largest or least value of a signal. Rival is
// by how much the next largest local extreme stays behind, +Inf without one, in
// the unit of scale.
type extreme struct {
	name               string
	time, rival, scale float64
}

// extremes finds the events that are extremes.
func (s *Swing) extremes() []extreme {
	lead, trail, vertical, lateral, _, frontal, horizontal := s.signals()
	impact := s.marks.impact
	weight := s.cfg.Mass * Gravity
	find := func(name string, f signal, sign, from, to, scale float64) extreme {
		t, rival := s.peak(f, sign, from, to)
		return extreme{name, t, rival, scale}
	}
	lowest := find("lowest_vertical", vertical, -1, s.from, impact, weight)
	return []extreme{
		lowest,
		find("trail_load_peak", trail, 1, s.from, impact, weight),
		find("lead_vertical_peak", lead, 1, lowest.time, impact+s.cfg.Downswing/2, weight),
		find("lateral_peak", lateral, 1, s.from, impact, weight),
		find("frontal_torque_peak", frontal, 1, s.from, impact, weight*0.1),
		find("vertical_torque_peak", horizontal, 1, s.from, impact, weight*0.1),
	}
}

// peak returns the local extremum of f between from and to with the largest
// (sign 1) or least (sign −1) value, NaN when there is none inside, and by how
// much the next one stays behind.
func (s *Swing) peak(f signal, sign, from, to float64) (at, rival float64) {
	best, next := math.Inf(-1), math.Inf(-1)
	at = math.NaN()
	slope := func(t float64) float64 { return sign * f(t).slope }
	for _, t := range s.roots(slope, from, to) {
		if slope(t-s.grid.step/64) <= 0 {
			continue
		}
		switch v := sign * f(t).value; {
		case v > best:
			best, next, at = v, best, t
		case v > next:
			next = v
		}
	}
	return at, best - next
}

// crossings returns the instants between from and to at which f is level.
func (s *Swing) crossings(f signal, level, from, to float64) []float64 {
	return s.roots(func(t float64) float64 { return f(t).value - level }, from, to)
}

// roots returns the sign changes of f between from and to: bracketed four
// times per knot and halved down to the resolution of the clock.
func (s *Swing) roots(f func(float64) float64, from, to float64) []float64 {
	if !(to > from) {
		return nil
	}
	var out []float64
	n := int(math.Ceil((to - from) / s.grid.step * 4))
	a, fa := from, f(from)
	for i := 1; i <= n; i++ {
		b := from + (to-from)*float64(i)/float64(n)
		fb := f(b)
		if fa != 0 && (fa < 0) != (fb < 0) || fa != 0 && fb == 0 {
			out = append(out, halve(f, a, b))
		}
		a, fa = b, fb
	}
	return out
}

// halve narrows the bracket of a sign change until it can not be narrowed.
func halve(f func(float64) float64, a, b float64) float64 {
	low := f(a) < 0
	for {
		m := a + (b-a)/2
		if m <= a || m >= b {
			return m
		}
		if v := f(m); v == 0 {
			return m
		} else if v < 0 == low {
			a = m
		} else {
			b = m
		}
	}
}
