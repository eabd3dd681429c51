package swing

import (
	"fmt"
	"math"
	"reflect"
	"strings"

	"example.com/momentarm/grf"
	"example.com/momentarm/validation/agreement"
)

// Session is several swings of one golfer under one set of conditions, and how
// much each measure varies between them.
type Session struct {
	Swings   []*Analysis
	Spreads  []Spread // in the order of the measures
	Warnings []grf.Warning
}

// Spread is how one measure varies from swing to swing.
type Spread struct {
	Name, Label, Unit string

	// Values holds one value for each swing, NaN where it is undefined; N counts
	// those that are defined.
	Values []float64
	N      int

	// Mean and SD of the defined values; SD is over N − 1 and NaN for fewer than
	// two.
	Mean, SD float64

	// CV is SD / Mean, as a fraction. It is NaN where a fraction of the mean means
	// nothing: for a measure whose zero is a matter of convention (a place, a
	// shift, a tilt, a time between two events that may swap) and when not all
	// values are above zero.
	CV float64

	// TypicalError is the standard deviation of one swing about what the golfer
	// does at that time of the session, from the differences of successive swings
	// (see [agreement.TypicalError]; Hopkins 2000), so that a steady drift over the
	// session, such as warming up, is not in it: √((n − 1)/n) of the SD of the
	// n − 1 differences over √2, because differences that share a swing make that
	// too large. NaN for fewer than four values.
	TypicalError float64

	// Detectable is the minimal detectable change between two single swings at
	// 95 %: 1.96·√2·TypicalError (see [agreement.DetectableChange]; Weir 2005).
	Detectable float64
}

// leastForError is the number of values from which a typical error is told: three
// differences.
const leastForError = 4

// NewSession brings swings together. It returns [ErrTooFew] for fewer than two and
// [ErrUnlike] when a measure has different units in them. A measure that not every
// swing has counts as undefined where it is missing. Swings that were analysed in
// different ways, or whose body weights differ by more than 2 %, come with a
// warning.
func NewSession(swings []*Analysis) (*Session, error) {
	if len(swings) < 2 {
		return nil, fmt.Errorf("%w: %d, a session needs two", ErrTooFew, len(swings))
	}
	for i, a := range swings {
		if a == nil {
			return nil, fmt.Errorf("%w: swing %d is missing", ErrTooFew, i)
		}
	}
	s := &Session{Swings: swings}
	index := map[string]int{}
	for i, a := range swings {
		for _, m := range a.Measures {
			k, ok := index[m.Name]
			if !ok {
				k = len(s.Spreads)
				index[m.Name] = k
				s.Spreads = append(s.Spreads, Spread{Name: m.Name, Label: m.Label, Unit: m.Unit, Values: nans(len(swings))})
			}
			if s.Spreads[k].Unit != m.Unit {
				return nil, fmt.Errorf("%w: %s is in %s in swing %d and in %s before", ErrUnlike, m.Name, m.Unit, i, s.Spreads[k].Unit)
			}
			if !math.IsInf(m.Value, 0) {
				s.Spreads[k].Values[i] = m.Value
			}
		}
	}
	for k := range s.Spreads {
		s.Spreads[k].work()
	}
	s.Warnings = unlike(swings)
	return s, nil
}

func nans(n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = math.NaN()
	}
	return x
}

// Spread returns the spread of the measure of this name and whether there is one.
func (s *Session) Spread(name string) (Spread, bool) {
	for _, p := range s.Spreads {
		if p.Name == name {
			return p, true
		}
	}
	return Spread{}, false
}

// defined returns the defined values in their order.
func (p *Spread) defined() []float64 {
	x := make([]float64, 0, len(p.Values))
	for _, v := range p.Values {
		if !math.IsNaN(v) {
			x = append(x, v)
		}
	}
	return x
}

// work fills in what follows from the values.
func (p *Spread) work() {
	x := p.defined()
	p.Mean, p.SD, p.N = meanSD(x)
	p.CV, p.TypicalError, p.Detectable = math.NaN(), math.NaN(), math.NaN()
	if ratioScale(p.Name, p.Unit) && allPositive(x) {
		p.CV = p.SD / p.Mean
	}
	if len(x) < leastForError {
		return
	}
	e, err := agreement.TypicalError(x[:len(x)-1], x[1:], 0)
	if err != nil {
		return // the values are finite and long enough
	}
	// Neighbouring differences share a swing, so their mean is surer than that of
	// as many separate pairs, and taking it out takes less away: without the
	// factor the expected square would be n/(n−1) times too large.
	n := float64(len(x))
	p.TypicalError = e.Error * math.Sqrt((n-1)/n)
	if p.Detectable, err = agreement.DetectableChange(p.TypicalError, 0); err != nil {
		p.Detectable = math.NaN()
	}
}

func allPositive(x []float64) bool {
	for _, v := range x {
		if !(v > 0) {
			return false
		}
	}
	return true
}

// ratioScale reports whether the zero of a measure is none of anything, so that a
// coefficient of variation means something.
func ratioScale(name, unit string) bool {
	switch unit {
	case "N", "%BW", "N/s", "%BW/s", "N·m", "N·m/kg", "N·s", "N·m·s", "1":
		return true
	case "s":
		return strings.HasSuffix(name, "_time")
	case "m":
		return strings.Contains(name, "arm")
	case "%":
		return strings.HasPrefix(name, "lead_share")
	}
	return false
}

// sameWeight is how far body weights may differ between swings that are brought
// together, as a part of the smallest.
const sameWeight = 0.02

// unlike warns of swings that differ in more than the swing.
func unlike(swings []*Analysis) []grf.Warning {
	var list []grf.Warning
	least, most := math.Inf(1), math.Inf(-1)
	differ := -1
	for i, a := range swings {
		least, most = math.Min(least, a.BodyWeight), math.Max(most, a.BodyWeight)
		if differ < 0 && !reflect.DeepEqual(a.Settings, swings[0].Settings) {
			differ = i
		}
	}
	if differ >= 0 {
		list = append(list, grf.Warning{Code: "settings-differ", Where: fmt.Sprintf("swing %d", differ),
			Text: "it was analysed in another way than the first one (filter, thresholds, swing plane or source of the centre of mass): part of the difference between them is that"})
	}
	if most-least > sameWeight*least {
		list = append(list, grf.Warning{Code: "body-weight-differs", Where: "swings",
			Text: fmt.Sprintf("body weights from %.0f to %.0f N: other clothes or clubs, a drifted zero, or another golfer", least, most)})
	}
	return list
}
