package catalogue

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/grf/capture"
)

// Rows 89 to 120: channels and force plates of C3D files.

// laboratory is a setup for small.
const laboratory = `{"version": 1, "lab": {"up": "+z", "target": "+y"}}`

// readCapture reads a C3D file with a setup.
func readCapture(t *testing.T, data []byte, setup string) (*capture.Result, error) {
	t.Helper()
	s, err := capture.ReadSetup(strings.NewReader(setup))
	if err != nil {
		return nil, err
	}
	return capture.Read("swing.c3d", data, s, nil)
}

// captured makes a row's run of a capture with a golfer on both plates.
func captured(change func(f *c3d.File), setup string, check func(t *testing.T, r *capture.Result)) func(t *testing.T) ([]grf.Warning, error) {
	return func(t *testing.T) ([]grf.Warning, error) {
		f := standing()
		if change != nil {
			change(f)
		}
		r, err := readCapture(t, encode(t, f), setup)
		if err != nil {
			return nil, err
		}
		if check != nil {
			check(t, r)
		}
		return r.Warnings, nil
	}
}

// local is where a plate sees the load in its last sample, from its centre, m.
func local(t *testing.T, p capture.FilePlate) (x, y float64) {
	t.Helper()
	var last []float64
	for _, c := range p.Channels {
		last = append(last, c[len(c)-1])
	}
	w := p.Plate.Surface(last)
	return -w.Moment.Y / w.Force.Z, w.Moment.X / w.Force.Z
}

// inPlace checks that the load is seen where it is.
func inPlace(t *testing.T, p capture.FilePlate) {
	t.Helper()
	if x, y := local(t, p); math.Abs(x-0.080) > 1e-6 || math.Abs(y-0.120) > 1e-6 {
		t.Errorf("the load is at (%.4f, %.4f) m", x, y)
	}
}

// scaled multiplies channels of plate 1.
func scaled(f *c3d.File, by float64, channels ...int) {
	for _, c := range channels {
		for i := range f.Channels[c].Values {
			f.Channels[c].Values[i] *= by
		}
	}
}

// matrix is a calibration of a plate of type 4.
func matrix(f *c3d.File, change func(m [][]float64)) {
	for p := range f.Plates {
		m := make([][]float64, 6)
		for i := range m {
			m[i] = make([]float64, 6)
			m[i][i] = 1
			if i > 2 {
				m[i][i] = 1000 // the calibration gives N·m, the file is in N·mm
			}
		}
		if p == 0 {
			change(m)
		}
		f.Plates[p].Type, f.Plates[p].Calibration = 4, m
	}
}

func offsets(n float64) func(f *c3d.File) {
	return func(f *c3d.File) {
		for i := range f.Channels {
			f.Channels[i].Offset = n
		}
	}
}

