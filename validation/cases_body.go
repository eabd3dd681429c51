package validation

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// bodyCases holds anthropometric tables, a worked limb and the gains of a
// published estimator of the centre of mass.
func bodyCases() []Case {
	const q = "segment masses"
	limb := Values{
		"table": Word("dempster"),
		"hip":   Vector("m", r3.Vec{X: 0.721, Y: 0.928}), "knee": Vector("m", r3.Vec{X: 0.864, Y: 0.549}),
		"ankle": Vector("m", r3.Vec{X: 0.849, Y: 0.110}), "forefoot": Vector("m", r3.Vec{X: 1.011, Y: 0.013}),
	}
	table41 := winter.at("table 4.1").via("the file BSP_DempsterWinter.txt of the Notes on Scientific Computing for Biomechanics and Motor Control")
	notes := deLeva.at("table 4").via("the files BSPmale_ZdeLeva.txt and BSPfemale_ZdeLeva.txt of the Notes on Scientific Computing for Biomechanics and Motor Control")
	table := func(name string) Values { return Values{"table": Word(name)} }
	gains := func(forceSD, positionSD, mass, rate float64) Case {
		// The formulas as printed, with the square that the author's program
		// has in the second.
		r := positionSD * rate * rate * mass / forceSD
		l2 := (1 + 4*r - math.Sqrt(1+8*r)) / (4 * r * r)
		return caseOf("body/steady-gains-"+itoa(int(rate)), "estimator gains", "steady_gains", ClosedForm, leMouel.at("steady gains from force and position noise"),
			"force 2 N, position 2 mm, 60.8 kg, "+itoa(int(rate))+" Hz",
			Values{"force_sd": Number("N", forceSD), "position_sd": Number("m", positionSD), "mass": Number("kg", mass), "rate": Number("Hz", rate)},
			exact("position_gain", Number("1", 1-r*r*l2*l2)).within(1e-12, "difference of nearly equal numbers in the printed form"),
			exact("velocity_gain", Number("1", l2)).within(1e-12, "difference of nearly equal numbers in the printed form"))
	}
	return []Case{
		caseOf("body/limb", "segment centres", "leg_centres", ReferenceLibrary,
			duarteNotes.at("notebook BodySegmentParameters, worked lower limb"),
			"Dempster's parameters; forefoot (1.011, 0.013), ankle (0.849, 0.110), knee (0.864, 0.549), hip (0.721, 0.928) m", limb,
			si("foot.x", "0.930", "m"), si("foot.y", "0.062", "m"),
			si("shank.x", "0.858", "m"), si("shank.y", "0.359", "m"),
			si("thigh.x", "0.783", "m"), si("thigh.y", "0.764", "m"),
			si("limb.x", "0.818", "m"), si("limb.y", "0.584", "m")),
		caseOf("body/foot-mass", q, "segment_masses", Textbook, winter.at("chapter 5, example 5.2"),
			"body mass 80 kg: foot mass 1.16 kg", table("dempster"),
			exact("foot", Number("1", 1.16/80)).within(0.005/80, "1.16 kg is printed to 0.01 kg")),
		caseOf("body/trunk-dempster", q, "segment_masses", Textbook, table41, "trunk 0.497", table("dempster"), si("trunk", "0.497", "1")),
		caseOf("body/trunk-men", q, "segment_masses", Paper, notes, "trunk 0.4346", table("de_leva_men"), si("trunk", "0.4346", "1"), si("trunk_parts", "0.4346", "1")),
		caseOf("body/trunk-women", q, "segment_masses", Paper, notes, "trunk 0.4257", table("de_leva_women"), si("trunk", "0.4257", "1"), si("trunk_parts", "0.4257", "1")),
		caseOf("body/whole-men", q, "segment_masses", ClosedForm, notes, "all segments, paired ones twice: 1.0000", table("de_leva_men"),
			exact("whole", Number("1", 1))),
		caseOf("body/whole-women", q, "segment_masses", ClosedForm, notes, "all segments, paired ones twice: 0.9999 in print", table("de_leva_women"),
			exact("whole", Number("1", 0.9999))),
		caseOf("body/whole-dempster", q, "segment_masses", ClosedForm, table41, "head, trunk, two arms, two legs: 1.000", table("dempster"),
			exact("whole", Number("1", 0.081+0.497+2*0.05+2*0.161))),
		gains(2, 0.002, 60.80092606, 200),
		gains(2, 0.002, 60.80092606, 1000),
	}
}
