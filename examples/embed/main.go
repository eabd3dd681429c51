// Embed is what a device maker copies: describe the plates, push raw channels, get
// torque while it happens. Everything that it takes is in run, some forty lines with
// their error handling; golfer.go stands in for the device.
//
//	go run ./examples/embed
//
// See package phase/live for states, health, gaps and delay, and examples/live for a
// whole server around the same chain.
package main

import (
	"fmt"
	"io"
	"log"
	"os"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/live"
)

func main() {
	if err := run(os.Stdout, newGolfer); err != nil {
		log.Fatal(err)
	}
}

func run(out io.Writer, connect func(live.Config) (device, error)) error {
	// Two plates of 60 × 50 cm beside each other, the target along +y, z down
	// inside the plates; channels in N and N·m, without calibration matrix.
	axes, err := grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{Y: 1}, r3.Vec{}, grf.RightHanded)
	if err != nil {
		return err
	}
	config := live.Config{Rate: 1000, Stature: 1.78, Axes: axes}
	for foot, y := range []float64{live.Lead: 0.255, live.Trail: -0.255} {
		plate, err := grf.NewPlate(grf.PlateConfig{
			Type:    grf.TypeMoment,
			Corners: [4]r3.Vec{{X: 0.3, Y: y - 0.25}, {X: -0.3, Y: y - 0.25}, {X: -0.3, Y: y + 0.25}, {X: 0.3, Y: y + 0.25}},
			Origin:  r3.Vec{Z: -0.04}, // where it measures: 4 cm under the surface
			Sense:   grf.Action,       // the golfer's push on the plate
		})
		if err != nil {
			return err
		}
		config.Inputs = append(config.Inputs, live.Input{Plate: plate, Foot: live.Foot(foot)})
	}
	chain, err := live.New(config)
	if err != nil {
		return err
	}
	d, err := connect(config)
	if err != nil {
		return err
	}
	chain.Zero()
	for sequence, channels := range d.samples {
		f, err := chain.Push(live.Sample{Sequence: sequence, Channels: channels})
		if err == nil && f.State == live.Zeroed && f.Net.Force.Z > 300 {
			err = chain.Weigh() // refused until the golfer is still
		}
		if err != nil {
			return err
		}
		if f.Motion >= phase.Moving && sequence%200 == 0 {
			fmt.Fprintf(out, "%6.3f s  lead %3.0f %%  frontal torque %4.0f N·m  arm %5.1f cm\n",
				f.Time, 100*f.LeadShare, f.Moment.Frontal, 100*f.Arm.Frontal)
		}
		for _, e := range f.Events {
			fmt.Fprintf(out, "%6.3f s  %s, %v\n", e.Time, e.Name, e.Source)
		}
	}
	return nil
}
