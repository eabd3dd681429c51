package cop

import (
	"math"
	"math/rand"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) { // NaN fails
		t.Errorf("%s: got %.12g, want %.12g ± %.2g", what, got, want, tol)
	}
}

func nearVec(t *testing.T, what string, got, want r3.Vec, tol float64) {
	t.Helper()
	if !(r3.Norm(r3.Sub(got, want)) <= tol) {
		t.Errorf("%s: got %.12g, want %.12g ± %.2g", what, got, want, tol)
	}
}

func isNaN3(p r3.Vec) bool { return math.IsNaN(p.X) && math.IsNaN(p.Y) && math.IsNaN(p.Z) }

// someWrench is a plausible load of one foot: upward, at a point of the surface,
// with horizontal force and a free moment.
func someWrench(rnd *rand.Rand) (w grf.Wrench, p r3.Vec, free float64) {
	f := r3.Vec{X: 200 * rnd.NormFloat64(), Y: 200 * rnd.NormFloat64(), Z: 100 + 1000*rnd.Float64()}
	p = r3.Vec{X: 0.3 * rnd.NormFloat64(), Y: 0.3 * rnd.NormFloat64()}
	free = 15 * rnd.NormFloat64()
	return grf.At(f, p, r3.Vec{Z: free}), p, free
}

// Moments are up to some 1e3 N·m and forces down to 1e2 N: rounding stays far
// below these.
const (
	tolPoint = 1e-13 // m
	tolFree  = 1e-11 // N·m
)

func TestOfTable(t *testing.T) {
	for _, c := range []struct {
		name, source string
		w            grf.Wrench
		height       float64
		p            r3.Vec
		free         float64
		tolP, tolT   float64
	}{
		{
			name:   "force at a known point above the sensor",
			source: "closed form: (0.12, -0.05, 0.04) × F + (0, 0, 6)",
			w:      grf.Wrench{Force: r3.Vec{X: 50, Y: -30, Z: 800}, Moment: r3.Vec{X: -38.8, Y: -94.0, Z: 4.9}},
			height: 0.04,
			p:      r3.Vec{X: 0.12, Y: -0.05, Z: 0.04}, free: 6,
			tolP: 1e-15, tolT: 1e-13,
		},
		{
			name:   "the same without the sensor's depth lands elsewhere",
			source: "closed form: 94/800 and -38.8/800",
			w:      grf.Wrench{Force: r3.Vec{X: 50, Y: -30, Z: 800}, Moment: r3.Vec{X: -38.8, Y: -94.0, Z: 4.9}},
			p:      r3.Vec{X: 0.1175, Y: -0.0485}, free: 4.9 + 0.1175*30 - 0.0485*50,
			tolP: 1e-15, tolT: 1e-13,
		},
		{
			name: "posturography record, row 0",
			source: "F. Quijoux et al. (2021), Physiol. Rep. 9:e15067, open code and data " +
				"(github.com/Jythen/code_descriptors_postural_control, test.csv, row 0): the file's own C_x, C_y, six decimals as the inputs",
			w: grf.Wrench{
				Force:  r3.Vec{X: 1.622131, Y: -8.233887, Z: 581.4375},
				Moment: r3.Vec{X: -37.412109, Y: -12.184570, Z: 3.460205},
			},
			p:    r3.Vec{X: 0.020956, Y: -0.064344},
			free: 3.460205 + 0.020956*8.233887 - 0.064344*1.622131,
			tolP: 7.1e-7, tolT: 1e-5, // half a digit per axis
		},
		{
			name:   "four corner loads of a 70 × 80 cm plate",
			source: "closed form: (180+210)·70/760 and (220+210)·80/760 cm",
			w: grf.Sum(
				grf.At(r3.Vec{Z: 150}, r3.Vec{}, r3.Vec{}),
				grf.At(r3.Vec{Z: 180}, r3.Vec{X: 0.7}, r3.Vec{}),
				grf.At(r3.Vec{Z: 220}, r3.Vec{Y: 0.8}, r3.Vec{}),
				grf.At(r3.Vec{Z: 210}, r3.Vec{X: 0.7, Y: 0.8}, r3.Vec{})),
			p:    r3.Vec{X: 0.7 * 390 / 760, Y: 0.8 * 430 / 760},
			tolP: 1e-15, tolT: 1e-15,
		},
		{
			name: "scaffold with a person: two supports",
			source: "Ling, Sanny, Moebs, University Physics vol. 1 (OpenStax), sect. 12.2 problem: 711 N and 466 N for " +
				"70 kg over 6.0 m and 50 kg at 1.5 m from one end",
			w: grf.Sum(
				grf.At(r3.Vec{Z: 711}, r3.Vec{}, r3.Vec{}),
				grf.At(r3.Vec{Z: 466}, r3.Vec{Y: 6.0}, r3.Vec{})),
			p:    r3.Vec{Y: (70*3.0 + 50*1.5) / 120},
			tolP: 0.5 / 1177 * 6, // printed to 1 N
		},
		{
			name:   "car with 52 % of its weight on the front axle",
			source: "Ling, Sanny, Moebs, University Physics vol. 1 (OpenStax), sect. 12.1 \"Center of Gravity of a Car\": 1.3 m from the rear axle",
			w: grf.Sum(
				grf.At(r3.Vec{Z: 0.48e4}, r3.Vec{}, r3.Vec{}),
				grf.At(r3.Vec{Z: 0.52e4}, r3.Vec{X: 2.5}, r3.Vec{})),
			p:    r3.Vec{X: 1.3},
			tolP: 1e-15,
		},
	} {
		p, free := Of(c.w, c.height, DefaultMinVertical)
		nearVec(t, c.name+": point", p, c.p, c.tolP)
		near(t, c.name+": free moment", free, c.free, c.tolT)
		if p.Z != c.height {
			t.Errorf("%s: height %g, want %g exactly", c.name, p.Z, c.height)
		}
	}
}

