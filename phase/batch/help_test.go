package batch_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
	"example.com/momentarm/phase/batch"
)

const rate = 1000

// lab is a laboratory whose target is along −x: plate 0 carries the trail foot.
func lab(t testing.TB) grf.Axes {
	t.Helper()
	axes, err := grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{X: -1}, r3.Vec{X: 1, Y: 2}, grf.RightHanded)
	if err != nil {
		t.Fatal(err)
	}
	return axes
}

// twoPlates returns plates side by side, with six channels in volts behind
// calibration matrices with cross-talk.
func twoPlates(t testing.TB) []*grf.Plate {
	t.Helper()
	var plates []*grf.Plate
	for p, middle := range []float64{1 + 0.2525, 1 - 0.2525} {
		corner := func(x, y float64) r3.Vec { return r3.Vec{X: middle + x, Y: 2 + y} }
		plates = append(plates, plate(t, grf.PlateConfig{
			Type:        grf.TypeMomentCalibrated,
			Corners:     [4]r3.Vec{corner(0.25, -0.3), corner(-0.25, -0.3), corner(-0.25, 0.3), corner(0.25, 0.3)},
			Origin:      r3.Vec{X: 0.001, Y: -0.002, Z: -0.04},
			Calibration: calibration(p),
			Sense:       grf.Action,
		}))
	}
	return plates
}

// calibration is the matrix of plate p.
func calibration(p int) (m [][]float64) {
	gains := [6]float64{300, 300, 1000, 400, 400, 200} // N/V, N·m/V
	for i := range 6 {
		row := make([]float64, 6)
		for j := range row {
			row[j] = 0.01 * gains[i] * math.Sin(float64(1+i+7*j+p))
		}
		row[i] += gains[i]
		m = append(m, row)
	}
	return m
}

func plate(t testing.TB, c grf.PlateConfig) *grf.Plate {
	t.Helper()
	p, err := grf.NewPlate(c)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// feet returns what two feet do on the ground for n samples, in swing axes: the
// golfer sways, shifts weight until a foot is in the air, and twists.
func feet(seed uint64, n int, axes grf.Axes) [2][]grf.Wrench {
	rng := rand.New(rand.NewPCG(seed, 1))
	var phase [8]float64
	for i := range phase {
		phase[i] = 2 * math.Pi * rng.Float64()
	}
	var out [2][]grf.Wrench
	for i := range n {
		wave := func(hz float64, k int) float64 { return math.Sin(2*math.Pi*hz*float64(i)/rate + phase[k]) }
		lead := max(0, min(1, 0.5+0.56*wave(0.35, 0)))
		f := r3.Vec{X: 60 * wave(1.3, 1), Y: 90 * wave(0.9, 2), Z: 780 + 150*wave(1.5, 3) + 60*wave(4, 4)}
		for k, share := range []float64{1 - lead, lead} { // trail, lead
			side := float64(2*k - 1)
			push := r3.Vec{X: share*f.X + side*10*wave(0.8, 5), Y: share*f.Y + side*25*wave(1.1, 6), Z: share * f.Z}
			at := r3.Vec{X: 0.08 * wave(0.5, 7), Y: side*0.25 + 0.03*wave(0.7, 6)}
			out[k] = append(out[k], grf.At(push, at, r3.Vec{Z: 8 * share * wave(1, 5)}))
		}
	}
	return out
}

// channels returns what the plates read under these wrenches in swing axes, with
// noise and an offset of zero[i] in channel i.
func channels(t testing.TB, plates []*grf.Plate, axes grf.Axes, ws [2][]grf.Wrench, zero []float64, seed uint64) [][]float64 {
	t.Helper()
	rng := rand.New(rand.NewPCG(seed, 2))
	var out [][]float64
	for p, pl := range plates {
		n := pl.Channels()
		m, ok := pl.Matrix()
		if !ok {
			t.Fatal("no matrix")
		}
		rhs := mat.NewDense(6, len(ws[p]), nil)
		for i, w := range ws[p] {
			w = axes.LabWrench(w)
			rhs.SetCol(i, []float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z})
		}
		var x mat.Dense
		if err := x.Solve(mat.NewDense(6, n, m), rhs); err != nil {
			t.Fatal(err)
		}
		for j := range n {
			row := mat.Row(nil, j, &x)
			for i := range row {
				row[i] += zero[len(out)] + 1e-3*rng.NormFloat64()
			}
			out = append(out, row)
		}
	}
	return out
}

func zeros(n int) []float64 {
	z := make([]float64, n)
	for i := range z {
		z[i] = 0.05 * math.Cos(float64(3*i))
	}
	return z
}

// scipyFilter is the filter of signal.sosfiltfilt(signal.butter(4, 50)).
func scipyFilter(t testing.TB) *filter.ZeroPhase {
	t.Helper()
	s, err := filter.Butterworth(4, 50, rate)
	if err != nil {
		t.Fatal(err)
	}
	z, err := filter.NewZeroPhaseSections(s, filter.ZeroPhaseOptions{Pad: filter.ReferencePad(s)})
	if err != nil {
		t.Fatal(err)
	}
	return z
}

func chain(t testing.TB, c batch.Config) *batch.Chain {
	t.Helper()
	ch, err := batch.New(c)
	if err != nil {
		t.Fatal(err)
	}
	return ch
}

// rig returns a chain of two plates and n samples for it.
func rig(t testing.TB, n int, seed uint64) (*batch.Chain, batch.Input) {
	t.Helper()
	axes, plates := lab(t), twoPlates(t)
	c := chain(t, batch.Config{Rate: rate, Plates: plates, Axes: axes, Filter: scipyFilter(t)})
	zero := zeros(12)
	return c, batch.Input{
		Channels: channels(t, plates, axes, feet(seed, n, axes), zero, seed),
		Zero:     zero,
		Start:    batch.Start{Mass: 80, Position: r3.Vec{Z: 1}},
	}
}
