package grf

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

var (
	ex = r3.Vec{X: 1}
	ey = r3.Vec{Y: 1}
	ez = r3.Vec{Z: 1}
)

// A laboratory with y up and the target along −z, as some are.
func TestAxesOfALaboratory(t *testing.T) {
	a, err := NewAxes(ey, r3.Vec{Z: -3}, r3.Vec{X: 1}, RightHanded)
	if err != nil {
		t.Fatal(err)
	}
	// A right-handed golfer who faces the ball has the target on the left:
	// forward = target × up = −z × y = x.
	near(t, "forward", a.Vector(ex), ex, 1e-15)
	near(t, "target", a.Vector(r3.Vec{Z: -1}), ey, 1e-15)
	near(t, "up", a.Vector(ey), ez, 1e-15)
	near(t, "origin", a.Point(r3.Vec{X: 1}), r3.Vec{}, 1e-15)
}

func TestLeftHandedGolferFacesTheOtherWay(t *testing.T) {
	right, err := NewAxes(ez, ey, r3.Vec{}, RightHanded)
	if err != nil {
		t.Fatal(err)
	}
	left, err := NewAxes(ez, ey, r3.Vec{}, LeftHanded)
	if err != nil {
		t.Fatal(err)
	}
	if right.Handed() != RightHanded || left.Handed() != LeftHanded {
		t.Error("handedness is lost")
	}
	near(t, "right-handed: forward is +x of this laboratory", right.Vector(ex), ex, 1e-15)
	near(t, "left-handed: forward is −x", left.Vector(r3.Vec{X: -1}), ex, 1e-15)
	near(t, "the target stays +Y", left.Vector(ey), ey, 1e-15)
}

// A golfer and their mirror image in a mirror that stands along the target line
// press with mirrored forces. The same numbers must come out for both.
func TestMirroredGolferGivesTheSameNumbers(t *testing.T) {
	right, _ := NewAxes(ez, ey, r3.Vec{}, RightHanded)
	left, _ := NewAxes(ez, ey, r3.Vec{}, LeftHanded)
	mirror := func(v r3.Vec) r3.Vec { v.X = -v.X; return v } // plane x = 0
	rnd := rand.New(rand.NewPCG(3, 4))
	for range 100 {
		force, point := randVec(rnd, 900), randVec(rnd, 0.5)
		couple := randVec(rnd, 20)
		axial := r3.Scale(-1, mirror(couple)) // an axial vector mirrors with the other sign
		r := right.Wrench(At(force, point, couple))
		l := left.Wrench(At(mirror(force), mirror(point), axial))
		nearWrench(t, "mirrored", l, r, 1e-9)
		near(t, "mirrored couple", left.Axial(axial), right.Axial(couple), 1e-9)
		near(t, "moment about a point", l.About(left.Point(mirror(point))), r.About(right.Point(point)), 1e-9)
	}
}

func TestMomentSignsOfTheDownswing(t *testing.T) {
	for _, hand := range []Handedness{RightHanded, LeftHanded} {
		a, err := NewAxes(ez, ey, r3.Vec{}, hand)
		if err != nil {
			t.Fatal(err)
		}
		com := r3.Vec{Z: 1}
		// Pressing under the lead foot only: the ground pushes up on the target
		// side of the mass and turns the golfer away from the target at the top,
		// toward it at the bottom, which is the downswing's direction.
		lead := a.Wrench(At(r3.Vec{Z: 800}, r3.Vec{Y: 0.2}, r3.Vec{}))
		if m := lead.About(com); m.X <= 0 {
			t.Errorf("%v: load on the lead side gives %v", hand, m)
		}
		// A ground force toward the target, below the mass, does the same.
		push := a.Wrench(At(r3.Vec{Y: 100}, r3.Vec{}, r3.Vec{}))
		if m := push.About(com); m.X <= 0 {
			t.Errorf("%v: lateral push gives %v", hand, m)
		}
		// The lead foot pushed back and the trail foot pushed forward by the
		// ground turn the golfer toward the target.
		forward := a.LabVector(ex)
		turn := a.Wrench(Sum(
			At(r3.Scale(-50, forward), r3.Vec{Y: 0.2}, r3.Vec{}),
			At(r3.Scale(50, forward), r3.Vec{Y: -0.2}, r3.Vec{})))
		if m := turn.About(com); m.Z <= 0 {
			t.Errorf("%v: turning pair gives %v", hand, m)
		}
	}
}

func TestAxesThereAndBack(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	for range 100 {
		hand := Handedness(rnd.IntN(2))
		a, err := NewAxes(randVec(rnd, 1), randVec(rnd, 1), randVec(rnd, 3), hand)
		if errors.Is(err, ErrAxes) {
			continue // nearly parallel by chance
		}
		w := At(randVec(rnd, 900), randVec(rnd, 1), randVec(rnd, 20))
		p := randVec(rnd, 2)
		nearWrench(t, "wrench", a.LabWrench(a.Wrench(w)), w, 1e-9)
		near(t, "point", a.LabPoint(a.Point(p)), p, 1e-12)
		near(t, "vector", a.LabVector(a.Vector(p)), p, 1e-12)
		// The turn keeps lengths, and the work that a wrench does.
		v := randVec(rnd, 1)
		if d := r3.Dot(a.Vector(w.Force), a.Vector(v)) - r3.Dot(w.Force, v); math.Abs(d) > 1e-9 {
			t.Errorf("force times velocity changed by %g", d)
		}
		ws := a.Wrenches(nil, []Wrench{w})
		nearWrench(t, "series", ws[0], a.Wrench(w), 0)
	}
}

func TestNewAxesRefuses(t *testing.T) {
	nan := r3.Vec{X: math.NaN()}
	for name, c := range map[string]struct {
		up, target, origin r3.Vec
		hand               Handedness
	}{
		"no up":              {target: ey},
		"no target":          {up: ez},
		"target along up":    {up: ez, target: r3.Vec{Z: 2}},
		"target nearly up":   {up: ez, target: r3.Vec{X: 0.05, Z: 1}},
		"up is NaN":          {up: nan, target: ey},
		"origin is infinite": {up: ez, target: ey, origin: r3.Vec{Y: math.Inf(1)}},
		"third hand":         {up: ez, target: ey, hand: 2},
	} {
		if _, err := NewAxes(c.up, c.target, c.origin, c.hand); !errors.Is(err, ErrAxes) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if s := Handedness(7).String(); s != "Handedness(7)" {
		t.Error(s)
	}
	if RightHanded.String() != "right" || LeftHanded.String() != "left" {
		t.Error("names of hands")
	}
}
