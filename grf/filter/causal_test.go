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

// pushBlocks pushes x in blocks of so many samples; 0 means blocks of growing
// size with empty ones between.
func pushBlocks(c *filter.Causal, x []float64, block int) []float64 {
	var y, buf []float64
	n := c.Channels()
	for k := 0; len(x) > 0; k++ {
		m := block
		if block == 0 {
			m = k % 13
		}
		m = min(m*n, len(x))
		buf = c.Push(buf, x[:m])
		y = append(y, buf...)
		x = x[m:]
	}
	return y
}

// Any division into blocks gives the same digits, with gaps and after errors as
// well.
func TestBlocksAgree(t *testing.T) {
	clean := noise(6*5000, 1)
	gaps := slices.Clone(clean)
	for _, i := range []int{0, 1, 40, 41, 500, 1337} {
		gaps[6*i+i%6] = math.NaN()
	}
	infinite := slices.Clone(gaps)
	infinite[6*2000+5] = math.Inf(-1)
	for name, x := range map[string][]float64{"clean": clean, "gaps": gaps, "infinite": infinite} {
		for _, policy := range []filter.NaNPolicy{filter.NaNError, filter.NaNSegments} {
			c := causal(t, filter.CausalOptions{Order: 4, Cutoff: 50, Rate: 1000, Channels: 6, NaN: policy})
			want := slices.Clone(c.Push(nil, x))
			wantErr := c.Err()
			var bad *filter.NotFiniteError
			switch {
			case name == "clean" || name == "gaps" && policy == filter.NaNSegments:
				if wantErr != nil {
					t.Errorf("%s, %v: %v", name, policy, wantErr)
				}
			case !errors.As(wantErr, &bad) || policy == filter.NaNSegments && (bad.Index != 2000 || bad.Channel != 5) || policy == filter.NaNError && bad.Index != 0:
				t.Errorf("%s, %v: %v", name, policy, wantErr)
			}
			for _, block := range []int{1, 7, 4096, 0} {
				c.Reset()
				if got := pushBlocks(c, x, block); !same(got, want) {
					t.Errorf("%s, %v: blocks of %d differ by %g", name, policy, block, worst(got, want))
				}
				if (c.Err() == nil) != (wantErr == nil) || wantErr != nil && c.Err().Error() != wantErr.Error() {
					t.Errorf("%s, %v: blocks of %d stop with %v, want %v", name, policy, block, c.Err(), wantErr)
				}
			}
			c.Reset()
			var y []float64
			for _, w := range wrenchesOf(x) {
				y = append(y, valuesOf([]grf.Wrench{c.PushWrench(w)})...)
			}
			if !same(y, want) {
				t.Errorf("%s, %v: wrenches differ by %g", name, policy, worst(y, want))
			}
		}
	}
}

// An overflow, which only absurd sections can cause, stops at the same sample
// in any division.
func TestOverflowStopsAlike(t *testing.T) {
	c, err := filter.NewCausalSections([]filter.Section{{B0: 1e100, A1: -0.5}, {B0: 1e100}}, filter.CausalOptions{Rate: 1, Channels: 2})
	if err != nil {
		t.Fatal(err)
	}
	x := make([]float64, 40)
	for i := range x {
		x[i] = 1
	}
	x[21] = 1e120
	want := slices.Clone(c.Push(nil, x))
	if !errors.Is(c.Err(), filter.ErrOverflow) || isNaN(want[19]) || !isNaN(want[20]) || !isNaN(want[39]) {
		t.Fatalf("%v: %v", c.Err(), want)
	}
	reason := c.Err().Error()
	for _, block := range []int{1, 3} {
		c.Reset()
		if got := pushBlocks(c, x, block); !same(got, want) || c.Err().Error() != reason {
			t.Errorf("blocks of %d: %v, %v", block, got, c.Err())
		}
	}
}

