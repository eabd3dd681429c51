package swing

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/momentarm/phase/internal/say"
	"example.com/momentarm/validation/agreement"
)

// RelateOptions say how measures are held against a speed. The zero value means
// the defaults.
type RelateOptions struct {
	// Measures are the names of the measures that one asks about; nil means all.
	// See [ChangeOptions].
	Measures []string
	// Confidence of the intervals, and 1 less the probability of claiming any
	// relation when there is none at all; 0 means 0.95.
	Confidence float64
}

// Relation is how a measure goes along with the speed over the swings of a
// session.
type Relation struct {
	Name, Label, Unit string

	N int // swings in which both are known
	// R is Pearson's coefficient of correlation, NaN without scatter or for fewer
	// than three swings.
	R float64
	// CI is its interval by Fisher's z: tanh(artanh r ± z/√(N−3)) (R.A. Fisher,
	// Metron 1:3–32, 1921), NaN for fewer than four swings. It takes both to
	// scatter normally.
	CI agreement.Interval
	// P is the two-sided probability of so large an R without any relation, by
	// the t distribution with N − 2 degrees of freedom; PHolm allows for the number
	// of measures asked about.
	P, PHolm float64

	// Fastest and Slowest are the values in the fastest and in the slowest swing.
	Fastest, Slowest float64

	Answer   Answer
	Sentence string
}

// Relations is what goes along with the speed.
type Relations struct {
	Relations []Relation // in the order asked for, or of the measures
	Tested    int        // measures that could be tested
	// N is the number of swings with a speed; Fastest and Slowest are the swings
	// with the highest and lowest, −1 when no speed is known.
	N, Fastest, Slowest int
	Confidence          float64
}

// leastForRelation is the number of swings from which Fisher's z has an interval.
const leastForRelation = 4

// fewForRelation is the number of swings under which the sentence warns that a
// correlation is loose (common practice, no published source).
const fewForRelation = 10

// Relate holds the measures against a speed, such as that of the club head or the
// ball: one for each swing, in any unit, NaN where it is not known. It returns
// [ErrOptions] when the numbers of speeds and swings differ, for a speed that is
// infinite or negative, and for options that make no sense.
//
// Two things that go along need not cause each other. Over the swings of one
// golfer on one day most things vary little, so that little can be shown.
func (s *Session) Relate(speeds []float64, opt RelateOptions) (*Relations, error) {
	conf, err := checkConfidence(opt.Confidence)
	if err != nil {
		return nil, err
	}
	names, err := askedFor(opt.Measures, s)
	if err != nil {
		return nil, err
	}
	if len(speeds) != len(s.Swings) {
		return nil, fmt.Errorf("%w: %d speeds for %d swings; NaN stands for one that is not known", ErrOptions, len(speeds), len(s.Swings))
	}
	r := &Relations{Confidence: conf, Fastest: -1, Slowest: -1}
	for i, v := range speeds {
		switch {
		case math.IsNaN(v):
			continue
		case v < 0 || math.IsInf(v, 0):
			return nil, fmt.Errorf("%w: a speed of %g in swing %d", ErrOptions, v, i)
		}
		r.N++
		if r.Fastest < 0 || v > speeds[r.Fastest] {
			r.Fastest = i
		}
		if r.Slowest < 0 || v < speeds[r.Slowest] {
			r.Slowest = i
		}
	}
	ps := make([]float64, len(names))
	for i, name := range names {
		p, _ := s.Spread(name)
		x := correlate(p, speeds, conf)
		if r.N > 0 {
			x.Fastest, x.Slowest = p.Values[r.Fastest], p.Values[r.Slowest]
		}
		r.Relations = append(r.Relations, x)
		ps[i] = x.P
	}
	adjusted, tested := holm(ps)
	r.Tested = tested
	for i := range r.Relations {
		r.Relations[i].PHolm = adjusted[i]
		r.Relations[i].answer(tested, conf)
	}
	return r, nil
}

// correlate works out the coefficient, its interval and its test.
func correlate(p Spread, speeds []float64, conf float64) Relation {
	nan := math.NaN()
	x := Relation{Name: p.Name, Label: p.Label, Unit: p.Unit, R: nan, P: nan, PHolm: nan, Fastest: nan, Slowest: nan,
		CI: agreement.Interval{Low: nan, High: nan}}
	var a, b []float64
	for i, v := range p.Values {
		if !math.IsNaN(v) && !math.IsNaN(speeds[i]) {
			a, b = append(a, v), append(b, speeds[i])
		}
	}
	x.N = len(a)
	if x.N < 3 || constant(a) || constant(b) {
		return x
	}
	x.R = math.Max(-1, math.Min(1, stat.Correlation(a, b, nil)))
	if x.N < leastForRelation {
		return x
	}
	n := float64(x.N)
	half := distuv.UnitNormal.Quantile((1+conf)/2) / math.Sqrt(n-3)
	z := math.Atanh(x.R)
	x.CI = agreement.Interval{Low: math.Tanh(z - half), High: math.Tanh(z + half)}
	t := math.Abs(x.R) * math.Sqrt((n-2)/(1-x.R*x.R))
	x.P = 2 * distuv.StudentsT{Sigma: 1, Nu: n - 2}.Survival(t)
	return x
}

// constant reports whether all values are equal.
func constant(x []float64) bool {
	for _, v := range x {
		if v != x[0] {
			return false
		}
	}
	return true
}

// answer decides and says so.
func (x *Relation) answer(tested int, conf float64) {
	title := titled(x.Label, x.Name)
	switch {
	case x.N < leastForRelation:
		x.Answer = NotDecidable
		x.Sentence = fmt.Sprintf("%s: not decidable; %d swings with both value and speed are too few, it takes %d.", title, x.N, leastForRelation)
		return
	case math.IsNaN(x.P):
		x.Answer = NotDecidable
		x.Sentence = fmt.Sprintf("%s: not decidable; the value or the speed is the same in all %d swings.", title, x.N)
		return
	}
	facts := fmt.Sprintf("r = %s (%.3g %% interval %s to %s, n = %d; %s", say.Bare(x.R, "1"), 100*conf, say.Bare(x.CI.Low, "1"), say.Bare(x.CI.High, "1"), x.N, say.P(x.PHolm))
	if tested > 1 {
		facts += fmt.Sprintf(" after allowing for the %d measures asked about", tested)
	}
	facts += ")"
	if x.N < fewForRelation {
		facts += fmt.Sprintf("; %d swings are few", x.N)
	}
	if x.PHolm < 1-conf {
		x.Answer = Related
		along := "higher"
		if x.R < 0 {
			along = "lower"
		}
		x.Sentence = fmt.Sprintf("%s: %s in faster swings; %s. That does not say which of the two makes the other.", title, along, facts)
		return
	}
	x.Answer = NotShown
	x.Sentence = fmt.Sprintf("%s: not shown to go along with the speed; %s.", title, facts)
}
