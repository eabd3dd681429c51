package capture

import (
	"math"
	"slices"
	"sort"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/units"
)

// markNames are the events that a mark can give the time of, in their usual
// order.
var markNames = []string{
	"address", "onset", "shaft_parallel_back", "lead_arm_parallel_back", "trail_load_peak",
	"lateral_turn", "top", "lowest_vertical", "lead_arm_parallel_down", "even_load",
	"lateral_peak", "frontal_torque_peak", "shaft_parallel_down", "lead_vertical_peak",
	"vertical_torque_peak", "impact", "shaft_parallel_through", "trail_arm_parallel_through",
	"finish",
}

// MarkNames returns the names that marks can have. Ten of them may also be given by
// the number of the position, "P1" to "P10": address, shaft parallel back, lead arm
// parallel back, top, lead arm parallel down, shaft parallel down, impact, shaft
// parallel through, trail arm parallel through, finish.
func MarkNames() []string { return slices.Clone(markNames) }

// Check returns a [*SetupError] for the first field that makes no sense,
// whatever the capture. [ReadSetup] and [Read] call it.
func (s *Setup) Check() error {
	c := checker{}
	if s.Version != Version {
		c.bad("version", "version %d is not known; this is version %d", s.Version, Version)
	}
	c.choice("golfer.handed", s.Golfer.Handed, "right", "left")
	c.within("golfer.mass", float64(s.Golfer.Mass), 2, 400, s.Golfer.Mass.String(), "kg")
	c.within("golfer.stature", float64(s.Golfer.Stature), 0.4, 2.8, s.Golfer.Stature.String(), "m")
	c.direction("lab.up", s.Lab.Up)
	c.direction("lab.target", s.Lab.Target)
	if s.Lab.Up.stated() && s.Lab.Target.stated() && c.err == nil {
		if _, err := grf.NewAxes(r3.Vec(s.Lab.Up), r3.Vec(s.Lab.Target), r3.Vec{}, grf.RightHanded); err != nil {
			c.bad("lab.target", "%v; write the level direction toward the target, as in \"+y\"", err)
		}
	}
	c.position("lab.origin", s.Lab.Origin)
	c.roles(s.Plates)
	c.choice("sense", s.Sense, "auto", "reaction", "action")
	c.zero(s.Zero)
	c.processing(s)
	given := map[string]string{}
	for _, name := range sortedKeys(s.Marks) {
		path, mark := join("marks", name), markOf(name)
		if !slices.Contains(markNames, mark) {
			c.bad(clipPath(path), "no such event; %s", near(name, markNames))
		}
		if before, ok := given[mark]; ok {
			c.bad(clipPath(path), "the same event as marks.%s: give it once", before)
		}
		given[mark] = name
		c.finite(path, float64(s.Marks[name]))
	}
	for _, label := range sortedKeys(s.Events) {
		if mark := s.Events[label]; !slices.Contains(markNames, markOf(mark)) {
			c.bad(clipPath(join("events", label)), "no event %s; %s", describe(mark), near(mark, markNames))
		}
	}
	c.points(s.Points)
	c.com(s)
	c.feet(s.Feet)
	c.within("c3d.frame_rate", float64(s.C3D.FrameRate), 1e-3, 1e7, s.C3D.FrameRate.String(), "Hz")
	c.choice("c3d.samples", s.C3D.Samples, "auto", "signed", "unsigned")
	c.choice("c3d.event_clock", s.C3D.EventClock, "auto", "capture", "first_frame")
	c.unit("c3d.length_unit", s.C3D.LengthUnit, units.QuantityLength)
	c.table(s.Table)
	if c.err != nil {
		return c.err
	}
	return nil
}

// checker keeps the first error.
type checker struct{ err *SetupError }

func (c *checker) bad(path, format string, a ...any) {
	if c.err == nil {
		c.err = setupErrorf(path, format, a...)
	}
}

func (c *checker) choice(path, v string, known ...string) {
	if v != "" && !slices.Contains(known, v) {
		c.bad(path, "%s is no choice; %s", describe(v), near(v, known))
	}
}

func (c *checker) finite(path string, v float64) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		c.bad(path, "%g is not finite", v)
	}
}

// within checks a value that is 0 when not stated.
func (c *checker) within(path string, v, low, high float64, shown, unit string) {
	if v != 0 && !(v >= low && v <= high) {
		c.bad(path, "%s; want %g to %g %s", shown, low, high, unit)
	}
}

func (c *checker) direction(path string, d Direction) {
	if d.stated() && !(r3.Norm(r3.Vec(d)) > 0 && r3.Norm(r3.Vec(d)) <= math.MaxFloat64) {
		c.bad(path, "%v is no direction", r3.Vec(d))
	}
}

