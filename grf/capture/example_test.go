package capture_test

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/grf/capture"
)

// A table with one force, its moments about the origin of the laboratory, and
// both feet on the plate.
func ExampleRead() {
	file := []byte(`rate: 100 Hz
Fx [N],Fy [N],Fz [N],Mx [N·m],My [N·m],Mz [N·m]
5,-20,800,160,-40,3
6,-22,810,162,-41,3
`)
	setup, err := capture.ReadSetup(strings.NewReader(`{
		"version": 1,
		"golfer": {"handed": "right", "mass": "80 kg"},
		"lab": {"up": "+z", "target": "-x", "origin": ["0 m", "0 m", "0 m"]},
		"sense": "reaction"
	}`))
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := capture.Read("swing.csv", file, setup, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	w := r.Recording.Net[0]
	fmt.Printf("toward the ball %.0f N, toward the target %.0f N, up %.0f N\n", w.Force.X, w.Force.Y, w.Force.Z)
	for _, s := range r.Steps {
		fmt.Println("-", s)
	}
	// Output:
	// toward the ball -20 N, toward the target -5 N, up 800 N
	// - table: 2 rows at 100 Hz from 0 s, columns Fx, Fy, Fz, Mx, My, Mz
	// - plate 1: force and moment about (0.0000, 0.0000, 0.0000) m, in lab axes
	// - up is +z, as stated
	// - nothing was zeroed
	// - plate 1: reaction, as stated
	// - golfer: right-handed, as stated
	// - origin at (0.0000, 0.0000, 0.0000) m in the laboratory, as stated
	// - target along -x of the laboratory, as stated
	// - one plate for both feet: only the sum of the feet is known
}

// Mistakes are named by their place, with what may have been meant.
func ExampleReadSetup() {
	for _, text := range []string{
		`{"version": 1, "golfer": {"handed": "right", "wight": "80 kg"}}`,
		`{"version": 1, "marks": {"imapct": "1.2 s"}}`,
		`{"version": 1, "lab": {"up": "z up"}}`,
	} {
		_, err := capture.ReadSetup(strings.NewReader(text))
		fmt.Println(err)
	}
	// Output:
	// setup: golfer.wight: no such field; known are name, handed, mass, stature
	// setup: marks.imapct: no such event; did you mean "impact"?
	// setup: lab.up: "z up" is no axis; write "+x", "-x", "+y", "-y", "+z", "-z" or three numbers
}

// The plates of a C3D file as they stand in it.
func ExamplePlates() {
	f := &c3d.File{
		Rate: 100, Frames: 2, Units: "mm",
		Plates: []c3d.PlateInfo{{
			Type:     2,
			Corners:  [4]r3.Vec{{X: 300, Y: 0}, {X: 0, Y: 0}, {X: 0, Y: 500}, {X: 300, Y: 500}},
			Origin:   r3.Vec{Z: 40}, // should be negative
			Channels: []int{0, 1, 2, 3, 4, 5},
		}},
	}
	for i, v := range []float64{0, 40, -500, 8400, 25000, 0} {
		unit := "N"
		if i > 2 {
			unit = "Nmm"
		}
		f.Channels = append(f.Channels, c3d.Channel{Label: "C", Unit: unit, Scale: 1, Values: []float64{v, v}})
	}
	plates, warnings := capture.Plates(f, nil)
	for _, p := range plates {
		ws, err := p.Wrenches(nil)
		if err != nil {
			fmt.Println(err)
			continue
		}
		fmt.Println("plate", p.Number, "force in laboratory axes", ws[0].Force)
	}
	for _, w := range warnings {
		fmt.Println(w)
	}
	// Output:
	// plate 1 force in laboratory axes {0 -40 500}
	// plate 1: ORIGIN (0, 0, 40) mm has a positive z and was taken as (-0, -0, -40) mm; state origin_sign if that is wrong (origin-sign)
}
