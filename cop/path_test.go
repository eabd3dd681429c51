package cop

import (
	"errors"
	"math"
	"math/rand"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/momentarm/grf"
)

func relative(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	near(t, what, got, want, tol*math.Abs(want))
}

// A point that runs round a circle: every measure has a closed form.
func TestMeasurePathCircle(t *testing.T) {
	const (
		radius  = 0.012
		perTurn = 50
		turns   = 40
		rate    = 100.0
		n       = perTurn * turns // whole turns: the mean is the centre
	)
	centre := r3.Vec{X: 0.3, Y: -1, Z: 7}
	var path []r3.Vec
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / perTurn)
		path = append(path, r3.Add(centre, r3.Vec{X: radius * c, Y: radius * s}))
	}
	m, err := MeasurePath(path, rate, PathOptions{})
	if err != nil {
		t.Fatal(err)
	}
	const tol = 1e-10
	step := 2 * radius * math.Sin(math.Pi/perTurn)
	relative(t, "duration", m.Duration, (n-1)/rate, tol)
	relative(t, "mean distance", m.MeanDistance, radius, tol)
	relative(t, "RMS distance", m.RMSDistance, radius, tol)
	relative(t, "max distance", m.MaxDistance, radius, tol)
	relative(t, "length", m.Length, step*(n-1), tol)
	relative(t, "mean velocity", m.MeanVelocity, step*rate, tol) // a constant speed is that speed
	relative(t, "mean frequency", m.MeanFrequency, step*rate/(2*math.Pi*radius), tol)
	relative(t, "area rate", m.AreaRate, radius*radius*math.Sin(2*math.Pi/perTurn)/2*rate, tol)
	relative(t, "spectral frequency", m.SpectralFrequency, rate/perTurn, 1e-6)
	relative(t, "mean x", m.X.Mean, centre.X, tol)
	relative(t, "mean y", m.Y.Mean, centre.Y, tol)
	relative(t, "RMS x", m.X.RMSDistance, radius/math.Sqrt2, tol)
	relative(t, "range x", m.X.Range, 2*radius, tol)
	relative(t, "max x", m.X.Max, centre.X+radius, tol)
	relative(t, "min x", m.X.Min, centre.X-radius, tol)
	// Along X each turn goes there and back; the last step is missing.
	relative(t, "length x", m.X.Length, 4*radius*turns-radius*(1-math.Cos(2*math.Pi/perTurn)), tol)
	relative(t, "mean velocity x", m.X.MeanVelocity, m.X.Length/m.Duration, tol)
	relative(t, "mean frequency x", m.X.MeanFrequency, m.X.MeanVelocity/(4*math.Sqrt2*m.X.MeanDistance), tol)
	variance := radius * radius / 2 * n / (n - 1)
	relative(t, "ellipse area", m.Ellipse.Area, math.Pi*PredictionFactor(n)*variance, tol)
	relative(t, "ellipse major", m.Ellipse.Major, math.Sqrt(PredictionFactor(n)*variance), tol)
	relative(t, "ellipse minor", m.Ellipse.Minor, math.Sqrt(PredictionFactor(n)*variance), tol)
	nearVec(t, "ellipse centre", m.Ellipse.Centre, r3.Vec{X: 0.3, Y: -1}, 1e-12)
	if m.First != 0 || m.N != n || m.Rate != rate || m.Warnings != nil {
		t.Errorf("first %d, n %d, rate %g, warnings %v", m.First, m.N, m.Rate, m.Warnings)
	}
}

