package live

import (
	"fmt"
	"math"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/torque"
)

// Foot says who stands on a plate.
type Foot int

const (
	// Lead is the foot nearer the target.
	Lead Foot = iota
	// Trail is the other.
	Trail
	// Both feet are on one plate, or on several that do not tell them apart.
	Both
)

// String returns "lead", "trail" or "both".
func (f Foot) String() string {
	switch f {
	case Lead:
		return "lead"
	case Trail:
		return "trail"
	case Both:
		return "both"
	}
	return fmt.Sprintf("Foot(%d)", int(f))
}

// Range is what a channel can show, in the channel's unit. A reading at either
// end or beyond is saturated.
type Range struct{ Low, High float64 }

// Input is one plate.
type Input struct {
	Plate *grf.Plate // its sense must be Reaction or Action
	Foot  Foot
	// Ranges of the channels: one for each, one for all, or none when they are
	// not known.
	Ranges []Range
}

// Config describes plates and golfer. Rate, Inputs and Axes are required; the
// zero value of everything else is the default.
type Config struct {
	Rate float64 // Hz
	// Inputs are the plates in the order of their channels in a [Sample]: at
	// least one for the lead and one for the trail foot, or only such for both.
	// Plates under the same foot add up.
	Inputs []Input
	// Axes lead from the laboratory to swing axes.
	Axes grf.Axes

	// Cutoff of the low-pass, Hz, at −3 dB; default [DefaultCutoff]. Order of
	// the low-pass, even; default 2.
	Cutoff float64
	Order  int

	// MinVertical bounds centres of pressure; default [cop.DefaultMinVertical].
	// MinForce bounds arms; default [torque.DefaultMinForce]. Both in N.
	MinVertical, MinForce float64

	// Zero says what counts as an unloaded plate, and ZeroTime how long it has
	// to be one, s; default 1.
	Zero     grf.BaselineOptions
	ZeroTime float64

	// Quiet says how still the golfer has to stand to be weighed and before a
	// swing; Duration, From and To are not used. WeighTime is how long, s;
	// default 1.
	Quiet     grf.QuietOptions
	WeighTime float64

	// Stature of the golfer, m; 0 means unknown. Height of the centre of mass
	// at address, m, and its standard deviation. Defaults: [com.AddressHeight]
	// of the stature to within 0.04 m; 0.91 m to within 0.07 m without a
	// stature. The height moves the frontal and the sagittal torque; the forces
	// say nothing about it, so a golfer who stands still is taken to be at
	// address.
	Stature          float64
	Height, HeightSD float64

	// Noise of the forces, for the tracker, and Lag, s, how far back a fix from
	// another instrument may lie ([Chain.Correct]); default 0.25.
	Noise com.Noise
	Lag   float64

	// Bridge is the longest run of lost samples that is replaced by a straight
	// line, s; default 0.02. Hold is the longest after which the golfer on the
	// plates is still taken to be the same, s; default 0.25.
	Bridge, Hold float64

	// DriftLimit is how large a force may look where there is none, and how far
	// the golfer's weight may stray, before [Drift] is flagged, N; default 10
	// (common practice, no published source).
	DriftLimit float64
}

// DefaultCutoff keeps what a swing does with the ground and drops plate noise,
// Hz; it delays by 4.5 ms.
const DefaultCutoff = 50

