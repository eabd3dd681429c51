package synth

import (
	"math"
	"math/rand/v2"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// Disturbance makes the measurement of a perfect plate one of a real plate.
// The zero value changes nothing. Where a field is a standard deviation, each
// channel of each plate draws its own value; the same Seed draws the same
// values. The channels are the three forces and the three moments about the
// middle of the plate's surface.
type Disturbance struct {
	Seed uint64

	// White noise of each sample, standard deviations in N and N·m.
	ForceNoise, MomentNoise float64
	// Constant error of a channel, standard deviations in N and N·m: what
	// zeroing removes.
	ForceBias, MomentBias float64
	// Drift in proportion to the time from the start, standard deviations in
	// N/s and N·m/s.
	ForceDrift, MomentDrift float64
	// Gain is the standard deviation of the relative error of a channel's
	// scale, CrossTalk of the part of another channel of the same kind (force
	// or moment) that a channel picks up.
	Gain, CrossTalk float64
	// Channels end at ±ForceLimit and ±MomentLimit, N and N·m; 0 means that they
	// do not end.
	ForceLimit, MomentLimit float64
	// Dropped is the part of the samples that are lost, on both plates at once,
	// in runs of DropRun samples on average (default 4); they become NaN.
	Dropped, DropRun float64
	// MassError is the relative error of the stated mass.
	MassError float64
}

// plateMiddle is the distance of the middles of the plates from the origin
// along Y, m: see [Swing.C3D].
const plateMiddle = 0.2525

// Apply returns a copy of the recording as two plates with these faults would
// have made it, with their middles 0.2525 m from the origin toward the target
// and away from it; a recording of a single plate is taken to have its middle
// at the origin.
func (d Disturbance) Apply(rec *grf.Recording) *grf.Recording {
	out := *rec
	out.Marks = make(map[string]float64, len(rec.Marks))
	for name, t := range rec.Marks {
		out.Marks[name] = t
	}
	out.Mass *= 1 + d.MassError
	lost := d.lost(rec.Len())
	apply := func(src []grf.Wrench, plate int, y float64) []grf.Wrench {
		if src == nil {
			return nil
		}
		f := d.faults(plate)
		dst := make([]grf.Wrench, len(src))
		for i, w := range src {
			if lost != nil && lost[i] {
				dst[i] = grf.NaN()
				continue
			}
			w = f.wrench(w.MovedTo(vec(0, y, 0)), float64(i)/rec.Rate)
			dst[i] = w.MovedTo(vec(0, -y, 0))
		}
		return dst
	}
	out.Lead = apply(rec.Lead, leadPlate, plateMiddle)
	out.Trail = apply(rec.Trail, trailPlate, -plateMiddle)
	out.Net = apply(rec.Net, leadPlate, 0)
	return &out
}

// Numbers of the plates, as in the C3D file.
const (
	trailPlate = iota
	leadPlate
)

// faults are the drawn errors of one plate.
type faults struct {
	d                 Disturbance
	rng               *rand.Rand
	force, moment     r3.Vec // bias
	forceT, momentT   r3.Vec // drift
	onForce, onMoment [3][3]float64
}

func (d Disturbance) faults(plate int) *faults {
	f := &faults{d: d, rng: rand.New(rand.NewPCG(d.Seed, 0x706c617465+uint64(plate)))}
	three := func(sd float64) r3.Vec {
		return vec(sd*f.rng.NormFloat64(), sd*f.rng.NormFloat64(), sd*f.rng.NormFloat64())
	}
	f.force, f.moment = three(d.ForceBias), three(d.MomentBias)
	f.forceT, f.momentT = three(d.ForceDrift), three(d.MomentDrift)
	for _, m := range []*[3][3]float64{&f.onForce, &f.onMoment} {
		for i := range m {
			for j := range m[i] {
				if i == j {
					m[i][j] = 1 + d.Gain*f.rng.NormFloat64()
				} else {
					m[i][j] = d.CrossTalk * f.rng.NormFloat64()
				}
			}
		}
	}
	return f
}

// wrench returns what the plate makes of w, taken about its middle, t seconds
// after the start.
func (f *faults) wrench(w grf.Wrench, t float64) grf.Wrench {
	channel := func(v r3.Vec, mix *[3][3]float64, bias, drift r3.Vec, noise, limit float64) r3.Vec {
		v = vec(
			mix[0][0]*v.X+mix[0][1]*v.Y+mix[0][2]*v.Z,
			mix[1][0]*v.X+mix[1][1]*v.Y+mix[1][2]*v.Z,
			mix[2][0]*v.X+mix[2][1]*v.Y+mix[2][2]*v.Z,
		)
		v = r3.Add(v, r3.Add(bias, r3.Scale(t, drift)))
		v = r3.Add(v, vec(noise*f.rng.NormFloat64(), noise*f.rng.NormFloat64(), noise*f.rng.NormFloat64()))
		if limit > 0 {
			end := func(x float64) float64 { return math.Max(-limit, math.Min(limit, x)) }
			v = vec(end(v.X), end(v.Y), end(v.Z))
		}
		return v
	}
	return grf.Wrench{
		Force:  channel(w.Force, &f.onForce, f.force, f.forceT, f.d.ForceNoise, f.d.ForceLimit),
		Moment: channel(w.Moment, &f.onMoment, f.moment, f.momentT, f.d.MomentNoise, f.d.MomentLimit),
	}
}

// lost draws which of n samples are dropped, nil for none: runs whose lengths
// and distances are geometrically distributed.
func (d Disturbance) lost(n int) []bool {
	if !(d.Dropped > 0) {
		return nil
	}
	rng := rand.New(rand.NewPCG(d.Seed, 0x64726f70))
	run := d.DropRun
	if !(run >= 1) {
		run = 4
	}
	end := 1 / run
	begin := math.Min(1, end*d.Dropped/math.Max(1e-9, 1-d.Dropped))
	out := make([]bool, n)
	gone := false
	for i := range out {
		if gone {
			gone = rng.Float64() >= end
		} else {
			gone = rng.Float64() < begin
		}
		out[i] = gone
	}
	return out
}
