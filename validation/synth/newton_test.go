package synth

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/spatial/r3"
)

// Five-point formulas of the first and second derivative, error h⁴/30 f⁽⁵⁾ and
// h⁴/90 f⁽⁶⁾ (Abramowitz and Stegun, Handbook of Mathematical Functions, 1964,
// table 25.2 and 25.3.24, from memory).
var (
	first = &fd.Settings{Step: 1e-3, Formula: fd.Formula{
		Stencil:    []fd.Point{{Loc: -2, Coeff: 1. / 12}, {Loc: -1, Coeff: -8. / 12}, {Loc: 1, Coeff: 8. / 12}, {Loc: 2, Coeff: -1. / 12}},
		Derivative: 1, Step: 1e-3,
	}}
	second = &fd.Settings{Step: 2e-3, Formula: fd.Formula{
		Stencil: []fd.Point{{Loc: -2, Coeff: -1. / 12}, {Loc: -1, Coeff: 16. / 12}, {Loc: 0, Coeff: -30. / 12},
			{Loc: 1, Coeff: 16. / 12}, {Loc: 2, Coeff: -1. / 12}},
		Derivative: 2, Step: 2e-3,
	}}
)

func derivative(f func(t float64) r3.Vec, t float64, set *fd.Settings) r3.Vec {
	axis := func(pick func(r3.Vec) float64) float64 {
		return fd.Derivative(func(t float64) float64 { return pick(f(t)) }, t, set)
	}
	return vec(
		axis(func(v r3.Vec) float64 { return v.X }),
		axis(func(v r3.Vec) float64 { return v.Y }),
		axis(func(v r3.Vec) float64 { return v.Z }),
	)
}

// swings returns one swing of every style, and some of other golfers.
func swings(t testing.TB) map[string]*Swing {
	t.Helper()
	all := make(map[string]*Swing)
	add := func(name string, cfg Config) {
		s, err := New(cfg)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		all[name] = s
	}
	for style := range Style(styles) {
		add(style.String(), Config{Style: style})
	}
	add("light and quick", Config{Mass: 48, Stature: 1.58, Downswing: 0.24, Tempo: 2.5, Strength: 1.1, Individual: 3, Waggles: 2})
	add("heavy and slow", Config{Mass: 118, Stature: 1.93, Downswing: 0.36, Tempo: 3.6, Strength: 0.8, Individual: 9, Start: -3})
	add("waggles only", Config{Style: Still, Waggles: 3})
	add("false start", Config{Waggles: 1, WaggleSize: 4})
	return all
}

// TestNewtonEuler differentiates path and angular momentum numerically, knowing
// nothing of how they are made, and holds the results against the forces under
// the feet.
func TestNewtonEuler(t *testing.T) {
	for name, s := range swings(t) {
		t.Run(name, func(t *testing.T) {
			m := s.Config().Mass
			position := func(t float64) r3.Vec { return s.At(t).Position }
			velocity := func(t float64) r3.Vec { return s.At(t).Velocity }
			momentum := func(t float64) r3.Vec { return s.At(t).Momentum }
			moved := false
			for x := s.Start() + 0.01; x < s.End(); x += 0.0137 {
				st := s.At(x)
				force := r3.Add(st.Lead.Force, st.Trail.Force)

				a := derivative(position, x, second)
				a.Z += Gravity
				// The formula's own error is below 1e-4 m/s² for these curves.
				if d := r3.Norm(r3.Sub(r3.Scale(m, a), force)); d > 1e-3*m {
					t.Fatalf("at %.4f s the force is %g N off m (a + g)", x, d)
				}
				if d := r3.Norm(r3.Sub(derivative(position, x, first), st.Velocity)); d > 1e-7 {
					t.Fatalf("at %.4f s the velocity is %g m/s off dr/dt", x, d)
				}
				if d := r3.Norm(r3.Sub(derivative(velocity, x, first), st.Acceleration)); d > 1e-4 {
					t.Fatalf("at %.4f s the acceleration is %g m/s² off dv/dt", x, d)
				}
				// The moment about the centre of mass from what stands under the
				// feet: pressure, force, free moment.
				var moment r3.Vec
				for _, foot := range []struct {
					p, f r3.Vec
					free float64
				}{{st.LeadPressure, st.Lead.Force, st.LeadFree}, {st.TrailPressure, st.Trail.Force, st.TrailFree}} {
					if foot.f.Z == 0 {
						if r3.Norm(foot.f) != 0 || !math.IsNaN(foot.p.X) || !math.IsNaN(foot.free) {
							t.Fatalf("at %.4f s an unloaded foot pushes with %v at %v", x, foot.f, foot.p)
						}
						continue
					}
					moment = r3.Add(moment, r3.Cross(r3.Sub(foot.p, st.Position), foot.f))
					moment.Z += foot.free
				}
				if d := r3.Norm(r3.Sub(derivative(momentum, x, first), moment)); d > 1e-2 {
					t.Fatalf("at %.4f s the moment is %g N·m off dL/dt", x, d)
				}
				if d := r3.Norm(r3.Sub(st.Moment, moment)); d > 1e-10 {
					t.Fatalf("at %.4f s Moment is %g N·m off the feet's", x, d)
				}
				moved = moved || r3.Norm(st.Velocity) > 0.01
			}
			if still := name == "still"; moved == still {
				t.Errorf("moved: %v", moved)
			}
		})
	}
}

