package validation

import "math"

// uncertaintyCases holds the examples of the GUM that need first-order
// propagation.
func uncertaintyCases() []Case {
	const q = "uncertainty"
	h2 := gum.at("H.2, simultaneous resistance and reactance measurement, tables H.2 to H.4")
	observations := Table("1",
		[]float64{5.007, 4.994, 5.005, 4.990, 4.999},
		[]float64{19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3},
		[]float64{1.0456, 1.0438, 1.0468, 1.0428, 1.0433})
	// The covariance of the means, and the derivatives of R = V/I·cos φ,
	// X = V/I·sin φ and Z = V/I.
	const v, i, phi = 4.9990, 19.6610e-3, 1.04446
	const uv, ui, uphi = 0.0032, 0.0095e-3, 0.00075
	const rvi, rvp, rip = -0.36, 0.86, -0.65
	sin, cos := math.Sincos(phi)
	z := v / i
	jacobian := Table("1",
		[]float64{cos / i, -z * cos / i, -z * sin},
		[]float64{sin / i, -z * sin / i, z * cos},
		[]float64{1 / i, -z / i, 0})
	covariance := Table("1",
		[]float64{uv * uv, rvi * uv * ui, rvp * uv * uphi},
		[]float64{rvi * uv * ui, ui * ui, rip * ui * uphi},
		[]float64{rvp * uv * uphi, rip * ui * uphi, uphi * uphi})
	exactCovariance := meansOf(observations.Rows())
	diagonal := func(sd ...float64) Value {
		rows := make([][]float64, len(sd))
		for i, s := range sd {
			rows[i] = make([]float64, len(sd))
			rows[i][i] = s * s
		}
		return Table("1", rows...)
	}
	const rounded = "the inputs are those that the example prints, rounded"
	const ls, theta, alphaS = 50000623.0, -0.1, 11.5e-6
	h1 := gum.at("H.1, end-gauge calibration, table H.1")
	return []Case{
		caseOf("uncertainty/gum-h2-means", q, "covariance_of_means", Standard, h2,
			"five observations each of V, I (mA) and φ", Values{"observations": observations},
			si("means.0", "4.9990", "1"), printed("means.1", "19.6610", "1", 1e-3), si("means.2", "1.04446", "1"),
			si("uncertainties.0", "0.0032", "1"), printed("uncertainties.1", "0.0095", "1", 1e-3), si("uncertainties.2", "0.00075", "1"),
			si("correlations.0.1", "-0.36", "1"), si("correlations.0.2", "0.86", "1"), si("correlations.1.2", "-0.65", "1")),
		caseOf("uncertainty/gum-h2-results", q, "propagate", Standard, h2,
			"R, X and Z of the means and their covariance", Values{"jacobian": jacobian, "covariance": exactCovariance},
			si("uncertainties.0", "0.071", "1"), si("uncertainties.1", "0.295", "1").within(1e-3, "0.29558 is printed 0.295"), si("uncertainties.2", "0.236", "1"),
			si("correlations.0.1", "-0.588", "1"), si("correlations.0.2", "-0.485", "1"), si("correlations.1.2", "0.993", "1")),
		caseOf("uncertainty/gum-h2-printed-inputs", q, "propagate", Standard, h2,
			"the same from the printed uncertainties and correlations", Values{"jacobian": jacobian, "covariance": covariance},
			si("uncertainties.0", "0.071", "1").within(2e-3, rounded), si("uncertainties.2", "0.236", "1").within(2e-3, rounded)),
		caseOf("uncertainty/gum-h1", q, "propagate", Standard, h1,
			"l_s, d₀, d₁, d₂, α_s, θ̄, Δ, δα, δθ in nm, 1/K and K",
			Values{
				"jacobian":   Table("1", []float64{1, 1, 1, 1, 0, 0, 0, -ls * theta, -ls * alphaS}),
				"covariance": diagonal(25, 5.8, 3.9, 6.7, 2e-6/math.Sqrt(3), 0.2, 0.5/math.Sqrt2, 1e-6/math.Sqrt(3), 0.05/math.Sqrt(3)),
			},
			si("uncertainties.0", "32", "1")),
		caseOf("uncertainty/gum-h1-expansion", q, "propagate", Standard, h1,
			"part of the difference of the expansion coefficients, ±1e-6 1/K",
			Values{"jacobian": Table("1", []float64{-ls * theta}), "covariance": diagonal(1e-6 / math.Sqrt(3))},
			si("uncertainties.0", "2.88679", "1")),
		caseOf("uncertainty/gum-h1-temperature", q, "propagate", Standard, h1,
			"part of the temperature difference, ±0.05 K",
			Values{"jacobian": Table("1", []float64{-ls * alphaS}), "covariance": diagonal(0.05 / math.Sqrt(3))},
			si("uncertainties.0", "16.599", "1")),
		caseOf("uncertainty/density", q, "propagate", ReferenceLibrary, duarteNotes.at("notebook on the propagation of uncertainty, density"),
			"m = 4.0 ± 0.5, V = 2.0 ± 0.2: 2.00 ± 0.32",
			Values{"jacobian": Table("1", []float64{1 / 2., -4 / 4.}), "covariance": diagonal(0.5, 0.2)},
			si("uncertainties.0", "0.32", "1")),
	}
}

// meansOf returns the covariance of the means of simultaneous observations
// (GUM 5.2.3, equation 17), for use as an input.
func meansOf(obs [][]float64) Value {
	n := float64(len(obs[0]))
	mean := make([]float64, len(obs))
	for i, o := range obs {
		for _, x := range o {
			mean[i] += x / n
		}
	}
	rows := make([][]float64, len(obs))
	for i := range obs {
		for j := range obs {
			var sum float64
			for k := range obs[i] {
				sum += (obs[i][k] - mean[i]) * (obs[j][k] - mean[j])
			}
			rows[i] = append(rows[i], sum/(n*(n-1)))
		}
	}
	return Table("1", rows...)
}
