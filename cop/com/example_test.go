package com_test

import (
	"fmt"
	"math"

	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// A golfer of 80 kg stands still for a second, shifts 10 cm toward the target
// within half a second, and stands still again.
func ExampleFromForces() {
	const mass, rate = 80.0, 1000.0
	net := make([]grf.Wrench, 2500)
	for i := range net {
		t := float64(i)/rate - 1
		u := min(max(t/0.5, 0), 1)
		y := 0.10 * (u - math.Sin(2*math.Pi*u)/(2*math.Pi))
		a := 0.10 * 2 * math.Pi * math.Sin(2*math.Pi*u) / (0.5 * 0.5)
		force := r3.Vec{Y: mass * a, Z: mass * com.StandardGravity}
		net[i] = grf.At(force, r3.Vec{Y: y, Z: 0.95}, r3.Vec{})
	}
	path, err := com.FromForces(net, 0, rate, com.ForceOptions{Height: 0.95})
	if err != nil {
		fmt.Println(err)
		return
	}
	position, velocity := path.At(1.25)
	fmt.Printf("mass %.1f kg\n", path.Mass)
	fmt.Printf("at 1.25 s: y = %.3f m, z = %.3f m, moving at %.2f m/s\n", position.Y, position.Z, velocity.Y)
	fmt.Printf("at 2 s: y = %.3f m\n", path.Position[2000].Y)
	// Output:
	// mass 80.0 kg
	// at 1.25 s: y = 0.050 m, z = 0.950 m, moving at 0.40 m/s
	// at 2 s: y = 0.100 m
}

func ExampleFromTrack() {
	track := grf.Track{
		Time:     []float64{0, 0.02, 0.04, 0.06},
		Position: []r3.Vec{{Z: 0.9}, {Y: 0.01, Z: 0.9}, {Y: 0.02, Z: 0.9}, {Y: 0.03, Z: 0.9}},
	}
	path, err := com.FromTrack(track, 0, 100, 8)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f m, %.2f m/s\n", path.Position[3].Y, path.Velocity[3].Y)
	fmt.Println(path.Position[7].Y, path.Warnings[0].Code)
	// Output:
	// 0.015 m, 0.50 m/s
	// NaN track-gap
}
