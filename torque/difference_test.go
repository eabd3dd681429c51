package torque

import (
	"math"
	"math/rand"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

func someState(rnd *rand.Rand) State {
	lead, trail, com := somebody(rnd)
	return NewState(lead.Add(trail), com, 0, 20)
}

// size of a moment for relative tolerances: the issue is cancellation between
// terms, so the terms count, not their sum.
func magnitude(a, b State) float64 {
	return math.Max(r3.Norm(a.lever())*r3.Norm(a.Force), r3.Norm(b.lever())*r3.Norm(b.Force))
}

func TestStateMoment(t *testing.T) {
	rnd := rand.New(rand.NewSource(10))
	for range 200 {
		lead, trail, com := somebody(rnd)
		w := lead.Add(trail)
		nearPlanes(t, "moment", NewState(w, com, 0.03, 20).Moment(), About(w, com), tol)
		a, b := NewState(lead, com, 0, 20), NewState(trail, com, 0, 20)
		nearPlanes(t, "feet", a.Moment().Add(b.Moment()), About(w, com), tol)
	}
	s := NewState(grf.Wrench{Force: r3.Vec{Z: 5}}, r3.Vec{Z: 1}, 0, 20)
	if !samePlanes(s.Moment(), Planes{nan, nan, nan}) {
		t.Errorf("unloaded: %+v", s.Moment())
	}
}

func TestDifferenceAddsUp(t *testing.T) {
	rnd := rand.New(rand.NewSource(11))
	for range 1000 {
		a, b := someState(rnd), someState(rnd)
		c := Difference(a, b)
		eps := 1e-9 * math.Max(1e-3, magnitude(a, b))
		if c.From != a.Moment() || c.To != b.Moment() {
			t.Fatalf("from %+v to %+v", c.From, c.To)
		}
		nearPlanes(t, "total", c.Total(), c.To.Sub(c.From), eps*1e-3) // far better than 1e-9
		// Relative to the change itself, where it is not tiny.
		for _, k := range [][2]float64{
			{c.Total().Frontal, c.To.Frontal - c.From.Frontal},
			{c.Total().Sagittal, c.To.Sagittal - c.From.Sagittal},
			{c.Total().Horizontal, c.To.Horizontal - c.From.Horizontal},
		} {
			if math.Abs(k[1]) > 0.01 {
				near(t, "relative", k[0]/k[1], 1, 1e-9)
			}
		}

		// Exchanged states change every sign.
		d := Difference(b, a)
		for name, p := range map[string][2]Planes{
			"size": {c.ForceSize, d.ForceSize}, "direction": {c.ForceDirection, d.ForceDirection},
			"pressure": {c.PressurePosition, d.PressurePosition}, "mass": {c.MassPosition, d.MassPosition},
			"free": {c.FreeMoment, d.FreeMoment},
		} {
			nearPlanes(t, name+" exchanged", p[1], p[0].Scale(-1), eps)
		}
		if t.Failed() {
			t.FailNow()
		}
	}
}

// A cause that did not change has no part, whatever else did.
func TestDifferencePartsVanish(t *testing.T) {
	rnd := rand.New(rand.NewSource(12))
	for range 300 {
		a, b := someState(rnd), someState(rnd)
		eps := 1e-12 * magnitude(a, b)
		for _, k := range []struct {
			name string
			b    State
			part func(Change) Planes
		}{
			{"size", State{r3.Scale(r3.Norm(a.Force)/r3.Norm(b.Force), b.Force), b.Pressure, b.Mass, b.Free},
				func(c Change) Planes { return c.ForceSize }},
			{"direction", State{r3.Scale(1.7, a.Force), b.Pressure, b.Mass, b.Free},
				func(c Change) Planes { return c.ForceDirection }},
			{"pressure", State{b.Force, a.Pressure, b.Mass, b.Free},
				func(c Change) Planes { return c.PressurePosition }},
			{"mass", State{b.Force, b.Pressure, a.Mass, b.Free},
				func(c Change) Planes { return c.MassPosition }},
			{"free", State{b.Force, b.Pressure, b.Mass, a.Free},
				func(c Change) Planes { return c.FreeMoment }},
		} {
			c := Difference(a, k.b)
			nearPlanes(t, k.name+" unchanged", k.part(c), Planes{}, eps)
			nearPlanes(t, k.name+" unchanged, total", c.Total(), c.To.Sub(c.From), eps)
			if k.part(Difference(a, b)) == (Planes{}) {
				t.Errorf("%s: no part although it changed", k.name)
			}
		}
		// One cause alone has the whole change.
		only := a
		only.Pressure = b.Pressure
		c := Difference(a, only)
		nearPlanes(t, "pressure alone", c.PressurePosition, c.To.Sub(c.From), eps)
		if c.ForceSize != (Planes{}) || c.ForceDirection != (Planes{}) || c.MassPosition != (Planes{}) || c.FreeMoment != (Planes{}) {
			t.Fatalf("pressure alone: %+v", c)
		}
	}
	if c := Difference(State{}, State{}); c != (Change{}) {
		t.Errorf("nothing: %+v", c)
	}
}

// The definition: the mean over all 24 orders in which the causes can change.
func TestDifferenceIsTheMeanOverOrders(t *testing.T) {
	rnd := rand.New(rand.NewSource(13))
	var orders [][]int
	var permute func(done, left []int)
	permute = func(done, left []int) {
		if len(left) == 0 {
			orders = append(orders, append([]int(nil), done...))
		}
		for i, x := range left {
			rest := append(append([]int(nil), left[:i]...), left[i+1:]...)
			permute(append(done, x), rest)
		}
	}
	permute(nil, []int{0, 1, 2, 3})
	if len(orders) != 24 {
		t.Fatal(len(orders))
	}
	for range 50 {
		a, b := someState(rnd), someState(rnd)
		var want [4]r3.Vec
		for _, order := range orders {
			size, dir, p, m := r3.Norm(a.Force), r3.Unit(a.Force), a.Pressure, a.Mass
			moment := func() r3.Vec { return r3.Cross(r3.Sub(p, m), r3.Scale(size, dir)) }
			for _, cause := range order {
				before := moment()
				switch cause {
				case 0:
					size = r3.Norm(b.Force)
				case 1:
					dir = r3.Unit(b.Force)
				case 2:
					p = b.Pressure
				case 3:
					m = b.Mass
				}
				want[cause] = r3.Add(want[cause], r3.Scale(1./24, r3.Sub(moment(), before)))
			}
		}
		c := Difference(a, b)
		nearPlanes(t, "size", c.ForceSize, FromVec(want[0]), tol)
		nearPlanes(t, "direction", c.ForceDirection, FromVec(want[1]), tol)
		nearPlanes(t, "pressure", c.PressurePosition, FromVec(want[2]), tol)
		nearPlanes(t, "mass", c.MassPosition, FromVec(want[3]), tol)
	}
}

// Two causes of a product have a closed form: each change times the mean of the
// other.
func TestDifferenceClosedForm(t *testing.T) {
	// 500 N up at 0.2 m becomes 800 N up at 0.3 m.
	a := State{Force: r3.Vec{Z: 500}, Pressure: r3.Vec{Y: 0.2}, Mass: r3.Vec{Z: 1}, Free: 4}
	b := State{Force: r3.Vec{Z: 800}, Pressure: r3.Vec{Y: 0.3}, Mass: r3.Vec{Z: 1}, Free: 9}
	c := Difference(a, b)
	nearPlanes(t, "size", c.ForceSize, Planes{Frontal: 300 * 0.25}, 1e-12)
	nearPlanes(t, "pressure", c.PressurePosition, Planes{Frontal: 0.1 * 650}, 1e-12)
	nearPlanes(t, "free", c.FreeMoment, Planes{Horizontal: 5}, 0)
	nearPlanes(t, "direction", c.ForceDirection, Planes{}, 0)
	nearPlanes(t, "mass", c.MassPosition, Planes{}, 0)
	near(t, "relative", c.Relative().Frontal, 240.0/100-1, 1e-14)
	near(t, "relative horizontal", c.Relative().Horizontal, 1.25, 1e-15)
	if !math.IsNaN(c.Relative().Sagittal) {
		t.Errorf("relative to nothing: %g, want NaN", c.Relative().Sagittal)
	}

	// A force that starts from nothing: all of it is size.
	c = Difference(State{Pressure: a.Pressure, Mass: a.Mass}, a)
	nearPlanes(t, "from no force", c.ForceSize, Planes{Frontal: 100}, 1e-12)
	nearPlanes(t, "from no force, direction", c.ForceDirection, Planes{}, 0)
	c = Difference(a, State{Pressure: a.Pressure, Mass: a.Mass})
	nearPlanes(t, "to no force", c.ForceSize, Planes{Frontal: -100}, 1e-12)
}

func TestDifferenceInvariance(t *testing.T) {
	rnd := rand.New(rand.NewSource(14))
	each := func(c Change) [5]Planes {
		return [5]Planes{c.ForceSize, c.ForceDirection, c.PressurePosition, c.MassPosition, c.FreeMoment}
	}
	for range 100 {
		a, b := someState(rnd), someState(rnd)
		want := each(Difference(a, b))
		move := func(f func(State) State, back func(Planes) Planes, what string) {
			got := each(Difference(f(a), f(b)))
			for i := range got {
				nearPlanes(t, what, got[i], back(want[i]), tol)
			}
		}
		d := r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}
		move(func(s State) State { return s.MovePressure(d).MoveMass(d) },
			func(p Planes) Planes { return p }, "both states moved")
		rot := r3.NewRotation(d.X, r3.Vec{Z: 1})
		move(func(s State) State {
			return State{rot.Rotate(s.Force), rot.Rotate(s.Pressure), rot.Rotate(s.Mass), s.Free}
		}, func(p Planes) Planes { return FromVec(rot.Rotate(p.Vec())) }, "turned")
		move(func(s State) State {
			return State{mirroredPoint(s.Force), mirroredPoint(s.Pressure), mirroredPoint(s.Mass), -s.Free}
		}, mirroredPlanes, "mirrored")

		// One golfer standing elsewhere: the parts of both positions cancel.
		c, e := Difference(a, b), Difference(a, b.MovePressure(d).MoveMass(d))
		nearPlanes(t, "elsewhere", e.PressurePosition.Add(e.MassPosition), c.PressurePosition.Add(c.MassPosition), tol)
		nearPlanes(t, "elsewhere, size", e.ForceSize, c.ForceSize, tol)
	}
}

func TestDifferenceNaN(t *testing.T) {
	rnd := rand.New(rand.NewSource(15))
	a, b := someState(rnd), someState(rnd)
	b.Free = nan
	c := Difference(a, b)
	if !math.IsNaN(c.FreeMoment.Horizontal) || c.FreeMoment.Frontal != 0 || math.IsNaN(c.ForceSize.Horizontal) {
		t.Errorf("unknown free moment: %+v", c)
	}
	b = NewState(grf.Wrench{}, a.Mass, 0, 20)
	if c = Difference(a, b); !math.IsNaN(c.Total().Frontal) {
		t.Errorf("unloaded: %+v", c)
	}
	b = a
	b.Force.X = nan
	if c = Difference(a, b); !math.IsNaN(c.ForceSize.Frontal) || !math.IsNaN(c.Total().Horizontal) {
		t.Errorf("lost force: %+v", c)
	}
}
