package screen

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/internal/near"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/units"
)

// ErrInput means that there is no analysis to look at, or a coverage factor that
// makes no sense.
var ErrInput = errors.New("screen: unusable input")

// DefaultCoverage is the number of standard deviations on either side of a value
// within which the truth is taken to lie (JCGM 100:2008, 6.3.3: about 95 %).
const DefaultCoverage = 2

// Options say what an analysis is held against. The zero value means the
// defaults.
type Options struct {
	// Bands are the sets to use; nil means [Starter] and [Published].
	Bands []*Bands
	// Coverage is the number k of standard deviations on either side of a value
	// that count as its uncertainty; 0 means [DefaultCoverage].
	Coverage float64
	// Warnings are those that the analysis does not know of, such as those of reading
	// the capture. They count like its own: see [Report.HeldBack] and [Report.Doubts].
	Warnings []grf.Warning
}

// Verdict says where a value with its uncertainty lies.
type Verdict int

const (
	// Within means that all of it lies within the band.
	Within Verdict = iota
	// Undecided means that it lies across an edge of the band.
	Undecided
	// Outside means that all of it lies outside.
	Outside
)

// String returns "within", "not decidable" or "outside".
func (v Verdict) String() string {
	switch v {
	case Within:
		return "within"
	case Undecided:
		return "not decidable"
	case Outside:
		return "outside"
	}
	return fmt.Sprintf("Verdict(%d)", int(v))
}

// MarshalText returns the text of String.
func (v Verdict) MarshalText() ([]byte, error) {
	if v < Within || v > Outside {
		return nil, fmt.Errorf("screen: %v is no verdict", v)
	}
	return []byte(v.String()), nil
}

// Finding is a measure held against a band.
type Finding struct {
	Band    Band
	Set     string        // name of the set that the band is from
	Measure swing.Measure // as in the analysis
	Verdict Verdict

	// Value and SD of the measure in the unit of the band; SD is NaN when unknown.
	Value, SD float64
	// Distance from the value to the nearest edge, in the unit of the band:
	// negative below the band, positive above it, 0 within it.
	Distance float64
	// DistanceSD is Distance in standard deviations; NaN when SD is unknown.
	DistanceSD float64
	// Steps is |Distance| in steps of the band: how serious the finding is.
	Steps float64

	// Beside are the measures that the band asks to be shown along with it, as far
	// as the analysis has them.
	Beside []swing.Measure

	// Doubts are the warnings that the finding must be doubted for; the sentence
	// begins with them.
	Doubts []grf.Warning

	// Sentence says it in plain words, with the reason in mechanics.
	Sentence string
	// Cautions go with the sentence.
	Cautions []string
}

// Unmeasured is a band without a value to hold against it.
type Unmeasured struct {
	Band   Band
	Set    string
	Reason string
}

// Report is what holding an analysis against bands comes to.
type Report struct {
	// Findings lie outside of their bands, most serious first: by Steps, then in
	// the order of the bands.
	Findings []Finding
	// Undecided lie across the edge of a band and Within inside of one, in the
	// order of the bands.
	Undecided, Within []Finding
	// Unmeasured are the bands that had nothing to be held against.
	Unmeasured []Unmeasured

	// Warnings are the findings of sets that only warn.
	Warnings []grf.Warning

	// HeldBack are the warnings that say that feet, target, hand or units are
	// probably not what was stated ("feet-swapped", "feet-backward",
	// "target-doubtful", "hand-doubtful", "unit-doubtful", "place-implausible"), one of
	// each code. With any of them there are no findings: all bands are Unmeasured.
	HeldBack []grf.Warning
	// Doubts are the warnings that say that the forces do not obey mechanics
	// ("horizontal-at-rest", "impulse", "mass-mismatch", "cop-outside-stance",
	// "newton-bias", "newton-mass", "saturated"), one of each code. Every finding
	// then says that it is in doubt.
	Doubts []grf.Warning

	untrue map[string]bool // measures of force or torque in Warnings
	// Cautions go with the whole report.
	Cautions []string
}

// Swing holds the measures of a against bands. It returns [ErrInput] without an
// analysis or with a coverage factor that is not positive, and [ErrBands] when a
// set is unusable. The analysis is not changed.
func Swing(a *swing.Analysis, opt Options) (*Report, error) {
	k := opt.Coverage
	if k == 0 {
		k = DefaultCoverage
	}
	switch {
	case a == nil:
		return nil, fmt.Errorf("%w: no analysis", ErrInput)
	case !(k > 0) || math.IsInf(k, 0):
		return nil, fmt.Errorf("%w: a coverage factor of %g; it must be positive", ErrInput, k)
	}
	sets := opt.Bands
	if sets == nil {
		sets = []*Bands{Starter(), Published()}
	}
	r := &Report{untrue: map[string]bool{}}
	r.gather(a, opt.Warnings)
	for i, set := range sets {
		if set == nil {
			return nil, fmt.Errorf("%w: set %d of %d is nil", ErrBands, i+1, len(sets))
		}
		if err := set.Check(); err != nil {
			return nil, fmt.Errorf("set %q: %w", clip(set.Name), err)
		}
		for _, b := range set.Bands {
			r.hold(a, set, b, k)
		}
	}
	slices.SortStableFunc(r.Findings, func(x, y Finding) int {
		switch {
		case x.Steps > y.Steps:
			return -1
		case x.Steps < y.Steps:
			return 1
		}
		return 0
	})
	r.doubt()
	r.Cautions = cautions(a)
	if len(r.HeldBack) > 0 {
		r.Cautions = append(r.Cautions, "There are no findings, because the analysis is in doubt: "+because(r.HeldBack)+". Mend that first.")
	}
	return r, nil
}

