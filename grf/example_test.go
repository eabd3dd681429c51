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
