package agreement

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"
)

// Shrout and Fleiss 1979, table 2: six targets rated by four judges.
var shroutFleiss = [][]float64{
	{9, 2, 5, 8}, {6, 1, 3, 2}, {8, 4, 6, 8}, {7, 1, 2, 6}, {10, 5, 6, 9}, {6, 2, 4, 7},
}

// Weir 2005, data set A: two trials of eight subjects.
var weir = [][]float64{
	{146, 140}, {148, 152}, {170, 152}, {90, 99}, {157, 145}, {156, 153}, {176, 167}, {205, 218},
}

// Bland and Altman 1986, table 1, first measurement of each subject, l/min.
var (
	largeMeter = []float64{494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427}
	miniMeter  = []float64{512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451}
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g within %g", what, got, want, tol)
	}
}

func columns(table [][]float64) (a, b []float64) {
	for _, row := range table {
		a, b = append(a, row[0]), append(b, row[1])
	}
	return a, b
}

// Printed values: Shrout and Fleiss 1979, tables 3 and 4 (half a unit of the
// last printed digit). Intervals: R 4.2.2, package psych 2.2.9, ICC(x,
// lmer = FALSE), which prints ten digits (testdata/gen/agreement.R of the parent).
func TestICCShroutFleiss(t *testing.T) {
	for _, c := range []struct {
		form      Form
		printed   float64
		low, high float64
	}{
		{OneWaySingle, .17, -0.13293232487, 0.7225600623},
		{TwoWayRandomSingle, .29, 0.01878651337, 0.7610843696},
		{TwoWayMixedSingle, .71, 0.34246476503, 0.9458582600},
		{OneWayAverage, .44, -0.88444215524, 0.9124154203},
		{TwoWayRandomAverage, .62, 0.07113681530, 0.9272320402},
		{TwoWayMixedAverage, .91, 0.67567471382, 0.9858916782},
	} {
		got, err := ICC(shroutFleiss, c.form, 0)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.form.String(), got.Value, c.printed, 0.005)
		near(t, c.form.String()+" low", got.CI.Low, c.low, 1e-9)
		near(t, c.form.String()+" high", got.CI.High, c.high, 1e-9)
	}
}

func TestANOVAShroutFleiss(t *testing.T) {
	a, err := Analyse(shroutFleiss)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "BMS", a.Between, 11.24, 0.005)
	near(t, "WMS", a.Within, 6.26, 0.005)
	near(t, "JMS", a.Judges, 32.49, 0.005)
	near(t, "EMS", a.Error, 1.02, 0.005)
}

// NIST Statistical Reference Datasets, analysis of variance: SiRstv (lower
// difficulty) and AtmWtAg (average difficulty: seven constant leading digits).
// Only the one-way part exists there.
func TestANOVACertified(t *testing.T) {
	for _, c := range []struct {
		name            string
		table           [][]float64
		between, within float64
		rel             float64
	}{
		{"SiRstv", [][]float64{
			{196.3052, 196.1240, 196.1890, 196.2569, 196.3403},
			{196.3042, 196.3825, 196.1669, 196.3257, 196.0422},
			{196.1303, 196.2005, 196.2889, 196.0343, 196.1811},
			{196.2795, 196.1748, 196.1494, 196.1485, 195.9885},
			{196.2119, 196.1051, 196.1850, 196.0052, 196.2090},
		}, 1.27865654e-02, 1.0831828e-02, 1e-11},
		// The deviations are 1e-5 of 108: the inputs hold some nine digits of
		// them, and a square twice that error.
		{"AtmWtAg", [][]float64{
			{107.8681568, 107.8681465, 107.8681572, 107.8681785, 107.8681446, 107.8681903,
				107.8681526, 107.8681494, 107.8681616, 107.8681587, 107.8681519, 107.8681486,
				107.8681419, 107.8681569, 107.8681508, 107.8681672, 107.8681385, 107.8681518,
				107.8681662, 107.8681424, 107.8681360, 107.8681333, 107.8681610, 107.8681477},
			{107.8681079, 107.8681344, 107.8681513, 107.8681197, 107.8681604, 107.8681385,
				107.8681642, 107.8681365, 107.8681151, 107.8681082, 107.8681517, 107.8681448,
				107.8681198, 107.8681482, 107.8681334, 107.8681609, 107.8681101, 107.8681512,
				107.8681469, 107.8681360, 107.8681254, 107.8681261, 107.8681450, 107.8681368},
		}, 3.638341875e-09, 2.28155932971014e-10, 1e-7},
	} {
		a, err := Analyse(c.table)
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name+" between", a.Between, c.between, c.rel*c.between)
		near(t, c.name+" within", a.Within, c.within, c.rel*c.within)
	}
}

