package agreement_test

import (
	"fmt"
	"log"

	"example.com/momentarm/validation/agreement"
)

// Two plates weighed the same five people, N.
func ExampleCompare() {
	a := []float64{702, 815, 640, 911, 768}
	b := []float64{700, 812, 641, 905, 766}
	c, err := agreement.Compare(a, b, agreement.CompareOptions{})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("bias %.1f N, limits %.1f to %.1f N\n", c.Bias, c.Lower, c.Upper)
	fmt.Printf("95 %% interval of the bias %.1f to %.1f N\n", c.BiasCI.Low, c.BiasCI.High)
	// Output:
	// bias 2.4 N, limits -2.5 to 7.3 N
	// 95 % interval of the bias -0.7 to 5.5 N
}

// Test and retest of eight subjects (Weir 2005, data set A).
func ExampleStandardError() {
	ratings := [][]float64{
		{146, 140}, {148, 152}, {170, 152}, {90, 99},
		{157, 145}, {156, 153}, {176, 167}, {205, 218},
	}
	p, err := agreement.StandardError(ratings, agreement.TwoWayRandomSingle)
	if err != nil {
		log.Fatal(err)
	}
	mdc, err := agreement.DetectableChange(p.FromError, 0)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(p.ICC.Form)
	fmt.Printf("ICC %.2f, standard error %.1f, smallest real change %.0f\n", p.ICC.Value, p.FromError, mdc)
	// Output:
	// ICC(2,1): two-way random effects, absolute agreement, single rater
	// ICC 0.95, standard error 7.6, smallest real change 21
}

// Six golfers with two clubs, each number the mean of a golfer's swings: peak frontal
// torque per kilogram and lateral force in percent of body weight, both asked about.
func ExamplePaired() {
	torque := [2][]float64{{1.92, 2.10, 1.71, 2.35, 2.02, 1.88}, {2.03, 2.17, 1.85, 2.41, 2.15, 1.93}}
	force := [2][]float64{{18.1, 19.4, 17.0, 21.2, 18.8, 17.9}, {18.4, 19.1, 17.6, 21.0, 19.3, 17.8}}
	a, err := agreement.Paired(torque[0], torque[1], 0)
	if err != nil {
		log.Fatal(err)
	}
	b, err := agreement.Paired(force[0], force[1], 0)
	if err != nil {
		log.Fatal(err)
	}
	p, err := agreement.Holm([]float64{a.P, b.P})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("torque: %+.2f N·m/kg (95 %% interval %+.2f to %+.2f), t(%.0f) = %.2f, p = %.3f, d_z = %.1f\n", a.Difference, a.CI.Low, a.CI.High, a.DOF, a.T, p[0], a.Effect)
	fmt.Printf("force:  %+.2f %%BW (95 %% interval %+.2f to %+.2f), t(%.0f) = %.2f, p = %.3f, d_z = %.1f\n", b.Difference, b.CI.Low, b.CI.High, b.DOF, b.T, p[1], b.Effect)
	// Output:
	// torque: +0.09 N·m/kg (95 % interval +0.05 to +0.13), t(5) = 5.97, p = 0.004, d_z = 2.4
	// force:  +0.13 %BW (95 % interval -0.27 to +0.54), t(5) = 0.85, p = 0.433, d_z = 0.3
}

// How many golfers show a change of 0.1 N·m/kg, when differences between two
// conditions scatter by 0.15 N·m/kg?
func ExamplePairsNeeded() {
	n, err := agreement.PairsNeeded(0.1, 0.15, 0.8, 0.95)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(n, "golfers")
	// Output:
	// 20 golfers
}
