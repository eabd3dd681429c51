package filter_test

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
)

// Winter, Biomechanics and Motor Control of Human Movement, 4th ed. 2009, the
// example to eq. 2.19: f_s/f_c = 10, no correction. The printed b1 and b2 are
// the negatives of A1 and A2; all five sum to 1.
func TestButterworthWinterPrinted(t *testing.T) {
	s, err := filter.Butterworth(2, 100, 1000)
	if err != nil {
		t.Fatal(err)
	}
	got := s[0]
	for _, c := range []struct {
		name      string
		got, want float64
		tol       float64 // half a unit of the last printed digit
	}{
		{"a0", got.B0, 0.067455, 5e-7},
		{"a1", got.B1, 0.13491, 5e-6},
		{"a2", got.B2, 0.067455, 5e-7},
		{"b1", -got.A1, 1.14298, 5e-6},
		{"b2", -got.A2, -0.41280, 5e-6},
		{"sum", got.B0 + got.B1 + got.B2 - got.A1 - got.A2, 1, 1e-15},
	} {
		if math.Abs(c.got-c.want) > c.tol {
			t.Errorf("%s = %.9f, want %.6f as printed", c.name, c.got, c.want)
		}
	}
}

// The same example with the correction for two passes, C = 0.8022 (Winter 2009
// prints 0.802); the coefficients are computed from eq. 2.19 by hand.
func TestZeroPhaseWinterCorrected(t *testing.T) {
	z := zeroPhase(t, filter.ZeroPhaseOptions{Cutoff: 100, Rate: 1000})
	got := z.Sections()[0]
	want := filter.Section{B0: 0.09444674388485, B1: 0.18889348776970, B2: 0.09444674388485, A1: -0.96264130884421, A2: 0.34042828438361}
	for i, p := range [][2]float64{{got.B0, want.B0}, {got.B1, want.B1}, {got.B2, want.B2}, {got.A1, want.A1}, {got.A2, want.A2}} {
		if math.Abs(p[0]-p[1]) > 1e-13 { // 14 digits given
			t.Errorf("coefficient %d = %.14f, want %.14f", i, p[0], p[1])
		}
	}
	c := math.Tan(math.Pi*100/1000) / math.Tan(math.Pi*z.PassCutoff()/1000)
	if math.Abs(c-0.8022432629231502) > 1e-14 {
		t.Errorf("C = %.16f", c)
	}
	if math.Round(c*1000) != 802 {
		t.Errorf("C = %.4f, printed 0.802", c)
	}
}

// The correction for two passes by order of one pass, C = (√2−1)^(1/2n) (Winter
// 2009; Robertson et al. 2013 for the general form), and −3 dB of the pair at
// the wanted cut-off whatever its ratio to the rate.
func TestPairHasItsCutoff(t *testing.T) {
	for _, c := range []struct {
		order int
		c     float64
	}{{2, 0.8022}, {4, 0.8957}} {
		for _, at := range []struct{ rate, cutoff float64 }{
			{1000, 10}, {1000, 50}, {200, 50}, {100, 30}, {1000, 499}, {1000, 0.1}, {60, 6},
		} {
			z := zeroPhase(t, filter.ZeroPhaseOptions{Cutoff: at.cutoff, Rate: at.rate, Order: c.order})
			// Rounding of the coefficients grows with the square of the rate over
			// the distance of the cut-off from zero or from half the rate.
			tol := 1e-12 + 1e-15*math.Pow(at.rate/min(at.cutoff, at.rate/2-at.cutoff), 2)
			if g := z.Gain(at.cutoff); math.Abs(g*math.Sqrt2-1) > tol {
				t.Errorf("order %d, %g Hz at %g Hz: gain %.12f, want 1/√2", c.order, at.cutoff, at.rate, g)
			}
			ratio := math.Tan(math.Pi*at.cutoff/at.rate) / math.Tan(math.Pi*z.PassCutoff()/at.rate)
			if math.Abs(ratio-c.c) > 5e-5 {
				t.Errorf("order %d: C = %.5f, want %.4f", c.order, ratio, c.c)
			}
		}
	}
}

