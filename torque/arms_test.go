package torque

import (
	"math"
	"math/rand"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
)

func TestArmsByHand(t *testing.T) {
	// 600 N up and 800 N toward the target (a 3-4-5 force) 0.3 m on the target
	// side of and 1 m below the mass; free moment 12 N·m.
	w := grf.At(r3.Vec{Y: 800, Z: 600}, r3.Vec{Y: 0.3}, r3.Vec{Z: 12})
	got := Arms(w, r3.Vec{X: -0.1, Z: 1}, 12, DefaultMinForce)
	near(t, "frontal", got.Frontal, (0.3*600+1*800)/1000, 1e-15)
	near(t, "sagittal", got.Sagittal, -0.1, 1e-15)
	near(t, "horizontal", got.Horizontal, 0.1, 1e-15)
	// r = (0.1, 0.3, −1): r × F = (980, −60, 80).
	near(t, "3-D", got.ThreeD, math.Sqrt(980*980+60*60+80*80)/1000, 1e-15)

	// The trade's arithmetic: 14 in of arm against 4 in for the same force
	// (common practice, no published source).
	const inch = 0.0254
	long := grf.At(r3.Vec{Z: 900}, r3.Vec{Y: 14 * inch}, r3.Vec{})
	short := grf.At(r3.Vec{Z: 900}, r3.Vec{Y: 4 * inch}, r3.Vec{})
	near(t, "14 in", Arms(long, r3.Vec{Z: 1}, 0, 20).Frontal, 0.3556, 1e-15)
	near(t, "ratio of the moments", About(long, r3.Vec{Z: 1}).Frontal/About(short, r3.Vec{Z: 1}).Frontal, 3.5, 1e-14)
}

// The arms against their geometry: the line of force through the centre of
// pressure, seen in each plane.
func TestArmsAreDistances(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	// distance of c from the line through p along f, as seen along axis.
	seen := func(axis, p, f, c r3.Vec) float64 {
		flat := func(v r3.Vec) r3.Vec { return r3.Sub(v, r3.Scale(r3.Dot(v, axis), axis)) }
		p, f, c = flat(p), r3.Unit(flat(f)), flat(c)
		foot := r3.Add(p, r3.Scale(r3.Dot(r3.Sub(c, p), f), f)) // nearest point of the line
		return r3.Norm(r3.Sub(c, foot))
	}
	for range 300 {
		lead, trail, com := somebody(rnd)
		w := lead.Add(trail)
		p, free := cop.Of(w, 0, 20)
		got := Arms(w, com, free, 1e-3)
		x, y, z := r3.Vec{X: 1}, r3.Vec{Y: 1}, r3.Vec{Z: 1}
		near(t, "frontal", math.Abs(got.Frontal), seen(x, p, w.Force, com), 1e-12)
		near(t, "sagittal", math.Abs(got.Sagittal), seen(y, p, w.Force, com), 1e-12)
		near(t, "horizontal", math.Abs(got.Horizontal), seen(z, p, w.Force, com), 1e-12)
		near(t, "3-D", got.ThreeD, seen(r3.Vec{}, p, w.Force, com), 1e-12)
		m := About(w, com)
		if got.Frontal*m.Frontal < 0 || got.Sagittal*m.Sagittal < 0 || got.Horizontal*(m.Horizontal-free) < 0 {
			t.Fatalf("signs: arms %+v, moment %+v, free %g", got, m, free)
		}

		// The push is as hard as you like: the arms stay.
		k := Arms(w.Scale(2), com, 2*free, 1e-3)
		nearPlanes(t, "scaled", k.Planes, got.Planes, 1e-12)
		near(t, "scaled 3-D", k.ThreeD, got.ThreeD, 1e-12)
		// Turned about the vertical, the horizontal and the 3-D arm stay.
		rot := r3.NewRotation(6*rnd.Float64(), z)
		k = Arms(turned(rot, w), rot.Rotate(com), free, 1e-3)
		near(t, "turned horizontal", k.Horizontal, got.Horizontal, 1e-12)
		near(t, "turned 3-D", k.ThreeD, got.ThreeD, 1e-12)
		k = Arms(mirrored(w), mirroredPoint(com), -free, 1e-3)
		nearPlanes(t, "mirrored", k.Planes, mirroredPlanes(got.Planes), 1e-12)

		// The frontal arm from the tilts of the force and of the way to the mass.
		force, way := TiltOf(w.Force, 1), TiltOf(r3.Sub(com, p), 0.01)
		d := r3.Sub(com, p)
		near(t, "frontal from tilts", math.Hypot(d.Y, d.Z)*math.Sin(force.Frontal-way.Frontal), got.Frontal, 1e-12)
		near(t, "sagittal from tilts", -math.Hypot(d.X, d.Z)*math.Sin(force.Sagittal-way.Sagittal), got.Sagittal, 1e-12)
	}
}