// What must change with the path and what must not.
func TestMeasurePathInvariance(t *testing.T) {
	rnd := rand.New(rand.NewSource(8))
	const n, rate = 600, 100.0
	path := make([]r3.Vec, n)
	for i := 1; i < n; i++ { // a pulled-back random walk, longer in one direction
		path[i] = r3.Vec{
			X: 0.95*path[i-1].X + 2e-3*rnd.NormFloat64(),
			Y: 0.97*path[i-1].Y + 1e-3*rnd.NormFloat64(),
		}
	}
	ref, err := MeasurePath(path, rate, PathOptions{})
	if err != nil {
		t.Fatal(err)
	}
	const turn, scale = 0.4, 100.0
	rot := r3.NewRotation(turn, r3.Vec{Z: 1})
	moved := make([]r3.Vec, n)
	for i, p := range path {
		moved[i] = r3.Add(r3.Scale(scale, rot.Rotate(p)), r3.Vec{X: 3, Y: -8, Z: 1})
	}
	got, err := MeasurePath(moved, rate, PathOptions{})
	if err != nil {
		t.Fatal(err)
	}
	const tol = 1e-9
	relative(t, "mean distance", got.MeanDistance, scale*ref.MeanDistance, tol)
	relative(t, "RMS distance", got.RMSDistance, scale*ref.RMSDistance, tol)
	relative(t, "length", got.Length, scale*ref.Length, tol)
	relative(t, "mean velocity", got.MeanVelocity, scale*ref.MeanVelocity, tol)
	relative(t, "mean frequency", got.MeanFrequency, ref.MeanFrequency, tol)
	relative(t, "area rate", got.AreaRate, scale*scale*ref.AreaRate, tol)
	relative(t, "ellipse area", got.Ellipse.Area, scale*scale*ref.Ellipse.Area, tol)
	relative(t, "ellipse major", got.Ellipse.Major, scale*ref.Ellipse.Major, tol)
	turned := math.Remainder(got.Ellipse.Orientation-ref.Ellipse.Orientation-turn, math.Pi)
	near(t, "ellipse orientation turns with the path", turned, 0, tol)
	// The published definition weights the axes with plain sums of the density
	// and integrates each by the trapezoid rule: not quite independent of the
	// axes' turn, but of place and scale.
	relative(t, "spectral frequency, turned", got.SpectralFrequency, ref.SpectralFrequency, 0.02)
	for i, p := range path {
		moved[i] = r3.Add(r3.Scale(scale, p), r3.Vec{X: 3, Y: -8, Z: 1})
	}
	if got, err = MeasurePath(moved, rate, PathOptions{}); err != nil {
		t.Fatal(err)
	}
	relative(t, "spectral frequency, moved", got.SpectralFrequency, ref.SpectralFrequency, 1e-8)
	relative(t, "RMS over both axes", ref.RMSDistance, math.Hypot(ref.X.RMSDistance, ref.Y.RMSDistance), tol)
	relative(t, "area from the axes", ref.Ellipse.Area, math.Pi*ref.Ellipse.Major*ref.Ellipse.Minor, tol)

	// Points of the ellipse lie at the prediction radius.
	sxx, syy := ref.X.RMSDistance*ref.X.RMSDistance*n/(n-1), ref.Y.RMSDistance*ref.Y.RMSDistance*n/(n-1)
	var sxy float64
	for _, p := range path {
		sxy += (p.X - ref.X.Mean) * (p.Y - ref.Y.Mean) / (n - 1)
	}
	for _, a := range []float64{0, 1, 2, 4} {
		d := r3.Sub(ref.Ellipse.At(a), ref.Ellipse.Centre)
		q := (syy*d.X*d.X - 2*sxy*d.X*d.Y + sxx*d.Y*d.Y) / (sxx*syy - sxy*sxy)
		relative(t, "point of the ellipse", q, PredictionFactor(n), tol)
	}

	// Twice the rate: the same path in half the time.
	fast, err := MeasurePath(path, 2*rate, PathOptions{})
	if err != nil {
		t.Fatal(err)
	}
	relative(t, "velocity at twice the rate", fast.MeanVelocity, 2*ref.MeanVelocity, tol)
	relative(t, "spectral frequency at twice the rate", fast.SpectralFrequency, 2*ref.SpectralFrequency, tol)
}

// F(0.95; 2, n−2) and the factor: closed form, against a general statistics
// library and the values worked out for Chew (1966) to five digits.
func TestPredictionFactor(t *testing.T) {
	for _, c := range []struct {
		n       int
		f, want float64
	}{
		{10, 4.4590, 11.0360}, {30, 3.3404, 7.1500}, {100, 3.0892, 6.3039}, {1000, 3.0047, 6.0215}, {3000, 2.9987, 6.0015},
	} {
		n := float64(c.n)
		got := PredictionFactor(c.n)
		near(t, "factor", got, c.want, 0.5e-4)
		f := distuv.F{D1: 2, D2: n - 2}.Quantile(0.95)
		near(t, "F quantile", f, c.f, 0.5e-4)
		relative(t, "factor from the F distribution", got, 2*f*(n-1)*(n+1)/(n*(n-2)), 1e-6)
	}
	relative(t, "many samples", PredictionFactor(1e9), -2*math.Log(0.05), 1e-8)
	if !math.IsNaN(PredictionFactor(2)) {
		t.Error("two samples have no prediction ellipse")
	}
	// N. Chew's table as printed in an open course (BMClab/BMC, notebook on the
	// prediction ellipse): χ² instead of F makes the radius too small by 26.3,
	// 8.5, 2.5 and 0.2 %.
	for _, c := range []struct {
		n    int
		want float64
	}{{10, -26.3}, {30, -8.5}, {100, -2.5}, {1000, -0.2}} {
		got := 100 * (math.Sqrt(5.991464547107982/PredictionFactor(c.n)) - 1)
		near(t, "error of the χ² radius, %", got, c.want, 0.051)
	}
}

