package live_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase/live"
	"example.com/momentarm/validation/synth"
)

// Two plates beside each other in a laboratory whose target is along −x: the
// plates of the made-up swings, trail foot first, each with six channels in volts
// behind a calibration matrix with cross-talk.
var (
	gains   = [6]float64{500, 500, 1000, 400, 300, 200} // N/V, N·m/V
	axes, _ = grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{X: -1}, r3.Vec{X: 1, Y: 2}, grf.RightHanded)
)

const rate = 1000

// rig is a pair of plates and the way back from wrenches to their channels.
type rig struct {
	plates  [2]*grf.Plate // trail, lead
	inverse [2][6][6]float64
	offset  [12]float64
}

// newRig makes plates of one size side by side. Their calibration has off-diagonal
// terms; its inverse is found by Gauss's elimination, so that the test does not
// lean on the code that it tests.
func newRig(t testing.TB) *rig {
	t.Helper()
	r := &rig{}
	for p, middle := range []float64{1 + 0.2525, 1 - 0.2525} { // lab x: the target is along −x
		var calibration [][]float64
		for i := range 6 {
			row := make([]float64, 6)
			for j := range row {
				row[j] = 0.002 * gains[i] * math.Sin(float64(1+i+7*j+p))
			}
			row[i] += gains[i]
			calibration = append(calibration, row)
		}
		corner := func(x, y float64) r3.Vec { return r3.Vec{X: middle + x, Y: 2 + y} }
		plate, err := grf.NewPlate(grf.PlateConfig{
			Type:        grf.TypeMomentCalibrated,
			Corners:     [4]r3.Vec{corner(0.25, -0.3), corner(-0.25, -0.3), corner(-0.25, 0.3), corner(0.25, 0.3)},
			Origin:      r3.Vec{X: 0.001, Y: -0.002, Z: -0.04},
			Calibration: calibration,
			Sense:       grf.Action,
		})
		if err != nil {
			t.Fatal(err)
		}
		r.plates[p] = plate
		// The plate is linear: its columns are the wrenches of unit channels.
		var a [6][12]float64
		for j := range 6 {
			unit := make([]float64, 6)
			unit[j] = 1
			w := axes.Wrench(plate.Wrench(unit))
			for i, v := range components(w) {
				a[i][j] = v
			}
			a[j][6+j] = 1
		}
		for c := range 6 {
			best := c
			for i := c; i < 6; i++ {
				if math.Abs(a[i][c]) > math.Abs(a[best][c]) {
					best = i
				}
			}
			a[c], a[best] = a[best], a[c]
			d := a[c][c]
			for j := range 12 {
				a[c][j] /= d
			}
			for i := range 6 {
				if f := a[i][c]; i != c {
					for j := range 12 {
						a[i][j] -= f * a[c][j]
					}
				}
			}
		}
		for i := range 6 {
			copy(r.inverse[p][i][:], a[i][6:])
		}
	}
	for i := range r.offset {
		r.offset[i] = 0.01 * math.Cos(float64(3*i))
	}
	return r
}

func components(w grf.Wrench) [6]float64 {
	return [6]float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z}
}

// channels returns what the plates read under these feet.
func (r *rig) channels(lead, trail grf.Wrench) []float64 {
	out := make([]float64, 12)
	for p, w := range [2]grf.Wrench{trail, lead} {
		v := components(w)
		for i := range 6 {
			for j := range 6 {
				out[6*p+i] += r.inverse[p][i][j] * v[j]
			}
		}
	}
	for i := range out {
		out[i] += r.offset[i]
	}
	return out
}

func (r *rig) config() live.Config {
	return live.Config{
		Rate: rate,
		Inputs: []live.Input{
			{Plate: r.plates[0], Foot: live.Trail, Ranges: []live.Range{{Low: -5, High: 5}}},
			{Plate: r.plates[1], Foot: live.Lead, Ranges: []live.Range{{Low: -5, High: 5}}},
		},
		Axes: axes,
	}
}

func chain(t testing.TB, c live.Config) *live.Chain {
	t.Helper()
	ch, err := live.New(c)
	if err != nil {
		t.Fatal(err)
	}
	return ch
}

// take returns the samples of a session: two seconds without anybody, a golfer who
// steps on, addresses, swings and holds the finish. noise is in N, and a fifth of
// it in N·m.
func (r *rig) take(t testing.TB, cfg synth.Config, noise float64) (*synth.Swing, *grf.Recording, [][]float64) {
	t.Helper()
	if cfg.Unloaded == 0 {
		cfg.Unloaded = 2
	}
	cfg.Rate = rate
	s, err := synth.New(cfg)
	if err != nil {
		t.Fatal(err)
	}
	rec := s.Recording()
	rng := rand.New(rand.NewPCG(1, 2))
	out := make([][]float64, rec.Len())
	for i := range out {
		out[i] = r.channels(rec.Lead[i], rec.Trail[i])
		for j := range out[i] {
			n := noise * rng.NormFloat64() / gains[j%6]
			if j%6 > 2 {
				n /= 5
			}
			out[i][j] += n
		}
	}
	return s, rec, out
}

// push sends samples from first on and returns their frames, without events.
func push(t testing.TB, c *live.Chain, first uint64, samples [][]float64) []live.Frame {
	t.Helper()
	var out []live.Frame
	for i, ch := range samples {
		f, err := c.Push(live.Sample{Sequence: first + uint64(i), Channels: ch})
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, f)
	}
	return out
}
