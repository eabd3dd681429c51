package filter_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
)

func TestNaNIsAnErrorByDefault(t *testing.T) {
	z := zeroPhase(t, filter.ZeroPhaseOptions{Cutoff: 100, Rate: 1000})
	x := noise(6*200, 1)
	x[6*77+2] = math.NaN()
	x[6*90] = math.NaN()
	before := slices.Clone(x)
	_, err := z.Interleaved(x, x, 6)
	var bad *filter.NotFiniteError
	if !errors.As(err, &bad) || !errors.Is(err, filter.ErrNotFinite) || bad.Index != 77 || bad.Channel != 2 || !isNaN(bad.Value) {
		t.Errorf("NaN at 77, channel 2: %v", err)
	}
	if !same(x, before) {
		t.Error("src was changed in spite of the error")
	}
	if _, err := z.Wrenches(nil, wrenchesOf(x)); !errors.As(err, &bad) || bad.Index != 77 || bad.Channel != 2 {
		t.Errorf("wrenches: %v", err)
	}
}

func TestInfIsAlwaysAnError(t *testing.T) {
	for _, policy := range []filter.NaNPolicy{filter.NaNError, filter.NaNSegments, filter.NaNInterpolate} {
		for _, v := range []float64{math.Inf(1), math.Inf(-1), 1e200} {
			z := zeroPhase(t, filter.ZeroPhaseOptions{Cutoff: 100, Rate: 1000, NaN: policy, Short: filter.ShortReduce})
			x := noise(600, 1)
			x[6*50+1], x[6*50+4] = math.NaN(), v // in one sample: the infinite one is named
			_, err := z.Interleaved(nil, x, 6)
			var bad *filter.NotFiniteError
			if !errors.As(err, &bad) || bad.Index != 50 || bad.Channel != 4 || bad.Value != v {
				t.Errorf("%v at %v: %v", v, policy, err)
			}
		}
	}
}

func TestAllNaN(t *testing.T) {
	for _, policy := range []filter.NaNPolicy{filter.NaNSegments, filter.NaNInterpolate} {
		z := zeroPhase(t, filter.ZeroPhaseOptions{Cutoff: 100, Rate: 1000, NaN: policy})
		x := slices.Repeat([]float64{math.NaN()}, 100)
		if y, err := z.Apply(nil, x); !errors.Is(err, grf.ErrNoData) || y != nil {
			t.Errorf("%v: %v", policy, err)
		}
	}
}

// Segments are what filtering the runs apart gives.
func TestSegments(t *testing.T) {
	opt := filter.ZeroPhaseOptions{Order: 4, Cutoff: 80, Rate: 1000}
	plain := zeroPhase(t, opt)
	opt.NaN = filter.NaNSegments
	z := zeroPhase(t, opt)
	x := noise(6*900, 3)
	for _, i := range []int{0, 1, 300, 301, 302, 600, 899} {
		x[6*i+i%6] = math.NaN() // one channel: the sample is missing in all
	}
	want := make([]float64, len(x))
	for i := range want {
		want[i] = math.NaN()
	}
	for _, run := range [][2]int{{2, 300}, {303, 600}, {601, 899}} {
		if _, err := plain.Interleaved(want[6*run[0]:6*run[1]], x[6*run[0]:6*run[1]], 6); err != nil {
			t.Fatal(err)
		}
	}
	got, err := z.Interleaved(nil, x, 6)
	if err != nil || !same(got, want) {
		t.Errorf("segments: off by %g, %v", worst(got, want), err)
	}
	w, err := z.Wrenches(nil, wrenchesOf(x))
	if err != nil || !same(valuesOf(w), want) {
		t.Errorf("wrenches: %v", err)
	}
	if _, err := z.Interleaved(x, x, 6); err != nil || !same(x, want) {
		t.Errorf("in place: %v", err)
	}
}

func TestShortSegment(t *testing.T) {
	opt := filter.ZeroPhaseOptions{Cutoff: 50, Rate: 1000, NaN: filter.NaNSegments}
	x := noise(300, 1)
	x[120], x[125] = math.NaN(), math.NaN()
	before := slices.Clone(x)
	_, err := zeroPhase(t, opt).Apply(x, x)
	var short *filter.TooShortError
	if !errors.As(err, &short) || short.Start != 121 || short.Got != 4 || !same(x, before) {
		t.Errorf("a run of four samples: %v", err)
	}
	opt.Short = filter.ShortReduce
	y, err := zeroPhase(t, opt).Apply(nil, x)
	if err != nil {
		t.Fatal(err)
	}
	for i := range y {
		if isNaN(y[i]) != (i == 120 || i == 125) {
			t.Errorf("sample %d: %g", i, y[i])
		}
	}
}

// Bridging is filtering the series with straight lines in the gaps.
func TestInterpolateAndRestore(t *testing.T) {
	opt := filter.ZeroPhaseOptions{Cutoff: 50, Rate: 1000}
	plain := zeroPhase(t, opt)
	opt.NaN = filter.NaNInterpolate
	z := zeroPhase(t, opt)

	x := noise(400, 4)
	bridged := slices.Clone(x[2:399])
	gaps := []int{0, 1, 100, 200, 201, 202, 399}
	for _, i := range gaps {
		x[i] = math.NaN()
	}
	bridged[100-2] = (x[99] + x[101]) / 2
	for k := 1; k <= 3; k++ {
		bridged[199+k-2] = x[199] + float64(k)/4*(x[203]-x[199])
	}
	want, err := plain.Apply(nil, bridged)
	if err != nil {
		t.Fatal(err)
	}
	want = slices.Concat([]float64{0, 0}, want, []float64{0})
	for _, i := range gaps {
		want[i] = math.NaN()
	}
	got, err := z.Apply(nil, x)
	if err != nil {
		t.Fatal(err)
	}
	if d := worst(got, want); d > 1e-14 {
		t.Errorf("off by %.2g", d)
	}
	if _, err := z.Apply(x, x); err != nil || !same(x, got) {
		t.Errorf("in place: %v", err)
	}
	// No gap: nothing changes.
	full := noise(400, 5)
	a, err := plain.Apply(nil, full)
	if err != nil {
		t.Fatal(err)
	}
	if b, err := z.Apply(nil, full); err != nil || !same(a, b) {
		t.Errorf("without a gap: %v", err)
	}
	// A straight line with gaps is still one.
	for i := range full {
		full[i] = float64(i)
	}
	full[150], full[151] = math.NaN(), math.NaN()
	y, err := z.Apply(nil, full)
	if err != nil || math.Abs(y[149]-149) > 1e-5 || math.Abs(y[152]-152) > 1e-5 || !isNaN(y[150]) {
		t.Errorf("line with a gap: %v, %v", y[148:154], err)
	}
}

func TestPolicyNames(t *testing.T) {
	for want, got := range map[string]interface{ String() string }{
		"error":            filter.NaNError,
		"segments":         filter.NaNSegments,
		"interpolate":      filter.NaNInterpolate,
		"NaNPolicy(9)":     filter.NaNPolicy(9),
		"reduce":           filter.ShortReduce,
		"ShortPolicy(9)":   filter.ShortPolicy(9),
		"cubic":            filter.Cubic,
		"linear":           filter.Linear,
		"Interpolation(9)": filter.Interpolation(9),
		"never":            filter.AntiAliasNever,
		"when slower":      filter.AntiAliasWhenSlower,
		"AntiAlias(9)":     filter.AntiAlias(9),
	} {
		if got.String() != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
