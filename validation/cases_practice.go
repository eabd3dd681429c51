package validation

import "gonum.org/v1/gonum/spatial/r3"

// practiceCases holds the arithmetic that coaches use: force times arm, in
// pounds and feet, and shares of the load. Frontal plane: Y toward the target,
// Z up; a vertical force on the target side of the mass turns about X.
func practiceCases() []Case {
	const q = "force × arm"
	const lbf, ft, in = 4.4482216152605, 0.3048, 0.0254
	const lbfFt = lbf * ft
	vertical := func(force, arm float64) Values { return forcesAt(ez(force), ey(arm)) }
	arms := func(force, arm float64) Values {
		return vertical(force, arm).with("centre", Vector("m", ez(1)))
	}
	frontal := func(v float64) Want { return exact("moment.x", Number("N·m", v)) }
	return []Case{
		caseOf("practice/100-pounds-1-foot", q, "moment", CommonPractice, practice,
			"100 lbf × 1 ft = 100 lbf·ft", vertical(100*lbf, ft), frontal(100*lbfFt)),
		caseOf("practice/400-by-1", q, "moment", CommonPractice, practice,
			"400 lbf × 1 ft = 400 lbf·ft", vertical(400*lbf, ft), frontal(400*lbfFt)),
		caseOf("practice/100-by-4", q, "moment", CommonPractice, practice,
			"100 lbf × 4 ft = 400 lbf·ft", vertical(100*lbf, 4*ft), frontal(400*lbfFt)),
		caseOf("practice/400-against-100", q, "moment", CommonPractice, practice,
			"400 lbf × 1 ft one way and 100 lbf × 4 ft the other way hold the balance",
			forcesAt(ez(400*lbf), ey(ft), ez(100*lbf), ey(-4*ft)), frontal(0).within(1e-9, "rounding")),
		caseOf("practice/arm-14-inches", "moment arm", "moment_arms", CommonPractice, practice,
			"150 lbf vertical 14 in from the mass", arms(150*lbf, 14*in), exact("frontal", Number("m", 14*in))),
		caseOf("practice/arm-4-inches", "moment arm", "moment_arms", CommonPractice, practice,
			"150 lbf vertical 4 in from the mass", arms(150*lbf, 4*in), exact("frontal", Number("m", 4*in))),
		caseOf("practice/14-inches", q, "moment", CommonPractice, practice,
			"150 lbf × 14 in = 175 lbf·ft", vertical(150*lbf, 14*in), frontal(175*lbfFt)),
		caseOf("practice/4-inches", q, "moment", CommonPractice, practice,
			"150 lbf × 4 in = 50 lbf·ft: the same push turns 3.5 times less", vertical(150*lbf, 4*in), frontal(50*lbfFt)),
		caseOf("practice/share-even", "load share", "load_share", CommonPractice, practice,
			"50–50 at address", Values{"lead": Vector("N", ez(400)), "trail": Vector("N", ez(400))}, exact("share", Number("1", 0.5))),
		caseOf("practice/share-top", "load share", "load_share", CommonPractice, practice,
			"80 % on the trail foot late in the backswing", Values{"lead": Vector("N", ez(160)), "trail": Vector("N", ez(640))}, exact("share", Number("1", 0.2))),
		caseOf("practice/share-impact", "load share", "load_share", CommonPractice, practice,
			"more than body weight, 85 % of it on the lead foot", Values{"lead": Vector("N", ez(1020)), "trail": Vector("N", ez(180))}, exact("share", Number("1", 0.85))),
		caseOf("practice/horizontal-arm", q, "moment", CommonPractice, practice,
			"60 lbf toward the target 3 ft under the mass turns by 180 lbf·ft",
			forcesAt(ey(60*lbf), r3.Vec{}).with("about", Vector("m", ez(3*ft))), frontal(180*lbfFt)),
	}
}
