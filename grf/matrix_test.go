package grf_test

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// gonum's product of the matrix and the channels is the wrench.
func TestMatrix(t *testing.T) {
	corners := [4]r3.Vec{{X: 0.3, Y: 1.2}, {X: -0.3, Y: 1.2}, {X: -0.3, Y: 0.8}, {X: 0.3, Y: 0.8}}
	for _, typ := range []grf.PlateType{grf.TypeMoment, grf.TypeEight} {
		p, err := grf.NewPlate(grf.PlateConfig{Type: typ, Corners: corners, Origin: r3.Vec{X: 0.1, Y: 0.2, Z: -0.05}, Sense: grf.Action})
		if err != nil {
			t.Fatal(err)
		}
		m, ok := p.Matrix()
		n := p.Channels()
		if !ok || len(m) != 6*n {
			t.Fatalf("%v: %v, %d elements", typ, ok, len(m))
		}
		channels := make([]float64, n)
		for i := range channels {
			channels[i] = 100 * math.Cos(float64(2*i))
		}
		var want mat.VecDense
		want.MulVec(mat.NewDense(6, n, m), mat.NewVecDense(n, channels))
		got := p.Wrench(channels)
		for i, v := range []float64{got.Force.X, got.Force.Y, got.Force.Z, got.Moment.X, got.Moment.Y, got.Moment.Z} {
			if math.Abs(v-want.AtVec(i)) > 1e-9 {
				t.Errorf("%v: component %d is %g, want %g", typ, i, v, want.AtVec(i))
			}
		}
		// In swing axes, of a left-handed golfer too.
		for _, handed := range []grf.Handedness{grf.RightHanded, grf.LeftHanded} {
			axes, err := grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{X: 3, Y: 1}, r3.Vec{X: 0.2, Y: 1}, handed)
			if err != nil {
				t.Fatal(err)
			}
			in, ok := p.MatrixIn(axes)
			if !ok || len(in) != 6*n {
				t.Fatalf("%v: %v, %d elements", typ, ok, len(in))
			}
			want.MulVec(mat.NewDense(6, n, in), mat.NewVecDense(n, channels))
			got := axes.Wrench(p.Wrench(channels))
			for i, v := range []float64{got.Force.X, got.Force.Y, got.Force.Z, got.Moment.X, got.Moment.Y, got.Moment.Z} {
				if math.Abs(v-want.AtVec(i)) > 1e-9 {
					t.Errorf("%v, %v: component %d is %g, want %g", typ, handed, i, v, want.AtVec(i))
				}
			}
		}
		// It is the caller's to change.
		m[0]++
		if again, _ := p.Matrix(); again[0] == m[0] {
			t.Error("the plate shares its matrix")
		}
	}
	point, err := grf.NewPlate(grf.PlateConfig{Type: grf.TypePoint, Corners: corners})
	if err != nil {
		t.Fatal(err)
	}
	if m, ok := point.MatrixIn(grf.Axes{}); ok || m != nil {
		t.Error("a matrix of a plate whose channels are points, in axes")
	}
	if m, ok := point.Matrix(); ok || m != nil {
		t.Error("a matrix of a plate whose channels are points")
	}
}
