package main

import (
	"iter"

	"gonum.org/v1/gonum/mat"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase/live"
	"example.com/momentarm/validation/synth"
)

// device is where samples come from: numbers that count them and the channels of
// all plates, in the order of the configuration.
type device struct {
	samples iter.Seq2[uint64, []float64]
}

// newGolfer returns a made-up golfer on these plates, who steps on after two
// seconds, swings and holds the finish. The plates have offsets.
func newGolfer(c live.Config) (device, error) {
	s, err := synth.New(synth.Config{Unloaded: 2, Rate: c.Rate})
	if err != nil {
		return device{}, err
	}
	rec := s.Recording()
	var back []mat.Dense // from a wrench to the channels of each plate
	for _, in := range c.Inputs {
		m, _ := in.Plate.Matrix() // these plates have one
		var inverse mat.Dense
		if err := inverse.Inverse(mat.NewDense(6, 6, m)); err != nil {
			return device{}, err
		}
		back = append(back, inverse)
	}
	return device{func(yield func(uint64, []float64) bool) {
		channels := make([]float64, 0, 12)
		var v mat.VecDense
		for i := range rec.Len() {
			channels = channels[:0]
			for k, in := range c.Inputs {
				foot := map[live.Foot]grf.Wrench{live.Lead: rec.Lead[i], live.Trail: rec.Trail[i]}[in.Foot]
				w := c.Axes.LabWrench(foot)
				v.MulVec(&back[k], mat.NewVecDense(6, []float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z}))
				for j := range 6 {
					channels = append(channels, v.AtVec(j)+2-float64(j)/2)
				}
			}
			if !yield(uint64(i), channels) {
				return
			}
		}
	}}, nil
}
