package synth_test

import (
	"fmt"
	"log"

	"example.com/momentarm/validation/synth"
)

// A swing whose truth is known: what the forces are at impact, and that they
// make the centre of mass move as it does.
func Example() {
	s, err := synth.New(synth.Config{Mass: 80, Stature: 1.80})
	if err != nil {
		log.Fatal(err)
	}
	for _, name := range []string{"trail_load_peak", "lowest_vertical", "even_load", "frontal_torque_peak", "lead_vertical_peak", "impact"} {
		st := s.At(s.EventTime(name))
		weight := s.Config().Mass * synth.Gravity
		fmt.Printf("%-20s %.2f s  vertical %.2f body weights  lead share %.2f  frontal torque %4.0f N·m\n",
			name, st.Time, st.Net.Force.Z/weight, st.Share, st.Moment.X)
	}
	st := s.At(s.EventTime("impact"))
	fmt.Printf("at impact m·a + m·g = %.3f N, under the feet %.3f N\n",
		s.Config().Mass*(st.Acceleration.Z+synth.Gravity), st.Lead.Force.Z+st.Trail.Force.Z)
	// Output:
	// trail_load_peak      2.64 s  vertical 1.04 body weights  lead share 0.14  frontal torque   -6 N·m
	// lowest_vertical      2.94 s  vertical 0.67 body weights  lead share 0.35  frontal torque  107 N·m
	// even_load            3.00 s  vertical 0.91 body weights  lead share 0.50  frontal torque  162 N·m
	// frontal_torque_peak  3.04 s  vertical 1.18 body weights  lead share 0.63  frontal torque  180 N·m
	// lead_vertical_peak   3.13 s  vertical 1.44 body weights  lead share 0.81  frontal torque  116 N·m
	// impact               3.18 s  vertical 1.19 body weights  lead share 0.86  frontal torque   46 N·m
	// at impact m·a + m·g = 935.194 N, under the feet 935.194 N
}

// Two plates with noise and a wrong mass, and a camera that is late.
func ExampleDisturbance_Apply() {
	s, err := synth.New(synth.Random(7))
	if err != nil {
		log.Fatal(err)
	}
	rec := synth.Disturbance{Seed: 1, ForceNoise: 3, MomentNoise: 0.5, MassError: 0.003}.Apply(s.Recording())
	camera := s.Track(synth.TrackOptions{Rate: 60, SD: 0.02, Delay: 0.015, Seed: 2})
	fmt.Printf("%v swing, %s-handed, %d samples, mass %+.1f %%, %d positions\n",
		s.Config().Style, s.Config().Handed, rec.Len(), 100*(rec.Mass/s.Config().Mass-1), len(camera.Time))
	// Output:
	// small-arm swing, right-handed, 6066 samples, mass +0.3 %, 364 positions
}
