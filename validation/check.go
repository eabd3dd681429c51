package validation

import (
	"errors"
	"fmt"
	"math"
)

// Implementation is anything that can be put to the test: this library, a port
// of it, or the recorded answers of a device. It is one method, so that a
// wrapper around firmware output or around a program in another language is a
// few lines; see [Answers] for answers that lie in a file.
type Implementation interface {
	// Answer computes the outputs of an operation that [Operations] describes.
	// Outputs that the implementation does not have are left out. An operation
	// that it does not have is an error that wraps [ErrUnsupported]. The
	// inputs belong to the caller.
	Answer(operation string, inputs Values) (Values, error)
}

var (
	// ErrUnsupported is an implementation's answer to an operation that it
	// does not have.
	ErrUnsupported = errors.New("validation: operation not supported")
	// ErrNothingCompared means a run in which no value was compared: a suite
	// that checked nothing has not passed.
	ErrNothingCompared = errors.New("validation: nothing was compared")
	// ErrMissed means values outside their tolerance, or wrong answers of
	// another kind.
	ErrMissed = errors.New("validation: values missed")
)

// Status of one comparison.
type Status string

// The statuses.
const (
	Passed      Status = "passed"
	Missed      Status = "missed"      // outside the tolerance, undefined, of the wrong shape or an error
	Unsupported Status = "unsupported" // the implementation does not have it
)

// Result is one comparison.
type Result struct {
	Case       *Case   `json:"-"`
	ID         string  `json:"id"`
	Output     string  `json:"output"`
	Status     Status  `json:"status"`
	Expected   Value   `json:"expected"`
	Got        Value   `json:"got"`
	Difference float64 `json:"difference"` // largest |got − expected|; −1 when there is none
	Tolerance  float64 `json:"tolerance"`  // at that number
	Message    string  `json:"message,omitempty"`
}

// Report is the outcome of a run.
type Report struct {
	Results []Result `json:"results"`
	// Skipped says what was left out and how it can be had, such as data sets
	// that are not on this machine.
	Skipped []string `json:"skipped,omitempty"`
}

// Check puts all of [Cases] to an implementation and returns every comparison.
// [Report.Err] tells whether it passed.
func Check(impl Implementation) *Report { return CheckCases(impl, Cases()) }

// CheckCases is [Check] with the caller's choice of cases, such as those of
// [DatasetCases].
func CheckCases(impl Implementation, cases []Case) *Report {
	r := &Report{}
	for i := range cases {
		r.Results = append(r.Results, checkCase(impl, &cases[i])...)
	}
	return r
}

func checkCase(impl Implementation, c *Case) []Result {
	outputs, err := answer(impl, c)
	results := make([]Result, len(c.Wants))
	for i, w := range c.Wants {
		res := Result{Case: c, ID: c.ID, Output: w.name(), Expected: w.Value, Difference: -1}
		got, has := outputs[w.Output]
		switch {
		case errors.Is(err, ErrUnsupported) || (err == nil && !has):
			res.Status = Unsupported
			res.Got = Value{Unit: w.Value.Unit, Numbers: []float64{math.NaN()}, Reason: "not supported"}
		case err != nil:
			res.Status, res.Message = Missed, err.Error()
			res.Got = Value{Unit: w.Value.Unit, Numbers: []float64{math.NaN()}, Reason: err.Error()}
		default:
			w.compare(got, &res)
		}
		results[i] = res
	}
	return results
}

// answer turns a panic of somebody else's implementation into an error, so
// that one bad answer does not lose the others.
func answer(impl Implementation, c *Case) (out Values, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("the implementation panicked: %v", p)
		}
	}()
	in := make(Values, len(c.Inputs))
	for k, v := range c.Inputs {
		v.Numbers = append([]float64(nil), v.Numbers...)
		in[k] = v
	}
	return impl.Answer(c.Operation, in)
}

// name returns the output as "moment[2]".
func (w Want) name() string {
	s := w.Output
	for _, i := range w.Index {
		s += fmt.Sprintf("[%d]", i)
	}
	return s
}