var channelRows = []row{
	{89, "no ANALOG:OFFSET", warns(c3d.CodeDefaultOffset), decoded(renamed("ANALOG:OFFSET"), func(t *testing.T, f *c3d.File) {
		if f.Channels[0].Offset != 0 {
			t.Errorf("offset %g", f.Channels[0].Offset)
		}
	}), "0 is taken with a warning, because a forgotten offset is a common cause of wrong forces; the spelling OFFSETS is taken with one, too"},
	{90, "SCALE for some of the channels only", warns(c3d.CodeDefaultScale), decoded(bytesOf(func(t *testing.T, b []byte) []byte {
		_, p, _ := record(t, b, "ANALOG:SCALE")
		return put(b, p+4, 5)
	}), func(t *testing.T, f *c3d.File) {
		if f.Channels[4].Scale != -0.5 || f.Channels[5].Scale != 1 {
			t.Errorf("scales %g, %g", f.Channels[4].Scale, f.Channels[5].Scale)
		}
	}), ""},
	{91, "SCALE 0 for a channel", warns(c3d.CodeBadScale), decoded(value("ANALOG:SCALE", reals(0)...), func(t *testing.T, f *c3d.File) {
		if v := f.Channels[0].Values[0]; !math.IsNaN(v) || math.IsNaN(f.Channels[1].Values[0]) {
			t.Errorf("%g", v)
		}
		plates, _ := capture.Plates(f, nil)
		is(plates[0].Err, grf.ErrChannels, "plate 1")(t)
		is(plates[1].Err, nil, "plate 2")(t)
	}), ""},
	{92, "GEN_SCALE 0", warns(c3d.CodeGenScale), decoded(value("ANALOG:GEN_SCALE", reals(0)...), isSmall), ""},
	{93, "GEN_SCALE −1", defined(), decoded(value("ANALOG:GEN_SCALE", reals(-1)...), func(t *testing.T, f *c3d.File) {
		if f.Channels[0].Values[9] != -small().Channels[0].Values[9] {
			t.Error("not applied")
		}
	}), ""},
	{94, "UNSIGNED with OFFSET −32768", defined(), decoded(integer(func(f *c3d.File) { f.Unsigned = true; offsets(32768)(f) }), func(t *testing.T, f *c3d.File) {
		isSmall(t, f)
		if v, _ := f.Groups.Find("ANALOG", "OFFSET").Ints(); v[0] != -32768 {
			t.Errorf("stored as %d", v[0])
		}
	}), ""},
	{95, "SIGNED with OFFSET −32768", warns(c3d.CodeSuspectUnsigned), decoded(of(offsets(-32768)), func(t *testing.T, f *c3d.File) {
		if f.Unsigned || f.Channels[0].Offset != -32768 {
			t.Error("FORMAT is not obeyed")
		}
	}), ""},
	{96, "FORMAT UNSIGNED16", warns(c3d.CodeAnalogFormat), decoded(with("ANALOG", c3d.NewText("FORMAT", "UNSIGNED16")), func(t *testing.T, f *c3d.File) {
		if f.Unsigned {
			t.Error("taken for UNSIGNED")
		}
	}), "other case and blanks at the end are taken without a word"},
	{97, "BITS 13", defined(), decoded(with("ANALOG", c3d.NewInts("BITS", nil, 13)), isSmall), ""},
	{98, "a channel at the end of its range", warns(c3d.CodeSaturated), decoded(integer(func(f *c3d.File) {
		for k := 7; k < 11; k++ {
			f.Channels[2].Values[k] = -0.5 * (32767 - 2)
		}
	}), func(t *testing.T, f *c3d.File) {
		if w := f.Warnings[0]; w.Where != "channel 3 Fz1" || !strings.Contains(w.Text, "sample 7") {
			t.Errorf("%v", w)
		}
	}), ""},
	{99, "two plates announced, types for one", warns(c3d.CodePlateCount), decoded(bytesOf(func(t *testing.T, b []byte) []byte {
		_, p, _ := record(t, b, "FORCE_PLATFORM:TYPE")
		return put(b, p+4, 1)
	}), func(t *testing.T, f *c3d.File) {
		if len(f.Plates) != 1 {
			t.Errorf("%d plates", len(f.Plates))
		}
	}), ""},
	{100, "−1 plates", defined(), decoded(value("FORCE_PLATFORM:USED", ints(-1)...), func(t *testing.T, f *c3d.File) {
		if len(f.Plates) != 0 {
			t.Errorf("%d plates", len(f.Plates))
		}
	}), ""},
	{101, "a plate of a channel that is not there", warns(c3d.CodePlateChannel), decoded(value("FORCE_PLATFORM:CHANNEL", ints(1, 2, 3, 4, 5, 13)...), func(t *testing.T, f *c3d.File) {
		plates, _ := capture.Plates(f, nil)
		is(plates[0].Err, c3d.ErrPlateChannel, "plate 1")(t)
		is(plates[1].Err, nil, "plate 2")(t)
	}), ""},
	{102, "a plate that has a channel twice", warns(c3d.CodePlateChannelTwin), decoded(value("FORCE_PLATFORM:CHANNEL", ints(1, 2, 3, 4, 5, 5)...), nil), ""},
}

