package grf

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"
)

// plantedMatrix is a calibration matrix like those of strain-gauge plates: N and
// N·m per volt, with a few per cent of cross-talk.
var plantedMatrix = [][]float64{
	{620, 8, -5, 2, 3, -1},
	{-9, 615, 4, -2, 1, 2},
	{6, -11, 1310, 3, -4, 1},
	{1.5, -2, 3, 265, 2, -1},
	{-2, 1, -4, 1.5, 198, 0.5},
	{0.8, -0.6, 1, -0.9, 0.7, 132},
}

// fiveSites are loads in the setting of A. Cedraro, A. Cappello, L. Chiari (2008),
// "A portable system for in-situ re-calibration of force platforms": the five sites
// (0,0) and (±112, ±192) mm at z −124 mm, as quoted in the notes of M. Duarte,
// R.N. Watanabe, Scientific Computing for Biomechanics and Motor Control. The sites
// are theirs; the loads, and all that follows from them, are made up here.
func fiveSites() []KnownLoad {
	var loads []KnownLoad
	for _, at := range []r3.Vec{{}, {X: .112, Y: .192}, {X: -.112, Y: .192}, {X: -.112, Y: -.192}, {X: .112, Y: -.192}} {
		at.Z = -.124
		for _, f := range []r3.Vec{{Z: 800}, {X: 200, Z: 800}, {X: -200, Z: 800}, {Y: 200, Z: 800}, {Y: -200, Z: 800}} {
			loads = append(loads, KnownLoad{Force: f, Point: at})
		}
	}
	return loads
}

// read fills in what a plate with this sensitivity (n×6) and zero reads.
func read(loads []KnownLoad, sensitivity *mat.Dense, zero []float64, noise func(load, channel int) float64) []KnownLoad {
	n, _ := sensitivity.Dims()
	out := append([]KnownLoad(nil), loads...)
	for k := range out {
		c := components(out[k].wrench())
		var v mat.VecDense
		v.MulVec(sensitivity, mat.NewVecDense(6, c[:]))
		out[k].Channels = make([]float64, n)
		for j := range n {
			out[k].Channels[j] = v.AtVec(j)
			if zero != nil {
				out[k].Channels[j] += zero[j]
			}
			if noise != nil {
				out[k].Channels[j] += noise(k, j)
			}
		}
	}
	return out
}

func dense(rows [][]float64) *mat.Dense {
	m := mat.NewDense(len(rows), len(rows[0]), nil)
	for i, r := range rows {
		m.SetRow(i, r)
	}
	return m
}

func inverse(t *testing.T, rows [][]float64) *mat.Dense {
	t.Helper()
	var inv mat.Dense
	if err := inv.Inverse(dense(rows)); err != nil {
		t.Fatal(err)
	}
	return &inv
}

// eightChannels is the sensitivity of a plate with four corner sensors, whose eight
// readings are redundant: what moves between opposite sensors depends on how stiff
// the plate is, here on the place alone.
func eightChannels() *mat.Dense {
	const a, b = 0.2, 0.25
	s := mat.NewDense(8, 6, nil)
	for j, f := range []float64{1, 1} { // Fx12, Fx34: shared by half, and by the twist
		s.Set(j, 0, f/2)
		s.Set(j, 5, []float64{-1, 1}[j]/(4*b))
	}
	for j := range 2 {
		s.Set(2+j, 1, 0.5)
		s.Set(2+j, 5, []float64{1, -1}[j]/(4*a))
	}
	for j, at := range [][2]float64{{a, b}, {-a, b}, {-a, -b}, {a, -b}} {
		s.Set(4+j, 2, 0.25)
		s.Set(4+j, 3, at[1]/(4*b*b))
		s.Set(4+j, 4, -at[0]/(4*a*a))
	}
	s.Apply(func(i, j int, v float64) float64 { return 0.0035*v + 1e-5*math.Sin(float64(7*i+3*j)) }, s)
	return s
}

