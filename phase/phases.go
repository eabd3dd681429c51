package phase

import "strings"

// Phase is a stretch of a swing between two events.
type Phase struct {
	Name     string
	From, To Event
}

// Duration returns the length of the phase, s.
func (p Phase) Duration() float64 { return p.To.Time - p.From.Time }

// Source says where the phase comes from: the weaker source of its two ends, so
// that a phase is given only if both are.
func (p Phase) Source() Source { return max(p.From.Source, p.To.Source) }

// spans are the phases that Phases knows beside those from position to position.
// The first group needs forces only, the second a given top.
var spans = []struct {
	name     string
	from, to Name
}{
	{"loading", Onset, TrailLoadPeak},
	{"transition", TrailLoadPeak, LowestVertical},
	{"drive", LowestVertical, Impact},
	{"follow_through", Impact, Finish},

	{"backswing", Onset, Top},
	{"downswing", Top, Impact},
}

// Phases returns the phases whose two events are known and in order:
//
//	loading         onset → trail_load_peak
//	transition      trail_load_peak → lowest_vertical
//	drive           lowest_vertical → impact
//	follow_through  impact → finish
//	backswing       onset → top
//	downswing       top → impact
//	p1_p2 … p9_p10  from each numbered position to the next: see [Position]
//
// The first four are bounded by what the forces do, and together cover the swing
// without any mark. The others need marks of the club, because forces do not
// tell where it is: without them they are left out, not estimated. A time that is
// given bounds a phase rather than the detected or estimated one of the same
// name; [Event.Source] of both ends, or [Phase.Source], says which it was.
func (e Events) Phases() []Phase {
	var phases []Phase
	add := func(name string, from, to Name) {
		a, ok1 := e.Get(from)
		b, ok2 := e.Get(to)
		if ok1 && ok2 && a.Time < b.Time {
			phases = append(phases, Phase{name, a, b})
		}
	}
	for _, s := range spans {
		add(s.name, s.from, s.to)
	}
	for p := P1; p < P10; p++ {
		add(strings.ToLower(p.String()+"_"+(p+1).String()), p.Name(), (p + 1).Name())
	}
	return phases
}
