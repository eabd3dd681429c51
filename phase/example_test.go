package phase_test

import (
	"fmt"

	"example.com/momentarm/phase"
	"example.com/momentarm/validation/synth"
)

func ExampleOnline() {
	// Made-up plates; a device would deliver sample by sample.
	s, err := synth.New(synth.Config{})
	if err != nil {
		panic(err)
	}
	rec := s.Recording()

	o, err := phase.NewOnline(phase.OnlineOptions{Start: rec.Start, Rate: rec.Rate})
	if err != nil {
		panic(err)
	}
	for i := range rec.Lead {
		for _, e := range o.Push(phase.Sample{Lead: rec.Lead[i], Trail: rec.Trail[i]}) {
			switch e.Name {
			case phase.TrailLoadPeak, phase.LowestVertical, phase.LeadVerticalPeak:
				fmt.Printf("%.2f s: %s was at %.2f s\n", o.Time(), e.Name, e.Time)
			}
		}
	}
	for _, m := range o.Events().Missing {
		fmt.Println(m.Name, "is missing:", m.Reason)
	}
	// Output:
	// 3.55 s: trail_load_peak was at 2.64 s
	// 3.55 s: lowest_vertical was at 2.94 s
	// 3.55 s: lead_vertical_peak was at 3.13 s
	// frontal_torque_peak is missing: the centre of mass is not known
	// vertical_torque_peak is missing: the centre of mass is not known
}
