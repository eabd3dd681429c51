package acceptance

// Figure is something that the literature reports, to hold limits against.
type Figure struct {
	Item   string // the item that it belongs to, or ""
	Text   string
	Source string
	// Seen says how far the source itself was read: "text", "abstract", or "quoted"
	// for what somebody else says of it, which is a lead rather than evidence;
	// "judgement" when there is no source.
	Seen string
}

// Context returns what is reported of the accuracy of force plates. None of it is a
// limit: there is no standard for plates in biomechanics that sets one.
func Context() []Figure {
	return []Figure{
		{"cop_error_mean", "117 points, 0 to 2000 N: mean errors of 3.5 and 6.3 mm, up to 20 mm; 1.3 and 1.6 mm once corrected; constant above 1000 N",
			"Bobbert, Schamhardt (1990), J. Biomech. 23:705–710", "abstract"},
		{"cop_error_max", "errors of up to 30 mm by bending moments on the sensors",
			"Schmiedmayer, Kastner (1999), J. Biomech. 32:1237", "abstract"},
		{"cop_error_mean", "a correction depends on how the load is spread: 5.8 ± 3.7 mm",
			"Schmiedmayer, Kastner (2000), J. Biomech. Eng. 122:523", "abstract"},
		{"cop_error_mean", "loading at single points makes errors look larger than they are under a foot",
			"Middleton et al. (1999), Clin. Biomech. 14:357", "abstract"},
		{"cop_error_mean", "four plates calibrated in place: from 2.3 ± 1.4, 2.6 ± 1.5, 11.8 ± 4.3 and 14.0 ± 2.5 mm to 0.7 ± 0.4, 0.6 ± 0.2, 0.5 ± 0.2 and 2.3 ± 1.3 mm",
			"Cappello et al. (2011), Gait Posture 33:724", "abstract"},
		{"cop_error_rms", "a correction in place takes 60 % of the error away; to be repeated after a plate was moved, or after five years",
			"List et al. (2017), PMID 28763716", "quoted"},
		{"cop_error_max", "9 to 12 mm matter in a clinic",
			"Brady (2020)", "quoted"},
		{"repeatability_cop", "a load of up to 113 N is needed for a scatter of at most 3 mm",
			"Chockalingam et al. (2002), PMID 12443947", "quoted"},
		{"", "the surface that a plate is mounted on is flat to within 0.05 mm",
			"Collins et al., PMC2665306", "text"},
		{"cop_error_max", "at most 5 mm is asked for; 1 to 2 mm can be reached",
			"common practice (no published source)", "judgement"},
	}
}
