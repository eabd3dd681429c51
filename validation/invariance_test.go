package validation

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
	"example.com/momentarm/torque"
	"example.com/momentarm/units"
)

// sample is one instant of two feet on a floor, with the centre of mass.
type sample struct {
	lead, trail grf.Wrench
	mass        r3.Vec
}

func (s sample) net() grf.Wrench { return s.lead.Add(s.trail) }

// randomSample draws forces, points and free moments of the size that golfers
// make.
func randomSample(rng *rand.Rand) sample {
	u := func(low, high float64) float64 { return low + (high-low)*rng.Float64() }
	foot := func(y float64) grf.Wrench {
		return grf.At(
			r3.Vec{X: u(-150, 150), Y: u(-200, 200), Z: u(60, 1100)},
			r3.Vec{X: u(-0.12, 0.12), Y: y + u(-0.05, 0.05)},
			r3.Vec{Z: u(-25, 25)})
	}
	return sample{foot(0.25), foot(-0.25), r3.Vec{X: u(-0.1, 0.1), Y: u(-0.2, 0.2), Z: u(0.8, 1.1)}}
}

// findings is all that is told about a sample.
type findings struct {
	net, lead, trail    r3.Vec // centres of pressure
	free                float64
	share               float64
	moment              torque.Planes
	arms                torque.Arm
	pivoting, contact   float64
	leadPart, trailPart torque.Planes
}

func find(s sample) findings {
	var f findings
	f.net, f.free = cop.Net(s.lead, s.trail, 0, cop.DefaultMinVertical)
	f.lead, _ = cop.Of(s.lead, 0, cop.DefaultMinVertical)
	f.trail, _ = cop.Of(s.trail, 0, cop.DefaultMinVertical)
	f.share = cop.Share(s.lead, s.trail)
	f.moment = torque.About(s.net(), s.mass)
	f.arms = torque.Arms(s.net(), s.mass, f.free, 0)
	g := torque.Pivot(s.lead, s.trail, s.mass, 0, cop.DefaultMinVertical)
	f.pivoting, f.contact = g.Pivoting(), g.FootContact()
	p := torque.Parts(s.lead, s.trail, s.mass, 0, cop.DefaultMinVertical)
	f.leadPart, f.trailPart = p.Lead.Sum(), p.Trail.Sum()
	return f
}

// numbers lists the findings; polar tells the ones that change sign when Y is
// mirrored.
func (f findings) numbers() (x []float64, mirrored []bool) {
	add := func(m bool, v ...float64) {
		for _, y := range v {
			x, mirrored = append(x, y), append(mirrored, m)
		}
	}
	vec := func(v r3.Vec) { add(false, v.X); add(true, v.Y); add(false, v.Z) }
	planes := func(p torque.Planes) { add(true, p.Frontal); add(false, p.Sagittal); add(true, p.Horizontal) }
	vec(f.net)
	vec(f.lead)
	vec(f.trail)
	add(true, f.free)
	add(false, f.share)
	planes(f.moment)
	planes(f.arms.Planes)
	add(false, f.arms.ThreeD)
	add(true, f.pivoting, f.contact)
	planes(f.leadPart)
	planes(f.trailPart)
	return x, mirrored
}

func same(t *testing.T, what string, got, want findings) {
	t.Helper()
	g, _ := got.numbers()
	w, _ := want.numbers()
	for i := range w {
		// Rounding of sums of products of up to 1e3 N and 1e1 m.
		if !(math.Abs(g[i]-w[i]) <= 1e-9*math.Max(1, math.Abs(w[i]))) {
			t.Errorf("%s: number %d is %.15g, want %.15g", what, i, g[i], w[i])
		}
	}
}

const trials = 300

// A laboratory with other axes and another origin measures the same swing: in
// swing axes nothing changes.
func TestTurnAndMoveTheLaboratory(t *testing.T) {
	rng := rand.New(rand.NewPCG(10, 1))
	for range trials {
		s := randomSample(rng)
		want := find(s)
		// Up and target in some laboratory.
		up := r3.Unit(r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()})
		target := r3.Cross(up, r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()})
		origin := r3.Vec{X: 5 * rng.NormFloat64(), Y: 5 * rng.NormFloat64(), Z: rng.NormFloat64()}
		axes, err := grf.NewAxes(up, target, origin, grf.RightHanded)
		if err != nil {
			continue // target along up: nobody's laboratory
		}
		back := sample{
			lead:  axes.Wrench(axes.LabWrench(s.lead)),
			trail: axes.Wrench(axes.LabWrench(s.trail)),
			mass:  axes.Point(axes.LabPoint(s.mass)),
		}
		same(t, "turned laboratory", find(back), want)

		// What does not depend on axes at all can be asked in the laboratory.
		w := axes.LabWrench(s.net())
		p, free := cop.OnPlane(w, origin, up, cop.DefaultMinVertical)
		if d := r3.Norm(r3.Sub(p, axes.LabPoint(want.net))); d > 1e-9 || math.Abs(free-want.free) > 1e-8 {
			t.Errorf("point in the laboratory is %g m away, free moment %g, want %g", d, free, want.free)
		}
		if d := r3.Norm(w.About(axes.LabPoint(s.mass))) - r3.Norm(want.moment.Vec()); math.Abs(d) > 1e-8 {
			t.Errorf("size of the moment differs by %g", d)
		}
	}
}

