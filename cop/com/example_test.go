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

// swing returns the net wrenches of a golfer of 80 kg who stands still for a
// second, shifts 10 cm toward the target within half a second, and stands
// still again; and where the centre of mass truly is.
func swing(rate float64) (net []grf.Wrench, at func(t float64) r3.Vec) {
	const mass = 80.0
	at = func(t float64) r3.Vec {
		u := min(max((t-1)/0.5, 0), 1)
		return r3.Vec{Y: 0.10 * (u - math.Sin(2*math.Pi*u)/(2*math.Pi)), Z: 0.95}
	}
	for i := range int(2.5 * rate) {
		t := float64(i) / rate
		u := min(max((t-1)/0.5, 0), 1)
		a := 0.10 * 2 * math.Pi * math.Sin(2*math.Pi*u) / (0.5 * 0.5)
		net = append(net, grf.At(r3.Vec{Y: mass * a, Z: mass * com.StandardGravity}, at(t), r3.Vec{}))
	}
	return net, at
}

// Forces and a camera that is 20 ms late, and nothing else known.
func ExampleSmooth() {
	net, at := swing(1000)
	var track grf.Track
	for i := range 75 { // 30 Hz
		t := float64(i) / 30
		track.Time = append(track.Time, t+0.020)
		track.Position = append(track.Position, at(t))
	}
	path, err := com.Smooth(net, 0, 1000, com.Options{
		Sources: []com.Source{{
			Name: "camera", Track: track,
			SD:        r3.Vec{X: 0.010, Y: 0.010, Z: 0.010},
			SeekDelay: 0.1,
		}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	i := 1250
	fmt.Println(path.Method)
	fmt.Printf("y = %.3f ± %.3f m\n", path.Position[i].Y, path.PositionSD[i].Y)
	fmt.Printf("camera %.0f ± %.0f ms late\n", 1000*path.Clocks[0].Delay, 1000*path.Clocks[0].DelaySD)
	// Output:
	// forces, quiet stance, still finish, camera; forward and backward filter
	// y = 0.050 ± 0.002 m
	// camera 20 ± 13 ms late
}

// Live use: stand still, then every sample gives an estimate.
func ExampleTracker() {
	net, _ := swing(500)
	mass, fixes, err := com.StandStill(net[:400], 0, 500, 0, com.Stillness{}, 0.95, 0.02)
	if err != nil {
		fmt.Println(err)
		return
	}
	tracker, err := com.NewTracker(com.TrackerOptions{Mass: mass, Rate: 500, Lag: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	var now com.Estimate
	for i, w := range net[:626] {
		now = tracker.Push(w)
		if i == 399 { // what the quiet stance told, about instants gone by
			for _, f := range fixes {
				if err := tracker.Correct(f); err != nil {
					fmt.Println(err)
				}
			}
		}
	}
	fmt.Printf("%.1f kg; at %.2f s y = %.3f ± %.3f m\n", mass, now.Time, now.Position.Y, now.PositionSD.Y)
	// Output:
	// 80.0 kg; at 1.25 s y = 0.050 ± 0.011 m
}

// Whole-body centre of mass from joint centres; no hands and feet in the set.
func ExampleNewModel() {
	landmarks := map[string]com.Landmark{"vertex": {"HEAD"}, "cervicale": {"C7"}}
	for _, joint := range []string{"shoulder", "elbow", "wrist", "hip", "knee", "ankle"} {
		landmarks[joint+"_left"] = com.Landmark{"L_" + joint}
		landmarks[joint+"_right"] = com.Landmark{"R_" + joint}
	}
	landmarks["knee_left"] = com.Landmark{"LKNE_MED", "LKNE_LAT"} // the middle of two markers
	model, warnings, err := com.NewModel(com.DeLevaMen, landmarks)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d segments, %.1f %% of the body\n", len(model.Segments), 100*model.Fraction())
	fmt.Println(warnings[0].Text)
	// Output:
	// 10 segments, 96.0 % of the body
	// no landmarks for hand left, hand right, foot left, foot right: the other segments, 96.0 % of the body, are taken for all of it
}

// Two taps that both instruments show give delay and factor of the clocks.
func ExampleFitClock() {
	clock, err := com.FitClock([]float64{10.000, 70.000}, []float64{2.500, 62.506}, 0.001)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("stamp 40 s is %.3f s; factor %.5f ± %.5f\n", clock.Time(40), clock.Factor, clock.FactorSD)
	// Output:
	// stamp 40 s is 32.503 s; factor 1.00010 ± 0.00002
}

// Does the camera fit the forces?
func ExampleCheckQuality() {
	net, at := swing(1000)
	var track grf.Track
	for i := range 75 {
		t := float64(i) / 30
		p := at(t)
		p.Y = -p.Y // somebody's Y points the other way
		track.Time, track.Position = append(track.Time, t), append(track.Position, p)
	}
	q, err := com.CheckQuality(net, 0, 1000, com.Options{
		Sources: []com.Source{{Name: "camera", Track: track, SD: r3.Vec{X: 0.005, Y: 0.005, Z: 0.005}}},
	}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, w := range q.Warnings {
		fmt.Println(w.Code)
	}
	fmt.Printf("residual in y %.0f mm\n", 1000*q.Newton[0].Residual.Y)
	// Output:
	// newton-residual
	// residual in y 42 mm
}
