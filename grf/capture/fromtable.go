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
	r.step("table: %d rows at %g Hz from %g s, columns %s", t.Rows, t.Rate, t.Start, strings.Join(t.Names(), ", "))
	plates := r.setup.Table.Plates
	path := func(i int) string { return index("table.plates", i) }
	feet := make([]string, len(plates))
	if plates == nil {
		var skipped []string
		plates, feet, skipped = byColumnNames(t)
		if len(plates) == 0 {
			return noColumns(t)
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

// points takes forces, where they act, and free moments.
func (b *tableBuilder) points(p TablePlate, cfg *grf.PlateConfig) error {
	f, err := b.three(p.Force, "force", force)
	if err != nil {
		return err
	}
	free, err := b.values(join(b.path, "free"), p.Free, moment)
	if err != nil {
		return err
	}
	var at [][]float64
	for i, spec := range p.COP {
		v, err := b.values(index(join(b.path, "cop"), i), spec, length)
		if err != nil {
			return err
		}
		at = append(at, v)
	}
	cfg.Type = grf.TypePoint
	if p.Axes == "plate" {
		if len(at) == 3 {
			for i, z := range at[2] {
				if math.Abs(z) > 1e-6 {
					return setupErrorf(index(join(b.path, "cop"), 2), "%g m in row %d; in plate axes the centre of pressure lies on the surface, z = 0", z, i+1)
				}
			}
		}
		b.src.channels = [][]float64{f[0], f[1], f[2], at[0], at[1], free}
		b.says = "force, centre of pressure and free moment, in plate axes"
		return b.fillPoints(f)
	}
	if len(at) != 3 {
		return setupErrorf(join(b.path, "cop"), `2 columns; in %s axes give x, y and z, such as "0 m" for a coordinate that has no column`, p.Axes)
	}
	// Axes with z up are laid so that the free moment is about z.
	z := r3.Vec{Z: 1}
	if p.Axes == "lab" {
		if !b.r.setup.Lab.Up.stated() {
			return upMissing()
		}
		z = r3.Unit(r3.Vec(b.r.setup.Lab.Up))
	}
	x := r3.Vec{X: 1}
	if math.Abs(z.X) > 0.7 {
		x = r3.Vec{Y: 1}
	}
	x = r3.Unit(r3.Sub(x, r3.Scale(r3.Dot(x, z), z)))
	y := r3.Cross(z, x)
	n := b.t.Rows
	ch := make([][]float64, 6)
	for i := range ch {
		ch[i] = make([]float64, n)
	}
	height := math.NaN()
	for i := range n {
		fv := r3.Vec{X: f[0][i], Y: f[1][i], Z: f[2][i]}
		pv := r3.Vec{X: at[0][i], Y: at[1][i], Z: at[2][i]}
		ch[0][i], ch[1][i], ch[2][i] = r3.Dot(x, fv), r3.Dot(y, fv), r3.Dot(z, fv)
		ch[3][i], ch[4][i], ch[5][i] = r3.Dot(x, pv), r3.Dot(y, pv), free[i]
		if h := r3.Dot(z, pv); !math.IsNaN(h) {
			if math.IsNaN(height) {
				height = h
			}
			if math.Abs(h-height) > 0.002 && math.Abs(ch[2][i]) >= b.r.threshold {
				return setupErrorf(join(b.path, "cop"), "the height of the centre of pressure changes from %.4f to %.4f m in row %d; one plane is needed", height, h, i+1)
			}
		}
	}
	if math.IsNaN(height) {
		return setupErrorf(join(b.path, "cop"), "the columns hold no position at all")
	}
	cfg.Corners = square(r3.Scale(height, z), x, y)
	b.src.channels = ch
	b.says = fmt.Sprintf("force, centre of pressure and free moment, in %s axes", p.Axes)
	return b.fillPoints(f)
}

// fillPoints settles rows without a centre of pressure. Without force there is
// nothing to place. A force below the threshold is put where the foot last stood,
// or first will; its moment is then wrong by no more than the threshold times
// that distance. A larger force without a place stays undefined.
func (b *tableBuilder) fillPoints(f [][]float64) error {
	ch := b.src.channels
	first := -1
	for i := range ch[3] {
		if !math.IsNaN(ch[3][i] + ch[4][i]) {
			first = i
			break
		}
	}
	if first < 0 {
		return setupErrorf(join(b.path, "cop"), "the columns hold no position at all")
	}
	// Columns of the table are not written to.
	px, py, free := append([]float64(nil), ch[3]...), append([]float64(nil), ch[4]...), append([]float64(nil), ch[5]...)
	last := first
	moved, lost := 0, 0
	largest := 0.0
	for i := range px {
		if !math.IsNaN(px[i] + py[i]) {
			last = i
			continue
		}
		size := math.Sqrt(f[0][i]*f[0][i] + f[1][i]*f[1][i] + f[2][i]*f[2][i])
		if !(size < b.r.threshold) {
			if !math.IsNaN(size) {
				lost++
			}
			continue
		}
		px[i], py[i] = px[last], py[last]
		if math.IsNaN(free[i]) {
			free[i] = 0 // a foot in the air
		}
		if size > 0 {
			moved++
			largest = math.Max(largest, size)
		}
	}
	ch[3], ch[4], ch[5] = px, py, free
	if moved > 0 {
		b.r.warn("cop-filled", b.src.name, "%d rows have a force of up to %.1f N but no centre of pressure; it was put where the foot last stood", moved, largest)
	}
	if lost > 0 {
		b.r.warn("cop-missing", b.src.name, "%d rows have %g N or more but no centre of pressure; they are undefined", lost, b.r.threshold)
	}
	return nil
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