// Relations between the values that an open posturography notebook prints
// (github.com/Jythen/code_descriptors_postural_control, main.ipynb, 748 samples
// at 25 Hz): the definitions here reproduce them once the two durations that the
// notebook mixes are told apart.
func TestPrintedRelations(t *testing.T) {
	const (
		n                   = 748.0
		mdML, mdAP, md      = 0.1795810955311253, 0.34804323313894586, 0.4254325412234754
		rmsML, rmsAP, rms   = 0.26540984939429485, 0.41648441647296885, 0.4938640069091203
		mvML, mvAP, mv      = 0.3581913643625223, 0.5203914302706945, 0.6953667708089489
		mfML, mfAP, mf      = 0.353069743030671, 0.2646689220465907, 0.26048598103306375
		correlation, area95 = -0.23294898489296692, 2.034277923412154
		lengthPerArea       = 10.22739987646638
		sqrtDet             = 0.1074980
	)
	relative(t, "RMS", math.Hypot(rmsML, rmsAP), rms, 1e-14)
	// Its velocity divides by N/rate, its frequency by (N−1)/rate. Here both
	// divide by (N−1)/rate, so our velocity is theirs times N/(N−1).
	const factor = n / (n - 1)
	relative(t, "mean frequency", perTurn(mv*factor, 2*math.Pi*md), mf, 1e-13)
	relative(t, "mean frequency ML", perTurn(mvML*factor, 4*math.Sqrt2*mdML), mfML, 1e-13)
	relative(t, "mean frequency AP", perTurn(mvAP*factor, 4*math.Sqrt2*mdAP), mfAP, 1e-13)
	relative(t, "length", lengthPerArea*area95, mv*factor*(n-1)/25, 1e-12)

	// Its covariance is over N where ours is over N−1, and its stored area comes
	// from a revision with the factor (N−1)/(N−2) where the present one has
	// (N+1)(N−1)/(N(N−2)).
	cov := correlation * rmsML * rmsAP
	relative(t, "√det", math.Sqrt(rmsML*rmsML*rmsAP*rmsAP-cov*cov), sqrtDet, 1e-6)
	over := n / (n - 1)
	e := newEllipse(0, 0, over*rmsML*rmsML, over*rmsAP*rmsAP, over*cov, n)
	relative(t, "ellipse area as stored", e.Area/over*(n/(n+1)), area95, 1e-12)
	relative(t, "ellipse area by the present revision", e.Area/over, 2.036998, 1e-6)
}

