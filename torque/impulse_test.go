package torque

import (
	"errors"
	"math"
	"math/rand"
	"testing"

	"gonum.org/v1/gonum/integrate"
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// A straight line is integrated exactly, wherever the window starts and ends.
func TestIntegralOfALine(t *testing.T) {
	const start, rate, n = -0.25, 200.0, 101 // −0.25 … 0.25 s
	line := func(s float64) float64 { return 3 + 40*s }
	xs := make([]float64, n)
	for i := range xs {
		xs[i] = line(start + float64(i)/rate)
	}
	rnd := rand.New(rand.NewSource(8))
	windows := [][2]float64{{start, 0.25}, {0, 0}, {0.25, 0.25}, {start, start}, {0.001, 0.0015}, {0.0049, 0.0051}}
	for range 200 {
		a, b := start+0.5*rnd.Float64(), start+0.5*rnd.Float64()
		windows = append(windows, [2]float64{min(a, b), max(a, b)})
	}
	for _, w := range windows {
		got, err := Integral(xs, start, rate, w[0], w[1])
		if err != nil {
			t.Fatal(err)
		}
		near(t, "line", got, (w[1]-w[0])*line((w[0]+w[1])/2), 1e-13)
	}
}

func TestIntegralAgainstLibrary(t *testing.T) {
	rnd := rand.New(rand.NewSource(9))
	const rate = 1000.0
	ts, xs := make([]float64, 500), make([]float64, 500)
	for i := range xs {
		ts[i], xs[i] = 7+float64(i)/rate, rnd.NormFloat64()
	}
	for _, w := range [][2]int{{0, 499}, {3, 5}, {100, 101}} {
		got, err := Integral(xs, 7, rate, ts[w[0]], ts[w[1]])
		if err != nil {
			t.Fatal(err)
		}
		near(t, "trapezoid rule", got, integrate.Trapezoidal(ts[w[0]:w[1]+1], xs[w[0]:w[1]+1]), 1e-13)
	}
	// Windows that share an end add up to the whole.
	a, _ := Integral(xs, 7, rate, 7, 7.12345)
	b, _ := Integral(xs, 7, rate, 7.12345, 7.4)
	c, _ := Integral(xs, 7, rate, 7, 7.4)
	near(t, "additive", a+b, c, 1e-13)
}

func TestIntegralNaN(t *testing.T) {
	xs := []float64{nan, 1, 2, 3, nan, 5}
	for _, c := range []struct{ from, to, want float64 }{
		{1, 3, 4},
		{1 - 1e-13, 3 + 1e-13, 4}, // times that come from sample numbers
		{1, 2.5, 2.625},
		{0.9, 2, nan}, // beside the lost sample
		{3, 3.1, nan},
		{2, 5, nan},
		{0, 0, 0}, // nothing is asked of it
	} {
		got, err := Integral(xs, 0, 1, c.from, c.to)
		if err != nil || math.IsNaN(c.want) != math.IsNaN(got) || !math.IsNaN(got) && math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%g to %g: %g, %v, want %g", c.from, c.to, got, err, c.want)
		}
	}
}

func TestIntegralErrors(t *testing.T) {
	xs := []float64{1, 2, 3}
	for _, c := range []struct {
		name             string
		xs               []float64
		rate, from, till float64
		want             error
	}{
		{"no samples", nil, 1, 0, 1, grf.ErrNoData},
		{"rate 0", xs, 0, 0, 1, grf.ErrRate},
		{"rate NaN", xs, nan, 0, 1, grf.ErrRate},
		{"rate infinite", xs, math.Inf(1), 0, 1, grf.ErrRate},
		{"backward", xs, 1, 1, 0.5, grf.ErrWindow},
		{"before the first", xs, 1, -0.1, 1, grf.ErrWindow},
		{"after the last", xs, 1, 1, 2.1, grf.ErrWindow},
		{"NaN", xs, 1, nan, 1, grf.ErrWindow},
		{"infinite", xs, 1, 0, math.Inf(1), grf.ErrWindow},
	} {
		got, err := Integral(c.xs, 0, c.rate, c.from, c.till)
		if !errors.Is(err, c.want) || got != 0 {
			t.Errorf("%s: %g, %v, want %v", c.name, got, err, c.want)
		}
		if _, err := LinearImpulse(make([]grf.Wrench, len(c.xs)), 0, c.rate, c.from, c.till); !errors.Is(err, c.want) {
			t.Errorf("LinearImpulse, %s: %v", c.name, err)
		}
		if _, err := AngularImpulse(make([]Planes, len(c.xs)), 0, c.rate, c.from, c.till); !errors.Is(err, c.want) {
			t.Errorf("AngularImpulse, %s: %v", c.name, err)
		}
	}
}

