package filter_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
	"gonum.org/v1/gonum/spatial/r3"
)

// A force that begins at 800 N must not begin with a ramp from zero, and a
// constant must pass unchanged.
func TestConstantPasses(t *testing.T) {
	for _, cutoff := range []float64{1, 5, 50, 200, 490} {
		for _, order := range []int{2, 4, 8} {
			for _, pad := range []int{0, filter.NoPad, 3} {
				z := zeroPhase(t, filter.ZeroPhaseOptions{Order: order, Cutoff: cutoff, Rate: 1000, Pad: pad})
				x := slices.Repeat([]float64{800}, 12000)
				y, err := z.Apply(nil, x)
				if err != nil {
					t.Fatal(err)
				}
				// Rounding of one output, 1e-16, times the noise gain of the
				// recursion, which grows with the square of the rate over the
				// distance of the cut-off from zero or half the rate.
				if d := worst(y, x); d > 1e-14+1e-16*math.Pow(1000/min(cutoff, 500-cutoff), 2) {
					t.Errorf("order %d at %g Hz, pad %d: constant off by %.2g", order, cutoff, pad, d)
				}
			}
		}
	}
}

// A straight line passes unchanged too: point reflection continues it. (Mirror
// reflection would bend its ends.)
func TestRampPasses(t *testing.T) {
	z := zeroPhase(t, filter.ZeroPhaseOptions{Cutoff: 20, Rate: 1000})
	x := make([]float64, 1000)
	for i := range x {
		x[i] = 300 + 0.7*float64(i)
	}
	y, err := z.Apply(nil, x)
	if err != nil {
		t.Fatal(err)
	}
	// The pad leaves a millionth of what the start from a constant, rather than
	// a ramp, adds: the delay of one pass times the slope.
	for i := range x {
		if math.Abs(y[i]-x[i]) > 1e-5 {
			t.Fatalf("sample %d of a ramp: %g, want %g", i, y[i], x[i])
		}
	}
}

// A step far from the ends stays where it is, symmetric about its middle, with
// the overshoot of a Butterworth step and nothing at the ends.
func TestStepIsNotShifted(t *testing.T) {
	z := zeroPhase(t, filter.ZeroPhaseOptions{Cutoff: 20, Rate: 1000})
	const n = 2000
	x := make([]float64, n)
	for i := range x {
		x[i] = 100
		if i >= n/2 {
			x[i] = 900
		}
	}
	y, err := z.Apply(nil, x)
	if err != nil {
		t.Fatal(err)
	}
	for i := range n {
		if d := (y[i] + y[n-1-i]) - 1000; math.Abs(d) > 1e-9 {
			t.Fatalf("step not symmetric at sample %d: %g", i, d)
		}
	}
	for i := range 700 {
		if math.Abs(y[i]-100) > 1e-4 || math.Abs(y[n-1-i]-900) > 1e-4 {
			t.Fatalf("sample %d: start-up error %g, %g", i, y[i]-100, y[n-1-i]-900)
		}
	}
	if over := slices.Max(y) - 900; over < 10 || over > 0.15*800 {
		t.Errorf("overshoot %g N of a step of 800 N", over)
	}
}

// A sine in the middle of a long series comes out with the gain of the pair and
// no phase; at the cut-off that gain is 1/√2.
func TestSineGain(t *testing.T) {
	for _, at := range []struct{ rate, cutoff float64 }{{1000, 50}, {200, 50}, {100, 30}} {
		z := zeroPhase(t, filter.ZeroPhaseOptions{Order: 2, Cutoff: at.cutoff, Rate: at.rate})
		for _, f := range []float64{at.cutoff / 5, at.cutoff, at.cutoff * 1.3} {
			x := make([]float64, 4000)
			for i := range x {
				x[i] = math.Sin(2*math.Pi*f*float64(i)/at.rate + 0.3)
			}
			y, err := z.Apply(nil, x)
			if err != nil {
				t.Fatal(err)
			}
			gain := z.Gain(f)
			if f == at.cutoff && math.Abs(gain-math.Sqrt2/2) > 1e-12 {
				t.Errorf("gain at the cut-off %g", gain)
			}
			for i := 1000; i < 3000; i++ {
				if math.Abs(y[i]-gain*x[i]) > 1e-9 {
					t.Fatalf("%g Hz through %g/%g Hz, sample %d: %g, want %g × %g", f, at.cutoff, at.rate, i, y[i], gain, x[i])
				}
			}
		}
	}
}

