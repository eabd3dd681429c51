package swing_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"example.com/momentarm/phase/swing"
)

// Additional hours of sleep of ten people with two drugs (Student, Biometrika
// 6:1–25, 1908).
var (
	sleep1 = []float64{0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0}
	sleep2 = []float64{1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4}
)

// Against what R prints for its data set sleep (documentation of t.test), and
// SciPy 1.10 for the same.
func TestAgainstStudentsSleep(t *testing.T) {
	before, after := made(t, sleep1), made(t, sleep2)
	for _, c := range []struct {
		pairing         swing.Pairing
		t, dof, p       float64
		low, high       float64
		pairs           int
		test            string
		tolT, tolP, tol float64 // half a unit of the last printed digit
	}{
		{swing.Unpaired, 1.8608, 17.776, 0.07939, -0.2054832, 3.3654832, 0, "Welch's t-test", 5e-5, 5e-6, 5e-8},
		{swing.InOrder, 4.0621, 9, 0.002833, 0.7001142, 2.4598858, 10, "paired t-test", 5e-5, 5e-7, 5e-8},
	} {
		r, err := swing.Compare(before, after, swing.ChangeOptions{Pairing: c.pairing})
		if err != nil {
			t.Fatal(err)
		}
		x := r.Changes[0]
		if !close(x.Difference, 1.58, 1e-12) || !close(x.T, c.t, c.tolT) || !close(x.DOF, c.dof, 5e-4) || !close(x.P, c.p, c.tolP) ||
			!close(x.CI.Low, c.low, c.tol) || !close(x.CI.High, c.high, c.tol) || x.N != c.pairs || x.Test != c.test {
			t.Errorf("%+v", x)
		}
		if x.PHolm != x.P || r.Tested != 1 {
			t.Errorf("one measure: p %g, %g after allowing for %d", x.P, x.PHolm, r.Tested)
		}
	}
}

