package swing

import (
	"fmt"
	"maps"
	"math"
	"strings"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
)

// Part is one swing of a recording that may hold several.
type Part struct {
	// Recording is the stretch from before the address until after the finish,
	// ready for [Analyse]. It shares the samples of the whole, keeps its clock
	// and has those of its marks that lie within.
	Recording *grf.Recording
	// Downswing is when the load moves fastest toward the lead foot, s: see
	// [phase.FindDownswings].
	Downswing float64
	// Address is the quiet stance before the swing; samples count in Recording.
	Address grf.Quiet
}

// Split finds the swings of a recording: wherever the load moves to the lead foot
// as in a downswing ([phase.FindDownswings]) after a quiet stance
// ([phase.FindAddress]). A practice swing is a swing. Waggles, steps into the
// stance and starts that stop are none. What moves like a downswing without a
// quiet stance before it, as when the recording begins in the middle of a swing,
// is left out with the warning "swing-left-out".
//
// Between two swings the recording is divided in the middle between the stance
// after the first and the one before the second; if they are one and the same,
// both parts hold it.
//
// Options.Quiet says how still a stance has to be; its From and To are not used.
//
// Split fails as [Analyse] does: [ErrNobody], [phase.ErrNoSwing] when nothing
// moves like a downswing, [grf.ErrNoQuiet] when no swing has a quiet stance.
func Split(rec *grf.Recording, opt Options) ([]Part, []grf.Warning, error) {
	parts, warnings, err := split(rec, opt)
	return parts, warnings, explained(rec, err)
}

func split(rec *grf.Recording, opt Options) ([]Part, []grf.Warning, error) {
	if err := rec.Check(); err != nil {
		return nil, nil, err
	}
	if _, err := opt.settings(rec.Rate); err != nil {
		return nil, nil, err
	}
	a := &Analysis{Recording: rec}
	whole := a.bridged()
	raw, err := whole.NetWrenches(nil)
	if err != nil {
		return nil, nil, err
	}
	weight, err := loaded(raw)
	if err != nil {
		return nil, nil, err
	}
	stretches, left, err := stretches(whole, raw, weight, opt)
	warnings := append(a.Warnings, left...)
	if err != nil {
		return nil, warnings, err
	}
	parts := make([]Part, len(stretches))
	for i, s := range stretches {
		q := s.address
		q.First, q.Last = q.First-s.first, q.Last-s.first
		parts[i] = Part{Recording: cut(rec, s.first, s.last), Downswing: rec.Time(s.down), Address: q}
	}
	return parts, warnings, nil
}

// stretch is where one of several swings is, in samples of the recording.
type stretch struct {
	first, last int
	down        int
	address     grf.Quiet
}

// stretches finds the swings. The error is that of the first one that is no swing
// to work on, when there is no other.
func stretches(rec *grf.Recording, raw []grf.Wrench, weight float64, opt Options) ([]stretch, []grf.Warning, error) {
	downs := phase.FindDownswings(raw, rec.Rate, weight, 0, len(raw)-1)
	if len(downs) == 0 {
		_, err := phase.FindDownswing(raw, rec.Rate, weight, 0, len(raw)-1)
		return nil, nil, err
	}
	var found []stretch
	var warnings []grf.Warning
	var failed error
	for i, down := range downs {
		begin := 0
		if i > 0 {
			begin = min(down, downs[i-1]+int(afterDownswing*rec.Rate))
		}
		from, _ := onPlates(raw, down, rec.Rate)
		from = max(from, begin)
		q := opt.Quiet
		q.From, q.To, q.Gravity = rec.Time(from), rec.Time(down), opt.Gravity
		address, err := phase.FindAddress(rec, q)
		if err != nil {
			if failed == nil {
				failed = fmt.Errorf("swing at %.3f s: %w", rec.Time(down), err)
			}
			warnings = append(warnings, grf.Warning{Code: "swing-left-out", Where: fmt.Sprintf("%.3f s", rec.Time(down)),
				Text: fmt.Sprintf("the load moves to the lead foot as in a downswing, but there is no quiet stance before it: %v", err)})
			continue
		}
		found = append(found, stretch{first: begin, last: len(raw) - 1, down: down, address: address})
	}
	if len(found) == 0 {
		return nil, warnings, failed
	}
	for i := range found[1:] {
		a, b := &found[i], &found[i+1]
		last, first := between(rec, a, b, opt)
		a.last, b.first = last, max(b.first, first)
	}
	return found, warnings, nil
}

