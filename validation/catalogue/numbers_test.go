package catalogue

import (
	"errors"

	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/capture"
	"example.com/momentarm/grf/filter"
	"example.com/momentarm/grf/table"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/live"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/torque"
	"example.com/momentarm/validation/agreement"
	"example.com/momentarm/validation/synth"
)

// Rows 121 to 148: arrays, filters, time, loads and plates together.

var nan, inf = math.NaN(), math.Inf(1)

// swingOf is a made-up swing at 200 Hz, worked out; its recording must not be changed.
var swingOf = sync.OnceValues(func() (*swing.Analysis, error) {
	s, err := synth.New(synth.Config{Rate: 200})
	if err != nil {
		return nil, err
	}
	return swing.Analyse(s.Recording(), swing.Options{})
})

func analysed(t *testing.T) *swing.Analysis {
	t.Helper()
	a, err := swingOf()
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// recorded is a copy of the swing's recording.
func recorded(t *testing.T) *grf.Recording {
	r := *analysed(t).Recording
	r.Lead, r.Trail = slices.Clone(r.Lead), slices.Clone(r.Trail)
	return &r
}

func plate(t *testing.T) *grf.Plate {
	t.Helper()
	p, err := grf.NewPlate(grf.PlateConfig{Type: grf.TypeMoment, Corners: [4]r3.Vec{{X: 0.4, Y: 0.6}, {X: 0.4}, {}, {Y: 0.6}}, Origin: r3.Vec{Z: -0.04}})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func lowPass(t *testing.T, opt filter.ZeroPhaseOptions) *filter.ZeroPhase {
	t.Helper()
	if opt.Cutoff == 0 {
		opt.Cutoff, opt.Rate = 20, 200
	}
	z, err := filter.NewZeroPhase(opt)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

func wave(n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = 700 + 50*math.Sin(float64(i)/9)
	}
	return x
}

// filtered is the error of filtering x, beside which there must be no result.
func filtered(x []float64, opt filter.ZeroPhaseOptions) func(t *testing.T) error {
	return func(t *testing.T) error {
		y, err := lowPass(t, opt).Apply(nil, x)
		if err != nil && y != nil {
			t.Errorf("a result beside %v", err)
		}
		return err
	}
}

func spoilt(n, at int, v float64) []float64 {
	x := wave(n)
	x[at] = v
	return x
}

func design(opt filter.ZeroPhaseOptions) func(*testing.T) error {
	return func(*testing.T) error { _, err := filter.NewZeroPhase(opt); return err }
}

func only(err error) func(*testing.T) error { return func(*testing.T) error { return err } }

func errOf[T any](_ T, err error) error { return err }

var numberRows = []row{
	{121, "nothing to measure", fails(grf.ErrNoData), both(grf.ErrNoData,
		only(errOf(cop.MeasurePath(nil, 100, cop.PathOptions{}))),
		filtered(nil, filter.ZeroPhaseOptions{}),
		only(errOf(torque.Integral(nil, 0, 100, 0, 1))),
		only(errOf(grf.FindQuiet(&grf.Recording{Rate: 100, Net: []grf.Wrench{}}, grf.QuietOptions{}))),
		only(errOf(swing.Analyse(&grf.Recording{Rate: 100}, swing.Options{}))),
		only(errOf(com.FromForces(nil, 0, 100, com.ForceOptions{}))),
		only(errOf(filter.Stamps(nil))),
	), ""},
	{122, "channels of different lengths", fails(grf.ErrLength), both(grf.ErrLength,
		func(t *testing.T) error {
			ch := [][]float64{wave(5), wave(5), wave(4), wave(5), wave(5), wave(5)}
			_, err := plate(t).Wrenches(nil, ch)
			var e *grf.LengthError
			if !errors.As(err, &e) || e.Want != 5 || e.Got != 4 || !strings.Contains(e.What, "channel 3") {
				t.Errorf("%v does not say which", err)
			}
			return err
		},
		only(errOf(torque.AboutSeries(nil, make([]grf.Wrench, 3), make([]r3.Vec, 2)))),
		only(errOf(cop.ShareSeries(nil, make([]grf.Wrench, 3), make([]grf.Wrench, 2), 20))),
	), ""},
	{123, "a destination that is too short", defined(), func(t *testing.T) ([]grf.Warning, error) {
		y, err := lowPass(t, filter.ZeroPhaseOptions{}).Apply(make([]float64, 3), wave(200))
		if len(y) != 200 {
			t.Errorf("%d samples", len(y))
		}
		return nil, err
	}, "it is grown and returned, as append does, instead of refused: that is the rule of the whole library"},
	{124, "a destination that overlaps the source in part", fails(filter.ErrOverlap), func(t *testing.T) ([]grf.Warning, error) {
		x := wave(300)
		z := lowPass(t, filter.ZeroPhaseOptions{})
		want, err := z.Apply(nil, x)
		if err != nil {
			return nil, err
		}
		if got, err := z.Apply(x[:0:300], slices.Clone(x)); err != nil || !slices.Equal(got, want) {
			t.Errorf("in the memory of another: %v", err)
		}
		copy(x, wave(300))
		if got, err := z.Apply(x, x); err != nil || !slices.Equal(got, want) {
			t.Errorf("in place: %v", err)
		}
		_, err = z.Apply(x[10:], x[:250])
		return nil, err
	}, ""},
	{125, "NaN to be filtered", fails(filter.ErrNotFinite), func(t *testing.T) ([]grf.Warning, error) {
		x := spoilt(300, 120, nan)
		for _, policy := range []filter.NaNPolicy{filter.NaNSegments, filter.NaNInterpolate} {
			y, err := lowPass(t, filter.ZeroPhaseOptions{NaN: policy}).Apply(nil, x)
			if err != nil || !math.IsNaN(y[120]) || math.IsNaN(y[119]) || math.IsNaN(y[121]) {
				t.Errorf("%v: %v, %g", policy, err, y[118:123])
			}
		}
		err := filtered(x, filter.ZeroPhaseOptions{})(t)
		var e *filter.NotFiniteError
		if !errors.As(err, &e) || e.Index != 120 {
			t.Errorf("%v does not say where", err)
		}
		return nil, err
	}, ""},
	{126, "nothing but NaN", fails(grf.ErrNoData), both(grf.ErrNoData,
		filtered([]float64{nan, nan, nan}, filter.ZeroPhaseOptions{NaN: filter.NaNSegments}),
		filtered([]float64{nan, nan, nan}, filter.ZeroPhaseOptions{NaN: filter.NaNInterpolate}),
		only(errOf(com.FromForces([]grf.Wrench{grf.NaN(), grf.NaN(), grf.NaN()}, 0, 100, com.ForceOptions{}))),
	), "a swing of lost samples alone is swing.ErrNobody"},
	{127, "an infinite sample", fails(filter.ErrNotFinite), both(filter.ErrNotFinite,
		filtered(spoilt(300, 9, inf), filter.ZeroPhaseOptions{}),
		filtered(spoilt(300, 9, -inf), filter.ZeroPhaseOptions{NaN: filter.NaNSegments}),
		filtered(spoilt(300, 9, inf), filter.ZeroPhaseOptions{NaN: filter.NaNInterpolate}),
		func(t *testing.T) error {
			r := recorded(t)
			r.Lead[100].Moment.Y = inf
			return errOf(swing.Analyse(r, swing.Options{Cutoff: swing.Unfiltered}))
		},
	), ""},
	{128, "a signal shorter than the pad", fails(filter.ErrTooShort), func(t *testing.T) ([]grf.Warning, error) {
		y, err := lowPass(t, filter.ZeroPhaseOptions{Short: filter.ShortReduce}).Apply(nil, wave(8))
		if err != nil || len(y) != 8 {
			t.Errorf("with a reduced pad: %d, %v", len(y), err)
		}
		z := lowPass(t, filter.ZeroPhaseOptions{})
		_, err = z.Apply(nil, wave(8))
		var e *filter.TooShortError
		if !errors.As(err, &e) || e.Need != z.Pad()+1 || e.Got != 8 {
			t.Errorf("%v does not say how many are needed", err)
		}
		return nil, err
	}, ""},
	{129, "a single sample", fails(filter.ErrTooShort), func(t *testing.T) ([]grf.Warning, error) {
		is(errOf(cop.MeasurePath(make([]r3.Vec, 1), 100, cop.PathOptions{})), cop.ErrTooShort, "a path")(t)
		is(errOf(agreement.TypicalError([]float64{1}, []float64{2}, 0)), agreement.ErrTooFew, "a typical error")(t)
		if v, err := torque.Integral([]float64{5}, 0, 100, 0, 0); v != 0 || err != nil {
			t.Errorf("an integral over no time: %g, %v", v, err)
		}
		return nil, filtered([]float64{5}, filter.ZeroPhaseOptions{})(t)
	}, ""},
	{130, "a cut-off of 0, below it, or NaN", fails(filter.ErrCutoff), both(filter.ErrCutoff,
		design(filter.ZeroPhaseOptions{Rate: 200}), design(filter.ZeroPhaseOptions{Rate: 200, Cutoff: -5}), design(filter.ZeroPhaseOptions{Rate: 200, Cutoff: nan}),
		only(errOf(filter.NewCausal(filter.CausalOptions{Rate: 200, Cutoff: -1}))),
	), ""},
	{131, "a cut-off at half the rate or above", fails(filter.ErrCutoff), func(t *testing.T) ([]grf.Warning, error) {
		is(errOf(swing.Analyse(recorded(t), swing.Options{Cutoff: 100})), swing.ErrOptions, "an analysis")(t)
		err := design(filter.ZeroPhaseOptions{Rate: 200, Cutoff: 100})(t)
		var e *filter.CutoffError
		if !errors.As(err, &e) || e.Nyquist() != 100 {
			t.Errorf("%v does not tell the bound", err)
		}
		return nil, err
	}, ""},
	{132, "a cut-off whose correction for two passes in Hz would be beyond half the rate", warns("cutoff-near-nyquist"), func(t *testing.T) ([]grf.Warning, error) {
		z := lowPass(t, filter.ZeroPhaseOptions{Rate: 100, Cutoff: 45}) // 45/0.802 = 56 > 50
		if g := z.Gain(45); math.Abs(g-math.Sqrt2/2) > 1e-12 {
			t.Errorf("gain %g at the cut-off", g)
		}
		return z.Warnings(), nil
	}, ""},
	{133, "an order that is odd or 50", fails(filter.ErrOrder), both(filter.ErrOrder,
		design(filter.ZeroPhaseOptions{Rate: 200, Cutoff: 20, Order: 3}), design(filter.ZeroPhaseOptions{Rate: 200, Cutoff: 20, Order: 50}),
		design(filter.ZeroPhaseOptions{Rate: 200, Cutoff: 20, Order: -2}),
	), "order 0 is the default of 2, as every zero of an option is"},
	{134, "a sampling rate of 0 or NaN", fails(grf.ErrRate), both(grf.ErrRate,
		design(filter.ZeroPhaseOptions{Cutoff: 20}), design(filter.ZeroPhaseOptions{Cutoff: 20, Rate: nan}),
		only(errOf(cop.MeasurePath(make([]r3.Vec, 9), 0, cop.PathOptions{}))),
		only(errOf(torque.Integral(wave(9), 0, nan, 0, 1))),
		only(errOf(com.NewTracker(com.TrackerOptions{Mass: 70}))),
		only((&grf.Recording{Rate: nan, Net: make([]grf.Wrench, 9)}).Check()),
	), ""},
	{135, "time stamps with 1 % of jitter", fails(filter.ErrIrregular), func(t *testing.T) ([]grf.Warning, error) {
		times := make([]float64, 100)
		for i := range times {
			times[i] = float64(i) / 100
		}
		times[50] += 0.0001
		timing, err := filter.Stamps(times)
		if err != nil {
			return nil, err
		}
		if err := timing.Even(0.02); err != nil {
			t.Errorf("with a tolerance of 2 %%: %v", err)
		}
		return nil, timing.Even(0)
	}, "tables take up to 5 % (table.Options.Jitter), with a warning"},
	{136, "a time stamp again, or backward", fails(filter.ErrTimeOrder), func(t *testing.T) ([]grf.Warning, error) {
		_, err := table.Decode([]byte("t[s],Fz[N]\n0,1\n0.01,2\n0.01,3\n"), table.Options{})
		is(err, table.ErrTimeOrder, "a table")(t)
		_, err = filter.Stamps([]float64{0, 0.01, 0.02, 0.015})
		var e *filter.TimeOrderError
		if !errors.As(err, &e) || e.Index != 3 {
			t.Errorf("%v does not say where", err)
		}
		return nil, err
	}, ""},
}

// none checks that nothing is defined.
func none(t *testing.T, p r3.Vec, free float64) {
	t.Helper()
	if !math.IsNaN(p.X) || !math.IsNaN(p.Y) || !math.IsNaN(p.Z) || !math.IsNaN(free) {
		t.Errorf("%v, %g", p, free)
	}
}

var signalRows = []row{
	{137, "a vertical force of exactly 0", defined(), func(t *testing.T) ([]grf.Warning, error) {
		p, free := cop.Of(grf.Wrench{Force: r3.Vec{X: 1}, Moment: r3.Vec{X: 1, Y: 1, Z: 1}}, 0, 0)
		none(t, p, free)
		if s := cop.Share(grf.Wrench{}, grf.Wrench{}); !math.IsNaN(s) {
			t.Errorf("share %g", s)
		}
		return nil, nil
	}, ""},
	{138, "a vertical force below the threshold throughout", defined(), func(t *testing.T) ([]grf.Warning, error) {
		ws := make([]grf.Wrench, 50)
		for i := range ws {
			ws[i].Force.Z = 15
		}
		p, free := cop.Series(nil, nil, ws, 0, 20)
		for i := range p {
			none(t, p[i], free[i])
		}
		is(errOf(cop.MeasurePath(p, 100, cop.PathOptions{})), cop.ErrUndefined, "a measure of it")(t)
		is(errOf(cop.MeasurePath(p, 100, cop.PathOptions{NaN: cop.LongestRun})), cop.ErrTooShort, "a measure of its longest run")(t)
		is(errOf(swing.Analyse(&grf.Recording{Rate: 1000, Net: ws}, swing.Options{})), swing.ErrNobody, "a swing")(t)
		return nil, nil
	}, ""},
	{139, "data that are upside down", warns("action-forces"), func(t *testing.T) ([]grf.Warning, error) {
		r, err := readTable(t, "rate: 100 Hz\nlead_fx_N,lead_fy_N,lead_fz_N,lead_copx_m,lead_copy_m,lead_free_Nm,trail_fx_N,trail_fy_N,trail_fz_N,trail_copx_m,trail_copy_m,trail_free_Nm\n"+
			strings.Repeat("0,0,-200,0,0.2,0,0,0,-300,0,-0.2,0\n", 20), `{"version": 1}`)
		if err != nil {
			return nil, err
		}
		if r.Recording.Lead[3].Force.Z != 200 {
			t.Errorf("%v", r.Recording.Lead[3])
		}
		return r.Warnings, nil
	}, "a setup can state the sense; a recording that is upside down is nobody's (swing.ErrNobody)"},
	{140, "a threshold below 0", fails(swing.ErrOptions), func(t *testing.T) ([]grf.Warning, error) {
		// In the per-sample functions a threshold of 0 or less is one that does not
		// bind; without load there is no point all the same.
		p, free := cop.Of(grf.Wrench{Force: r3.Vec{Z: -1}}, 0, -50)
		none(t, p, free)
		_, err := capture.ReadSetup(strings.NewReader(`{"version": 1, "load_threshold": "-5 N"}`))
		is(err, capture.ErrSetup, "a setup")(t)
		return nil, errOf(swing.Analyse(recorded(t), swing.Options{MinVertical: -1}))
	}, "0 is the default of an option and no threshold as an argument"},
	{141, "a threshold above the peak", defined(), func(t *testing.T) ([]grf.Warning, error) {
		taps, err := com.FindTaps(wave(500), 0, 100, 1e4)
		if len(taps) != 0 {
			t.Errorf("taps at %v", taps)
		}
		p, free := cop.Of(grf.Wrench{Force: r3.Vec{Z: 700}}, 0, 1e4)
		none(t, p, free)
		return nil, err
	}, ""},
	{142, "a recording that begins and ends on the plates", defined(), func(t *testing.T) ([]grf.Warning, error) {
		a := analysed(t)
		if a.From != 0 || a.To != a.Recording.Len()-1 {
			t.Errorf("on the plates from sample %d to %d of %d", a.From, a.To, a.Recording.Len())
		}
		return nil, nil
	}, "there is no event of stepping on or off, so none can be made up"},
	{143, "chatter around a threshold", defined(), func(t *testing.T) ([]grf.Warning, error) {
		x := make([]float64, 400)
		for i := range 60 {
			x[100+i] = 200 * math.Abs(math.Sin(float64(i)/4)) * math.Exp(-float64(i)/30)
		}
		taps, err := com.FindTaps(x, 0, 400, 50)
		if len(taps) != 1 {
			t.Errorf("taps at %v", taps)
		}
		return nil, err
	}, "taps and stillness are the only thresholds in time; what follows a tap within 0.2 s is its echo, and the golfer is gone after 0.1 s off the plates only"},
	{144, "a centre of pressure outside of the stance", warns("cop-outside-stance"), func(t *testing.T) ([]grf.Warning, error) {
		lead, err := cop.NewFoot(cop.Lead, r3.Vec{X: -0.1, Y: 1.22}, r3.Vec{X: 0.18, Y: 1.22}, 0.1)
		trail, err2 := cop.NewFoot(cop.Trail, r3.Vec{X: -0.1, Y: 0.8}, r3.Vec{X: 0.18, Y: 0.8}, 0.1)
		if err := errors.Join(err, err2); err != nil {
			return nil, err
		}
		if pl := lead.Place(r3.Vec{}); pl.Inside {
			t.Errorf("%+v", pl)
		}
		a, err := swing.Analyse(recorded(t), swing.Options{Feet: swing.Feet{Lead: &lead, Trail: &trail}})
		if err != nil {
			return nil, err
		}
		if p := a.Series.NetCOP[100]; math.IsNaN(p.X) {
			t.Error("the point was taken away")
		}
		return a.Warnings, nil
	}, "held against the feet, which is narrower than the plate"},
	{145, "two plates of different sampling rates", notHere(), nil,
		"a recording has one rate, a table one clock and a C3D file one analog rate, so that two can not meet; filter.ResampleWrenches puts one on the clock of the other"},
	{146, "two plates, one sample longer than the other", fails(grf.ErrLength), both(grf.ErrLength,
		only(errOf(grf.AddSeries(nil, make([]grf.Wrench, 100), make([]grf.Wrench, 101)))),
		only((&grf.Recording{Rate: 100, Lead: make([]grf.Wrench, 100), Trail: make([]grf.Wrench, 101)}).Check()),
	), "nothing is cut: which sample is the extra one nobody knows"},
	{147, "one of two plates lost or at its end", defined(), func(t *testing.T) ([]grf.Warning, error) {
		a, b := []grf.Wrench{{Force: r3.Vec{Z: 300}}, {Force: r3.Vec{Z: 300}}}, []grf.Wrench{{Force: r3.Vec{Z: 400}}, grf.NaN()}
		sum, err := grf.AddSeries(nil, a, b)
		if err != nil || sum[0].Force.Z != 700 || !sum[1].IsNaN() {
			t.Errorf("%v, %v", sum, err)
		}
		c := chain(t)
		f, err := c.Push(live.Sample{Channels: []float64{0, 0, -300, 0, 0, 0, 0, 0, 1e4, 0, 0, 0}})
		if err != nil || !f.Health.Has(live.Saturated) {
			t.Errorf("%v, %v", f.Health, err)
		}
		return nil, nil
	}, "a value at the end of its range is flagged, not taken away: whose range it is only the caller knows"},
	{148, "two plates in different planes", defined(), func(t *testing.T) ([]grf.Warning, error) {
		// 400 N on the ground at (0, 0.1), 200 N on a step of 0.1 m at (0.3, −0.1), with
		// a lateral push of 50 N on the step: moments about the origin add.
		lead := grf.At(r3.Vec{Z: 400}, r3.Vec{Y: 0.1}, r3.Vec{})
		trail := grf.At(r3.Vec{Y: 50, Z: 200}, r3.Vec{X: 0.3, Y: -0.1, Z: 0.1}, r3.Vec{})
		p, _ := cop.Net(lead, trail, 0, 20)
		// By hand: x = 200·0.3/600; y = (400·0.1 − 200·0.1 − 50·0.1)/600.
		if math.Abs(p.X-0.1) > 1e-12 || math.Abs(p.Y-15.0/600) > 1e-12 {
			t.Errorf("%v", p)
		}
		return nil, nil
	}, "the height of the plane is an argument, and nothing averages centres of pressure"},
}

func readTable(t *testing.T, data, setup string) (*capture.Result, error) {
	t.Helper()
	s, err := capture.ReadSetup(strings.NewReader(setup))
	if err != nil {
		return nil, err
	}
	return capture.Read("swing.csv", []byte(data), s, nil)
}

// chain is a live chain of two plates.
func chain(t *testing.T) *live.Chain {
	t.Helper()
	axes, err := grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{Y: 1}, r3.Vec{}, grf.RightHanded)
	if err != nil {
		t.Fatal(err)
	}
	p := plate(t).WithSense(grf.Reaction)
	ranges := []live.Range{{Low: -5000, High: 5000}}
	c, err := live.New(live.Config{Rate: 500, Axes: axes, Inputs: []live.Input{{Plate: p, Foot: live.Lead, Ranges: ranges}, {Plate: p, Foot: live.Trail, Ranges: ranges}}})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Rows 149 to 160: the golfer's mass, quiet stances, integrals, events and curves.

func setupError(json string) func(*testing.T) error {
	return func(*testing.T) error { _, err := capture.ReadSetup(strings.NewReader(json)); return err }
}

var bodyRows = []row{
	{149, "a mass of 0, below it, or NaN", fails(com.ErrOption), func(t *testing.T) ([]grf.Warning, error) {
		is(setupError(`{"version": 1, "golfer": {"mass": "-70 kg"}}`)(t), capture.ErrSetup, "a setup")(t)
		r := recorded(t)
		r.Mass = nan
		is(r.Check(), grf.ErrRecording, "a recording")(t)
		return both(com.ErrOption,
			only(errOf(com.NewTracker(com.TrackerOptions{Rate: 100}))),
			only(errOf(com.NewTracker(com.TrackerOptions{Rate: 100, Mass: -70}))),
			only(errOf(com.NewTracker(com.TrackerOptions{Rate: 100, Mass: nan}))))(t)
	}, "0 means unknown where plates can weigh the golfer"},
	{150, "a mass in grams or newtons", fails(capture.ErrSetup), both(capture.ErrSetup,
		setupError(`{"version": 1, "golfer": {"mass": "75000 kg"}}`), setupError(`{"version": 1, "golfer": {"mass": "750 kg"}}`), setupError(`{"version": 1, "golfer": {"mass": 75}}`),
	), "refused instead of warned of: a setup is written by a person who can mend it; 2 to 400 kg, with a unit"},
	{151, "no quiet stance", fails(grf.ErrNoQuiet), func(t *testing.T) ([]grf.Warning, error) {
		r := recorded(t)
		for i := range r.Lead {
			r.Lead[i].Force.Z += 100 * math.Sin(float64(i)/3)
		}
		_, err := swing.Analyse(r, swing.Options{})
		var e *grf.NoQuietError
		if !errors.As(err, &e) || !(e.Best > e.Limit) {
			t.Errorf("%v does not say how near it came", err)
		}
		return nil, err
	}, ""},
	{152, "a stated mass 5 % off what the plates weigh", warns("mass-mismatch"), func(t *testing.T) ([]grf.Warning, error) {
		r := recorded(t)
		r.Mass *= 1.05
		a, err := swing.Analyse(r, swing.Options{})
		if err != nil {
			return nil, err
		}
		if math.Abs(a.Mass-r.Mass/1.05) > 0.1 {
			t.Errorf("%.1f kg are used, %.1f kg were stated", a.Mass, r.Mass)
		}
		return a.Warnings, nil
	}, ""},
	{153, "gravity of 1.62 m/s², or below 0", fails(swing.ErrOptions), both(swing.ErrOptions,
		func(t *testing.T) error {
			return errOf(swing.Analyse(recorded(t), swing.Options{Gravity: 1.62}))
		},
		func(t *testing.T) error {
			return errOf(swing.Analyse(recorded(t), swing.Options{Gravity: -9.8}))
		},
	), "refused instead of accepted: nobody plays there, and a slip of a unit is far more likely; 0 is the default, 9.80665 m/s²"},
	{154, "an integration from a moving start", fails(grf.ErrNoQuiet), func(t *testing.T) ([]grf.Warning, error) {
		r := synth.Cut(recorded(t), 2.3, 3.2)
		net, err := r.NetWrenches(nil)
		if err != nil {
			return nil, err
		}
		_, err = com.FromForces(net, r.Start, r.Rate, com.ForceOptions{})
		return nil, err
	}, "refused instead of warned of: velocity would be wrong by a constant that nobody knows. With another source of the centre of mass it goes on, with the warning no-quiet"},
	{155, "no rest at the end to hold an integral against", warns("drift"), func(t *testing.T) ([]grf.Warning, error) {
		r := synth.Cut(recorded(t), 0, 3.4)
		net, err := r.NetWrenches(nil)
		if err != nil {
			return nil, err
		}
		p, err := com.FromForces(net, r.Start, r.Rate, com.ForceOptions{})
		if err != nil {
			return nil, err
		}
		return p.Warnings, nil
	}, ""},
	{156, "an end before its start", fails(swing.ErrMark), func(t *testing.T) ([]grf.Warning, error) {
		is(errOf(torque.Integral(wave(100), 0, 100, 0.5, 0.2)), grf.ErrWindow, "an integral")(t)
		_, err := analysed(t).Curve(swing.Signals()[0], swing.Between(phase.Impact, phase.Onset))
		return nil, err
	}, ""},
	{157, "one event of the two that a curve needs", fails(swing.ErrMark), func(t *testing.T) ([]grf.Warning, error) {
		r := recorded(t)
		r.Marks = nil
		a, err := swing.Analyse(r, swing.Options{})
		if err != nil {
			return nil, err
		}
		_, err = a.Curve(swing.Signals()[0], swing.Between(phase.Onset, phase.Top))
		if err == nil || !strings.Contains(err.Error(), "top") {
			t.Errorf("%v does not name it", err)
		}
		return nil, err
	}, ""},
	{158, "few samples drawn out to many points", warns("coarse-curve"), func(t *testing.T) ([]grf.Warning, error) {
		b := swing.Between(phase.Onset, phase.Impact)
		b.Points = 1001
		c, err := analysed(t).Curve(swing.Signals()[0], b)
		return c.Warnings, err
	}, ""},
	{159, "a curve with undefined ends", defined(), func(t *testing.T) ([]grf.Warning, error) {
		r := recorded(t)
		onset := r.Index(analysed(t).Events.Time(phase.Onset))
		for i := onset - 1; i < onset+12; i++ {
			r.Lead[i], r.Trail[i] = grf.NaN(), grf.NaN()
		}
		r.Marks = map[string]float64{"onset": r.Time(onset), "impact": analysed(t).Events.Time(phase.Impact)}
		a, err := swing.Analyse(r, swing.Options{})
		if err != nil {
			return nil, err
		}
		c, err := a.Curve(swing.Signals()[0], swing.Between(phase.Onset, phase.Impact))
		if err != nil {
			return nil, err
		}
		if !math.IsNaN(c.Value[0]) || math.IsNaN(c.Value[100]) {
			t.Errorf("%g … %g", c.Value[0], c.Value[100])
		}
		return c.Warnings, nil
	}, "nothing is extrapolated"},
	{160, "a curve of one point", fails(swing.ErrBase), func(t *testing.T) ([]grf.Warning, error) {
		b := swing.Between(phase.Onset, phase.Impact)
		b.Points = 1
		_, err := analysed(t).Curve(swing.Signals()[0], b)
		return nil, err
	}, "0 points are the default of 101"},
}
