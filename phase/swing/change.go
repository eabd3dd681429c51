package swing

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase/internal/near"
	"example.com/momentarm/phase/internal/say"
	"example.com/momentarm/validation/agreement"
)

// Answer is the answer to a question that noise may hide.
type Answer string

const (
	// Changed means a change that stands out from the scatter.
	Changed Answer = "changed"
	// Related means a correlation that stands out from chance.
	Related Answer = "related"
	// NotShown means that the swings do not show it. It does not mean that there
	// is nothing: the interval says how much there may be.
	NotShown Answer = "not shown"
	// NotDecidable means that there are too few swings, or no scatter, to tell.
	NotDecidable Answer = "not decidable"
)

// Pairing says which swings of two sessions belong together.
type Pairing int

const (
	// Unpaired means none: the sessions are compared by Welch's t-test, which
	// allows for different scatter (B.L. Welch, Biometrika 34:28–35, 1947).
	Unpaired Pairing = iota
	// InOrder means that swing i of one session belongs to swing i of the other,
	// because something else was the same for both, such as the club or the
	// slope: they are compared by the paired t-test (Student, Biometrika 6:1–25,
	// 1908). Swings that merely have the same number are not pairs.
	InOrder
)

// ChangeOptions say how two sessions are compared. The zero value means the
// defaults.
type ChangeOptions struct {
	// Measures are the names of the measures that one asks about; nil means all
	// that either session has. The more one asks, the more likely it is that one
	// of them seems to change by chance, and the more is asked of each: choose
	// before looking.
	Measures []string
	Pairing  Pairing
	// Confidence of the intervals, and 1 less the probability of claiming any
	// change when there is none at all; 0 means 0.95.
	Confidence float64
	// BetweenDays is the typical error between sessions by name of measure, in its
	// unit, if somebody has tested it (see [agreement.TypicalError]): feet placed
	// anew, other shoes, plates zeroed anew. Without it the scatter between swings
	// is all that is known, which makes the smallest detectable change too small.
	BetweenDays map[string]float64
}

// Change is how one measure differs between two sessions.
type Change struct {
	Name, Label, Unit string
	Before, After     Spread

	Difference float64            // of the means: after − before
	CI         agreement.Interval // of Difference, for this measure by itself

	Test   string  // what T belongs to
	N      int     // pairs; 0 when unpaired
	T, DOF float64 // t statistic and degrees of freedom
	P      float64 // two-sided
	// PHolm is P after allowing for the number of measures asked about (S. Holm,
	// Scand. J. Statist. 6:65–70, 1979).
	PHolm float64

	// Detectable is the smallest difference of the two means that stands out from
	// the typical errors: z·√(e₁²/n₁ + e₂²/n₂ + 2·d²) with the typical errors e of
	// single swings and d between days, z = 1.96 at 95 %.
	Detectable float64

	Answer   Answer
	Sentence string
}

// Comparison is what differs between two sessions.
type Comparison struct {
	Changes    []Change // in the order asked for, or of the measures
	Tested     int      // measures that could be tested
	Confidence float64
	Warnings   []grf.Warning
}

