package torque_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distmv"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
	"example.com/momentarm/torque"
)

// wrenches draws from a normal distribution with the given mean and covariance.
func wrenches(t *testing.T, w grf.Wrench, cov grf.Covariance, n int, seed uint64) []grf.Wrench {
	t.Helper()
	mean := []float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z}
	sigma := mat.NewSymDense(6, nil)
	for i := range 6 {
		for j := i; j < 6; j++ {
			sigma.SetSym(i, j, cov[i][j])
		}
	}
	d, ok := distmv.NewNormal(mean, sigma, rand.NewPCG(seed, 1))
	if !ok {
		t.Fatal("covariance is not positive definite")
	}
	out := make([]grf.Wrench, n)
	x := make([]float64, 6)
	for i := range out {
		d.Rand(x)
		out[i] = grf.Wrench{Force: r3.Vec{X: x[0], Y: x[1], Z: x[2]}, Moment: r3.Vec{X: x[3], Y: x[4], Z: x[5]}}
	}
	return out
}

// correlated returns a covariance with strong correlation between components, as
// plates have whose channels feed force and moment alike.
func correlated(seed uint64) grf.Covariance {
	rnd := rand.New(rand.NewPCG(seed, 2))
	var cov grf.Covariance
	size := [6]float64{2, 2, 3, 0.8, 0.8, 0.5}
	for range 8 { // a sum of outer products is positive definite
		var v [6]float64
		for i := range v {
			v[i] = size[i] * rnd.NormFloat64() / 2
		}
		for i := range v {
			for j := range v {
				cov[i][j] += v[i] * v[j]
			}
		}
	}
	return cov
}

// The first-order figures must be what a Monte Carlo run gives, within 5 %.
func TestStandardDeviationsAgainstMonteCarlo(t *testing.T) {
	const n = 40000 // a standard deviation to 0.35 %
	for seed := range uint64(6) {
		rnd := rand.New(rand.NewPCG(seed, 3))
		force := r3.Vec{X: 80 * rnd.NormFloat64(), Y: 120 * rnd.NormFloat64(), Z: 700 + 300*rnd.Float64()}
		if math.Hypot(force.X, force.Y) < 40 { // an arm of a vanishing force is not normal
			force.Y = 60
		}
		w := grf.At(force, r3.Vec{X: 0.05 * rnd.NormFloat64(), Y: 0.15 * rnd.NormFloat64()}, r3.Vec{Z: 10 * rnd.NormFloat64()})
		com := r3.Vec{X: 0.02, Y: -0.03, Z: 0.95}
		u := torque.Uncertainty{Wrench: correlated(seed), COM: r3.Vec{X: 0.006, Y: 0.008, Z: 0.02}}

		got := map[string]float64{}
		m := torque.AboutSD(w, com, &u)
		got["frontal"], got["sagittal"], got["horizontal"] = m.Frontal, m.Sagittal, m.Horizontal
		got["in plane"] = torque.InPlaneSD(w, com, 0.8, &u)
		a := torque.ArmsSD(w, com, 20, &u)
		got["frontal arm"], got["sagittal arm"], got["horizontal arm"], got["3-D arm"] = a.Frontal, a.Sagittal, a.Horizontal, a.ThreeD
		p, f := cop.OfSD(w, &u.Wrench, 0, 20)
		got["pressure x"], got["pressure y"], got["free moment"] = p.X, p.Y, f
		p, f = cop.OfSD(w, &u.Wrench, 0.03, 20)
		got["raised pressure x"], got["raised pressure y"], got["raised free moment"] = p.X, p.Y, f

		draws := map[string][]float64{}
		add := func(name string, v float64) { draws[name] = append(draws[name], v) }
		for _, wi := range wrenches(t, w, u.Wrench, n, seed) {
			ci := r3.Add(com, r3.Vec{X: u.COM.X * rnd.NormFloat64(), Y: u.COM.Y * rnd.NormFloat64(), Z: u.COM.Z * rnd.NormFloat64()})
			mi := torque.About(wi, ci)
			add("frontal", mi.Frontal)
			add("sagittal", mi.Sagittal)
			add("horizontal", mi.Horizontal)
			add("in plane", torque.InPlane(mi, 0.8))
			pi, fi := cop.Of(wi, 0, 20)
			ai := torque.Arms(wi, ci, fi, 20)
			add("frontal arm", ai.Frontal)
			add("sagittal arm", ai.Sagittal)
			add("horizontal arm", ai.Horizontal)
			add("3-D arm", ai.ThreeD)
			add("pressure x", pi.X)
			add("pressure y", pi.Y)
			add("free moment", fi)
			pi, fi = cop.Of(wi, 0.03, 20)
			add("raised pressure x", pi.X)
			add("raised pressure y", pi.Y)
			add("raised free moment", fi)
		}
		for name, v := range draws {
			if mc := stat.StdDev(v, nil); !(math.Abs(got[name]/mc-1) < 0.05) {
				t.Errorf("seed %d, %s: %.5g, Monte Carlo %.5g", seed, name, got[name], mc)
			}
		}
	}
}