// Another point of the floor as the origin moves points and leaves moments.
func TestMoveTheOrigin(t *testing.T) {
	rng := rand.New(rand.NewPCG(10, 2))
	for range trials {
		s := randomSample(rng)
		want := find(s)
		d := r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64()}
		moved := sample{s.lead.MovedTo(d), s.trail.MovedTo(d), r3.Sub(s.mass, d)}
		want.net, want.lead, want.trail = r3.Sub(want.net, d), r3.Sub(want.lead, d), r3.Sub(want.trail, d)
		same(t, "moved origin", find(moved), want)
	}
}

// A left-handed golfer who does the same in a mirror has the same findings.
func TestMirrorTheGolfer(t *testing.T) {
	rng := rand.New(rand.NewPCG(10, 3))
	up, target := r3.Vec{Z: 1}, r3.Vec{Y: 1}
	mirrored := r3.Vec{Y: -1}
	for range trials {
		s := randomSample(rng)
		right, err := grf.NewAxes(up, target, r3.Vec{}, grf.RightHanded)
		if err != nil {
			t.Fatal(err)
		}
		left, err := grf.NewAxes(up, mirrored, r3.Vec{}, grf.LeftHanded)
		if err != nil {
			t.Fatal(err)
		}
		// In the laboratory the left-hander stands facing the same way with
		// everything mirrored in Y.
		flip := func(w grf.Wrench) grf.Wrench {
			w.Force.Y, w.Moment.X, w.Moment.Z = -w.Force.Y, -w.Moment.X, -w.Moment.Z
			return w
		}
		flipped := r3.Vec{X: s.mass.X, Y: -s.mass.Y, Z: s.mass.Z}
		a := find(sample{right.Wrench(s.lead), right.Wrench(s.trail), right.Point(s.mass)})
		b := find(sample{left.Wrench(flip(s.lead)), left.Wrench(flip(s.trail)), left.Point(flipped)})
		same(t, "mirrored golfer", b, a)

		// Without the mirror, the findings that belong to the sides change sign.
		c, m := find(sample{flip(s.lead), flip(s.trail), flipped}).numbers()
		for i, x := range func() []float64 { x, _ := a.numbers(); return x }() {
			if m[i] {
				x = -x
			}
			if math.Abs(c[i]-x) > 1e-9*math.Max(1, math.Abs(x)) {
				t.Errorf("number %d of the mirrored sample is %g, want %g", i, c[i], x)
			}
		}
	}
}

// The order of the plates does not matter to what both do together.
func TestSwapThePlates(t *testing.T) {
	rng := rand.New(rand.NewPCG(10, 4))
	for range trials {
		s := randomSample(rng)
		want := find(s)
		want.lead, want.trail = want.trail, want.lead
		want.leadPart, want.trailPart = want.trailPart, want.leadPart
		want.share = 1 - want.share
		same(t, "swapped plates", find(sample{s.trail, s.lead, s.mass}), want)
	}
}

// All forces times a factor: points, arms and shares stay, moments scale.
func TestScaleTheForces(t *testing.T) {
	rng := rand.New(rand.NewPCG(10, 5))
	for range trials {
		s := randomSample(rng)
		k := 1 + 3*rng.Float64() // up: no foot drops under the threshold
		want := find(s)
		for _, p := range []*torque.Planes{&want.moment, &want.leadPart, &want.trailPart} {
			*p = p.Scale(k)
		}
		want.free *= k
		want.pivoting *= k
		want.contact *= k
		same(t, "scaled forces", find(sample{s.lead.Scale(k), s.trail.Scale(k), s.mass}), want)
	}
}

