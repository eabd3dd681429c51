package capture_test

import (
	"fmt"
	"strings"

	"example.com/momentarm/grf/capture"
)

// A table of two plates as another program has exported it: a line of its own on
// top, semicolons, decimal commas, milliseconds and millimetres, columns with names
// of its own, and points on the plates in the laboratory. The setup says which
// columns make which plate.
func ExampleRead_table() {
	file := []byte(`exported today
Zeit (ms);A side (N);A fore (N);A up (N);A px (mm);A py (mm);A twist (Nmm);B side (N);B fore (N);B up (N);B px (mm);B py (mm);B twist (Nmm)
0;-12,5;3,0;410,2;1450;850;-1200;14,0;-2,5;395,1;950;860;800
2;-12,8;3,1;411,0;1451;851;-1210;14,2;-2,4;394,6;951;861;790
`)
	setup, err := capture.ReadSetup(strings.NewReader(`{
		"version": 1,
		"golfer": {"handed": "right", "mass": "82 kg"},
		"lab": {"up": "+z", "target": "-x", "origin": ["1.2 m", "0.85 m", "0 m"]},
		"plates": {"trail": [1], "lead": [2]},
		"table": {"plates": [
			{"force": ["A side", "A fore", "A up"], "cop": ["A px", "A py", "0 m"], "free": "A twist"},
			{"force": ["B side", "B fore", "B up"], "cop": ["B px", "B py", "0 m"], "free": "B twist"}
		]}
	}`))
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := capture.Read("export.csv", file, setup, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d samples at %g Hz\n", r.Recording.Len(), r.Recording.Rate)
	lead, trail := r.Recording.Lead[0], r.Recording.Trail[0]
	fmt.Printf("lead %.1f N up, %.1f N toward the target\n", lead.Force.Z, lead.Force.Y)
	fmt.Printf("trail %.1f N up, %.1f N toward the target\n", trail.Force.Z, trail.Force.Y)
	// Output:
	// 2 samples at 500 Hz
	// lead 395.1 N up, -14.0 N toward the target
	// trail 410.2 N up, 12.5 N toward the target
}
