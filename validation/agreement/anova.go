package agreement

// ANOVA is the analysis of variance of a table of n targets by k raters, one
// rating in each cell. The names of the mean squares are those of Shrout and
// Fleiss (1979), table 1.
type ANOVA struct {
	Targets, Raters int

	Between float64 // BMS: mean square between targets, n − 1 degrees of freedom
	Within  float64 // WMS: within targets, n(k − 1)
	Judges  float64 // JMS: between raters, k − 1
	Error   float64 // EMS: residual of both, (n − 1)(k − 1)
	Total   float64 // mean square of all ratings about their mean, nk − 1

	// RaterMeans tell a systematic difference between raters.
	RaterMeans []float64
}

// Analyse returns the mean squares of ratings[target][rater]. It needs two
// targets and two raters.
func Analyse(ratings [][]float64) (ANOVA, error) {
	if err := checkTable(ratings); err != nil {
		return ANOVA{}, err
	}
	n, k := len(ratings), len(ratings[0])
	fn, fk := float64(n), float64(k)
	rows := make([]float64, n)
	cols := make([]float64, k)
	// Deviations from a rating of the table keep the digits of data that have
	// a large common part.
	shift := ratings[0][0]
	var grand float64
	for i, row := range ratings {
		for j, x := range row {
			d := x - shift
			rows[i] += d / fk
			cols[j] += d / fn
			grand += d / (fn * fk)
		}
	}
	var b, w, jm, e, t float64
	for i, row := range ratings {
		b += fk * (rows[i] - grand) * (rows[i] - grand)
		for j, x := range row {
			d := x - shift
			w += (d - rows[i]) * (d - rows[i])
			r := d - rows[i] - cols[j] + grand
			e += r * r
			t += (d - grand) * (d - grand)
		}
	}
	for j, c := range cols {
		jm += fn * (c - grand) * (c - grand)
		cols[j] = c + shift
	}
	return ANOVA{
		Targets: n, Raters: k,
		Between:    b / (fn - 1),
		Within:     w / (fn * (fk - 1)),
		Judges:     jm / (fk - 1),
		Error:      e / ((fn - 1) * (fk - 1)),
		Total:      t / (fn*fk - 1),
		RaterMeans: cols,
	}, nil
}