// Live and recorded filtering are one arithmetic: a causal pass forward, then
// one over the reversed result, is the zero-phase filter without padding.
func TestCausalTwiceIsZeroPhase(t *testing.T) {
	s, err := filter.Butterworth(4, 40, 1000)
	if err != nil {
		t.Fatal(err)
	}
	z, err := filter.NewZeroPhaseSections(s, filter.ZeroPhaseOptions{Pad: filter.NoPad})
	if err != nil {
		t.Fatal(err)
	}
	c := causal(t, filter.CausalOptions{Order: 4, Cutoff: 40, Rate: 1000})
	x := noise(3000, 1)
	want, err := z.Apply(nil, x)
	if err != nil {
		t.Fatal(err)
	}
	y := c.Push(nil, x)
	slices.Reverse(y)
	c.Reset()
	y = c.Push(y, y)
	slices.Reverse(y)
	if !same(y, want) {
		t.Errorf("differs by %g", worst(y, want))
	}
}

func TestCausalStart(t *testing.T) {
	c := causal(t, filter.CausalOptions{Cutoff: 20, Rate: 1000, Channels: 3})
	x := slices.Repeat([]float64{800, -3, 0}, 500)
	if d := worst(c.Push(nil, x), x); d > 1e-12 { // rounding times noise gain
		t.Errorf("a constant does not pass from the first sample on: %.2g", d)
	}
	// Prime with something else: the step from there to the first sample.
	c.Reset()
	if err := c.Prime([]float64{500, 0, 0}); err != nil {
		t.Fatal(err)
	}
	y := c.Push(nil, x)
	if y[0] < 500 || y[0] > 510 || math.Abs(y[len(y)-3]-800) > 1e-6 {
		t.Errorf("primed with 500, then 800: %g … %g", y[0], y[len(y)-3])
	}
	if err := c.Prime([]float64{1, 2}); !errors.Is(err, grf.ErrChannels) {
		t.Errorf("two values for three channels: %v", err)
	}
	if err := c.Prime([]float64{1, 2, math.NaN()}); !errors.Is(err, filter.ErrNotFinite) {
		t.Errorf("NaN: %v", err)
	}
	// A refused Prime has changed nothing.
	again := causal(t, filter.CausalOptions{Cutoff: 20, Rate: 1000, Channels: 3})
	if err := again.Prime([]float64{500, 0, 0}); err != nil {
		t.Fatal(err)
	}
	again.Push(nil, x)
	if a, b := c.Push(nil, x[:3]), again.Push(nil, x[:3]); !same(a, b) {
		t.Errorf("after a refused Prime: %v, want %v", a, b)
	}
}

// A gap under NaNSegments: NaN in, NaN out, and a fresh start behind it.
func TestCausalGap(t *testing.T) {
	c := causal(t, filter.CausalOptions{Cutoff: 20, Rate: 1000, NaN: filter.NaNSegments})
	x := noise(300, 1)
	x[100] = math.NaN()
	y := c.Push(nil, x)
	fresh := causal(t, filter.CausalOptions{Cutoff: 20, Rate: 1000})
	if !isNaN(y[100]) || !same(y[:100], fresh.Push(nil, x[:100])) {
		t.Error("before the gap")
	}
	fresh.Reset()
	if !same(y[101:], fresh.Push(nil, x[101:])) {
		t.Error("behind the gap")
	}
	if c.Err() != nil {
		t.Error(c.Err())
	}
}

