package synth

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestNewtonEuler(t *testing.T) {
	s, err := New(Config{})
	if err != nil {
		t.Fatal(err)
	}
	central := &fd.Settings{Formula: fd.Central, Step: 1e-4}
	for i := 0; i < s.Len(); i += 3 {
		x := s.Start() + float64(i)/s.Config().Rate
		st := s.At(x)
		if d := st.Lead.Add(st.Trail).Sub(st.Net); r3.Norm(d.Force)+r3.Norm(d.Moment) > 1e-11 {
			t.Fatalf("at %g s the feet differ from the net wrench by %v", x, d)
		}
		a := fd.Derivative(func(t float64) float64 { return s.At(t).Velocity.Y }, x, central)
		if d := s.Config().Mass*a - st.Net.Force.Y; math.Abs(d) > 1e-3 {
			t.Fatalf("at %g s m a is off by %g N", x, d)
		}
		m := fd.Derivative(func(t float64) float64 { return s.At(t).Momentum.X }, x, central)
		if d := m - st.Net.About(st.Position).X; math.Abs(d) > 1e-3 {
			t.Fatalf("at %g s dL/dt is off by %g N·m", x, d)
		}
	}
}