// Compare answers whether a golfer has really changed from one session to
// another. A measure has changed when both hold: the test of the means says so
// after allowing for the number of measures, and the difference is larger than
// the smallest detectable one. It is not decidable with fewer than four values in
// a session or without any scatter, and not shown otherwise.
//
// It returns [ErrTooFew] without a session, [ErrUnlike] when a measure has different
// units in them, and [ErrOptions] for options that make no sense, a name of a
// measure that neither session has among them.
func Compare(before, after *Session, opt ChangeOptions) (*Comparison, error) {
	if before == nil || after == nil {
		return nil, fmt.Errorf("%w: a session is missing", ErrTooFew)
	}
	conf, err := opt.confidence()
	if err != nil {
		return nil, err
	}
	names, err := askedFor(opt.Measures, before, after)
	if err != nil {
		return nil, err
	}
	for name, d := range opt.BetweenDays {
		if !(d >= 0) || math.IsInf(d, 0) {
			return nil, fmt.Errorf("%w: a typical error of %g between days for %q", ErrOptions, d, name)
		}
	}
	if opt.Pairing == InOrder && len(before.Swings) != len(after.Swings) {
		return nil, fmt.Errorf("%w: pairs of %d and %d swings", ErrOptions, len(before.Swings), len(after.Swings))
	}
	c := &Comparison{Confidence: conf, Changes: make([]Change, len(names))}
	ps := nans(len(names))
	for i, name := range names {
		x := &c.Changes[i]
		x.take(name, before, after)
		if x.Before.Unit != x.After.Unit {
			return nil, fmt.Errorf("%w: %s is in %s in one session and in %s in the other", ErrUnlike, name, x.Before.Unit, x.After.Unit)
		}
		x.test(opt.Pairing, conf)
		x.detect(opt.BetweenDays[name], conf)
		ps[i] = x.P
	}
	adjusted, tested := holm(ps)
	c.Tested = tested
	for i := range c.Changes {
		c.Changes[i].PHolm = adjusted[i]
		c.Changes[i].answer(tested, conf)
	}
	c.Warnings = unlike(slices.Concat(before.Swings, after.Swings))
	if unknown := c.withoutDays(opt.BetweenDays); unknown > 0 {
		c.Warnings = append(c.Warnings, grf.Warning{Code: "between-days-unknown", Where: "measures",
			Text: fmt.Sprintf("for %d of %d measures the typical error between sessions is not known: what changes when feet are placed and plates zeroed anew counts as a change of the swing", unknown, tested)})
	}
	return c, nil
}

// withoutDays counts the tested measures without an error between days.
func (c *Comparison) withoutDays(days map[string]float64) int {
	n := 0
	for _, x := range c.Changes {
		if _, ok := days[x.Name]; !ok && !math.IsNaN(x.P) {
			n++
		}
	}
	return n
}

func (o ChangeOptions) confidence() (float64, error) {
	if o.Pairing != Unpaired && o.Pairing != InOrder {
		return 0, fmt.Errorf("%w: pairing %d", ErrOptions, int(o.Pairing))
	}
	return checkConfidence(o.Confidence)
}

func checkConfidence(c float64) (float64, error) {
	if c == 0 {
		return agreement.DefaultConfidence, nil
	}
	if !(c > 0 && c < 1) {
		return 0, fmt.Errorf("%w: a confidence of %g; it lies between 0 and 1", ErrOptions, c)
	}
	return c, nil
}

// askedFor returns the names of the measures to look at.
func askedFor(names []string, sessions ...*Session) ([]string, error) {
	var all []string
	for _, s := range sessions {
		for _, p := range s.Spreads {
			if !slices.Contains(all, p.Name) {
				all = append(all, p.Name)
			}
		}
	}
	if names == nil {
		return all, nil
	}
	for i, name := range names {
		if slices.Contains(names[:i], name) {
			return nil, fmt.Errorf("%w: measure %q is asked about twice", ErrOptions, name)
		}
		if !slices.Contains(all, name) {
			hint := ""
			if k := near.Name(name, all); k != "" {
				hint = fmt.Sprintf("; did you mean %q?", k)
			}
			return nil, fmt.Errorf("%w: no swing has a measure %q%s", ErrOptions, name, hint)
		}
	}
	return names, nil
}

// take copies the spreads of a measure; a session without it has no values.
func (x *Change) take(name string, before, after *Session) {
	b, ok1 := before.Spread(name)
	a, ok2 := after.Spread(name)
	empty := func(like Spread, n int) Spread {
		p := Spread{Name: name, Label: like.Label, Unit: like.Unit, Values: nans(n)}
		p.work()
		return p
	}
	if !ok1 {
		b = empty(a, len(before.Swings))
	}
	if !ok2 {
		a = empty(b, len(after.Swings))
	}
	x.Name, x.Label, x.Unit, x.Before, x.After = name, a.Label, a.Unit, b, a
}