// An error sticks until Reset, and the answers are NaN until then.
func TestCausalErrorSticks(t *testing.T) {
	c := causal(t, filter.CausalOptions{Cutoff: 20, Rate: 1000, Channels: 2})
	c.Push(nil, []float64{1, 2, 3, 4})
	y := c.Push(nil, []float64{5, 6, 7, math.NaN(), 9, 10})
	if isNaN(y[0]) || isNaN(y[1]) || !isNaN(y[2]) || !isNaN(y[3]) || !isNaN(y[5]) {
		t.Errorf("around the NaN: %v", y)
	}
	var bad *filter.NotFiniteError
	if !errors.As(c.Err(), &bad) || bad.Index != 3 || bad.Channel != 1 {
		t.Errorf("reason: %v", c.Err())
	}
	if y := c.Push(nil, []float64{1, 2}); len(y) != 2 || !isNaN(y[0]) {
		t.Errorf("after the error: %v", y)
	}
	if err := c.Prime([]float64{0, 0}); err != nil || c.Err() == nil {
		t.Errorf("Prime must keep the error: %v, %v", err, c.Err())
	}
	c.Reset()
	if y := c.Push(nil, []float64{1, 2}); c.Err() != nil || math.Abs(y[0]-1) > 1e-12 {
		t.Errorf("after Reset: %v, %v", y, c.Err())
	}

	if y := c.Push(nil, []float64{1, 2, 3}); !errors.Is(c.Err(), grf.ErrLength) || len(y) != 3 || !isNaN(y[0]) {
		t.Errorf("three values of two channels: %v, %v", y, c.Err())
	}
	c.Reset()
	memory := make([]float64, 20)
	if c.Push(memory[2:6], memory[:4]); !errors.Is(c.Err(), filter.ErrOverlap) {
		t.Errorf("overlap: %v", c.Err())
	}
	c.Reset()
	if w := c.PushWrench(grf.Wrench{}); !w.IsNaN() || !errors.Is(c.Err(), grf.ErrChannels) {
		t.Errorf("a wrench for two channels: %v", c.Err())
	}
	c.Reset()
	if v := c.PushVector(r3.Vec{}); !isNaN(v.X) || !errors.Is(c.Err(), grf.ErrChannels) {
		t.Errorf("a vector for two channels: %v", c.Err())
	}
}

func TestPushVector(t *testing.T) {
	c := causal(t, filter.CausalOptions{Order: 4, Cutoff: 6, Rate: 100, Channels: 3})
	x := noise(300, 1)
	want := slices.Clone(c.Push(nil, x))
	c.Reset()
	for i := range 100 {
		v := c.PushVector(r3.Vec{X: x[3*i], Y: x[3*i+1], Z: x[3*i+2]})
		if !same([]float64{v.X, v.Y, v.Z}, want[3*i:3*i+3]) {
			t.Fatalf("vector %d: %v, want %v", i, v, want[3*i:3*i+3])
		}
	}
}

func TestEmptyPush(t *testing.T) {
	c := causal(t, filter.CausalOptions{Cutoff: 20, Rate: 1000})
	if y := c.Push(nil, nil); len(y) != 0 || c.Err() != nil {
		t.Errorf("%v, %v", y, c.Err())
	}
	if y := c.Push(nil, []float64{800}); math.Abs(y[0]-800) > 1e-10 {
		t.Errorf("the empty push counted as a first sample: %v", y)
	}
}

func TestCausalRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		opt  filter.CausalOptions
		want error
	}{
		"interpolate": {filter.CausalOptions{Cutoff: 20, Rate: 1000, NaN: filter.NaNInterpolate}, filter.ErrOption},
		"policy":      {filter.CausalOptions{Cutoff: 20, Rate: 1000, NaN: -1}, filter.ErrOption},
		"channels":    {filter.CausalOptions{Cutoff: 20, Rate: 1000, Channels: -1}, grf.ErrChannels},
	} {
		if _, err := filter.NewCausal(c.opt); !errors.Is(err, c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	s, err := filter.Butterworth(2, 20, 1000)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := filter.NewCausalSections(s, filter.CausalOptions{}); !errors.Is(err, grf.ErrRate) {
		t.Errorf("no rate: %v", err)
	}
	if _, err := filter.NewCausalSections(s, filter.CausalOptions{Rate: 1000, Order: 2}); !errors.Is(err, filter.ErrOption) {
		t.Errorf("order: %v", err)
	}
}

// DelayAt is the slope of the phase, by finite differences.
func TestDelayAt(t *testing.T) {
	c := causal(t, filter.CausalOptions{Order: 4, Cutoff: 50, Rate: 1000})
	const h = 1e-3
	for _, f := range []float64{5, 30, 50, 80, 300} {
		a := filter.Response(c.Sections(), f-h, 1000)
		b := filter.Response(c.Sections(), f+h, 1000)
		q := b / a
		want := -math.Atan2(imag(q), real(q)) / (2 * math.Pi * 2 * h)
		if got := c.DelayAt(f); math.Abs(got-want) > 1e-8 {
			t.Errorf("delay at %g Hz: %g s, phase slope %g s", f, got, want)
		}
	}
}