// position checks that a point is in a place where a laboratory may be.
func (c *checker) position(path string, p *Position) {
	if p == nil {
		return
	}
	for i, v := range p {
		if !(math.Abs(float64(v)) <= 1e4) {
			c.bad(index(path, i), "%v; want at most 10 km", v)
		}
	}
}

func (c *checker) unit(path, symbol string, q units.Quantity) {
	if symbol == "" {
		return
	}
	if u, ok := units.LookUp(symbol); !ok || u.Quantity != q {
		var known []string
		for _, u := range q.Units() {
			known = append(known, u.Symbol)
		}
		c.bad(path, "%s is no unit of %v; known are %s", describe(symbol), q, strings.Join(known, ", "))
	}
}

// maxPlates is how many plates a setup may name.
const maxPlates = 255

func (c *checker) roles(r Roles) {
	seen := map[int]string{}
	for _, role := range [3]struct {
		name   string
		plates []int
	}{{"lead", r.Lead}, {"trail", r.Trail}, {"both", r.Both}} {
		for i, n := range role.plates {
			path := index("plates."+role.name, i)
			if n < 1 || n > maxPlates {
				c.bad(path, "plate %d; plates are counted from 1", n)
			}
			if other, ok := seen[n]; ok {
				c.bad(path, "plate %d is in plates.%s already; a plate that carries both feet goes into plates.both", n, other)
			}
			seen[n] = role.name
		}
	}
	switch {
	case len(r.Both) > 0 && len(r.Lead)+len(r.Trail) > 0:
		c.bad("plates.both", "give either both, or lead and trail")
	case len(r.Lead) > 0 && len(r.Trail) == 0:
		c.bad("plates.trail", "missing; lead is given. A plate that carries both feet goes into plates.both")
	case len(r.Trail) > 0 && len(r.Lead) == 0:
		c.bad("plates.lead", "missing; trail is given. A plate that carries both feet goes into plates.both")
	}
	changed := map[int]bool{}
	for i, p := range r.Change {
		path := index("plates.change", i)
		if p.Plate < 1 || p.Plate > maxPlates {
			c.bad(join(path, "plate"), "plate %d; plates are counted from 1", p.Plate)
		}
		if changed[p.Plate] {
			c.bad(join(path, "plate"), "plate %d is changed twice", p.Plate)
		}
		changed[p.Plate] = true
		c.geometry(path, p.Geometry)
		c.choice(join(path, "origin_sign"), p.OriginSign, "auto", "as_stated", "reversed")
		c.unit(join(path, "moment_unit"), p.MomentUnit, units.QuantityMoment)
	}
}

func (c *checker) geometry(path string, g Geometry) {
	if g.Type != 0 && grf.PlateType(g.Type).Channels() == 0 {
		c.bad(join(path, "type"), "plate type %d; 1 to 7 are known", g.Type)
	}
	if g.Corners != nil {
		for i := range g.Corners {
			c.position(index(join(path, "corners"), i), &g.Corners[i])
		}
	}
	c.position(join(path, "origin"), g.Origin)
	if h := float64(g.TopCover); !(h >= 0 && h <= 0.5) {
		c.bad(join(path, "top_cover"), "%v; want 0 to 0.5 m", g.TopCover)
	}
	for i, row := range g.Calibration {
		for j, v := range row {
			c.finite(index(index(join(path, "calibration"), i), j), v)
		}
	}
	for i, v := range g.ChannelScale {
		if v == 0 {
			c.bad(index(join(path, "channel_scale"), i), "a scale of 0")
		}
		c.finite(index(join(path, "channel_scale"), i), v)
	}
	if n := len(g.PointCorrection); n != 0 && n != 12 {
		c.bad(join(path, "point_correction"), "%d coefficients; want 12", n)
	}
	for i, v := range g.PointCorrection {
		c.finite(index(join(path, "point_correction"), i), v)
	}
	c.choice(join(path, "sense"), g.Sense, "auto", "reaction", "action")
}

func (c *checker) zero(z Zero) {
	c.choice("zero.method", z.Method, "none", "window", "file")
	window := z.From != 0 || z.To != 0
	if z.method() == "window" {
		c.window("zero", Window{z.From, z.To})
	} else if window {
		c.bad("zero", "a window is given, but the method is %q", z.Method)
	}
	c.within("zero.max_load", float64(z.MaxLoad), 1, 5000, z.MaxLoad.String(), "N")
}

// window checks a window that must be there.
func (c *checker) window(path string, w Window) {
	c.finite(join(path, "from"), float64(w.From))
	c.finite(join(path, "to"), float64(w.To))
	if !(w.To > w.From) {
		c.bad(join(path, "to"), "%v is not after %v", w.To, w.From)
	}
}

func (z Zero) method() string {
	switch {
	case z.Method != "":
		return z.Method
	case z.From != 0 || z.To != 0:
		return "window"
	}
	return "none"
}

