package synth

import (
	"math"
	"math/rand/v2"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// TrackOptions describe another instrument that follows the centre of mass,
// such as a camera.
type TrackOptions struct {
	Rate float64 // Hz; default 100
	SD   float64 // standard deviation of the noise of each coordinate, m
	// Delay is by how much an instant is stamped later than it was, s.
	Delay float64
	// Dropped is the part of the positions that are lost, in runs as
	// [Disturbance] has them; they become NaN.
	Dropped float64
	Seed    uint64
}

// Track returns the path of the centre of mass as that instrument saw it, from
// the time both feet are aboard to the end. Rates that are not positive take
// the default.
func (s *Swing) Track(opt TrackOptions) grf.Track {
	rate := opt.Rate
	if !(rate > 0) || math.IsInf(rate, 0) {
		rate = 100
	}
	from := s.Aboard()
	n := int(math.Floor((s.end-from)*rate+1e-6)) + 1
	rng := rand.New(rand.NewPCG(opt.Seed, 0x747261636b))
	lost := Disturbance{Seed: opt.Seed, Dropped: opt.Dropped}.lost(n)
	track := grf.Track{
		Time: make([]float64, n), Position: make([]r3.Vec, n),
		SD: vec(opt.SD, opt.SD, opt.SD),
	}
	for i := range n {
		t := from + float64(i)/rate
		noise := vec(rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64())
		track.Time[i] = t + opt.Delay
		track.Position[i] = r3.Add(s.At(t).Position, r3.Scale(opt.SD, noise))
		if lost != nil && lost[i] {
			nan := math.NaN()
			track.Position[i] = vec(nan, nan, nan)
		}
	}
	return track
}