// A force at a point and a vertical couple give back that point and couple,
// whatever the plane that they are asked on or the axes' origin and turn.
func TestOfGivesBackWhatActed(t *testing.T) {
	rnd := rand.New(rand.NewSource(1))
	for range 1000 {
		w, p, free := someWrench(rnd)
		gotP, gotFree := Of(w, 0, 20)
		nearVec(t, "point", gotP, p, tolPoint)
		near(t, "free", gotFree, free, tolFree)

		// Origin moved by d: the point moves by −d, the free moment stays.
		d := r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}
		gotP, gotFree = Of(w.MovedTo(d), -d.Z, 20)
		nearVec(t, "point from another origin", gotP, r3.Sub(p, d), 10*tolPoint)
		near(t, "free from another origin", gotFree, free, 10*tolFree)

		// Turned about the vertical.
		rot := r3.NewRotation(2*math.Pi*rnd.Float64(), r3.Vec{Z: 1})
		gotP, gotFree = Of(grf.Wrench{Force: rot.Rotate(w.Force), Moment: rot.Rotate(w.Moment)}, 0, 20)
		nearVec(t, "point turned", gotP, rot.Rotate(p), tolPoint)
		near(t, "free turned", gotFree, free, tolFree)

		// Scaled: the point stays, the free moment scales.
		gotP, gotFree = Of(w.Scale(3), 0, 20)
		nearVec(t, "point scaled", gotP, p, tolPoint)
		near(t, "free scaled", gotFree, 3*free, 3*tolFree)

		// A vertical couple changes the free moment alone.
		gotP, gotFree = Of(grf.Wrench{Force: w.Force, Moment: r3.Add(w.Moment, r3.Vec{Z: 7})}, 0, 20)
		nearVec(t, "point with a couple", gotP, p, tolPoint)
		near(t, "free with a couple", gotFree, free+7, tolFree)

		// The mirrored golfer: polar vectors change Y, axial ones X and Z.
		mirror := grf.Wrench{
			Force:  r3.Vec{X: w.Force.X, Y: -w.Force.Y, Z: w.Force.Z},
			Moment: r3.Vec{X: -w.Moment.X, Y: w.Moment.Y, Z: -w.Moment.Z},
		}
		gotP, gotFree = Of(mirror, 0, 20)
		nearVec(t, "point mirrored", gotP, r3.Vec{X: p.X, Y: -p.Y}, tolPoint)
		near(t, "free mirrored", gotFree, -free, tolFree)
	}
}

