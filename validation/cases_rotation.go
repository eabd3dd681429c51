package validation

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// rotationCases holds worked examples of torque against the rate of change of
// angular momentum. Where a source prints moment of inertia and angular
// acceleration, the angular impulse of the torque over a time is compared with
// the angular momentum that they stand for.
func rotationCases() []Case {
	const q = "angular impulse"
	cp := func(section, module, title string) Source {
		return openStaxCollege.at("section %s (module %s), %q", section, module, title)
	}
	up1 := func(section, module, title string) Source {
		return openStaxUniversity.at("section %s (module %s), %q", section, module, title)
	}
	problems107 := openStaxUniversity.at("section 10.7 (module m58332), problems")
	merry := openStaxCollege.at("section 10.3, merry-go-round")
	grind := openStaxCollege.at("section 10.4, work and energy of a grindstone")
	// constant returns the inputs of a torque that acts for a time.
	constant := func(moment, duration float64) Values {
		return Values{
			"forces":  Vectors("N", r3.Vec{}, r3.Vec{}),
			"moments": Vectors("N·m", ez(moment), ez(moment)),
			"rate":    Number("Hz", 1/duration),
		}
	}
	spin := func(value, tolerance float64, reason string) Want {
		return exact("angular.z", Number("N·m·s", value)).within(tolerance, reason)
	}
	momenta := func(mass float64, v r3.Vec) r3.Vec { return r3.Scale(mass, v) }
	meteor := up1("11.2", "m58336", "Angular Momentum and Torque on a Meteor")
	three := up1("11.2", "m58336", "Angular Momentum of Three Particles")
	problem112 := openStaxUniversity.at("section 11.2 (module m58336), problems")
	return []Case{
		caseOf("rotation/merry-go-round", "moment of a force", "moment", Textbook, merry,
			"250 N at 1.50 m", forcesAt(ey(250), ex(1.5)), si("moment.z", "375", "N·m")),
		caseOf("rotation/merry-go-round-empty", q, "impulse", Textbook, merry,
			"375 N·m for 1 s on 56.25 kg·m²: 6.67 rad/s²", constant(375, 1),
			spin(56.25*6.67, 56.25*0.005, "6.67 rad/s² is printed to 0.01")),
		caseOf("rotation/merry-go-round-child", q, "impulse", Textbook, merry,
			"375 N·m for 1 s on 84.38 kg·m²: 4.44 rad/s²", constant(375, 1),
			spin(84.38*4.44, 84.38*0.005, "4.44 rad/s² is printed to 0.01")),
		caseOf("rotation/spin-up", q, "impulse", Textbook, problems107,
			"376.8 N·m for 10 s on 30 kg·m²: 20 rev/s", constant(376.8, 10),
			spin(30*2*math.Pi*20, 3, "the book takes 3.14 for π")),
		caseOf("rotation/spin-down", q, "impulse", Textbook, problems107,
			"−188.5 N·m for 20 s on 30 kg·m²: from 20 rev/s to rest", constant(-188.5, 20),
			spin(-30*2*math.Pi*20, 0.05*20, "188.5 N·m is printed to 0.1, over 20 s")),
		caseOf("rotation/grindstone", "moment of a force", "moment", Textbook, problems107,
			"180 N at 0.280 m", forcesAt(ey(180), ex(0.28)), si("moment.z", "50.4", "N·m")),
		caseOf("rotation/grindstone-free", q, "impulse", Textbook, problems107,
			"50.4 N·m for 1 s on a disk of 75.0 kg and 0.280 m: 17.14 rad/s²", constant(50.4, 1),
			spin(0.5*75*0.28*0.28*17.14, 2.94*0.005, "17.14 rad/s² is printed to 0.01")),
		caseOf("rotation/grindstone-friction", "moment of a force", "moment", Textbook, problems107,
			"180 N at 0.280 m against 20.0 N at 1.50 cm; 2.94 kg·m² take 17.04 rad/s²",
			forcesAt(ey(180), ex(0.28), ey(-20), ex(0.015)),
			exact("moment.z", Number("N·m", 2.94*17.04)).within(2.94*0.005, "17.04 rad/s² is printed to 0.01")),
		caseOf("rotation/flywheel-stop", q, "impulse", Textbook, problems107,
			"−43.6 N·m for 2 min on 100 kg·m²: from 500 rev/min to rest", constant(-43.6, 120),
			spin(-100*500*2*math.Pi/60, 0.05*120, "43.6 N·m is printed to 0.1, over 120 s")),
		caseOf("rotation/meteor-momentum", "angular momentum", "moment_of_momentum", Textbook, meteor,
			"15.0 kg at (25, 25) km with −2.0 km/s along Y",
			Values{"momenta": Vectors("N·s", ey(15*-2e3)), "points": Vectors("m", r3.Vec{X: 25e3, Y: 25e3})},
			si("angular_momentum.z", "-7.50e8", "N·m·s")),
		caseOf("rotation/meteor-torque", "moment of a force", "moment", Textbook, meteor,
			"15.0 kg at (25, 25) km, −2.0 m/s² along Y", forcesAt(ey(15*-2), r3.Vec{X: 25e3, Y: 25e3}),
			si("moment.z", "-7.5e5", "N·m")),
		caseOf("rotation/three-particles-momentum", "angular momentum", "moment_of_momentum", Textbook, three,
			"2 kg at (−2, 1) m with 4 m/s along Y; 4 kg at (4, 1) with 5 along X; 1 kg at (2, −2) with 3 along X",
			Values{
				"momenta": Vectors("N·s", momenta(2, ey(4)), momenta(4, ex(5)), momenta(1, ex(3))),
				"points":  Vectors("m", r3.Vec{X: -2, Y: 1}, r3.Vec{X: 4, Y: 1}, r3.Vec{X: 2, Y: -2}),
			},
			si("angular_momentum.z", "-30", "N·m·s")),
		caseOf("rotation/three-particles-torque", "moment of a force", "moment", Textbook, three,
			"−6 N along X at (−2, 1) m; 10 N along Y at (4, 1); −8 N along Y at (2, −2)",
			forcesAt(ex(-6), r3.Vec{X: -2, Y: 1}, ey(10), r3.Vec{X: 4, Y: 1}, ey(-8), r3.Vec{X: 2, Y: -2}),
			si("moment.z", "30", "N·m")),
		caseOf("rotation/particle-momentum", "angular momentum", "moment_of_momentum", Textbook, problem112,
			"5 kg at (2, −3) m with 3 m/s along X",
			Values{"momenta": Vectors("N·s", momenta(5, ex(3))), "points": Vectors("m", r3.Vec{X: 2, Y: -3})},
			si("angular_momentum.z", "45.0", "N·m·s")),
		caseOf("rotation/particle-torque", "moment of a force", "moment", Textbook, problem112,
			"5 N along Y at (2, −3) m", forcesAt(ey(5), r3.Vec{X: 2, Y: -3}), si("moment.z", "10.0", "N·m")),
		caseOf("rotation/tray", q, "impulse", Textbook, openStaxCollege.at("section 10.5 (module m42182), rotating food tray"),
			"2.50 N at 0.260 m for 0.150 s", constant(2.5*0.26, 0.15), si("angular.z", "9.75e-2", "N·m·s")),
		caseOf("rotation/kick", "moment of a force", "moment", Textbook, cp("10.5", "m42182", "Calculating the Torque in a Kick"),
			"2000 N, effective lever arm 2.20 cm", forcesAt(ey(2000), ex(0.022)), si("moment.z", "44.0", "N·m")),
		caseOf("rotation/kick-acceleration", q, "impulse", Textbook, cp("10.5", "m42182", "Calculating the Torque in a Kick"),
			"44.0 N·m for 1 s on 1.25 kg·m²: 35.2 rad/s²", constant(44, 1),
			spin(1.25*35.2, 1.25*0.05, "35.2 rad/s² is printed to 0.1")),
		caseOf("rotation/skater", "angular momentum", "moment_of_momentum", Textbook, openStaxCollege.at("section 10.5 (module m42182), skater who pulls in her arms"),
			"2.34 kg·m² at 0.800 rev/s become 0.363 kg·m² at 5.16 rev/s: the angular momentum stays; as 1 kg at √0.363 m",
			Values{"momenta": Vectors("N·s", ey(math.Sqrt(0.363)*5.16*2*math.Pi)), "points": Vectors("m", ex(math.Sqrt(0.363)))},
			exact("angular_momentum.z", Number("N·m·s", 2.34*0.8*2*math.Pi)).within(0.363*2*math.Pi*0.005, "5.16 rev/s is printed to 0.01")),
		caseOf("rotation/work", "power", "power", Textbook, grind,
			"200 N at 0.320 m through 1.00 rad: 64.0 J; taken in one second",
			Values{"force": Vector("N", ey(200)), "velocity": Vector("m/s", ey(0.32*1))},
			si("power", "64.0", "W")),
		caseOf("rotation/work-acceleration", q, "impulse", Textbook, grind,
			"64.0 N·m for 1 s on 4.352 kg·m²: 14.7 rad/s²", constant(64, 1),
			spin(4.352*14.7, 4.352*0.05, "14.7 rad/s² is printed to 0.1")),
	}
}