var plateRows = []row{
	{103, "plate type 9", fails(grf.ErrPlateType), platesRow(func(f *c3d.File) { f.Plates[0].Type = 9 }, func(t *testing.T, p capture.FilePlate) {
		if len(p.Info.Channels) != 6 {
			t.Errorf("the channels can not be had: %+v", p.Info)
		}
	}), "an error of that plate alone"},
	{104, "type 4 without a matrix", fails(grf.ErrCalibration), platesRow(func(f *c3d.File) {
		matrix(f, func([][]float64) {})
		f.Plates[0].Calibration = nil
	}, nil), "an error of that plate alone; no identity is made up"},
	{105, "a singular matrix", fails(grf.ErrCalibration), func(t *testing.T) ([]grf.Warning, error) {
		for name, change := range map[string]func(m [][]float64){
			"zero row": func(m [][]float64) { m[2][2] = 0 },
			"NaN":      func(m [][]float64) { m[0][5] = math.NaN() },
			"twice":    func(m [][]float64) { copy(m[1], m[0]) },
		} {
			_, err := platesRow(func(f *c3d.File) { matrix(f, change) }, nil)(t)
			is(err, grf.ErrCalibration, name)(t)
		}
		return nil, grf.ErrCalibration
	}, "an error of that plate alone"},
	{106, "a matrix in a file of type 2", defined(), platesRow(func(f *c3d.File) {
		f.Plates[0].Calibration = [][]float64{{0, 0}, {0, 0}}
	}, inPlace), ""},
	{107, "corners all zero", fails(grf.ErrCorners), platesRow(func(f *c3d.File) { f.Plates[0].Corners = [4]r3.Vec{} }, nil), "an error of that plate alone; without corners there is no laboratory to be in"},
	{108, "corners on a line, or one twice", fails(grf.ErrCorners), func(t *testing.T) ([]grf.Warning, error) {
		for name, c := range map[string][4]r3.Vec{
			"line":  {{X: 0}, {X: 100}, {X: 200}, {X: 300}},
			"twice": {{X: 400, Y: 600}, {X: 400, Y: 600}, {}, {Y: 600}},
		} {
			_, err := platesRow(func(f *c3d.File) { f.Plates[0].Corners = c }, nil)(t)
			is(err, grf.ErrCorners, name)(t)
		}
		return nil, grf.ErrCorners
	}, ""},
	{109, "corners that are no rectangle", warns("corners-skewed"), platesRow(func(f *c3d.File) { f.Plates[0].Corners[2].X = 40 }, nil), ""},
	{110, "corners the other way round", warns("plate-z-up"), captured(func(f *c3d.File) {
		for p := range f.Plates {
			c := &f.Plates[p].Corners
			c[1], c[3] = c[3], c[1]
		}
	}, laboratory, nil), ""},
	{111, "corners in mm, unit m", warns("plate-size"), platesRow(func(f *c3d.File) { f.Units = "m" }, func(t *testing.T, p capture.FilePlate) {
		if x, y := p.Plate.Size(); x != 600 && y != 600 {
			t.Errorf("rescaled to %g by %g m", x, y)
		}
	}), ""},
	{112, "ORIGIN with a positive z", warns("origin-sign"), platesRow(func(f *c3d.File) {
		for p := range f.Plates {
			f.Plates[p].Origin = r3.Scale(-1, f.Plates[p].Origin)
		}
	}, inPlace), ""},
	{113, "ORIGIN 0 of type 2", warns("origin-zero"), platesRow(func(f *c3d.File) { f.Plates[0].Origin = r3.Vec{} }, nil), "of type 3 the forces alone can be had, with the warning no-moments: see pitfall 3 and trap 59"},
	{114, "sensors 400 mm deep", warns("origin-large"), platesRow(func(f *c3d.File) { f.Plates[0].Origin.Z = -400 }, nil), ""},
	{115, "ZERO (1, 0)", defined(), decoded(of(func(f *c3d.File) { f.Zero = [2]int{1, 0} }), func(t *testing.T, f *c3d.File) {
		_, _, err := f.ZeroFrames()
		is(err, c3d.ErrZero, "ZeroFrames")(t)
	}), "the error comes when somebody asks for the range"},
	{116, "ZERO over loaded frames", fails(grf.ErrLoaded), captured(func(f *c3d.File) { f.Zero = [2]int{5, 12} }, `{"version": 1, "lab": {"target": "+y"}, "zero": "file"}`, nil),
		"refused instead of left alone with a warning: somebody has asked for the correction, and nothing else asks for it"},
	{117, "moments a thousand times too large", warns("moment-unit"), platesRow(func(f *c3d.File) { scaled(f, 1000, 3, 4, 5) }, nil), ""},
	{118, "a loaded plate with a negative vertical", warns("action-forces"), captured(func(f *c3d.File) {
		for c := range f.Channels {
			scaled(f, -1, c)
		}
	}, laboratory, func(t *testing.T, r *capture.Result) {
		if w := r.Recording.Lead[frames*perFrame-1]; w.Force.Z < 300 {
			t.Errorf("%v", w)
		}
	}), "the sign is settled by what the plates show under load, with a warning and a step; a setup can state it"},
	{119, "plates that nobody stands on", fails(grf.ErrNoData), captured(func(f *c3d.File) {
		for c := range f.Channels {
			clear(f.Channels[c].Values)
		}
	}, `{"version": 1, "lab": {"target": "+y"}, "plates": {"lead": [2], "trail": [1]}}`, nil), "plates by themselves (capture.Plates) give forces of 0 and no centre of pressure; a capture of a golfer needs one, and says that the sense can not be told"},
	{120, "a dead channel among eight", warns("dead-channel"), func(t *testing.T) ([]grf.Warning, error) {
		f := standing()
		for range 4 {
			f.Channels = append(f.Channels, f.Channels[2])
		}
		for i := range f.Channels[12:] {
			f.Channels[12+i].Label, f.Channels[12+i].Values = "z"+string(rune('1'+i)), slices.Clone(f.Channels[2].Values)
		}
		clear(f.Channels[14].Values)
		f.Plates[0] = c3d.PlateInfo{Type: 3, Corners: f.Plates[0].Corners, Origin: r3.Vec{X: 120, Y: 200, Z: -40}, Channels: []int{0, 1, 0, 1, 12, 13, 14, 15}}
		plates, warnings := capture.Plates(f, nil)
		return warnings, errors.Join(plates[0].Err, plates[1].Err)
	}, ""},
}

