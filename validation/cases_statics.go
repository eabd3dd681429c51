package validation

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// staticsCases holds worked examples of balance: X to the right, Z up. Where a
// body is in balance the moment of all forces about any point is zero, and the
// force that is still missing acts along the line of the resultant of the
// others, turned round: the centre of pressure of the others.
func staticsCases() []Case {
	const (
		q  = "balance about a pivot"
		lb = 4.448 // N, as the book has it
		in = 0.0254
	)
	cp := func(section, module, title string) Source {
		return openStaxCollege.at("section %s (module %s), %q", section, module, title)
	}
	up1 := func(section, module, title string) Source {
		return openStaxUniversity.at("section %s (module %s), %q", section, module, title)
	}
	w := func(kg float64) r3.Vec { return ez(-gBook * kg) }
	seesaw := cp("9.2", "m42171", "She Saw Torques On A Seesaw")
	const d = math.Pi / 180
	sin29, cos29 := math.Sincos(29 * d)
	sin53, cos53 := math.Sincos(53 * d)
	return []Case{
		caseOf("statics/seesaw-seat", "line of action", "line_of_action", Textbook, seesaw,
			"26.0 kg at 1.60 m left of the pivot; where must 32.0 kg sit",
			forcesAt(w(26), ex(-1.6), ez(gBook*(26+32)), ex(0)),
			si("point.x", "1.30", "m")).note("the child's weight and the pivot's force leave 32.0 kg × g up, along the line of the other child"),
		caseOf("statics/seesaw-pivot", q, "moment", Textbook, seesaw,
			"26.0 kg at 1.60 m, 32.0 kg at 1.30 m on the other side", forcesAt(w(26), ex(-1.6), w(32), ex(1.3)),
			si("force.z", "-568", "N"), si("moment.y", "0", "N·m").within(0.005*32*gBook, "1.30 m is printed to 0.01 m")),
		caseOf("statics/seesaw-board-seat", "line of action", "line_of_action", Textbook, openStaxCollege.at("section 9.2 (module m42171), problems"),
			"as before, with a board of 12.0 kg whose centre is 0.160 m to the left",
			forcesAt(w(26), ex(-1.6), w(12), ex(-0.16), ez(gBook*(26+12+32)), ex(0)),
			si("point.x", "1.36", "m")),
		caseOf("statics/seesaw-board-pivot", q, "moment", Textbook, openStaxCollege.at("section 9.2 (module m42171), problems"),
			"26.0 kg at 1.60 m and a board of 12.0 kg at 0.160 m, 32.0 kg at 1.36 m",
			forcesAt(w(26), ex(-1.6), w(12), ex(-0.16), w(32), ex(1.36)),
			si("force.z", "-686", "N"), si("moment.y", "0", "N·m").within(0.005*32*gBook, "1.36 m is printed to 0.01 m")),
		caseOf("statics/pole", "net centre of pressure", "line_of_action", Textbook, cp("9.4", "m42173", "What Force Is Needed to Support a Weight Held Near Its CG?"),
			"hands 0.900 m apart bear 16.3 N (left) and 32.7 N (right)",
			forcesAt(ez(16.3), ex(0), ez(32.7), ex(0.9)),
			si("point.x", "0.600", "m").within(0.002, "the forces are printed to 0.1 N of 49 N, over 0.900 m")).
			note("the pole's centre of gravity, as a net centre of pressure of two supports"),
		caseOf("statics/pole-share", "load share", "load_share", Textbook, cp("9.4", "m42173", "What Force Is Needed to Support a Weight Held Near Its CG?"),
			"hands 0.900 m apart bear 16.3 N and 32.7 N; the centre of gravity is 0.600 m from the first",
			Values{"lead": Vector("N", ez(32.7)), "trail": Vector("N", ez(16.3))},
			exact("share", Number("1", 0.600/0.900)).within(0.002, "the forces are printed to 0.1 N of 49 N")),
		caseOf("statics/forearm-college", q, "moment", Textbook, cp("9.6", "m42175", "Muscles Exert Bigger Forces Than You Might Think"),
			"muscle 470 N up at 0.0400 m, 2.50 kg at 0.160 m, 4.00 kg at 0.380 m from the elbow",
			forcesAt(ez(470), ex(0.04), w(2.5), ex(0.16), w(4), ex(0.38)),
			si("moment.y", "0", "N·m").within(0.5*0.04, "470 N is printed to 1 N, at 0.0400 m"),
			si("force.z", "407", "N").within(1, "470 N and 407 N are printed to 1 N")),
		caseOf("statics/back", q, "moment", Textbook, cp("9.6", "m42175", "Do Not Lift with Your Back"),
			"muscle 4.20×10³ N at 29.0°, 0.0800 m from the hip; 55.0 kg at 0.350 m, 30.0 kg at 0.500 m",
			forcesAt(r3.Vec{X: -4200 * cos29, Z: -4200 * sin29}, r3.Vec{X: -0.08 * sin29, Z: 0.08 * cos29}, w(55), ex(0.35), w(30), ex(0.5)),
			si("moment.y", "0", "N·m").within(5*0.08, "the muscle's force is printed to 10 N, at 0.0800 m"),
			si("force.x", "-3.67e3", "N").within(10, "both forces are printed to 10 N"),
			si("force.z", "-2.87e3", "N").within(10, "both forces are printed to 10 N")),
		caseOf("statics/metre-stick", q, "moment", Textbook, up1("12.2", "m58341", "The Torque Balance"),
			"50.0 g at 70.0 cm, 75.0 g at 40.0 cm and the stick's 150.0 g at 20.0 cm left of the pivot, 316.7 g at 30.0 cm right",
			forcesAt(w(0.05), ex(-0.7), w(0.075), ex(-0.4), w(0.15), ex(-0.2), w(0.3167), ex(0.3)),
			si("moment.y", "0", "N·m").within(0.00005*gBook*0.3, "316.7 g is printed to 0.1 g, at 30.0 cm"),
			si("force.z", "-5.8", "N")),
		caseOf("statics/forearm-university", q, "moment", Textbook, up1("12.2", "m58341", "Forces in the Forearm"),
			"biceps 1927 N up at 1.5 in, 50 lb at 13.0 in from the elbow",
			forcesAt(ez(1927), ex(1.5*in), ez(-50*lb), ex(13*in)),
			si("moment.y", "0", "N·m").within(0.5*1.5*in, "1927 N is printed to 1 N, at 1.5 in"),
			si("force.z", "1705", "N").within(1, "1927 N and 1705 N are printed to 1 N")),
		caseOf("statics/biceps-force", "unit factor", "convert", Textbook, up1("12.2", "m58341", "Forces in the Forearm"),
			"433.3 lb of force", Values{"value": Number("1", 433.3), "from": Word("lbf"), "to": Word("N")},
			si("value", "1927", "1")),
		caseOf("statics/ladder", q, "moment", Textbook, up1("12.2", "m58341", "A Ladder Resting Against a Wall"),
			"400 N at the middle of 5.0 m at 53° to the floor; the wall pushes back with 150.7 N at the top",
			forcesAt(ez(-400), r3.Vec{X: 2.5 * cos53, Z: 2.5 * sin53}, ex(-150.7), r3.Vec{X: 5 * cos53, Z: 5 * sin53}),
			si("moment.y", "0", "N·m").within(0.05*5*sin53, "150.7 N is printed to 0.1 N, 4.0 m up"),
			si("force.z", "-400.0", "N")),
		caseOf("statics/door", q, "moment", Textbook, up1("12.2", "m58341", "Forces on Door Hinges"),
			"400 N door, 1.0 m wide, hinges 2.0 m apart with 100.0 N sideways and 200.0 N up each",
			forcesAt(ez(-400), ex(0.5), r3.Vec{X: -100, Z: 200}, ez(1), r3.Vec{X: 100, Z: 200}, ez(-1)),
			si("moment.y", "0", "N·m").within(0.05*2, "100.0 N is printed to 0.1 N, 2.0 m apart"),
			si("force.z", "0", "N").within(0.1, "200.0 N is printed to 0.1 N, twice"),
			si("force.x", "0", "N").within(0.1, "100.0 N is printed to 0.1 N, twice")),
		caseOf("statics/scaffold", "net centre of pressure", "line_of_action", Textbook, openStaxUniversity.at("section 12.2 (module m58341), problems"),
			"supports of 711 N and 466 N at the ends of 6.0 m under a scaffold of 70 kg and a person of 50 kg 1.5 m from one end",
			forcesAt(ez(711), ex(0), ez(466), ex(6)),
			exact("point.x", Number("m", (70*3+50*1.5)/120)).within(0.005, "the supports are printed to 1 N of 1176 N, over 6.0 m")).
			note("the centre of gravity of scaffold and person, as a net centre of pressure of two supports"),
		caseOf("statics/car", "net centre of pressure", "line_of_action", Textbook, up1("12.1", "m58340", "Center of Gravity of a Car"),
			"52 % of the weight on the front axle, axles 2.5 m apart", forcesAt(ez(480), ex(0), ez(520), ex(2.5)),
			si("point.x", "1.3", "m")),
		caseOf("statics/foot-point", "centre of pressure", "line_of_action", Textbook, winter.at("chapter 5, example 5.1"),
			"ankle 579.2 N with the moment that answers −22.99 N·m, the foot's weight 8.8 N 0.06 m before the ankle",
			forcesAt(ez(579.2), ex(0), ez(8.8), ex(0.06)).with("couples", Vectors("N·m", ey(-22.99), r3.Vec{})),
			printed("point.x", "4", "m", 0.01)).note("printed: the centre of pressure lies 4 cm in front of the ankle"),
	}
}
