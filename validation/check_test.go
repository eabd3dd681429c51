package validation

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func one(w ...Want) []Case {
	return []Case{caseOf("t/one", "q", "load_share", ClosedForm, firstPrinciples, "g",
		Values{"lead": List("N", 0, 0, 100), "trail": List("N", 0, 0, 100)}, w...)}
}

func TestNothingComparedFails(t *testing.T) {
	nothing := answerFunc(func(string, Values) (Values, error) { return nil, ErrUnsupported })
	for name, r := range map[string]*Report{
		"nothing supported": Check(nothing),
		"no cases":          CheckCases(Library(), []Case{}),
		"no outputs":        Check(answerFunc(func(string, Values) (Values, error) { return Values{}, nil })),
		"no answers":        Answers{}.Check(nil),
		"empty":             {},
	} {
		if err := r.Err(); !errors.Is(err, ErrNothingCompared) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestCompare(t *testing.T) {
	half := exact("share", Number("1", 0.5))
	undefined := half
	undefined.Value = Undefined("1", "no load")
	answers := func(v Value, err error) Implementation {
		return answerFunc(func(string, Values) (Values, error) { return Values{"share": v}, err })
	}
	for _, c := range []struct {
		name string
		want Want
		impl Implementation
		pass bool
	}{
		{"right", half, answers(Number("1", 0.5), nil), true},
		{"wrong", half, answers(Number("1", 0.6), nil), false},
		{"just inside", half.within(0.1, "r"), answers(Number("1", 0.59), nil), true},
		{"relative", half.relative(0.1, "r"), answers(Number("1", 0.54), nil), true},
		{"relative outside", half.relative(0.1, "r"), answers(Number("1", 0.56), nil), false},
		{"NaN for a number", half, answers(Number("1", math.NaN()), nil), false},
		{"number for NaN", undefined, answers(Number("1", 0.5), nil), false},
		{"NaN for NaN", undefined, answers(Number("1", math.NaN()), nil), true},
		{"infinity for NaN", undefined, answers(Number("1", math.Inf(1)), nil), false},
		{"other unit", half, answers(Number("%", 0.5), nil), false},
		{"a list", half, answers(List("1", 0.5, 0.5), nil), false},
		{"nothing", half, answers(Value{Unit: "1"}, nil), false},
		{"an error", half, answers(Value{}, errors.New("broken")), false},
		{"a panic", half, answerFunc(func(string, Values) (Values, error) { panic("broken") }), false},
		{"index outside", Want{Output: "share", Index: []int{3}, Value: Number("1", 0.5), Abs: 1, Reason: "r"}, answers(List("1", 0.5), nil), false},
		{"index of a number", Want{Output: "share", Index: []int{0}, Value: Number("1", 0.5), Abs: 1, Reason: "r"}, answers(Number("1", 0.5), nil), false},
	} {
		r := CheckCases(c.impl, one(c.want))
		if got := r.Err() == nil; got != c.pass {
			t.Errorf("%s: passed %v, want %v (%+v)", c.name, got, c.pass, r.Results)
		}
		if err := r.Err(); err != nil && !errors.Is(err, ErrMissed) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// A case misses when one of its values misses, whatever the others do.
func TestCounts(t *testing.T) {
	good := exact("share", Number("1", 0.5))
	bad := exact("share", Number("1", 0.7))
	absent := good
	absent.Output = "other"
	for _, c := range []struct {
		wants []Want
		want  Count
	}{
		{[]Want{good, bad}, Count{ClosedForm, 0, 1, 0}},
		{[]Want{bad, good}, Count{ClosedForm, 0, 1, 0}},
		{[]Want{good, absent}, Count{ClosedForm, 1, 0, 0}},
		{[]Want{absent, good}, Count{ClosedForm, 1, 0, 0}},
		{[]Want{absent, bad}, Count{ClosedForm, 0, 1, 0}},
		{[]Want{absent}, Count{ClosedForm, 0, 0, 1}},
	} {
		if got := CheckCases(Library(), one(c.wants...)).Counts(); len(got) != 1 || got[0] != c.want {
			t.Errorf("%v, want %v", got, c.want)
		}
	}
}

// An implementation that scribbles over its inputs does not spoil the cases.
func TestInputsAreCopies(t *testing.T) {
	scribbler := answerFunc(func(operation string, in Values) (Values, error) {
		out, err := Library().Answer(operation, in)
		for _, v := range in {
			for i := range v.Numbers {
				v.Numbers[i] = math.NaN()
			}
		}
		return out, err
	})
	cases := Cases()
	if err := CheckCases(scribbler, cases).Err(); err != nil {
		t.Error(err)
	}
	if err := CheckCases(Library(), cases).Err(); err != nil {
		t.Errorf("second run: %v", err)
	}
}

func TestPrinted(t *testing.T) {
	for _, c := range []struct {
		digits     string
		value, tol float64
	}{
		{"3.21", 3.21, 0.005}, {"230", 230, 0.5}, {"-4.9e7", -4.9e7, 5e5}, {"9.75e-2", 0.0975, 5e-5}, {".17", 0.17, 0.005}, {"0", 0, 0.5},
	} {
		w := si("a.z", c.digits, "N")
		if w.Output != "a" || len(w.Index) != 1 || w.Index[0] != 2 {
			t.Errorf("%s: output %s %v", c.digits, w.Output, w.Index)
		}
		if got := w.Value.Float(); got != c.value || math.Abs(w.Abs/c.tol-1) > 1e-6 {
			t.Errorf("%s: %g within %g, want %g within %g", c.digits, got, w.Abs, c.value, c.tol)
		}
	}
}

func TestSummary(t *testing.T) {
	r := Check(Library())
	var b strings.Builder
	if err := r.WriteTable(&b); err != nil {
		t.Fatal(err)
	}
	if !strings.HasSuffix(b.String(), "\n"+r.Summary()+"\n") || !strings.Contains(r.Summary(), " 0 missed") {
		t.Errorf("last line is not the summary: %s", r.Summary())
	}
	for _, c := range Cases() {
		if !strings.Contains(b.String(), c.Source.Title) || (c.Source.Place != "" && !strings.Contains(b.String(), c.Source.Place)) {
			t.Errorf("%s: the table does not say where it comes from", c.ID)
		}
	}
}
