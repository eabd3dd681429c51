package batch

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
)

// Input is one recording. Channels are required. Where the centre of mass is
// comes from one of COM, Start and Rest; without any of them it is NaN, and so
// are moments and arms.
type Input struct {
	// Channels holds one series for each channel, of plate after plate, all of
	// one length. A run does not change them.
	Channels [][]float64
	// Zero is what each channel reads without load, in the channel's unit (see
	// [grf.MeasureBaseline]); nil for plates that zero themselves. The position
	// channels of a [grf.TypePoint] plate have no zero: their values are not used.
	Zero []float64

	// COM is the path of the centre of mass, m, one point for each sample in
	// swing axes, from whoever knows it.
	COM []r3.Vec
	// Start is mass and state of motion at the first sample, from which force
	// is integrated. Without a mass it is not used.
	Start Start
	// Rest is a window in which the golfer stands still, s from the first
	// sample on. It tells mass, bias and start as [com.FromForces] has it: the
	// mean net force is the weight, what it has of horizontal force is the
	// plates' error, the mean velocity is zero and the mean position lies above
	// the centre of pressure of the mean wrench, Height metres above the ground.
	Rest   com.Window
	Height float64
}

// Start says where a twofold integration begins.
type Start struct {
	// Mass of the golfer and everything they carry, kg.
	Mass float64
	// Position, m, and Velocity, m/s, of the centre of mass at the first sample.
	Position, Velocity r3.Vec
	// Bias is what the plates' net force is short of, N: it is added before the
	// integration and nowhere else.
	Bias r3.Vec
}

// check returns the number of samples of in, or what is wrong with it.
func (c *Chain) check(in *Input) (int, error) {
	if got, want := len(in.Channels), c.Channels(); got != want {
		return 0, fmt.Errorf("%w: %w: the plates have %d, got %d", ErrInput, grf.ErrChannels, want, got)
	}
	n := len(in.Channels[0])
	for i, ch := range in.Channels[1:] {
		if len(ch) != n {
			return 0, fmt.Errorf("%w: %w", ErrInput, &grf.LengthError{What: fmt.Sprintf("channel %d against channel 1", i+2), Want: n, Got: len(ch)})
		}
	}
	if n == 0 {
		return 0, fmt.Errorf("%w: %w", ErrInput, grf.ErrNoData)
	}
	if in.Zero != nil {
		if len(in.Zero) != len(in.Channels) {
			return 0, fmt.Errorf("%w: %w: %d zeros for %d channels", ErrInput, grf.ErrChannels, len(in.Zero), len(in.Channels))
		}
		for i, z := range in.Zero {
			if !isFinite(z) {
				return 0, fmt.Errorf("%w: zero of channel %d is %g", ErrInput, i+1, z)
			}
		}
	}
	s := &in.Start
	ways := 0
	if in.COM != nil {
		ways++
		if len(in.COM) != n {
			return 0, fmt.Errorf("%w: %w", ErrInput, &grf.LengthError{What: "centre of mass against channel 1", Want: n, Got: len(in.COM)})
		}
	}
	if *s != (Start{}) {
		ways++
		if !(s.Mass > 0) || math.IsInf(s.Mass, 0) {
			return 0, fmt.Errorf("%w: a start needs a mass, got %g kg", ErrInput, s.Mass)
		}
		if !finite(s.Position) || !finite(s.Velocity) || !finite(s.Bias) {
			return 0, fmt.Errorf("%w: start %+v is not finite", ErrInput, *s)
		}
	}
	if in.Rest != (com.Window{}) {
		ways++
		if !(in.Height >= 0) || math.IsInf(in.Height, 0) {
			return 0, fmt.Errorf("%w: height %g m of the centre of mass", ErrInput, in.Height)
		}
	}
	if ways > 1 {
		return 0, fmt.Errorf("%w: the centre of mass comes from one of COM, Start and Rest, %d are given", ErrInput, ways)
	}
	return n, nil
}

func isFinite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

func finite(v r3.Vec) bool { return isFinite(v.X) && isFinite(v.Y) && isFinite(v.Z) }