// Filtering the reversed series gives the reversed result: exactly in the
// middle, within the reach of the pad at the ends.
func TestTimeReversal(t *testing.T) {
	for _, order := range []int{2, 4, 6} {
		z := zeroPhase(t, filter.ZeroPhaseOptions{Order: order, Cutoff: 25, Rate: 1000})
		x := noise(3000, 1)
		y, err := z.Apply(nil, x)
		if err != nil {
			t.Fatal(err)
		}
		slices.Reverse(x)
		back, err := z.Apply(nil, x)
		if err != nil {
			t.Fatal(err)
		}
		slices.Reverse(back)
		if d := worst(back[800:2200], y[800:2200]); d > 1e-13 {
			t.Errorf("order %d: reversed in time, the middle differs by %.2g", order, d)
		}
		if d := worst(back, y); d > 1e-5 {
			t.Errorf("order %d: reversed in time, the ends differ by %.2g", order, d)
		}
	}
}

// Scaling, adding and shifting in time commute with the filter.
func TestLinearity(t *testing.T) {
	z := zeroPhase(t, filter.ZeroPhaseOptions{Order: 4, Cutoff: 30, Rate: 1000})
	a, b := noise(1500, 2), noise(1500, 3)
	sum := make([]float64, len(a))
	for i := range sum {
		sum[i] = 2*a[i] - 3*b[i]
	}
	ya, err := z.Apply(nil, a)
	if err != nil {
		t.Fatal(err)
	}
	yb, err := z.Apply(nil, b)
	if err != nil {
		t.Fatal(err)
	}
	got, err := z.Apply(nil, sum)
	if err != nil {
		t.Fatal(err)
	}
	for i := range sum {
		sum[i] = 2*ya[i] - 3*yb[i]
	}
	if d := worst(got, sum); d > 1e-12 {
		t.Errorf("not linear: %.2g", d)
	}
}

// All forms give the same digits: one channel at a time, interleaved channels,
// wrenches, vectors, in place, with any block and any number of channels.
func TestFormsAgree(t *testing.T) {
	z := zeroPhase(t, filter.ZeroPhaseOptions{Order: 4, Cutoff: 40, Rate: 1000})
	for _, channels := range []int{1, 2, 3, 6, 7, 12, 2500} { // 2500: a block is one sample
		for _, n := range []int{140, 400, 1111} {
			if channels == 2500 && n > 140 {
				continue
			}
			x := noise(n*channels, int64(channels))
			all, err := z.Interleaved(nil, x, channels)
			if err != nil {
				t.Fatal(err)
			}
			for c := range channels {
				one, err := z.Apply(nil, channel(x, c, channels))
				if err != nil {
					t.Fatal(err)
				}
				if !same(one, channel(all, c, channels)) {
					t.Fatalf("%d channels of %d samples: channel %d alone differs", channels, n, c)
				}
				if c > 12 {
					break
				}
			}
			if channels == 6 {
				w, err := z.Wrenches(nil, wrenchesOf(x))
				if err != nil {
					t.Fatal(err)
				}
				if !same(valuesOf(w), all) {
					t.Errorf("%d wrenches differ from six channels", n)
				}
				w = wrenchesOf(x)
				if w2, err := z.Wrenches(w, w); err != nil || !same(valuesOf(w), all) || &w2[0] != &w[0] {
					t.Errorf("%d wrenches in place differ: %v", n, err)
				}
			}
			if channels == 3 {
				var v []r3.Vec
				for i := range n {
					v = append(v, r3.Vec{X: x[3*i], Y: x[3*i+1], Z: x[3*i+2]})
				}
				v, err := z.Vectors(v, v)
				if err != nil {
					t.Fatal(err)
				}
				for i, p := range v {
					if !same([]float64{p.X, p.Y, p.Z}, all[3*i:3*i+3]) {
						t.Fatalf("vector %d of %d differs", i, n)
					}
				}
			}
			in := slices.Clone(x)
			got, err := z.Interleaved(in, in, channels)
			if err != nil || !same(got, all) || &got[0] != &in[0] {
				t.Errorf("%d channels in place differ: %v", channels, err)
			}
		}
	}
}

func TestDstRule(t *testing.T) {
	z := zeroPhase(t, filter.ZeroPhaseOptions{Cutoff: 100, Rate: 1000})
	x := noise(100, 5)
	want, err := z.Apply(nil, x)
	if err != nil {
		t.Fatal(err)
	}
	long := make([]float64, 500)
	got, err := z.Apply(long, x)
	if err != nil || !same(got, want) || &got[0] != &long[0] {
		t.Errorf("a long dst is not reused: %v", err)
	}
	got, err = z.Apply(make([]float64, 3), x)
	if err != nil || !same(got, want) {
		t.Errorf("a short dst is not grown: %v", err)
	}
	// Overlap in part, both ways.
	for _, c := range [][2]int{{0, 10}, {10, 0}, {0, 99}, {99, 0}} {
		memory := make([]float64, 300)
		copy(memory[c[1]:], x)
		before := slices.Clone(memory)
		if _, err := z.Apply(memory[c[0]:c[0]+100], memory[c[1]:c[1]+100]); !errors.Is(err, filter.ErrOverlap) || !same(memory, before) {
			t.Errorf("overlap at %v: %v", c, err)
		}
	}
	memory := make([]float64, 300)
	copy(memory[100:], x)
	if got, err := z.Apply(memory[:100], memory[100:200]); err != nil || !same(got, want) {
		t.Errorf("neighbours in one array: %v", err)
	}
}