// afterDownswing is the time after the fastest shift of load in which nobody is
// still, s.
const afterDownswing = 0.5

// between returns the last sample of swing a and the first of the next, b.
func between(rec *grf.Recording, a, b *stretch, opt Options) (last, first int) {
	still := grf.QuietOptions{From: rec.Time(a.down) + afterDownswing, To: rec.Time(b.down), Limit: opt.Quiet.Limit}
	q, err := phase.FindStill(rec, a.address.Weight, still)
	switch {
	case err != nil || q.First >= b.address.First:
		// The finish is not held, or is the next address.
		return b.address.Last, b.address.First
	case q.Last >= b.address.First:
		return q.Last, b.address.First
	}
	mid := (q.Last + b.address.First) / 2
	return mid, mid + 1
}

// choose says which downswing to analyse, and the samples of its swing: the one at
// the given impact, else the one whose load moves fastest among those with a quiet
// stance before them.
func (a *Analysis) choose(rec *grf.Recording, raw []grf.Wrench, opt Options) (stretch, error) {
	weight, err := loaded(raw)
	if err != nil {
		return stretch{}, err
	}
	one := stretch{first: 0, last: len(raw) - 1}
	impact, given := a.marks[string(phase.Impact)]
	from, to := one.first, one.last
	if given {
		from, to = rec.Index(impact-0.5), rec.Index(impact+0.05)
	}
	if one.down, err = phase.FindDownswing(raw, rec.Rate, weight, from, to); err != nil {
		if elsewhere := phase.FindDownswings(raw, rec.Rate, weight, one.first, one.last); given && len(elsewhere) > 0 {
			err = fmt.Errorf("%w within 0.5 s before the given impact at %.3f s, but at %.3f s; is that mark right?", phase.ErrNoSwing, impact, rec.Time(elsewhere[0]))
		}
		return stretch{}, err
	}
	downs := phase.FindDownswings(raw, rec.Rate, weight, one.first, one.last)
	if len(downs) < 2 {
		return one, nil
	}
	parts, left, err := stretches(rec, raw, weight, opt)
	if err != nil {
		return one, nil // there is no stance before any of them: the search for it will tell
	}
	why := "whose load moves fastest"
	if given {
		why = "at the given impact"
		// A swing without a stance must not take that of the swing before.
		for _, d := range downs {
			if after := d + int(afterDownswing*rec.Rate); after < one.down {
				one.first = after
			}
		}
	}
	best := math.Inf(-1)
	for _, p := range parts {
		if given && p.first <= one.down && one.down <= p.last && math.Abs(float64(p.down-one.down)) < afterDownswing*rec.Rate {
			one = p
		}
		if v := pace(raw, p.down, rec.Rate); !given && v > best {
			best, one = v, p
		}
	}
	if len(parts) < 2 {
		// What is left out has no stance before it: a step onto the plates, say.
		return one, nil
	}
	a.Warnings = append(a.Warnings, left...)
	times := make([]string, len(parts))
	for i, p := range parts {
		times[i] = fmt.Sprintf("%.3f", rec.Time(p.down))
	}
	a.warn("several-swings", fmt.Sprintf("%.3f s", rec.Time(one.down)),
		"the recording holds several swings: the load moves to the lead foot as in a downswing at %s s. This is the one %s, from %.3f to %.3f s; swing.Split gives each",
		strings.Join(times, ", "), why, rec.Time(one.first), rec.Time(one.last))
	return one, nil
}

// pace returns how fast the load moves toward the lead foot around sample i: the rise
// that [phase.FindDownswings] looks at.
func pace(raw []grf.Wrench, i int, rate float64) float64 {
	half := max(1, int(math.Round(0.04*rate)))
	before, now, after := raw[max(0, i-half)], raw[i], raw[min(len(raw)-1, i+half)]
	return after.Moment.X - before.Moment.X - now.Moment.X/now.Force.Z*(after.Force.Z-before.Force.Z)
}

// cut returns the samples first to last of a recording, with the marks that lie
// within.
func cut(rec *grf.Recording, first, last int) *grf.Recording {
	part := *rec
	part.Start = rec.Time(first)
	if rec.Split() {
		part.Lead, part.Trail = rec.Lead[first:last+1:last+1], rec.Trail[first:last+1:last+1]
	} else {
		part.Net = rec.Net[first : last+1 : last+1]
	}
	part.Marks = maps.Clone(rec.Marks)
	maps.DeleteFunc(part.Marks, func(_ string, t float64) bool { return !(t >= part.Start && t <= part.End()) })
	return &part
}