// Traps of C3D files that are about what plates measure, not about the format: the
// other 65 are tested where files are read.
func TestTrapsOfPlates(t *testing.T) {
	// 60: an ORIGIN of 0 for a plate of moments may be meant or not filled in.
	w, err := platesRow(func(f *c3d.File) { f.Plates[0].Origin = r3.Vec{} }, func(t *testing.T, p capture.FilePlate) {
		// The moments are then about the surface: off by depth × horizontal force.
		if x, y := local(t, p); math.Abs(x-0.0821428) > 1e-4 && math.Abs(y-0.118) > 2e-3 {
			t.Errorf("at (%.4f, %.4f) m", x, y)
		}
	})(t)
	if err != nil || !slices.ContainsFunc(w, func(w grf.Warning) bool { return w.Code == "origin-zero" }) {
		t.Errorf("trap 60: %v, %v", w, err)
	}
	// 61: channels 4 and 5 of type 1 are the point in POINT:UNITS, relative to the
	// centre, and the sixth is the free moment: M = point × F + Tz.
	_, err = platesRow(func(f *c3d.File) {
		f.Plates[0].Type = 1
		for i := range f.Channels[0].Values {
			for k, v := range []float64{10, -5, -350, 80, 120, 2000} {
				f.Channels[k].Values[i] = v
			}
		}
		f.Channels[3].Unit, f.Channels[4].Unit = "mm", "mm"
	}, func(t *testing.T, p capture.FilePlate) {
		inPlace(t, p)
		ws, err := p.Wrenches(nil)
		if err != nil {
			t.Fatal(err)
		}
		frame := p.Plate.Frame()
		free := r3.Dot(ws[20].About(frame.PointOut(r3.Vec{X: 0.08, Y: 0.12})), frame.Z)
		if math.Abs(free-2) > 1e-9 {
			t.Errorf("trap 61: free moment %g N·m", free)
		}
	})(t)
	if err != nil {
		t.Errorf("trap 61: %v", err)
	}
	// 63: whatever sign the channels have, a capture gives the ground's push.
	for _, sign := range []float64{1, -1} {
		_, err := captured(func(f *c3d.File) {
			for c := range f.Channels {
				scaled(f, sign, c)
			}
		}, laboratory, func(t *testing.T, r *capture.Result) {
			for _, w := range []grf.Wrench{r.Recording.Lead[40], r.Recording.Trail[40]} {
				if math.Abs(w.Force.Z-350) > 1e-9 {
					t.Errorf("trap 63: %v", w)
				}
			}
		})(t)
		if err != nil {
			t.Errorf("trap 63: %v", err)
		}
	}
	// 66: the centre of pressure lies in the plane of a plate that is not level.
	tilt := 0.2
	_, err = platesRow(func(f *c3d.File) {
		for i, c := range f.Plates[0].Corners {
			f.Plates[0].Corners[i] = r3.Vec{X: c.X * math.Cos(tilt), Y: c.Y, Z: 300 + c.X*math.Sin(tilt)}
		}
	}, func(t *testing.T, p capture.FilePlate) {
		inPlace(t, p)
		ws, err := p.Wrenches(nil)
		if err != nil {
			t.Fatal(err)
		}
		frame := p.Plate.Frame()
		got, _ := cop.OnPlane(ws[40], frame.Origin, frame.Z, 20)
		if want := frame.PointOut(r3.Vec{X: 0.08, Y: 0.12}); r3.Norm(r3.Sub(got, want)) > 1e-6 || got.Z < 0.3 {
			t.Errorf("trap 66: at %v, want %v", got, want)
		}
	})(t)
	if err != nil {
		t.Errorf("trap 66: %v", err)
	}
}
