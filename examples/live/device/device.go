// Package device is a made-up measuring device with two force plates: golfers step
// onto them, address, swing, hold the finish and step off, over and over. It stands
// in for a real one, so that the live program runs anywhere, and its raw channels
// are what a real one has: volts with offsets and noise, behind a calibration
// matrix with cross-talk.
package device

import (
	"fmt"
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase/live"
	"example.com/momentarm/validation/synth"
)

const (
	// Rate of the samples, Hz.
	Rate = 1000
	// Channels of one sample: six of the plate under the trail foot, then six of
	// the plate under the lead foot.
	Channels = 12
	// Span is how far a channel goes to either side, V.
	Span = 5
)

// noise and offset of a channel, as forces, N; a fifth of it in N·m.
const (
	noise  = 0.8
	offset = 8
)

// Device is a device whose plates are zeroed, calibrated and placed as
// [Device.Config] says. It does not change and may be shared by goroutines.
type Device struct {
	config live.Config
	// loop holds the channels of all golfers, one after the other, to be repeated.
	loop []float32
	// Swings are the instants of impact in the loop, s.
	swings []float64
}

// Golfers are the invented golfers who take turns.
func Golfers() []synth.Config {
	return []synth.Config{
		{Style: synth.Balanced, Mass: 78, Stature: 1.78, Waggles: 1},
		{Style: synth.LateWide, Mass: 66, Stature: 1.69, Individual: 11},
		{Style: synth.Squat, Mass: 91, Stature: 1.86, Individual: 5, Waggles: 2},
	}
}

// New returns a device on which these golfers take turns; none means those of
// [Golfers].
func New(golfers ...synth.Config) (*Device, error) {
	if len(golfers) == 0 {
		golfers = Golfers()
	}
	d := &Device{}
	axes, err := grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{Y: 1}, r3.Vec{}, grf.RightHanded)
	if err != nil {
		return nil, err
	}
	d.config = live.Config{Rate: Rate, Axes: axes}
	var volts [2]*mat.Dense // from a wrench in swing axes to the channels of a plate
	for p, foot := range []live.Foot{live.Trail, live.Lead} {
		plate, err := grf.NewPlate(plateConfig(p))
		if err != nil {
			return nil, err
		}
		d.config.Inputs = append(d.config.Inputs, live.Input{
			Plate: plate, Foot: foot, Ranges: []live.Range{{Low: -Span, High: Span}},
		})
		if volts[p], err = channelsOf(plate, axes); err != nil {
			return nil, err
		}
	}
	rng := rand.New(rand.NewPCG(7, 1000))
	for _, g := range golfers {
		g.Rate, g.Handed = Rate, grf.RightHanded
		if g.Unloaded == 0 {
			g.Unloaded = 2.5
		}
		if err := d.add(g, volts, rng); err != nil {
			return nil, err
		}
	}
	return d, nil
}

// plateConfig describes the trail (0) or the lead (1) plate. Laboratory axes are
// the swing axes here; see package grf for what that means.
func plateConfig(p int) grf.PlateConfig {
	middle := []float64{-0.2525, 0.2525}[p]
	corner := func(x, y float64) r3.Vec { return r3.Vec{X: x, Y: middle + y} }
	// Newtons and newton-metres per volt, with some cross-talk.
	gain := [6]float64{400, 400, 800, 300, 200, 100}
	calibration := make([][]float64, 6)
	for i := range calibration {
		calibration[i] = make([]float64, 6)
		for j := range calibration[i] {
			calibration[i][j] = 0.003 * gain[i] * math.Sin(float64(3*i+5*j+p))
		}
		calibration[i][i] += gain[i]
	}
	return grf.PlateConfig{
		Type:        grf.TypeMomentCalibrated,
		Corners:     [4]r3.Vec{corner(0.3, -0.25), corner(-0.3, -0.25), corner(-0.3, 0.25), corner(0.3, 0.25)},
		Origin:      r3.Vec{X: 0.0004, Y: -0.0007, Z: -0.038},
		Calibration: calibration,
		Sense:       grf.Action, // z points down: the golfer's push is positive
	}
}

// channelsOf returns the matrix from a wrench in swing axes to channels.
func channelsOf(p *grf.Plate, axes grf.Axes) (*mat.Dense, error) {
	m := mat.NewDense(6, 6, nil)
	for j := range 6 {
		unit := make([]float64, 6)
		unit[j] = 1
		w := axes.Wrench(p.Wrench(unit))
		for i, v := range []float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z} {
			m.Set(i, j, v)
		}
	}
	var inverse mat.Dense
	if err := inverse.Inverse(m); err != nil {
		return nil, fmt.Errorf("device: the calibration can not be inverted: %w", err)
	}
	return &inverse, nil
}

// stepOff is how long a golfer takes to leave the plates, s.
const stepOff = 0.6

// add appends a golfer to the loop.
func (d *Device) add(g synth.Config, volts [2]*mat.Dense, rng *rand.Rand) error {
	s, err := synth.New(g)
	if err != nil {
		return err
	}
	d.swings = append(d.swings, float64(d.Len())/Rate+s.EventTime("impact")-s.Start())
	rec := s.Recording()
	last := rec.Len() - 1
	w := mat.NewVecDense(6, nil)
	var v mat.VecDense
	for i := range rec.Len() + int(stepOff*Rate) {
		left := 1.0 // of the load
		if i > last {
			left = (1 + math.Cos(math.Pi*float64(i-last)/(stepOff*Rate))) / 2
		}
		k := min(i, last)
		for p, foot := range []grf.Wrench{rec.Trail[k].Scale(left), rec.Lead[k].Scale(left)} {
			for j, x := range []float64{foot.Force.X, foot.Force.Y, foot.Force.Z, foot.Moment.X, foot.Moment.Y, foot.Moment.Z} {
				x += noise * rng.NormFloat64() * []float64{1, 1, 1, 0.2, 0.2, 0.2}[j]
				x += offset * math.Cos(float64(2*j+3*p)) * []float64{1, 1, 1, 0.2, 0.2, 0.2}[j]
				w.SetVec(j, x)
			}
			v.MulVec(volts[p], w)
			for j := range 6 {
				d.loop = append(d.loop, float32(max(-Span, min(Span, v.AtVec(j)))))
			}
		}
	}
	return nil
}

// Config describes the device to a chain: rate, plates and axes.
func (d *Device) Config() live.Config { return d.config }

// Len returns after how many samples everything is repeated.
func (d *Device) Len() int { return len(d.loop) / Channels }

// Impacts returns the instants of impact within the first Len samples, s.
func (d *Device) Impacts() []float64 { return d.swings }

// Read appends the channels of the sample with this sequence number to dst.
func (d *Device) Read(dst []float64, sequence uint64) []float64 {
	at := int(sequence%uint64(d.Len())) * Channels
	for _, v := range d.loop[at : at+Channels] {
		dst = append(dst, float64(v))
	}
	return dst
}