func TestMeasurePathErrors(t *testing.T) {
	good := make([]r3.Vec, 20)
	for i := range good {
		good[i] = r3.Vec{X: float64(i), Y: float64(i * i % 7)}
	}
	with := func(i int, p r3.Vec) []r3.Vec {
		q := append([]r3.Vec(nil), good...)
		q[i] = p
		return q
	}
	for _, c := range []struct {
		name string
		path []r3.Vec
		rate float64
		opt  PathOptions
		want error
	}{
		{"no samples", nil, 100, PathOptions{}, grf.ErrNoData},
		{"rate 0", good, 0, PathOptions{}, grf.ErrRate},
		{"rate negative", good, -1, PathOptions{}, grf.ErrRate},
		{"rate NaN", good, math.NaN(), PathOptions{}, grf.ErrRate},
		{"rate infinite", good, math.Inf(1), PathOptions{}, grf.ErrRate},
		{"two samples", good[:2], 100, PathOptions{}, ErrTooShort},
		{"NaN", with(5, nan3()), 100, PathOptions{}, ErrUndefined},
		{"infinite", with(19, r3.Vec{Y: math.Inf(1)}), 100, PathOptions{}, ErrUndefined},
		{"all NaN", []r3.Vec{nan3(), nan3(), nan3()}, 100, PathOptions{NaN: LongestRun}, ErrTooShort},
	} {
		if _, err := MeasurePath(c.path, c.rate, c.opt); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
	var ue *UndefinedError
	_, err := MeasurePath(with(5, nan3()), 100, PathOptions{})
	if !errors.As(err, &ue) || ue.First != 5 || ue.Count != 1 {
		t.Errorf("UndefinedError: %v", err)
	}
	var se *ShortError
	_, err = MeasurePath(good[:2], 100, PathOptions{})
	if !errors.As(err, &se) || se.Need != 3 || se.Got != 2 {
		t.Errorf("ShortError: %v", err)
	}
}

func TestMeasurePathLongestRun(t *testing.T) {
	rnd := rand.New(rand.NewSource(9))
	path := make([]r3.Vec, 100)
	for i := range path {
		path[i] = r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64()}
	}
	whole := append([]r3.Vec(nil), path...)
	for _, i := range []int{0, 30, 31, 92} { // runs of 29, 60 and 7
		path[i] = nan3()
	}
	got, err := MeasurePath(path, 50, PathOptions{NaN: LongestRun})
	if err != nil {
		t.Fatal(err)
	}
	want, err := MeasurePath(whole[32:92], 50, PathOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if got.First != 32 || got.N != 60 || got.Length != want.Length || got.Ellipse != want.Ellipse {
		t.Errorf("measured %d samples from %d", got.N, got.First)
	}
	if len(got.Warnings) != 1 || got.Warnings[0].Code != "undefined-samples" {
		t.Errorf("warnings %v", got.Warnings)
	}
	// Of equal runs the first.
	for i := range path {
		path[i] = whole[i]
	}
	path[50], path[0] = nan3(), nan3()
	if got, err = MeasurePath(path, 50, PathOptions{NaN: LongestRun}); err != nil || got.First != 1 || got.N != 49 {
		t.Errorf("first %d, n %d, %v", got.First, got.N, err)
	}
}

// A path that never moves has sizes of zero and no frequency.
func TestMeasurePathAtRest(t *testing.T) {
	path := make([]r3.Vec, 100)
	for i := range path {
		path[i] = r3.Vec{X: 0.1, Y: 0.3}
	}
	m, err := MeasurePath(path, 100, PathOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for name, x := range map[string]float64{
		"mean distance": m.MeanDistance, "length": m.Length, "velocity": m.MeanVelocity,
		"area": m.Ellipse.Area, "area rate": m.AreaRate, "range": m.X.Range,
	} {
		near(t, name, x, 0, 1e-15)
	}
	for name, x := range map[string]float64{
		"mean frequency": m.MeanFrequency, "mean frequency x": m.X.MeanFrequency,
		"spectral": m.SpectralFrequency, "spectral x": m.X.SpectralFrequency, "spectral y": m.Y.SpectralFrequency,
	} {
		if !math.IsNaN(x) {
			t.Errorf("%s is %g, want NaN", name, x)
		}
	}
	// One axis at rest does not dilute the other.
	for i := range path {
		path[i].X += 0.01 * math.Sin(2*math.Pi*10*float64(i)/100)
	}
	if m, err = MeasurePath(path, 100, PathOptions{}); err != nil {
		t.Fatal(err)
	}
	near(t, "one axis at rest", m.SpectralFrequency, m.X.SpectralFrequency, 0)
	if short, err := MeasurePath(path[:15], 100, PathOptions{}); err != nil || !math.IsNaN(short.SpectralFrequency) {
		t.Errorf("15 samples: spectral frequency %g, %v", short.SpectralFrequency, err)
	}
}

// The spectral frequency against its definition, with the sums of the Fourier
// transform written out over positive and negative frequencies.
func TestSpectralFrequency(t *testing.T) {
	rnd := rand.New(rand.NewSource(10))
	for _, size := range []int{16, 17, 18, 35, 100} { // even and odd halves
		path := make([]r3.Vec, size)
		for i := range path {
			path[i] = r3.Vec{X: rnd.NormFloat64(), Y: 2 + 0.1*rnd.NormFloat64()}
		}
		const rate = 40.0
		n := size / 2
		density := func(get func(r3.Vec) float64) []float64 {
			p := make([]float64, n/2+1)
			for first := 0; first+n <= size; first += n - n/2 {
				var mean float64
				for _, q := range path[first : first+n] {
					mean += get(q) / float64(n)
				}
				for k := -(n - 1) / 2; k <= n/2; k++ {
					var re, im float64
					for i := range n {
						a := 2 * math.Pi * float64(i) / float64(n)
						x := (get(path[first+i]) - mean) * math.Pow(math.Sin(a/2), 2)
						re += x * math.Cos(a*float64(k))
						im += x * math.Sin(a*float64(k))
					}
					p[max(k, -k)] += re*re + im*im
				}
			}
			return p
		}
		centre := func(p []float64) (f, weight float64) {
			var moment, area float64
			for i, v := range p {
				w := 1.0
				if i == 0 || i == len(p)-1 {
					w = 0.5 // trapezoid rule
				}
				moment += w * v * float64(i) * rate / float64(n)
				area += w * v
				weight += v
			}
			return moment / area, weight
		}
		x, wx := centre(density(func(p r3.Vec) float64 { return p.X }))
		y, wy := centre(density(func(p r3.Vec) float64 { return p.Y }))
		m, err := MeasurePath(path, rate, PathOptions{})
		if err != nil {
			t.Fatal(err)
		}
		relative(t, "X", m.X.SpectralFrequency, x, 1e-11)
		relative(t, "Y", m.Y.SpectralFrequency, y, 1e-11)
		relative(t, "both", m.SpectralFrequency, (x*wx+y*wy)/(wx+wy), 1e-11)
	}
}
