package validation

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// millimetres turns a table printed in mm into metres.
func millimetres(v ...float64) []r3.Vec {
	vs := make([]r3.Vec, len(v)/3)
	for i := range vs {
		vs[i] = r3.Scale(1e-3, r3.Vec{X: v[3*i], Y: v[3*i+1], Z: v[3*i+2]})
	}
	return vs
}

// square returns the corners of a plate whose axes are those of the laboratory.
func square(half float64) Value {
	return Vectors("m", r3.Vec{X: half, Y: half}, r3.Vec{X: -half, Y: half}, r3.Vec{X: -half, Y: -half}, r3.Vec{X: half, Y: -half})
}

// plateCases holds force-plate examples with all numbers from the channels to
// the laboratory.
func plateCases() []Case {
	const q = "force plate"
	mm := func(name, digits string, tol float64) Want {
		return printed(name, digits, "m", 1e-3).within(tol*1e-3, "float64 in another order of operations, in mm")
	}
	nmm := func(name, digits string, tol float64) Want {
		return printed(name, digits, "N·m", 1e-3).within(tol*1e-3, "float64 in another order of operations, in N·mm")
	}
	n := func(name, digits string) Want {
		return si(name, digits, "N").within(1e-9, "float64 in another order of operations")
	}
	type2 := Values{
		"type":    Number("1", 2),
		"corners": Vectors("m", millimetres(508.0000305175781, 464, 0, 508.0000305175781, 0, 0, 0, 0, 0, 0, 464, 0)...),
		"origin":  Vector("m", millimetres(1.5239999294281006, -0.7619999647140503, -34.0359992980957)[0]),
		"channels": List("1", 0.04614830017089844, 0.1399211883544922, 0.18352508544921875,
			0, 19.01721954345703e-3, 29.64162826538086e-3),
	}
	type3 := func() Values {
		return Values{
			"type": Number("1", 3),
			"corners": Vectors("m", millimetres(
				881.198974609375, 581.1599731445312, -4.928020000457764,
				880.1019897460938, -2.3661000728607178, -5.842589855194092,
				-0.8132629990577698, -6.946269989013672, -6.117790222167969,
				-4.827390193939209, 578.4210205078125, -6.171599864959717)...),
			"origin": Vector("m", millimetres(210, 350, -53)[0]),
			"channels": List("1", 2.044393136166036, -3.5142676904797554, 6.242591114714742, -3.1277745263651013,
				-232.83549200743437, -220.47392718493938, -215.01376330852509, -218.0722314119339),
		}
	}
	const givenType3 = "eight channels under 886 N, sensors ±210, ±350 mm, 53 mm deep"
	cases := []Case{
		caseOf("plate/first-principles", q, "plate", ClosedForm, firstPrinciples,
			"sensor origin 0.040 m under the surface, z up; (50, −30, 800) N at (0.12, −0.05) m with 6 N·m",
			Values{"type": Number("1", 2), "corners": square(0.3), "origin": Vector("m", ez(0.04)),
				"channels": List("1", 50, -30, 800, -38.8, -94.0, 4.9)},
			exact("surface_point", List("m", 0.12, -0.05)), exact("surface_free_moment", Number("N·m", 6)),
			exact("force", List("N", 50, -30, 800)), exact("point", List("m", 0.12, -0.05, 0))).
			note("the moment about the sensor origin is (0.12, −0.05, 0.04) × F + (0, 0, 6)"),
		caseOf("plate/ezc3d-type-2", q, "plate", ReferenceLibrary, ezc3d.at("type 2 file, sample 0"),
			"six channels (N, N·mm), origin (1.524, −0.762, −34.036) mm after its sign was turned", type2,
			n("force.x", "0.13992118835449219"), n("force.y", "0.046148300170898438"), n("force.z", "-0.18352508544921872"),
			nmm("moment_at_centre.x", "20.867615272954936", 1e-9), nmm("moment_at_centre.y", "-4.622511359985765", 1e-9),
			nmm("moment_at_centre.z", "-29.393223381101276", 1e-9),
			mm("point.x", "228.81266090518048", 1e-9), mm("point.y", "118.29556977523387", 1e-9)).
			note("a load at noise level: it checks the algebra, not a measurement"),
		caseOf("plate/ezc3d-type-3", q, "plate", ReferenceLibrary, ezc3d.at("type 3 file, sample 0"), givenType3, type3(),
			n("force.x", "1.872237068676853").within(1e-6, "the plate's corners are not quite a rectangle"),
			n("force.y", "-2.862660636894518").within(1e-6, "the plate's corners are not quite a rectangle"),
			n("force.z", "886.3955055852457").within(1e-6, "the plate's corners are not quite a rectangle"),
			nmm("moment_at_centre.x", "3146.7092174447007", 1e-3), nmm("moment_at_centre.y", "-7249.1753702378046", 1e-3),
			nmm("moment_at_centre.z", "-29.186897835585174", 1e-3)),
		caseOf("plate/ezc3d-type-3-corrected", q, "plate", ReferenceLibrary, ezc3d.at("type 3 file, sample 0"),
			givenType3+", with the position correction of the plate",
			type3().with("correction", List("1",
				1.7245400223684423e-16, -4.822749838373497e-11, 3.300160074104497e-07, -9.46569038429157e-12,
				2.7873600174643798e-06, -0.008203989826142788, 2.2042800284052707e-16, -1.808640043288179e-11,
				-7.302489848370897e-07, -3.030799916592386e-11, 2.6497400540392846e-06, 0.05411659926176071)),
			mm("point.x", "446.65133312146855", 1e-6), mm("point.y", "291.14651198373156", 1e-6), mm("point.z", "-5.7485786342715768", 1e-6)),
		caseOf("plate/eight-channels-point", q, "plate", ClosedForm, firstPrinciples, givenType3+"; in plate axes",
			type3(),
			mm("surface_point.0", "3.5653428633058692", 1e-9), mm("surface_point.1", "8.171617012748891", 1e-9),
			nmm("surface_free_moment", "-0.8711457076758", 1e-6)),
		caseOf("plate/posturography", "centre of pressure", "line_of_action", ReferenceLibrary, quijoux.at("test.csv, row 0"),
			"F = (1.622131, −8.233887, 581.4375) N, M = (−37.412109, −12.184570, 3.460205) N·m about the surface",
			forcesAt(r3.Vec{X: 1.622131, Y: -8.233887, Z: 581.4375}, r3.Vec{}).
				with("couples", Vectors("N·m", r3.Vec{X: -37.412109, Y: -12.184570, Z: 3.460205})),
			si("point.x", "0.020956", "m"), si("point.y", "-0.064344", "m")),
		caseOf("plate/four-corners", "net centre of pressure", "line_of_action", ClosedForm, firstPrinciples,
			"150, 180, 220 and 210 N at the corners (0, 0), (70, 0), (0, 80) and (70, 80) cm",
			forcesAt(ez(150), ex(0), ez(180), ex(0.7), ez(220), ey(0.8), ez(210), r3.Vec{X: 0.7, Y: 0.8}),
			exact("point", List("m", 0.7*(180+210)/760, 0.8*(220+210)/760, 0))),
		caseOf("plate/two-percent-rule", "load threshold", "line_of_action", Textbook, winter.at("chapter 5, caution on the centre of pressure"),
			"a centre of pressure is not to be trusted below 2 % of body weight: 14.7 N of 75 kg",
			forcesAt(ez(0.02*75*9.80665), ex(0.1)),
			Want{Output: "point", Index: []int{0}, Value: Undefined("m", "below 2 % of body weight"), Abs: 1, Reason: "undefined is undefined"}),
		caseOf("plate/two-feet-free-moment", "free moment", "line_of_action", ClosedForm, firstPrinciples,
			"(20, −60, 500) N at (0.1, 0.25) m with 2 N·m and (−30, 40, 300) N at (−0.05, −0.2) m with −1 N·m",
			forcesAt(r3.Vec{X: 20, Y: -60, Z: 500}, r3.Vec{X: 0.1, Y: 0.25}, r3.Vec{X: -30, Y: 40, Z: 300}, r3.Vec{X: -0.05, Y: -0.2}).
				with("couples", Vectors("N·m", ez(2), ez(-1))),
			exact("point", List("m", 0.04375, 0.08125, 0)), exact("free_moment", Number("N·m", 1-6.75-12.1875))).
			note("the sum of the two free moments, 1 N·m, is not the net free moment: the horizontal forces act at different points"),
		caseOf("plate/two-feet-parts", "moments of two feet", "two_feet", ClosedForm, firstPrinciples,
			"the same two feet, centre of mass at (0.03, 0.06, 0.95) m",
			Values{
				"lead_force": Vector("N", r3.Vec{X: 20, Y: -60, Z: 500}), "lead_point": Vector("m", r3.Vec{X: 0.1, Y: 0.25}), "lead_free": Number("N·m", 2),
				"trail_force": Vector("N", r3.Vec{X: -30, Y: 40, Z: 300}), "trail_point": Vector("m", r3.Vec{X: -0.05, Y: -0.2}), "trail_free": Number("N·m", -1),
				"centre": Vector("m", r3.Vec{X: 0.03, Y: 0.06, Z: 0.95}),
			},
			exact("pivoting", Number("N·m", -6.75-12.1875)), exact("contact", Number("N·m", 1)),
			// r = (0.01375, 0.02125, −0.95) from the mass to the net point, F = (−10, −20, 800).
			exact("ground_force", List("N·m", 0.02125*800-0.95*20, 0.95*10-0.01375*800, -0.01375*20+0.02125*10)),
			exact("moment", List("N·m", -2, -1.5, -0.0625-18.9375+1))),
		caseOf("plate/inclined-45", "torque in an inclined plane", "torque_in_plane", ClosedForm, firstPrinciples,
			"(80, 30, 60) N·m, plane at 60° to the ground",
			Values{"moment": List("N·m", 80, 30, 60), "inclination": Number("rad", math.Pi/3)},
			exact("torque", Number("N·m", 80*math.Sqrt(3)/2+30))),
	}
	// Sensitivities in mV/N; the channels are volts.
	scale := make([]float64, 8)
	for i, s := range []float64{38.117, 37.723, 38.062, 38.008, 3.898, 3.889, 3.885, 3.891} {
		scale[i] = 1000 / s
	}
	cases = append(cases, caseOf("plate/eight-channels-volts", q, "plate", ReferenceLibrary,
		duarteNotes.at("function kistler_fp_cal.py applied to the first row of data/kistler_fp_data.txt"),
		"eight voltages of a piezoelectric plate, a = 0.120 m, b = 0.200 m, az0 = −0.048 m",
		Values{"type": Number("1", 3), "corners": square(0.25), "origin": Vector("m", r3.Vec{X: 0.12, Y: 0.2, Z: -0.048}), "scale": List("1", scale...),
			"channels": List("1", -0.045707, -0.075820, 0.099988, -0.207852, 0.745766, 0.018508, 0.698777, 0.236609)},
		si("surface_force.x", "-3.2090381", "N"), si("surface_force.y", "-2.8416611", "N"), si("surface_force.z", "436.75391", "N"),
		si("surface_moment.x", "-8.7826913", "N·m"), si("surface_moment.y", "-8.2546367", "N·m"), si("surface_moment.z", "0.8093157", "N·m")))
	return append(cases, sample10Cases()...)
}