// Without noise the planted matrix comes back, and the zero with it.
func TestFitCalibrationExact(t *testing.T) {
	zero := []float64{0.12, -0.3, 0.05, 1.1, -0.7, 0.02}
	s := inverse(t, plantedMatrix)
	for _, c := range []struct {
		name string
		zero []float64
		opt  CalibrationOptions
	}{
		{"zeroed", nil, CalibrationOptions{}},
		{"zeroed, but fitted", nil, CalibrationOptions{Zero: ZeroFitted}},
		{"with a zero", zero, CalibrationOptions{Zero: ZeroFitted}},
	} {
		loads := read(fiveSites(), s, c.zero, nil)
		if c.opt.Zero == ZeroFitted {
			// Loads of one size do not tell the zero: see the test of that.
			loads = append(loads, read([]KnownLoad{{}}, s, c.zero, nil)...)
		}
		loads[3].Weight = 4 // of no influence here
		f, err := FitCalibration(loads, c.opt)
		if err != nil {
			t.Fatal(c.name, err)
		}
		for i, row := range f.Matrix {
			for j, v := range row {
				if math.Abs(v-plantedMatrix[i][j]) > 1e-9*1310 {
					t.Errorf("%s: element (%d,%d) is %.12g, want %g", c.name, i+1, j+1, v, plantedMatrix[i][j])
				}
				if !(f.SE[i][j] >= 0) || f.SE[i][j] > 1e-7 {
					t.Errorf("%s: standard error of (%d,%d) is %g", c.name, i+1, j+1, f.SE[i][j])
				}
			}
		}
		for j := range f.Zero {
			want := 0.0
			if c.zero != nil {
				want = c.zero[j]
			}
			if math.Abs(f.Zero[j]-want) > 1e-10 {
				t.Errorf("%s: zero of channel %d is %g, want %g", c.name, j+1, f.Zero[j], want)
			}
		}
		near(t, c.name+" residual force", f.RMS.Force, r3.Vec{}, 1e-8)
		near(t, c.name+" residual moment", f.RMS.Moment, r3.Vec{}, 1e-8)
		if f.Spare != len(loads)-6-int(c.opt.Zero) || len(f.Residuals) != len(loads) {
			t.Errorf("%s: %d spare, %d residuals", c.name, f.Spare, len(f.Residuals))
		}
		if !(f.Condition > 1 && f.Condition < 100) || f.Weakest.String() == "" || !(f.Weakest.Excited > 0.01) {
			t.Errorf("%s: condition %g, weakest %v excited by %g", c.name, f.Condition, f.Weakest, f.Weakest.Excited)
		}
	}
}

// The result goes into a plate as it is, with six channels and with eight.
func TestFittedPlate(t *testing.T) {
	corners := [4]r3.Vec{{X: .4, Y: 1}, {X: .4, Y: .4}, {X: 0, Y: .4}, {X: 0, Y: 1}} // z into the floor
	for _, c := range []struct {
		name string
		typ  PlateType
		s    *mat.Dense
	}{
		{"six channels", TypeMomentCalibrated, inverse(t, plantedMatrix)},
		{"eight channels", TypeEightToMoment, eightChannels()},
	} {
		n, _ := c.s.Dims()
		zero := make([]float64, n)
		for j := range zero {
			zero[j] = 0.1 * float64(j-3)
		}
		loads := append(read(fiveSites(), c.s, zero, nil), read([]KnownLoad{{}}, c.s, zero, nil)...)
		f, err := FitCalibration(loads, CalibrationOptions{Zero: ZeroFitted})
		if err != nil {
			t.Fatal(c.name, err)
		}
		p, err := NewPlate(PlateConfig{Type: c.typ, Corners: corners, Origin: r3.Vec{Z: -.04}, Calibration: f.Matrix, Sense: Action})
		if err != nil {
			t.Fatal(c.name, err)
		}
		load := KnownLoad{Force: r3.Vec{X: 30, Y: -50, Z: 600}, Point: r3.Vec{X: .05, Y: -.11, Z: -.04}, Couple: r3.Vec{Z: 4}}
		ch := f.Subtract(nil, read([]KnownLoad{load}, c.s, zero, nil)[0].Channels)
		frame := p.Frame()
		at := frame.PointOut(r3.Vec{X: .05, Y: -.11})
		want := At(frame.VectorOut(load.Force), at, frame.VectorOut(load.Couple)).Scale(-1)
		nearWrench(t, c.name, p.Wrench(ch), want, 1e-7)
	}
}

