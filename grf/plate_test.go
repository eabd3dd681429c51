package grf

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// A plate of 0.5 × 0.6 m with its centre at (1, 2, 0) of a laboratory with z up.
// Plate x is the laboratory's x, plate z points down.
func plateConfig(t PlateType) PlateConfig {
	return PlateConfig{
		Type: t,
		Corners: [4]r3.Vec{
			{X: 1.25, Y: 1.7}, {X: 0.75, Y: 1.7}, {X: 0.75, Y: 2.3}, {X: 1.25, Y: 2.3},
		},
		Origin: r3.Vec{X: 0.001, Y: -0.002, Z: -0.04},
	}
}

func mustPlate(t *testing.T, c PlateConfig) *Plate {
	t.Helper()
	p, err := NewPlate(c)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestPlateAxes(t *testing.T) {
	f := mustPlate(t, plateConfig(TypeMoment)).Frame()
	near(t, "centre", f.Origin, r3.Vec{X: 1, Y: 2}, 1e-15)
	near(t, "x", f.X, ex, 1e-15)
	near(t, "y", f.Y, r3.Vec{Y: -1}, 1e-15)
	near(t, "z points into the floor", f.Z, r3.Vec{Z: -1}, 1e-15)
}

// channelsOf returns what a plate of c's type reads under a wrench that is given
// in plate axes and about the surface centre.
func channelsOf(c PlateConfig, w Wrench) []float64 {
	o := c.Origin
	if c.Type.sensors() {
		o.X, o.Y = 0, 0
	}
	o.Z -= c.TopCover
	m := r3.Add(w.Moment, r3.Cross(o, w.Force)) // M_O = M_S + o × F
	f := w.Force
	a, b := c.Origin.X, c.Origin.Y
	switch c.Type {
	case TypePoint:
		px, py := -w.Moment.Y/f.Z, w.Moment.X/f.Z
		tz := w.Moment.Z - px*f.Y + py*f.X
		return []float64{f.X, f.Y, f.Z, px, py, tz}
	case TypeMoment, TypeMomentCalibrated:
		return []float64{f.X, f.Y, f.Z, m.X, m.Y, m.Z}
	}
	// One of the many ways in which the sensors can share the load: vertical
	// forces from Fz, Mx, My with no warping, shears with Fy14 − Fy23 = 0.
	z := [4]float64{
		f.Z/4 + m.X/(4*b) - m.Y/(4*a), f.Z/4 + m.X/(4*b) + m.Y/(4*a),
		f.Z/4 - m.X/(4*b) + m.Y/(4*a), f.Z/4 - m.X/(4*b) - m.Y/(4*a)}
	x12, x34 := f.X/2-m.Z/(2*b), f.X/2+m.Z/(2*b)
	if c.Type == TypeTwelve {
		return []float64{x12 / 2, f.Y / 4, z[0], x12 / 2, f.Y / 4, z[1], x34 / 2, f.Y / 4, z[2], x34 / 2, f.Y / 4, z[3]}
	}
	return []float64{x12, x34, f.Y / 2, f.Y / 2, z[0], z[1], z[2], z[3]}
}

func identity(n int) [][]float64 {
	m := make([][]float64, n)
	for i := range m {
		m[i] = make([]float64, n)
		m[i][i] = 1
	}
	return m
}

// A force at a known point of the surface must come back at that point from
// every type of plate, whatever the depth of its sensors.
func TestEveryTypeReturnsTheForceThatWasApplied(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 8))
	for _, typ := range []PlateType{TypePoint, TypeMoment, TypeEight, TypeMomentCalibrated, TypeTwelve, TypeEightCalibrated} {
		for range 50 {
			c := plateConfig(typ)
			if typ.sensors() {
				c.Origin = r3.Vec{X: 0.12, Y: 0.2, Z: -0.05}
			}
			if n := typ.calibrated(); n > 0 {
				c.Calibration = identity(n)
			}
			c.TopCover = 0.03 * rnd.Float64()
			p := mustPlate(t, c)
			f := p.Frame()

			force := r3.Add(randVec(rnd, 200), r3.Vec{Z: 800})
			point := r3.Vec{X: 1 + 0.2*rnd.Float64(), Y: 2 - 0.2*rnd.Float64()}
			want := At(force, point, r3.Vec{Z: 10 * rnd.Float64()})
			ch := channelsOf(c, f.WrenchIn(want))
			if typ == TypePoint {
				// Its point lies on the plate's own surface, below the cover.
				below := f.WrenchIn(want).MovedTo(r3.Vec{Z: c.TopCover})
				ch = channelsOf(PlateConfig{Type: typ}, below)
			}
			nearWrench(t, "type", p.Wrench(ch), want, 1e-8)
			nearWrench(t, "surface", p.Surface(ch), f.WrenchIn(want), 1e-8)

			c.Sense = Action
			neg := make([]float64, len(ch))
			for i, v := range ch {
				neg[i] = -v
			}
			if typ == TypePoint { // positions do not change sign
				neg[3], neg[4] = ch[3], ch[4]
			}
			nearWrench(t, "action", mustPlate(t, c).Wrench(neg), want, 1e-8)
		}
	}
}

