package filter_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
	"gonum.org/v1/gonum/spatial/r3"
)

func clock(t testing.TB, start, end, rate float64) filter.Clock {
	t.Helper()
	c, err := filter.NewClock(start, end, rate)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// The count rule: every instant start + i/rate that is not after end.
func TestClockCount(t *testing.T) {
	for _, c := range []struct {
		start, end, rate float64
		n                int
		why              string
	}{
		{0, 1, 1000, 1001, "both ends"},
		{0, 0.999, 1000, 1000, "1000 samples at 1000 Hz stay 1000"},
		{0, 0, 1000, 1, "one instant"},
		{0, 0.0009, 1000, 1, "less than an interval"},
		{0, 0.29, 100, 30, "0.29·100 rounds to less than 29"},
		{0.1, 0.1 + 0.7, 10, 8, "end − start rounds to less than 0.7"},
		{0, 1717. / 200, 1000, 8586, "1718 samples at 200 Hz: 1717·5 + 1"},
		{0, 999. / 1000, 240, 240, "0.999·240 = 239.76"},
		{-2, -1, 59.94, 60, "59.94 intervals"},
		{1.7e9, 1.7e9 + 5, 1000, 5001, "seconds of an era"},
	} {
		got := clock(t, c.start, c.end, c.rate)
		if got.N != c.n {
			t.Errorf("%s: %d samples, want %d", c.why, got.N, c.n)
		}
		if got.End() > c.end+2e-6/c.rate {
			t.Errorf("%s: ends at %g, after %g", c.why, got.End(), c.end)
		}
	}
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range [][3]float64{{1, 0, 1000}, {nan, 1, 1000}, {0, nan, 1000}, {0, inf, 1000}, {-inf, 0, 1000}, {0, 1e9, 1000}} {
		if _, err := filter.NewClock(c[0], c[1], c[2]); !errors.Is(err, filter.ErrClock) {
			t.Errorf("%v: %v", c, err)
		}
	}
	for _, rate := range []float64{0, -1, nan, inf} {
		if _, err := filter.NewClock(0, 1, rate); !errors.Is(err, grf.ErrRate) {
			t.Errorf("rate %g: %v", rate, err)
		}
	}
}

func TestEvery(t *testing.T) {
	for _, c := range []struct{ n, k, want int }{{1000, 5, 200}, {1001, 5, 201}, {1004, 5, 201}, {1, 5, 1}, {7, 1, 7}, {7, 0, 7}} {
		from := filter.Clock{Start: 2, Rate: 1000, N: c.n}
		got := from.Every(c.k)
		if got.N != c.want || got.Start != 2 {
			t.Errorf("every %d of %d: %+v, want %d", c.k, c.n, got, c.want)
		}
		for i := range got.N {
			if k := max(1, c.k); math.Abs(got.Time(i)-from.Time(i*k)) > 1e-15*2 {
				t.Errorf("sample %d of every %d is at %g, want %g", i, k, got.Time(i), from.Time(i*k))
			}
		}
	}
}

func TestStamps(t *testing.T) {
	times := clock(t, 3, 4, 200).Times(nil)
	m, err := filter.Stamps(times)
	if err != nil || math.Abs(m.Rate-200) > 1e-9 || m.Start != 3 || m.End != 4 || m.Even(1e-9) != nil {
		t.Errorf("%+v, %v", m, err)
	}
	// 1 % jitter at one stamp.
	times[100] += 0.01 / 200
	m, err = filter.Stamps(times)
	if err != nil || math.Abs(m.Jitter-0.01) > 1e-9 || m.Worst != 100 && m.Worst != 101 {
		t.Errorf("%+v, %v", m, err)
	}
	var uneven *filter.IrregularError
	if err := m.Even(0); !errors.As(err, &uneven) || !errors.Is(err, filter.ErrIrregular) || uneven.Index != m.Worst || uneven.Allowed != 0.001 {
		t.Errorf("%v", err)
	}
	if err := m.Even(0.02); err != nil {
		t.Error(err)
	}
	// A missing stamp.
	times = slices.Delete(clock(t, 0, 1, 200).Times(nil), 50, 51)
	if m, err = filter.Stamps(times); err != nil || m.Worst != 50 || math.Abs(m.Jitter-1) > 0.02 || m.Even(0.5) == nil {
		t.Errorf("%+v, %v", m, err)
	}
	nan := math.NaN()
	for _, c := range []struct {
		times []float64
		index int
	}{
		{[]float64{0, 1, 1, 2}, 2}, {[]float64{0, 2, 1}, 2}, {[]float64{nan, 1}, 0}, {[]float64{0, nan, 1}, 1}, {[]float64{0, math.Inf(1)}, 1},
	} {
		var order *filter.TimeOrderError
		if _, err := filter.Stamps(c.times); !errors.As(err, &order) || !errors.Is(err, filter.ErrTimeOrder) || order.Index != c.index {
			t.Errorf("%v: %v", c.times, err)
		}
	}
	if _, err := filter.Stamps(nil); !errors.Is(err, grf.ErrNoData) {
		t.Errorf("no stamps: %v", err)
	}
	if m, err := filter.Stamps([]float64{5}); err != nil || !isNaN(m.Rate) || m.Start != 5 || m.End != 5 {
		t.Errorf("one stamp: %+v, %v", m, err)
	}
}

// On its own clock a series is unchanged, for either curve; between samples a
// line is a line and a cubic is a cubic.
func TestResampleReproduces(t *testing.T) {
	from := clock(t, -1, 1, 200)
	times := from.Times(nil)
	x := noise(from.N, 1)
	for _, kind := range []filter.Interpolation{filter.Linear, filter.Cubic} {
		got, err := filter.Resample(nil, from, times, x, filter.ResampleOptions{Kind: kind})
		if err != nil || !same(got, x) {
			t.Errorf("%v on its own clock: off by %g, %v", kind, worst(got, x), err)
		}
	}
	poly := func(t float64) float64 { return 3 + t*(2-t*(4+5*t)) }
	line := func(t float64) float64 { return 3 + 2*t }
	to := clock(t, -1, 1, 1000)
	for _, c := range []struct {
		kind filter.Interpolation
		f    func(float64) float64
	}{{filter.Linear, line}, {filter.Cubic, line}, {filter.Cubic, poly}} {
		y := make([]float64, len(times))
		for i, u := range times {
			y[i] = c.f(u)
		}
		got, err := filter.Resample(nil, to, times, y, filter.ResampleOptions{Kind: c.kind})
		if err != nil {
			t.Fatal(err)
		}
		for i, v := range got {
			if math.Abs(v-c.f(to.Time(i))) > 1e-12 {
				t.Fatalf("%v at %g s: %g, want %g", c.kind, to.Time(i), v, c.f(to.Time(i)))
			}
		}
	}
}

// Nothing is extrapolated, and nothing invented in a gap; MaxGap bridges.
func TestResampleEndsAndGaps(t *testing.T) {
	times := clock(t, 1, 2, 100).Times(nil)
	x := slices.Clone(times) // the value is the time
	x[30] = math.NaN()
	times = slices.Delete(times, 60, 63)
	x = slices.Delete(x, 60, 63)
	to := filter.Clock{Start: 0.95, Rate: 1000, N: 1101} // 0.95 … 2.05
	for _, kind := range []filter.Interpolation{filter.Linear, filter.Cubic} {
		for _, c := range []struct {
			maxGap float64
			gaps   [][2]float64 // open intervals
		}{
			{0, [][2]float64{{1.29, 1.31}, {1.59, 1.63}}},
			{0.02, [][2]float64{{1.59, 1.63}}},
			{0.03, [][2]float64{{1.59, 1.63}}},
			{0.04, nil},
			{math.Inf(1), nil},
			{0.005, nil}, // below the interval: only the samples themselves
		} {
			got, err := filter.Resample(nil, to, times, x, filter.ResampleOptions{Kind: kind, MaxGap: c.maxGap})
			if err != nil {
				t.Fatal(err)
			}
			if len(got) != to.N {
				t.Fatalf("%d samples, want %d", len(got), to.N)
			}
			for i, v := range got {
				u := to.Time(i)
				const eps = 1e-9
				missing := u < 1-eps || u > 2+eps
				for _, g := range c.gaps {
					missing = missing || u > g[0]+eps && u < g[1]-eps
				}
				if c.maxGap == 0.005 {
					k := math.Round(u * 100)
					missing = missing || math.Abs(u*100-k) > 1e-6 || k == 130 || k >= 160 && k < 163
				}
				if isNaN(v) != missing || !missing && math.Abs(v-u) > 1e-9 {
					t.Fatalf("%v, gaps to %g s: %g at %g s", kind, c.maxGap, v, u)
				}
			}
		}
	}
}

// Rounded stamps do not cost the last sample.
func TestResampleLastSample(t *testing.T) {
	for _, rate := range []float64{30, 59.94, 240, 300, 1000} {
		from := filter.Clock{Start: 1.7e9 + 0.1, Rate: rate, N: 500}
		times := from.Times(nil)
		x := noise(500, 1)
		to := clock(t, times[0], times[499], 2*rate)
		got, err := filter.Resample(nil, to, times, x, filter.ResampleOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if to.N < 998 || isNaN(got[0]) || isNaN(got[to.N-1]) {
			t.Errorf("%g Hz: %d samples, from %g to %g", rate, to.N, got[0], got[to.N-1])
		}
	}
}

// A rate that differs by rounding alone is not slower: no low-pass.
func TestSameRateIsNotSmoothed(t *testing.T) {
	for _, rate := range []float64{59.94, 100, 1000. / 3} {
		from := filter.Clock{Start: 12345.678, Rate: rate, N: 500}
		x := noise(500, 1)
		got, err := filter.Resample(nil, from, from.Times(nil), x, filter.ResampleOptions{})
		if err != nil || !same(got, x) {
			t.Errorf("%g Hz: off by %.2g, %v", rate, worst(got, x), err)
		}
	}
}

// Decimation: what the new rate can not carry is taken out first, what it can
// stays, and nothing is shifted.
func TestDecimation(t *testing.T) {
	from := filter.Clock{Rate: 1000, N: 4001}
	to := from.Every(20) // 50 Hz: cut-off 20 Hz
	times := from.Times(nil)
	sine := func(f float64) []float64 {
		x := make([]float64, from.N)
		for i, u := range times {
			x[i] = math.Sin(2 * math.Pi * f * u)
		}
		return x
	}
	for _, c := range []struct {
		f, gain float64
	}{{2, 1}, {20, math.Sqrt2 / 2}, {90, 0}} {
		got, err := filter.Resample(nil, to, times, sine(c.f), filter.ResampleOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if len(got) != 201 {
			t.Fatalf("%d samples, want ⌈4001/20⌉ = 201", len(got))
		}
		for i := 30; i < 170; i++ {
			if want := c.gain * math.Sin(2*math.Pi*c.f*to.Time(i)); math.Abs(got[i]-want) > 2e-4 {
				t.Errorf("%g Hz at %g s: %g, want %g", c.f, to.Time(i), got[i], want)
				break
			}
		}
		// Without the low-pass every 20th sample is taken as it is.
		got, err = filter.Resample(nil, to, times, sine(c.f), filter.ResampleOptions{AntiAlias: filter.AntiAliasNever})
		if err != nil {
			t.Fatal(err)
		}
		for i, v := range got {
			if want := sine(c.f)[20*i]; math.Abs(v-want) > 1e-9 {
				t.Fatalf("%g Hz at %g s without low-pass: %g, want %g", c.f, to.Time(i), v, want)
			}
		}
	}
}

func TestResampleForms(t *testing.T) {
	from := clock(t, 0, 1, 300)
	to := clock(t, 0.01, 0.99, 777)
	x := noise(6*from.N, 1)
	x[6*100+3] = math.NaN() // the whole sample is missing
	opt := filter.ResampleOptions{Kind: filter.Cubic}
	w, err := filter.ResampleWrenches(nil, to, from.Times(nil), wrenchesOf(x), opt)
	if err != nil {
		t.Fatal(err)
	}
	for c := range 6 {
		x[6*100+c] = math.NaN()
		one, err := filter.Resample(nil, to, from.Times(nil), channel(x, c, 6), opt)
		if err != nil {
			t.Fatal(err)
		}
		if !same(channel(valuesOf(w), c, 6), one) {
			t.Errorf("channel %d differs alone", c)
		}
	}
	var v []r3.Vec
	for _, f := range wrenchesOf(x) {
		v = append(v, f.Moment)
	}
	p, err := filter.ResampleVectors(nil, to, from.Times(nil), v, opt)
	if err != nil {
		t.Fatal(err)
	}
	for i := range p {
		m := w[i].Moment
		if !same([]float64{p[i].X, p[i].Y, p[i].Z}, []float64{m.X, m.Y, m.Z}) {
			t.Fatalf("vector %d: %v, want %v", i, p[i], m)
		}
	}
	// dst is reused, and may be src.
	y := channel(x, 0, 6)
	want, err := filter.Resample(nil, to, from.Times(nil), y, opt)
	if err != nil {
		t.Fatal(err)
	}
	long := make([]float64, 5000)
	if got, err := filter.Resample(long, to, from.Times(nil), y, opt); err != nil || !same(got, want) || &got[0] != &long[0] {
		t.Errorf("a long dst: %v", err)
	}
	y = append(y, make([]float64, 1000)...)
	if got, err := filter.Resample(y, to, from.Times(nil), y[:from.N], opt); err != nil || !same(got, want) {
		t.Errorf("in place: %v", err)
	}
}

func TestResampleRefuses(t *testing.T) {
	from := clock(t, 0, 1, 100)
	times := from.Times(nil)
	x := noise(from.N, 1)
	nan := math.NaN()
	withInf := slices.Clone(x)
	withInf[7] = math.Inf(1)
	backward := slices.Clone(times)
	backward[9] = backward[3]
	uneven := slices.Clone(times)
	uneven[50] += 0.003
	for name, c := range map[string]struct {
		to       filter.Clock
		times, x []float64
		opt      filter.ResampleOptions
		want     error
	}{
		"lengths":            {from, times, x[1:], filter.ResampleOptions{}, grf.ErrLength},
		"empty":              {from, nil, nil, filter.ResampleOptions{}, grf.ErrNoData},
		"all NaN":            {from, times[:2], []float64{nan, nan}, filter.ResampleOptions{}, grf.ErrNoData},
		"infinite":           {from, times, withInf, filter.ResampleOptions{}, filter.ErrNotFinite},
		"infinite, slower":   {from.Every(2), times, withInf, filter.ResampleOptions{}, filter.ErrNotFinite},
		"order":              {from, backward, x, filter.ResampleOptions{}, filter.ErrTimeOrder},
		"no clock":           {filter.Clock{}, times, x, filter.ResampleOptions{}, grf.ErrRate},
		"no samples":         {filter.Clock{Rate: 100}, times, x, filter.ResampleOptions{}, filter.ErrClock},
		"start NaN":          {filter.Clock{Start: nan, Rate: 100, N: 5}, times, x, filter.ResampleOptions{}, filter.ErrClock},
		"kind":               {from, times, x, filter.ResampleOptions{Kind: 7}, filter.ErrOption},
		"anti-alias":         {from, times, x, filter.ResampleOptions{AntiAlias: 7}, filter.ErrOption},
		"gap":                {from, times, x, filter.ResampleOptions{MaxGap: -1}, filter.ErrOption},
		"gap NaN":            {from, times, x, filter.ResampleOptions{MaxGap: nan}, filter.ErrOption},
		"jitter":             {from, times, x, filter.ResampleOptions{Jitter: nan}, filter.ErrOption},
		"uneven and slower":  {from.Every(2), uneven, x, filter.ResampleOptions{}, filter.ErrIrregular},
		"short and slower":   {from.Every(50), times, x, filter.ResampleOptions{}, filter.ErrTooShort},
		"instants too close": {from, []float64{0, 1e-300, 1}, []float64{0, 1e149, 0}, filter.ResampleOptions{Kind: filter.Cubic, MaxGap: 2}, filter.ErrOverflow},
	} {
		if got, err := filter.Resample(nil, c.to, c.times, c.x, c.opt); !errors.Is(err, c.want) || got != nil {
			t.Errorf("%s: %v, %v", name, got, err)
		}
	}
	// Allowed on request.
	for name, c := range map[string]struct {
		to    filter.Clock
		times []float64
		opt   filter.ResampleOptions
	}{
		"uneven, allowed":          {from.Every(2), uneven, filter.ResampleOptions{Jitter: 0.5}},
		"uneven, no low-pass":      {from.Every(2), uneven, filter.ResampleOptions{AntiAlias: filter.AntiAliasNever}},
		"short, reduced":           {from.Every(50), times, filter.ResampleOptions{Short: filter.ShortReduce}},
		"uneven, but not slower":   {from, uneven, filter.ResampleOptions{}},
		"uneven, the same or more": {clock(t, 0, 1, 250), uneven, filter.ResampleOptions{}},
	} {
		if _, err := filter.Resample(nil, c.to, c.times, x, c.opt); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	// A single sample is itself and nothing else.
	got, err := filter.Resample(nil, clock(t, 4, 6, 1), []float64{5}, []float64{7}, filter.ResampleOptions{Kind: filter.Cubic})
	if err != nil || !isNaN(got[0]) || got[1] != 7 || !isNaN(got[2]) {
		t.Errorf("a single sample: %v, %v", got, err)
	}
}