// With eight channels the matrix is the inverse on what loads can cause: the
// pseudo-inverse of the sensitivity (worked out by gonum's SVD).
func TestFitCalibrationEight(t *testing.T) {
	s := eightChannels()
	f, err := FitCalibration(read(fiveSites(), s, nil, nil), CalibrationOptions{})
	if err != nil {
		t.Fatal(err)
	}
	var svd mat.SVD
	svd.Factorize(s, mat.SVDThin)
	var pinv mat.Dense
	svd.SolveTo(&pinv, dense([][]float64{
		{1, 0, 0, 0, 0, 0, 0, 0}, {0, 1, 0, 0, 0, 0, 0, 0}, {0, 0, 1, 0, 0, 0, 0, 0}, {0, 0, 0, 1, 0, 0, 0, 0},
		{0, 0, 0, 0, 1, 0, 0, 0}, {0, 0, 0, 0, 0, 1, 0, 0}, {0, 0, 0, 0, 0, 0, 1, 0}, {0, 0, 0, 0, 0, 0, 0, 1}}), 6)
	for i, row := range f.Matrix {
		for j, v := range row {
			if w := pinv.At(i, j); math.Abs(v-w) > 1e-8*math.Abs(w)+1e-6 {
				t.Errorf("element (%d,%d) is %.10g, want %.10g", i+1, j+1, v, w)
			}
		}
	}
	// A noisy channel is trusted less: its column shrinks.
	g, err := FitCalibration(read(fiveSites(), s, nil, nil), CalibrationOptions{ChannelSD: []float64{1, 1, 1, 1, 100, 1, 1, 1}})
	if err != nil {
		t.Fatal(err)
	}
	if a, b := f.Matrix[2][4], g.Matrix[2][4]; !(math.Abs(b) < 0.1*math.Abs(a)) {
		t.Errorf("column of a noisy channel: %g against %g", b, a)
	}
}

// The share of trials in which the true element lies within its 95 % interval, by
// Monte Carlo: with noise of the readings, correlated between channels and larger
// under some loads; and with loads that are not quite where they are said to be.
func TestFitCalibrationCoverage(t *testing.T) {
	const trials = 400
	weights := make([]float64, 26)
	for k := range weights {
		weights[k] = []float64{1, 1, 0.25}[k%3] // standard deviations 1, 1, 2
	}
	for _, c := range []struct {
		name    string
		s       *mat.Dense
		truth   *mat.Dense
		t95     float64 // of Student's distribution for the spare loads
		slack   float64
		opt     CalibrationOptions
		disturb func(rnd *rand.Rand, s *mat.Dense) []KnownLoad
	}{
		{"readings", inverse(t, plantedMatrix), dense(plantedMatrix), 2.093, 0.02, CalibrationOptions{Zero: ZeroFitted},
			func(rnd *rand.Rand, s *mat.Dense) []KnownLoad {
				loads := append(fiveSites(), KnownLoad{})
				common := make([]float64, len(loads))
				for k := range loads {
					loads[k].Weight, common[k] = weights[k], rnd.NormFloat64()
				}
				return read(loads, s, nil, func(k, j int) float64 {
					return 5e-4 * (rnd.NormFloat64() + common[k]) / math.Sqrt(weights[k])
				})
			}},
		{"eight readings", eightChannels(), nil, 2.086, 0.02, CalibrationOptions{Zero: ZeroFitted},
			func(rnd *rand.Rand, s *mat.Dense) []KnownLoad {
				return read(append(fiveSites(), KnownLoad{}, KnownLoad{}), s, nil, func(k, j int) float64 { return 5e-4 * rnd.NormFloat64() })
			}},
		// The errors of the loads are not those that the fit assumes, in two ways:
		// they are in the loads, and a load off its place errs in moment only.
		{"places", inverse(t, plantedMatrix), dense(plantedMatrix), 2.093, 0.08, CalibrationOptions{},
			func(rnd *rand.Rand, s *mat.Dense) []KnownLoad {
				actual := fiveSites()
				for k := range actual {
					actual[k].Point.X += 0.001 * rnd.NormFloat64()
					actual[k].Point.Y += 0.001 * rnd.NormFloat64()
					actual[k].Force.X += rnd.NormFloat64()
					actual[k].Force.Y += rnd.NormFloat64()
					actual[k].Force.Z += rnd.NormFloat64()
				}
				loads := read(actual, s, nil, nil)
				for k, l := range fiveSites() {
					loads[k].Force, loads[k].Point = l.Force, l.Point
				}
				return loads
			}},
	} {
		truth := c.truth
		if truth == nil { // what the fit converges to without noise
			f, err := FitCalibration(read(fiveSites(), c.s, nil, nil), CalibrationOptions{})
			if err != nil {
				t.Fatal(err)
			}
			truth = dense(f.Matrix)
		}
		rnd := rand.New(rand.NewPCG(11, 5))
		inside, all := 0, 0
		for range trials {
			f, err := FitCalibration(c.disturb(rnd, c.s), c.opt)
			if err != nil {
				t.Fatal(err)
			}
			for i, row := range f.Matrix {
				for j, v := range row {
					all++
					if math.Abs(v-truth.At(i, j)) <= c.t95*f.SE[i][j] {
						inside++
					}
				}
			}
		}
		got := float64(inside) / float64(all)
		t.Logf("%s: %.3f of the elements inside", c.name, got)
		if math.Abs(got-0.95) > c.slack {
			t.Errorf("%s: %.3f of the elements lie within their 95 %% interval", c.name, got)
		}
	}
}

