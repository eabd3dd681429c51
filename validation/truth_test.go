package validation

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/torque"
	"example.com/momentarm/validation/synth"
)

// Made-up swings obey Newton's and Euler's laws, and what the library computes
// from their wrenches is what they were made from.
func TestSwingsWithKnownTruth(t *testing.T) {
	seeds := uint64(6)
	if testing.Short() {
		seeds = 2
	}
	for seed := range seeds {
		cfg := synth.Random(seed)
		cfg.Rate = 500
		s, err := synth.New(cfg)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		mass := s.Config().Mass
		const h = 1e-4 // s, for derivatives by differences
		for k := range 200 {
			at := s.Start() + (s.End()-s.Start())*(0.01+0.98*float64(k)/200)
			x := s.At(at)
			before, after := s.At(at-h), s.At(at+h)

			// Newton: F = m(a − g), to rounding with the swing's own acceleration,
			// and with that by differences of its velocity.
			if d := r3.Norm(r3.Sub(x.Net.Force, r3.Scale(mass, r3.Add(x.Acceleration, r3.Vec{Z: synth.Gravity})))); d > 1e-11*mass*synth.Gravity {
				t.Errorf("seed %d, %.3f s: force off by %g N of m(a − g)", seed, at, d)
			}
			a := r3.Scale(1/(2*h), r3.Sub(after.Velocity, before.Velocity))
			if d := r3.Norm(r3.Sub(x.Net.Force, r3.Scale(mass, r3.Add(a, r3.Vec{Z: synth.Gravity})))); d > 0.05 {
				t.Errorf("seed %d, %.3f s: force off by %g N", seed, at, d)
			}
			// Euler: the moment is the rate of change of angular momentum.
			m := torque.About(x.Net, x.Position).Vec()
			rate := r3.Scale(1/(2*h), r3.Sub(after.Momentum, before.Momentum))
			if d := r3.Norm(r3.Sub(m, rate)); d > 0.02 {
				t.Errorf("seed %d, %.3f s: moment off by %g N·m", seed, at, d)
			}
			if d := r3.Norm(r3.Sub(m, x.Moment)); d > 1e-8 {
				t.Errorf("seed %d, %.3f s: moment off by %g N·m of the swing's own", seed, at, d)
			}
			p, free := cop.Net(x.Lead, x.Trail, 0, cop.DefaultMinVertical)
			if d := r3.Norm(r3.Sub(p, x.NetPressure)); d > 1e-9 || math.Abs(free-x.NetFree) > 1e-8 {
				t.Errorf("seed %d, %.3f s: net point off by %g m, free moment by %g N·m", seed, at, d, free-x.NetFree)
			}
			if share := cop.Share(x.Lead, x.Trail); math.Abs(share-x.Share) > 1e-9 {
				t.Errorf("seed %d, %.3f s: share %g, want %g", seed, at, share, x.Share)
			}
		}

		// The path of the centre of mass from clean forces alone.
		rec := s.Recording()
		net, err := rec.NetWrenches(nil)
		if err != nil {
			t.Fatal(err)
		}
		from, _ := s.Motion()
		path, err := com.FromForces(net, rec.Start, rec.Rate, com.ForceOptions{
			Height: s.At(from).Position.Z,
			Quiet:  com.Window{From: from - 0.8, To: from},
		})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		var worst float64
		for i := rec.Index(from); i < rec.Len(); i++ {
			worst = math.Max(worst, r3.Norm(r3.Sub(path.Position[i], s.At(rec.Time(i)).Position)))
		}
		if worst > 0.005 {
			t.Errorf("seed %d: centre of mass from forces alone up to %.1f mm off", seed, 1000*worst)
		}
	}
}

// The same swing by a golfer of other mass, with all forces in proportion: the
// same path.
func TestScaleTheMass(t *testing.T) {
	s, err := synth.New(synth.Config{Rate: 250})
	if err != nil {
		t.Fatal(err)
	}
	rec := s.Recording()
	net, err := rec.NetWrenches(nil)
	if err != nil {
		t.Fatal(err)
	}
	from, _ := s.Motion()
	opt := com.ForceOptions{Height: 0.95, Quiet: com.Window{From: from - 0.8, To: from}}
	light, err := com.FromForces(net, rec.Start, rec.Rate, opt)
	if err != nil {
		t.Fatal(err)
	}
	for i := range net {
		net[i] = net[i].Scale(1.7)
	}
	heavy, err := com.FromForces(net, rec.Start, rec.Rate, opt)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(heavy.Mass-1.7*light.Mass) > 1e-9 {
		t.Errorf("mass %g, want 1.7 × %g", heavy.Mass, light.Mass)
	}
	for i := range light.Position {
		if d := r3.Norm(r3.Sub(heavy.Position[i], light.Position[i])); d > 1e-9 {
			t.Fatalf("sample %d is %g m away", i, d)
		}
	}
}