func TestOnPlane(t *testing.T) {
	rnd := rand.New(rand.NewSource(2))
	unit := func() r3.Vec {
		return r3.Unit(r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()})
	}
	for range 1000 {
		w, _, _ := someWrench(rnd)
		h := rnd.NormFloat64()
		p, free := Of(w, h, 20)
		q, same := OnPlane(w, r3.Vec{X: rnd.NormFloat64(), Y: 2, Z: h}, r3.Vec{Z: 5}, 20)
		nearVec(t, "horizontal plane", q, p, 1e-12)
		near(t, "horizontal plane, free", same, free, 1e-10)

		// A force at a point of any plane with a couple along its normal.
		n, at := unit(), r3.Vec{X: rnd.NormFloat64(), Y: rnd.NormFloat64(), Z: rnd.NormFloat64()}
		f := r3.Scale(500, r3.Add(r3.Scale(1.5, n), unit())) // at least 250 N along n
		couple := 20 * rnd.NormFloat64()
		w = grf.At(f, at, r3.Scale(couple, n))
		through := r3.Add(at, r3.Cross(n, unit())) // another point of the plane
		p, free = OnPlane(w, through, r3.Scale(3, n), 100)
		nearVec(t, "tilted plane", p, at, 1e-12)
		near(t, "tilted plane, free", free, couple, 1e-10)

		// The normal turned round; force and moment negated.
		p, free = OnPlane(w, through, r3.Scale(-1, n), 100)
		nearVec(t, "other normal", p, at, 1e-12)
		near(t, "other normal, free", free, -couple, 1e-10)
		p, free = OnPlane(w.Scale(-1), through, n, 100)
		nearVec(t, "action instead of reaction", p, at, 1e-12)
		near(t, "action instead of reaction, free", free, -couple, 1e-10)

		// Any turn of the laboratory.
		rot := r3.NewRotation(6*rnd.Float64(), unit())
		p, free = OnPlane(grf.Wrench{Force: rot.Rotate(w.Force), Moment: rot.Rotate(w.Moment)},
			rot.Rotate(through), rot.Rotate(n), 100)
		nearVec(t, "turned lab", p, rot.Rotate(at), 1e-12)
		near(t, "turned lab, free", free, couple, 1e-10)
	}
}

// One load shared between two plates, with the shear and the free moment shared
// unequally, is the load on one plate. The mean of the two centres of pressure
// weighted by vertical force agrees in one plane and fails across a step; the
// free moments do not add up in either case.
func TestNetOfTwoPlates(t *testing.T) {
	rnd := rand.New(rand.NewSource(3))
	for range 200 {
		whole, p, free := someWrench(rnd)
		part, _, _ := someWrench(rnd)
		a, b := part, whole.Sub(part)
		got, gotFree := Net(a, b, 0, 20)
		nearVec(t, "net point", got, p, 10*tolPoint)
		near(t, "net free moment", gotFree, free, 10*tolFree)
	}

	// Both feet 0.25 m from the middle, pushing ±100 N along X: a couple of
	// 100·0.5 = 50 N·m about the vertical with no free moment under either.
	lead := grf.At(r3.Vec{X: -100, Z: 400}, r3.Vec{Y: 0.25}, r3.Vec{})
	trail := grf.At(r3.Vec{X: 100, Z: 400}, r3.Vec{Y: -0.25}, r3.Vec{})
	p, free := Net(lead, trail, 0, 20)
	nearVec(t, "middle", p, r3.Vec{}, tolPoint)
	near(t, "couple of the feet", free, 50, tolFree)

	// The lead plate is 0.10 m higher: asked on Z = 0 the shear on it counts.
	lead = grf.At(r3.Vec{X: -100, Z: 400}, r3.Vec{Y: 0.25, Z: 0.10}, r3.Vec{})
	p, _ = Net(lead, trail, 0, 20)
	// Moment about Y: 0.10·(−100) = −10 N·m over 800 N.
	nearVec(t, "across a step", p, r3.Vec{X: 10.0 / 800}, tolPoint)
}

