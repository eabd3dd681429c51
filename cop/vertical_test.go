package cop

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// A centre of pressure on the surface needs no horizontal force; anything else
// does. The expectations are closed form: a vertical force at a point has its
// centre of pressure there.
func TestOfWithoutHorizontalForce(t *testing.T) {
	at := r3.Vec{X: 0.12, Y: -0.31}
	whole := grf.At(r3.Vec{X: 40, Y: -70, Z: 650}, at, r3.Vec{Z: 8})
	flat := whole.WithoutHorizontal()
	p, free := Of(flat, 0, 20)
	nearVec(t, "on the surface", p, at, tolPoint)
	if !math.IsNaN(free) {
		t.Errorf("free moment %g, want NaN: it was not measured", free)
	}
	if p, free := Of(flat, 0.01, 20); !isNaN3(p) || !math.IsNaN(free) {
		t.Errorf("above the surface: %v, %v; the horizontal force decides there, want NaN", p, free)
	}
	if p, _ := Of(flat, 0, 651); !isNaN3(p) {
		t.Errorf("under the threshold: %v, want NaN", p)
	}
	if p, _ := OnPlane(flat, r3.Vec{}, r3.Vec{Z: 1}, 20); !isNaN3(p) {
		t.Errorf("OnPlane: %v, want NaN", p)
	}
	if p, _ := WrenchAxisPoint(flat, 0, 20); !isNaN3(p) {
		t.Errorf("WrenchAxisPoint: %v, want NaN", p)
	}
	if got := grf.Vertical(650, at); got.Force.Z != 650 || !math.IsNaN(got.Force.X+got.Moment.Z) {
		t.Errorf("Vertical: %v", got)
	} else if p, _ := Of(got, 0, 20); r3.Norm(r3.Sub(p, at)) > 1e-15 {
		t.Errorf("Vertical acts at %v, want %v", p, at)
	}
	if s := Share(flat, flat.Scale(3)); math.Abs(s-0.25) > 1e-15 {
		t.Errorf("share %g, want 1/4", s)
	}
	// Only the twist is missing.
	whole.Moment.Z = math.NaN()
	if p, free := Of(whole, 0.02, 20); isNaN3(p) || !math.IsNaN(free) {
		t.Errorf("without Mz: %v, %v; the point does not depend on it", p, free)
	}
	if n := testing.AllocsPerRun(100, func() { p, _ = Of(flat, 0, 20) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

// What is known of the errors gives the standard deviation of the point, whatever
// is unknown about the horizontal components.
func TestOfSDWithoutHorizontalForce(t *testing.T) {
	w := grf.At(r3.Vec{Z: 500}, r3.Vec{X: 0.2, Y: 0.1}, r3.Vec{})
	cov := grf.Diagonal(grf.Wrench{Force: r3.Vec{X: 1, Y: 1, Z: 2}, Moment: r3.Vec{X: 0.5, Y: 0.4, Z: 1}})
	want, _ := OfSD(w, &cov, 0, 20)
	for _, i := range []int{0, 1, 5} {
		for j := range cov {
			cov[i][j], cov[j][i] = math.NaN(), math.NaN()
		}
	}
	got, free := OfSD(w.WithoutHorizontal(), &cov, 0, 20)
	nearVec(t, "SD", got, want, 1e-15)
	if !math.IsNaN(free) {
		t.Errorf("SD of the free moment %g, want NaN", free)
	}
}
