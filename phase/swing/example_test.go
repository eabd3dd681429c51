package swing_test

import (
	"fmt"
	"log"

	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// A made-up swing, worked out in one call.
func ExampleAnalyse() {
	made, err := synth.New(synth.Config{})
	if err != nil {
		log.Fatal(err)
	}
	a, err := swing.Analyse(made.Recording(), swing.Options{})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("body weight %.0f N\n", a.BodyWeight)
	peak, _ := a.Events.Get(phase.FrontalTorquePeak)
	i := a.At(peak.Time)
	fmt.Printf("the frontal torque peaks %.0f ms before impact,\n", 1000*(a.Events.Time(phase.Impact)-peak.Time))
	fmt.Printf("with %.0f %% of the load on the lead foot\n", 100*i.LeadShare)
	m, _ := a.Measure("frontal_arm_at_peak")
	fmt.Printf("arm known to within 2 cm: %v\n", m.SD < 0.02)
	// Output:
	// body weight 765 N
	// the frontal torque peaks 141 ms before impact,
	// with 64 % of the load on the lead foot
	// arm known to within 2 cm: true
}
