package torque

import (
	"math"
	"math/rand"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

const (
	up1 = "S.J. Ling, J. Sanny, W. Moebs, University Physics vol. 1 (OpenStax), "
	cp2 = "P.P. Urone, R. Hinrichs, College Physics 2e (OpenStax), "
)

// at is a force of the given size and direction (degrees from X toward Y) at a
// point of the plane Z = 0.
func at(size, deg, x, y float64) grf.Wrench {
	s, c := math.Sincos(deg * math.Pi / 180)
	return grf.At(r3.Vec{X: size * c, Y: size * s}, r3.Vec{X: x, Y: y}, r3.Vec{})
}

// Textbook examples; the tolerance is that of the printed digits.
func TestAboutTextbook(t *testing.T) {
	for _, c := range []struct {
		source string
		w      grf.Wrench
		about  r3.Vec
		want   Planes
		tol    float64
	}{
		{up1 + `sect. 2.4 "The Torque of a Force", 40°`, at(20, 40, 0.25, 0), r3.Vec{}, Planes{Horizontal: 3.21}, 0.005},
		{up1 + `sect. 2.4 "The Torque of a Force", −45° (the book truncates)`, at(20, -45, 0.25, 0), r3.Vec{}, Planes{Horizontal: -3.53}, 0.01},
		{up1 + `sect. 2.4 "The Torque of a Force", remark on 90°`, at(20, 90, 0.25, 0), r3.Vec{}, Planes{Horizontal: 5.00}, 0.005},
		{up1 + `sect. 10.6 "Calculating Torque", sum of four (each rounded to 10 N·m)`, grf.Sum(
			at(40, 90, 4, 0), at(20, 180, 0, -3), at(30, 180+53, -5, 0), at(20, 120, 0, 1)),
			r3.Vec{}, Planes{Horizontal: 230}, 0.5},
		{up1 + `sect. 10.6 "Calculating Torque on a rigid body"`, grf.Sum(
			at(20, 150, 0.5, 0), at(30, -90, 0.5, 0), at(20, 0, 0.5, 0)), r3.Vec{}, Planes{Horizontal: -10}, 1e-12},
		{up1 + `sect. 10.6 problem, r (−2, 4, 0) m, F (5, −2, 1) N`, grf.At(
			r3.Vec{X: 5, Y: -2, Z: 1}, r3.Vec{X: -2, Y: 4}, r3.Vec{}), r3.Vec{}, Planes{4, 2, -16}, 0},
		{up1 + `sect. 11.2 problem, 5 N at (2, −3) m`, grf.At(
			r3.Vec{Y: 5}, r3.Vec{X: 2, Y: -3}, r3.Vec{}), r3.Vec{}, Planes{Horizontal: 10}, 0},
		{cp2 + "sect. 9.2 problem, 55.0 N at 0.850 m", at(55, 90, 0.85, 0), r3.Vec{}, Planes{Horizontal: 46.8}, 0.051},
		{cp2 + `sect. 9.2 "She Saw Torques On A Seesaw", 26.0 kg at 1.60 m against 32.0 kg at 1.30 m, about the pivot`, grf.Sum(
			grf.At(r3.Vec{Z: -26 * 9.8}, r3.Vec{Y: -1.60}, r3.Vec{}),
			grf.At(r3.Vec{Z: -32 * 9.8}, r3.Vec{Y: 1.30}, r3.Vec{}),
			grf.At(r3.Vec{Z: 568}, r3.Vec{}, r3.Vec{})), r3.Vec{}, Planes{}, 1e-12},
		{cp2 + `sect. 10.5 "Calculating the Torque in a Kick", 2000 N at 2.20 cm`, grf.At(
			r3.Vec{Y: 2000}, r3.Vec{X: 0.022}, r3.Vec{}), r3.Vec{}, Planes{Horizontal: 44.0}, 1e-12},
		{"D.A. Winter (2009), Biomechanics and Motor Control of Human Movement, 4th ed., example 5.1: " +
			"588 N at 0.02 m in front, 579.2 N down at 0.06 m behind the foot's centre of mass (printed −22.99 N·m)", grf.Sum(
			grf.At(r3.Vec{Z: 588}, r3.Vec{Y: 0.02}, r3.Vec{}),
			grf.At(r3.Vec{Z: -579.2}, r3.Vec{Y: 0.06}, r3.Vec{})), r3.Vec{}, Planes{Frontal: -22.99}, 0.005},
	} {
		nearPlanes(t, c.source, About(c.w, c.about), c.want, c.tol)
	}
}

func TestAboutInvariance(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for range 300 {
		lead, trail, com := somebody(rnd)
		w := lead.Add(trail)
		want := About(w, com)

		shift := r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}
		nearPlanes(t, "other origin", About(w.MovedTo(shift), r3.Sub(com, shift)), want, tol)
		rot := r3.NewRotation(6*rnd.Float64(), shift)
		nearPlanes(t, "turned", About(turned(rot, w), rot.Rotate(com)), FromVec(rot.Rotate(want.Vec())), tol)
		nearPlanes(t, "mirrored", About(mirrored(w), mirroredPoint(com)), mirroredPlanes(want), tol)
		nearPlanes(t, "negated", About(w.Scale(-1), com), want.Scale(-1), tol)
		nearPlanes(t, "scaled", About(w.Scale(3), com), want.Scale(3), 3*tol)
		nearPlanes(t, "two plates", About(lead, com).Add(About(trail, com)), want, tol)
	}
}