// sample10 is what the spreadsheet of the type-4 sample prints: its matrix (as
// printed, channel by channel), its scales and some of its 22 rows of counts
// with their results, N and N·mm.
var (
	sample10Matrix = [6][6]float64{
		{1.5266450063015822, 0.013982190947398396, 0.045523380993902574, -4.284280896473809, -5.494209837393126, 2.856023631384376},
		{-0.00463659158593573, 1.5386099246767089, -0.018507568075506305, 17.159642092625756, 5.6677722724416935, -9.638938673543954},
		{8.946314574005854e-05, -0.009134669468463993, 5.988163629657774, 13.232987154235488, 13.250263487509809, -4.609498182596914},
		{-5.906512967829832e-06, 0.002290843828823343, -2.4035817111441236e-05, 741.8712922807069, -0.5393973154536502, -0.5972387648751485},
		{0.002252567400080173, -0.0011475099859239767, 6.895938481584756e-05, -1.682022549947898, 739.6307731023362, 2.0416397080022737},
		{-0.001781885545658509, -0.004845060957261995, -0.0023419070348028362, -3.250343828837657, -0.593823662966123, 391.87916899830503},
	}
	sample10Scale4 = []float64{-0.12220625473777029, -0.12220625473777029, -0.12213817246862357, -0.12220625473777029, -0.12220625473777029, -0.12220625473777029}
	sample10Scale2 = []float64{-0.18657443471415314, -0.18800962267349278, -0.7313663022073267, -90.65745900428064, -90.38924166994843, -47.88646345523915}
	sample10Rows   = []struct {
		frame        int
		counts       [6]float64
		type4, type2 [6]float64
	}{
		{8, [6]float64{3000, 3000, 2047, 2047, 2047, 2047},
			[6]float64{-177.256997483807, -180.81885360928013, -3.1463307536271663, -1499.4975356793934, -20.213525638381725, 789.9556552619874},
			[6]float64{-177.80543628258795, -179.17317040783863, 0, 0, 0, 0}},
		{15, [6]float64{3000, 3000, 3000, 2047, 2047, 2047},
			[6]float64{-177.26741078627015, -179.7555992905412, -700.1546749011418, -3039.7865182344904, -1562.513433277228, 1326.4905421328842},
			[6]float64{-177.80543628258795, -179.17317040783863, -696.9920860035824, 0, 0, 0}},
		{16, [6]float64{2047, 2047, 2047, 3000, 3000, 3000},
			[6]float64{-0.05412892644618497, 0.43111261899225783, 0.2675125766133697, -85825.79443801643, -86007.31603910559, -45807.47016464818},
			[6]float64{0, 0, 0, -86396.55843107945, -86140.94731146086, -45635.79967284291}},
		{20, [6]float64{2047, 2047, 4096, 0, 2047, 2047},
			[6]float64{-23.866697498694977e-3, 2.8591213647916454, -1498.6105217940203, 182272.00379902645, -3450.9593041559187, 1004.1751745833604},
			[6]float64{0, 0, -1498.5695532228124, 185575.81858176246, 0, 0}},
	}
)

