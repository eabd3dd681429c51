package validation

import "math"

// pathCases holds relations between published measures of a centre-of-pressure
// path and published constants of the prediction ellipse.
func pathCases() []Case {
	// A path of 748 points with exactly the published second moments: two
	// harmonics that are uncorrelated over the record.
	const n, rate = 748, 25.0
	const rmsX, rmsY, correlation = 0.26540984939429485e-2, 0.41648441647296885e-2, -0.23294898489296692
	xs, ys := make([]float64, n), make([]float64, n)
	for i := range xs {
		s, c := math.Sincos(2 * math.Pi * 3 * float64(i) / n)
		u, v := math.Sqrt2*c, math.Sqrt2*s
		xs[i] = rmsX * u
		ys[i] = rmsY * (correlation*u + math.Sqrt(1-correlation*correlation)*v)
	}
	moments := Values{"x": List("m", xs...), "y": List("m", ys...), "rate": Number("Hz", rate)}
	const given = "748 points with the published RMS of 0.26541 and 0.41648 cm and correlation of −0.23295"
	notebook := duarteNotes.at("notebook PredictionEllipseEllipsoid, error of the radius when χ² is used (after Chew 1966)")
	cases := []Case{
		caseOf("path/rms-distance", "centre-of-pressure path", "path_measures", ReferenceLibrary, quijoux.at("main.ipynb, printed features"), given, moments,
			printed("rms_distance", "0.4938640069091203", "m", 0.01).relative(1e-12, "rounding of float64")),
		caseOf("path/ellipse-area", "prediction ellipse", "path_measures", ReferenceLibrary,
			quijoux.at("main.ipynb, printed area 2.034277923412154 cm²"), given, moments,
			// The notebook's 2πF·√det·(N−1)/(N−2) has the covariance over N; the
			// prediction ellipse with the covariance over N−1 is larger by
			// (N+1)/(N−1).
			exact("ellipse_area", Number("m²", 2.034277923412154e-4*749/747)).relative(1e-11, "printed to sixteen digits")).
			note("printed by an older formula than the code now has; the difference is the factor 749/747"),
		circleCase(),
	}
	for _, c := range []struct {
		n       float64
		percent string
	}{{10, "-26.3"}, {30, "-8.5"}, {100, "-2.5"}, {1000, "-0.2"}} {
		w := printed("chi_squared_radius_error", c.percent, "1", 0.01)
		if c.n == 1000 {
			w = w.within(0.0006, "−0.249 % is printed −0.2")
		}
		cases = append(cases, caseOf("path/chi-squared-"+itoa(int(c.n)), "prediction ellipse", "ellipse_factor", ReferenceLibrary, notebook,
			itoa(int(c.n))+" points", Values{"n": Number("1", c.n)}, w))
	}
	return append(cases,
		caseOf("path/factor-limit", "prediction ellipse", "ellipse_factor", ClosedForm, firstPrinciples.at("−2 ln 0.05"),
			"very many points", Values{"n": Number("1", 1e8)},
			exact("factor", Number("1", 5.991464547107982)).within(1e-6, "still finite n")))
}

// circleCase is one turn on a circle of 100 equal chords.
func circleCase() Case {
	const r, chords, rate = 0.01, 100, 50.0
	xs, ys := make([]float64, chords), make([]float64, chords)
	for i := range xs {
		s, c := math.Sincos(2 * math.Pi * float64(i) / chords)
		xs[i], ys[i] = 0.3+r*c, -0.2+r*s
	}
	chord := 2 * r * math.Sin(math.Pi/chords)
	velocity := chord * rate
	return caseOf("path/circle", "centre-of-pressure path", "path_measures", ClosedForm, firstPrinciples,
		"100 points on a circle of 1 cm, 50 Hz",
		Values{"x": List("m", xs...), "y": List("m", ys...), "rate": Number("Hz", rate)},
		exact("mean_distance", Number("m", r)), exact("rms_distance", Number("m", r)), exact("rms_x", Number("m", r/math.Sqrt2)),
		exact("range_x", Number("m", 2*r)), exact("length", Number("m", 99*chord)), exact("mean_velocity", Number("m/s", velocity)),
		exact("mean_frequency", Number("Hz", velocity/(2*math.Pi*r))),
		exact("ellipse_area", Number("m²", math.Pi*predictionFactor100*r*r/2*100/99)))
}

// predictionFactor100 is 2·F(0.95; 2, 98)·101·99/(100·98).
const predictionFactor100 = 6.303865495344666