// withDefaults checks c and fills it in.
func (c Config) withDefaults() (Config, error) {
	if !(c.Rate >= 20 && c.Rate <= 1e5) {
		return c, fmt.Errorf("%w: %w: %g Hz; 20 to 100000 Hz are possible", ErrConfig, grf.ErrRate, c.Rate)
	}
	if (c.Axes == grf.Axes{}) {
		return c, fmt.Errorf("%w: %w: none are given; see grf.NewAxes", ErrConfig, grf.ErrAxes)
	}
	var feet [3]int
	for i, in := range c.Inputs {
		switch {
		case in.Plate == nil:
			return c, fmt.Errorf("%w: input %d has no plate", ErrConfig, i+1)
		case in.Plate.Sense() == grf.AsMeasured:
			return c, fmt.Errorf("%w: plate %d does not say whose force it reports; set its Sense", ErrConfig, i+1)
		case in.Foot < Lead || in.Foot > Both:
			return c, fmt.Errorf("%w: input %d is under %v", ErrConfig, i+1, in.Foot)
		}
		if n := len(in.Ranges); n > 1 && n != in.Plate.Channels() {
			return c, fmt.Errorf("%w: input %d has %d ranges for %d channels", ErrConfig, i+1, n, in.Plate.Channels())
		}
		for k, r := range in.Ranges {
			if !(r.Low < r.High) {
				return c, fmt.Errorf("%w: range %d of input %d is %g to %g", ErrConfig, k+1, i+1, r.Low, r.High)
			}
		}
		feet[in.Foot]++
	}
	apart, together := feet[Lead] > 0 && feet[Trail] > 0, feet[Both] > 0
	if apart == together || together && feet[Lead]+feet[Trail] > 0 {
		return c, fmt.Errorf("%w: %d plates under the lead foot, %d under the trail foot, %d under both: want at least one under each foot, or all under both",
			ErrConfig, feet[Lead], feet[Trail], feet[Both])
	}
	if c.Height == 0 {
		if c.Stature > 0 {
			c.Height = com.AddressHeight * c.Stature
			c.HeightSD = orDefault(c.HeightSD, 0.04)
		} else {
			c.Height = 0.91
			c.HeightSD = orDefault(c.HeightSD, 0.07)
		}
	}
	c.HeightSD = orDefault(c.HeightSD, 0.02)
	for _, o := range []struct {
		name, unit      string
		value           *float64
		usual, from, to float64
	}{
		{"cut-off", "Hz", &c.Cutoff, DefaultCutoff, 0, c.Rate / 2},
		{"least vertical force", "N", &c.MinVertical, cop.DefaultMinVertical, 0, 1e6},
		{"least force", "N", &c.MinForce, torque.DefaultMinForce, 0, 1e6},
		{"time to zero", "s", &c.ZeroTime, 1, 10 / c.Rate, 60},
		{"time to weigh", "s", &c.WeighTime, 1, 0.25, 10},
		{"height", "m", &c.Height, 0.91, 0, 3},
		{"standard deviation of the height", "m", &c.HeightSD, 0.07, 0, 3},
		{"lag", "s", &c.Lag, 0.25, 0, 5},
		{"gap to bridge", "s", &c.Bridge, 0.02, 0, 0.1},
		{"gap to hold", "s", &c.Hold, 0.25, 0.15, 5},
		{"limit of drift", "N", &c.DriftLimit, 10, 0, 1e6},
	} {
		of := "of"
		if *o.value == 0 {
			*o.value, of = o.usual, "is by default"
		}
		if !(*o.value >= o.from && *o.value <= o.to) {
			return c, fmt.Errorf("%w: %s %s %g %s; %g to %g %s are possible", ErrConfig, o.name, of, *o.value, o.unit, o.from, o.to, o.unit)
		}
	}
	c.Quiet.From, c.Quiet.To, c.Quiet.Duration = 0, 0, 0
	c.Quiet.Limit = orDefault(c.Quiet.Limit, 0.02)
	c.Quiet.MinWeight = orDefault(c.Quiet.MinWeight, 100)
	c.Quiet.Gravity = orDefault(c.Quiet.Gravity, com.StandardGravity)
	return c, nil
}

// feet says how the detector of events sees the plates.
func (c *Config) feet() phase.FeetMeasured {
	if c.Inputs[0].Foot == Both {
		return phase.FeetTogether
	}
	return phase.FeetApart
}

// channels returns how many channels one sample has.
func (c *Config) channels() int {
	n := 0
	for _, in := range c.Inputs {
		n += in.Plate.Channels()
	}
	return n
}

// samples returns how many samples t seconds are, rounded.
func (c *Config) samples(t float64) int { return int(math.Round(t * c.Rate)) }

func orDefault(v, usual float64) float64 {
	if v == 0 {
		return usual
	}
	return v
}
