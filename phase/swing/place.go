package swing

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/torque"
)

// place is a place between samples i and j, the part f of the way; i is
// negative outside of the series.
type place struct {
	i, j int
	f    float64
}

func (p place) num(v []float64) float64 {
	if v == nil || p.i < 0 {
		return math.NaN()
	}
	return mix(v[p.i], v[p.j], p.f)
}

func (p place) vec(v []r3.Vec) r3.Vec {
	if v == nil || p.i < 0 {
		return nanVec()
	}
	return mixVec(v[p.i], v[p.j], p.f)
}

func (p place) wrench(v []grf.Wrench) grf.Wrench {
	if v == nil || p.i < 0 {
		return grf.NaN()
	}
	return grf.Wrench{Force: mixVec(v[p.i].Force, v[p.j].Force, p.f), Moment: mixVec(v[p.i].Moment, v[p.j].Moment, p.f)}
}

func (p place) planes(v []torque.Planes) torque.Planes {
	if v == nil || p.i < 0 {
		return torque.FromVec(nanVec())
	}
	return torque.FromVec(mixVec(v[p.i].Vec(), v[p.j].Vec(), p.f))
}

func nanVec() r3.Vec { n := math.NaN(); return r3.Vec{X: n, Y: n, Z: n} }

// mix does not let an undefined neighbour spoil a value that falls on a sample.
func mix(a, b, f float64) float64 {
	if f == 0 {
		return a
	}
	return a + float64(f*(b-a))
}

func mixVec(a, b r3.Vec, f float64) r3.Vec {
	return r3.Vec{X: mix(a.X, b.X, f), Y: mix(a.Y, b.Y, f), Z: mix(a.Z, b.Z, f)}
}
