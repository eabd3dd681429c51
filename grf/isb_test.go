package grf

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// The table in the package comment: a laboratory with the axes of Wu and Cavanagh
// (1995), X toward the target and Y up.
func TestAxesOfTheSocietyOfBiomechanics(t *testing.T) {
	const x, y, z = 0.1, -0.2, 0.9
	const mx, my, mz = 30, -40, 50
	for _, c := range []struct {
		hand         Handedness
		place, there r3.Vec
	}{
		{RightHanded, r3.Vec{X: y, Y: z, Z: x}, r3.Vec{X: my, Y: mz, Z: mx}},
		{LeftHanded, r3.Vec{X: y, Y: z, Z: -x}, r3.Vec{X: -my, Y: -mz, Z: mx}},
	} {
		axes, err := NewAxes(r3.Vec{Y: 1}, r3.Vec{X: 1}, r3.Vec{}, c.hand)
		if err != nil {
			t.Fatal(err)
		}
		w := axes.LabWrench(Wrench{Force: r3.Vec{X: x, Y: y, Z: z}, Moment: r3.Vec{X: mx, Y: my, Z: mz}})
		if w.Force != c.place || w.Moment != c.there || axes.LabPoint(r3.Vec{X: x, Y: y, Z: z}) != c.place {
			t.Errorf("%v: %v, want %v and %v", c.hand, w, c.place, c.there)
		}
	}
}
