package phase

// Phase is a stretch of a swing between two events.
type Phase struct {
	Name     string
	From, To Event
}

// Duration returns the length of the phase, s.
func (p Phase) Duration() float64 { return p.To.Time - p.From.Time }

// spans are the phases that Phases knows. The first group needs forces only, the
// second marks of the club.
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
//	backswing       onset → top      (top is always given)
//	downswing       top → impact
func (e Events) Phases() []Phase {
	var phases []Phase
	for _, s := range spans {
		from, ok1 := e.Get(s.from)
		to, ok2 := e.Get(s.to)
		if ok1 && ok2 && from.Time < to.Time {
			phases = append(phases, Phase{s.name, from, to})
		}
	}
	return phases
}
