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

// The methods section of a paper, with the settings that were used.
func ExampleAnalysis_Methods() {
	made, err := synth.New(synth.Config{})
	if err != nil {
		log.Fatal(err)
	}
	a, err := swing.Analyse(made.Recording(), swing.Options{Cutoff: 40})
	if err != nil {
		log.Fatal(err)
	}
	paragraphs := a.Methods()
	fmt.Println(paragraphs[0])
	fmt.Println(len(paragraphs), "paragraphs")
	// Output:
	// The ground reaction force and moment of each foot were sampled at 1000 Hz for 6.16 s. Forces are the ground's push on the golfer, in right-handed axes for a right-handed golfer: x forward to the ball, y to the target, z up, with z = 0 on the standing surface. Forces and moments were low-passed with a Butterworth filter of order 2 that ran forward and backward (order 4 in all, no phase shift), with −3 dB of both passes together at 40 Hz (one pass at 49.7 Hz); quotients such as the centre of pressure were formed afterwards. No sample was lost.
	// 8 paragraphs
}