func TestUndefined(t *testing.T) {
	ok := grf.At(r3.Vec{X: 5, Y: 6, Z: 700}, r3.Vec{X: 0.1, Y: 0.2}, r3.Vec{Z: 3})
	nan, inf := math.NaN(), math.Inf(1)
	set := func(f func(*grf.Wrench)) grf.Wrench { w := ok; f(&w); return w }
	for _, c := range []struct {
		name string
		w    grf.Wrench
		min  float64
	}{
		{"under the threshold", ok, 700.0000001},
		{"zero wrench", grf.Wrench{}, 0},
		{"zero wrench, negative threshold", grf.Wrench{}, -5},
		{"negative vertical force", ok.Scale(-1), -1e9},
		{"threshold NaN", ok, nan},
		{"overflow", set(func(w *grf.Wrench) { w.Force.Z = 1e-320 }), 0},
		{"lost sample", grf.NaN(), 0},
		{"Fx NaN", set(func(w *grf.Wrench) { w.Force.X = nan }), 20},
		{"Fy NaN", set(func(w *grf.Wrench) { w.Force.Y = nan }), 20},
		{"Fz NaN", set(func(w *grf.Wrench) { w.Force.Z = nan }), 20},
		{"Mx NaN", set(func(w *grf.Wrench) { w.Moment.X = nan }), 20},
		{"My NaN", set(func(w *grf.Wrench) { w.Moment.Y = nan }), 20},
		{"Mz NaN", set(func(w *grf.Wrench) { w.Moment.Z = nan }), 20},
		{"Fz infinite", set(func(w *grf.Wrench) { w.Force.Z = inf }), 20},
		{"Mx infinite", set(func(w *grf.Wrench) { w.Moment.X = inf }), 20},
	} {
		if p, free := Of(c.w, 0.01, c.min); !isNaN3(p) && c.name != "Mz NaN" || !math.IsNaN(free) {
			t.Errorf("Of, %s: %v, %v, want NaN", c.name, p, free)
		}
		if p, couple := WrenchAxisPoint(c.w, 0.01, c.min); !isNaN3(p) || !isNaN3(couple) {
			t.Errorf("WrenchAxisPoint, %s: %v, %v, want NaN", c.name, p, couple)
		}
		if c.name == "negative vertical force" {
			continue // OnPlane accepts either sense
		}
		if p, free := OnPlane(c.w, r3.Vec{}, r3.Vec{Z: 1}, c.min); !isNaN3(p) || !math.IsNaN(free) {
			t.Errorf("OnPlane, %s: %v, %v, want NaN", c.name, p, free)
		}
	}
	if p, _ := Of(ok, 0, 700); isNaN3(p) {
		t.Error("Of at its threshold is defined")
	}
	if p, free := OnPlane(ok, r3.Vec{}, r3.Vec{}, 20); !isNaN3(p) || !math.IsNaN(free) {
		t.Errorf("OnPlane with a zero normal: %v, %v, want NaN", p, free)
	}
	if p, free := OnPlane(ok, r3.Vec{}, r3.Vec{X: 1}, 20); !isNaN3(p) || !math.IsNaN(free) {
		t.Errorf("OnPlane with a force along the plane: %v, %v, want NaN", p, free)
	}
	if p, free := Of(ok, nan, 20); !isNaN3(p) || !math.IsNaN(free) {
		t.Errorf("Of at height NaN: %v, %v, want NaN", p, free)
	}
}