func (w Want) compare(got Value, res *Result) {
	miss := func(format string, args ...any) {
		res.Status, res.Message = Missed, fmt.Sprintf(format, args...)
	}
	res.Status = Passed
	picked, ok := got.pick(w.Index)
	if !ok {
		miss("the answer has shape %v, number %v of it is wanted", got.Shape, w.Index)
		picked = Value{Unit: got.Unit, Numbers: []float64{math.NaN()}}
	}
	for i, x := range picked.Numbers {
		if math.IsInf(x, 0) {
			picked.Numbers[i] = math.NaN()
			miss("the answer is infinite")
		}
	}
	if picked.Reason == "" {
		picked.Reason = "undefined"
	}
	res.Got = picked
	switch {
	case res.Status == Missed:
		return
	case got.Unit != w.Value.Unit:
		miss("the answer is in %q, wanted in %q", got.Unit, w.Value.Unit)
		return
	case len(picked.Numbers) != len(w.Value.Numbers):
		miss("the answer holds %d numbers, wanted %d", len(picked.Numbers), len(w.Value.Numbers))
		return
	}
	worst := math.Inf(-1)
	for i, want := range w.Value.Numbers {
		x := picked.Numbers[i]
		if math.IsNaN(want) || math.IsNaN(x) {
			if math.IsNaN(want) != math.IsNaN(x) {
				miss("number %d is %g, wanted %g", i, x, want)
			}
			continue
		}
		d := math.Abs(x - want)
		tol := w.Abs + w.Rel*math.Abs(want)
		if d > tol && res.Status == Passed {
			miss("number %d is off by %.3g, allowed are %.3g", i, d, tol)
		}
		if d-tol > worst {
			worst = d - tol
			res.Difference, res.Tolerance = d, tol
		}
	}
}

// pick returns the number at index, or all of v for no index.
func (v Value) pick(index []int) (Value, bool) {
	if len(index) == 0 {
		v.Numbers = append([]float64(nil), v.Numbers...)
		return v, true
	}
	if len(index) != len(v.Shape) {
		return Value{}, false
	}
	at := 0
	for d, i := range index {
		if i < 0 || i >= v.Shape[d] {
			return Value{}, false
		}
		at = at*v.Shape[d] + i
	}
	if at >= len(v.Numbers) {
		return Value{}, false
	}
	return Value{Unit: v.Unit, Numbers: []float64{v.Numbers[at]}, Reason: v.Reason}, true
}

// Err returns nil when values were compared and none missed. Otherwise it wraps
// [ErrNothingCompared] or [ErrMissed], with the missed cases by name. What an
// implementation does not support is no miss.
func (r *Report) Err() error {
	var compared int
	var errs []error
	for _, res := range r.Results {
		switch res.Status {
		case Passed:
			compared++
		case Missed:
			compared++
			errs = append(errs, fmt.Errorf("%s: %s: %s", res.ID, res.Output, res.Message))
		}
	}
	if compared == 0 {
		return ErrNothingCompared
	}
	if len(errs) > 0 {
		return fmt.Errorf("%w: %d of %d\n%w", ErrMissed, len(errs), compared, errors.Join(errs...))
	}
	return nil
}

// Count is how many cases of a level there are by their outcome. A case has
// missed when one of its values has, and is unsupported when none was
// compared.
type Count struct {
	Level       Level `json:"level"`
	Passed      int   `json:"passed"`
	Missed      int   `json:"missed"`
	Unsupported int   `json:"unsupported"`
}

// Counts returns the counts of cases by level, for levels that occur, in their
// order.
func (r *Report) Counts() []Count {
	status := map[*Case]Status{}
	for _, res := range r.Results {
		old, seen := status[res.Case]
		if !seen || res.Status == Missed || (old == Unsupported && res.Status == Passed) {
			if old != Missed {
				status[res.Case] = res.Status
			}
		}
	}
	byLevel := map[Level]*Count{}
	for c, s := range status {
		n := byLevel[c.Level]
		if n == nil {
			n = &Count{Level: c.Level}
			byLevel[c.Level] = n
		}
		switch s {
		case Passed:
			n.Passed++
		case Missed:
			n.Missed++
		default:
			n.Unsupported++
		}
	}
	var counts []Count
	for _, l := range levels {
		if n := byLevel[l]; n != nil {
			counts = append(counts, *n)
		}
	}
	return counts
}
