package screen_test

import (
	"fmt"
	"log"
	"math"
	"strings"

	"example.com/momentarm/phase/screen"
	"example.com/momentarm/phase/swing"
)

// A coach's own band, in inches, for a measure in metres.
func ExampleReadBands() {
	bands, err := screen.ReadBands(strings.NewReader(`{
		"version": 1,
		"name": "my bands",
		"bands": [{
			"measure": "frontal_arm_at_peak",
			"unit": "in",
			"min": 6,
			"step": 1,
			"below": "Torque is force times arm, and the arm is short.",
			"beside": ["frontal_force_at_peak"]
		}]
	}`))
	if err != nil {
		log.Fatal(err)
	}
	// Stands for what swing.Analyse returns.
	a := &swing.Analysis{Measures: []swing.Measure{
		{Name: "frontal_arm_at_peak", Label: "frontal moment arm at the frontal torque peak", Value: 0.1016, SD: 0.0127, Unit: "m", Time: 3.02},
		{Name: "frontal_force_at_peak", Label: "force in the frontal plane at that peak", Value: 870, SD: 2, Unit: "N", Time: 3.02},
	}}
	report, err := screen.Swing(a, screen.Options{Bands: []*screen.Bands{bands}})
	if err != nil {
		log.Fatal(err)
	}
	for _, f := range report.Findings {
		fmt.Println(strings.ReplaceAll(f.Sentence, ". ", ".\n"))
	}
	// Output:
	// Frontal moment arm at the frontal torque peak: 4.0 ± 0.5 in, at 3.020 s; 2.0 in (4.0 times its ±) below the band, 6 in or more.
	// Torque is force times arm, and the arm is short.
	// Beside it: 870 N, force in the frontal plane at that peak.
}

// A value whose uncertainty lies across the edge of a band claims nothing.
func ExampleSwing() {
	least := 0.13
	bands := &screen.Bands{Version: 1, Name: "one band", Bands: []screen.Band{
		{Measure: "frontal_arm_at_peak", Unit: "m", Min: &least, Step: 0.03},
	}}
	for _, sd := range []float64{0.005, 0.02, math.NaN()} {
		a := &swing.Analysis{Measures: []swing.Measure{{Name: "frontal_arm_at_peak", Value: 0.11, SD: sd, Unit: "m"}}}
		r, err := screen.Swing(a, screen.Options{Bands: []*screen.Bands{bands}})
		if err != nil {
			log.Fatal(err)
		}
		for _, f := range append(r.Findings, r.Undecided...) {
			fmt.Println(f.Verdict, f.Cautions)
		}
	}
	// Output:
	// outside []
	// not decidable []
	// outside [How sure this value is is not known; it is held against the band as if it were exact.]
}