// Signs by example: what turns a golfer which way.
func TestSigns(t *testing.T) {
	com := r3.Vec{Z: 1}
	for _, c := range []struct {
		name string
		w    grf.Wrench
		want Planes
	}{
		{"up under the lead foot", grf.At(r3.Vec{Z: 700}, r3.Vec{Y: 0.2}, r3.Vec{}), Planes{Frontal: 140}},
		{"push away from the target", grf.At(r3.Vec{Y: -100}, r3.Vec{}, r3.Vec{}), Planes{Frontal: -100}},
		{"up under the toes tips backward", grf.At(r3.Vec{Z: 700}, r3.Vec{X: 0.1}, r3.Vec{}), Planes{Sagittal: -70}},
		{"lead foot pushed back turns to the target", grf.At(r3.Vec{X: -100}, r3.Vec{Y: 0.2}, r3.Vec{}), Planes{Sagittal: 100, Horizontal: 20}},
		{"free moment", grf.Wrench{Moment: r3.Vec{Z: 9}}, Planes{Horizontal: 9}},
	} {
		nearPlanes(t, c.name, About(c.w, com), c.want, 1e-12)
	}
}

func TestAboutNaN(t *testing.T) {
	lead, _, com := somebody(rand.New(rand.NewSource(2)))
	want := About(lead, com)
	com.Z = nan
	got := About(lead, com)
	if !math.IsNaN(got.Frontal) || !math.IsNaN(got.Sagittal) || got.Horizontal != want.Horizontal {
		t.Errorf("without a height: %+v", got)
	}
	if got := About(grf.NaN(), com); !samePlanes(got, Planes{nan, nan, nan}) {
		t.Errorf("lost sample: %+v", got)
	}
}

func TestInPlane(t *testing.T) {
	m := Planes{Frontal: 80, Sagittal: -500, Horizontal: 30}
	near(t, "on the ground", InPlane(m, 0), 30, 0)
	near(t, "upright", InPlane(m, math.Pi/2), 80, 1e-13)
	// sin 30° = 1/2, cos 30° = √3/2.
	near(t, "30°", InPlane(m, math.Pi/6), 40+15*math.Sqrt(3), 1e-13)
	// About the normal of the plane, whatever the axes.
	const a = 0.9
	normal := r3.Vec{X: math.Sin(a), Z: math.Cos(a)}
	near(t, "normal", InPlane(m, a), r3.Dot(m.Vec(), normal), 1e-13)
	if got := InPlaneSeries(nil, []Planes{m, {}}, a); len(got) != 2 || got[0] != InPlane(m, a) || got[1] != 0 {
		t.Errorf("InPlaneSeries: %v", got)
	}
	if !math.IsNaN(InPlane(Planes{Frontal: nan}, a)) {
		t.Error("NaN in, NaN out")
	}
}