// plateOver returns a plate of type 2 around a point of the floor, z down, with
// its measuring origin somewhere below, and the function that tells its
// channels for a wrench in the laboratory.
func plateOver(t *testing.T, centre r3.Vec, origin r3.Vec, sense grf.Sense) (*grf.Plate, func(grf.Wrench) []float64) {
	t.Helper()
	// Plate x along laboratory X, y along −Y, z down.
	corner := func(x, y float64) r3.Vec { return r3.Add(centre, r3.Vec{X: x, Y: -y}) }
	p, err := grf.NewPlate(grf.PlateConfig{
		Type:    grf.TypeMoment,
		Corners: [4]r3.Vec{corner(0.3, 0.25), corner(-0.3, 0.25), corner(-0.3, -0.25), corner(0.3, -0.25)},
		Origin:  origin, Sense: sense,
	})
	if err != nil {
		t.Fatal(err)
	}
	return p, func(w grf.Wrench) []float64 {
		if sense == grf.Action {
			w = w.Scale(-1)
		}
		l := p.Frame().WrenchIn(w)                       // about the surface centre, plate axes
		m := r3.Add(l.Moment, r3.Cross(origin, l.Force)) // about the measuring origin
		return []float64{l.Force.X, l.Force.Y, l.Force.Z, m.X, m.Y, m.Z}
	}
}

// Action and reaction, the depth of the sensors and the place of the plate are
// the plate's own affair: the wrench is the same.
func TestPlatesAgree(t *testing.T) {
	rng := rand.New(rand.NewPCG(10, 6))
	for range trials {
		s := randomSample(rng)
		for _, sense := range []grf.Sense{grf.Reaction, grf.Action} {
			centre := r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64()}
			p, channels := plateOver(t, centre, r3.Vec{X: 0.003, Y: -0.002, Z: -0.02 - 0.05*rng.Float64()}, sense)
			got := p.Wrench(channels(s.lead))
			if d := r3.Norm(r3.Sub(got.Force, s.lead.Force)) + r3.Norm(r3.Sub(got.Moment, s.lead.Moment)); d > 1e-9 {
				t.Errorf("%v: wrench differs by %g", sense, d)
			}
		}
	}
}

// One plate, or two halves that share its load in any way: the sum is the same.
func TestSplitAPlate(t *testing.T) {
	rng := rand.New(rand.NewPCG(10, 7))
	for range trials {
		s := randomSample(rng)
		whole := find(sample{s.lead, s.trail, s.mass})
		part := grf.At(
			r3.Vec{X: rng.NormFloat64() * 50, Y: rng.NormFloat64() * 50, Z: 200 * rng.Float64()},
			r3.Vec{X: 0.1 * rng.NormFloat64(), Y: 0.1 * rng.NormFloat64()},
			r3.Vec{Z: 3 * rng.NormFloat64()})
		left, leftChannels := plateOver(t, r3.Vec{Y: 0.4}, r3.Vec{Z: -0.04}, grf.Reaction)
		right, rightChannels := plateOver(t, r3.Vec{X: 0.6, Y: 0.4}, r3.Vec{Z: -0.055}, grf.Reaction)
		halves := grf.Sum(left.Wrench(leftChannels(part)), right.Wrench(rightChannels(s.lead.Sub(part))))
		same(t, "split plate", find(sample{halves, s.trail, s.mass}), whole)
	}
}

// The same swing in pounds and feet.
func TestSwapTheUnits(t *testing.T) {
	rng := rand.New(rand.NewPCG(10, 8))
	force := func(f r3.Vec) r3.Vec { return r3.Scale(1/float64(units.PoundForce), f) }
	moment := func(m r3.Vec) r3.Vec { return r3.Scale(1/float64(units.PoundForceFoot), m) }
	length := func(p r3.Vec) r3.Vec { return r3.Scale(1/float64(units.Foot), p) }
	for range trials {
		s := randomSample(rng)
		// The formulas do not know units: pounds, feet and pounds × feet are a
		// consistent set. The thresholds are left out.
		w := s.net()
		us := grf.Wrench{Force: force(w.Force), Moment: moment(w.Moment)}
		p, free := cop.Of(w, 0, 0)
		pus, fus := cop.Of(us, 0, 0)
		m, mus := torque.About(w, s.mass), torque.About(us, length(s.mass))
		if r3.Norm(r3.Sub(length(p), pus)) > 1e-12 || math.Abs(float64(units.Moment(free).In(units.PoundForceFoot))-fus) > 1e-9 ||
			r3.Norm(r3.Sub(moment(m.Vec()), mus.Vec())) > 1e-9 {
			t.Errorf("pounds and feet: %v %g %v against %v %g %v", pus, fus, mus, length(p), free, m)
		}
	}
}
