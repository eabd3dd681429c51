package validation

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// polar returns a vector of the XY plane from its length and its angle to X in
// degrees.
func polar(length, degrees float64) r3.Vec {
	s, c := math.Sincos(degrees * math.Pi / 180)
	return r3.Vec{X: length * c, Y: length * s}
}

// forcesAt returns the inputs of forces that act at points, in turn.
func forcesAt(forcesAndPoints ...r3.Vec) Values {
	var f, p []r3.Vec
	for i := 0; i < len(forcesAndPoints); i += 2 {
		f, p = append(f, forcesAndPoints[i]), append(p, forcesAndPoints[i+1])
	}
	return Values{"forces": Vectors("N", f...), "points": Vectors("m", p...)}
}

// with adds an input.
func (vs Values) with(name string, v Value) Values {
	vs[name] = v
	return vs
}

func ex(v float64) r3.Vec { return r3.Vec{X: v} }
func ey(v float64) r3.Vec { return r3.Vec{Y: v} }
func ez(v float64) r3.Vec { return r3.Vec{Z: v} }

// torqueCases holds worked examples of the moment of a force: in the plane of
// the page, X to the right, Y up, Z out of it.
func torqueCases() []Case {
	const q = "moment of a force"
	up1 := func(section, module, title string) Source {
		return openStaxUniversity.at("section %s (module %s), %q", section, module, title)
	}
	torque24 := up1("2.4", "m58280", "The Torque of a Force")
	cp92 := openStaxCollege.at("section 9.2 (module m42171), text and problems")
	problems106 := openStaxUniversity.at("section 10.6 (module m58331), problems")
	return []Case{
		caseOf("torque/wrench-40", q, "moment", Textbook, torque24,
			"R = 0.25 m, F = 20.00 N, 40° from R to F", forcesAt(polar(20, 40), ex(0.25)),
			si("size", "3.21", "N·m"), si("moment.z", "3.2", "N·m")),
		caseOf("torque/wrench-minus-45", q, "moment", Textbook, torque24,
			"R = 0.25 m, F = 20.00 N, −45° from R to F", forcesAt(polar(20, -45), ex(0.25)),
			si("size", "3.53", "N·m").within(0.01, "the book cuts 3.5355 off at three digits"),
			si("moment.z", "-3.5", "N·m")),
		caseOf("torque/wrench-90", q, "moment", Textbook, torque24,
			"R = 0.25 m, F = 20.00 N, 90°: the largest possible", forcesAt(polar(20, 90), ex(0.25)),
			si("size", "5.00", "N·m")),
		caseOf("torque/cross-product-1", "cross product", "moment", Textbook, up1("2.4", "m58280", "A Particle in a Magnetic Field"),
			"u = (−5.0, −2.0, 3.5), B = (7.2, −1.0, −2.4)",
			forcesAt(r3.Vec{X: 7.2, Y: -1, Z: -2.4}, r3.Vec{X: -5, Y: -2, Z: 3.5}),
			si("moment.x", "8.3", "N·m"), si("moment.y", "13.2", "N·m"), si("moment.z", "19.4", "N·m"), si("size", "24.9", "N·m")).
			note("a cross product in other units; u and B stand for the point and the force"),
		caseOf("torque/cross-product-2", "cross product", "moment", Textbook, up1("2.4", "m58280", "A Particle in a Magnetic Field"),
			"u = (−5.0, −2.0, 3.5), B = (0, 0, 4.5)",
			forcesAt(ez(4.5), r3.Vec{X: -5, Y: -2, Z: 3.5}),
			si("moment.x", "-9.0", "N·m"), si("moment.y", "22.5", "N·m"), si("moment.z", "0.0", "N·m"), si("size", "24.2", "N·m")),
		caseOf("torque/scalar-product", "scalar product", "power", Textbook, up1("2.4", "m58280", "Angle between Two Forces"),
			"F1 = (10.0, −20.4, 2.0), F2 = (−15.0, 0, −6.2)",
			Values{"force": Vector("N", r3.Vec{X: 10, Y: -20.4, Z: 2}), "velocity": Vector("m/s", r3.Vec{X: -15, Z: -6.2})},
			si("power", "-162.4", "W")).note("the scalar product of two vectors, here as power"),
		caseOf("torque/four-forces", q, "moment", Textbook, up1("10.6", "m58331", "Calculating Torque"),
			"40 N up at (4, 0) m; 20 N to −x at (0, −3); 30 N down-left 53° to x at (−5, 0); 20 N up-left 60° to x at (0, 1)",
			forcesAt(ey(40), ex(4), ex(-20), ey(-3), polar(30, 180+53), ex(-5), polar(20, 180-60), ey(1)),
			si("moment.z", "230", "N·m")).note("the book adds +160 − 60 + 120 + 10; unrounded it is 229.8"),
		caseOf("torque/oblique-force", q, "moment", Textbook, up1("10.6", "m58331", "Calculating Torque"),
			"30 N down-left 53° to x at (−5, 0) m", forcesAt(polar(30, 180+53), ex(-5)),
			si("moment.z", "120", "N·m")),
		caseOf("torque/flywheel", q, "moment", Textbook, up1("10.6", "m58331", "Calculating Torque on a rigid body"),
			"r = 0.5 m: 20 N at 150° to r; 30 N clockwise along the rim; a third force along a radius",
			forcesAt(polar(20, 150), ex(0.5), ex(30), ey(0.5), polar(20, 225), polar(0.5, 225)),
			si("moment.z", "-10", "N·m")).note("the size of the radial force does not matter"),
		caseOf("torque/ship", q, "moment", Textbook, openStaxUniversity.at("section 10.6 (module m58331), check exercise on a ship"),
			"r = 100 m, F = 5.0×10⁵ N at 80° to r, clockwise", forcesAt(polar(5e5, -80), ex(100)),
			si("moment.z", "-4.9e7", "N·m")),
		caseOf("torque/ship-arm", "moment arm", "moment_arms", Textbook, openStaxUniversity.at("section 10.6 (module m58331), check exercise on a ship"),
			"r = 100 m, F = 5.0×10⁵ N at 80° to r",
			forcesAt(polar(5e5, -80), ex(100)).with("centre", Vector("m", r3.Vec{})),
			si("three_d", "98.5", "m"), si("horizontal", "-98.5", "m")).note("signed as the moment is: clockwise is negative"),
		caseOf("torque/vector", q, "moment", Textbook, problems106,
			"r = (−2.0, 4.0, 0) m, F = (5.0, −2.0, 1.0) N", forcesAt(r3.Vec{X: 5, Y: -2, Z: 1}, r3.Vec{X: -2, Y: 4}),
			si("moment.x", "4.0", "N·m"), si("moment.y", "2.0", "N·m"), si("moment.z", "-16.0", "N·m")),
		caseOf("torque/pulleys", q, "moment", Textbook, problems106,
			"pulleys of 30 cm with 50 N and of 50 cm with 30 N, bonded, no rotation",
			forcesAt(ey(50), ex(-0.3), ey(30), ex(0.5)),
			si("moment.z", "0", "N·m").within(0.5*0.5, "30 N is printed to 1 N, at 0.5 m")),
		caseOf("torque/bolt-university", q, "moment", Textbook, problems106,
			"55.0 N perpendicular at 0.850 m", forcesAt(ey(55), ex(0.85)), si("moment.z", "46.75", "N·m")),
		caseOf("torque/bolt-college", q, "moment", Textbook, cp92,
			"55.0 N perpendicular at 0.850 m", forcesAt(ey(55), ex(0.85)), si("moment.z", "46.8", "N·m")),
		caseOf("torque/hinge-40", q, "moment", Textbook, cp92,
			"40 N at 0.800 m from the hinge", forcesAt(ey(40), ex(0.8)), si("moment.z", "32", "N·m")),
		caseOf("torque/hinge-20", q, "moment", Textbook, cp92,
			"20 N at 0.800 m from the hinge", forcesAt(ey(20), ex(0.8)), si("moment.z", "16", "N·m")),
		caseOf("torque/hinge-balance", q, "moment", Textbook, cp92,
			"17.5 N at 0.600 m against 23.3 N at 0.450 m", forcesAt(ey(17.5), ex(0.6), ey(-23.3), ex(0.45)),
			si("moment.z", "0", "N·m").within(0.05*0.45, "23.3 N is printed to 0.1 N, at 0.450 m")),
		caseOf("torque/newton-euler-static", "moment about a joint", "moment", ReferenceLibrary, kineticsToolkit.at("static segment"),
			"segment of 3 kg and 2 m, centre of mass at 1 m, 80 N down at the tip, g = 9.81; the joint bears them",
			forcesAt(ey(3*9.81), ex(1), ey(80), ex(2)),
			si("force.y", "109.43", "N"), si("moment.z", "189.43", "N·m")),
		caseOf("torque/newton-euler-dynamic", "moment about a joint", "moment", ReferenceLibrary, kineticsToolkit.at("accelerated segment"),
			"the same, accelerated up by 1 m/s² and by 1 rad/s², radius of gyration 0.2 m",
			forcesAt(ey(3*9.81), ex(1), ey(80), ex(2), ey(3*1), ex(1)).with("couples", Vectors("N·m", r3.Vec{}, r3.Vec{}, ez(3*0.2*0.2*1))),
			si("force.y", "112.43", "N"), si("moment.z", "192.55", "N·m")),
		caseOf("torque/foot-on-plate", "moment about the foot's centre", "moment", Textbook,
			winter.at("chapter 5, example 5.1"),
			"plate 588 N up 0.02 m behind the foot's centre of mass, ankle −579.2 N 0.06 m behind it; the ankle's moment −22.99 N·m holds the balance",
			forcesAt(ey(588), ex(-0.02), ey(-579.2), ex(-0.06)),
			si("moment.z", "22.99", "N·m")),
	}
}