func TestShortSeries(t *testing.T) {
	opt := filter.ZeroPhaseOptions{Cutoff: 50, Rate: 1000}
	z := zeroPhase(t, opt)
	if z.Pad() != 51 {
		t.Fatalf("default pad of %d samples, the documentation says 51", z.Pad())
	}
	if p := zeroPhase(t, filter.ZeroPhaseOptions{Cutoff: 10, Rate: 1000}).Pad(); p != 250 {
		t.Errorf("default pad of %d samples at 10 Hz, the documentation says 250", p)
	}
	if _, err := z.Apply(nil, noise(52, 1)); err != nil {
		t.Errorf("one sample more than the pad: %v", err)
	}
	for _, n := range []int{1, 2, 51} {
		_, err := z.Apply(nil, noise(n, 1))
		var short *filter.TooShortError
		if !errors.Is(err, filter.ErrTooShort) || !errors.As(err, &short) || short.Got != n || short.Need != 52 {
			t.Errorf("%d samples: %v", n, err)
		}
	}
	opt.Short = filter.ShortReduce
	z = zeroPhase(t, opt)
	for _, n := range []int{1, 2, 3, 51, 52} {
		x := noise(n, 1)
		y, err := z.Apply(nil, x)
		if err != nil || len(y) != n {
			t.Errorf("%d samples with a reduced pad: %v", n, err)
		}
		// The same as asking for that pad.
		opt := filter.ZeroPhaseOptions{Cutoff: 50, Rate: 1000, Pad: min(51, n-1)}
		if n == 1 {
			opt.Pad = filter.NoPad
		}
		if want, err := zeroPhase(t, opt).Apply(nil, x); err != nil || !same(y, want) {
			t.Errorf("%d samples: reduced pad is not the longest possible: %v", n, err)
		}
	}
	if y, err := z.Apply(nil, []float64{800}); err != nil || math.Abs(y[0]-800) > 1e-10 {
		t.Errorf("one sample: %v, %v", y, err)
	}
	// A cut-off so low that its pad is longer than any series.
	if _, err := zeroPhase(t, filter.ZeroPhaseOptions{Cutoff: 0.001, Rate: 1000}).Apply(nil, noise(1000, 1)); !errors.Is(err, filter.ErrTooShort) {
		t.Errorf("very low cut-off: %v", err)
	}
}

// The pad follows the slowest mode: ln 100/−ln r samples for radius r, three
// times that, whether the poles are complex or real, and the reference's at
// least.
func TestDefaultPad(t *testing.T) {
	for _, c := range []struct {
		s    filter.Section
		want int
	}{
		{filter.Section{B0: 1, A2: 0.81}, 132},                      // ±0.9i: 3·43.7
		{filter.Section{B0: 1, A1: -0.99}, 1375},                    // 0.99 and 0: 3·458.2
		{filter.Section{B0: 1, A1: -(0.99 + 0.5), A2: 0.495}, 1375}, // 0.99 and 0.5
		{filter.Section{B0: 1, A1: 0.99 + 0.5, A2: 0.495}, 1375},    // −0.99 and −0.5
		{filter.Section{B0: 1, A2: 0.01}, 9},                        // 3·(2·1+1)
		{filter.Section{B0: 1}, 6},                                  // no memory, one order less
	} {
		if got := filter.DefaultPad([]filter.Section{c.s}); got != c.want {
			t.Errorf("%v: pad %d, want %d", c.s, got, c.want)
		}
	}
}