// sample10Inputs4 returns scale and calibration for type 4, in N·m.
func sample10Inputs4() (scale, calibration Value) {
	rows := make([][]float64, 6)
	for i := range rows {
		for j := range 6 {
			c := sample10Matrix[j][i]
			if i >= 3 {
				c *= 1e-3
			}
			rows[i] = append(rows[i], c)
		}
	}
	return List("1", sample10Scale4...), Table("1", rows...)
}

// sample10Inputs2 returns the scale for type 2, in N and N·m.
func sample10Inputs2() Value {
	scale := make([]float64, 6)
	copy(scale, sample10Scale2)
	for i := 3; i < 6; i++ {
		scale[i] *= 1e-3
	}
	return List("1", scale...)
}

func sample10Cases() []Case {
	var cases []Case
	for _, r := range sample10Rows {
		channels := make([]float64, 6)
		for i, c := range r.counts {
			channels[i] = c - 2047
		}
		in := func(kind float64) Values {
			return Values{"type": Number("1", kind), "corners": square(0.25), "origin": Vector("m", r3.Vec{}), "channels": List("1", channels...)}
		}
		wants := func(out [6]float64) []Want {
			return []Want{
				exact("surface_force", List("N", out[:3]...)).within(1e-8, "sixteen printed digits of up to 1500 N"),
				exact("surface_moment", List("N·m", out[3]*1e-3, out[4]*1e-3, out[5]*1e-3)).within(1e-8, "sixteen printed digits of up to 190 N·m"),
			}
		}
		src := c3dSamples.at("row %d", r.frame)
		type4, type2 := in(4), in(2)
		type4["scale"], type4["calibration"] = sample10Inputs4()
		type2["scale"] = sample10Inputs2()
		cases = append(cases,
			caseOf("plate/sample10/type-4/row-"+itoa(r.frame), "calibration matrix", "plate", OpenDataset, src,
				"raw counts less 2047, scaled, through the printed 6×6 matrix", type4, wants(r.type4)...),
			caseOf("plate/sample10/type-2/row-"+itoa(r.frame), "channel scale", "plate", OpenDataset, src,
				"raw counts less 2047, scaled to N and N·mm", type2, wants(r.type2)...))
	}
	return cases
}
