package main

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/filter"
	"example.com/momentarm/phase/batch"
)

const (
	rate   = 1000
	cutoff = 50
	mass   = 80
	height = 1.0 // of the centre of mass at the start, m
)

// setup is a made-up laboratory, and what both sides are told of it.
type setup struct {
	Rate    float64    `json:"rate"`
	Cutoff  float64    `json:"cutoff"` // −3 dB of one pass of order 4
	Least   float64    `json:"least"`
	Mass    float64    `json:"mass"`
	Gravity float64    `json:"gravity"`
	Start   [3]float64 `json:"start"`
	Up      [3]float64 `json:"up"`
	Target  [3]float64 `json:"target"`
	Origin  [3]float64 `json:"origin"` // of the swing axes, in the laboratory
	Zero    []float64  `json:"zero"`
	Plates  []plate    `json:"plates"`

	axes   grf.Axes
	plates []*grf.Plate
}

type plate struct {
	Corners     [4][3]float64 `json:"corners"`
	Origin      [3]float64    `json:"origin"`
	Calibration [][]float64   `json:"calibration"`
}

func vec(a [3]float64) r3.Vec { return r3.Vec{X: a[0], Y: a[1], Z: a[2]} }

func newSetup(seed uint64) (*setup, error) {
	rng := rand.New(rand.NewPCG(seed, 0))
	s := &setup{
		Rate: rate, Cutoff: cutoff, Least: cop.DefaultMinVertical, Mass: mass, Gravity: com.StandardGravity,
		Start: [3]float64{0, 0, height}, Up: [3]float64{0, 0, 1}, Target: [3]float64{-0.97, 0.2, 0}, Origin: [3]float64{0.8, 1.9, 0},
	}
	var err error
	if s.axes, err = grf.NewAxes(vec(s.Up), vec(s.Target), vec(s.Origin), grf.RightHanded); err != nil {
		return nil, err
	}
	for k, middle := range []float64{-0.27, 0.27} { // trail, lead: along the target line
		turn := 0.03 * float64(1-2*k) // the plates are not quite square to it
		sin, cos := math.Sincos(turn)
		p := plate{Origin: [3]float64{0.002, -0.001, -0.045}}
		// Corners in C3D's order, with z = x × y into the floor.
		for i, c := range [4][2]float64{{1, 1}, {1, -1}, {-1, -1}, {-1, 1}} {
			x, y := 0.3*c[0], 0.25*c[1]
			at := s.axes.LabPoint(r3.Vec{X: x*cos - y*sin, Y: middle + x*sin + y*cos})
			p.Corners[i] = [3]float64{at.X, at.Y, at.Z}
		}
		for i, gain := range [6]float64{250, 250, 900, 350, 350, 180} { // N/V, N·m/V
			row := make([]float64, 6)
			for j := range row {
				row[j] = 0.008 * gain * rng.NormFloat64()
			}
			row[i] += gain
			p.Calibration = append(p.Calibration, row)
		}
		s.Plates = append(s.Plates, p)
		built, err := grf.NewPlate(grf.PlateConfig{
			Type:        grf.TypeMomentCalibrated,
			Corners:     [4]r3.Vec{vec(p.Corners[0]), vec(p.Corners[1]), vec(p.Corners[2]), vec(p.Corners[3])},
			Origin:      vec(p.Origin),
			Calibration: p.Calibration,
			Sense:       grf.Action,
		})
		if err != nil {
			return nil, err
		}
		s.plates = append(s.plates, built)
	}
	for range 12 {
		s.Zero = append(s.Zero, 0.05*rng.NormFloat64())
	}
	return s, nil
}

// write writes what the other side has to know.
func (s *setup) write(folder string) error {
	data, err := json.Marshal(s)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, "setup.json"), data, 0o600)
}

// chain returns this side's chain with the sections of a filter that SciPy has
// designed and with its pad. (Package filter's own design has a gain of exactly 1
// at zero frequency. SciPy's is off by a rounding, which is nothing, except to a
// twofold integration over a minute.)
func (s *setup) chain(sos [][6]float64) (*batch.Chain, error) {
	var sections []filter.Section
	for _, c := range sos {
		sections = append(sections, filter.Section{B0: c[0], B1: c[1], B2: c[2], A1: c[4], A2: c[5]})
	}
	z, err := filter.NewZeroPhaseSections(sections, filter.ZeroPhaseOptions{Pad: filter.ReferencePad(sections)})
	if err != nil {
		return nil, err
	}
	return batch.New(batch.Config{Rate: s.Rate, Plates: s.plates, Axes: s.axes, Filter: z})
}

// swing makes up a recording: a golfer sways from foot to foot until one is in the
// air, pushes and twists, and the channels are noisy.
func (s *setup) swing(seed uint64, n int) ([][]float64, error) {
	rng := rand.New(rand.NewPCG(seed, 1))
	var phase, size [10]float64
	for i := range phase {
		phase[i], size[i] = 2*math.Pi*rng.Float64(), 0.8+0.4*rng.Float64()
	}
	wave := func(i, k int, hz, amplitude float64) float64 {
		return amplitude * size[k] * math.Sin(2*math.Pi*hz*float64(i)/rate+phase[k])
	}
	var wrenches [2]*mat.Dense
	for k := range wrenches {
		wrenches[k] = mat.NewDense(6, n, nil)
	}
	for i := range n {
		lead := min(max(0.5+wave(i, 0, 0.3, 0.56), 0), 1)
		fx := wave(i, 1, 1.1, 70)
		fy := wave(i, 2, 0.8, 95)
		fz := mass*com.StandardGravity + wave(i, 3, 1.4, 150) + wave(i, 4, 3.7, 70)
		for k, share := range []float64{1 - lead, lead} {
			side := float64(2*k - 1)
			force := r3.Vec{X: share*fx + side*wave(i, 5, 0.7, 12), Y: share*fy + side*wave(i, 6, 1.2, 28), Z: share * fz}
			at := r3.Vec{X: wave(i, 7, 0.45, 0.08), Y: 0.27*side + wave(i, 8, 0.6, 0.03)}
			w := s.axes.LabWrench(grf.At(force, at, r3.Vec{Z: share * wave(i, 9, 1, 9)}))
			wrenches[k].SetCol(i, []float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z})
		}
	}
	var channels [][]float64
	for k, p := range s.plates {
		m, _ := p.Matrix()
		var volts mat.Dense
		if err := volts.Solve(mat.NewDense(6, 6, m), wrenches[k]); err != nil {
			return nil, err
		}
		for j := range 6 {
			row := mat.Row(nil, j, &volts)
			zero := s.Zero[len(channels)]
			for i := range row {
				row[i] += zero + 1e-3*rng.NormFloat64()
			}
			channels = append(channels, row)
		}
	}
	return channels, nil
}

// input is what this side runs on.
func (s *setup) input(channels [][]float64) batch.Input {
	return batch.Input{Channels: channels, Zero: s.Zero, Start: batch.Start{Mass: s.Mass, Position: vec(s.Start)}}
}
