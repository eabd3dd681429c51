package capture

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
)

// trial is a made-up capture: two feet that step onto their plates after 0.4 s,
// known in swing axes, seen by plates somewhere in a laboratory.
type trial struct {
	hand       grf.Handedness
	up, target r3.Vec
	origin     r3.Vec     // of the swing axes in the laboratory
	sign       float64    // +1: channels report the reaction, −1: the action
	order      []int      // which plate is stored first; nil is lead, trail
	offset     [6]float64 // of the channels of every plate, N and N·m
	loaded     bool       // from the start
	originSign float64    // of ORIGIN as stored; 0 is 1
	halves     bool       // two plates for each foot
	cover      float64    // on the plates, whose corners are those without it
	metres     bool       // lengths of the file in m, moments in N·m
	edit       func(f *c3d.File)
}

const (
	trialRate    = 500.0
	trialSamples = 1000
)

// feet returns the truth at sample i.
func (tr trial) feet(i int) (lead, trail grf.Wrench) {
	t := float64(i) / trialRate
	if t < 0.4 && !tr.loaded {
		return grf.Wrench{}, grf.Wrench{}
	}
	s, c := math.Sincos(2 * math.Pi * t)
	lead = grf.At(r3.Vec{X: 20 * s, Y: 60 * c, Z: 420 + 90*s}, r3.Vec{X: 0.03 * c, Y: 0.24 + 0.01*s}, r3.Vec{Z: 4 * s})
	trail = grf.At(r3.Vec{X: -35 * s, Y: -50 * c, Z: 360 - 70*s}, r3.Vec{X: -0.02 * s, Y: -0.26}, r3.Vec{Z: -3 * c})
	return lead, trail
}

func (tr trial) axes(t testing.TB) grf.Axes {
	t.Helper()
	up, target := tr.up, tr.target
	if up == (r3.Vec{}) {
		up = r3.Vec{Z: 1}
	}
	if target == (r3.Vec{}) {
		target = r3.Vec{Y: 1}
	}
	a, err := grf.NewAxes(up, target, tr.origin, tr.hand)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// site is a plate in the laboratory: z down, x forward of the golfer.
type site struct {
	frame grf.Frame
	x, y  float64
	depth r3.Vec // ORIGIN
}

// corners returns the corners as a file lists them.
func (p site) corners() (c [4]r3.Vec) {
	for i, q := range [4][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
		c[i] = p.frame.PointOut(r3.Vec{X: q[0] * p.x / 2, Y: q[1] * p.y / 2})
	}
	return c
}

// sites returns where the plates of the lead and the trail foot are.
func (tr trial) sites(t testing.TB) [2]site {
	axes := tr.axes(t)
	var sites [2]site
	for k, y := range [2]float64{0.25, -0.25} {
		f := grf.Frame{Origin: axes.LabPoint(r3.Vec{Y: y, Z: -tr.cover})}
		f.X = axes.LabVector(r3.Vec{X: 1})
		f.Z = r3.Scale(-1, axes.LabVector(r3.Vec{Z: 1}))
		f.Y = r3.Cross(f.Z, f.X)
		sites[k] = site{f, 0.6, 0.4, r3.Vec{X: 0.001, Y: -0.002 * float64(k), Z: -0.041}}
	}
	return sites
}

// file makes the C3D file.
func (tr trial) file(t testing.TB) *c3d.File {
	axes := tr.axes(t)
	sites := tr.sites(t)
	sign := tr.sign
	if sign == 0 {
		sign = 1
	}
	unit, units := 1000.0, [3]string{"mm", "N", "Nmm"}
	if tr.metres {
		unit, units = 1, [3]string{"m", "N", "Nm"}
	}
	f := &c3d.File{Storage: c3d.Real, Rate: 100, SamplesPerFrame: 5, FirstFrame: 1, Frames: trialSamples / 5, Units: units[0]}
	order := tr.order
	if order == nil {
		order = []int{0, 1}
	}
	if tr.halves {
		order = append(order, order...)
	}
	share := 1.0
	if tr.halves {
		share = 0.5
	}
	for n, k := range order {
		p := sites[k]
		info := c3d.PlateInfo{Type: 2}
		for i, c := range p.corners() {
			info.Corners[i] = r3.Scale(unit, c)
		}
		stored := tr.originSign
		if stored == 0 {
			stored = 1
		}
		info.Origin = r3.Scale(stored*unit, p.depth)
		values := make([][]float64, 6)
		for i := range trialSamples {
			feet := [2]grf.Wrench{}
			feet[0], feet[1] = tr.feet(i)
			w := p.frame.WrenchIn(axes.LabWrench(feet[k])).Scale(sign * share)
			w.Moment = r3.Add(w.Moment, r3.Cross(p.depth, w.Force)) // about the measuring origin
			for c, v := range [6]float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z} {
				v += tr.offset[c]
				if c >= 3 {
					v *= unit
				}
				values[c] = append(values[c], v)
			}
		}
		for c, label := range []string{"Fx", "Fy", "Fz", "Mx", "My", "Mz"} {
			info.Channels = append(info.Channels, len(f.Channels))
			f.Channels = append(f.Channels, c3d.Channel{Label: fmt.Sprintf("%s%d", label, n+1), Unit: units[1+c/3], Scale: 1, Values: values[c]})
		}
		f.Plates = append(f.Plates, info)
	}
	if tr.edit != nil {
		tr.edit(f)
	}
	return f
}

func (tr trial) c3d(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := c3d.Encode(&b, tr.file(t)); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// check compares a recording with the truth. The file holds single precision:
// at 1e6 N·mm that is 0.03 N·mm.
func (tr trial) check(t *testing.T, rec *grf.Recording, within float64) {
	t.Helper()
	if rec.Rate != trialRate || rec.Len() != trialSamples {
		t.Fatalf("%g Hz, %d samples", rec.Rate, rec.Len())
	}
	worst := 0.0
	for i := range trialSamples {
		lead, trail := tr.feet(i)
		pairs := [][2]grf.Wrench{}
		if rec.Split() {
			pairs = append(pairs, [2]grf.Wrench{rec.Lead[i], lead}, [2]grf.Wrench{rec.Trail[i], trail})
		} else {
			pairs = append(pairs, [2]grf.Wrench{rec.Net[i], lead.Add(trail)})
		}
		for _, p := range pairs {
			d := p[0].Sub(p[1])
			size := math.Max(r3.Norm(d.Force), r3.Norm(d.Moment))
			if !(size <= worst) {
				worst = size
			}
		}
	}
	if !(worst <= within) {
		t.Errorf("off by up to %g N or N·m", worst)
	}
}

func read(t *testing.T, name string, data []byte, setup string) *Result {
	t.Helper()
	r, err := Read(name, data, readSetup(t, setup), nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func codes(ws []grf.Warning) string {
	var s []string
	for _, w := range ws {
		s = append(s, w.Code)
	}
	return strings.Join(s, " ")
}

func hasStep(t *testing.T, r *Result, want ...string) {
	t.Helper()
	for _, w := range want {
		if !strings.Contains(strings.Join(r.Steps, "\n"), w) {
			t.Errorf("no step says %q in\n%s", w, strings.Join(r.Steps, "\n"))
		}
	}
}
