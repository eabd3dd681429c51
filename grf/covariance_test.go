package grf

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

func TestCovarianceOf(t *testing.T) {
	rnd := rand.New(rand.NewPCG(21, 22))
	var ws []Wrench
	for range 50000 {
		x := rnd.NormFloat64()
		ws = append(ws, Wrench{
			Force:  r3.Vec{X: 100 + 2*x, Y: 3 * rnd.NormFloat64(), Z: 700},
			Moment: r3.Vec{Y: -0.5 * x, Z: rnd.NormFloat64()},
		})
	}
	ws = append(ws, NaN()) // a lost sample does not count
	c := CovarianceOf(ws)
	for _, e := range []struct {
		i, j int
		want float64
	}{{0, 0, 4}, {1, 1, 9}, {2, 2, 0}, {0, 4, -1}, {4, 4, 0.25}, {5, 5, 1}, {0, 1, 0}} {
		if math.Abs(c[e.i][e.j]-e.want) > 0.1 || c[e.i][e.j] != c[e.j][e.i] {
			t.Errorf("(%d,%d): %g and %g, want %g", e.i, e.j, c[e.i][e.j], c[e.j][e.i], e.want)
		}
	}
	near(t, "SD of force", c.SD().Force, r3.Vec{X: 2, Y: 3}, 0.05)
	if one := CovarianceOf(ws[:1]); !math.IsNaN(one[0][0]) {
		t.Errorf("of one wrench: %v", one)
	}
	if none := CovarianceOf(nil); !math.IsNaN(none[0][0]) {
		t.Errorf("of no wrench: %v", none)
	}
}

func TestCovarianceAlgebra(t *testing.T) {
	sd := Wrench{r3.Vec{X: 1, Y: 2, Z: 3}, r3.Vec{X: 4, Y: 5, Z: 6}}
	c := Diagonal(sd)
	nearWrench(t, "there and back", c.SD(), sd, 1e-15)
	nearWrench(t, "twice", c.Add(c).SD(), sd.Scale(math.Sqrt2), 1e-12)
	nearWrench(t, "nine times", c.Scale(9).SD(), sd.Scale(3), 1e-12)
	g := [6]float64{0, 0, 1, -1, 0, 0}
	if v := c.Variance(&g); math.Abs(v-25) > 1e-12 {
		t.Errorf("variance of Fz − Mx: %g, want 9 + 16", v)
	}
}
