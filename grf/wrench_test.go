package grf

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// randVec returns a vector of components within ±size.
func randVec(rnd *rand.Rand, size float64) r3.Vec {
	c := func() float64 { return size * (2*rnd.Float64() - 1) }
	return r3.Vec{X: c(), Y: c(), Z: c()}
}

func near(t *testing.T, what string, got, want r3.Vec, tol float64) {
	t.Helper()
	if !(r3.Norm(r3.Sub(got, want)) <= tol) {
		t.Errorf("%s: got %v, want %v (within %g)", what, got, want, tol)
	}
}

func nearWrench(t *testing.T, what string, got, want Wrench, tol float64) {
	t.Helper()
	near(t, what+" force", got.Force, want.Force, tol)
	near(t, what+" moment", got.Moment, want.Moment, tol)
}

func TestMomentOfAForce(t *testing.T) {
	// University Physics 1 (OpenStax), section 10.6, problem: r = (−2, 4, 0) m,
	// F = (5, −2, 1) N → (4, 2, −16) N·m.
	w := At(r3.Vec{X: 5, Y: -2, Z: 1}, r3.Vec{X: -2, Y: 4}, r3.Vec{})
	near(t, "about the origin", w.Moment, r3.Vec{X: 4, Y: 2, Z: -16}, 1e-12)
	near(t, "about its own point", w.About(r3.Vec{X: -2, Y: 4}), r3.Vec{}, 1e-12)
	near(t, "moved to its point", w.MovedTo(r3.Vec{X: -2, Y: 4}).Moment, r3.Vec{}, 1e-12)
}

func TestWrenchesAddAboutAnyPoint(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		a := At(randVec(rnd, 900), randVec(rnd, 1), randVec(rnd, 20))
		b := At(randVec(rnd, 900), randVec(rnd, 1), randVec(rnd, 20))
		p := randVec(rnd, 2)
		near(t, "sum of moments", Sum(a, b).About(p), r3.Add(a.About(p), b.About(p)), 1e-9)
		nearWrench(t, "a + b − b", a.Add(b).Sub(b), a, 1e-9)
		near(t, "reaction", a.Scale(-1).About(p), r3.Scale(-1, a.About(p)), 1e-9)
	}
}

func TestSumOfNothing(t *testing.T) {
	if got := Sum(); got != (Wrench{}) {
		t.Errorf("Sum() = %v", got)
	}
	got, err := AddSeries([]Wrench{{}, {}})
	if err != nil || len(got) != 0 {
		t.Errorf("AddSeries of nothing = %v, %v", got, err)
	}
}

func TestAddSeries(t *testing.T) {
	one := r3.Vec{X: 1, Y: 2, Z: 3}
	a := []Wrench{{Force: one}, {Moment: one}}
	b := []Wrench{{Force: one}, NaN()}
	got, err := AddSeries(nil, a, b)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "first", got[0].Force, r3.Scale(2, one), 0)
	if !got[1].IsNaN() {
		t.Errorf("a lost sample must stay lost, got %v", got[1])
	}
	if got[0].IsNaN() {
		t.Errorf("%v is no NaN", got[0])
	}
	if _, err := AddSeries(nil, a, b[:1]); !errors.Is(err, ErrLength) {
		t.Errorf("unequal lengths: %v", err)
	}
	var le *LengthError
	if _, err := AddSeries(nil, a, b[:1]); !errors.As(err, &le) || le.Want != 2 || le.Got != 1 {
		t.Errorf("unequal lengths: %v", err)
	}
	// dst may be one of the series
	if got, err = AddSeries(a, a, a); err != nil || got[0].Force != r3.Scale(2, one) {
		t.Errorf("in place: %v, %v", got, err)
	}
}

func TestIsNaNSeesEachComponent(t *testing.T) {
	for i := range 6 {
		var c [6]float64
		c[i] = math.NaN()
		w := Wrench{r3.Vec{X: c[0], Y: c[1], Z: c[2]}, r3.Vec{X: c[3], Y: c[4], Z: c[5]}}
		if !w.IsNaN() {
			t.Errorf("component %d is NaN and not seen", i)
		}
	}
}
