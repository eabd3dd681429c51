package validation

import "math"

// filterCases holds printed low-pass coefficients and corrections.
func filterCases() []Case {
	const q = "low-pass coefficients"
	design := func(order, cutoff, rate float64) Values {
		return Values{"order": Number("1", order), "cutoff": Number("Hz", cutoff), "rate": Number("Hz", rate)}
	}
	// The sine at the cut-off, with samples on its peaks.
	sine := func(n, period int) Value {
		s := make([]float64, n)
		for i := range s {
			s[i] = math.Sin(2 * math.Pi * float64(i) / float64(period))
		}
		return List("1", s...)
	}
	eq219 := winter.at("chapter 2, equation 2.19 and its example, f_s/f_c = 10")
	// eq219 with C = 0.8022432629231502, worked out.
	const a0, b1, b2 = 0.09444674388485, 0.96264130884421, -0.34042828438361
	return []Case{
		caseOf("filter/winter", q, "low_pass_sections", Textbook, eq219,
			"second order, sampling rate ten times the cut-off, one pass", design(2, 1, 10),
			si("cascade.0", "0.067455", "1"), si("cascade.1", "0.13491", "1"), si("cascade.2", "0.067455", "1"),
			si("cascade.3", "-1.14298", "1"), si("cascade.4", "0.41280", "1")).
			note("the book's b coefficients are the negatives of a1 and a2"),
		caseOf("filter/winter-correction", "two-pass correction", "low_pass_both_ways", Textbook, winter.at("chapter 2, correction of the cut-off for two passes").via("the notebook DataFiltering of the Notes on Scientific Computing for Biomechanics and Motor Control"),
			"second order, two passes: 0.802", design(2, 10, 100).with("signal", sine(100, 10)),
			si("correction", "0.802", "1")),
		caseOf("filter/both-ways-coefficients", q, "low_pass_both_ways", ClosedForm, eq219.at("chapter 2, equation 2.19 with C = (√2 − 1)^(1/4)"),
			"second order, sampling rate ten times the cut-off, corrected for two passes",
			design(2, 10, 100).with("signal", sine(100, 10)),
			exact("cascade", List("1", a0, 2*a0, a0, -b1, -b2)).within(1e-13, "fourteen digits")),
		caseOf("filter/correction-order-4", "two-pass correction", "low_pass_both_ways", ClosedForm, firstPrinciples.at("(√2 − 1)^(1/8)"),
			"fourth order, two passes", design(4, 10, 100).with("signal", sine(200, 10)),
			exact("correction", Number("1", math.Pow(math.Sqrt2-1, 1./8)))),
		caseOf("filter/half-power", "two-pass gain", "low_pass_both_ways", ClosedForm, firstPrinciples.at("definition of the cut-off of both passes"),
			"a sine at the cut-off of 50 Hz, 1000 Hz", design(2, 50, 1000).with("signal", sine(420, 20)),
			exact("amplitude", Number("1", math.Sqrt(0.5))).within(1e-6, "start-up of the filter at the ends")),
	}
}
