package capture

import (
	"math"
	"sort"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/table"
	"example.com/momentarm/units"
)

// marks sets the marks: those of the file first, those of the setup over them.
func (r *reader) marks(rec *grf.Recording) error {
	rec.Marks = map[string]float64{}
	if err := r.fileMarks(rec); err != nil {
		return err
	}
	for _, name := range sortedKeys(r.setup.Marks) {
		t := float64(r.setup.Marks[name])
		if t < rec.Start || t > rec.End() {
			return setupErrorf(join("marks", name), "%v is outside the recording, %.3f to %.3f s", r.setup.Marks[name], rec.Start, rec.End())
		}
		rec.Marks[name] = t
		r.step("mark %s at %.4f s, as stated", name, t)
	}
	if len(rec.Marks) == 0 {
		rec.Marks = nil
	}
	return nil
}

// fileMarks makes marks of the events of a C3D file: by the table of the setup
// or, without one, of events that are called like a mark.
func (r *reader) fileMarks(rec *grf.Recording) error {
	if r.file == nil {
		if len(r.setup.Events) > 0 {
			return setupErrorf("events", "are for the events of a C3D file; give the instants in marks")
		}
		return nil
	}
	markOf := func(label, context string) (mark, key string) {
		label, context = strings.TrimSpace(label), strings.TrimSpace(context)
		for _, key := range sortedKeys(r.setup.Events) {
			if strings.EqualFold(key, label) || strings.EqualFold(key, context+" "+label) {
				return r.setup.Events[key], key
			}
		}
		if r.setup.Events == nil {
			folded := strings.ToLower(strings.NewReplacer(" ", "_", "-", "_").Replace(label))
			for _, name := range markNames {
				if folded == name {
					return name, ""
				}
			}
		}
		return "", ""
	}
	used := map[string]bool{}
	var labels []string
	for _, e := range r.file.c3d.EventsByTime() {
		labels = append(labels, e.Label)
		mark, key := markOf(e.Label, e.Context)
		if mark == "" || e.Off {
			continue
		}
		used[key] = true
		if _, given := r.setup.Marks[mark]; given {
			r.step("event %s of the file was passed over: the setup gives %s", describe(e.Label), mark)
			continue
		}
		if math.IsNaN(e.Time) || e.OutOfRange || e.Time < rec.Start || e.Time > rec.End() {
			r.warn("event-outside", describe(e.Label), "the event lies at %.3f s, outside the recording; %s is not marked", e.Time, mark)
			continue
		}
		if before, ok := rec.Marks[mark]; ok {
			if math.Abs(before-e.Time) < 1e-6 {
				continue // the header and the EVENT group often say the same
			}
			return setupErrorf("marks", "the file has %s at %.3f and at %.3f s; give the right one, as in %q: \"%.3f s\"", mark, before, e.Time, mark, before)
		}
		rec.Marks[mark] = e.Time
		r.step("mark %s at %.4f s, from the event %s of the file", mark, e.Time, describe(e.Label))
	}
	for _, key := range sortedKeys(r.setup.Events) {
		if !used[key] {
			sort.Strings(labels)
			return setupErrorf(clipPath(join("events", key)), "the file has no such event; %s", near(key, labels))
		}
	}
	return nil
}

// com reads the table of another source of the centre of mass.
func (r *reader) com(axes grf.Axes) error {
	c := r.setup.COM
	if c.File == "" {
		return nil
	}
	if c.Axes == "lab" && r.swing {
		return setupErrorf("com.axes", `"lab", but the capture is in swing axes and no laboratory is known`)
	}
	if r.open == nil {
		return setupWrap("com.file", errNoFile)
	}
	data, err := r.open(c.File)
	if err != nil {
		return setupWrap("com.file", err)
	}
	opt := c.options()
	opt.Clock = table.Ascending
	t, err := table.Decode(data, opt)
	if err != nil {
		return &SetupError{Path: "com.file", Text: c.File + ": " + err.Error(), Err: err}
	}
	for _, w := range t.Warnings {
		w.Where = strings.TrimSpace(c.File + " " + w.Where)
		r.result.Warnings = append(r.result.Warnings, w)
	}
	names := c.Columns
	if names == nil {
		if names, err = comColumns(t); err != nil {
			return err
		}
	}
	var xyz [3][]float64
	for i, name := range names {
		path := index("com.columns", i)
		col, ok := t.Column(name)
		if !ok {
			return setupErrorf(path, "no column %s in %s; %s", describe(name), c.File, near(name, t.Names()))
		}
		if col.Unit.Quantity != units.QuantityLength {
			return setupErrorf(path, "column %s of %s is in %s; want a length", name, c.File, col.Unit.Symbol)
		}
		xyz[i] = col.Values
	}
	sd := float64(c.SD)
	track := &grf.Track{SD: r3.Vec{X: sd, Y: sd, Z: sd}}
	seen := 0
	for i := range t.Rows {
		at := t.Start + float64(i)/t.Rate
		if t.Time != nil {
			at = t.Time[i]
		}
		p := r3.Vec{X: xyz[0][i], Y: xyz[1][i], Z: xyz[2][i]}
		if c.Axes == "lab" {
			p = axes.Point(p)
		}
		if math.IsNaN(p.X + p.Y + p.Z) {
			p = grf.NaN().Force
		} else {
			seen++
		}
		track.Time = append(track.Time, at-float64(c.Delay))
		track.Position = append(track.Position, p)
	}
	if seen == 0 {
		return setupErrorf("com.file", "%s holds no position at all", c.File)
	}
	rec := r.result.Recording
	if first, last := track.Time[0], track.Time[len(track.Time)-1]; last < rec.Start || first > rec.End() {
		return setupErrorf("com.file", "%s runs from %.3f to %.3f s, outside the recording (%.3f to %.3f s); are the clocks the same? See com.delay", c.File, first, last, rec.Start, rec.End())
	}
	r.result.COM = track
	r.lookAtCOM(track, c.File)
	r.step("centre of mass from %s: %d positions in %s axes, %d missing, moved by a delay of %g s", c.File, t.Rows, c.Axes, t.Rows-seen, float64(c.Delay))
	return nil
}

