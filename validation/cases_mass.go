package validation

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// standThenPush returns the inputs of somebody who stands still for 0.2 s and
// then is pushed up with a constant force for a time, sampled at 1000 Hz. The
// force rises over one sample: it acts as one that starts half a sample later.
func standThenPush(mass, gravity, force, duration float64) Values {
	const rate, quiet = 1000.0, 0.2
	n := int(rate*(quiet+duration)) + 3
	forces := make([]r3.Vec, n)
	for i := range forces {
		forces[i].Z = mass * gravity
		if float64(i) > quiet*rate {
			forces[i].Z = force
		}
	}
	return Values{
		"forces": Vectors("N", forces...), "rate": Number("Hz", rate), "gravity": Number("m/s²", gravity),
		"quiet": Number("s", quiet), "height": Number("m", 1), "instant": Number("s", quiet+0.5/rate+duration),
	}
}

// inTheAir returns the inputs of a vertical force that is gone for a time, from
// the first sample without load to the last.
func inTheAir(duration float64) Values {
	const rate = 100
	v := []float64{700}
	for range int(math.Round(duration*rate)) + 1 {
		v = append(v, 0)
	}
	return Values{"vertical": List("N", append(v, 700)...), "rate": Number("Hz", rate),
		"gravity": Number("m/s²", gBook), "min_vertical": Number("N", 20)}
}

