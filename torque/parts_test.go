package torque

import (
	"math"
	"math/rand"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
)

func TestPartsAddUp(t *testing.T) {
	rnd := rand.New(rand.NewSource(4))
	for range 500 {
		lead, trail, com := somebody(rnd)
		height := 0.02 * rnd.NormFloat64()
		s := Parts(lead, trail, com, height, 20)
		want := About(lead.Add(trail), com)
		nearPlanes(t, "total", s.Total(), want, tol)
		nearPlanes(t, "sum of all parts", s.Lead.Sum().Add(s.Trail.Sum()), want, tol)
		nearPlanes(t, "lead", s.Lead.Sum(), About(lead, com), tol)
		nearPlanes(t, "trail", s.Trail.Sum(), s.Trail.Total, tol)

		// Each part is the moment of that component alone at the centre of
		// pressure.
		p, free := cop.Of(lead, height, 20)
		f := lead.Force
		for _, c := range []struct {
			name string
			got  Planes
			f    r3.Vec
		}{
			{"forward", s.Lead.Forward, r3.Vec{X: f.X}},
			{"lateral", s.Lead.Lateral, r3.Vec{Y: f.Y}},
			{"vertical", s.Lead.Vertical, r3.Vec{Z: f.Z}},
		} {
			nearPlanes(t, c.name, c.got, About(grf.At(c.f, p, r3.Vec{}), com), tol)
		}
		if s.Lead.Free != (Planes{Horizontal: free}) {
			t.Fatalf("free: %+v, want %g", s.Lead.Free, free)
		}

		// Another origin changes no part.
		d := r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}
		q := PartsOf(lead.MovedTo(d), r3.Sub(com, d), height-d.Z, 20)
		nearPlanes(t, "vertical from another origin", q.Vertical, s.Lead.Vertical, 1e-9)
		nearPlanes(t, "free from another origin", q.Free, s.Lead.Free, 1e-9)
		// The mirror image mirrors every part.
		q = PartsOf(mirrored(lead), mirroredPoint(com), height, 20)
		nearPlanes(t, "lateral mirrored", q.Lateral, mirroredPlanes(s.Lead.Lateral), tol)
		nearPlanes(t, "forward mirrored", q.Forward, mirroredPlanes(s.Lead.Forward), tol)
	}
}

func TestPartsOfAnUnloadedFoot(t *testing.T) {
	lead, _, com := somebody(rand.New(rand.NewSource(5)))
	air := grf.Wrench{Force: r3.Vec{X: 1, Z: 3}, Moment: r3.Vec{Y: 0.2}} // noise
	s := Parts(lead, air, com, 0, 20)
	none := Planes{nan, nan, nan}
	for name, p := range map[string]Planes{
		"forward": s.Trail.Forward, "lateral": s.Trail.Lateral, "vertical": s.Trail.Vertical, "free": s.Trail.Free,
	} {
		if !samePlanes(p, none) {
			t.Errorf("%s of a foot in the air: %+v, want NaN", name, p)
		}
	}
	nearPlanes(t, "its total stays", s.Trail.Total, About(air, com), 0)
	nearPlanes(t, "the total stays", s.Total(), About(lead.Add(air), com), tol)
	nearPlanes(t, "the other foot", s.Lead.Sum(), About(lead, com), tol)
}

func TestPivotAddsUp(t *testing.T) {
	rnd := rand.New(rand.NewSource(6))
	for range 500 {
		lead, trail, com := somebody(rnd)
		g := Pivot(lead, trail, com, 0, 20)
		net := lead.Add(trail)
		p, free := cop.Of(net, 0, 20)
		nearPlanes(t, "total", g.Total(), About(net, com), tol)
		near(t, "pivoting and contact are the net free moment", g.Pivoting()+g.FootContact(), free, tol)
		nearPlanes(t, "ground force", g.GroundForce, About(grf.At(net.Force, p, r3.Vec{}), com), tol)

		// The identity of both ways to add up the feet.
		pl, fl := cop.Of(lead, 0, 20)
		pt, ft := cop.Of(trail, 0, 20)
		each := About(grf.At(lead.Force, pl, r3.Vec{}), com).Add(About(grf.At(trail.Force, pt, r3.Vec{}), com))
		each.Horizontal -= g.Pivoting()
		nearPlanes(t, "sum over the feet less pivoting", each, g.GroundForce, tol)
		near(t, "lead contact", g.ContactLead, fl, 0)
		near(t, "trail contact", g.ContactTrail, ft, 0)

		// Where the mass is does not matter to pivoting and contact.
		k := Pivot(lead, trail, r3.Vec{X: 9, Z: 2}, 0, 20)
		if k.PivotLead != g.PivotLead || k.PivotTrail != g.PivotTrail {
			t.Fatalf("pivoting depends on the mass: %+v, %+v", k, g)
		}
		k = Pivot(mirrored(lead), mirrored(trail), mirroredPoint(com), 0, 20)
		nearPlanes(t, "mirrored", k.Total(), mirroredPlanes(g.Total()), tol)
		near(t, "mirrored pivoting", k.Pivoting(), -g.Pivoting(), tol)
	}
}

func TestPivotByHand(t *testing.T) {
	// 500 N under the lead and 300 N under the trail foot, 0.5 m apart; lead
	// pushed back by 100 N, trail forward by 60 N.
	lead := grf.At(r3.Vec{X: -100, Z: 500}, r3.Vec{Y: 0.25}, r3.Vec{Z: 8})
	trail := grf.At(r3.Vec{X: 60, Z: 300}, r3.Vec{Y: -0.25}, r3.Vec{Z: 3})
	g := Pivot(lead, trail, r3.Vec{Z: 1}, 0, 20)
	y := (500*0.25 - 300*0.25) / 800 // 0.0625 m
	near(t, "lead", g.PivotLead, (0.25-y)*100, 1e-12)
	near(t, "trail", g.PivotTrail, (0.25+y)*60, 1e-12)
	near(t, "contact", g.FootContact(), 11, 1e-12)
	nearPlanes(t, "ground force", g.GroundForce, Planes{Frontal: y * 800, Sagittal: 40, Horizontal: y * 40}, 1e-12)
}

func TestPivotUndefined(t *testing.T) {
	lead, _, com := somebody(rand.New(rand.NewSource(7)))
	air := grf.Wrench{Force: r3.Vec{Z: 3}}
	g := Pivot(lead, air, com, 0, 20)
	if !math.IsNaN(g.PivotTrail) || !math.IsNaN(g.ContactTrail) || !math.IsNaN(g.Pivoting()) {
		t.Errorf("trail foot in the air: %+v", g)
	}
	if math.IsNaN(g.PivotLead) || math.IsNaN(g.ContactLead) || math.IsNaN(g.GroundForce.Frontal) {
		t.Errorf("the other foot and the net force are known: %+v", g)
	}
	g = Pivot(air, air, com, 0, 20)
	if !samePlanes(g.GroundForce, Planes{nan, nan, nan}) || !math.IsNaN(g.Pivoting()) || !math.IsNaN(g.FootContact()) {
		t.Errorf("in flight: %+v", g)
	}
	// Each foot under the threshold, both together above it.
	small := grf.At(r3.Vec{X: 2, Z: 15}, r3.Vec{Y: 0.2}, r3.Vec{})
	g = Pivot(small, small, com, 0, 20)
	if math.IsNaN(g.GroundForce.Frontal) || !math.IsNaN(g.PivotLead) || !math.IsNaN(g.ContactLead) {
		t.Errorf("both feet nearly in the air: %+v", g)
	}
}
