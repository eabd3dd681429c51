package swing

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/stat"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
)

// Sentinels for [errors.Is].
var (
	// ErrBase means a time base that makes no sense, or curves on different ones.
	ErrBase = errors.New("swing: unusable time base")
	// ErrMark means that a swing lacks an event that a time base needs, or has it
	// out of order.
	ErrMark = errors.New("swing: event for the time base not found")
	// ErrTooFew means too few swings, or values of a measure, for what was asked.
	ErrTooFew = errors.New("swing: too few swings")
)

// DefaultPoints is the number of points of a curve from 0 to 100 %, both ends
// included.
const DefaultPoints = 101

// maxPoints bounds what a curve allocates.
const maxPoints = 100001

// Landmark lays an event of the swing to a percentage of a common time base.
type Landmark struct {
	Event   phase.Name
	Percent float64
}

// Base is a common time base for swings of different lengths. With two landmarks,
// at 0 and 100 %, time is stretched evenly between them. With more, each piece
// between two landmarks is stretched by itself, so that curves show the same
// event at the same place (piecewise linear landmark registration): then a
// percentage is no longer a part of the swing's time, and slopes of different
// pieces can not be compared. [Base.String] says which of the two it is; write it
// beside every picture.
//
// Work out derivatives before curves: a slope over percent is none over time.
type Base struct {
	Landmarks []Landmark // in order, the first at 0 and the last at 100 %
	Points    int        // 0 means [DefaultPoints]
}

// Between returns the even time base from one event to another.
func Between(from, to phase.Name) Base {
	return Base{Landmarks: []Landmark{{from, 0}, {to, 100}}}
}

// MeanBase returns the time base with these events as landmarks, each at its mean
// place between the first and the last over the swings. It returns [ErrTooFew]
// without swings, [ErrBase] for fewer than two events and [ErrMark] when a swing
// lacks one of the events or has it out of order.
func MeanBase(swings []*Analysis, events ...phase.Name) (Base, error) {
	if len(swings) == 0 {
		return Base{}, fmt.Errorf("%w: a mean time base needs one", ErrTooFew)
	}
	if len(events) < 2 {
		return Base{}, fmt.Errorf("%w: %d events; it needs a first and a last", ErrBase, len(events))
	}
	b := Base{Landmarks: make([]Landmark, len(events))}
	for i, e := range events {
		b.Landmarks[i].Event = e
	}
	for k, a := range swings {
		if a == nil {
			return Base{}, fmt.Errorf("%w: swing %d is missing", ErrTooFew, k)
		}
		times, err := b.times(a)
		if err != nil {
			return Base{}, fmt.Errorf("swing %d: %w", k, err)
		}
		first, last := times[0], times[len(times)-1]
		for i, t := range times {
			b.Landmarks[i].Percent += 100 * (t - first) / (last - first) / float64(len(swings))
		}
	}
	b.Landmarks[len(events)-1].Percent = 100 // free of rounding
	return b, nil
}

// String says how the base was made, such as "0–100 % from onset to impact" or
// "piecewise linear: onset 0 %, top 74.4 %, impact 100 %".
func (b Base) String() string {
	if len(b.Landmarks) == 2 {
		return fmt.Sprintf("0–100 %% from %s to %s", Words(b.Landmarks[0].Event), Words(b.Landmarks[1].Event))
	}
	parts := make([]string, len(b.Landmarks))
	for i, l := range b.Landmarks {
		parts[i] = fmt.Sprintf("%s %.4g %%", Words(l.Event), l.Percent)
	}
	return "piecewise linear: " + strings.Join(parts, ", ")
}

// check returns an error that wraps ErrBase.
func (b Base) check() error {
	n := len(b.Landmarks)
	switch {
	case n < 2:
		return fmt.Errorf("%w: %d landmarks; it needs a first and a last", ErrBase, n)
	case b.Landmarks[0].Percent != 0 || b.Landmarks[n-1].Percent != 100:
		return fmt.Errorf("%w: it runs from %g to %g %%, not from 0 to 100 %%", ErrBase, b.Landmarks[0].Percent, b.Landmarks[n-1].Percent)
	case b.Points < 0 || b.Points == 1 || b.Points > maxPoints:
		return fmt.Errorf("%w: %d points; it needs 2 to %d, or 0 for %d", ErrBase, b.Points, maxPoints, DefaultPoints)
	}
	for i := 1; i < n; i++ {
		if !(b.Landmarks[i-1].Percent < b.Landmarks[i].Percent) {
			return fmt.Errorf("%w: %s at %g %% does not come after %s at %g %%", ErrBase,
				b.Landmarks[i].Event, b.Landmarks[i].Percent, b.Landmarks[i-1].Event, b.Landmarks[i-1].Percent)
		}
	}
	return nil
}

// times returns when the swing passes the landmarks.
func (b Base) times(a *Analysis) ([]float64, error) {
	times := make([]float64, len(b.Landmarks))
	for i, l := range b.Landmarks {
		e, ok := a.Events.Get(l.Event)
		if !ok {
			return nil, fmt.Errorf("%w: %s", ErrMark, a.whyMissing(l.Event))
		}
		if times[i] = e.Time; i > 0 && !(times[i-1] < times[i]) {
			return nil, fmt.Errorf("%w: %s at %.3f s does not come after %s at %.3f s", ErrMark,
				Words(l.Event), times[i], Words(b.Landmarks[i-1].Event), times[i-1])
		}
	}
	return times, nil
}