// Worked example from first principles: sensors 40 mm under the surface, force
// (50, −30, 800) N at (0.12, −0.05) m with a free moment of 6 N·m gives
// (−38.8, −94.0, 4.9) N·m about the sensors' origin. The plate is described
// with z up here, hence its origin's z is positive.
func TestPlateFromFirstPrinciples(t *testing.T) {
	c := PlateConfig{
		Type: TypeMoment,
		Corners: [4]r3.Vec{
			{X: 0.25, Y: 0.3}, {X: -0.25, Y: 0.3}, {X: -0.25, Y: -0.3}, {X: 0.25, Y: -0.3},
		},
		Origin: r3.Vec{Z: 0.04},
	}
	w := mustPlate(t, c).Wrench([]float64{50, -30, 800, -38.8, -94.0, 4.9})
	nearWrench(t, "P1", w, At(r3.Vec{X: 50, Y: -30, Z: 800}, r3.Vec{X: 0.12, Y: -0.05}, r3.Vec{Z: 6}), 1e-12)
}

// A calibration matrix undoes the cross-talk that its inverse describes.
func TestCalibrationMatrix(t *testing.T) {
	c := plateConfig(TypeMomentCalibrated)
	c.Calibration = [][]float64{
		{500, 0, 2, 0, 0, 0},
		{0, 500, 0, 0, 0, 3},
		{0, 0, 1000, 0, 0, 0},
		{0, 1, 0, 800, 0, 0},
		{0, 0, 0, 0, 400, 0},
		{0, 0, 0, 4, 0, 400},
	}
	c.Origin = r3.Vec{}
	w := mustPlate(t, c).Surface([]float64{0.1, 0.2, 0.8, 0.01, 0.02, 0.03})
	near(t, "force", w.Force, r3.Vec{X: 51.6, Y: 100.09, Z: 800}, 1e-10)
	near(t, "moment", w.Moment, r3.Vec{X: 8.2, Y: 8, Z: 12.04}, 1e-10)
}

// Eight raw channels behind a 6×8 matrix: the sums of the corner sensors are
// such a matrix, so both types must agree.
func TestEightToMomentEqualsEight(t *testing.T) {
	const a, b = 0.12, 0.2
	eight := plateConfig(TypeEight)
	eight.Origin = r3.Vec{X: a, Y: b, Z: -0.05}
	matrix := plateConfig(TypeEightToMoment)
	matrix.Origin = r3.Vec{Z: -0.05}
	matrix.Calibration = [][]float64{
		{1, 1, 0, 0, 0, 0, 0, 0},
		{0, 0, 1, 1, 0, 0, 0, 0},
		{0, 0, 0, 0, 1, 1, 1, 1},
		{0, 0, 0, 0, b, b, -b, -b},
		{0, 0, 0, 0, -a, a, a, -a},
		{-b, b, a, -a, 0, 0, 0, 0},
	}
	ch := []float64{3, -4, 10, 20, -200, -210, -190, -205}
	nearWrench(t, "both", mustPlate(t, matrix).Wrench(ch), mustPlate(t, eight).Wrench(ch), 1e-10)
}