// lookAtCOM warns of a centre of mass that no golfer can have.
func (r *reader) lookAtCOM(track *grf.Track, file string) {
	for _, p := range track.Position {
		if math.IsNaN(p.Z) {
			continue
		}
		if p.Z < 0.2 || p.Z > 2.5 || math.Hypot(p.X, p.Y) > 3 {
			r.warn("com-doubtful", file, "the first position is (%.2f, %.2f, %.2f) m in swing axes; are its axes and unit right?", p.X, p.Y, p.Z)
		}
		return
	}
}

// comColumns finds the columns of a centre of mass by their names.
func comColumns(t *table.Table) ([]string, error) {
	var names [3]string
	for _, c := range t.Columns {
		name := strings.TrimPrefix(foldName(c.Name), "com")
		if i := strings.Index("xyz", name); len(name) == 1 && i >= 0 {
			names[i] = c.Name
		}
	}
	for _, n := range names {
		if n == "" {
			return nil, setupErrorf("com.columns", "missing; no columns called x, y and z among %s", listed(t.Names()))
		}
	}
	return names[:], nil
}

// feet brings the outlines of the feet into swing axes.
func (r *reader) feet(axes grf.Axes) error {
	f := r.setup.Feet
	for _, foot := range [2]struct {
		path string
		from *Outline
		to   **FootOutline
	}{{"feet.lead", f.Lead, &r.result.Processing.Lead}, {"feet.trail", f.Trail, &r.result.Processing.Trail}} {
		if foot.from == nil {
			continue
		}
		o := &FootOutline{Width: float64(foot.from.Width)}
		var err error
		if o.Heel, err = r.place(join(foot.path, "heel"), foot.from.Heel, axes); err != nil {
			return err
		}
		if o.Toe, err = r.place(join(foot.path, "toe"), foot.from.Toe, axes); err != nil {
			return err
		}
		if n := math.Hypot(o.Toe.X-o.Heel.X, o.Toe.Y-o.Heel.Y); n < 0.05 || n > 0.6 {
			return setupErrorf(foot.path, "the foot is %.3f m long; want 0.05 to 0.6 m", n)
		}
		*foot.to = o
		r.step("outline of the %s foot: heel (%.3f, %.3f), toe (%.3f, %.3f), width %.3f m", strings.TrimPrefix(foot.path, "feet."), o.Heel.X, o.Heel.Y, o.Toe.X, o.Toe.Y, o.Width)
	}
	return nil
}

// place returns a place in swing axes.
func (r *reader) place(path string, p Place, axes grf.Axes) (r3.Vec, error) {
	if p.Label == "" {
		v := p.At.vec()
		switch {
		case r.setup.Feet.Axes == "swing":
			return v, nil
		case r.swing:
			return r3.Vec{}, setupErrorf("feet.axes", `the capture is in swing axes and no laboratory is known; write "swing"`)
		}
		return axes.Point(v), nil
	}
	if r.file == nil {
		return r3.Vec{}, setupErrorf(path, "%s is the label of a point, but the capture is a table; give three lengths", describe(p.Label))
	}
	v, err := r.file.at(p.Label, float64(r.setup.Feet.At))
	if err != nil {
		return r3.Vec{}, setupWrap(path, err)
	}
	return axes.Point(v), nil
}
