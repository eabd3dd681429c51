package acceptance_test

import (
	"fmt"
	"log"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/validation/acceptance"
)

// Three weights at five places of a made-up plate that shows 1 % too little, feels a
// push along x that is not there and puts the pressure too far out. The middle was
// loaded twice.
func ExampleCheckWeights() {
	sag := map[float64]float64{200: 0, 400: 1.5, 600: 0} // N
	var readings []acceptance.Reading
	for _, load := range []float64{200, 400, 600} {
		for k, at := range []r3.Vec{{}, {X: .2, Y: .15}, {X: -.2, Y: .15}, {X: -.2, Y: -.15}, {X: .2, Y: -.15}, {}} {
			shows := r3.Vec{X: 0.002 * load, Z: 0.99*load - sag[load] + float64(k)/10}
			readings = append(readings, acceptance.Reading{Load: load, X: at.X, Y: at.Y,
				Wrench: grf.At(shows, r3.Scale(1.005, at), r3.Vec{})})
		}
	}
	report, err := acceptance.CheckWeights(nil, readings, acceptance.Limits{
		COPMax: 0.003, Gain: 0.005, Linearity: 0.004, CrossTalkX: 0.01, RepeatLoad: 0.001,
	})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Print(report)
	// Output:
	// value   limit
	// largest error of the centre of pressure                  1.2 mm  3.0 mm  pass: reading 2, 200 N at (200, 150) mm
	// mean size of that error                                  0.8 mm  none    not judged
	// root mean square of that error                           1.0 mm  none    not judged
	// what all those errors have in common                     0.0 mm  none    not judged
	// largest error of the load, of the load                   1.38 %  none    not judged: reading 7, 400 N at (0, 0) mm
	// slope of measured against true load, less 1              1.00 %  0.50 %  fail
	// largest distance from that line, of the greatest load    0.21 %  0.40 %  pass: reading 7, 400 N at (0, 0) mm
	// largest force along x, of the load                       0.20 %  1.00 %  pass: reading 1, 200 N at (0, 0) mm
	// largest force along y, of the load                       0.00 %  none    not judged: reading 1, 200 N at (0, 0) mm
	// largest twist over load                                  0.0 mm  none    not judged: reading 1, 200 N at (0, 0) mm
	// scatter of the load when repeated, of the greatest load  0.06 %  0.10 %  pass
	// scatter of the centre of pressure when repeated          0.0 mm  none    not judged
	//
	// place x    y          readings  error x  error y  load
	// 0.0 mm     0.0 mm     6         0.0 mm   0.0 mm   −1.05 %
	// 200.0 mm   150.0 mm   3         1.0 mm   0.7 mm   −1.09 %
	// −200.0 mm  150.0 mm   3         −1.0 mm  0.7 mm   −1.06 %
	// −200.0 mm  −150.0 mm  3         −1.0 mm  −0.7 mm  −1.03 %
	// 200.0 mm   −150.0 mm  3         1.0 mm   −0.7 mm  −1.00 %
	//
	// 18 readings at 5 places; measured load = 0.9900 × load − 0.2 N
	// verdict: fail
}

// Two plates that were exchanged, the first of them turned by 180°, pressed near a
// corner and pushed toward the target (+y of the laboratory).
func ExampleCheckPlacement() {
	corners := func(y float64) [4]r3.Vec { // z into the floor
		return [4]r3.Vec{{X: .6, Y: y}, {Y: y}, {Y: y + .4}, {X: .6, Y: y + .4}}
	}
	var plates []*grf.Plate
	for _, y := range []float64{0, 0.5} {
		p, err := grf.NewPlate(grf.PlateConfig{Type: grf.TypeMoment, Corners: corners(y)})
		if err != nil {
			log.Fatal(err)
		}
		plates = append(plates, p)
	}
	idle := make([]float64, 6)
	presses := []acceptance.Press{
		{Name: "trail side", At: r3.Vec{X: .5, Y: .1}, Push: r3.Vec{Y: 1},
			Channels: [][]float64{idle, {1, -39, 300, 30, -60, -8}}},
		{Name: "lead side", At: r3.Vec{X: .5, Y: .6}, Push: r3.Vec{Y: 1},
			Channels: [][]float64{{-1, 41, 300, -30, 60, -8}, idle}},
	}
	placement, err := acceptance.CheckPlacement(plates, presses, acceptance.PlacementOptions{})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Print(placement)
	fmt.Printf("corner 1 of plate 1 is at %.1f\n", placement.Plates[0].Corners[0])
	// Output:
	// plate  place  points  as declared  best                    pushes     verdict
	// 1      2      1       447.2 mm     0.0 mm  turned by 180°  1, 1° off  fail
	// 2      1      1       0.0 mm       0.0 mm  as declared     1, 1° off  fail
	//
	// plate 1: lies at the place of plate 2; turned by 180° (0 mm off so, 447 mm as declared); pushes agree (1° off)
	// plate 2: lies at the place of plate 1; not turned or mirrored (0 mm off); pushes agree (1° off)
	// verdict: fail
	// corner 1 of plate 1 is at {0.0 0.9 0.0}
}