func TestChannelScale(t *testing.T) {
	plain, scaled := plateConfig(TypeMoment), plateConfig(TypeMoment)
	scaled.ChannelScale = []float64{1, 1, 1, 0.001, 0.001, 0.001} // N·mm
	got := mustPlate(t, scaled).Wrench([]float64{1, 2, 300, 4000, 5000, 6000})
	nearWrench(t, "N·mm", got, mustPlate(t, plain).Wrench([]float64{1, 2, 300, 4, 5, 6}), 1e-12)
}

// Turning the plate in the laboratory turns what it reports.
func TestTurningThePlateTurnsTheWrench(t *testing.T) {
	c := plateConfig(TypeMoment)
	rot := r3.NewRotation(0.7, r3.Vec{X: 1, Y: -2, Z: 0.5})
	turned := c
	for i, v := range c.Corners {
		turned.Corners[i] = rot.Rotate(v)
	}
	ch := []float64{10, -20, -800, 30, -40, 5}
	w, v := mustPlate(t, c).Wrench(ch), mustPlate(t, turned).Wrench(ch)
	nearWrench(t, "turned", v, Wrench{rot.Rotate(w.Force), rot.Rotate(w.Moment)}, 1e-9)
}

// The published worked example of an eight-channel plate under 886 N: channels,
// corners and coefficients of a public test file of the ezc3d project
// (FP_Type3.c3d; github.com/pyomeca/ezc3d, test/test_modules.cpp, commit
// c519e150), whose expected point is (446.65133312146855, 291.14651198373156,
// −5.7485786342715768) mm.
func TestPointCorrectionOfAPublicFile(t *testing.T) {
	mm := func(x, y, z float64) r3.Vec { return r3.Scale(0.001, r3.Vec{X: x, Y: y, Z: z}) }
	c := PlateConfig{
		Type: TypeEight,
		Corners: [4]r3.Vec{
			mm(881.198974609375, 581.1599731445312, -4.928020000457764),
			mm(880.1019897460938, -2.3661000728607178, -5.842589855194092),
			mm(-0.8132629990577698, -6.946269989013672, -6.117790222167969),
			mm(-4.827390193939209, 578.4210205078125, -6.171599864959717),
		},
		Origin: mm(210, 350, -53),
		PointCorrection: &[12]float64{
			1.7245400223684423e-16, -4.822749838373497e-11, 3.300160074104497e-07,
			-9.46569038429157e-12, 2.7873600174643798e-06, -0.008203989826142788,
			2.2042800284052707e-16, -1.808640043288179e-11, -7.302489848370897e-07,
			-3.030799916592386e-11, 2.6497400540392846e-06, 0.05411659926176071,
		},
	}
	ch := []float64{2.044393136166036, -3.5142676904797554, 6.242591114714742, -3.1277745263651013,
		-232.83549200743437, -220.47392718493938, -215.01376330852509, -218.0722314119339}
	p := mustPlate(t, c)
	w := p.Surface(ch)
	near(t, "force", w.Force, r3.Vec{X: -1.4698745543137193, Y: 3.1148165883496404, Z: -886.3954139128327}, 1e-10)
	point := p.Frame().PointOut(r3.Vec{X: -w.Moment.Y / w.Force.Z, Y: w.Moment.X / w.Force.Z})
	near(t, "corrected point", point, mm(446.65133312146855, 291.14651198373156, -5.748578634271577), 1e-9)
	near(t, "laboratory force", p.Wrench(ch).Force, r3.Vec{X: 1.872237068676853, Y: -2.862660636894518, Z: 886.3955055852457}, 1e-9)

	// The free moment is that of the uncorrected point, −0.8711457076758 N·mm.
	free := func(w Wrench) float64 {
		x, y := -w.Moment.Y/w.Force.Z, w.Moment.X/w.Force.Z
		return w.Moment.Z - x*w.Force.Y + y*w.Force.X
	}
	if got := free(w); math.Abs(got-(-0.0008711457076758)) > 1e-12 {
		t.Errorf("free moment %g N·m", got)
	}
	// Unloaded, nothing is corrected.
	c.PointCorrection = nil
	light := []float64{0.01, 0, 0, 0, -1, -1, 1.1, 1}
	nearWrench(t, "unloaded", p.Surface(light), mustPlate(t, c).Surface(light), 0)
}

