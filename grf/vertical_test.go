package grf

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestVerticalOnly(t *testing.T) {
	plate := At(r3.Vec{X: 1, Y: 2, Z: 300}, r3.Vec{X: 0.1}, r3.Vec{})
	mat := Vertical(400, r3.Vec{X: 0.1, Y: 0.2, Z: 0.5})
	if mat.Moment.X != 80 || mat.Moment.Y != -40 || !math.IsNaN(mat.Force.X+mat.Force.Y) || !math.IsNaN(mat.Moment.Z) {
		t.Errorf("Vertical: %v", mat)
	}
	noFz := mat
	noFz.Force.Z = math.NaN()
	twist := mat
	twist.Moment.Z = 3
	for _, c := range []struct {
		name string
		ws   []Wrench
		want bool
	}{
		{"a mat", []Wrench{mat, mat}, true},
		{"a mat with lost samples", []Wrench{NaN(), mat, NaN()}, true},
		{"a plate", []Wrench{plate}, false},
		{"a plate with lost samples", []Wrench{NaN(), NaN(), plate}, false},
		{"mat, then plate", []Wrench{mat, plate}, false},
		{"sum of a plate and a mat", []Wrench{plate.Add(mat)}, true},
		{"all lost", []Wrench{NaN(), NaN()}, false},
		{"no vertical force either", []Wrench{noFz}, false},
		{"a twist", []Wrench{twist}, false},
		{"nothing", nil, false},
	} {
		if got := VerticalOnly(c.ws); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	for _, c := range []struct {
		name string
		rec  Recording
		want bool
	}{
		{"net", Recording{Net: []Wrench{mat}}, true},
		{"both feet", Recording{Lead: []Wrench{mat}, Trail: []Wrench{mat}}, true},
		{"one foot", Recording{Lead: []Wrench{plate}, Trail: []Wrench{mat}}, true},
		{"no foot", Recording{Lead: []Wrench{plate}, Trail: []Wrench{plate}}, false},
	} {
		if got := c.rec.VerticalOnly(); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// A quiet stance on a mat is found as on a plate that shows the same load.
func TestFindQuietOnMat(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 8))
	const rate, n = 200.0, 800
	mat, plate := &Recording{Rate: rate}, &Recording{Rate: rate}
	for i := range n {
		load := 750 + 0.5*rnd.NormFloat64()
		if i > 500 {
			load += 100 * math.Sin(float64(i-500)/8)
		}
		w := At(r3.Vec{Z: load}, r3.Vec{X: 0.02, Y: 0.01}, r3.Vec{})
		plate.Net = append(plate.Net, w)
		if i == 20 {
			w = NaN() // a lost frame is lost on a mat, too
		}
		mat.Net = append(mat.Net, w.WithoutHorizontal())
	}
	want, err := FindQuiet(plate, QuietOptions{From: 0.2, To: 3})
	if err != nil {
		t.Fatal(err)
	}
	got, err := FindQuiet(mat, QuietOptions{From: 0.2, To: 3})
	if err != nil {
		t.Fatal(err)
	}
	if got.First != want.First || got.Last != want.Last || got.Weight != want.Weight || got.WeightSE != want.WeightSE {
		t.Errorf("mat %d…%d %g ± %g, plate %d…%d %g ± %g", got.First, got.Last, got.Weight, got.WeightSE, want.First, want.Last, want.Weight, want.WeightSE)
	}
	if !math.IsNaN(got.Mean.Force.X) || !math.IsNaN(got.SD.Moment.Z) || math.IsNaN(got.SD.Moment.X) {
		t.Errorf("what was not measured is NaN and what was is not: mean %v, SD %v", got.Mean, got.SD)
	}
	// The window may not begin in the lost frame.
	if q, err := FindQuiet(mat, QuietOptions{From: 0, To: 0.55}); err == nil {
		t.Errorf("a window over a lost frame: %v", q)
	} else if !errors.Is(err, ErrNoQuiet) {
		t.Error(err)
	}
}

func TestCovarianceWithoutHorizontal(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 9))
	var whole, flat []Wrench
	for range 50 {
		v := func() float64 { return rnd.NormFloat64() }
		w := Wrench{r3.Vec{X: v(), Y: v(), Z: v()}, r3.Vec{X: v(), Y: v(), Z: v()}}
		whole, flat = append(whole, w), append(flat, w.WithoutHorizontal())
	}
	a, b := CovarianceOf(whole), CovarianceOf(flat)
	for i := range a {
		for j := range a {
			unknown := i < 2 || j < 2 || i == 5 || j == 5
			if unknown != math.IsNaN(b[i][j]) || !unknown && a[i][j] != b[i][j] {
				t.Errorf("(%d,%d): %g on a plate, %g on a mat", i, j, a[i][j], b[i][j])
			}
		}
	}
	g := [6]float64{0, 0, 1, 2, -1, 0}
	if va, vb := a.Variance(&g), b.Variance(&g); va != vb || math.IsNaN(va) {
		t.Errorf("variance of what was measured: %g and %g", va, vb)
	}
	g[5] = 1
	if v := b.Variance(&g); !math.IsNaN(v) {
		t.Errorf("variance of what was not measured: %g, want NaN", v)
	}
	// Where a plate stands counts with the force that it measures.
	m := Misplaced(r3.Vec{X: math.NaN(), Y: math.NaN(), Z: 300}, r3.Vec{X: 0.002, Y: 0.003})
	if math.Abs(m[3][3]-0.81) > 1e-12 || math.Abs(m[4][4]-0.36) > 1e-12 || !math.IsNaN(m[5][5]) {
		t.Errorf("misplaced: %v", m)
	}
}