// Holm's steps by hand: sorted, times how many are left, never falling.
func TestAllowingForManyMeasures(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	shift := []float64{0, 3, 1.1, 0.9, 8}
	a, b := make([][]float64, 5), make([][]float64, 5)
	for k := range a {
		for range 8 {
			a[k] = append(a[k], rng.NormFloat64())
			b[k] = append(b[k], rng.NormFloat64()+shift[k])
		}
	}
	// A measure that can not be tested does not count.
	a = append(a, make([]float64, 8))
	b = append(b, make([]float64, 8))
	r, err := swing.Compare(made(t, a...), made(t, b...), swing.ChangeOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if r.Tested != 5 {
		t.Fatalf("%d tested", r.Tested)
	}
	for i, x := range r.Changes[:5] {
		want := 0.0
		for _, y := range r.Changes[:5] {
			if y.P > x.P {
				continue
			}
			left := 0
			for _, z := range r.Changes[:5] {
				if z.P >= y.P {
					left++
				}
			}
			want = math.Max(want, math.Min(1, float64(left)*y.P))
		}
		if !close(x.PHolm, want, 1e-15) {
			t.Errorf("measure %d: p %g becomes %g, want %g", i, x.P, x.PHolm, want)
		}
		if x.Answer == swing.Changed && !strings.Contains(x.Sentence, "allowing for the 5 measures") {
			t.Error(x.Sentence)
		}
	}
	if last := r.Changes[5]; last.Answer != swing.NotDecidable || !math.IsNaN(last.PHolm) {
		t.Errorf("%+v", last)
	}
}

// Without any change, a change is claimed in at most 5 of 100 comparisons, for one
// measure and for any of eight; a large one is found.
func TestHowOftenChangesAreClaimed(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	draw := func(measures int, shift float64) *swing.Session {
		columns := make([][]float64, measures)
		for k := range columns {
			for range 8 {
				columns[k] = append(columns[k], 100+shift+5*rng.NormFloat64())
			}
		}
		return made(t, columns...)
	}
	const runs = 1000
	for _, c := range []struct {
		measures int
		pairing  swing.Pairing
		shift    float64
		lo, hi   float64
	}{
		// 5 % and three standard errors of a proportion of 1000; the smallest
		// detectable change makes it rarer.
		{1, swing.Unpaired, 0, 0.005, 0.071},
		{1, swing.InOrder, 0, 0.005, 0.071},
		{8, swing.Unpaired, 0, 0.005, 0.071},
		// 3 standard deviations: hard to miss.
		{1, swing.Unpaired, 15, 0.95, 1},
		{8, swing.InOrder, 15, 0.95, 1},
	} {
		claims := 0
		for range runs {
			r, err := swing.Compare(draw(c.measures, 0), draw(c.measures, c.shift), swing.ChangeOptions{Pairing: c.pairing})
			if err != nil {
				t.Fatal(err)
			}
			for _, x := range r.Changes {
				if x.Answer == swing.Changed {
					claims++
					break
				}
			}
		}
		if rate := float64(claims) / runs; rate < c.lo || rate > c.hi {
			t.Errorf("%d measures, shift %g, pairing %d: changes claimed in %.3f of the comparisons", c.measures, c.shift, c.pairing, rate)
		}
	}
}

// The smallest detectable change by hand, and what a known error between days adds
// to it.
func TestDetectable(t *testing.T) {
	before, after := made(t, sleep1), made(t, sleep2[:6])
	e1, e2 := before.Spreads[0].TypicalError, after.Spreads[0].TypicalError
	for _, day := range []float64{0, 0.7} {
		r, err := swing.Compare(before, after, swing.ChangeOptions{BetweenDays: map[string]float64{"m0": day}})
		if err != nil {
			t.Fatal(err)
		}
		want := 1.959963984540054 * math.Sqrt(e1*e1/10+e2*e2/6+2*day*day)
		if got := r.Changes[0].Detectable; !close(got, want, 1e-12) {
			t.Errorf("day %g: %g, want %g", day, got, want)
		}
		if len(r.Warnings) != 0 {
			t.Error(r.Warnings)
		}
	}
	r, err := swing.Compare(before, after, swing.ChangeOptions{})
	if err != nil || len(r.Warnings) != 1 || r.Warnings[0].Code != "between-days-unknown" {
		t.Error(r.Warnings, err)
	}
	// A change that the test shows may still be less than what a new day makes.
	a, b := made(t, []float64{10, 11, 10, 11, 10, 11}), made(t, []float64{14, 15, 14, 15, 14, 15})
	r, err = swing.Compare(a, b, swing.ChangeOptions{BetweenDays: map[string]float64{"m0": 3}})
	if err != nil {
		t.Fatal(err)
	}
	if x := r.Changes[0]; x.P > 0.001 || x.Answer != swing.NotShown || !strings.Contains(x.Sentence, "The test alone would say so") {
		t.Errorf("%+v", x)
	}
}

// Two sessions of one golfer, who is a tenth weaker in the second: what goes with
// the strength has changed, the timing has not.
func TestPlantedChange(t *testing.T) {
	before, after := session(t, strong()), session(t, weak())
	r, err := swing.Compare(before, after, swing.ChangeOptions{Measures: []string{
		"vertical_torque_peak_kg", "frontal_torque_peak_kg", "lateral_peak_bw", "downswing_time", "tempo"}})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []swing.Answer{swing.Changed, swing.Changed, swing.Changed, swing.NotShown, swing.NotShown} {
		x := r.Changes[i]
		t.Log(x.Sentence)
		if x.Answer != want {
			t.Errorf("%s: %s, want %s", x.Name, x.Answer, want)
		}
		if !strings.Contains(x.Sentence, string(want)) || strings.Contains(x.Sentence, "NaN") {
			t.Errorf("%s", x.Sentence)
		}
	}
	// The vertical-axis torque is proportional to the strength.
	if x := r.Changes[0]; !(x.CI.Low/x.Before.Mean < -0.1 && x.CI.High/x.Before.Mean > -0.1) {
		t.Errorf("%s: interval %v of a mean of %g does not hold the planted tenth", x.Name, x.CI, x.Before.Mean)
	}
	// The same session again is no change.
	r, err = swing.Compare(before, before, swing.ChangeOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range r.Changes {
		if x.Answer == swing.Changed || x.Difference != 0 && !math.IsNaN(x.Difference) {
			t.Errorf("%s", x.Sentence)
		}
	}
}

func TestNotDecidable(t *testing.T) {
	nan := math.NaN()
	few := []float64{1, 2, 3, nan, nan}
	enough := []float64{1, 2, 3, 4, 3}
	same := []float64{2, 2, 2, 2, 2}
	other := []float64{5, 5, 5, 5, 5}
	gaps := []float64{nan, 2, 3, 4, 5}
	for name, c := range map[string]struct {
		before, after []float64
		pairing       swing.Pairing
		want          swing.Answer
		says          string
	}{
		"too few before":     {few, enough, swing.Unpaired, swing.NotDecidable, "too few values (n = 3 and 5)"},
		"too few after":      {enough, few, swing.Unpaired, swing.NotDecidable, "too few values"},
		"too few pairs":      {[]float64{1, nan, 3, 4, 5}, []float64{nan, 2, 3, 4, 6}, swing.InOrder, swing.NotDecidable, "n = 3 pairs"},
		"undefined":          {[]float64{nan, nan, nan, nan, nan}, enough, swing.Unpaired, swing.NotDecidable, "n = 0 and 5"},
		"no scatter":         {same, other, swing.Unpaired, swing.NotDecidable, "do not scatter"},
		"no scatter, paired": {same, other, swing.InOrder, swing.NotDecidable, "do not scatter"},
		"gaps":               {gaps, enough, swing.Unpaired, swing.NotShown, "n = 4 and 5"},
	} {
		r, err := swing.Compare(made(t, c.before), made(t, c.after), swing.ChangeOptions{Pairing: c.pairing})
		if err != nil {
			t.Fatal(err)
		}
		if x := r.Changes[0]; x.Answer != c.want || !strings.Contains(x.Sentence, c.says) {
			t.Errorf("%s: %s", name, x.Sentence)
		}
	}
	// A measure of one session only.
	r, err := swing.Compare(made(t, enough), made(t, enough, enough), swing.ChangeOptions{})
	if err != nil || len(r.Changes) != 2 || r.Changes[1].Answer != swing.NotDecidable {
		t.Errorf("%+v, %v", r, err)
	}
}

func TestCompareRefuses(t *testing.T) {
	five, four := made(t, []float64{1, 2, 3, 4, 5}), made(t, []float64{1, 2, 3, 4})
	cm := made(t, []float64{1, 2, 3, 4})
	cm.Spreads[0].Unit = "cm"
	for name, c := range map[string]struct {
		a, b *swing.Session
		opt  swing.ChangeOptions
		want error
		says string
	}{
		"no session":      {nil, five, swing.ChangeOptions{}, swing.ErrTooFew, "missing"},
		"confidence":      {five, four, swing.ChangeOptions{Confidence: 95}, swing.ErrOptions, "between 0 and 1"},
		"pairing":         {five, four, swing.ChangeOptions{Pairing: 7}, swing.ErrOptions, "pairing 7"},
		"unequal pairs":   {five, four, swing.ChangeOptions{Pairing: swing.InOrder}, swing.ErrOptions, "5 and 4"},
		"unknown measure": {five, four, swing.ChangeOptions{Measures: []string{"m9"}}, swing.ErrOptions, `did you mean "m0"?`},
		"asked twice":     {five, four, swing.ChangeOptions{Measures: []string{"m0", "m0"}}, swing.ErrOptions, "twice"},
		"negative error":  {five, four, swing.ChangeOptions{BetweenDays: map[string]float64{"m0": -1}}, swing.ErrOptions, "between days"},
		"units":           {five, cm, swing.ChangeOptions{}, swing.ErrUnlike, "cm"},
	} {
		if r, err := swing.Compare(c.a, c.b, c.opt); !errors.Is(err, c.want) || r != nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