// The same open test suite has a six-channel example at noise level: it tests
// the algebra. Its file stores the origin with positive z; turned around here.
func TestSixChannelPlateOfAPublicFile(t *testing.T) {
	mm := func(x, y, z float64) r3.Vec { return r3.Scale(0.001, r3.Vec{X: x, Y: y, Z: z}) }
	p := mustPlate(t, PlateConfig{
		Type:         TypeMoment,
		Corners:      [4]r3.Vec{mm(508.0000305175781, 464, 0), mm(508.0000305175781, 0, 0), mm(0, 0, 0), mm(0, 464, 0)},
		Origin:       mm(1.5239999294281006, -0.7619999647140503, -34.0359992980957),
		ChannelScale: []float64{1, 1, 1, 0.001, 0.001, 0.001},
	})
	ch := []float64{0.04614830017089844, 0.1399211883544922, 0.18352508544921875, -0, 19.01721954345703, 29.64162826538086}
	s := p.Surface(ch)
	near(t, "moment at the surface", s.Moment, mm(-4.622511359985765, 20.867615272954936, 29.39322338110128), 1e-14)
	near(t, "laboratory force", p.Wrench(ch).Force, r3.Vec{X: 0.13992118835449219, Y: 0.046148300170898438, Z: -0.18352508544921875}, 1e-14)
	at := p.Frame().PointOut(r3.Vec{X: -s.Moment.Y / s.Force.Z, Y: s.Moment.X / s.Force.Z})
	near(t, "point", at, mm(228.81266090518048, 118.29556977523387, 0), 1e-12)
}

func TestNewPlateRefuses(t *testing.T) {
	good := func() PlateConfig { return plateConfig(TypeMoment) }
	cal := func() PlateConfig { c := plateConfig(TypeMomentCalibrated); c.Calibration = identity(6); return c }
	for name, c := range map[string]struct {
		change func(*PlateConfig)
		base   func() PlateConfig
		want   error
	}{
		"type 0":              {func(c *PlateConfig) { c.Type = 0 }, good, ErrPlateType},
		"type 21":             {func(c *PlateConfig) { c.Type = 21 }, good, ErrPlateType},
		"all corners zero":    {func(c *PlateConfig) { c.Corners = [4]r3.Vec{} }, good, ErrCorners},
		"collinear corners":   {func(c *PlateConfig) { c.Corners[3] = r3.Vec{X: 1.7, Y: 1.7} }, good, ErrCorners},
		"corner NaN":          {func(c *PlateConfig) { c.Corners[2].Z = math.NaN() }, good, ErrCorners},
		"origin infinite":     {func(c *PlateConfig) { c.Origin.X = math.Inf(-1) }, good, ErrOrigin},
		"sensors at 0":        {func(c *PlateConfig) { c.Type = TypeEight; c.Origin = r3.Vec{} }, good, ErrOrigin},
		"negative cover":      {func(c *PlateConfig) { c.TopCover = -0.01 }, good, ErrOrigin},
		"cover in mm":         {func(c *PlateConfig) { c.TopCover = 20 }, good, ErrOrigin},
		"no matrix":           {func(c *PlateConfig) { c.Calibration = nil }, cal, ErrCalibration},
		"ragged matrix":       {func(c *PlateConfig) { c.Calibration[2] = c.Calibration[2][:5] }, cal, ErrCalibration},
		"zero matrix":         {func(c *PlateConfig) { c.Calibration[2][2] = 0 }, cal, ErrCalibration},
		"singular matrix":     {func(c *PlateConfig) { c.Calibration[2] = c.Calibration[1] }, cal, ErrCalibration},
		"NaN in matrix":       {func(c *PlateConfig) { c.Calibration[5][0] = math.NaN() }, cal, ErrCalibration},
		"five channel scales": {func(c *PlateConfig) { c.ChannelScale = make([]float64, 5) }, good, ErrChannels},
		"channel scale of 0":  {func(c *PlateConfig) { c.ChannelScale = make([]float64, 6) }, good, ErrChannels},
	} {
		cfg := c.base()
		c.change(&cfg)
		if p, err := NewPlate(cfg); !errors.Is(err, c.want) || p != nil {
			t.Errorf("%s: plate %v, error %v", name, p, err)
		}
	}
	c := good()
	c.Sense = 9
	if _, err := NewPlate(c); err == nil {
		t.Error("sense 9 was accepted")
	}
}