// What the effective cut-off would be without a correction, and with a
// correction of the frequency in Hz: the table that shows why neither is done.
// Effective points of two passes of order 2, found by bisection.
func TestEffectiveCutoffs(t *testing.T) {
	const c = 0.8022432629231502
	for _, row := range []struct {
		rate, cutoff, none, onHz, onTan float64
	}{
		{1000, 10, 8.02, 10.002, 10.000},
		{1000, 50, 40.2, 50.23, 50.000},
		{200, 50, 43.0, 55.6, 50.000},
		{100, 30, 26.6, 34.7, 30.000},
	} {
		plain, err := filter.Butterworth(2, row.cutoff, row.rate)
		if err != nil {
			t.Fatal(err)
		}
		hz, err := filter.Butterworth(2, row.cutoff/c, row.rate)
		if err != nil {
			t.Fatal(err)
		}
		z := zeroPhase(t, filter.ZeroPhaseOptions{Cutoff: row.cutoff, Rate: row.rate})
		for _, v := range []struct {
			name     string
			sections []filter.Section
			want     float64
			tol      float64 // half a unit of the last digit given
		}{
			{"none", plain, row.none, halfUnit(row.none)},
			{"on Hz", hz, row.onHz, halfUnit(row.onHz)},
			{"on tan", z.Sections(), row.onTan, 5e-4},
		} {
			if got := pairCutoff(v.sections, row.rate); math.Abs(got-v.want) > v.tol {
				t.Errorf("%g Hz at %g Hz, correction %s: −3 dB at %.4f Hz, want %g", row.cutoff, row.rate, v.name, got, v.want)
			}
		}
	}
}

// halfUnit is half a unit of the last decimal that %g prints.
func halfUnit(x float64) float64 {
	s := fmt.Sprintf("%g", x)
	for i := range s {
		if s[i] == '.' {
			return 0.5001 * math.Pow(10, -float64(len(s)-i-1))
		}
	}
	return 0.5
}

// pairCutoff finds where two passes have −3 dB.
func pairCutoff(sections []filter.Section, rate float64) float64 {
	lo, hi := 0.0, rate/2
	for range 80 {
		mid := (lo + hi) / 2
		if g := cmplx.Abs(filter.Response(sections, mid, rate)); g*g > math.Sqrt2/2 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo
}

// The magnitude of a Butterworth low-pass in closed form:
// |H|² = 1/(1 + (tan(πf/f_s)/tan(πf_c/f_s))^2n) (Butterworth 1930 with the
// bilinear transform).
func TestButterworthMagnitude(t *testing.T) {
	for order := 2; order <= filter.MaxOrder; order += 2 {
		for _, cutoff := range []float64{5, 50, 250, 400} {
			s, err := filter.Butterworth(order, cutoff, 1000)
			if err != nil {
				t.Fatal(err)
			}
			for f := 0.0; f < 500; f += 12.5 {
				ratio := math.Tan(math.Pi*f/1000) / math.Tan(math.Pi*cutoff/1000)
				want := 1 / math.Sqrt(1+math.Pow(ratio, float64(2*order)))
				got := cmplx.Abs(filter.Response(s, f, 1000))
				if math.Abs(got-want) > 1e-10 { // sharp pole pairs of high orders cancel
					t.Errorf("order %d, cut-off %g Hz: |H(%g Hz)| = %.12g, want %.12g", order, cutoff, f, got, want)
				}
			}
		}
	}
}

// At zero frequency each section passes exactly what comes in, even at
// cut-offs where the coefficients have lost digits.
func TestGainAtZeroIsOne(t *testing.T) {
	for _, cutoff := range []float64{0.001, 0.01, 0.1, 1, 10, 100, 499} {
		for _, order := range []int{2, 4, 8, 20} {
			sections, err := filter.Butterworth(order, cutoff, 1000)
			if err != nil {
				t.Fatal(err)
			}
			for _, s := range sections {
				if g := (s.B0 + s.B1 + s.B2) / (1 + s.A1 + s.A2); g != 1 {
					t.Errorf("order %d at %g Hz: gain of %v at zero is 1 %+g", order, cutoff, s, g-1)
				}
			}
		}
	}
}

// The group delay at zero frequency in closed form: Σ d_k/(2·rate·tan(πf_c/f_s))
// with the prototype's 2 sin((2k−1)π/2n); √2/(2πf_c) for order 2 and low
// cut-offs.
func TestDelayClosedForm(t *testing.T) {
	for _, order := range []int{2, 4, 6, 12} {
		for _, cutoff := range []float64{2, 50, 200} {
			c, err := filter.NewCausal(filter.CausalOptions{Order: order, Cutoff: cutoff, Rate: 1000})
			if err != nil {
				t.Fatal(err)
			}
			sum := 0.0
			for k := 1; k <= order/2; k++ {
				sum += 2 * math.Sin(float64(2*k-1)*math.Pi/float64(2*order))
			}
			want := sum / (2 * 1000 * math.Tan(math.Pi*cutoff/1000))
			if got := c.Delay(); math.Abs(got/want-1) > 1e-10 {
				t.Errorf("order %d at %g Hz: delay %g s, want %g s", order, cutoff, got, want)
			}
		}
	}
	c, err := filter.NewCausal(filter.CausalOptions{Cutoff: 50, Rate: 1000})
	if err != nil {
		t.Fatal(err)
	}
	if d := c.Delay(); math.Abs(d-math.Sqrt2/(2*math.Pi*50)) > 5e-5 || math.Abs(d-4.5e-3) > 5e-5 {
		t.Errorf("delay at 50 Hz: %g s", d)
	}
	// A ramp is late by exactly the delay once the start has died away.
	var y []float64
	for i := range 2000 {
		y = c.Push(y, []float64{float64(i) / 1000})
	}
	if late := 1.999 - y[0]; math.Abs(late-c.Delay()) > 1e-12 {
		t.Errorf("a ramp is late by %g s, Delay says %g s", late, c.Delay())
	}
}

func TestButterworthRefuses(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		name         string
		order        int
		cutoff, rate float64
		want         error
	}{
		{"order 0", 0, 50, 1000, filter.ErrOrder},
		{"order 1", 1, 50, 1000, filter.ErrOrder},
		{"order 3", 3, 50, 1000, filter.ErrOrder},
		{"order −2", -2, 50, 1000, filter.ErrOrder},
		{"order 50", 50, 50, 1000, filter.ErrOrder},
		{"cut-off 0", 2, 0, 1000, filter.ErrCutoff},
		{"cut-off negative", 2, -5, 1000, filter.ErrCutoff},
		{"cut-off NaN", 2, nan, 1000, filter.ErrCutoff},
		{"cut-off Inf", 2, inf, 1000, filter.ErrCutoff},
		{"cut-off at half the rate", 2, 500, 1000, filter.ErrCutoff},
		{"cut-off above half the rate", 2, 700, 1000, filter.ErrCutoff},
		{"cut-off too low", 2, 0.0005, 1000, filter.ErrCutoff},
		{"cut-off too near half the rate", 2, 499.9995, 1000, filter.ErrCutoff},
		{"rate 0", 2, 50, 0, grf.ErrRate},
		{"rate negative", 2, 50, -1, grf.ErrRate},
		{"rate NaN", 2, 50, nan, grf.ErrRate},
		{"rate Inf", 2, 50, inf, grf.ErrRate},
	} {
		if s, err := filter.Butterworth(c.order, c.cutoff, c.rate); !errors.Is(err, c.want) || s != nil {
			t.Errorf("%s: Butterworth gives %v, %v", c.name, s, err)
		}
		if c.order == 0 {
			continue // the default order of the others
		}
		if z, err := filter.NewZeroPhase(filter.ZeroPhaseOptions{Order: c.order, Cutoff: c.cutoff, Rate: c.rate}); !errors.Is(err, c.want) || z != nil {
			t.Errorf("%s: NewZeroPhase gives %v, %v", c.name, z, err)
		}
		if f, err := filter.NewCausal(filter.CausalOptions{Order: c.order, Cutoff: c.cutoff, Rate: c.rate}); !errors.Is(err, c.want) || f != nil {
			t.Errorf("%s: NewCausal gives %v, %v", c.name, f, err)
		}
	}
	_, err := filter.Butterworth(2, 700, 1000)
	var ce *filter.CutoffError
	if !errors.As(err, &ce) || ce.Cutoff != 700 || ce.Nyquist() != 500 {
		t.Errorf("the error does not say where the bound is: %v", err)
	}
}