func TestPrecisionWeir(t *testing.T) {
	p, err := StandardError(weir, TwoWayRandomSingle)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "SEM", p.FromError, 7.6, 0.05) // Weir 2005, p. 236
	near(t, "ICC(2,1)", p.ICC.Value, 0.9499750706, 1e-9)
	near(t, "low", p.ICC.CI.Low, 0.7869585144, 1e-9)
	near(t, "high", p.ICC.CI.High, 0.9896368914, 1e-9)
	mdc, err := DetectableChange(p.FromError, 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "MDC", mdc, 7.557*1.96*math.Sqrt2, 0.01)

	test, retest := columns(weir)
	te, err := TypicalError(test, retest, 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "typical error is √EMS", te.Error, p.FromError, 1e-12)
	near(t, "change", te.Change, -(146+148+170+90+157+156+176+205-140-152-152-99-145-153-167-218)/8., 1e-12)
}

// With the one-way ICC both definitions of the standard error estimate the
// same variance: SD²(1 − ICC) against WMS. They differ by the degrees of
// freedom only, so that they meet for many targets.
func TestPrecisionDefinitionsMeet(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	table := make([][]float64, 4000)
	for i := range table {
		mu := 10 * rng.NormFloat64()
		table[i] = []float64{mu + rng.NormFloat64(), mu + rng.NormFloat64(), mu + rng.NormFloat64()}
	}
	p, err := StandardError(table, OneWaySingle)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "√EMS", p.FromError, 1, 0.03) // sampling error 1/√(2·8000) = 0.8 %
	near(t, "SD√(1−ICC)", p.FromICC, p.FromError, 0.01)
}

func TestCompareBlandAltman(t *testing.T) {
	c, err := Compare(largeMeter, miniMeter, CompareOptions{})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "bias", c.Bias, -2.1, 0.05) // paper: −2.1, SD 38.8 l/min
	near(t, "SD", c.SD, 38.8, 0.05)
	near(t, "lower", c.Lower, -78.0959, 5e-5) // with the exact normal quantile
	near(t, "upper", c.Upper, 73.8606, 5e-5)
	near(t, "bias CI low", c.BiasCI.Low, -22.0488, 5e-5)
	near(t, "bias CI high", c.BiasCI.High, 17.8135, 5e-5)
	two, err := Compare(largeMeter, miniMeter, CompareOptions{Multiplier: 2})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "lower, 2 SD", two.Lower, -79.65, 0.005)
	near(t, "upper, 2 SD", two.Upper, 75.41, 0.005)
	// From memory: the paper prints −114.3 … −45.1 and 40.9 … 110.1 with the
	// rounder standard error SD·√(3/n); the later formula is 2 % wider here.
	near(t, "lower CI low", two.LowerCI.Low, -114.3, 1.5)
	near(t, "upper CI high", two.UpperCI.High, 110.1, 1.5)
}

