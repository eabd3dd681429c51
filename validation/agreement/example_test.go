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