// test works out the difference of the means, its interval and the test of it;
// all NaN when that can not be done.
func (x *Change) test(pairing Pairing, conf float64) {
	nan := math.NaN()
	x.Difference, x.CI, x.T, x.DOF, x.P = nan, agreement.Interval{Low: nan, High: nan}, nan, nan, nan
	var before, after []float64
	var t agreement.TTest
	var err error
	switch pairing {
	case Unpaired:
		x.Test = "Welch's t-test"
		before, after = x.Before.defined(), x.After.defined()
		t, err = agreement.Unpaired(before, after, conf)
	case InOrder:
		x.Test = "paired t-test"
		for i, b := range x.Before.Values {
			if a := x.After.Values[i]; !math.IsNaN(a - b) {
				before, after = append(before, b), append(after, a)
			}
		}
		x.N = len(before)
		t, err = agreement.Paired(before, after, conf)
	}
	if len(before) > 0 && len(after) > 0 {
		x.Difference = stat.Mean(after, nil) - stat.Mean(before, nil)
	}
	if err == nil { // else too few values, or none that scatter
		x.Difference, x.CI, x.T, x.DOF, x.P = t.Difference, t.CI, t.T, t.DOF, t.P
	}
}

// detect works out the smallest detectable difference of the means, NaN when a
// typical error is not known.
func (x *Change) detect(day, conf float64) {
	e1 := x.Before.TypicalError * x.Before.TypicalError / float64(x.Before.N)
	e2 := x.After.TypicalError * x.After.TypicalError / float64(x.After.N)
	x.Detectable = math.NaN()
	// DetectableChange takes the standard error of one of two equal measurements.
	if d, err := agreement.DetectableChange(math.Sqrt((e1+e2)/2+day*day), conf); err == nil {
		x.Detectable = d
	}
}

// holm returns p-values of t-tests after allowing for how many of them there are, and
// that number; NaN ones were no tests.
func holm(ps []float64) (adjusted []float64, tests int) {
	adjusted, err := agreement.Holm(ps)
	if err != nil { // no t-test gives such a p
		return nans(len(ps)), 0
	}
	for _, p := range ps {
		if !math.IsNaN(p) {
			tests++
		}
	}
	return adjusted, tests
}

// answer decides and says so.
func (x *Change) answer(tested int, conf float64) {
	unit := x.Unit
	title := titled(x.Label, x.Name)
	pairs := fmt.Sprintf("n = %d and %d", x.Before.N, x.After.N)
	enough := x.Before.N >= leastForError && x.After.N >= leastForError
	if x.Test == "paired t-test" {
		pairs = fmt.Sprintf("n = %d pairs", x.N)
		enough = enough && x.N >= leastForError
	}
	switch {
	case !enough:
		x.Answer = NotDecidable
		x.Sentence = fmt.Sprintf("%s: not decidable; too few values (%s), it takes %d on each side.", title, pairs, leastForError)
		return
	case math.IsNaN(x.P) || math.IsNaN(x.Detectable):
		x.Answer = NotDecidable
		x.Sentence = fmt.Sprintf("%s: not decidable; the values do not scatter (%s), so that nothing says how large a chance difference would be.", title, pairs)
		return
	}
	test := fmt.Sprintf("%s, %s", x.Test, say.P(x.PHolm))
	if tested > 1 {
		test += fmt.Sprintf(" after allowing for the %d measures asked about", tested)
	}
	facts := fmt.Sprintf("mean %s → %s, difference %s (%.3g %% interval %s to %s; %s, %s)",
		say.Number(x.Before.Mean, unit), say.Number(x.After.Mean, unit), signed(x.Difference, unit),
		100*conf, signedBare(x.CI.Low, unit), signed(x.CI.High, unit), pairs, test)
	least := say.Number(x.Detectable, unit)
	significant, large := x.PHolm < 1-conf, math.Abs(x.Difference) > x.Detectable
	switch {
	case significant && large:
		x.Answer = Changed
		x.Sentence = fmt.Sprintf("%s: changed; %s. That is more than the scatter between swings explains, which hides up to %s.", title, facts, least)
	case significant:
		x.Answer = NotShown
		x.Sentence = fmt.Sprintf("%s: not shown; %s. The test alone would say so, but changes of up to %s can not be told from the scatter.", title, facts, least)
	default:
		x.Answer = NotShown
		most := math.Max(math.Abs(x.CI.Low), math.Abs(x.CI.High))
		x.Sentence = fmt.Sprintf("%s: not shown; %s. That may be chance; so may be that a change of up to %s stays hidden.", title, facts, say.Number(most, unit))
	}
}