// The interval of a limit must cover the true limit about as often as it
// claims to.
func TestLimitIntervalCoverage(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	const trials, n = 4000, 30
	z := distuv.UnitNormal.Quantile(0.975)
	var limit, bias int
	a, b := make([]float64, n), make([]float64, n)
	for range trials {
		for i := range a {
			a[i] = 5 + 2*rng.NormFloat64()
		}
		c, err := Compare(a, b, CompareOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if c.UpperCI.Low < 5+2*z && 5+2*z < c.UpperCI.High {
			limit++
		}
		if c.BiasCI.Low < 5 && 5 < c.BiasCI.High {
			bias++
		}
	}
	near(t, "coverage of the bias", float64(bias)/trials, 0.95, 0.015)
	near(t, "coverage of a limit", float64(limit)/trials, 0.95, 0.02)
}

func TestICCIntervalCoverage(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	const trials = 1500
	// Variances: targets 4, judges 0.5, error 1.
	truth := map[Form]float64{
		OneWaySingle:       4 / 5.5, // judges differ from target to target: part of the noise
		TwoWayRandomSingle: 4 / 5.5,
		TwoWayMixedSingle:  4 / 5.,
	}
	hits := map[Form]int{}
	for range trials {
		var judge [5]float64
		for j := range judge {
			judge[j] = math.Sqrt(0.5) * rng.NormFloat64()
		}
		crossed, nested := make([][]float64, 20), make([][]float64, 20)
		for i := range crossed {
			mu := 2 * rng.NormFloat64()
			crossed[i], nested[i] = make([]float64, 5), make([]float64, 5)
			for j := range judge {
				crossed[i][j] = mu + judge[j] + rng.NormFloat64()
				nested[i][j] = mu + math.Sqrt(1.5)*rng.NormFloat64()
			}
		}
		for f, rho := range truth {
			table := crossed
			if f == OneWaySingle {
				table = nested
			}
			c, err := ICC(table, f, 0)
			if err != nil {
				t.Fatal(err)
			}
			if c.CI.Low < rho && rho < c.CI.High {
				hits[f]++
			}
		}
	}
	for f := range truth {
		near(t, "coverage of "+f.String(), float64(hits[f])/trials, 0.95, 0.025)
	}
}

func TestRMSE(t *testing.T) {
	got, err := RMSE([]float64{1, 2, 3}, []float64{1, 0, 7})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "RMSE", got, math.Sqrt(20./3), 1e-15)
	// RMSE² = bias² + SD²(n − 1)/n
	c, err := Compare(largeMeter, miniMeter, CompareOptions{})
	if err != nil {
		t.Fatal(err)
	}
	r, err := RMSE(largeMeter, miniMeter)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "RMSE of bias and SD", r*r, c.Bias*c.Bias+c.SD*c.SD*16/17, 1e-9)
}

// Multiplying all ratings by a constant changes no ratio and multiplies every
// error; adding one changes neither, except the coefficient of variation.
func TestScaleAndShift(t *testing.T) {
	scaled, shifted := make([][]float64, len(weir)), make([][]float64, len(weir))
	for i, row := range weir {
		for _, x := range row {
			scaled[i] = append(scaled[i], 2.54*x)
			shifted[i] = append(shifted[i], x+1e6)
		}
	}
	p, _ := StandardError(weir, TwoWayRandomSingle)
	ps, _ := StandardError(scaled, TwoWayRandomSingle)
	pt, _ := StandardError(shifted, TwoWayRandomSingle)
	near(t, "SEM scaled", ps.FromError, 2.54*p.FromError, 1e-12)
	near(t, "SEM shifted", pt.FromError, p.FromError, 1e-9)
	near(t, "ICC scaled", ps.ICC.Value, p.ICC.Value, 1e-12)
	near(t, "ICC shifted", pt.ICC.Value, p.ICC.Value, 1e-9)
	v, err := Variation(weir)
	if err != nil {
		t.Fatal(err)
	}
	vs, _ := Variation(scaled)
	near(t, "CV scaled", vs.RootMeanSquare, v.RootMeanSquare, 1e-14)
	near(t, "log CV scaled", vs.Logarithmic, v.Logarithmic, 1e-12)
	near(t, "CV of mean scaled", vs.OfMean, v.OfMean, 1e-14)
}

// For small noise that grows with the value, the three definitions agree.
func TestVariationDefinitions(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	table := make([][]float64, 3000)
	for i := range table {
		table[i] = []float64{100 * math.Exp(0.02*rng.NormFloat64()), 100 * math.Exp(0.02*rng.NormFloat64())}
	}
	v, err := Variation(table)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "root mean square", v.RootMeanSquare, 0.02, 0.001)
	near(t, "logarithmic", v.Logarithmic, math.Expm1(0.02), 0.001)
	near(t, "of the mean", v.OfMean, 0.02, 0.001)
}

func TestPerfectAgreement(t *testing.T) {
	table := [][]float64{{1, 1}, {2, 2}, {4, 4}}
	for f := OneWaySingle; f <= TwoWayMixedAverage; f++ {
		c, err := ICC(table, f, 0)
		if err != nil {
			t.Fatalf("%v: %v", f, err)
		}
		if c.Value != 1 || c.CI != (Interval{1, 1}) {
			t.Errorf("%v = %g, %v; want 1 without width", f, c.Value, c.CI)
		}
	}
	c, err := Compare([]float64{1, 2, 3}, []float64{0, 1, 2}, CompareOptions{})
	if err != nil || c.Bias != 1 || c.SD != 0 || c.Lower != 1 || c.UpperCI != (Interval{1, 1}) {
		t.Errorf("constant difference: %+v, %v", c, err)
	}
}