func (c *checker) processing(s *Setup) {
	f := s.Filter
	c.choice("filter.method", f.Method, "lowpass", "none")
	if f.Method == "none" && (f.Cutoff != 0 || f.Order != 0) {
		c.bad("filter", "a cut-off or order is given, but the method is none")
	}
	c.within("filter.cutoff", float64(f.Cutoff), 0.1, 1e6, f.Cutoff.String(), "Hz")
	if f.Order < 0 || f.Order > 20 || f.Order%2 != 0 {
		c.bad("filter.order", "order %d; want an even number from 2 to 20, the order of one of two passes", f.Order)
	}
	c.within("load_threshold", float64(s.LoadThreshold), 0.1, 1000, s.LoadThreshold.String(), "N")
	c.within("arm_threshold", float64(s.ArmThreshold), 0.1, 1000, s.ArmThreshold.String(), "N")
	c.within("gravity", float64(s.Gravity), 9.7, 9.9, s.Gravity.String(), "m/s², as on the Earth")
	if v := float64(s.SwingPlane) * 180 / math.Pi; v != 0 && !(v >= 5 && v <= 85) {
		c.bad("swing_plane", "%v; want 5° to 85° between the swing plane and the ground, as in \"50 deg\"", s.SwingPlane)
	}
	if s.QuietStance != (Window{}) {
		c.window("quiet_stance", s.QuietStance)
	}
}

func (c *checker) feet(f Feet) {
	c.choice("feet.axes", f.Axes, "lab", "swing")
	c.finite("feet.at", float64(f.At))
	for _, foot := range [2]struct {
		path string
		o    *Outline
	}{{"feet.lead", f.Lead}, {"feet.trail", f.Trail}} {
		if foot.o == nil {
			continue
		}
		if w := float64(foot.o.Width); !(w >= 0.02 && w <= 0.3) {
			c.bad(join(foot.path, "width"), "%v; want 0.02 to 0.3 m", foot.o.Width)
		}
		for _, end := range [2]struct {
			name string
			p    *Place
		}{{"heel", &foot.o.Heel}, {"toe", &foot.o.Toe}} {
			if end.p.Label == "" {
				c.position(join(foot.path, end.name), &end.p.At)
			}
		}
		if foot.o.Heel == foot.o.Toe {
			c.bad(foot.path, "heel and toe are the same place")
		}
	}
}

func (c *checker) sheet(path string, s Sheet) {
	c.choice(join(path, "separator"), s.Separator, "comma", "semicolon", "tab")
	c.choice(join(path, "decimal"), s.Decimal, "point", "comma")
	if s.Separator == "comma" && s.Decimal == "comma" {
		c.bad(join(path, "decimal"), "the comma is the separator already")
	}
	c.within(join(path, "rate"), float64(s.Rate), 1e-3, 1e7, s.Rate.String(), "Hz")
}

func (c *checker) table(t Table) {
	c.sheet("table", t.Sheet)
	c.choice("table.axes", t.Axes, "lab", "swing", "plate")
	if len(t.Plates) > maxPlates {
		c.bad("table.plates", "%d plates, at most %d are allowed", len(t.Plates), maxPlates)
	}
	for i, p := range t.Plates {
		path := index("table.plates", i)
		c.choice(join(path, "axes"), p.Axes, "lab", "swing", "plate")
		c.position(join(path, "about"), p.About)
		c.geometry(path, p.Geometry)
		count := func(name string, got []string, want ...int) {
			if got != nil && !slices.Contains(want, len(got)) {
				c.bad(join(path, name), "%d columns; want %d", len(got), want[0])
			}
		}
		count("force", p.Force, 3)
		count("moment", p.Moment, 3)
		count("cop", p.COP, 3, 2)
		switch {
		case p.Channels != nil && (p.Force != nil || p.Moment != nil || p.COP != nil || p.Free != ""):
			c.bad(join(path, "channels"), "give either channels or force, moment, cop and free")
		case p.Channels != nil && p.Type == 0:
			c.bad(join(path, "type"), "missing; channels need the type of the plate")
		case p.Channels == nil && p.Force == nil:
			c.bad(join(path, "force"), "missing; give the columns of the three components of force")
		case p.Channels == nil && p.Moment == nil && p.COP == nil:
			c.bad(join(path, "moment"), "missing; a force alone does not say where it acts: give the columns of moment, or of cop and free")
		case p.Moment != nil && (p.COP != nil || p.Free != ""):
			c.bad(join(path, "cop"), "give either moment, or cop and free")
		case p.COP != nil && p.Free == "" && !slices.Contains(p.Force, unmeasured):
			c.bad(join(path, "free"), `missing; name the column of the free moment, or write "0 N·m" to take it as zero`)
		case p.COP != nil && p.About != nil:
			c.bad(join(path, "about"), "goes with moment only")
		case p.Channels == nil && p.Type != 0:
			c.bad(join(path, "type"), "goes with channels only")
		}
		c.vertical(path, p)
	}
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}
