package cop

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// A mat of 40 rows along the target line by 30 cells of 10 mm toward the ball:
// row 0 is the nearest to the target.
func testGrid(t testing.TB, change func(*GridConfig)) *Grid {
	t.Helper()
	c := GridConfig{Rows: 40, Columns: 30, First: r3.Vec{X: -0.145, Y: 0.195},
		Across: r3.Vec{X: 0.01}, Down: r3.Vec{Y: -0.01}, Unit: NewtonPerCell}
	if change != nil {
		change(&c)
	}
	g, err := NewGrid(c)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// press adds a force, spread evenly over a rectangle of cells.
func press(g *Grid, cells []float64, force float64, row, column, rows, columns int) {
	for r := row; r < row+rows; r++ {
		for c := column; c < column+columns; c++ {
			cells[r*g.cfg.Columns+c] += force / float64(rows*columns)
		}
	}
}

// An even pressure has its centre in the middle of the cells: first principles.
func TestGridEvenPressure(t *testing.T) {
	g := testGrid(t, nil)
	cells := make([]float64, g.Cells())
	press(g, cells, 300, 2, 5, 8, 20)   // Y 0.10 … 0.18, X −0.10 … 0.10
	press(g, cells, 500, 30, 10, 8, 20) // Y −0.18 … −0.10, X −0.05 … 0.15
	w := g.Wrench(cells)
	if math.Abs(w.Force.Z-800) > 1e-9 || !math.IsNaN(w.Force.X) || !math.IsNaN(w.Force.Y) || !math.IsNaN(w.Moment.Z) {
		t.Errorf("wrench %v", w)
	}
	p, free := Of(w, 0, 20)
	nearVec(t, "both feet", p, r3.Vec{X: 500 * 0.05 / 800, Y: (300 - 500) * 0.14 / 800}, 1e-12)
	if !math.IsNaN(free) {
		t.Errorf("free moment %g, want NaN", free)
	}
	d, err := DivideByLine(g, r3.Vec{}, r3.Vec{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	lead, trail := g.Feet(cells, d)
	p, _ = Of(lead, 0, 20)
	nearVec(t, "lead", p, r3.Vec{Y: 0.14}, 1e-12)
	p, _ = Of(trail, 0, 20)
	nearVec(t, "trail", p, r3.Vec{X: 0.05, Y: -0.14}, 1e-12)
	if s := Share(lead, trail); math.Abs(s-3.0/8) > 1e-12 {
		t.Errorf("share %g, want 3/8", s)
	}
	sum := lead.Add(trail)
	if math.Abs(sum.Force.Z-w.Force.Z) > 1e-9 || math.Abs(sum.Moment.X-w.Moment.X) > 1e-9 || math.Abs(sum.Moment.Y-w.Moment.Y) > 1e-9 {
		t.Errorf("feet %v together, all cells %v", sum, w)
	}
	if n := testing.AllocsPerRun(50, func() { g.Wrench(cells); g.Feet(cells, d) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

// A pressure that grows evenly along a row of n cells of size s, as a + b x, has
// its centre at b s² (n² − 1) / (12 a): the discrete second moment of area.
func TestGridLinearPressure(t *testing.T) {
	g := testGrid(t, func(c *GridConfig) { c.Unit = Pascal })
	cells := make([]float64, g.Cells())
	const a, b = 5000.0, 20000.0 // Pa, Pa/m
	for i := range cells {
		cells[i] = a + b*g.Cell(i/30, i%30).X
	}
	w := g.Wrench(cells)
	if want := a * 0.4 * 0.3; math.Abs(w.Force.Z-want) > 1e-9 {
		t.Errorf("force %g, want pressure times area, %g N", w.Force.Z, want)
	}
	p, _ := Of(w, 0, 20)
	nearVec(t, "centre", p, r3.Vec{X: b * 1e-4 * (30*30 - 1) / (12 * a)}, 1e-12)
}

// Turning, shifting and mirroring the mat does the same to the centre of pressure.
func TestGridPlace(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 1))
	base := testGrid(t, nil)
	cells := make([]float64, base.Cells())
	for i := range cells {
		cells[i] = rnd.Float64()
	}
	p0, _ := Of(base.Wrench(cells), 0, 20)
	sin, cos := math.Sincos(0.7)
	for _, c := range []struct {
		name string
		move func(r3.Vec) r3.Vec // of a direction
	}{
		{"turned", func(v r3.Vec) r3.Vec { return r3.Vec{X: cos*v.X - sin*v.Y, Y: sin*v.X + cos*v.Y} }},
		{"mirrored", func(v r3.Vec) r3.Vec { v.Y = -v.Y; return v }},
	} {
		shift := r3.Vec{X: 0.3, Y: -1, Z: 0.02}
		g := testGrid(t, func(cfg *GridConfig) {
			cfg.First = r3.Add(c.move(cfg.First), shift)
			cfg.Across, cfg.Down = c.move(cfg.Across), c.move(cfg.Down)
		})
		p, _ := Of(g.Wrench(cells), 0, 20)
		want := r3.Add(c.move(p0), shift)
		want.Z = 0 // the surface
		nearVec(t, c.name, p, want, 1e-12)
	}
	// Laboratory axes of a left-handed golfer: target −y of the laboratory.
	axes, err := grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{Y: -1}, r3.Vec{X: 2}, grf.LeftHanded)
	if err != nil {
		t.Fatal(err)
	}
	cfg := base.Config()
	lab := axes.LabPoint(base.Cell(7, 3))
	cfg.First = axes.Point(axes.LabPoint(cfg.First))
	cfg.Across, cfg.Down = axes.Vector(axes.LabVector(cfg.Across)), axes.Vector(axes.LabVector(cfg.Down))
	g, err := NewGrid(cfg)
	if err != nil {
		t.Fatal(err)
	}
	nearVec(t, "through the laboratory", g.Cell(7, 3), axes.Point(lab), 1e-12)
}

func TestGridLeast(t *testing.T) {
	g := testGrid(t, func(c *GridConfig) { c.Least = 0.5 })
	cells := make([]float64, g.Cells())
	for i := range cells {
		cells[i] = 0.49
	}
	cells[5*30+7] = 600
	w := g.Wrench(cells)
	if w.Force.Z != 600 {
		t.Errorf("force %g, want the pressed cell alone", w.Force.Z)
	}
	// Without a least reading noise of either sign averages out: −0.49 and 0.49.
	g = testGrid(t, nil)
	cells[0], cells[1] = -0.49, 0.49
	if got := g.Wrench(cells).Force.Z; math.Abs(got-(600+0.49*1197)) > 1e-9 {
		t.Errorf("force %g", got)
	}
}

func TestGridUndefined(t *testing.T) {
	g := testGrid(t, nil)
	d, err := DivideByLine(g, r3.Vec{}, r3.Vec{X: -2})
	if err != nil {
		t.Fatal(err)
	}
	for name, cells := range map[string][]float64{
		"lost": nil, "short": make([]float64, 1199), "long": make([]float64, 1201),
		"a cell NaN":      append(make([]float64, 1199), math.NaN()),
		"a cell infinite": append(make([]float64, 1199), math.Inf(1)),
	} {
		if w := g.Wrench(cells); !math.IsNaN(w.Force.Z) || !math.IsNaN(w.Moment.X) {
			t.Errorf("%s: %v, want NaN", name, w)
		}
		lead, trail := g.Feet(cells, d)
		if !math.IsNaN(lead.Force.Z) || !math.IsNaN(trail.Force.Z) {
			t.Errorf("%s: feet %v, %v, want NaN", name, lead, trail)
		}
	}
	if lead, _ := g.Feet(make([]float64, 1200), nil); !math.IsNaN(lead.Force.Z) {
		t.Errorf("without a division: %v", lead)
	}
	// Nobody there: no load, and no centre of pressure.
	if w := g.Wrench(make([]float64, 1200)); w.Force.Z != 0 {
		t.Errorf("empty mat: %v", w)
	} else if p, _ := Of(w, 0, 20); !isNaN3(p) {
		t.Errorf("empty mat: centre of pressure %v", p)
	}
	if p := g.Cell(40, 0); !isNaN3(p) {
		t.Errorf("cell outside: %v", p)
	}
	if s := d.Side(40, 0); s == Lead || s == Trail {
		t.Errorf("side of a cell outside: %v", s)
	}
	if a, b := d.Side(0, 0), d.Side(39, 0); a != Lead || b != Trail {
		t.Errorf("sides %v, %v", a, b)
	}
}

func TestNewGridErrors(t *testing.T) {
	for name, change := range map[string]func(*GridConfig){
		"no rows":          func(c *GridConfig) { c.Rows = 0 },
		"no columns":       func(c *GridConfig) { c.Columns = -1 },
		"too many cells":   func(c *GridConfig) { c.Rows, c.Columns = 1<<30, 1<<30 },
		"millimetres":      func(c *GridConfig) { c.Across, c.Down = r3.Vec{X: 10}, r3.Vec{Y: -10} },
		"no cell size":     func(c *GridConfig) { c.Down = r3.Vec{} },
		"not level":        func(c *GridConfig) { c.Down = r3.Vec{Y: -0.01, Z: 0.001} },
		"parallel":         func(c *GridConfig) { c.Down = c.Across },
		"oblique":          func(c *GridConfig) { c.Down = r3.Vec{X: 0.003, Y: 0.01} },
		"NaN":              func(c *GridConfig) { c.First.Y = math.NaN() },
		"unknown unit":     func(c *GridConfig) { c.Unit = 7 },
		"least negative":   func(c *GridConfig) { c.Least = -1 },
		"least undefined":  func(c *GridConfig) { c.Least = math.NaN() },
		"infinite spacing": func(c *GridConfig) { c.Across.X = math.Inf(1) },
	} {
		c := testGrid(t, nil).Config()
		change(&c)
		if g, err := NewGrid(c); !errors.Is(err, ErrGrid) || g != nil {
			t.Errorf("%s: %v, %v", name, g, err)
		}
	}
}

// Two feet, turned out, with heel and ball apart: the regions of either foot make
// one group, and cells that were not pressed follow the nearer foot.
func TestDivideByRegions(t *testing.T) {
	g := testGrid(t, nil)
	stance := func() []float64 {
		cells := make([]float64, g.Cells())
		press(g, cells, 150, 6, 3, 5, 6)   // lead heel, Y 0.14
		press(g, cells, 200, 3, 17, 6, 8)  // lead ball, farther out, Y 0.17
		press(g, cells, 180, 30, 3, 5, 6)  // trail heel, Y −0.12
		press(g, cells, 270, 33, 17, 6, 8) // trail ball
		press(g, cells, 0.4, 20, 29, 1, 1) // a dead cell between the feet that shows a little
		return cells
	}
	// Noise, a lost frame and one with a lost cell do not matter.
	rnd := rand.New(rand.NewPCG(5, 6))
	var frames [][]float64
	for range 5 {
		cells := stance()
		for i := range cells {
			cells[i] += 0.05 * rnd.NormFloat64()
		}
		frames = append(frames, cells)
	}
	lost := stance()
	lost[7] = math.NaN()
	frames = append(frames, nil, lost)
	d, err := DivideByRegions(g, frames, RegionOptions{})
	if err != nil {
		t.Fatal(err)
	}
	lead, trail := g.Feet(stance(), d)
	if l, tr := lead.Force.Z, trail.Force.Z; math.Abs(l-350) > 0.5 || math.Abs(tr-450) > 0.5 {
		t.Errorf("lead %g N, trail %g N, want 350 and 450", l, tr)
	}
	// A foot that rolls to its outer border stays itself.
	rolled := make([]float64, g.Cells())
	press(g, rolled, 100, 0, 10, 2, 5)
	if lead, trail := g.Feet(rolled, d); math.Abs(lead.Force.Z-100) > 1e-9 || trail.Force.Z != 0 {
		t.Errorf("rolled: lead %g N, trail %g N", lead.Force.Z, trail.Force.Z)
	}
	for _, c := range []struct {
		name  string
		cells func() []float64
		opt   RegionOptions
	}{
		{"one foot in the air", func() []float64 {
			cells := make([]float64, g.Cells())
			press(g, cells, 800, 4, 3, 6, 20)
			return cells
		}, RegionOptions{}},
		{"heel and ball of one foot", func() []float64 {
			cells := make([]float64, g.Cells())
			press(g, cells, 400, 4, 3, 6, 6)
			press(g, cells, 400, 3, 17, 6, 6)
			return cells
		}, RegionOptions{}},
		{"feet that touch", func() []float64 {
			cells := make([]float64, g.Cells())
			press(g, cells, 800, 4, 3, 30, 20)
			return cells
		}, RegionOptions{}},
		{"hardly any load on one side", func() []float64 {
			cells := make([]float64, g.Cells())
			press(g, cells, 780, 4, 3, 6, 20)
			press(g, cells, 20, 30, 3, 2, 2)
			return cells
		}, RegionOptions{}},
		{"nobody", func() []float64 { return make([]float64, g.Cells()) }, RegionOptions{}},
		{"a least reading above all", stance, RegionOptions{Least: 100}},
		{"feet too near", stance, RegionOptions{MinApart: 0.5}},
	} {
		if _, err := DivideByRegions(g, [][]float64{c.cells()}, c.opt); !errors.Is(err, ErrNotTwoFeet) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
	if _, err := DivideByRegions(g, [][]float64{nil}, RegionOptions{}); !errors.Is(err, grf.ErrNoData) {
		t.Errorf("no frames: %v", err)
	}
	if _, err := DivideByRegions(g, [][]float64{make([]float64, 3)}, RegionOptions{}); !errors.Is(err, ErrGrid) {
		t.Errorf("frame of another grid: %v", err)
	}
}

func TestDivideByLineErrors(t *testing.T) {
	g := testGrid(t, nil)
	for _, c := range []struct{ through, direction r3.Vec }{
		{r3.Vec{}, r3.Vec{}},
		{r3.Vec{}, r3.Vec{Z: 1}},
		{r3.Vec{}, r3.Vec{Y: 1}},
		{r3.Vec{Y: 0.5}, r3.Vec{X: 1}},
		{r3.Vec{Y: -0.5}, r3.Vec{X: 1}},
		{r3.Vec{Y: math.NaN()}, r3.Vec{X: 1}},
		{r3.Vec{}, r3.Vec{X: math.Inf(1)}},
	} {
		if d, err := DivideByLine(g, c.through, c.direction); !errors.Is(err, ErrGrid) || d != nil {
			t.Errorf("%v along %v: %v, %v", c.through, c.direction, d, err)
		}
	}
	// An oblique line: the corner cells are on their sides of it.
	d, err := DivideByLine(g, r3.Vec{}, r3.Vec{X: 1, Y: 1})
	if err != nil {
		t.Fatal(err)
	}
	if a, b := d.Side(15, 0), d.Side(15, 29); a != Lead || b != Trail {
		t.Errorf("oblique line: %v, %v", a, b) // Y 0.045 at X −0.145 and 0.145
	}
}

func TestGridFrames(t *testing.T) {
	g := testGrid(t, nil)
	d, err := DivideByLine(g, r3.Vec{}, r3.Vec{X: 1})
	if err != nil {
		t.Fatal(err)
	}
	frame := make([]float64, g.Cells())
	press(g, frame, 300, 2, 5, 8, 20)
	press(g, frame, 500, 30, 5, 8, 20)
	rec, err := GridFrames(g, [][]float64{frame, nil, frame}, 2, 100, d)
	if err != nil {
		t.Fatal(err)
	}
	if rec.Start != 2 || rec.Rate != 100 || rec.Len() != 3 || !rec.VerticalOnly() || !rec.Split() {
		t.Errorf("recording %+v", rec)
	}
	if !math.IsNaN(rec.Lead[1].Force.Z) || math.Abs(rec.Lead[2].Force.Z-300) > 1e-9 || math.Abs(rec.Trail[2].Force.Z-500) > 1e-9 {
		t.Errorf("lead %v, trail %v", rec.Lead, rec.Trail)
	}
	net, err := GridFrames(g, [][]float64{frame}, 0, 100, nil)
	if err != nil {
		t.Fatal(err)
	}
	if net.Split() || !net.VerticalOnly() || math.Abs(net.Net[0].Force.Z-800) > 1e-9 {
		t.Errorf("recording %+v", net)
	}
	small, err := NewGrid(GridConfig{Rows: 2, Columns: 2, Across: r3.Vec{X: 0.01}, Down: r3.Vec{Y: -0.01}})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name   string
		g      *Grid
		frames [][]float64
		rate   float64
		d      *Division
		want   error
	}{
		{"no frames", g, nil, 100, d, grf.ErrNoData},
		{"no frames, net", g, nil, 100, nil, grf.ErrNoData},
		{"no rate", g, [][]float64{frame}, 0, d, grf.ErrRate},
		{"short frame", g, [][]float64{frame, frame[1:]}, 100, d, ErrGrid},
		{"another division", small, [][]float64{make([]float64, 4)}, 100, d, ErrGrid},
	} {
		if _, err := GridFrames(c.g, c.frames, 0, c.rate, c.d); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
}