// TestSums holds the feet's wrenches against the net one and the other parts
// of a state against each other, to rounding.
func TestSums(t *testing.T) {
	for name, s := range swings(t) {
		weight := s.Config().Mass * Gravity
		for x := s.Start(); x < s.End(); x += 0.0041 {
			st := s.At(x)
			d := st.Lead.Add(st.Trail).Sub(st.Net)
			if r3.Norm(d.Force)+r3.Norm(d.Moment) > 1e-14*weight*10 {
				t.Fatalf("%s at %.4f s: feet and net differ by %v", name, x, d)
			}
			if d := r3.Norm(r3.Sub(st.Net.About(st.Position), st.Moment)); d > 1e-12*weight {
				t.Fatalf("%s at %.4f s: moment off by %g", name, x, d)
			}
			// About the net centre of pressure only the vertical moment is left.
			about := st.Net.About(st.NetPressure)
			if math.Hypot(about.X, about.Y) > 1e-12*weight || math.Abs(about.Z-st.NetFree) > 1e-12*weight {
				t.Fatalf("%s at %.4f s: %v about the pressure, free moment %g", name, x, about, st.NetFree)
			}
			if d := math.Abs(st.Lead.Force.Z - st.Share*st.Net.Force.Z); d > 1e-12*weight {
				t.Fatalf("%s at %.4f s: share %g does not match", name, x, st.Share)
			}
			if st.Lead.Force.Z < 0 || st.Trail.Force.Z < 0 {
				t.Fatalf("%s at %.4f s: a foot pulls", name, x)
			}
		}
	}
}

func TestStill(t *testing.T) {
	for name, s := range swings(t) {
		cfg := s.Config()
		from, to := s.Motion()
		at := s.At(s.Start())
		if at.Net.Force != vec(0, 0, cfg.Mass*Gravity) || at.Moment != vec(0, 0, 0) || at.Velocity != vec(0, 0, 0) {
			t.Errorf("%s is not at rest at the start: %+v", name, at)
		}
		if d := r3.Sub(at.NetPressure, at.Position); d.X != 0 || d.Y != 0 {
			t.Errorf("%s does not stand over the pressure: %v", name, d)
		}
		if cfg.Style == Still {
			if !math.IsNaN(from) || !math.IsNaN(to) {
				t.Errorf("%s moves from %g to %g", name, from, to)
			}
			continue
		}
		if quiet := from - s.Aboard(); quiet < cfg.Address {
			t.Errorf("%s is still for %g s only", name, quiet)
		}
		same := func(x float64, want State) {
			got := s.At(x)
			got.Time, want.Time = 0, 0
			if got != want {
				t.Errorf("%s at %g s is not still:\n%+v\n%+v", name, x, got, want)
			}
		}
		for x := from - cfg.Address; x <= from; x += 0.01 {
			same(x, at)
		}
		end := s.At(s.End())
		if end.Acceleration != vec(0, 0, 0) || end.Velocity != vec(0, 0, 0) || end.Momentum != vec(0, 0, 0) || end.Moment != vec(0, 0, 0) {
			t.Errorf("%s does not come to rest: %+v", name, end)
		}
		for x := to; x <= s.End()+1; x += 0.01 {
			same(x, end)
		}
		if hold := s.End() - to; math.Abs(hold-cfg.Hold) > 1e-9 {
			t.Errorf("%s holds the finish for %g s", name, hold)
		}
	}
}