func TestShareSD(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 5))
	z := func(v float64) grf.Wrench { return grf.Wrench{Force: r3.Vec{Z: v}} }
	var v []float64
	for range 40000 {
		v = append(v, cop.Share(z(500+4*rnd.NormFloat64()), z(300+9*rnd.NormFloat64())))
	}
	got := cop.ShareSD(z(500), z(300), 4, 9)
	if mc := stat.StdDev(v, nil); math.Abs(got/mc-1) > 0.05 {
		t.Errorf("%.5g, Monte Carlo %.5g", got, mc)
	}
	if !math.IsNaN(cop.ShareSD(z(1), z(2), 1, 1)) {
		t.Error("the share of an unloaded pair has a standard deviation")
	}
}

// A plate whose place is uncertain moves the point by as much, and nothing else.
func TestMisplacedPlate(t *testing.T) {
	w := grf.At(r3.Vec{X: 30, Y: -70, Z: 800}, r3.Vec{X: 0.1, Y: 0.2}, r3.Vec{Z: 5})
	cov := grf.Misplaced(w.Force, r3.Vec{X: 0.002, Y: 0.003})
	p, free := cop.OfSD(w, &cov, 0, 20)
	if math.Abs(p.X-0.002) > 1e-12 || math.Abs(p.Y-0.003) > 1e-12 || free > 1e-9 {
		t.Errorf("point ± %v, free moment ± %g", p, free)
	}
}

func TestUndefinedHasNoSD(t *testing.T) {
	u := torque.Uncertainty{Wrench: grf.Diagonal(grf.Wrench{Force: r3.Vec{X: 1, Y: 1, Z: 1}})}
	light := grf.Wrench{Force: r3.Vec{Z: 5}}
	if p, f := cop.OfSD(light, &u.Wrench, 0, 20); !math.IsNaN(p.X) || !math.IsNaN(f) {
		t.Errorf("unloaded: %v, %g", p, f)
	}
	if a := torque.ArmsSD(light, r3.Vec{Z: 1}, 20, &u); !math.IsNaN(a.Frontal) || !math.IsNaN(a.ThreeD) {
		t.Errorf("unloaded: %+v", a)
	}
	// A vertical force has arms in the vertical planes but none in the horizontal.
	up := grf.At(r3.Vec{Z: 800}, r3.Vec{Y: 0.1}, r3.Vec{})
	if a := torque.ArmsSD(up, r3.Vec{Z: 1}, 20, &u); math.IsNaN(a.Frontal) || !math.IsNaN(a.Horizontal) {
		t.Errorf("vertical force: %+v", a)
	}
}

func TestStandardDeviationsDoNotAllocate(t *testing.T) {
	w := grf.At(r3.Vec{X: 30, Y: -70, Z: 800}, r3.Vec{X: 0.1, Y: 0.2}, r3.Vec{Z: 5})
	u := torque.Uncertainty{Wrench: correlated(1), COM: r3.Vec{X: 0.01, Y: 0.01, Z: 0.01}}
	com := r3.Vec{Z: 1}
	var m torque.Planes
	var a torque.Arm
	if n := testing.AllocsPerRun(100, func() {
		m = torque.AboutSD(w, com, &u)
		a = torque.ArmsSD(w, com, 20, &u)
	}); n != 0 {
		t.Errorf("%g allocations", n)
	}
	_, _ = m, a
}