func TestFitCalibrationLeavesOut(t *testing.T) {
	s := inverse(t, plantedMatrix)
	weights := func(sizes ...float64) []KnownLoad {
		var loads []KnownLoad
		for _, f := range sizes {
			for _, l := range fiveSites() {
				if l.Force.X == 0 && l.Force.Y == 0 {
					loads = append(loads, KnownLoad{Force: r3.Vec{Z: f}, Point: l.Point})
				}
			}
		}
		return loads
	}
	only := func(keep func(KnownLoad) bool) []KnownLoad {
		var loads []KnownLoad
		for _, l := range fiveSites() {
			if keep(l) {
				loads = append(loads, l)
			}
		}
		return loads
	}
	for _, c := range []struct {
		name  string
		loads []KnownLoad
		zero  ZeroFit
		rank  int
		want  string
	}{
		{"dead weights", weights(400, 800), ZeroStated, 3, "missing is Fx, Fy, Mz"},
		{"dead weights of one size", weights(800), ZeroFitted, 3, "Fx"},
		{"no push along y, no twist", only(func(l KnownLoad) bool { return l.Force.Y == 0 && l.Point.Y == 0 }), ZeroStated, 2, "0.78·Fx + 0.63·My, Fy, Mx, Mz"},
		{"one point", only(func(l KnownLoad) bool { return l.Point.X == 0 && l.Point.Y == 0 }), ZeroStated, 3, "Mz"},
		{"five loads", only(func(l KnownLoad) bool { return l.Force.X == 200 }), ZeroStated, 3, "add loads"},
		{"one size of vertical force and a zero", fiveSites(), ZeroFitted, 6, "0.72·Fz − 0.70·the reading without load"},
		{"nothing but twists", []KnownLoad{{Couple: r3.Vec{X: 5}}, {Couple: r3.Vec{Y: 5}}, {Couple: r3.Vec{Z: 5}}}, ZeroStated, 3, "missing is Fx, Fy, Fz"},
	} {
		_, err := FitCalibration(read(c.loads, s, nil, nil), CalibrationOptions{Zero: c.zero})
		var e *ExcitationError
		if !errors.As(err, &e) || !errors.Is(err, ErrExcitation) {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if e.Rank != c.rank || len(e.Missing) != e.Need-e.Rank || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: rank %d, %d missing: %v; want rank %d and %q", c.name, e.Rank, len(e.Missing), err, c.rank, c.want)
		}
		// What is said to be missing is not excited: no load has a part along it,
		// unless it is told apart from the zero only.
		if c.zero == ZeroFitted {
			continue
		}
		d, err := newLoadDesign(c.loads, false)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range e.Missing {
			for k, l := range c.loads {
				w, dir := components(l.wrench()), componentList(m)
				var along float64
				for i := range dir {
					along += dir[i] * w[i] / d.unit(i)
				}
				if math.Abs(along) > 1e-9 {
					t.Errorf("%s: load %d has a part of %g along %v", c.name, k+1, along, m)
				}
			}
		}
	}
}

