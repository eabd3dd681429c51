package live

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat"

	"example.com/momentarm/grf"
)

// A golfer who sways as a sine, whose position and velocity against their means
// over the stretch are closed forms: over whole turns the means of position,
// velocity and force are zero. A constant force error has to drop out.
func TestEndOfStretch(t *testing.T) {
	const (
		a, mass, rate = 0.004, 70.0, 1000.0
		n             = 500
		T             = n / rate
		end           = (n - 1) / rate // the last sample
	)
	for turns := 1.0; turns <= 3; turns++ {
		for _, phase := range []float64{0, 1, 2.5} {
			w := 2 * math.Pi * turns / T
			var s still
			s.init(n, 1000)
			lost := grf.NaN()
			s.push(&lost) // the ring begins anywhere
			s.push(&lost)
			y := func(t float64) float64 { return a * math.Sin(w*t+phase) }
			for i := range n {
				f := -w * w * y(float64(i)/rate) * mass
				s.push(&grf.Wrench{Force: r3.Vec{Y: f + 3, Z: mass * 9.81}})
			}
			var meanForce r3.Vec
			for i := range s.ring {
				meanForce = r3.Add(meanForce, r3.Scale(1.0/n, s.ring[i].Force))
			}
			p, v := s.end(meanForce, mass)
			if want := y(end); math.Abs(p.Y-want) > 0.01*a || math.Abs(p.X) > 1e-12 {
				t.Errorf("%g turns, phase %g: position %.6f m, want %.6f", turns, phase, p.Y, want)
			}
			if want := a * w * math.Cos(w*end+phase); math.Abs(v.Y-want) > 0.01*a*w {
				t.Errorf("%g turns, phase %g: velocity %.6f m/s, want %.6f", turns, phase, v.Y, want)
			}
		}
	}
}

// The weights are those of integrating twice in straight lines between the samples,
// step by step, and taking the means off.
func TestWeights(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for _, n := range []int{2, 3, 10, 500} {
		h := 0.001 + 0.01*rng.Float64()
		a := make([]float64, n)
		for i := range a {
			a[i] = rng.NormFloat64()
		}
		v, p := make([]float64, n), make([]float64, n)
		for i := 1; i < n; i++ {
			v[i] = v[i-1] + h/2*(a[i-1]+a[i])
			p[i] = p[i-1] + h*v[i-1] + h*h/6*(2*a[i-1]+a[i])
		}
		// Without their mean velocity, positions less their mean.
		meanV := stat.Mean(v, nil)
		for i := range p {
			p[i] -= meanV * h * float64(i)
		}
		wantP, wantV := p[n-1]-stat.Mean(p, nil), v[n-1]-meanV
		var gotP, gotV float64
		for i, w := range weigh(n, h) {
			gotP += w.position * a[i]
			gotV += w.velocity * a[i]
		}
		if size := h * h * float64(n*n); math.Abs(gotP-wantP) > 1e-13*size || math.Abs(gotV-wantV) > 1e-13*h*float64(n) {
			t.Errorf("%d samples: %g m and %g m/s, want %g and %g", n, gotP, gotV, wantP, wantV)
		}
	}
}

// The kept stretch is used as soon as the golfer is still, and then once per its
// length.
func TestDue(t *testing.T) {
	var s still
	s.init(10, 1000)
	var at []int
	for i := range 60 {
		if s.due(i >= 5 && i < 30 || i >= 35) {
			at = append(at, i)
		}
	}
	want := []int{5, 15, 25, 35, 45, 55}
	if len(at) != len(want) {
		t.Fatal(at)
	}
	for i := range want {
		if at[i] != want[i] {
			t.Errorf("%v, want %v", at, want)
		}
	}
}

// A block is that of an idle plate by its mean and its standard deviation, whatever
// is left out once somebody was on the plate.
func TestIdle(t *testing.T) {
	const n, limit = 500, 10.0
	for _, c := range []struct {
		name string
		f    func(i int) float64
		want bool
	}{
		{"unloaded", func(i int) float64 { return float64(i%3) - 1 }, false},
		{"drifted", func(i int) float64 { return 12 + float64(i%3) - 1 }, true},
		{"one jolt that a standard deviation of 5 N allows", func(i int) float64 { return 12 + 100*float64(max(0, i-n+2)) }, true},
		{"a larger one", func(i int) float64 { return 12 + 200*float64(max(0, i-n+2)) }, false},
		{"one far beyond", func(i int) float64 { return 12 + 2000*float64(max(0, i-n+2)) }, false},
		{"loaded", func(i int) float64 { return 400 }, false},
		{"stepped off", func(i int) float64 { return 400 - 388*float64(min(i, 1)) }, false},
		{"lost", func(i int) float64 { return math.NaN() }, false},
	} {
		s := newIdle(n, limit)
		for i := range n {
			s.push(&r3.Vec{Z: c.f(i)})
		}
		if s.drift != c.want {
			t.Errorf("%s: drift %v", c.name, s.drift)
		}
		for range n { // nothing is left of it
			s.push(&r3.Vec{X: 15})
		}
		if !s.drift {
			t.Errorf("%s: then drift is not seen", c.name)
		}
	}
}

// How much the wrench varies in the kept stretch does not depend on where the origin
// is, and is what a quiet stance of the same samples has.
func TestVariationDoesNotDependOnTheOrigin(t *testing.T) {
	const n = 500
	rng := rand.New(rand.NewPCG(3, 4))
	var ws []grf.Wrench
	for range n {
		ws = append(ws, grf.At(r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: 800 + 3*rng.NormFloat64()},
			r3.Vec{X: 0.02 + 0.001*rng.NormFloat64(), Y: -0.05 + 0.001*rng.NormFloat64()}, r3.Vec{Z: rng.NormFloat64()}))
	}
	for _, p := range []r3.Vec{{}, {Y: 1.2}, {X: -5, Y: 3}} {
		var s still
		s.init(n, 1000)
		rec := grf.Recording{Rate: 1000}
		for _, w := range ws {
			w = w.MovedTo(p)
			s.push(&w)
			rec.Net = append(rec.Net, w)
		}
		_, got := s.mean()
		q, err := grf.FindQuiet(&rec, grf.QuietOptions{})
		if err != nil {
			t.Fatal(err)
		}
		// The two moments over 0.5 m about the centre of pressure: 1.6 N each.
		if !(math.Abs(got-q.Variation) < 1e-9) || !(math.Abs(got*800-math.Sqrt(1+1+9+2*1.6*1.6)) < 0.2) {
			t.Errorf("origin at %v: varies by %.6f, a quiet stance by %.6f", p, got, q.Variation)
		}
	}
}
