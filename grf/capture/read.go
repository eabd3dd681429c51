package capture

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// Result is a capture as the setup reads it.
type Result struct {
	// Recording is in swing axes: zeroed as the setup asks, not filtered.
	Recording *grf.Recording
	// COM is another source of the centre of mass, nil without.
	COM *COMSource
	// Points are the paths of the landmarks that the setup names, by name, in
	// swing axes and with the time stamps of the file: SD is what points.sd says.
	Points map[string]grf.Track
	// Axes turn laboratory coordinates into swing axes.
	Axes grf.Axes
	// Plates are those that were used.
	Plates []Plate
	// Processing is what the setup says about the analysis.
	Processing Processing
	// Steps say in order and in plain words what was done to the data.
	Steps []string
	// Warnings tell what is doubtful and what was chosen automatically.
	Warnings []grf.Warning

	from string   // what kind of file
	said []string // sentences for Methods
}

// Plate is a plate that was used.
type Plate struct {
	Name string // as in Steps, such as "plate 2"
	Foot string // "lead", "trail" or "both"
	// Corners of the surface in swing axes, m; nil when they are not known.
	Corners []r3.Vec
	// Sense is whose force the channels report.
	Sense grf.Sense
	// Baseline is what was subtracted, nil if nothing was.
	Baseline *grf.Baseline

	says string // what it is, for Methods
}

// Processing is what a setup says about the analysis. 0 means that it says
// nothing and the default of the analysis holds.
type Processing struct {
	Cutoff      float64 // Hz; negative: no filter
	Order       int     // of one of two passes
	MinVertical float64 // N, load_threshold
	MinArmForce float64 // N, arm_threshold
	Gravity     float64 // m/s²
	SwingPlane  float64 // rad
	QuietFrom   float64 // s
	QuietTo     float64 // s
	COMHeight   float64 // m
	COMHeightSD float64 // m
	Lead, Trail *FootOutline
}

// FootOutline is a foot in swing axes, m.
type FootOutline struct {
	Heel, Toe r3.Vec
	Width     float64
}

// Read makes a recording of the content of a capture: a C3D file or a table, told
// by what data holds. name is for messages and, where the content leaves a doubt,
// its ending counts. A nil setup is an empty one. open reads other files that the
// setup names; nil refuses them.
//
// The error is a [*SetupError] where the setup must change, a [*PlateError], a
// [*table.Error] or a c3d error where the file is at fault, or wraps one of the
// sentinels of this package and of grf; its text begins with name. With an error
// there is no result.
func Read(name string, data []byte, setup *Setup, open func(name string) ([]byte, error)) (*Result, error) {
	if setup == nil {
		setup = &Setup{Version: Version}
	}
	r := &reader{setup: setup, open: open, threshold: 20}
	if setup.LoadThreshold > 0 {
		r.threshold = float64(setup.LoadThreshold)
	}
	if err := r.read(name, data); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return &r.result, nil
}

// reader carries one Read through its steps.
type reader struct {
	setup     *Setup
	open      func(name string) ([]byte, error)
	threshold float64 // N

	file    *points // of a C3D file, nil for a table
	sources []*source
	start   float64 // s
	rate    float64 // Hz
	swing   bool    // the sources are in swing axes already
	up      r3.Vec
	result  Result
}

// source is a plate, or a group of columns that stands for one.
type source struct {
	number    int    // from 1, as the setup counts
	name      string // for people
	foot      string // "lead" or "trail" when the names of the columns tell, or "net"
	plate     *grf.Plate
	channels  [][]float64
	flat      bool // plate's frame is that of a surface
	err       error
	sense     string // stated for this plate alone
	noMoments bool
	vertical  r3.Vec       // direction of the only force that was measured; zero: all were
	wrenches  []grf.Wrench // laboratory axes, as measured
	says      string       // what it is, for people
	baseline  *grf.Baseline
}

func (r *reader) step(format string, a ...any) {
	r.result.Steps = append(r.result.Steps, fmt.Sprintf(format, a...))
}

func (r *reader) warn(code, where, format string, a ...any) {
	r.result.Warnings = append(r.result.Warnings, grf.Warning{Code: code, Where: where, Text: fmt.Sprintf(format, a...)})
}

