package propagate

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g within %g", what, got, want, tol)
	}
}

// GUM H.2: resistance and reactance of one circuit element from five
// simultaneous observations of voltage, current and phase, tables H.2 to H.4.
// u(X) comes out as 0.2956 and is printed 0.295, hence the tolerance of 0.001.
func TestSimultaneousResistanceAndReactance(t *testing.T) {
	obs := [][]float64{
		{5.007, 4.994, 5.005, 4.990, 4.999},
		{19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3},
		{1.0456, 1.0438, 1.0468, 1.0428, 1.0433},
	}
	m, c, err := OfMeans(obs)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "V", m[0], 4.9990, 5e-5)
	near(t, "u(V)", math.Sqrt(c.At(0, 0)), 0.0032, 5e-5)
	near(t, "u(I)", math.Sqrt(c.At(1, 1)), 0.0095e-3, 5e-8)
	near(t, "u(phi)", math.Sqrt(c.At(2, 2)), 0.00075, 5e-6)
	r := Correlation(c)
	near(t, "r(V, I)", r.At(0, 1), -0.36, 0.005)
	near(t, "r(V, phi)", r.At(0, 2), 0.86, 0.005)
	near(t, "r(I, phi)", r.At(1, 2), -0.65, 0.005)

	v, i, phi := m[0], m[1], m[2]
	sin, cos := math.Sincos(phi)
	z := v / i
	j := mat.NewDense(3, 3, []float64{
		cos / i, -z * cos / i, -z * sin,
		sin / i, -z * sin / i, z * cos,
		1 / i, -z / i, 0,
	})
	out, err := Covariance(nil, j, c)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "R", z*cos, 127.732, 5e-4)
	near(t, "X", z*sin, 219.847, 5e-4)
	near(t, "Z", z, 254.260, 5e-4)
	near(t, "u(R)", math.Sqrt(out.At(0, 0)), 0.071, 5e-4)
	near(t, "u(X)", math.Sqrt(out.At(1, 1)), 0.295, 1e-3)
	near(t, "u(Z)", math.Sqrt(out.At(2, 2)), 0.236, 5e-4)
	ro := Correlation(out)
	near(t, "r(R, X)", ro.At(0, 1), -0.588, 5e-4)
	near(t, "r(R, Z)", ro.At(0, 2), -0.485, 5e-4)
	near(t, "r(X, Z)", ro.At(1, 2), 0.993, 5e-4)
	u, err := SD([]float64{1 / i, -z / i, 0}, c)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "SD of one result", u, math.Sqrt(out.At(2, 2)), 1e-12)
}

// GUM H.1: end-gauge calibration, nm.
func TestEndGauge(t *testing.T) {
	const ls, theta, alphaS = 50000623.0, -0.1, 11.5e-6
	gradient := []float64{1, 1, 1, 1, 0, 0, 0, -ls * theta, -ls * alphaS}
	sd := []float64{25, 5.8, 3.9, 6.7,
		Rectangular(2e-6), 0.2, Arcsine(0.5), Rectangular(1e-6), Rectangular(0.05)}
	u, err := SD(gradient, Independent(sd...))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "u(l)", u, 32, 0.5)
	near(t, "part of the expansion coefficients", ls*0.1*sd[7], 2.88679, 5e-6)
	near(t, "part of the temperature difference", ls*alphaS*sd[8], 16.599, 5e-4)
	inf := math.Inf(1)
	parts := make([]float64, len(sd))
	for i := range parts {
		parts[i] = gradient[i] * sd[i]
	}
	dof, err := EffectiveDOF(parts, []float64{18, 24, 5, 8, inf, inf, inf, 50, 2})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "degrees of freedom", dof, 16.7, 0.1) // GUM H.1.6, from memory
	// From memory: t for 99 % and 16 degrees is 2.92, the expanded uncertainty 93 nm.
	near(t, "k", CoverageFactor(0.99, 16), 2.92, 0.005)
}