func TestOddCornersWarn(t *testing.T) {
	c := plateConfig(TypeMoment)
	if w := mustPlate(t, c).Warnings(); len(w) != 0 {
		t.Errorf("a good plate warns: %v", w)
	}
	skew := c
	skew.Corners[2] = r3.Vec{X: 0.70, Y: 2.35}
	if w := mustPlate(t, skew).Warnings(); len(w) != 1 || w[0].Code != "corners-skewed" {
		t.Errorf("skewed corners: %v", w)
	}
	big := c
	for i := range big.Corners {
		big.Corners[i] = r3.Scale(1000, big.Corners[i])
	}
	if w := mustPlate(t, big).Warnings(); len(w) != 1 || w[0].Code != "plate-size" {
		t.Errorf("a plate of 600 m: %v", w)
	}
}

func TestWrongChannelCount(t *testing.T) {
	p := mustPlate(t, plateConfig(TypeMoment))
	if w := p.Wrench(make([]float64, 8)); !w.IsNaN() {
		t.Errorf("8 channels for 6: %v", w)
	}
	if w := p.Surface(nil); !w.IsNaN() {
		t.Errorf("no channels: %v", w)
	}
	if _, err := p.Wrenches(nil, make([][]float64, 5)); !errors.Is(err, ErrChannels) {
		t.Errorf("5 channels: %v", err)
	}
	ragged := [][]float64{{1, 2}, {1, 2}, {1, 2}, {1}, {1, 2}, {1, 2}}
	if _, err := p.Wrenches(nil, ragged); !errors.Is(err, ErrLength) {
		t.Errorf("ragged: %v", err)
	}
}

func TestWrenchesEqualsWrench(t *testing.T) {
	p := mustPlate(t, plateConfig(TypeMoment))
	rnd := rand.New(rand.NewPCG(9, 10))
	channels := make([][]float64, 6)
	for i := range channels {
		for range 20 {
			channels[i] = append(channels[i], 100*rnd.NormFloat64())
		}
	}
	ws, err := p.Wrenches(make([]Wrench, 3), channels)
	if err != nil || len(ws) != 20 {
		t.Fatal(len(ws), err)
	}
	sample := make([]float64, 6)
	for i := range ws {
		for j := range sample {
			sample[j] = channels[j][i]
		}
		if ws[i] != p.Wrench(sample) {
			t.Errorf("sample %d differs", i)
		}
	}
}