// massCases holds worked examples of centre of mass, impulse and jumps. Left
// out is the power of the jump in College Physics chapter 7: 8.93 kW does not
// follow from its inputs.
func massCases() []Case {
	up1 := func(section, module, title string) Source {
		return openStaxUniversity.at("section %s (module %s), %q", section, module, title)
	}
	const (
		centre = "centre of parallel forces"
		motion = "motion from forces"
	)
	benefits := up1("9.2", "m58319", "The Benefits of Impulse")
	landing := openStaxCollege.at("chapter 7 (module m42153), problems")
	// Half a turn on a circle reverses the velocity.
	const mass, speed, radius, halfTurn = 900.0, 25.0, 500.0, math.Pi * 500 / 25
	var around []r3.Vec
	const steps = 200
	for i := range steps + 1 {
		s, c := math.Sincos(math.Pi * float64(i) / steps)
		around = append(around, r3.Vec{X: 1125 * c, Y: 1125 * s})
	}
	still := make([]r3.Vec, steps+1)
	brake := func(force, duration float64) Values {
		return Values{"forces": Vectors("N", ex(force), ex(force)), "moments": Vectors("N·m", r3.Vec{}, r3.Vec{}), "rate": Number("Hz", 1/duration)}
	}
	return []Case{
		caseOf("mass/earth-moon", centre, "line_of_action", Textbook, openStaxUniversity.at("section 9.6 (module m58323), Earth-Moon system"),
			"5.97×10²⁴ kg and 7.36×10²² kg, 3.82×10⁸ m apart", forcesAt(ez(5.97e24), ex(0), ez(7.36e22), ex(3.82e8)),
			si("point.x", "4.64e6", "m").within(0.003*4.64e6, "the book rounds early; unrounded it is 4.652e6")),
		caseOf("mass/triangle", centre, "line_of_action", Textbook, openStaxUniversity.at("section 9.6 (module m58323), problems"),
			"150 g at the right angle of a 3-4-5 cm triangle, 100 g 4 cm to the left, 75 g 3 cm up",
			forcesAt(ez(150), ex(0), ez(100), ex(-0.04), ez(75), ey(0.03)),
			printed("point.x", "-1.23", "m", 0.01), printed("point.y", "0.69", "m", 0.01)),
		caseOf("mass/braking-long", "impulse", "impulse", Textbook, benefits,
			"87.8 kg from 27 m/s to rest in 2.5 s: −948 N", brake(-948, 2.5),
			exact("linear.x", Number("N·s", -87.8*27)).within(0.5*2.5, "948 N is printed to 1 N, over 2.5 s")),
		caseOf("mass/braking-short", "impulse", "impulse", Textbook, benefits,
			"87.8 kg from 27 m/s to rest in 0.20 s: −11 853 N", brake(-11853, 0.2),
			exact("linear.x", Number("N·s", -87.8*27)).within(0.5*0.2, "11 853 N is printed to 1 N, over 0.20 s")),
		caseOf("mass/jump-110", motion, "motion", Textbook, openStaxCollege.at("section 4.7 (module m42132), integrated concepts problem"),
			"110 kg pushes with 4.31×10³ N over 0.300 m and rises 0.900 m: take-off at 4.20 m/s",
			standThenPush(110, gBook, 4.31e3, 4.20/29.4),
			si("velocity.z", "4.20", "m/s").within(0.007, "4.31×10³ N is printed to 10 N and 4.20 m/s to 0.01"),
			si("rise.z", "0.300", "m").within(0.001, "4.31×10³ N is printed to 10 N and 0.300 m to 0.001"),
			exact("highest", Number("m", 1.2)).within(0.004, "take-off at 4.20 m/s is printed to 0.01"),
			si("mass", "110", "kg")),
		caseOf("mass/jump-105", motion, "motion", Textbook, openStaxCollege.at("chapter 7 (module m42154), integrated concepts problem"),
			"105 kg pushes with 3.47×10³ N over 0.400 m and rises 0.950 m: take-off at 4.32 m/s",
			standThenPush(105, gBook, 3.47e3, 2*0.4/4.315),
			si("velocity.z", "4.32", "m/s").within(0.015, "3.47×10³ N is printed to 10 N and 4.32 m/s to 0.01"),
			si("rise.z", "0.400", "m").within(0.002, "3.47×10³ N is printed to 10 N and 0.400 m to 0.001")),
		caseOf("mass/four-g", motion, "motion", Textbook, openStaxCollege.at("section 4.6 (module m42076), problems"),
			"70.0 kg accelerate up at 4 g under 3.43×10³ N; after 0.1 s", standThenPush(70, gBook, 3.43e3, 0.1),
			exact("velocity.z", Number("m/s", 4*gBook*0.1)).within(5./70*0.1, "3.43×10³ N is printed to 10 N of 70 kg, over 0.1 s")),
		caseOf("mass/landing-stiff", motion, "motion", Textbook, landing,
			"80.0 kg fall 0.600 m and then stop over 1.50 cm under 3.21×10⁴ N; run backward: a push over 1.50 cm that lifts by 0.615 m",
			standThenPush(80, gBook, 3.21e4, math.Sqrt(2*0.015/(3.21e4/80-gBook))),
			si("highest", "0.615", "m").within(0.0015, "3.21×10⁴ N is printed to 100 N, the heights to 1 mm")),
		caseOf("mass/landing-soft", motion, "motion", Textbook, landing,
			"80.0 kg fall 0.600 m and then stop over 0.300 m under 2.35×10³ N; run backward",
			standThenPush(80, gBook, 2.35e3, math.Sqrt(2*0.3/(2.35e3/80-gBook))),
			si("highest", "0.900", "m").within(0.005, "2.35×10³ N is printed to 10 N, the heights to 1 mm")),
		caseOf("mass/fall-3-m", motion, "motion", Textbook, openStaxCollege.at("section 7.3, problems"),
			"60.0 kg fall 3.00 m and stop over 5.00 mm under 3.53×10⁵ N; run backward",
			standThenPush(60, gBook, 3.53e5, math.Sqrt(2*0.005/(3.53e5/60-gBook))),
			si("highest", "3.00", "m").within(0.015, "3.53×10⁵ N is printed to 1000 N; 5 mm more or less are below 3.00 m's last digit")),
		caseOf("mass/hang-time-1-m", "jump from time in the air", "flight", Textbook, openStaxUniversity.at("module m58287, hang time"),
			"0.9 s in the air: 1.0 m", inTheAir(0.9), si("rise", "1.0", "m")),
		caseOf("mass/hang-time-0.3-m", "jump from time in the air", "flight", Textbook, openStaxUniversity.at("module m58287, hang time"),
			"0.5 s in the air: 0.3 m", inTheAir(0.5), si("rise", "0.3", "m")),
		caseOf("mass/oblique-rebound", "impulse", "moment_of_momentum", Textbook, openStaxCollege.at("section 8.2, problems"),
			"a rebound straight from a wall takes 1.155 times the impulse of one at 30° to its normal; 1 N·s straight against 1.155 N·s at 30°, momenta after less before",
			Values{
				"momenta": Vectors("N·s", polar(1.155, 30), polar(1.155, -30)),
				"points":  Vectors("m", r3.Vec{}, r3.Vec{}),
			},
			exact("momentum.x", Number("N·s", 2)).within(0.0005*math.Sqrt(3), "1.155 is printed to 0.001")),
		caseOf("mass/circle", "impulse", "impulse", Textbook, openStaxCollege.at("section 6.3 (module m42086), car on a flat curve"),
			"900 kg at 25.0 m/s on a circle of 500 m: 1125 N toward the centre; over half a turn the velocity is reversed",
			Values{"forces": Vectors("N", around...), "moments": Vectors("N·m", still...), "rate": Number("Hz", steps/halfTurn)},
			exact("linear.y", Number("N·s", 2*mass*speed)).within(0.5*2*radius/speed+1, "1125 N is printed to 1 N; 200 chords for half a circle"),
			exact("linear.x", Number("N·s", 0)).within(1e-6, "symmetry")),
	}
}
