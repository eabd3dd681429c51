package phase_test

import (
	"fmt"
	"log"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/validation/synth"
)

// The events that forces alone define. A recording of plates with noise is filtered
// first; the moments about the centre of mass, if they are known, go into Frontal and
// Horizontal.
func ExampleDetect() {
	s, err := synth.New(synth.Config{})
	if err != nil {
		log.Fatal(err)
	}
	rec := s.Recording()
	net, err := rec.NetWrenches(nil)
	if err != nil {
		log.Fatal(err)
	}
	address, err := phase.FindAddress(rec, grf.QuietOptions{To: s.EventTime("onset")})
	if err != nil {
		log.Fatal(err)
	}
	events, err := phase.Detect(phase.Input{
		Start: rec.Start, Rate: rec.Rate, Net: net, Lead: rec.Lead, Trail: rec.Trail,
		Address: address,
		Given:   map[string]float64{"P7": s.EventTime("impact")},
	})
	if err != nil {
		log.Fatal(err)
	}
	for _, name := range []phase.Name{phase.TrailLoadPeak, phase.LowestVertical, phase.LeadVerticalPeak, phase.Impact} {
		e, _ := events.Get(name)
		fmt.Printf("%.2f s  %v (%v): %s\n", e.Time, e.Name, e.Source, name.Definition())
	}
	for _, m := range events.Missing {
		fmt.Printf("no %s: %s\n", m.Name, m.Reason)
	}
	// Output:
	// 2.64 s  trail_load_peak (detected): highest vertical force under the trail foot
	// 2.94 s  lowest_vertical (detected): lowest vertical force of both feet
	// 3.13 s  lead_vertical_peak (detected): highest vertical force under the lead foot
	// 3.18 s  impact (given): instant at which the club meets the ball
	// no frontal_torque_peak: the centre of mass is not known
	// no vertical_torque_peak: the centre of mass is not known
	// no finish: the golfer is not still again before the recording ends
}
