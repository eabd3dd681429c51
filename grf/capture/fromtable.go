package capture

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/table"
	"example.com/momentarm/units"
)

// options makes table options of a sheet.
func (s Sheet) options() table.Options {
	o := table.Options{Time: s.Time, Rate: float64(s.Rate), Units: s.Units, Ignore: s.Ignore}
	o.Separator = map[string]rune{"comma": ',', "semicolon": ';', "tab": '\t'}[s.Separator]
	o.Decimal = map[string]rune{"point": '.', "comma": ','}[s.Decimal]
	return o
}

func (r *reader) readTable(data []byte) error {
	t, err := table.Decode(data, r.setup.Table.options())
	if err != nil {
		return err
	}
	if len(r.setup.Plates.Change) > 0 {
		return setupErrorf("plates.change", "corrects C3D files; for a table write the plates into table.plates")
	}
	if r.setup.C3D != (C3D{}) {
		return setupErrorf("c3d", "the capture is a table, not a C3D file")
	}
	r.result.Warnings = append(r.result.Warnings, t.Warnings...)
	r.start, r.rate = t.Start, t.Rate
	r.result.from = "a table"
	r.step("table: %d rows at %g Hz from %g s, columns %s", t.Rows, t.Rate, t.Start, strings.Join(t.Names(), ", "))
	plates := r.setup.Table.Plates
	path := func(i int) string { return index("table.plates", i) }
	feet := make([]string, len(plates))
	if plates == nil {
		var skipped []string
		var incomplete []*group
		plates, feet, skipped, incomplete = byColumnNames(t)
		if len(plates) == 0 {
			return noColumns(t)
		}
		for _, g := range incomplete {
			// Of two feet or plates one must not get lost in silence.
			if g.foot() != "" && g.foot() != "net" || g.numbered() {
				return g.missing()
			}
			r.warn("columns-unused", "", "the force %s was not used, because nothing says where it acts; name its columns in table.ignore if that is meant", strings.Join(nonEmpty(g.force), ", "))
		}
		for _, name := range skipped {
			r.step("columns %s were not used: they are a sum", name)
		}
		path = func(i int) string { return "table.plates (by the names of the columns)" }
	}
	axes, err := r.tableAxes(plates, feet)
	if err != nil {
		return err
	}
	for i, p := range plates {
		if p.Axes == "" {
			p.Axes = axes
		}
		src := &source{number: i + 1, name: fmt.Sprintf("plate %d", i+1), foot: r.footOf(feet[i]), sense: p.Sense}
		b := tableBuilder{t: t, r: r, path: path(i), src: src}
		if err := b.build(p); err != nil {
			return err
		}
		r.sources = append(r.sources, src)
		r.step("plate %d: %s", i+1, b.says)
		src.says = b.says
	}
	return nil
}

// tableAxes returns the axes of plates that do not say theirs, and notes when
// the whole table is in swing axes.
func (r *reader) tableAxes(plates []TablePlate, feet []string) (string, error) {
	axes := r.setup.Table.Axes
	lab := r.setup.Lab
	if axes == "" {
		named := true
		for i := range plates {
			named = named && (feet[i] == "lead" || feet[i] == "trail")
		}
		if named && !lab.Up.stated() && !lab.Target.stated() && lab.Origin == nil && r.setup.Table.Plates == nil {
			axes = "swing"
			r.step("columns are in swing axes, as they are named by lead and trail and no laboratory is stated")
			r.warn("axes-automatic", "", "the columns were taken to be in swing axes (x to the ball, y to the target, z up); state table.axes to be sure")
		} else {
			axes = "lab"
		}
	}
	swing := 0
	for _, p := range plates {
		if p.Axes == "swing" || p.Axes == "" && axes == "swing" {
			swing++
		}
	}
	if swing > 0 && swing < len(plates) {
		return "", setupErrorf("table.plates", "some plates are in swing axes and some are not")
	}
	r.swing = swing > 0
	return axes, nil
}

// footOf says which foot the name of a column means.
func (r *reader) footOf(name string) string {
	left := handed(r.setup.Golfer) == grf.LeftHanded
	switch name {
	case "left", "right":
		if (name == "left") != left {
			return "lead"
		}
		return "trail"
	}
	return name
}

// tableBuilder makes a source of columns.
type tableBuilder struct {
	t    *table.Table
	r    *reader
	path string
	src  *source
	says string // what was taken, for Steps
}

func (b *tableBuilder) build(p TablePlate) (err error) {
	if p.Axes == "plate" && p.Corners == nil {
		return setupErrorf(join(b.path, "corners"), "missing; columns in plate axes need the corners of the plate in the laboratory")
	}
	if p.Axes != "plate" && (p.Corners != nil || p.Channels != nil || p.Origin != nil || p.TopCover != 0) {
		return setupErrorf(join(b.path, "axes"), `%q, but corners, channels, origin and top_cover go with "plate"`, p.Axes)
	}
	if err := b.flatten(p); err != nil {
		return err
	}
	cfg := grf.PlateConfig{TopCover: float64(p.TopCover), Calibration: p.Calibration, ChannelScale: p.ChannelScale}
	if p.Origin != nil {
		cfg.Origin = p.Origin.vec()
	}
	if p.Corners != nil {
		for i, c := range p.Corners {
			cfg.Corners[i] = c.vec()
		}
	}
	if len(p.PointCorrection) == 12 {
		cfg.PointCorrection = (*[12]float64)(p.PointCorrection)
	}
	switch {
	case p.Channels != nil:
		err = b.channels(p, &cfg)
	case p.Moment != nil:
		err = b.moments(p, &cfg)
	default:
		err = b.points(p, &cfg)
	}
	if err != nil {
		return err
	}
	b.src.flat = p.Axes == "plate"
	if b.src.flat {
		raiseCorners(&cfg)
	}
	if b.src.plate, err = grf.NewPlate(cfg); err != nil {
		return setupWrap(b.path, err)
	}
	w := warner{where: b.src.name}
	if b.src.flat {
		for _, pw := range b.src.plate.Warnings() {
			w.add(pw.Code, "%s", pw.Text)
		}
	}
	if b.src.wrenches, err = b.src.plate.Wrenches(nil, b.src.channels); err != nil {
		return err
	}
	if b.src.flat {
		x, y := b.src.plate.Size()
		lookAtMoments(b.src.wrenches, b.src.plate.Frame(), math.Hypot(x, y)/2, &w)
	}
	b.r.result.Warnings = append(b.r.result.Warnings, w.list...)
	return nil
}