// Weak pushes are worse determined, and the fit says which.
func TestFitCalibrationWeakest(t *testing.T) {
	loads := fiveSites()
	for k := range loads {
		loads[k].Force.Y /= 50
	}
	f, err := FitCalibration(read(loads, inverse(t, plantedMatrix), nil, nil), CalibrationOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(f.Weakest.String(), "Fy") || f.Condition < 50 {
		t.Errorf("weakest %v, condition %g; the push along y is 4 N", f.Weakest, f.Condition)
	}
}

func TestFitCalibrationErrors(t *testing.T) {
	s := inverse(t, plantedMatrix)
	good := func() []KnownLoad { return read(fiveSites(), s, nil, nil) }
	for name, c := range map[string]struct {
		loads func() []KnownLoad
		opt   CalibrationOptions
		want  error
	}{
		"none":             {func() []KnownLoad { return nil }, CalibrationOptions{}, ErrKnownLoads},
		"all zero":         {func() []KnownLoad { return []KnownLoad{{Channels: make([]float64, 6)}} }, CalibrationOptions{}, ErrKnownLoads},
		"five channels":    {func() []KnownLoad { l := good(); l[0].Channels = l[0].Channels[1:]; return l }, CalibrationOptions{}, ErrKnownLoads},
		"a channel more":   {func() []KnownLoad { l := good(); l[7].Channels = append(l[7].Channels, 0); return l }, CalibrationOptions{}, ErrKnownLoads},
		"a NaN reading":    {func() []KnownLoad { l := good(); l[7].Channels[2] = math.NaN(); return l }, CalibrationOptions{}, ErrKnownLoads},
		"an infinite load": {func() []KnownLoad { l := good(); l[7].Force.Z = math.Inf(1); return l }, CalibrationOptions{}, ErrKnownLoads},
		"a NaN point":      {func() []KnownLoad { l := good(); l[7].Point.X = math.NaN(); return l }, CalibrationOptions{}, ErrKnownLoads},
		"negative weight":  {func() []KnownLoad { l := good(); l[7].Weight = -1; return l }, CalibrationOptions{}, ErrKnownLoads},
		"unknown zero":     {good, CalibrationOptions{Zero: 9}, ErrKnownLoads},
		"deviations":       {good, CalibrationOptions{ChannelSD: []float64{1}}, ErrKnownLoads},
		"a deviation of 0": {good, CalibrationOptions{ChannelSD: make([]float64, 6)}, ErrKnownLoads},
		"a dead channel": {func() []KnownLoad {
			l := good()
			for k := range l {
				l[k].Channels[3] = 0
			}
			return l
		}, CalibrationOptions{}, ErrCalibration},
		"a channel twice": {func() []KnownLoad {
			l := good()
			for k := range l {
				l[k].Channels[3] = l[k].Channels[2]
			}
			return l
		}, CalibrationOptions{}, ErrCalibration},
	} {
		if f, err := FitCalibration(c.loads(), c.opt); !errors.Is(err, c.want) || f != nil {
			t.Errorf("%s: %v, %v; want %v", name, f, err, c.want)
		}
	}
	// Six loads and no more: a matrix without standard errors.
	six := read([]KnownLoad{{Force: r3.Vec{X: 100}}, {Force: r3.Vec{Y: 100}}, {Force: r3.Vec{Z: 100}},
		{Couple: r3.Vec{X: 10}}, {Couple: r3.Vec{Y: 10}}, {Couple: r3.Vec{Z: 10}}}, s, nil, nil)
	f, err := FitCalibration(six, CalibrationOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(f.Matrix[2][2]-1310) > 1e-8 || !math.IsNaN(f.SE[2][2]) || !math.IsNaN(f.ChannelSD[0]) || f.Spare != 0 {
		t.Errorf("element %g, standard error %g, noise %g, %d spare", f.Matrix[2][2], f.SE[2][2], f.ChannelSD[0], f.Spare)
	}
	if got := f.Subtract(nil, make([]float64, 5)); got != nil {
		t.Errorf("subtracted from five channels: %v", got)
	}
}