// Curve is a signal of one swing on a common time base.
type Curve struct {
	Signal Signal
	Base   Base
	// Percent, Time and Value hold one number for each point: where it is on the
	// base, when that was on the recording's own clock, s, and the signal there.
	Percent, Time, Value []float64
	// Samples is how many samples of the recording lie between the ends.
	Samples  int
	Warnings []grf.Warning
}

// Duration returns the time that the curve spans in the swing, s; NaN for a curve
// without points.
func (c Curve) Duration() float64 {
	if len(c.Time) == 0 {
		return math.NaN()
	}
	return c.Time[len(c.Time)-1] - c.Time[0]
}

// Curve returns a signal on a common time base. Between samples it is a straight
// line, because a smoother curve overshoots where a foot leaves the plate. Nothing
// is extrapolated, and a point next to an undefined sample is NaN. It returns
// [ErrBase] for a base that makes no sense and [ErrMark] when the swing lacks one
// of its events or has it out of order.
func (a *Analysis) Curve(s Signal, b Base) (Curve, error) {
	if s.Value == nil {
		return Curve{}, fmt.Errorf("%w: the signal %q has no value", ErrBase, s.Name)
	}
	if err := b.check(); err != nil {
		return Curve{}, err
	}
	marks, err := b.times(a)
	if err != nil {
		return Curve{}, err
	}
	n := b.Points
	if n == 0 {
		n = DefaultPoints
	}
	b.Points, b.Landmarks = n, slices.Clone(b.Landmarks)
	c := Curve{Signal: s, Base: b, Percent: make([]float64, n), Time: make([]float64, n), Value: make([]float64, n)}
	piece := 0
	for k := range n {
		p := 100 * float64(k) / float64(n-1)
		for piece+2 < len(b.Landmarks) && p >= b.Landmarks[piece+1].Percent {
			piece++
		}
		from, to := b.Landmarks[piece], b.Landmarks[piece+1]
		t := marks[piece] + (p-from.Percent)/(to.Percent-from.Percent)*(marks[piece+1]-marks[piece])
		if k == n-1 {
			t = marks[len(marks)-1] // free of rounding, which could lie outside
		}
		c.Percent[k], c.Time[k], c.Value[k] = p, t, s.Value(a, a.At(t))
	}
	c.Samples = int(math.Floor(c.Duration()*a.Recording.Rate)) + 1
	if c.Samples < n {
		c.Warnings = append(c.Warnings, grf.Warning{Code: "coarse-curve", Where: s.Name,
			Text: fmt.Sprintf("%d points were drawn through %d samples by straight lines", n, c.Samples)})
	}
	return c, nil
}

// Ensemble is the mean course of a signal over several swings.
type Ensemble struct {
	Signal  Signal
	Base    Base
	Percent []float64
	// Mean and SD of the N swings that are defined at each point. SD is that of
	// single swings about their mean (over N − 1), neither a standard error nor a
	// confidence band. Mean is NaN where no swing is defined, SD where there are
	// fewer than two.
	Mean, SD []float64
	N        []int
	// Durations are those of the curves, s, which the common base does not show.
	Durations []float64
}

// Average returns the point-wise mean and standard deviation of curves of one
// signal on one time base. The curves are taken alike: average the swings of each
// golfer first if golfers have different numbers of them. It returns [ErrTooFew]
// without curves and [ErrBase] for curves that do not belong together.
func Average(curves []Curve) (Ensemble, error) {
	if len(curves) == 0 {
		return Ensemble{}, fmt.Errorf("%w: no curves", ErrTooFew)
	}
	first := curves[0]
	n := len(first.Percent)
	e := Ensemble{
		Signal: first.Signal, Base: first.Base, Percent: slices.Clone(first.Percent),
		Mean: make([]float64, n), SD: make([]float64, n), N: make([]int, n),
	}
	for k, c := range curves {
		if c.Signal.Name != first.Signal.Name || c.Signal.Unit != first.Signal.Unit {
			return Ensemble{}, fmt.Errorf("%w: curve %d is %s in %s, curve 0 is %s in %s", ErrBase, k,
				c.Signal.Name, c.Signal.Unit, first.Signal.Name, first.Signal.Unit)
		}
		if len(c.Value) != n || !slices.Equal(c.Base.Landmarks, first.Base.Landmarks) {
			return Ensemble{}, fmt.Errorf("%w: curve %d has %d points on %q, curve 0 has %d on %q", ErrBase, k,
				len(c.Value), c.Base, n, first.Base)
		}
		e.Durations = append(e.Durations, c.Duration())
	}
	at := make([]float64, 0, len(curves))
	for p := range n {
		at = at[:0]
		for _, c := range curves {
			if !math.IsNaN(c.Value[p]) {
				at = append(at, c.Value[p])
			}
		}
		e.Mean[p], e.SD[p], e.N[p] = meanSD(at)
	}
	return e, nil
}

// meanSD returns the mean of x, NaN for none, its standard deviation, NaN for
// fewer than two, and their number.
func meanSD(x []float64) (mean, sd float64, n int) {
	switch len(x) {
	case 0:
		return math.NaN(), math.NaN(), 0
	case 1:
		return x[0], math.NaN(), 1
	}
	mean, sd = stat.MeanStdDev(x, nil)
	return mean, sd, len(x)
}