// First order against the truth by simulation, for a ratio with correlated
// inputs far from zero.
func TestAgainstMonteCarlo(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	const a, b, ua, ub, r = 40, 800, 0.5, 4, 0.6
	c := mat.NewSymDense(2, []float64{ua * ua, r * ua * ub, r * ua * ub, ub * ub})
	u, err := SD([]float64{1. / b, -a / float64(b*b)}, c)
	if err != nil {
		t.Fatal(err)
	}
	x := make([]float64, 200000)
	for i := range x {
		p, q := rng.NormFloat64(), rng.NormFloat64()
		x[i] = (a + ua*p) / (b + ub*(r*p+math.Sqrt(1-r*r)*q))
	}
	near(t, "u of a ratio", u/stat.StdDev(x, nil), 1, 0.01) // sampling error 0.16 %
}

func TestNaNIsKept(t *testing.T) {
	c := Independent(1, math.NaN())
	out, err := Covariance(nil, mat.NewDense(2, 2, []float64{1, 1, 1, 2}), c)
	if err != nil {
		t.Fatal(err)
	}
	if !math.IsNaN(out.At(0, 0)) || !math.IsNaN(out.At(0, 1)) {
		t.Errorf("unknown uncertainty became %v", mat.Formatted(out))
	}
	if u, _ := SD([]float64{1, 1}, c); !math.IsNaN(u) {
		t.Errorf("unknown uncertainty became %g", u)
	}
}

func TestCovarianceDestination(t *testing.T) {
	j := mat.NewDense(1, 2, []float64{3, 4})
	var dst mat.SymDense
	got, err := Covariance(&dst, j, Independent(1, 1))
	if err != nil || got != &dst || dst.At(0, 0) != 25 {
		t.Errorf("into an empty destination: %v, %v", got, err)
	}
	if allocs := testing.AllocsPerRun(10, func() {
		if _, err := Covariance(&dst, j, diag2); err != nil {
			t.Fatal(err)
		}
	}); allocs != 0 {
		t.Errorf("%g allocations with a destination", allocs)
	}
}

var diag2 = Independent(1, 2)

func TestErrors(t *testing.T) {
	j := mat.NewDense(1, 2, []float64{1, 1})
	check := func(name string, err, want error) {
		t.Helper()
		if !errors.Is(err, want) {
			t.Errorf("%s: %v, want %v", name, err, want)
		}
	}
	_, err := Covariance(nil, j, Independent(1))
	check("covariance too small", err, ErrShape)
	_, err = Covariance(mat.NewSymDense(2, nil), j, Independent(1, 1))
	check("destination too large", err, ErrShape)
	_, err = SD([]float64{1}, Independent(1, 1))
	check("gradient too short", err, ErrShape)
	_, _, err = OfMeans(nil)
	check("no inputs", err, ErrTooFew)
	_, _, err = OfMeans([][]float64{{1}})
	check("one observation", err, ErrTooFew)
	_, _, err = OfMeans([][]float64{{1, 2}, {1}})
	check("ragged observations", err, ErrShape)
	_, err = EffectiveDOF([]float64{1}, nil)
	check("degrees of freedom missing", err, ErrShape)
	dof, err := EffectiveDOF([]float64{1}, []float64{math.Inf(1)})
	if err != nil || !math.IsInf(dof, 1) {
		t.Errorf("known exactly: %g, %v", dof, err)
	}
	near(t, "normal coverage", CoverageFactor(0.95, math.Inf(1)), 1.959963985, 1e-9)
	near(t, "triangular", Triangular(1), 1/math.Sqrt(6), 1e-15)
}

// Density from mass and volume, both uncertain.
func ExampleSD() {
	const m, v = 4.0, 2.0
	u, err := SD([]float64{1 / v, -m / (v * v)}, Independent(0.5, 0.2))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f ± %.2f\n", m/v, u)
	// Output: 2.00 ± 0.32
}
