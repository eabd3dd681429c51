package phase

import (
	"fmt"
	"math"

	"example.com/momentarm/grf"
)

// sameWeight is by how much, as a part of it, the vertical force of another
// stance may differ from body weight: somebody who holds still weighs what they
// weigh.
const sameWeight = 0.02

// At the end of a slow backswing all forces are steady for a while, but load and
// push are not those of the address: the pressure has moved by more than samePlace,
// m, and the horizontal force by more than samePush, as a part of body weight,
// because the next move is being pushed for. Sway does one or the other. Common
// practice (no published source).
const samePlace, samePush = 0.04, 0.0075

// FindAddress returns the last quiet stance in the searched part of a recording,
// which should end with the downswing. [grf.FindQuiet] finds the stillest one;
// a later one of the same weight that is nearly as still counts instead, because
// a golfer stands still before a waggle, too, and noise alone decides then. The
// errors are those of FindQuiet.
func FindAddress(rec *grf.Recording, opt grf.QuietOptions) (grf.Quiet, error) {
	q, err := findQuiet(rec, opt)
	if err != nil {
		return q, err
	}
	if opt.From == 0 && opt.To == 0 {
		opt.To = rec.End()
	}
	opt.Limit = nearlyAsStill(q, 1.25, 0.001, opt.Limit)
	for weight := q.Weight; ; {
		opt.From = q.To + 1/rec.Rate
		if !(opt.From < opt.To) {
			return q, nil
		}
		next, err := findQuiet(rec, opt)
		if err != nil || math.Abs(next.Weight-weight) > sameWeight*weight {
			return q, nil
		}
		if underway(q.Mean, next.Mean) {
			return q, nil
		}
		q = next
	}
}

// underway reports whether a later mean wrench is that of a move.
func underway(before, after grf.Wrench) bool {
	a, b := before.Scale(1/before.Force.Z), after.Scale(1/after.Force.Z)
	return math.Hypot(b.Force.X-a.Force.X, b.Force.Y-a.Force.Y) > samePush &&
		math.Hypot(b.Moment.X-a.Moment.X, b.Moment.Y-a.Moment.Y) > samePlace
}

// FindStill returns the first quiet stance of a golfer of this weight in the
// searched part of a recording, which should begin after a swing: the follow-
// through that is held, not the rest that comes later. It starts from the
// stillest stance, as [grf.FindQuiet] finds it; an earlier one that is nearly as
// still counts instead if the golfer moved in between. The beginning, in which the
// load may creep to its place, is left out. The errors are those of FindQuiet.
func FindStill(rec *grf.Recording, weight float64, opt grf.QuietOptions) (grf.Quiet, error) {
	if opt.Duration == 0 {
		opt.Duration = 0.3
	}
	if opt.From == 0 && opt.To == 0 {
		opt.From, opt.To = rec.Start, rec.End()
	}
	var still grf.Quiet
	found, other := false, false
	for opt.From < opt.To {
		q, err := findQuiet(rec, opt)
		if err != nil {
			if !found && !other {
				return q, err
			}
			break
		}
		opt.To = q.From - 1/rec.Rate
		if math.Abs(q.Weight-weight) > sameWeight*weight {
			other = true // somebody leans on something, or is not all there
			continue
		}
		if !found {
			opt.Limit = nearlyAsStill(q, 1.5, 0.005, opt.Limit)
		} else if !movedBetween(rec, q, still) {
			return settled(rec, still, opt), nil
		}
		found, still = true, q
	}
	if !found {
		return still, fmt.Errorf("%w: of %.0f N", grf.ErrNoQuiet, weight)
	}
	return settled(rec, still, opt), nil
}

// settled returns the stance without its first window, which was still enough as a
// whole while the load crept to its place at the beginning. A stance that is too
// short for that is returned as it is.
func settled(rec *grf.Recording, q grf.Quiet, opt grf.QuietOptions) grf.Quiet {
	opt.From, opt.To = q.From+opt.Duration, q.To
	if opt.To-opt.From < opt.Duration {
		return q
	}
	if later, err := findQuiet(rec, opt); err == nil {
		return later
	}
	return q
}

// movedBetween reports whether the load travelled between the stances a and b.
func movedBetween(rec *grf.Recording, a, b grf.Quiet) bool {
	low, high := math.Inf(1), math.Inf(-1)
	place := pressedAt(a.Mean)
	for i := a.Last; i <= b.First; i++ {
		w := netAt(rec, i)
		if m := w.Moment.X - place*w.Force.Z; !math.IsNaN(m) {
			low, high = math.Min(low, m), math.Max(high, m)
		}
	}
	return high-low > leastTravel/2*a.Weight
}

// pressedAt returns the place of the centre of pressure along the target line, m. The
// moment of a wrench about the forward axis through it is that about the origin less
// place × vertical force.
func pressedAt(w grf.Wrench) float64 { return w.Moment.X / w.Force.Z }

func netAt(rec *grf.Recording, i int) grf.Wrench {
	if rec.Split() {
		return rec.Lead[i].Add(rec.Trail[i])
	}
	return rec.Net[i]
}

// findQuiet is [grf.FindQuiet] without the cost of what lies outside of the
// search range.
func findQuiet(rec *grf.Recording, opt grf.QuietOptions) (grf.Quiet, error) {
	if opt.From == 0 && opt.To == 0 || rec.Check() != nil {
		return grf.FindQuiet(rec, opt)
	}
	from, to := math.Floor((opt.From-rec.Start)*rec.Rate), math.Ceil((opt.To-rec.Start)*rec.Rate)
	if !(from <= to && from < float64(rec.Len()) && to >= 0) { // NaN included
		return grf.FindQuiet(rec, opt)
	}
	first, end := max(0, int(math.Max(from, -1))), int(math.Min(float64(rec.Len()), to+1))
	if first >= end {
		return grf.FindQuiet(rec, opt)
	}
	part := *rec
	part.Start, part.Marks = rec.Time(first), nil
	if rec.Split() {
		part.Lead, part.Trail = rec.Lead[first:end], rec.Trail[first:end]
	} else {
		part.Net = rec.Net[first:end]
	}
	q, err := grf.FindQuiet(&part, opt)
	if err != nil {
		return q, err
	}
	q.First, q.Last = q.First+first, q.Last+first
	q.From, q.To = rec.Time(q.First), rec.Time(q.Last)
	return q, nil
}

// nearlyAsStill returns the limit of variation for a stance that may vary
// times as much as q, or by floor, whichever is more, but not by more than the
// limit that was asked for.
func nearlyAsStill(q grf.Quiet, times, floor, limit float64) float64 {
	if limit == 0 {
		limit = 0.02
	}
	return math.Min(limit, math.Max(times*q.Variation, floor))
}