func TestDegenerate(t *testing.T) {
	nan := math.NaN()
	three := []float64{1, 2, 3}
	icc := func(table [][]float64, f Form, conf float64) error {
		_, err := ICC(table, f, conf)
		return err
	}
	cmp := func(a, b []float64, o CompareOptions) error {
		_, err := Compare(a, b, o)
		return err
	}
	rmse := func(a, b []float64) error { _, err := RMSE(a, b); return err }
	te := func(a, b []float64) error { _, err := TypicalError(a, b, 0); return err }
	cv := func(table [][]float64) error { _, err := Variation(table); return err }
	sem := func(table [][]float64) error { _, err := StandardError(table, OneWaySingle); return err }
	mdc := func(s, c float64) error { _, err := DetectableChange(s, c); return err }
	flat := [][]float64{{5, 5}, {5, 5}, {5, 5}}
	good := [][]float64{{1, 2}, {3, 4}}
	for _, c := range []struct {
		name string
		err  error
		want error
	}{
		{"no pairs", rmse(nil, nil), ErrTooFew},
		{"pairs of different length", rmse(three, three[:2]), ErrLength},
		{"NaN in pairs", rmse(three, []float64{1, nan, 3}), ErrNotFinite},
		{"infinity in pairs", cmp(three, []float64{1, 2, math.Inf(1)}, CompareOptions{}), ErrNotFinite},
		{"two pairs", cmp(three[:2], three[:2], CompareOptions{}), ErrTooFew},
		{"confidence 95", cmp(three, three, CompareOptions{Confidence: 95}), ErrConfidence},
		{"confidence NaN", icc(good, OneWaySingle, nan), ErrConfidence},
		{"one target", icc([][]float64{{1, 2}}, OneWaySingle, 0), ErrTooFew},
		{"no target", icc(nil, OneWaySingle, 0), ErrTooFew},
		{"one rater", icc([][]float64{{1}, {2}}, OneWaySingle, 0), ErrTooFew},
		{"ragged table", icc([][]float64{{1, 2}, {3}}, OneWaySingle, 0), ErrLength},
		{"NaN in table", icc([][]float64{{1, 2}, {3, nan}}, OneWaySingle, 0), ErrNotFinite},
		{"no such form", icc(good, 0, 0), ErrForm},
		{"flat table, one-way", icc(flat, OneWaySingle, 0), ErrNoVariation},
		{"flat table, two-way random", icc(flat, TwoWayRandomSingle, 0), ErrNoVariation},
		{"flat table, two-way mixed", icc(flat, TwoWayMixedSingle, 0), ErrNoVariation},
		{"no variation between targets, mean of k", icc([][]float64{{1, 2}, {2, 1}}, OneWayAverage, 0), ErrNoVariation},
		{"flat table, precision", sem(flat), ErrNoVariation},
		{"negative standard error", mdc(-1, 0), ErrNotPositive},
		{"confidence 1", mdc(1, 1), ErrConfidence},
		{"two retests", te(three[:2], three[:2]), ErrTooFew},
		{"CV of zero", cv([][]float64{{1, 2}, {0, 1}}), ErrNotPositive},
		{"CV of a ragged table", cv([][]float64{{1, 2}, {0}}), ErrLength},
	} {
		if !errors.Is(c.err, c.want) {
			t.Errorf("%s: error %v, want %v", c.name, c.err, c.want)
		}
	}
	for _, m := range []float64{-1, nan, math.Inf(1)} {
		if err := cmp(three, three, CompareOptions{Multiplier: m}); err == nil {
			t.Errorf("multiplier %g: no error", m)
		}
	}
	if _, err := (ANOVA{}).ICC(OneWaySingle, 0); !errors.Is(err, ErrTooFew) {
		t.Errorf("empty ANOVA: %v", err)
	}
	if _, err := (ANOVA{Targets: 3, Raters: 2, Between: nan}).ICC(OneWaySingle, 0); !errors.Is(err, ErrNotFinite) {
		t.Errorf("NaN mean square: %v", err)
	}
}
