package validation

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/integrate"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf/filter"
	"example.com/momentarm/torque"
	"example.com/momentarm/validation/agreement"
)

// Second opinions by Gonum v0.17.0 where it has the function.

// The Fourier transform of the impulse response is the gain that the filter
// states.
func TestGainByFourierTransform(t *testing.T) {
	const n, rate = 4096, 1000.0
	for _, c := range []struct {
		order  int
		cutoff float64
	}{{2, 50}, {4, 20}, {6, 120}} {
		z, err := filter.NewZeroPhase(filter.ZeroPhaseOptions{Order: c.order, Cutoff: c.cutoff, Rate: rate})
		if err != nil {
			t.Fatal(err)
		}
		pulse := make([]float64, n)
		pulse[n/2] = 1
		if pulse, err = z.Apply(pulse, pulse); err != nil {
			t.Fatal(err)
		}
		spectrum := fourier.NewFFT(n).Coefficients(nil, pulse)
		for i, h := range spectrum {
			f := float64(i) * rate / n
			if d := math.Abs(cmplx.Abs(h) - z.Gain(f)); d > 1e-9 {
				t.Errorf("order %d, %g Hz: gain at %g Hz off by %g", c.order, c.cutoff, f, d)
			}
		}
	}
}

func TestIntegralByTrapezoids(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 1))
	for range 50 {
		n := 2 + rng.IntN(200)
		rate := 50 + 1000*rng.Float64()
		x, f := make([]float64, n), make([]float64, n)
		for i := range x {
			x[i], f[i] = float64(i)/rate, 800+300*rng.NormFloat64()
		}
		got, err := torque.Integral(f, 0, rate, 0, float64(n-1)/rate)
		if err != nil {
			t.Fatal(err)
		}
		if want := integrate.Trapezoidal(x, f); math.Abs(got-want) > 1e-12*math.Abs(want) {
			t.Errorf("%d samples: %.15g, Gonum %.15g", n, got, want)
		}
	}
}

func TestStatistics(t *testing.T) {
	for _, n := range []int{3, 10, 57, 6000} {
		m := float64(n)
		f := distuv.F{D1: 2, D2: m - 2}.Quantile(0.95)
		want := 2 * f * (m - 1) * (m + 1) / (m * (m - 2))
		if got := cop.PredictionFactor(n); math.Abs(got/want-1) > 1e-9 {
			t.Errorf("prediction factor of %d: %.12g, Gonum %.12g", n, got, want)
		}
	}
	// One-way mean squares: n rows of k.
	rng := rand.New(rand.NewPCG(11, 2))
	table := make([][]float64, 9)
	means := make([]float64, len(table))
	var within float64
	for i := range table {
		for range 4 {
			table[i] = append(table[i], 700+50*float64(i%3)+10*rng.NormFloat64())
		}
		var v float64
		means[i], v = stat.MeanVariance(table[i], nil)
		within += v / float64(len(table))
	}
	a, err := agreement.Analyse(table)
	if err != nil {
		t.Fatal(err)
	}
	if want := 4 * stat.Variance(means, nil); math.Abs(a.Between/want-1) > 1e-11 || math.Abs(a.Within/within-1) > 1e-11 {
		t.Errorf("mean squares %g, %g; Gonum %g, %g", a.Between, a.Within, want, within)
	}
}

// The straight tail of the residuals is a least-squares line.
func TestResidualLineByLeastSquares(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 3))
	signal := make([]float64, 800)
	for i := range signal {
		x := float64(i) / 200
		signal[i] = 100*math.Sin(2*math.Pi*1.5*x) + 30*math.Sin(2*math.Pi*4*x) + rng.NormFloat64()
	}
	r, err := filter.ChooseCutoff(signal, 200, filter.ResidualOptions{Short: filter.ShortReduce})
	if err != nil {
		t.Fatal(err)
	}
	var x, y []float64
	for i, f := range r.Cutoffs {
		if f >= r.FitFrom-1e-9 && f <= r.FitTo+1e-9 {
			x, y = append(x, f), append(y, r.RMS[i])
		}
	}
	intercept, slope := stat.LinearRegression(x, y, nil, false)
	if math.Abs(intercept-r.Noise) > 1e-9 || math.Abs(slope-r.Slope) > 1e-9 {
		t.Errorf("line %g %+g f, Gonum %g %+g f", r.Noise, r.Slope, intercept, slope)
	}
	if len(x) < 5 || math.Abs(r.Noise-1) > 0.15 {
		t.Errorf("noise of 1 estimated as %g from %d cut-offs", r.Noise, len(x))
	}
}
