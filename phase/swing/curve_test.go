package swing_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
)

// clock is a signal that shows the recording's own time.
var clock = swing.Signal{Name: "clock", Unit: "s", Value: func(_ *swing.Analysis, i swing.Instant) float64 { return i.Time }}

// lateral is a signal that is interpolated between samples.
var lateral = swing.Signal{Name: "lateral", Unit: "N", Value: func(_ *swing.Analysis, i swing.Instant) float64 { return i.Net.Force.Y }}

// ramp returns a swing at 100 Hz from 1 to 3 s whose lateral force grows by 10 N
// for each sample, with these events.
func ramp(events ...phase.Event) *swing.Analysis {
	const n = 201
	a := &swing.Analysis{Recording: &grf.Recording{Start: 1, Rate: 100, Net: make([]grf.Wrench, n)}, To: n - 1, BodyWeight: 750, Mass: 75}
	a.Series.Time = make([]float64, n)
	a.Series.Net = make([]grf.Wrench, n)
	for i := range n {
		a.Series.Time[i] = a.Recording.Time(i)
		a.Series.Net[i].Force = r3.Vec{Y: 10 * float64(i)}
	}
	a.Events.Found = events
	return a
}

func TestCurveIsStraightBetweenSamples(t *testing.T) {
	a := ramp(phase.Event{Name: phase.Onset, Time: 1.203}, phase.Event{Name: phase.Impact, Time: 2.4567})
	c, err := a.Curve(lateral, swing.Between(phase.Onset, phase.Impact))
	if err != nil {
		t.Fatal(err)
	}
	if len(c.Value) != 101 || c.Percent[0] != 0 || c.Percent[100] != 100 || c.Time[0] != 1.203 || c.Time[100] != 2.4567 {
		t.Fatalf("%d points, %g to %g %%, %g to %g s", len(c.Value), c.Percent[0], c.Percent[100], c.Time[0], c.Time[100])
	}
	for k, v := range c.Value {
		when := 1.203 + float64(k)/100*(2.4567-1.203)
		if want := 1000 * (when - 1); !close(v, want, 1e-8) || !close(c.Time[k], when, 1e-12) {
			t.Errorf("%d %%: %g N at %g s, want %g at %g", k, v, c.Time[k], want, when)
		}
	}
	if c.Samples != 126 || len(c.Warnings) != 0 {
		t.Errorf("%d samples, %v", c.Samples, c.Warnings)
	}
	fine, err := a.Curve(lateral, swing.Base{Landmarks: swing.Between(phase.Onset, phase.Impact).Landmarks, Points: 501})
	if err != nil || len(fine.Warnings) != 1 || fine.Warnings[0].Code != "coarse-curve" {
		t.Errorf("501 points: %v, %v", fine.Warnings, err)
	}
}

// A lost sample spoils the points next to it and no others; one on a sample is not
// spoilt by its neighbour.
func TestCurveKeepsGaps(t *testing.T) {
	a := ramp(phase.Event{Name: phase.Onset, Time: 1.5}, phase.Event{Name: phase.Impact, Time: 2.5})
	a.Series.Net[100] = grf.NaN() // at 2 s: exactly 50 %
	c, err := a.Curve(lateral, swing.Base{Landmarks: swing.Between(phase.Onset, phase.Impact).Landmarks, Points: 201})
	if err != nil {
		t.Fatal(err)
	}
	for k, v := range c.Value {
		if gap := k >= 99 && k <= 101; math.IsNaN(v) != gap {
			t.Errorf("point %d, %g s: %g", k, c.Time[k], v)
		}
	}
}

// Landmarks come to lie on their percentages, and the pieces between them are
// stretched by themselves.
func TestPiecewiseBase(t *testing.T) {
	slow := ramp(phase.Event{Name: phase.Onset, Time: 1.1}, phase.Event{Name: phase.Top, Time: 2.1}, phase.Event{Name: phase.Impact, Time: 2.5})
	fast := ramp(phase.Event{Name: phase.Onset, Time: 1.3}, phase.Event{Name: phase.Top, Time: 1.8}, phase.Event{Name: phase.Impact, Time: 2.1})
	b, err := swing.MeanBase([]*swing.Analysis{slow, fast}, phase.Onset, phase.Top, phase.Impact)
	if err != nil {
		t.Fatal(err)
	}
	top := (100/1.4 + 50/0.8) / 2 // mean of 71.4 and 62.5 %
	if !close(b.Landmarks[1].Percent, top, 1e-9) || b.Landmarks[0].Percent != 0 || b.Landmarks[2].Percent != 100 {
		t.Fatal(b.Landmarks)
	}
	if s := b.String(); s != "piecewise linear: onset 0 %, top 66.96 %, impact 100 %" {
		t.Error(s)
	}
	if s := swing.Between(phase.Onset, phase.Impact).String(); s != "0–100 % from onset to impact" {
		t.Error(s)
	}
	b.Landmarks[1].Percent = 75
	for _, a := range []*swing.Analysis{slow, fast} {
		c, err := a.Curve(clock, b)
		if err != nil {
			t.Fatal(err)
		}
		on, top, impact := a.Events.Time(phase.Onset), a.Events.Time(phase.Top), a.Events.Time(phase.Impact)
		for k, v := range c.Value {
			want := on + float64(k)/75*(top-on)
			if k > 75 {
				want = top + float64(k-75)/25*(impact-top)
			}
			if !close(v, want, 1e-12) {
				t.Fatalf("%d %%: %g s, want %g", k, v, want)
			}
		}
		if c.Value[0] != on || c.Value[75] != top || c.Value[100] != impact {
			t.Errorf("landmarks at %g, %g, %g s", c.Value[0], c.Value[75], c.Value[100])
		}
	}
	// The curve has its own copy of the landmarks.
	c, _ := slow.Curve(clock, b)
	b.Landmarks[1].Percent = 10
	if c.Base.Landmarks[1].Percent != 75 {
		t.Error("the base of a curve changed")
	}
}

