package torque

import (
	"math"
	"math/rand"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) { // NaN fails
		t.Errorf("%s: got %.12g, want %.12g ± %.2g", what, got, want, tol)
	}
}

func nearPlanes(t *testing.T, what string, got, want Planes, tol float64) {
	t.Helper()
	near(t, what+", frontal", got.Frontal, want.Frontal, tol)
	near(t, what+", sagittal", got.Sagittal, want.Sagittal, tol)
	near(t, what+", horizontal", got.Horizontal, want.Horizontal, tol)
}

func same64(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }

func samePlanes(a, b Planes) bool {
	return same64(a.Frontal, b.Frontal) && same64(a.Sagittal, b.Sagittal) && same64(a.Horizontal, b.Horizontal)
}

var nan = math.NaN()

// somebody is a golfer at a random instant: two loaded feet about half a metre
// apart, and a centre of mass above them.
func somebody(rnd *rand.Rand) (lead, trail grf.Wrench, com r3.Vec) {
	foot := func(y float64) grf.Wrench {
		f := r3.Vec{X: 100 * rnd.NormFloat64(), Y: 100 * rnd.NormFloat64(), Z: 100 + 800*rnd.Float64()}
		at := r3.Vec{X: 0.05 * rnd.NormFloat64(), Y: y + 0.03*rnd.NormFloat64()}
		return grf.At(f, at, r3.Vec{Z: 10 * rnd.NormFloat64()})
	}
	com = r3.Vec{X: 0.05 * rnd.NormFloat64(), Y: 0.05 * rnd.NormFloat64(), Z: 0.9 + 0.05*rnd.NormFloat64()}
	return foot(0.25), foot(-0.25), com
}

// Moments are at most some 1e3 N·m; their rounding is far below this.
const tol = 1e-10

// mirrored is what the mirror image in Y of a golfer gives: polar vectors change
// Y, axial ones X and Z.
func mirrored(w grf.Wrench) grf.Wrench {
	return grf.Wrench{
		Force:  r3.Vec{X: w.Force.X, Y: -w.Force.Y, Z: w.Force.Z},
		Moment: r3.Vec{X: -w.Moment.X, Y: w.Moment.Y, Z: -w.Moment.Z},
	}
}

func mirroredPoint(p r3.Vec) r3.Vec { p.Y = -p.Y; return p }

func mirroredPlanes(p Planes) Planes { return Planes{-p.Frontal, p.Sagittal, -p.Horizontal} }

func turned(rot r3.Rotation, w grf.Wrench) grf.Wrench {
	return grf.Wrench{Force: rot.Rotate(w.Force), Moment: rot.Rotate(w.Moment)}
}