// Textbook impulses, work and power through the library's functions.
func TestImpulseTextbook(t *testing.T) {
	steady := func(w grf.Wrench, n int) []grf.Wrench {
		ws := make([]grf.Wrench, n)
		for i := range ws {
			ws[i] = w
		}
		return ws
	}
	// cp2 sect. 10.5 "…Rotating Food Tray": 2.50 N at 0.260 m for 0.150 s,
	// printed 9.75e-2 kg·m²/s.
	ws := steady(grf.At(r3.Vec{Y: 2.5}, r3.Vec{X: 0.26}, r3.Vec{}), 21)
	ms, err := AboutSeries(nil, ws, make([]r3.Vec, 21))
	if err != nil {
		t.Fatal(err)
	}
	l, err := AngularImpulse(ms, 0, 100, 0.02, 0.17)
	if err != nil {
		t.Fatal(err)
	}
	nearPlanes(t, "food tray", l, Planes{Horizontal: 9.75e-2}, 0.005e-2)

	// up1 sect. 9.2 "The Benefits of Impulse": 860 N of weight at 27 m/s stopped
	// in 2.5 s by 948 N (87.8 kg with g = 9.80).
	p, err := LinearImpulse(steady(grf.Wrench{Force: r3.Vec{Y: -948}}, 26), 0, 10, 0, 2.5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "car", p.Y, -860/9.8*27, 0.5*2.5)

	// cp2 sect. 10.4: 200 N at 0.320 m through 1.00 rad does 64.0 J of work. At
	// a steady 2 rad/s that takes 0.5 s.
	ws = steady(grf.At(r3.Vec{Y: 200}, r3.Vec{X: 0.32}, r3.Vec{}), 11)
	if ms, err = AboutSeries(nil, ws, make([]r3.Vec, 11)); err != nil {
		t.Fatal(err)
	}
	omega := make([]r3.Vec, 11)
	for i := range omega {
		omega[i].Z = 2
	}
	power, err := AngularPowerSeries(nil, ms, omega)
	if err != nil {
		t.Fatal(err)
	}
	work, err := Integral(power, 0, 20, 0, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "work of a moment", work, 64.0, 0.05)
}

// The work of the net force is the change of the kinetic energy of the centre of
// mass (work-energy theorem), here for a force that pushes off from rest.
func TestWorkEnergy(t *testing.T) {
	const mass, rate, n = 80.0, 1000.0, 501
	ws, vs := make([]grf.Wrench, n), make([]r3.Vec, n)
	for i := range ws {
		s := float64(i) / rate
		// a = (2t, 0, 6t²): v = (t², 0, 2t³).
		ws[i].Force = r3.Vec{X: mass * 2 * s, Z: mass * 6 * s * s}
		vs[i] = r3.Vec{X: s * s, Z: 2 * s * s * s}
	}
	power, err := PowerSeries(nil, ws, vs)
	if err != nil {
		t.Fatal(err)
	}
	got, err := Integral(power, 0, rate, 0, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	v := vs[n-1]
	// The trapezoid rule errs by h²/12·(f'(b) − f'(a)) with f = 80(2t³ + 12t⁵):
	// 3.5e-5 J, up to terms of h⁴.
	near(t, "work", got-1e-6/12*80*(6*0.25+60*0.0625), mass/2*r3.Norm2(v), 1e-9)
	if !math.IsNaN(Power(r3.Vec{X: nan}, v)) || !math.IsNaN(AngularPower(Planes{1, 1, 1}, r3.Vec{Y: nan})) {
		t.Error("NaN in, NaN out")
	}
}
