package validation

// agreementCases holds published examples of the statistics of agreement.
func agreementCases() []Case {
	judges := Table("1", []float64{9, 2, 5, 8}, []float64{6, 1, 3, 2}, []float64{8, 4, 6, 8},
		[]float64{7, 1, 2, 6}, []float64{10, 5, 6, 9}, []float64{6, 2, 4, 7})
	retest := Table("1", []float64{146, 140}, []float64{148, 152}, []float64{170, 152}, []float64{90, 99},
		[]float64{157, 145}, []float64{156, 153}, []float64{176, 167}, []float64{205, 218})
	large := List("1", 494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427)
	mini := List("1", 512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451)
	const given, givenWeir = "six targets rated by four judges", "two trials of eight subjects, data set A"
	cases := []Case{
		caseOf("agreement/shrout-fleiss/mean-squares", "analysis of variance", "analysis_of_variance", FromMemory, shroutFleiss.at("table 3"), given,
			Values{"ratings": judges},
			si("between", "11.24", "1"), si("within", "6.26", "1"), si("judges", "32.49", "1"), si("error", "1.02", "1")),
		caseOf("agreement/psych/mean-squares", "analysis of variance", "analysis_of_variance", ReferenceLibrary, psych, given,
			Values{"ratings": judges},
			si("between", "11.24166667", "1"), si("judges", "32.48611111", "1"), si("error", "1.019444444", "1")),
	}
	for _, c := range []struct{ form, value, low, high, full string }{
		{"(1,1)", ".17", "-0.13293232487", "0.7225600623", "0.1657417684"},
		{"(2,1)", ".29", "0.01878651337", "0.7610843696", "0.2897637795"},
		{"(3,1)", ".71", "0.34246476503", "0.9458582600", "0.7148407148"},
		{"(1,k)", ".44", "-0.88444215524", "0.9124154203", "0.4427971337"},
		{"(2,k)", ".62", "0.07113681530", "0.9272320402", "0.6200505476"},
		{"(3,k)", ".91", "0.67567471382", "0.9858916782", "0.9093155424"},
	} {
		in := Values{"ratings": judges, "form": Word(c.form)}
		cases = append(cases,
			caseOf("agreement/shrout-fleiss/icc"+c.form, "intraclass correlation", "icc", Paper, shroutFleiss.at("table 4"), given, in,
				si("value", c.value, "1")),
			caseOf("agreement/psych/icc"+c.form, "intraclass correlation", "icc", ReferenceLibrary, psych, given, in,
				si("value", c.full, "1").within(1e-9, "ten printed digits"),
				si("low", c.low, "1").within(1e-9, "ten printed digits"),
				si("high", c.high, "1").within(1e-9, "ten printed digits")),
		)
	}
	for _, c := range []struct{ form, value, low, high string }{
		{"(1,1)", "0.9500530997", "0.7921299443", "0.9895986444"},
		{"(2,1)", "0.9499750706", "0.7869585144", "0.9896368914"},
		{"(3,1)", "0.9470161370", "0.7606784942", "0.9891628072"},
	} {
		cases = append(cases, caseOf("agreement/psych/retest"+c.form, "intraclass correlation", "icc", ReferenceLibrary, psych, givenWeir,
			Values{"ratings": retest, "form": Word(c.form)},
			si("value", c.value, "1").within(1e-9, "ten printed digits"),
			si("low", c.low, "1").within(1e-9, "ten printed digits"),
			si("high", c.high, "1").within(1e-9, "ten printed digits")))
	}
	silver := [][]float64{
		{107.8681568, 107.8681465, 107.8681572, 107.8681785, 107.8681446, 107.8681903,
			107.8681526, 107.8681494, 107.8681616, 107.8681587, 107.8681519, 107.8681486,
			107.8681419, 107.8681569, 107.8681508, 107.8681672, 107.8681385, 107.8681518,
			107.8681662, 107.8681424, 107.8681360, 107.8681333, 107.8681610, 107.8681477},
		{107.8681079, 107.8681344, 107.8681513, 107.8681197, 107.8681604, 107.8681385,
			107.8681642, 107.8681365, 107.8681151, 107.8681082, 107.8681517, 107.8681448,
			107.8681198, 107.8681482, 107.8681334, 107.8681609, 107.8681101, 107.8681512,
			107.8681469, 107.8681360, 107.8681254, 107.8681261, 107.8681450, 107.8681368},
	}
	return append(cases,
		caseOf("agreement/nist/SiRstv", "analysis of variance", "analysis_of_variance", Standard, strd.at("SiRstv, certified values"),
			"resistance by 5 instruments, 5 replicates each",
			Values{"ratings": Table("1",
				[]float64{196.3052, 196.1240, 196.1890, 196.2569, 196.3403},
				[]float64{196.3042, 196.3825, 196.1669, 196.3257, 196.0422},
				[]float64{196.1303, 196.2005, 196.2889, 196.0343, 196.1811},
				[]float64{196.2795, 196.1748, 196.1494, 196.1485, 195.9885},
				[]float64{196.2119, 196.1051, 196.1850, 196.0052, 196.2090})},
			si("between", "1.27865654000000e-02", "1").relative(1e-11, "the inputs hold thirteen digits of the deviations"),
			si("within", "1.08318280000000e-02", "1").relative(1e-11, "the inputs hold thirteen digits of the deviations")),
		caseOf("agreement/nist/AtmWtAg", "analysis of variance", "analysis_of_variance", Standard, strd.at("AtmWtAg, certified values"),
			"atomic weight of silver by 2 instruments, 24 replicates each", Values{"ratings": Table("1", silver...)},
			si("between", "3.63834187500000e-09", "1").relative(1e-7, "the inputs hold nine digits of the deviations"),
			si("within", "2.28155932971014e-10", "1").relative(1e-7, "the inputs hold nine digits of the deviations")),
		caseOf("agreement/weir/standard-error", "standard error of measurement", "standard_error", Paper, weir.at("p. 236, data set A"), givenWeir,
			Values{"ratings": retest}, si("standard_error", "7.6", "1")),
		caseOf("agreement/weir/detectable-change", "standard error of measurement", "standard_error", ClosedForm, weir.at("p. 236, data set A: 1.96·√2 times the printed 7.6"), givenWeir,
			Values{"ratings": retest}, si("detectable_change", "21.07", "1").within(0.05*1.96*1.4143, "7.6 is printed to 0.1")),
		caseOf("agreement/bland-altman/peak-flow", "limits of agreement", "limits_of_agreement", FromMemory, blandAltman.at("peak flow, first measurement"),
			"17 subjects, large against mini meter, limits at 2 SD", Values{"a": large, "b": mini, "multiplier": Number("1", 2)},
			si("bias", "-2.1", "1"), si("sd", "38.8", "1"),
			si("lower", "-79.7", "1").within(0.1, "computed in print from rounded values"),
			si("upper", "75.5", "1").within(0.1, "computed in print from rounded values")),
		caseOf("agreement/r/peak-flow", "limits of agreement", "limits_of_agreement", ReferenceLibrary, rStats,
			"17 subjects, large against mini meter, limits at the normal quantile", Values{"a": large, "b": mini},
			si("bias", "-2.117647059", "1"), si("sd", "38.765129874", "1"), si("lower", "-78.09590547", "1"), si("upper", "73.86061135", "1"),
			si("bias_low", "-22.04883770", "1"), si("bias_high", "17.81354358", "1")),
	)
}
