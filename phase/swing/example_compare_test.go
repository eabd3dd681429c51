package swing_test

import (
	"fmt"
	"log"
	"math"

	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/validation/synth"
)

// A fast and a slow swing on a common time base, with the top at the same place.
func ExampleAverage() {
	var swings []*swing.Analysis
	for _, downswing := range []float64{0.25, 0.32} {
		made, err := synth.New(synth.Config{Downswing: downswing})
		if err != nil {
			log.Fatal(err)
		}
		rec := made.Recording()
		rec.Marks = made.Marks()
		a, err := swing.Analyse(rec, swing.Options{})
		if err != nil {
			log.Fatal(err)
		}
		swings = append(swings, a)
	}
	base := swing.Base{Landmarks: []swing.Landmark{{Event: phase.Onset, Percent: 0}, {Event: phase.Top, Percent: 75}, {Event: phase.Impact, Percent: 100}}}
	share, _ := swing.SignalNamed("lead_share")
	var curves []swing.Curve
	for _, a := range swings {
		c, err := a.Curve(share, base)
		if err != nil {
			log.Fatal(err)
		}
		curves = append(curves, c)
	}
	mean, err := swing.Average(curves)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(mean.Base)
	fmt.Printf("%d points, %d swings\n", len(mean.Mean), mean.N[75])
	fmt.Printf("the longer one took %.2f times as long\n", mean.Durations[1]/mean.Durations[0])
	// Output:
	// piecewise linear: onset 0 %, top 75 %, impact 100 %
	// 101 points, 2 swings
	// the longer one took 1.28 times as long
}

// standIn returns swings with one measure, as swing.Analyse would return them.
func standIn(values ...float64) []*swing.Analysis {
	var swings []*swing.Analysis
	for _, v := range values {
		swings = append(swings, &swing.Analysis{BodyWeight: 750, Measures: []swing.Measure{
			{Name: "frontal_arm_at_peak", Label: "frontal moment arm at the peak", Value: v, SD: math.NaN(), Unit: "m"},
		}})
	}
	return swings
}

// Has the arm really become longer from one session to the next?
func ExampleCompare() {
	before, err := swing.NewSession(standIn(0.150, 0.162, 0.155, 0.149, 0.158, 0.153))
	if err != nil {
		log.Fatal(err)
	}
	for _, later := range [][]float64{
		{0.171, 0.180, 0.176, 0.183, 0.174, 0.169},
		{0.158, 0.151, 0.163, 0.155, 0.150, 0.166},
		{0.190, 0.201},
	} {
		after, err := swing.NewSession(standIn(later...))
		if err != nil {
			log.Fatal(err)
		}
		c, err := swing.Compare(before, after, swing.ChangeOptions{Measures: []string{"frontal_arm_at_peak"}})
		if err != nil {
			log.Fatal(err)
		}
		x := c.Changes[0]
		fmt.Printf("%s: %+.3f m (%.3f to %.3f m)\n", x.Answer, x.Difference, x.CI.Low, x.CI.High)
	}
	// Output:
	// changed: +0.021 m (0.014 to 0.028 m)
	// not shown: +0.003 m (-0.005 to 0.010 m)
	// not decidable: +0.041 m (-0.004 to 0.086 m)
}

// Does the arm go along with the speed of the club head, in m/s?
func ExampleSession_Relate() {
	s, err := swing.NewSession(standIn(0.150, 0.162, 0.155, 0.149, 0.158, 0.153))
	if err != nil {
		log.Fatal(err)
	}
	r, err := s.Relate([]float64{41.2, 42.0, math.NaN(), 41.1, 41.9, 41.3}, swing.RelateOptions{})
	if err != nil {
		log.Fatal(err)
	}
	x := r.Relations[0]
	fmt.Printf("r = %.2f, %.2f to %.2f, %d swings: %s\n", x.R, x.CI.Low, x.CI.High, x.N, x.Answer)
	fmt.Printf("fastest swing %.3f m, slowest %.3f m\n", x.Fastest, x.Slowest)
	// Output:
	// r = 0.98, 0.69 to 1.00, 5 swings: related
	// fastest swing 0.162 m, slowest 0.149 m
}

// Why does the second swing turn less in the frontal plane?
func ExampleSplitPeaks() {
	analyse := func(style synth.Style) *swing.Analysis {
		made, err := synth.New(synth.Config{Style: style})
		if err != nil {
			log.Fatal(err)
		}
		a, err := swing.Analyse(made.Recording(), swing.Options{})
		if err != nil {
			log.Fatal(err)
		}
		return a
	}
	splits, err := swing.SplitPeaks(analyse(synth.Balanced), analyse(synth.SmallArm))
	if err != nil {
		log.Fatal(err)
	}
	v := splits[0].Value
	fmt.Println("less torque:", v.Change < 0)
	fmt.Println("by less force:", math.Abs(v.ForceSize) > math.Abs(v.Change)/2)
	fmt.Println("by where the pressure is:", math.Abs(v.PressurePlace) > math.Abs(v.Change)/2)
	fmt.Println("the causes add up:", math.Abs(v.Sum()-v.Change) < 1e-9)
	// Output:
	// less torque: true
	// by less force: false
	// by where the pressure is: true
	// the causes add up: true
}