func TestSenseUnderLoad(t *testing.T) {
	up := r3.Vec{Z: 2}
	load := func(z float64) Wrench { return Wrench{Force: r3.Vec{Z: z}} }
	if s, m := SenseUnderLoad([]Wrench{load(3), load(800), NaN()}, up, 20); s != Reaction || m != 800 {
		t.Errorf("reaction: %v %g", s, m)
	}
	if s, m := SenseUnderLoad([]Wrench{load(-3), load(-800)}, up, 20); s != Action || m != -800 {
		t.Errorf("action: %v %g", s, m)
	}
	if s, m := SenseUnderLoad([]Wrench{load(5)}, up, 20); s != AsMeasured || !math.IsNaN(m) {
		t.Errorf("unloaded: %v %g", s, m)
	}
	for s, want := range map[Sense]string{AsMeasured: "as measured", Reaction: "reaction", Action: "action", 5: "Sense(5)"} {
		if s.String() != want {
			t.Errorf("%d prints as %q", int(s), s)
		}
	}
}

func TestWithSense(t *testing.T) {
	p := mustPlate(t, plateConfig(TypeMoment))
	ch := []float64{1, 2, -300, 4, 5, 6}
	a := p.WithSense(Action)
	nearWrench(t, "action", a.Wrench(ch), p.Wrench(ch).Scale(-1), 0)
	nearWrench(t, "and back", a.WithSense(Reaction).Wrench(ch), p.Wrench(ch), 0)
	if p.Sense() != AsMeasured || a.Sense() != Action {
		t.Error("WithSense changed the plate that it was called on, or not its copy")
	}
}

func TestPlateWrenchDoesNotAllocate(t *testing.T) {
	ch := []float64{1, 2, -300, 4, 5, 6}
	for _, typ := range []PlateType{TypePoint, TypeMoment} {
		p := mustPlate(t, plateConfig(typ))
		var w Wrench
		if n := testing.AllocsPerRun(100, func() { w = p.Wrench(ch) }); n != 0 {
			t.Errorf("type %d: %g allocations per sample", typ, n)
		}
		_ = w
	}
}

// The products for six and for other numbers of channels have the digits of the
// definition, and Wrenches those of Wrench.
func TestApply(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 6))
	for try := range 400 {
		n := []int{6, 8, 12, 1 + r.IntN(12)}[try%4]
		m, c := make([]float64, 6*n), make([]float64, n)
		for _, x := range [][]float64{m, c} {
			for i := range x {
				x[i] = []float64{0, math.Copysign(0, -1), 1, 1e-310, math.Inf(1), math.NaN()}[r.IntN(6)]
				if r.IntN(3) > 0 {
					x[i] = r.NormFloat64()
				}
			}
		}
		got := apply(m, c)
		var want [6]float64
		for i := range want {
			for j := range c {
				want[i] += float64(m[n*i+j] * c[j])
			}
		}
		for i, g := range []float64{got.Force.X, got.Force.Y, got.Force.Z, got.Moment.X, got.Moment.Y, got.Moment.Z} {
			if math.Float64bits(g) != math.Float64bits(want[i]) && !(math.IsNaN(g) && math.IsNaN(want[i])) {
				t.Fatalf("row %d of %v times %v is %v, want %v", i, m, c, g, want[i])
			}
		}
	}
	p, err := NewPlate(plateConfig(TypeMoment))
	if err != nil {
		t.Fatal(err)
	}
	channels := make([][]float64, 6)
	for i := range channels {
		channels[i] = []float64{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}
	}
	ws, err := p.Wrenches(nil, channels)
	if err != nil {
		t.Fatal(err)
	}
	for i, w := range ws {
		if one := p.Wrench([]float64{channels[0][i], channels[1][i], channels[2][i], channels[3][i], channels[4][i], channels[5][i]}); w != one {
			t.Errorf("sample %d: %v, alone %v", i, w, one)
		}
	}
}

func BenchmarkPlateWrench(b *testing.B) {
	p, err := NewPlate(plateConfig(TypeMoment))
	if err != nil {
		b.Fatal(err)
	}
	ch := []float64{1, 2, -300, 4, 5, 6}
	for b.Loop() {
		p.Wrench(ch)
	}
}
