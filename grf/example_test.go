package grf_test

import (
	"fmt"
	"log"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// A plate with sensors 40 mm below its surface, described in the C3D manner:
// the corners in the laboratory, the origin in plate axes with z down. Its
// channels report the push on the plate.
func ExamplePlate() {
	plate, err := grf.NewPlate(grf.PlateConfig{
		Type: grf.TypeMoment,
		Corners: [4]r3.Vec{
			{X: 0.25, Y: -0.3}, {X: -0.25, Y: -0.3}, {X: -0.25, Y: 0.3}, {X: 0.25, Y: 0.3},
		},
		Origin: r3.Vec{Z: -0.04},
		Sense:  grf.Action,
	})
	if err != nil {
		log.Fatal(err)
	}
	w := plate.Wrench([]float64{0, 0, 800, 40, -80, 0})
	fmt.Printf("the ground pushes with %.0f N upward\n", w.Force.Z)
	fmt.Printf("moment about the laboratory's origin: %.0f, %.0f N·m\n", w.Moment.X, w.Moment.Y)
	// Output:
	// the ground pushes with 800 N upward
	// moment about the laboratory's origin: -40, -80 N·m
}

// Four times the force at one foot of arm turns as much as one time the force
// at four feet (common practice, no published source).
func ExampleWrench_About() {
	const foot, poundForce = 0.3048, 4.4482216152605
	com := r3.Vec{Z: 1}
	short := grf.At(r3.Vec{Z: 400 * poundForce}, r3.Vec{Y: 1 * foot}, r3.Vec{})
	long := grf.At(r3.Vec{Z: 100 * poundForce}, r3.Vec{Y: 4 * foot}, r3.Vec{})
	fmt.Printf("%.1f N·m and %.1f N·m\n", short.About(com).X, long.About(com).X)
	// Output: 542.3 N·m and 542.3 N·m
}

// A laboratory with x toward the target and z up; the golfer is left-handed.
func ExampleNewAxes() {
	axes, err := grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{X: 1}, r3.Vec{}, grf.LeftHanded)
	if err != nil {
		log.Fatal(err)
	}
	w := axes.Wrench(grf.At(r3.Vec{X: 100, Z: 700}, r3.Vec{X: 0.2}, r3.Vec{}))
	fmt.Printf("toward the target %.0f N, up %.0f N\n", w.Force.Y, w.Force.Z)
	fmt.Printf("moment about the forward axis %.0f N·m\n", w.Moment.X)
	// Output:
	// toward the target 100 N, up 700 N
	// moment about the forward axis 140 N·m
}

func ExampleFindQuiet() {
	rec := &grf.Recording{Rate: 1000}
	for range 1000 {
		rec.Lead = append(rec.Lead, grf.At(r3.Vec{Z: 380}, r3.Vec{Y: 0.2}, r3.Vec{}))
		rec.Trail = append(rec.Trail, grf.At(r3.Vec{Z: 400}, r3.Vec{Y: -0.2}, r3.Vec{}))
	}
	quiet, err := grf.FindQuiet(rec, grf.QuietOptions{})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.0f N, %.1f kg, from %.1f to %.1f s\n", quiet.Weight, quiet.Mass, quiet.From, quiet.To)
	// Output: 780 N, 79.5 kg, from 0.0 to 1.0 s
}

// Known loads at known places make a calibration matrix. Dead weights alone would
// not: nothing would tell what the channels make of a push along the surface.
func ExampleFitCalibration() {
	// What the made-up plate really does, N and N·m per volt, with some cross-talk.
	channels := func(l grf.KnownLoad) []float64 {
		w := grf.At(l.Force, l.Point, l.Couple)
		return []float64{
			w.Force.X / 500, w.Force.Y / 500, w.Force.Z/1000 + w.Force.X/20000,
			w.Moment.X / 200, w.Moment.Y / 200, w.Moment.Z / 100,
		}
	}
	var weights, loads []grf.KnownLoad
	for _, at := range []r3.Vec{{}, {X: .2, Y: .2}, {X: -.2, Y: .2}, {X: -.2, Y: -.2}, {X: .2, Y: -.2}} {
		weights = append(weights, grf.KnownLoad{Force: r3.Vec{Z: 600}, Point: at})
		for _, push := range []r3.Vec{{X: 150, Z: 300}, {Y: 150, Z: 300}} {
			loads = append(loads, grf.KnownLoad{Force: push, Point: at})
		}
	}
	loads = append(loads, weights...)
	for k := range loads {
		loads[k].Channels = channels(loads[k])
	}

	_, err := grf.FitCalibration(loads[len(loads)-len(weights):], grf.CalibrationOptions{})
	fmt.Println(err)
	f, err := grf.FitCalibration(loads, grf.CalibrationOptions{})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("vertical force: %.0f of channel 1, %.0f of channel 3\n", f.Matrix[2][0], f.Matrix[2][2])
	fmt.Printf("condition %.1f, weakest %v, %d spare loads\n", f.Condition, f.Weakest, f.Spare)
	// Output:
	// grf: the loads do not excite every direction: 3 of 6 are told apart; missing is Fx, Fy, Mz; add loads along them
	// vertical force: -25 of channel 1, 1000 of channel 3
	// condition 6.1, weakest 0.70·Fx + 0.70·Fy − 0.12·Fz, 9 spare loads
}