func (r *reader) read(name string, data []byte) error {
	if err := r.setup.Check(); err != nil {
		return err
	}
	var err error
	switch {
	case len(data) == 0:
		return fmt.Errorf("%w: the file is empty", grf.ErrNoData)
	case len(data) > 1 && data[1] == 0x50 && bytes.IndexByte(data[:min(512, len(data))], 0) >= 0, strings.HasSuffix(strings.ToLower(name), ".c3d"):
		err = r.readC3D(data)
	case bytes.IndexByte(data[:min(4096, len(data))], 0) >= 0 && !bytes.HasPrefix(data, []byte("\xff\xfe")) && !bytes.HasPrefix(data, []byte("\xfe\xff")):
		return fmt.Errorf("%w: neither the mark of a C3D file nor text; export the capture as C3D, CSV or TSV", ErrFormat)
	default:
		err = r.readTable(data)
	}
	if err != nil {
		return err
	}
	lead, trail, both, err := r.assign()
	if err != nil {
		return err
	}
	used := append(append(append([]*source{}, lead...), trail...), both...)
	if err := r.lookAtVertical(used); err != nil {
		return err
	}
	if err := r.zero(used); err != nil {
		return err
	}
	if err := r.settleSense(used); err != nil {
		return err
	}
	axes, err := r.axes(used)
	if err != nil {
		return err
	}
	return r.record(axes, lead, trail, both)
}

// record fills the result.
func (r *reader) record(axes grf.Axes, lead, trail, both []*source) error {
	rec := &grf.Recording{Start: r.start, Rate: r.rate, Handed: handed(r.setup.Golfer),
		Mass: float64(r.setup.Golfer.Mass), Stature: float64(r.setup.Golfer.Stature)}
	for _, role := range [3]struct {
		foot    string
		sources []*source
		dst     *[]grf.Wrench
	}{{"lead", lead, &rec.Lead}, {"trail", trail, &rec.Trail}, {"both", both, &rec.Net}} {
		if len(role.sources) == 0 {
			continue
		}
		var series [][]grf.Wrench
		for _, s := range role.sources {
			series = append(series, s.wrenches)
			p := Plate{Name: s.name, Foot: role.foot, Sense: s.plate.Sense(), Baseline: s.baseline, says: s.says}
			if s.flat {
				p.Corners = corners(s.plate, axes)
			}
			r.result.Plates = append(r.result.Plates, p)
		}
		sum, err := grf.AddSeries(nil, series...)
		if err != nil {
			return err
		}
		*role.dst = axes.Wrenches(sum, sum)
		r.withoutHorizontal(*role.dst, role.sources)
	}
	r.result.Recording, r.result.Axes = rec, axes
	if len(both) > 0 {
		r.step("one plate for both feet: only the sum of the feet is known")
	}
	r.lookAtPlaces(lead, trail, axes)
	if rec.Rate > mostRate || rec.Rate < leastRate {
		r.warn("rate-doubtful", "", "the plates were sampled at %g Hz, it seems; is the unit of time or of the rate right?", rec.Rate)
	}
	if err := r.marks(rec); err != nil {
		return err
	}
	if err := r.process(rec); err != nil {
		return err
	}
	if err := r.landmarks(axes); err != nil {
		return err
	}
	if err := r.com(axes); err != nil {
		return err
	}
	if err := r.feet(axes); err != nil {
		return err
	}
	return rec.Check()
}

// leastRate and mostRate bound what is usual, Hz (common practice, no published
// source).
const leastRate, mostRate = 20, 20e3

func handed(g Golfer) grf.Handedness {
	if g.Handed == "left" {
		return grf.LeftHanded
	}
	return grf.RightHanded
}

// corners returns the corners of a plate in swing axes.
func corners(p *grf.Plate, axes grf.Axes) []r3.Vec {
	f := p.Frame()
	x, y := p.Size()
	var c []r3.Vec
	for _, at := range [4]r3.Vec{{X: x / 2, Y: y / 2}, {X: -x / 2, Y: y / 2}, {X: -x / 2, Y: -y / 2}, {X: x / 2, Y: -y / 2}} {
		c = append(c, axes.Point(f.PointOut(at)))
	}
	return c
}

// process carries what the setup says about the analysis.
func (r *reader) process(rec *grf.Recording) error {
	s := r.setup
	p := &r.result.Processing
	p.Cutoff, p.Order = float64(s.Filter.Cutoff), s.Filter.Order
	if s.Filter.Method == "none" {
		p.Cutoff = -1
	}
	if p.Cutoff >= rec.Rate/2 {
		return setupErrorf("filter.cutoff", "%v is not below half the sampling rate of the capture; choose less than %g Hz", s.Filter.Cutoff, rec.Rate/2)
	}
	p.MinVertical, p.MinArmForce = float64(s.LoadThreshold), float64(s.ArmThreshold)
	p.Gravity, p.SwingPlane = float64(s.Gravity), float64(s.SwingPlane)
	if q := s.QuietStance; q != (Window{}) {
		if float64(q.From) < rec.Start || float64(q.To) > rec.End() {
			return setupErrorf("quiet_stance", "%v to %v is outside the recording, %.3f to %.3f s", q.From, q.To, rec.Start, rec.End())
		}
		p.QuietFrom, p.QuietTo = float64(q.From), float64(q.To)
	}
	if s.COM.Height > 0 {
		p.COMHeight, p.COMHeightSD = float64(s.COM.Height), float64(s.COM.HeightSD)
		r.step("centre of mass %.3g m above the surface in the quiet stance, as stated", p.COMHeight)
	}
	return nil
}