func TestSectionsRefused(t *testing.T) {
	nan := math.NaN()
	for name, s := range map[string][]filter.Section{
		"none":          nil,
		"NaN":           {{B0: nan}},
		"Inf":           {{B0: math.Inf(1)}},
		"unstable":      {{B0: 1, A1: -2.1, A2: 1.05}},
		"pole at 1":     {{B0: 1, A1: -1}},
		"on the circle": {{B0: 1, A1: 0, A2: 1}},
		"the second":    {{B0: 1}, {B0: 1, A2: -1.5}},
	} {
		if _, err := filter.NewZeroPhaseSections(s, filter.ZeroPhaseOptions{}); !errors.Is(err, filter.ErrSections) {
			t.Errorf("%s: NewZeroPhaseSections gives %v", name, err)
		}
		if _, err := filter.NewCausalSections(s, filter.CausalOptions{Rate: 1000}); !errors.Is(err, filter.ErrSections) {
			t.Errorf("%s: NewCausalSections gives %v", name, err)
		}
	}
}

// Every design that is accepted can be run: its sections are stable, up to the
// bounds of the cut-off and for any order.
func TestDesignsAreStable(t *testing.T) {
	for order := 2; order <= filter.MaxOrder; order += 2 {
		for _, cutoff := range []float64{0.001, 0.0011, 0.5, 250, 499.5, 499.999} {
			z := zeroPhase(t, filter.ZeroPhaseOptions{Order: order, Cutoff: cutoff, Rate: 1000})
			if _, err := filter.NewZeroPhaseSections(z.Sections(), filter.ZeroPhaseOptions{}); err != nil {
				t.Errorf("order %d at %g Hz: %v", order, cutoff, err)
			}
		}
	}
}
