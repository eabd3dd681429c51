package capture

import (
	"math"
	"sort"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// marks sets the marks: those of the file first, those of the setup over them.
func (r *reader) marks(rec *grf.Recording) error {
	rec.Marks = map[string]float64{}
	if err := r.fileMarks(rec); err != nil {
		return err
	}
	var stated []string
	for _, name := range sortedKeys(r.setup.Marks) {
		t := float64(r.setup.Marks[name])
		if t < rec.Start || t > rec.End() {
			return setupErrorf(join("marks", name), "%v is outside the recording, %.3f to %.3f s", r.setup.Marks[name], rec.Start, rec.End())
		}
		rec.Marks[markOf(name)] = t
		r.step("mark %s at %.4f s, as stated", markOf(name), t)
		stated = append(stated, spoken(markOf(name)))
	}
	if stated != nil {
		r.tell("Times that the setup states: %s.", enumerate(stated))
	}
	if len(rec.Marks) == 0 {
		rec.Marks = nil
	}
	return nil
}

// spoken is the name of a mark as people say it.
func spoken(name string) string { return strings.ReplaceAll(name, "_", " ") }

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
				return markOf(r.setup.Events[key]), key
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
		if r.setup.givesMark(mark) {
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
		r.tell("The time of %s is that of the event %s of the file.", spoken(mark), describe(e.Label))
	}
	for _, key := range sortedKeys(r.setup.Events) {
		if !used[key] {
			sort.Strings(labels)
			return setupErrorf(clipPath(join("events", key)), "the file has no such event; %s", near(key, labels))
		}
	}
	return nil
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
		if o.Toe.X < o.Heel.X {
			r.warn("feet-backward", foot.path, "the toes point away from the ball; are heel and toe, golfer.handed and lab.target right?")
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
