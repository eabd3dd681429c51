package torque

import (
	"math"
	"math/rand"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestWhatIf(t *testing.T) {
	rnd := rand.New(rand.NewSource(16))
	for range 100 {
		s := someState(rnd)
		r, f, m := s.lever(), s.Force, s.Moment()

		// 10 % more lateral force adds a tenth of what it makes.
		c := Difference(s, s.ScaleForce(r3.Vec{X: 1, Y: 1.1, Z: 1}))
		nearPlanes(t, "lateral", c.Total(), Planes{-r.Z * f.Y, 0, r.X * f.Y}.Scale(0.1), tol)
		// Lightening the vertical by 70 N takes 70 N times the lever.
		c = Difference(s, s.AddForce(r3.Vec{Z: -70}))
		nearPlanes(t, "lighter", c.Total(), Planes{-70 * r.Y, 70 * r.X, 0}, tol)
		// Four times the force is four times the arm.
		force := s.ScaleForce(r3.Vec{X: 4, Y: 4, Z: 4}).Moment()
		arm := s.MovePressure(r3.Scale(3, r)).Moment()
		nearPlanes(t, "4 × force = 4 × arm", force, arm, 10*tol)
		// Moving the mass is moving the pressure the other way.
		d := r3.Vec{X: 0.03, Y: -0.05, Z: 0.02}
		nearPlanes(t, "mass", s.MoveMass(d).Moment(), s.MovePressure(r3.Scale(-1, d)).Moment(), tol)

		// 5 cm more arm: the arm of that plane grows by that, on its side.
		arms := func(s State) Planes {
			m := s.Moment()
			return Planes{
				m.Frontal / math.Hypot(s.Force.Y, s.Force.Z),
				m.Sagittal / math.Hypot(s.Force.X, s.Force.Z),
				(m.Horizontal - s.Free) / math.Hypot(s.Force.X, s.Force.Y),
			}
		}
		pick := map[Plane]func(Planes) float64{
			Frontal:    func(p Planes) float64 { return p.Frontal },
			Sagittal:   func(p Planes) float64 { return p.Sagittal },
			Horizontal: func(p Planes) float64 { return p.Horizontal },
		}
		slopes := Sensitivities(s)
		for plane, of := range pick {
			longer := s.LengthenArm(plane, 0.05)
			before, after := of(arms(s)), of(arms(longer))
			near(t, plane.String()+" arm", math.Abs(after), math.Abs(before)+0.05, 1e-12)
			if before*after < 0 || longer.Pressure.Z != s.Pressure.Z || longer.Force != s.Force {
				t.Fatalf("%v: arm %g to %g", plane, before, after)
			}
			near(t, plane.String()+" slope", of(longer.Moment())-of(m), 0.05*of(slopes.Arm), tol)
			near(t, plane.String()+" back", of(arms(longer.LengthenArm(plane, -0.05))), before, 1e-12)
		}
		// Nothing moves further than it must.
		moved := r3.Norm(r3.Sub(s.LengthenArm(Horizontal, 0.05).Pressure, s.Pressure))
		near(t, "horizontal move", moved, 0.05, 1e-12)
	}
}

func TestLengthenArmUndefined(t *testing.T) {
	s := State{Force: r3.Vec{X: 100, Y: 100}, Mass: r3.Vec{Z: 1}}
	for _, p := range []Plane{Frontal, Sagittal, Plane(3)} {
		if got := s.LengthenArm(p, 0.05).Moment(); !math.IsNaN(got.Horizontal) {
			t.Errorf("%v without a vertical force: %+v", p, got)
		}
	}
	s = State{Force: r3.Vec{Z: 100}, Mass: r3.Vec{Z: 1}}
	if got := s.LengthenArm(Horizontal, 0.05); !math.IsNaN(got.Pressure.X) {
		t.Errorf("horizontal without a horizontal force: %+v", got)
	}
	near(t, "an arm of zero grows to the positive side", s.LengthenArm(Frontal, 0.05).Moment().Frontal, 5, 1e-12)
	s.Mass.Y = nan
	if got := s.LengthenArm(Frontal, 0.05); !math.IsNaN(got.Pressure.Y) {
		t.Errorf("unknown side: %+v", got)
	}
	if Plane(3).String() != "Plane(3)" || Frontal.String() != "frontal" {
		t.Error("names of planes")
	}
}

// Elasticities and slopes against finite differences, which are exact up to
// rounding for a moment that is linear in each cause.
func TestElasticities(t *testing.T) {
	rnd := rand.New(rand.NewSource(17))
	const h = 1e-3
	for range 200 {
		s := someState(rnd)
		m := s.Moment()
		if math.Min(math.Abs(m.Frontal), math.Min(math.Abs(m.Sagittal), math.Abs(m.Horizontal))) < 1 {
			continue // the ratio to a moment near zero says nothing
		}
		e, slopes, r := Elasticities(s), Sensitivities(s), s.lever()
		change := func(up, down State) Planes { return up.Moment().Sub(down.Moment()).Scale(1 / (2 * h)) }
		scaled := func(axis int) Planes {
			k := [3]float64{1, 1, 1}
			of := func(x float64) State {
				k[axis] = x
				return s.ScaleForce(r3.Vec{X: k[0], Y: k[1], Z: k[2]})
			}
			return change(of(1+h), of(1-h))
		}
		unit := [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}
		pushed := func(axis int) Planes {
			return change(s.AddForce(r3.Scale(h, unit[axis])), s.AddForce(r3.Scale(-h, unit[axis])))
		}
		moved := func(axis int) Planes {
			return change(s.MovePressure(r3.Scale(h, unit[axis])), s.MovePressure(r3.Scale(-h, unit[axis])))
		}
		lever := [3]float64{r.X, r.Y, r.Z}
		for axis, got := range []struct{ e, slope, lever, pressure Planes }{
			{e.Forward, slopes.Forward, e.LeverX, slopes.PressureX},
			{e.Lateral, slopes.Lateral, e.LeverY, slopes.PressureY},
			{e.Vertical, slopes.Vertical, e.LeverZ, slopes.PressureZ},
		} {
			nearPlanes(t, "force", got.e, scaled(axis).over(m), 1e-8)
			nearPlanes(t, "per newton", got.slope, pushed(axis), 1e-8)
			nearPlanes(t, "per metre", got.pressure, moved(axis), 1e-8)
			nearPlanes(t, "lever", got.lever, moved(axis).Scale(lever[axis]).over(m), 1e-8)
		}
		one := Planes{1, 1, 1}
		nearPlanes(t, "forces", e.Forward.Add(e.Lateral).Add(e.Vertical), e.ForceSize, 1e-9)
		nearPlanes(t, "levers", e.LeverX.Add(e.LeverY).Add(e.LeverZ), e.ForceSize, 1e-9)
		nearPlanes(t, "with the free moment", e.ForceSize.Add(e.Free), one, 1e-9)
		near(t, "size, frontal", e.ForceSize.Frontal, 1, 1e-9)
	}
	still := Elasticities(State{Force: r3.Vec{Z: 700}, Mass: r3.Vec{Z: 1}})
	if !samePlanes(still.Vertical, Planes{nan, nan, nan}) {
		t.Errorf("of a moment of zero: %+v, want NaN", still.Vertical)
	}
}
