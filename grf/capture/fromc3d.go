package capture

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
)

// points is a C3D file that may be asked for points and events later.
type points struct {
	c3d   *c3d.File
	metre float64
}

func (r *reader) readC3D(data []byte) error {
	s := r.setup.C3D
	opt := c3d.Options{Rate: float64(s.FrameRate)}
	switch s.Samples {
	case "signed":
		opt.Analog = c3d.SignedSamples
	case "unsigned":
		opt.Analog = c3d.UnsignedSamples
	}
	switch s.EventClock {
	case "capture":
		opt.Origin = c3d.OriginCapture
	case "first_frame":
		opt.Origin = c3d.OriginFirstFrame
	}
	f, err := c3d.Decode(data, opt)
	if err != nil {
		return err
	}
	return r.useC3D(f)
}

// useC3D makes sources of the plates of a file.
func (r *reader) useC3D(f *c3d.File) error {
	s := r.setup.C3D
	r.result.Warnings = append(r.result.Warnings, f.Warnings...)
	if f.AnalogErr != nil {
		return f.AnalogErr
	}
	if err := f.CheckRate(); err != nil {
		return &SetupError{Path: "c3d.frame_rate", Text: err.Error(), Err: err}
	}
	if s.LengthUnit != "" {
		f.Units = s.LengthUnit
	}
	if r.setup.Table.stated() {
		return setupErrorf("table", "the capture is a C3D file, not a table")
	}
	metre, err := f.UnitMetres()
	if err != nil && len(f.Plates) == 0 {
		if i := slices.IndexFunc(f.Warnings, func(w grf.Warning) bool { return w.Code == c3d.CodeTruncatedSection }); i >= 0 {
			return fmt.Errorf("%w: the file ends within its parameters; was it copied whole? (%v)", c3d.ErrTooShort, f.Warnings[i])
		}
	}
	if err != nil {
		return &SetupError{Path: "c3d.length_unit", Text: err.Error(), Err: err}
	}
	r.file = &points{f, metre}
	r.rate = f.AnalogRate()
	r.result.from = "a C3D file"
	r.step("C3D file, %v %v: %d frames at %g Hz, %d channels at %g Hz, %d plates", f.Processor, f.Storage, f.Frames, f.Rate, len(f.Channels), r.rate, len(f.Plates))
	if len(f.Plates) == 0 {
		return fmt.Errorf("%w: the file describes none (FORCE_PLATFORM:USED); export it with its plates, or their channels as a table", ErrNoPlates)
	}
	for i, c := range r.setup.Plates.Change {
		if c.Plate > len(f.Plates) {
			return setupErrorf(join(index("plates.change", i), "plate"), "plate %d; the file has %d", c.Plate, len(f.Plates))
		}
	}
	plates, warnings := Plates(f, r.setup.Plates.Change)
	for _, w := range warnings {
		if w.Code != "action-forces" { // settled below, with all that is known there
			r.result.Warnings = append(r.result.Warnings, w)
		}
	}
	for _, p := range plates {
		src := &source{number: p.Number, name: fmt.Sprintf("plate %d", p.Number), flat: true, err: p.Err, noMoments: p.ForceOnly}
		r.sources = append(r.sources, src)
		if p.Err != nil {
			continue
		}
		if src.err = plateSize(p, f.Units); src.err != nil {
			continue
		}
		src.plate, src.channels = p.Plate.WithSense(grf.AsMeasured), p.Channels
		for _, c := range r.setup.Plates.Change {
			if c.Plate == p.Number {
				src.sense = c.Sense
				r.step("plate %d: %s as the setup says", p.Number, strings.Join(c.fields(), ", "))
				r.tell("Of plate %d the setup corrected: %s.", p.Number, strings.Join(c.fields(), ", "))
			}
		}
		if src.wrenches, err = src.plate.Wrenches(nil, src.channels); err != nil {
			return err
		}
		src.says = describePlate(p.Plate)
		r.step("plate %d: %s", p.Number, src.says)
		src.says = "C3D " + src.says
	}
	return nil
}

// plateSize refuses a plate of a size that no plate has: then the unit of length is
// another one than the file or the setup says.
func plateSize(p FilePlate, unit string) error {
	x, y := p.Plate.Size()
	if long := math.Max(x, y); long >= leastPlate && long <= mostPlate {
		return nil
	}
	return setupErrorf("c3d.length_unit", "plate %d would be %.4g × %.4g m large, with lengths in %s: that is not their unit; state the right one, such as \"mm\"", p.Number, x, y, unit)
}

// leastPlate and mostPlate bound the longer side of a plate, m (common practice, no
// published source).
const leastPlate, mostPlate = 0.03, 20

// fields names what a change states.
func (c PlateChange) fields() []string {
	var names []string
	for _, f := range []struct {
		name   string
		stated bool
	}{
		{"type", c.Type != 0}, {"corners", c.Corners != nil}, {"origin", c.Origin != nil},
		{"origin sign", c.OriginSign != ""}, {"top cover", c.TopCover != 0}, {"calibration", c.Calibration != nil},
		{"channel scale", c.ChannelScale != nil}, {"point correction", c.PointCorrection != nil},
		{"channels", c.Channels != nil}, {"moment unit", c.MomentUnit != ""}, {"sense", c.Sense != ""},
	} {
		if f.stated {
			names = append(names, f.name)
		}
	}
	if names == nil {
		return []string{"nothing changed"}
	}
	return names
}

func describePlate(p *grf.Plate) string {
	x, y := p.Size()
	return fmt.Sprintf("type %d, %.0f × %.0f mm", int(p.Type()), 1000*x, 1000*y)
}

func (t Table) stated() bool {
	return t.Plates != nil || t.Axes != "" || t.Sheet.stated()
}

func (s Sheet) stated() bool {
	return s.Separator != "" || s.Decimal != "" || s.Time != "" || s.Rate != 0 || s.Units != nil || s.Ignore != nil
}

// at returns the mean position of a point around the instant at, or over the
// first tenth of a second in which it is seen when at is 0, in laboratory axes.
func (p *points) at(label string, at float64) (r3.Vec, error) {
	f := p.c3d
	k := f.PointIndex(label)
	if k < 0 {
		return r3.Vec{}, fmt.Errorf("no point %s in the file; %s", describe(label), near(label, p.labels()))
	}
	if f.Points[k].Kind != c3d.Position {
		return r3.Vec{}, fmt.Errorf("%s is no position", describe(label))
	}
	path := f.Points[k].Position
	first, last := 0, len(path)-1
	if at != 0 {
		first = max(0, int(math.Ceil((at-0.05)*f.Rate)))
		last = min(last, int(math.Floor((at+0.05)*f.Rate)))
	}
	var sum r3.Vec
	n := 0
	for i := first; i <= last; i++ {
		v := path[i]
		if math.IsNaN(v.X + v.Y + v.Z) {
			continue
		}
		if n == 0 && at == 0 {
			last = min(last, i+int(0.1*f.Rate))
		}
		sum = r3.Add(sum, v)
		n++
	}
	if n == 0 {
		return r3.Vec{}, errors.New(describe(label) + " is not seen then")
	}
	return r3.Scale(p.metre/float64(n), sum), nil
}