// zero subtracts what the plates show while they carry nothing.
func (r *reader) zero(used []*source) error {
	z := r.setup.Zero
	var first, last int
	switch z.method() {
	case "none":
		r.step("nothing was zeroed")
		return nil
	case "file":
		if r.file == nil {
			return setupErrorf("zero.method", `"file" is for C3D files, whose ZERO parameter names frames; give a window`)
		}
		from, to, err := r.file.c3d.ZeroFrames()
		if err != nil {
			return setupWrap("zero.method", err)
		}
		n := max(r.file.c3d.SamplesPerFrame, 1)
		first, last = from*n, (to+1)*n-1
	case "window":
		first = int(math.Ceil((float64(z.From)-r.start)*r.rate - 1e-6))
		last = int(math.Floor((float64(z.To)-r.start)*r.rate + 1e-6))
		end := r.start + float64(len(used[0].wrenches)-1)/r.rate
		if first < 0 || last >= len(used[0].wrenches) {
			return setupErrorf("zero", "%v to %v is outside the recording, %.3f to %.3f s", z.From, z.To, r.start, end)
		}
	}
	for _, s := range used {
		b, err := grf.MeasureBaseline(s.plate, s.channels, first, last, grf.BaselineOptions{MaxLoad: float64(z.MaxLoad)})
		if err != nil {
			return &SetupError{Path: "zero", Text: fmt.Sprintf("%s: %v", s.name, err), Err: err}
		}
		if s.channels, err = b.Subtract(nil, s.channels); err != nil {
			return err
		}
		if s.wrenches, err = s.plate.Wrenches(s.wrenches, s.channels); err != nil {
			return err
		}
		s.baseline = &b
		f := b.Load.Force
		r.step("%s: zeroed over %.3f to %.3f s (%d samples); subtracted force (%.2f, %.2f, %.2f) N, SD (%.2f, %.2f, %.2f) N, drift (%.2f, %.2f, %.2f) N in laboratory axes",
			s.name, r.start+float64(first)/r.rate, r.start+float64(last)/r.rate, last-first+1,
			f.X, f.Y, f.Z, b.ForceSD.X, b.ForceSD.Y, b.ForceSD.Z, b.Drift.X, b.Drift.Y, b.Drift.Z)
	}
	return nil
}

// settleSense makes every plate report the ground's push on the golfer.
func (r *reader) settleSense(used []*source) error {
	up := r.up
	var found grf.Sense
	var unknown []*source
	for _, s := range used {
		stated := s.sense
		if stated == "" {
			stated = r.setup.Sense
		}
		seen, mean := grf.SenseUnderLoad(s.wrenches, up, load)
		switch want := sense(stated); {
		case want != grf.AsMeasured:
			if seen != grf.AsMeasured && seen != want {
				r.warn("sense-doubtful", s.name, "%v is stated, but under load the vertical force has a mean of %+.0f N, which looks like the opposite", want, mean)
			}
			r.setSense(s, want)
			r.step("%s: %v, as stated", s.name, want)
		case seen == grf.AsMeasured:
			unknown = append(unknown, s)
		default:
			if found != grf.AsMeasured && seen != found {
				r.warn("sense-mixed", s.name, "reports the opposite sense (%v) of the plates before it", seen)
			}
			found = seen
			r.setSense(s, seen)
			verb := "kept"
			if seen == grf.Action {
				verb = "all signs turned"
				r.warn("action-forces", s.name, "under load the vertical force has a mean of %+.0f N: taken for the golfer's push on the plate, and all signs turned; state sense to be sure", mean)
			}
			r.step("%s: %v by the sign under load (mean vertical %+.0f N), %s", s.name, seen, mean, verb)
		}
	}
	for _, s := range unknown {
		if found == grf.AsMeasured {
			return fmt.Errorf("%w: %s never carries %d N, so that its sense can not be told: is it the right plate? Otherwise state sense", grf.ErrNoData, s.name, load)
		}
		r.setSense(s, found)
		r.warn("unloaded", s.name, "never carries %d N; its sense was taken from the other plate", load)
		r.step("%s: %v, as the other plate", s.name, found)
	}
	return nil
}

func (r *reader) setSense(s *source, want grf.Sense) {
	s.plate = s.plate.WithSense(want)
	if want == grf.Action {
		for i, w := range s.wrenches {
			s.wrenches[i] = w.Scale(-1)
		}
	}
}

// errNoFile is what a reader without open says.
var errNoFile = errors.New("other files can not be opened here")