// channels takes raw channels of a plate type.
func (b *tableBuilder) channels(p TablePlate, cfg *grf.PlateConfig) error {
	cfg.Type = grf.PlateType(p.Type)
	n := cfg.Type.Channels()
	if len(p.Channels) != n {
		return setupErrorf(join(b.path, "channels"), "%d columns, a plate of type %d has %d channels", len(p.Channels), p.Type, n)
	}
	kinds := outputs(cfg.Type)
	for i, name := range p.Channels {
		path := index(join(b.path, "channels"), i)
		c, err := b.column(path, string(name))
		if err != nil {
			return err
		}
		// Volts are fine where a calibration or a scale makes forces of them.
		if p.Calibration == nil && p.ChannelScale == nil && c.Unit.Quantity != kinds[i].quantity() {
			return setupErrorf(path, "column %s is in %s; want a %v, or a calibration or channel_scale that makes one", c.Name, c.Unit.Symbol, kinds[i])
		}
		b.src.channels = append(b.src.channels, c.Values)
	}
	b.says = fmt.Sprintf("raw channels of a plate of type %d", p.Type)
	return nil
}

func (k kind) quantity() units.Quantity {
	return [...]units.Quantity{force: units.QuantityForce, moment: units.QuantityMoment, length: units.QuantityLength}[k]
}

// moments takes forces and their moments about a stated point.
func (b *tableBuilder) moments(p TablePlate, cfg *grf.PlateConfig) error {
	f, err := b.three(p.Force, "force", force)
	if err != nil {
		return err
	}
	m, err := b.three(p.Moment, "moment", moment)
	if err != nil {
		return err
	}
	cfg.Type = grf.TypeMoment
	b.src.channels = append(f, m...)
	about := "the centre of its surface"
	switch {
	case p.Axes == "plate" && p.About != nil:
		return setupErrorf(join(b.path, "about"), "moments in plate axes are about the measuring origin; state origin")
	case p.Axes != "plate":
		var at r3.Vec
		if p.About != nil {
			at = p.About.vec()
		}
		cfg.Corners = square(at, r3.Vec{X: 1}, r3.Vec{Y: 1})
		about = metres(at)
	case p.Origin != nil:
		about = "its measuring origin"
	}
	b.says = fmt.Sprintf("force and moment about %s, in %s axes", about, p.Axes)
	return nil
}

// square returns corners of a made-up plate with these axes and centre.
func square(centre, x, y r3.Vec) [4]r3.Vec {
	at := func(a, b float64) r3.Vec {
		return r3.Add(centre, r3.Add(r3.Scale(a, x), r3.Scale(b, y)))
	}
	return [4]r3.Vec{at(.5, .5), at(-.5, .5), at(-.5, -.5), at(.5, -.5)}
}

// three reads the columns of a vector.
func (b *tableBuilder) three(specs []string, field string, k kind) ([][]float64, error) {
	var out [][]float64
	for i, spec := range specs {
		v, err := b.values(index(join(b.path, field), i), spec, k)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, nil
}

// values reads a column, with a minus sign before its name turned round, or a
// constant with its unit.
func (b *tableBuilder) values(path, spec string, k kind) ([]float64, error) {
	if spec == unmeasured {
		return b.repeat(0), nil // see there
	}
	c, err := b.column(path, spec)
	sign := 1.0
	if err != nil {
		if name, ok := strings.CutPrefix(spec, "-"); ok {
			if d, err := b.column(path, strings.TrimSpace(name)); err == nil {
				c, sign = d, -1
			} else if v, ok := constant(spec, k); ok {
				return b.repeat(v), nil
			} else {
				return nil, err
			}
		} else if v, ok := constant(spec, k); ok {
			return b.repeat(v), nil
		} else {
			return nil, err
		}
	}
	if c.Unit.Quantity != k.quantity() {
		return nil, setupErrorf(path, "column %s is in %s; want a %v", c.Name, c.Unit.Symbol, k)
	}
	if sign < 0 {
		return scaled(c.Values, -1), nil
	}
	return c.Values, nil
}

func (b *tableBuilder) repeat(v float64) []float64 {
	out := make([]float64, b.t.Rows)
	for i := range out {
		out[i] = v
	}
	return out
}

// constant reads a quantity of a kind.
func constant(spec string, k kind) (float64, bool) {
	switch k {
	case force:
		v, err := units.ParseForce(spec)
		return float64(v), err == nil
	case moment:
		v, err := units.ParseMoment(spec)
		return float64(v), err == nil
	}
	v, err := units.ParseLength(spec)
	return float64(v), err == nil
}

func (b *tableBuilder) column(path, name string) (table.Column, error) {
	c, ok := b.t.Column(strings.TrimSpace(name))
	if !ok {
		return c, setupErrorf(path, "no column %s; %s", describe(name), near(name, b.t.Names()))
	}
	return c, nil
}
