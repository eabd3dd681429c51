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

// COMSource is another source of the centre of mass than the forces: a table of
// positions, or a model of the body that makes them from landmarks.
type COMSource struct {
	Name string // for people

	// Track is the centre of mass in swing axes, with the source's own time
	// stamps. It is empty when there is a Model.
	Track grf.Track
	// Model is one of [ModelNames] and says how the centre of mass follows from
	// [Result.Points]; empty when there is a Track.
	Model string
	// ClubMass is that of a club between the points club_grip and club_head, kg,
	// and ClubBalance the place of its centre of mass as a part of the way from
	// grip to head. 0 means no club.
	ClubMass, ClubBalance float64

	// SD, SlowSD and SlowTime are standard deviations of a position, m, and how
	// long the slow part of the error lasts, s. 0 means that the setup says
	// nothing.
	SD               r3.Vec
	SlowSD, SlowTime float64
	// Delay is by how much the stamps are late, s. SeekDelay, when not 0, says
	// that the delay is only known to lie within this of it.
	Delay, SeekDelay float64
}

// comSource returns what a setup says about either kind of source.
func (r *reader) comSource(name string) *COMSource {
	c := r.setup.COM
	return &COMSource{Name: name, SlowSD: float64(c.SlowSD), SlowTime: float64(c.SlowTime),
		Delay: float64(c.Delay), SeekDelay: float64(c.SeekDelay)}
}

// late tells the delay in words.
func (r *reader) late() string {
	c := r.setup.COM
	switch {
	case c.SeekDelay != 0:
		return fmt.Sprintf("; its stamps are late by %g s or up to %g s more or less, to be found", float64(c.Delay), float64(c.SeekDelay))
	case c.Delay != 0:
		return fmt.Sprintf("; its stamps are late by %g s", float64(c.Delay))
	}
	return ""
}

// com settles the other source of the centre of mass, if there is one.
func (r *reader) com(axes grf.Axes) error {
	switch {
	case r.setup.COM.Model != "":
		r.model()
	case r.setup.COM.File != "":
		return r.comFile(axes)
	}
	return nil
}

// comFile reads the table of another source of the centre of mass.
func (r *reader) comFile(axes grf.Axes) error {
	c := r.setup.COM
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
	s := r.comSource(c.File)
	s.SD = r3.Vec{X: sd, Y: sd, Z: sd}
	s.Track.SD = s.SD
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
		s.Track.Time = append(s.Track.Time, at)
		s.Track.Position = append(s.Track.Position, p)
	}
	if seen == 0 {
		return setupErrorf("com.file", "%s holds no position at all", c.File)
	}
	rec := r.result.Recording
	first, last := s.Track.Time[0]-s.Delay, s.Track.Time[len(s.Track.Time)-1]-s.Delay
	if last+s.SeekDelay < rec.Start || first-s.SeekDelay > rec.End() {
		return setupErrorf("com.file", "%s runs from %.3f to %.3f s, outside the recording (%.3f to %.3f s); are the clocks the same? See com.delay", c.File, first, last, rec.Start, rec.End())
	}
	r.result.COM = s
	r.lookAtCOM(s.Track, c.File)
	r.step("centre of mass from %s: %d positions in %s axes, %d missing%s", c.File, t.Rows, c.Axes, t.Rows-seen, r.late())
	r.tell("Positions of the centre of mass were read from a table, %s: %d, of which %d missing.", c.File, t.Rows, t.Rows-seen)
	return nil
}

// lookAtCOM warns of a centre of mass that no golfer can have.
func (r *reader) lookAtCOM(track grf.Track, file string) {
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