func TestZeroPhaseRefuses(t *testing.T) {
	z := zeroPhase(t, filter.ZeroPhaseOptions{Cutoff: 100, Rate: 1000})
	if _, err := z.Apply(nil, nil); !errors.Is(err, grf.ErrNoData) {
		t.Errorf("empty: %v", err)
	}
	if _, err := z.Wrenches(nil, nil); !errors.Is(err, grf.ErrNoData) {
		t.Errorf("no wrenches: %v", err)
	}
	if _, err := z.Interleaved(nil, noise(100, 1), 0); !errors.Is(err, grf.ErrChannels) {
		t.Errorf("no channels: %v", err)
	}
	if _, err := z.Interleaved(nil, noise(100, 1), 6); !errors.Is(err, grf.ErrLength) {
		t.Errorf("100 values of 6 channels: %v", err)
	}
	for name, opt := range map[string]filter.ZeroPhaseOptions{
		"pad":          {Cutoff: 50, Rate: 1000, Pad: -2},
		"NaN policy":   {Cutoff: 50, Rate: 1000, NaN: 3},
		"short policy": {Cutoff: 50, Rate: 1000, Short: -1},
	} {
		if _, err := filter.NewZeroPhase(opt); !errors.Is(err, filter.ErrOption) {
			t.Errorf("%s: %v", name, err)
		}
	}
	s := z.Sections()
	for name, opt := range map[string]filter.ZeroPhaseOptions{
		"order":   {Order: 2},
		"cut-off": {Cutoff: 5},
	} {
		if _, err := filter.NewZeroPhaseSections(s, opt); !errors.Is(err, filter.ErrOption) {
			t.Errorf("sections and %s: %v", name, err)
		}
	}
	if _, err := filter.NewZeroPhaseSections(s, filter.ZeroPhaseOptions{Rate: -1}); !errors.Is(err, grf.ErrRate) {
		t.Errorf("negative rate: %v", err)
	}
	// Sections of the caller's own that amplify beyond all bounds.
	huge, err := filter.NewZeroPhaseSections([]filter.Section{{B0: 1e200}, {B0: 1e200}}, filter.ZeroPhaseOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if y, err := huge.Apply(nil, noise(100, 1)); !errors.Is(err, filter.ErrOverflow) || y != nil {
		t.Errorf("overflow: %v", err)
	}
}

// A changed copy of the sections does not change the filter, and the caller's
// slice is not kept.
func TestSectionsAreCopied(t *testing.T) {
	s, err := filter.Butterworth(4, 50, 1000)
	if err != nil {
		t.Fatal(err)
	}
	z, err := filter.NewZeroPhaseSections(s, filter.ZeroPhaseOptions{})
	if err != nil {
		t.Fatal(err)
	}
	x := noise(500, 1)
	want, err := z.Apply(nil, x)
	if err != nil {
		t.Fatal(err)
	}
	s[0].B0 = 7
	z.Sections()[1].A1 = 7
	if got, err := z.Apply(nil, x); err != nil || !same(got, want) {
		t.Errorf("the filter has changed: %v", err)
	}
}

func TestDescription(t *testing.T) {
	z := zeroPhase(t, filter.ZeroPhaseOptions{Cutoff: 50, Rate: 1000})
	for _, part := range []string{"order 2 in two passes (order 4, zero lag)", "−3 dB at 50 Hz", "one pass at 62.0", "pad 51 samples"} {
		if !strings.Contains(z.String(), part) {
			t.Errorf("%q does not say %q", z, part)
		}
	}
	if len(z.Warnings()) != 0 {
		t.Errorf("warnings %v", z.Warnings())
	}
	// Corrected cut-off beyond half the rate if it were done in Hz: works, with
	// a warning.
	z = zeroPhase(t, filter.ZeroPhaseOptions{Cutoff: 450, Rate: 1000})
	if w := z.Warnings(); len(w) != 1 || w[0].Code != "cutoff-near-nyquist" {
		t.Errorf("warnings %v", w)
	}
	if math.Abs(z.Gain(450)*math.Sqrt2-1) > 1e-12 {
		t.Errorf("gain at 450 Hz %g", z.Gain(450))
	}
	given, err := filter.NewZeroPhaseSections(z.Sections(), filter.ZeroPhaseOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if !isNaN(given.Gain(10)) || given.PassCutoff() != 0 || !strings.Contains(given.String(), "1 given sections") {
		t.Errorf("given sections: %g, %g, %q", given.Gain(10), given.PassCutoff(), given)
	}
}

// One ZeroPhase serves many goroutines (run with -race).
func TestZeroPhaseIsShared(t *testing.T) {
	z := zeroPhase(t, filter.ZeroPhaseOptions{Order: 4, Cutoff: 50, Rate: 1000, NaN: filter.NaNSegments})
	var wg sync.WaitGroup
	for g := range 8 {
		x := noise(6*(200+10*g), int64(g))
		want, err := z.Interleaved(nil, x, 6)
		if err != nil {
			t.Fatal(err)
		}
		wg.Add(1)
		go func() {
			defer wg.Done()
			for range 20 {
				if got, err := z.Interleaved(nil, x, 6); err != nil || !same(got, want) {
					t.Errorf("goroutine %d: %v", g, err)
					return
				}
				if _, err := z.Apply(nil, x); err != nil {
					t.Error(err)
					return
				}
			}
		}()
	}
	wg.Wait()
}