// WrenchAxisPoint against the printed components of Shimba (1984) at the plane
// through the moment's point, and against what defines it.
func TestWrenchAxisPoint(t *testing.T) {
	rnd := rand.New(rand.NewSource(4))
	for range 200 {
		w, _, _ := someWrench(rnd)
		f, m := w.Force, w.Moment
		f2 := r3.Norm2(f)
		want := r3.Vec{
			X: (f.Y*m.Z-f.Z*m.Y)/f2 - (f.X*f.X*m.Y-f.X*f.Y*m.X)/(f2*f.Z),
			Y: (f.Z*m.X-f.X*m.Z)/f2 - (f.X*f.Y*m.Y-f.Y*f.Y*m.X)/(f2*f.Z),
		}
		p, couple := WrenchAxisPoint(w, 0, 20)
		nearVec(t, "Shimba", p, want, 1e-12)
		nearVec(t, "couple", couple, w.About(p), 1e-10)
		nearVec(t, "couple along the force", r3.Cross(couple, f), r3.Vec{}, 1e-8)

		// Any height lies on the same line.
		q, _ := WrenchAxisPoint(w, 1, 20)
		nearVec(t, "line", r3.Cross(r3.Sub(q, p), f), r3.Vec{}, 1e-10)
		near(t, "height", q.Z, 1, 0)

		// Without a free moment the two points are one.
		c, free := Of(w, 0, 20)
		w.Moment.Z -= free
		p, couple = WrenchAxisPoint(w, 0, 20)
		nearVec(t, "no free moment", p, c, 1e-12)
		nearVec(t, "no couple", couple, r3.Vec{}, 1e-10)
	}
}

func TestThreshold(t *testing.T) {
	for _, c := range []struct{ sd, want float64 }{
		{0, 20}, {3.9, 20}, {5, 25}, {math.NaN(), 20}, {-7, 20},
	} {
		if got := Threshold(c.sd); got != c.want {
			t.Errorf("Threshold(%g) = %g, want %g", c.sd, got, c.want)
		}
	}
}

func TestAllocations(t *testing.T) {
	w, _, _ := someWrench(rand.New(rand.NewSource(5)))
	foot, err := NewFoot(Lead, r3.Vec{X: -0.1, Y: 0.2}, r3.Vec{X: 0.18, Y: 0.2}, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	ws := []grf.Wrench{w, w, w}
	p, free, shares, places := make([]r3.Vec, 3), make([]float64, 3), make([]float64, 3), make([]Placement, 3)
	var sink float64
	for name, f := range map[string]func(){
		"Of":              func() { p, free := Of(w, 0, 20); sink += p.X + free },
		"OnPlane":         func() { p, free := OnPlane(w, r3.Vec{Z: 1}, r3.Vec{X: 1, Z: 1}, 20); sink += p.X + free },
		"Net":             func() { p, free := Net(w, w, 0, 20); sink += p.X + free },
		"WrenchAxisPoint": func() { p, c := WrenchAxisPoint(w, 0, 20); sink += p.X + c.X },
		"Share":           func() { sink += Share(w, w) },
		"Place":           func() { sink += foot.Place(w.Force).Along },
		"Series":          func() { p, free = Series(p, free, ws, 0, 20) },
		"NetSeries":       func() { p, free, _ = NetSeries(p, free, ws, ws, 0, 20) },
		"ShareSeries":     func() { shares, _ = ShareSeries(shares, ws, ws, 20) },
		"Places":          func() { places = foot.Places(places, p) },
	} {
		if n := testing.AllocsPerRun(100, f); n != 0 {
			t.Errorf("%s allocates %g times", name, n)
		}
	}
	_ = sink
}

func TestShareOf(t *testing.T) {
	for _, c := range []struct{ lead, trail, least, want float64 }{
		{300, 100, 20, 0.75},
		{300, 100, 401, math.NaN()},
		{3, 1, 0, 0.75},
		{0, 0, 0, math.NaN()},
		{math.Inf(1), 1, 0, math.NaN()},
		{300, math.NaN(), 20, math.NaN()},
	} {
		if got := ShareOf(c.lead, c.trail, c.least); got != c.want && !(math.IsNaN(got) && math.IsNaN(c.want)) {
			t.Errorf("%+v: %g", c, got)
		}
	}
}

// However weak the force is: where it acts is a quotient.
func TestOfSubnormal(t *testing.T) {
	for _, z := range []float64{1e-290, 1e-308, 1e-310, 5e-324} {
		p, _ := Of(grf.Wrench{Force: r3.Vec{Z: z}, Moment: r3.Vec{X: z, Y: -z}}, 0, 0)
		if !(math.Abs(p.X-1) <= 1e-15 && math.Abs(p.Y-1) <= 1e-15) {
			t.Errorf("%g N: %v", z, p)
		}
	}
}
