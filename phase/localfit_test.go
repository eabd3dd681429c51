package phase

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A polynomial is fitted exactly, so its own turning points and roots must come
// back.
func TestLocalFitOfACubicIsExact(t *testing.T) {
	f := newLocalFit(0.02, 1000, 1000)
	// x = 3 + 50 (t−t0) − 4000 (t−t0)² + 9000 (t−t0)³ around sample 100
	for _, shift := range []float64{-0.4, 0, 0.3} {
		x := make([]float64, 201)
		for i := range x {
			s := (float64(i) - 100 - shift) / 1000
			x[i] = 3 + s*(50+s*(-4000+s*9000))
		}
		// 50 − 8000 s + 27000 s² = 0
		at := (8000 - math.Sqrt(8000*8000-4*27000*50)) / (2 * 27000)
		want := at + shift/1000
		i := 100 + int(math.Round(1000*want))
		offset, curvature, ok := f.peak(x, i)
		if got := float64(i-100)/1000 + offset; !ok || math.Abs(got-want) > 1e-9 {
			t.Errorf("shift %g: peak at %.9f, want %.9f (%v)", shift, got, want, ok)
		}
		if want := -8000 + 54000*at; math.Abs(curvature-want) > 1e-3 {
			t.Errorf("curvature %g, want %g", curvature, want)
		}
	}
}

func TestLocalFitCrossing(t *testing.T) {
	f := newLocalFit(0.02, 1000, 1000)
	x := make([]float64, 101)
	for i := range x {
		x[i] = math.Sin(2 * math.Pi * 2 * (float64(i) - 50.37) / 1000)
	}
	offset, slope, ok := f.crossing(x, 50, 0)
	// The fit leaves out the seventh-order term: (2π·2·0.02)⁷/7! is 1e-8 of 1.
	if !ok || math.Abs(offset-0.00037) > 1e-6 || math.Abs(slope-4*math.Pi) > 1e-2 {
		t.Errorf("crossing %.7f s, slope %.4f, %v", offset, slope, ok)
	}
}

func TestLocalFitRefusesBordersAndLosses(t *testing.T) {
	f := newLocalFit(0.02, 1000, 1000)
	x := make([]float64, 100)
	for _, i := range []int{0, 19, 80, 99} {
		if _, ok := f.at(x, i); ok {
			t.Errorf("fitted over the border at %d", i)
		}
	}
	x[50] = math.NaN()
	if _, ok := f.at(x, 55); ok {
		t.Error("fitted over a lost sample")
	}
	if _, _, ok := f.peak(make([]float64, 100), 50); ok {
		t.Error("a flat signal has a peak")
	}
}

// The stated scatter must be that of the fit: slope of white noise of SD 1 over
// n points 1 ms apart, by the variance of Savitzky–Golay weights.
func TestLocalFitScatter(t *testing.T) {
	f := newLocalFit(0.02, 1000, 1000)
	rnd := rand.New(rand.NewPCG(1, 1))
	x := make([]float64, 20000)
	for i := range x {
		x[i] = rnd.NormFloat64()
	}
	value, slope := f.scatter(x, 0, len(x)-1)
	norm := func(w []float64) float64 {
		var s float64
		for _, v := range w {
			s += v * v
		}
		return math.Sqrt(s)
	}
	if v := norm(f.weights[0]); math.Abs(value/v-1) > 0.1 {
		t.Errorf("value scatter %g, want %g", value, v)
	}
	if v := norm(f.weights[1]); math.Abs(slope/v-1) > 0.1 {
		t.Errorf("slope scatter %g, want %g", slope, v)
	}
	if v, _ := f.scatter(x, 0, 10); !math.IsNaN(v) {
		t.Errorf("scatter of too few samples: %g", v)
	}
}