// Where the clock starts does not matter.
func TestCurveOfShiftedClock(t *testing.T) {
	a := strong()[0]
	events := []phase.Name{phase.Onset, phase.Top, phase.Impact}
	b, err := swing.MeanBase([]*swing.Analysis{a}, events...)
	if err != nil {
		t.Fatal(err)
	}
	rec := *a.Recording
	rec.Start += 128
	rec.Marks = map[string]float64{}
	for name, at := range a.Recording.Marks {
		rec.Marks[name] = at + 128
	}
	later, err := swing.Analyse(&rec, swing.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range swing.Signals() {
		c, err1 := a.Curve(s, b)
		d, err2 := later.Curve(s, b)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		for k := range c.Value {
			if !close(c.Value[k], d.Value[k], 1e-6*(1+math.Abs(c.Value[k]))) {
				t.Errorf("%s at %g %%: %g and %g", s.Name, c.Percent[k], c.Value[k], d.Value[k])
				break
			}
			if math.IsNaN(c.Value[k]) && !strings.HasSuffix(s.Name, "_arm") { // of a small force, an arm is
				t.Errorf("%s at %g %% is undefined", s.Name, c.Percent[k])
				break
			}
		}
	}
}

// A curve passes the measures of its swing at the marks.
func TestCurveMeetsMeasures(t *testing.T) {
	a := strong()[0]
	b := swing.Base{Landmarks: []swing.Landmark{{phase.Onset, 0}, {phase.LowestVertical, 60}, {phase.Impact, 100}}}
	for signal, measure := range map[string]string{
		"vertical_bw": "lowest_vertical_bw", "lead_share": "lead_share_at_lowest_vertical", "com_shift": "com_shift_at_lowest_vertical",
	} {
		s, ok := swing.SignalNamed(signal)
		if !ok {
			t.Fatal(signal)
		}
		c, err := a.Curve(s, b)
		if err != nil {
			t.Fatal(err)
		}
		m, _ := a.Measure(measure)
		if m.Unit != s.Unit || !close(c.Value[60], m.Value, 1e-9) {
			t.Errorf("%s: %g %s, %s: %g %s", signal, c.Value[60], s.Unit, measure, m.Value, m.Unit)
		}
	}
	if _, ok := swing.SignalNamed("nothing"); ok {
		t.Error("a signal called nothing")
	}
}

func TestAverage(t *testing.T) {
	curve := func(values ...float64) swing.Curve {
		n := len(values)
		c := swing.Curve{Signal: clock, Base: swing.Between(phase.Onset, phase.Impact), Value: values, Percent: make([]float64, n), Time: make([]float64, n)}
		c.Time[n-1] = values[0]
		return c
	}
	nan := math.NaN()
	e, err := swing.Average([]swing.Curve{curve(1, 1, nan, nan), curve(2, 3, 5, nan), curve(6, nan, nan, nan)})
	if err != nil {
		t.Fatal(err)
	}
	// 1, 2, 6: mean 3, deviations 2, 1, 3: SD √(14/2).
	want := struct{ mean, sd []float64 }{[]float64{3, 2, 5, nan}, []float64{math.Sqrt(7), math.Sqrt2, nan, nan}}
	for p, n := range []int{3, 2, 1, 0} {
		if e.N[p] != n || !close(e.Mean[p], want.mean[p], 1e-12) || !close(e.SD[p], want.sd[p], 1e-12) {
			t.Errorf("point %d: %g ± %g of %d", p, e.Mean[p], e.SD[p], e.N[p])
		}
	}
	if e.Durations[0] != 1 || e.Durations[2] != 6 {
		t.Error(e.Durations)
	}
	other := curve(1, 2, 3, 4)
	other.Base = swing.Between(phase.Onset, phase.Top)
	named := curve(1, 2, 3, 4)
	named.Signal.Name = "another"
	for name, c := range map[string]struct {
		curves []swing.Curve
		want   error
	}{
		"none":             {nil, swing.ErrTooFew},
		"different points": {[]swing.Curve{curve(1, 2), curve(1, 2, 3)}, swing.ErrBase},
		"different base":   {[]swing.Curve{curve(1, 2, 3, 4), other}, swing.ErrBase},
		"different signal": {[]swing.Curve{curve(1, 2, 3, 4), named}, swing.ErrBase},
	} {
		if _, err := swing.Average(c.curves); !errors.Is(err, c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := swing.Average([]swing.Curve{{}}); err != nil {
		t.Errorf("a curve without points: %v", err)
	}
}

// Registration makes the scatter about a landmark smaller than an even base does.
func TestRegistrationSharpensTheMean(t *testing.T) {
	swings := strong()
	s, _ := swing.SignalNamed("frontal_torque_kg")
	around := func(b swing.Base) float64 {
		var curves []swing.Curve
		for _, a := range swings {
			c, err := a.Curve(s, b)
			if err != nil {
				t.Fatal(err)
			}
			curves = append(curves, c)
		}
		e, err := swing.Average(curves)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, sd := range e.SD {
			sum += sd
		}
		return sum
	}
	pieces, err := swing.MeanBase(swings, phase.Onset, phase.TrailLoadPeak, phase.LowestVertical, phase.FrontalTorquePeak, phase.Impact)
	if err != nil {
		t.Fatal(err)
	}
	even, registered := around(swing.Between(phase.Onset, phase.Impact)), around(pieces)
	if !(registered < even) {
		t.Errorf("scatter %g registered, %g even", registered, even)
	}
}

func TestCurveRefuses(t *testing.T) {
	a := ramp(phase.Event{Name: phase.Onset, Time: 1.5}, phase.Event{Name: phase.Impact, Time: 2.5}, phase.Event{Name: phase.Top, Time: 1.5})
	a.Events.Missing = []phase.Missing{{Name: phase.Finish, Reason: "the recording ends"}}
	base := func(points int, ls ...swing.Landmark) swing.Base { return swing.Base{Landmarks: ls, Points: points} }
	on, impact := swing.Landmark{Event: phase.Onset}, swing.Landmark{Event: phase.Impact, Percent: 100}
	for name, c := range map[string]struct {
		base swing.Base
		want error
		says string
	}{
		"nothing":           {swing.Base{}, swing.ErrBase, "first and a last"},
		"one landmark":      {base(0, on), swing.ErrBase, "first and a last"},
		"not to 100":        {base(0, on, swing.Landmark{Event: phase.Impact, Percent: 90}), swing.ErrBase, "0 to 90"},
		"backward percent":  {base(0, on, swing.Landmark{Event: phase.Top, Percent: 120}, impact), swing.ErrBase, "does not come after"},
		"undefined percent": {base(0, on, swing.Landmark{Event: phase.Top, Percent: math.NaN()}, impact), swing.ErrBase, "does not come after"},
		"one point":         {base(1, on, impact), swing.ErrBase, "1 points"},
		"negative points":   {base(-5, on, impact), swing.ErrBase, "-5 points"},
		"too many points":   {base(1e9, on, impact), swing.ErrBase, "points"},
		"missing event":     {swing.Between(phase.Onset, phase.Finish), swing.ErrMark, "the recording ends"},
		"ungiven event":     {swing.Between(phase.Onset, phase.ShaftParallelBack), swing.ErrMark, "nobody gave it"},
		"out of order":      {swing.Between(phase.Impact, phase.Onset), swing.ErrMark, "does not come after"},
		"at the same time":  {swing.Between(phase.Onset, phase.Top), swing.ErrMark, "does not come after"},
	} {
		if _, err := a.Curve(lateral, c.base); !errors.Is(err, c.want) || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := a.Curve(swing.Signal{Name: "empty"}, swing.Between(phase.Onset, phase.Impact)); !errors.Is(err, swing.ErrBase) {
		t.Errorf("a signal without a value: %v", err)
	}
	if _, err := swing.MeanBase(nil, phase.Onset, phase.Impact); !errors.Is(err, swing.ErrTooFew) {
		t.Error(err)
	}
	if _, err := swing.MeanBase([]*swing.Analysis{nil}, phase.Onset, phase.Impact); !errors.Is(err, swing.ErrTooFew) {
		t.Error(err)
	}
	if _, err := swing.MeanBase([]*swing.Analysis{a}, phase.Onset); !errors.Is(err, swing.ErrBase) {
		t.Error(err)
	}
	if _, err := swing.MeanBase([]*swing.Analysis{a}, phase.Onset, phase.Finish); !errors.Is(err, swing.ErrMark) {
		t.Error(err)
	}
}