// hold adds what one band comes to.
func (r *Report) hold(a *swing.Analysis, set *Bands, b Band, k float64) {
	f := Finding{Band: b, Set: set.Name}
	if reason := f.look(a); reason != "" {
		if !set.WarnOnly {
			r.Unmeasured = append(r.Unmeasured, Unmeasured{b, set.Name, reason})
		}
		return
	}
	f.judge(k)
	if set.WarnOnly {
		if f.Verdict == Outside {
			r.Warnings = append(r.Warnings, grf.Warning{Code: implausible, Where: b.Measure, Text: f.warning()})
			if forces(b.Unit) {
				r.untrue[b.Measure] = true
			}
		}
		return
	}
	for _, name := range b.Beside {
		if m, ok := a.Measure(name); ok {
			f.Beside = append(f.Beside, m)
		}
	}
	f.Sentence = f.sentence(k, a.Events.Time(phase.Impact))
	f.Cautions = f.cautions()
	switch f.Verdict {
	case Outside:
		r.Findings = append(r.Findings, f)
	case Undecided:
		r.Undecided = append(r.Undecided, f)
	default:
		r.Within = append(r.Within, f)
	}
}

// look takes the measure of the band over, in the band's unit, or says why there
// is none.
func (f *Finding) look(a *swing.Analysis) (reason string) {
	m, ok := a.Measure(f.Band.Measure)
	if !ok {
		return missing(a, f.Band.Measure)
	}
	factor, ok := factor(m.Unit, f.Band.Unit)
	if !ok {
		return fmt.Sprintf("the band is in %s, the measure in %s", clip(f.Band.Unit), m.Unit)
	}
	if math.IsNaN(m.Value) || math.IsInf(m.Value, 0) {
		if m.Note == "" {
			return "the measure is not defined here"
		}
		return m.Note
	}
	f.Measure, f.Value, f.SD = m, m.Value*factor, m.SD*factor
	if !(f.SD >= 0) || math.IsInf(f.SD, 0) {
		f.SD = math.NaN()
	}
	return ""
}

// missing says why the analysis has no measure of this name.
func missing(a *swing.Analysis, name string) string {
	names := make([]string, len(a.Measures))
	for i, m := range a.Measures {
		names[i] = m.Name
	}
	text := fmt.Sprintf("the analysis has no measure %q", clip(name))
	if k := near.Name(name, names); k != "" {
		return fmt.Sprintf("%s; did you mean %q?", text, k)
	}
	return text + "; some need the feet apart, their outlines, body points or marks of the club"
}

// factor returns what a number in one unit has to be multiplied by to be in
// another, and whether that can be done.
func factor(from, to string) (float64, bool) {
	if from == to {
		return 1, true
	}
	u, ok1 := units.LookUp(from)
	v, ok2 := units.LookUp(to)
	if !ok1 || !ok2 || u.Quantity != v.Quantity {
		return 0, false
	}
	return u.SI / v.SI, true
}

// judge works out the verdict and how far outside the value is.
func (f *Finding) judge(k float64) {
	low, high := f.Band.low(), f.Band.high()
	margin := 0.0
	if !math.IsNaN(f.SD) {
		margin = k * f.SD
	}
	switch {
	case f.Value+margin < low || f.Value-margin > high:
		f.Verdict = Outside
	case f.Value-margin >= low && f.Value+margin <= high:
		f.Verdict = Within
	default:
		f.Verdict = Undecided
	}
	switch {
	case f.Value < low:
		f.Distance = f.Value - low
	case f.Value > high:
		f.Distance = f.Value - high
	}
	f.Steps = math.Abs(f.Distance) / f.Band.step()
	f.DistanceSD = math.NaN()
	if f.SD > 0 {
		f.DistanceSD = f.Distance / f.SD
	}
}

// cautions go with every report.
func cautions(a *swing.Analysis) []string {
	list := []string{
		"This is mechanics of one recorded swing, held against bands that somebody chose. It is not medical or training advice.",
		"One swing is not a golfer: swings of the same golfer differ.",
	}
	if e, ok := a.Events.Get(phase.Impact); ok && e.Source == phase.Estimated {
		list = append(list, "Impact was not given but estimated from the forces: what refers to it is no surer than that.")
	}
	return list
}