func TestArmsUndefined(t *testing.T) {
	com := r3.Vec{X: 0.1, Y: 0.2, Z: 1}
	vertical := grf.At(r3.Vec{Z: 500}, r3.Vec{}, r3.Vec{Z: 3})
	got := Arms(vertical, com, 3, 20)
	if !math.IsNaN(got.Horizontal) || math.IsNaN(got.Frontal) || math.IsNaN(got.Sagittal) || math.IsNaN(got.ThreeD) {
		t.Errorf("no horizontal force: %+v", got)
	}
	got = Arms(vertical, com, 0, 0) // a free moment that does not fit leaves 3 N·m
	if !math.IsNaN(got.Horizontal) {
		t.Errorf("no horizontal force, threshold 0: %+v, want no infinity", got)
	}
	got = Arms(vertical, com, nan, 20)
	if !math.IsNaN(got.ThreeD) || math.IsNaN(got.Frontal) {
		t.Errorf("no free moment: %+v", got)
	}
	forward := grf.At(r3.Vec{X: 500}, r3.Vec{}, r3.Vec{})
	if got = Arms(forward, com, 0, 20); !math.IsNaN(got.Frontal) || math.IsNaN(got.Sagittal) || math.IsNaN(got.Horizontal) {
		t.Errorf("force along X only: %+v", got)
	}
	for name, a := range map[string]Arm{
		"zero wrench":         Arms(grf.Wrench{}, com, 0, 0),
		"negative threshold":  Arms(grf.Wrench{}, com, 0, -1),
		"lost sample":         Arms(grf.NaN(), com, 0, 20),
		"threshold NaN":       Arms(vertical, com, 0, nan),
		"under the threshold": Arms(vertical, com, 0, 500.1),
	} {
		if !samePlanes(a.Planes, Planes{nan, nan, nan}) || !math.IsNaN(a.ThreeD) {
			t.Errorf("%s: %+v, want NaN", name, a)
		}
	}
}

func TestTilt(t *testing.T) {
	got := TiltOf(r3.Vec{X: -400, Y: 400, Z: 400}, 20)
	near(t, "frontal", got.Frontal, math.Pi/4, 1e-15)
	near(t, "sagittal", got.Sagittal, -math.Pi/4, 1e-15)
	near(t, "length", got.Length, 400*math.Sqrt(3), 1e-12)
	got = TiltOf(r3.Vec{X: 15, Y: 600}, 20)
	near(t, "level, toward the target", got.Frontal, math.Pi/2, 0)
	if !math.IsNaN(got.Sagittal) {
		t.Errorf("sagittal part of 15 N: %g, want NaN", got.Sagittal)
	}
	if got = TiltOf(r3.Vec{}, 0); !math.IsNaN(got.Frontal) || !math.IsNaN(got.Sagittal) || got.Length != 0 {
		t.Errorf("zero force: %+v", got)
	}
	if got = TiltOf(r3.Vec{X: nan, Y: 3, Z: 4}, 1); math.IsNaN(got.Frontal) || !math.IsNaN(got.Sagittal) || !math.IsNaN(got.Length) {
		t.Errorf("NaN along X: %+v", got)
	}
}

// Arms do not depend on the unit of force, however large or small it makes the
// numbers: squares overflow and underflow on the way.
func TestArmsDoNotDependOnScale(t *testing.T) {
	w := grf.At(r3.Vec{X: -120, Y: 80, Z: 900}, r3.Vec{X: 0.1, Y: 0.3}, r3.Vec{Z: 12})
	com := r3.Vec{X: 0.05, Y: -0.02, Z: 1}
	want := Arms(w, com, 12, 20)
	for _, k := range []float64{1e-180, 1e-100, 1e-60, 1e-3, 1e60, 1e97, 1e100, 1e180} {
		for _, least := range []float64{0, 20 * k} {
			got := Arms(w.Scale(k), com, 12*k, least)
			nearPlanes(t, "arms", got.Planes, want.Planes, 1e-14)
			near(t, "3-D", got.ThreeD, want.ThreeD, 1e-14)
		}
	}
	for _, k := range []float64{1e-170, 1e-60, 1e60, 1e170} { // of one without the other
		m, f, least := Planes{3, -1, 2}, w.Force, 20.0
		if k < 1 {
			least = 0
		}
		one, force, moment := ArmsOf(m, f, 0, 20), ArmsOf(m, r3.Scale(k, f), 0, least), ArmsOf(m.Scale(k), f, 0, 20)
		nearPlanes(t, "of another force", force.Planes.Scale(k), one.Planes, 1e-14)
		near(t, "3-D of another force", k*force.ThreeD, one.ThreeD, 1e-14)
		nearPlanes(t, "of another moment", moment.Planes.Scale(1/k), one.Planes, 1e-14)
		near(t, "3-D of another moment", moment.ThreeD/k, one.ThreeD, 1e-14)
	}
	// Without a moment there is an arm, of length 0; without a force there is none.
	if got := ArmsOf(Planes{}, w.Force, 0, 20); got != (Arm{}) {
		t.Errorf("no moment: %+v", got)
	}
	if got := ArmsOf(Planes{1, 1, 1}, r3.Vec{}, 0, 0); !math.IsNaN(got.Frontal) || !math.IsNaN(got.ThreeD) {
		t.Errorf("no force: %+v", got)
	}
	var m Planes
	AboutTo(&m, &w, &com)
	if m != About(w, com) {
		t.Errorf("AboutTo: %+v, About: %+v", m, About(w, com))
	}
}
