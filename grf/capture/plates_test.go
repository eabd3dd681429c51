package capture

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/units"
)

func TestSIFactor(t *testing.T) {
	tests := []struct {
		unit string
		k    kind
		want float64 // 0: unknown
	}{
		// As files spell them.
		{"N", force, 1}, {"nt", force, 1}, {"Newtons", force, 1}, {"newton", force, 1}, {"kN", force, 1000}, {"lbf", force, 4.4482216152605},
		{"Nmm", moment, 0.001}, {"ntmm", moment, 0.001}, {"N.mm", moment, 0.001}, {"N-mm", moment, 0.001}, {"nm", moment, 1}, {"Nm", moment, 1},
		{"N*m", moment, 1}, {"N·m", moment, 1}, {"Newton-meters", moment, 1}, {"Ncm", moment, 0.01}, {"Newton millimeters", moment, 0.001},
		{"mm", length, 0.001}, {"cm", length, 0.01}, {"m", length, 1},
		{"V", force, 0}, {"d.u.", force, 0}, {"ADC", force, 0}, {"", force, 0}, {"N", moment, 0}, {"N", length, 0}, {"Nmm", force, 0}, {"none", force, 0},
	}
	for _, tt := range tests {
		got, ok := siFactor(tt.unit, tt.k)
		if ok != (tt.want != 0) || math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("%q as %v: got %g, %v; want %g", tt.unit, tt.k, got, ok, tt.want)
		}
	}
}

// plate is a C3D file in memory with one plate of the given channels, 500 × 500
// mm about the origin, z down, and a load of 400 N for the moment checks.
func plateFile(typ int, channels [][]float64) *c3d.File {
	f := &c3d.File{Storage: c3d.Real, Rate: 100, SamplesPerFrame: 1, Frames: len(channels[0]), Units: "mm"}
	info := c3d.PlateInfo{Type: typ, Corners: [4]r3.Vec{{X: 250, Y: -250}, {X: -250, Y: -250}, {X: -250, Y: 250}, {X: 250, Y: 250}}, Origin: r3.Vec{X: 120, Y: 200, Z: -40}}
	for i, v := range channels {
		info.Channels = append(info.Channels, i)
		f.Channels = append(f.Channels, c3d.Channel{Label: "c", Scale: 1, Values: v})
	}
	f.Plates = []c3d.PlateInfo{info}
	return f
}

// Corner sensors at (±120, ±200) mm, 40 mm under the surface, in every type that
// has them: 100 N down on each, and 10 N along x on those at y > 0. By hand: the
// force is (20, 0, 400) in plate axes, the moment about the surface centre is
// (0, 20 N · 0.04 m, −20 N · 0.2 m).
func TestPlatesSensors(t *testing.T) {
	one := func(v ...float64) (c [][]float64) {
		for _, x := range v {
			c = append(c, []float64{x, x})
		}
		return c
	}
	identity := func(n int) (m [][]float64) {
		for i := range n {
			row := make([]float64, n)
			row[i] = 2 // the channels are halved below
			m = append(m, row)
		}
		return m
	}
	want := grf.Wrench{Force: r3.Vec{X: 20, Z: 400}, Moment: r3.Vec{Y: 0.8, Z: -4}}
	tests := []struct {
		typ      int
		channels [][]float64
		matrix   [][]float64
	}{
		{3, one(20, 0, 0, 0, 100, 100, 100, 100), nil},
		{7, one(10, 0, 0, 0, 50, 50, 50, 50), identity(8)},
		{6, one(5, 0, 50, 5, 0, 50, 0, 0, 50, 0, 0, 50), identity(12)},
	}
	for _, tt := range tests {
		f := plateFile(tt.typ, tt.channels)
		f.Plates[0].Calibration = tt.matrix
		plates, _ := Plates(f, nil)
		if plates[0].Err != nil {
			t.Fatal(plates[0].Err)
		}
		ws, err := plates[0].Wrenches(nil)
		if err != nil {
			t.Fatal(err)
		}
		// Plate axes: x along x of the laboratory, y and z against it.
		got := plates[0].Plate.Frame().WrenchIn(ws[0])
		if d := got.Sub(want); r3.Norm(d.Force)+r3.Norm(d.Moment) > 1e-12 {
			t.Errorf("type %d: got %v, want %v", tt.typ, got, want)
		}
	}
	// Type 5: eight raw channels, a matrix makes force and moment of them, the
	// latter in the file's N·mm about the sensors' plane.
	f := plateFile(5, one(20, 0, 0, 0, 100, 100, 100, 100))
	f.Plates[0].Calibration = [][]float64{
		{1, 1, 0, 0, 0, 0, 0, 0}, {0, 0, 1, 1, 0, 0, 0, 0}, {0, 0, 0, 0, 1, 1, 1, 1},
		{0, 0, 0, 0, 200, 200, -200, -200}, {0, 0, 0, 0, -120, 120, 120, -120}, {-200, 200, 120, -120, 0, 0, 0, 0}}
	f.Plates[0].Origin = r3.Vec{Z: -40}
	plates, _ := Plates(f, nil)
	ws, err := plates[0].Wrenches(nil)
	if err != nil {
		t.Fatal(err)
	}
	if d := plates[0].Plate.Frame().WrenchIn(ws[0]).Sub(want); r3.Norm(d.Force)+r3.Norm(d.Moment) > 1e-12 {
		t.Errorf("type 5: off by %v", d)
	}
}

// A plate that can not be used says why, and the others stay.
func TestPlatesErrors(t *testing.T) {
	six := [][]float64{{0}, {0}, {-400}, {0}, {0}, {0}}
	tests := []struct {
		name   string
		edit   func(f *c3d.File)
		change PlateChange
		want   error
	}{
		{"type", func(f *c3d.File) { f.Plates[0].Type = 21 }, PlateChange{}, grf.ErrPlateType},
		{"corners", func(f *c3d.File) { f.Plates[0].Corners = [4]r3.Vec{} }, PlateChange{}, grf.ErrCorners},
		{"corners not stated", func(f *c3d.File) { f.Plates[0].Corners[0].X = math.NaN() }, PlateChange{}, grf.ErrCorners},
		{"channel not stored", func(f *c3d.File) { f.Plates[0].Channels[0] = -1 }, PlateChange{}, c3d.ErrPlateChannel},
		{"too few channels", func(f *c3d.File) { f.Plates[0].Channels = f.Plates[0].Channels[:5] }, PlateChange{}, grf.ErrChannels},
		{"no samples", func(f *c3d.File) { f.Channels[2].Values = nil }, PlateChange{}, grf.ErrNoData},
		{"no scale", func(f *c3d.File) { f.Channels[2].Values = []float64{math.NaN()} }, PlateChange{}, grf.ErrChannels},
		{"no matrix", func(f *c3d.File) { f.Plates[0].Type = 4 }, PlateChange{}, grf.ErrCalibration},
		{"half a matrix", func(f *c3d.File) {
			f.Plates[0].Type, f.Plates[0].Calibration = 4, [][]float64{{1, 0, 0, 0, 0, 0}}
		}, PlateChange{}, grf.ErrCalibration},
		{"unit of length", func(f *c3d.File) { f.Units = "" }, PlateChange{}, c3d.ErrUnit},
		{"cover of nothing", func(f *c3d.File) {}, PlateChange{Plate: 1, Geometry: Geometry{TopCover: units.Length(math.NaN())}}, grf.ErrOrigin},
	}
	for _, tt := range tests {
		f := plateFile(2, six)
		f.Plates = append(f.Plates, f.Plates[0])
		f.Plates[1].Channels = []int{0, 1, 2, 3, 4, 5}
		f.Channels = append(f.Channels, f.Channels...)
		f.Plates[0].Channels = []int{6, 7, 8, 9, 10, 11}
		tt.edit(f)
		if tt.name == "no samples" || tt.name == "no scale" {
			f.Channels[2], f.Channels[8] = f.Channels[8], f.Channels[2]
		}
		var changes []PlateChange
		if tt.change.Plate != 0 {
			changes = append(changes, tt.change)
		}
		plates, warnings := Plates(f, changes)
		var e *PlateError
		if !errors.Is(plates[0].Err, tt.want) || !errors.As(plates[0].Err, &e) || e.Number != 1 {
			t.Errorf("%s: got %v", tt.name, plates[0].Err)
		}
		if _, err := plates[0].Wrenches(nil); err == nil || plates[0].Plate != nil {
			t.Errorf("%s: wrenches of a plate that can not be used", tt.name)
		}
		if tt.want != c3d.ErrUnit && plates[1].Err != nil {
			t.Errorf("%s: the other plate: %v", tt.name, plates[1].Err)
		}
		if !strings.Contains(codes(warnings), "plate-unusable") {
			t.Errorf("%s: no warning", tt.name)
		}
	}
}

func TestPlatesChanges(t *testing.T) {
	six := [][]float64{{20}, {0}, {-400}, {1000}, {2000}, {0}}
	corner := func(x, y float64) Position { return Position{units.Length(x), units.Length(y), 0} }
	surface := func(f *c3d.File, c PlateChange) (grf.Wrench, string) {
		t.Helper()
		c.Plate = 1
		plates, warnings := Plates(f, []PlateChange{c})
		if plates[0].Err != nil {
			t.Fatal(plates[0].Err)
		}
		ws, err := plates[0].Wrenches(nil)
		if err != nil {
			t.Fatal(err)
		}
		return ws[0], codes(warnings)
	}
	base := grf.Wrench{Force: r3.Vec{X: 20, Z: -400}, Moment: r3.Vec{X: 1, Y: 2}}
	toLab := func(w grf.Wrench) grf.Wrench { // y and z of the plate point the other way
		return grf.Wrench{Force: r3.Vec{X: w.Force.X, Y: -w.Force.Y, Z: -w.Force.Z}, Moment: r3.Vec{X: w.Moment.X, Y: -w.Moment.Y, Z: -w.Moment.Z}}
	}
	plain := func(o r3.Vec) grf.Wrench { return toLab(base.MovedTo(o)) }
	tests := []struct {
		name   string
		change PlateChange
		origin r3.Vec // in the file, mm
		want   grf.Wrench
		warn   string
	}{
		{"nothing", PlateChange{}, r3.Vec{X: 1, Y: 2, Z: -40}, plain(r3.Vec{X: 0.001, Y: 0.002, Z: -0.04}), ""},
		{"reversed by itself", PlateChange{}, r3.Vec{X: 1, Y: 2, Z: 40}, plain(r3.Vec{X: -0.001, Y: -0.002, Z: -0.04}), "origin-sign"},
		{"as stated", PlateChange{OriginSign: "as_stated"}, r3.Vec{X: 1, Y: 2, Z: 40}, plain(r3.Vec{X: 0.001, Y: 0.002, Z: 0.04}), ""},
		{"reversed", PlateChange{OriginSign: "reversed"}, r3.Vec{X: 1, Y: 2, Z: -40}, plain(r3.Vec{X: -0.001, Y: -0.002, Z: 0.04}), ""},
		{"not stated", PlateChange{}, r3.Vec{X: math.NaN(), Y: math.NaN(), Z: math.NaN()}, plain(r3.Vec{}), "origin-missing origin-zero"},
		{"another", PlateChange{Geometry: Geometry{Origin: &Position{0.003, 0, -0.02}}}, r3.Vec{Z: 40}, plain(r3.Vec{X: 0.003, Z: -0.02}), ""},
		{"sense", PlateChange{Geometry: Geometry{Sense: "action"}}, r3.Vec{Z: -40}, plain(r3.Vec{Z: -0.04}).Scale(-1), ""},
		{"scale", PlateChange{Geometry: Geometry{ChannelScale: []float64{2, 2, 2, 2, 2, 2}}}, r3.Vec{Z: -40}, plain(r3.Vec{Z: -0.04}).Scale(2), ""},
		{"moment unit", PlateChange{MomentUnit: "N·m"}, r3.Vec{Z: -40},
			toLab(grf.Wrench{Force: base.Force, Moment: r3.Scale(1000, base.Moment)}.MovedTo(r3.Vec{Z: -0.04})), ""},
		// Half a turn of the corners: x and y change sign.
		{"corners", PlateChange{Geometry: Geometry{Corners: &[4]Position{corner(-.25, .25), corner(.25, .25), corner(.25, -.25), corner(-.25, -.25)}}}, r3.Vec{Z: -40},
			func() grf.Wrench {
				w := plain(r3.Vec{Z: -0.04})
				return grf.Wrench{Force: r3.Vec{X: -w.Force.X, Y: -w.Force.Y, Z: w.Force.Z}, Moment: r3.Vec{X: -w.Moment.X, Y: -w.Moment.Y, Z: w.Moment.Z}}
			}(), ""},
	}
	for _, tt := range tests {
		f := plateFile(2, six)
		f.Plates[0].Origin = tt.origin
		got, warn := surface(f, tt.change)
		if d := got.Sub(tt.want); !(r3.Norm(d.Force)+r3.Norm(d.Moment) < 1e-9) {
			t.Errorf("%s: got %v, want %v", tt.name, got, tt.want)
		}
		if warn != tt.warn {
			t.Errorf("%s: warnings %q, want %q", tt.name, warn, tt.warn)
		}
	}
	// A cover lies on the plate: the wrench in the laboratory stays, the surface
	// rises.
	f := plateFile(2, six)
	plates, _ := Plates(f, []PlateChange{{Plate: 1, Geometry: Geometry{TopCover: 0.02}}})
	ws, err := plates[0].Wrenches(nil)
	if err != nil {
		t.Fatal(err)
	}
	if d := ws[0].Sub(plain(r3.Vec{X: 0.12, Y: 0.2, Z: -0.04})); r3.Norm(d.Force)+r3.Norm(d.Moment) > 1e-12 || math.Abs(plates[0].Plate.Frame().Origin.Z-0.02) > 1e-12 {
		t.Errorf("cover: off by %v, surface at %v", d, plates[0].Plate.Frame().Origin)
	}
}

// Files in circulation: with a setup each gives a recording or one clear error.
func TestPublicFiles(t *testing.T) {
	root := datasets(t)
	tests := []struct{ file, setup, says string }{
		{"bmc/Gait.c3d", `"lab": {"target": "+y"}`, ""},
		{"sample01/Eb015pi.c3d", `"lab": {"target": "+y"}`, ""},
		{"sample01/Eb015sr.c3d", `"lab": {"target": "-y"}, "zero": "file"`, ""},
		{"sample15/FP1.C3D", `"lab": {"target": "+x"}`, "plate without moments"},
		{"sample18/bad_parameter_section.c3d", `"lab": {"target": "+x"}`, "1 of 2 plates carry load"},
		{"sample24/MotionMonitorC3D.c3d", `"lab": {"target": "+x"}`, ""},
		{"sample28/type1.C3D", `"lab": {"target": "+x"}`, ""},
		{"others/ADemo1_rewrite_c3d_pc_integer.c3d", `"lab": {"target": "+x"}`, ""},
		{"others/shd01.c3d", `"lab": {"target": "+x"}`, "1 of 1 plates carry load"},
		{"others/shd01.c3d", `"lab": {"target": "+x"}, "plates": {"both": [1]}`, ""},
		{"others/shd01.c3d", `"lab": {"target": "+x"}, "plates": {"both": [2]}`, "not in the file"},
		{"others/Analysis.c3d", `"lab": {"target": "+x"}`, "no usable force plate"},
		{"others/Empty.c3d", `"lab": {"target": "+x"}`, "empty"},
		{"synthetic/syn_type2_real_intel.c3d", `"lab": {"target": "+x"}`, ""},
		{"synthetic/syn_type4_int_unsigned_mips.c3d", `"lab": {"target": "+x"}`, ""},
		{"synthetic/syn_type3_real_dec.c3d", `"lab": {"target": "+x"}`, ""},
		{"synthetic/syn_type2_real_intel.c3d", `"lab": {"target": "+y"}`, "apart along the target"},
		{"synthetic/syn_not_c3d.c3d", `"lab": {"target": "+x"}`, "C3D"},
		{"synthetic/syn_cut_in_parameters.c3d", `"lab": {"target": "+x"}`, "no usable force plate"},
	}
	for _, tt := range tests {
		data, err := os.ReadFile(filepath.Join(root, "c3d", tt.file))
		if err != nil {
			t.Fatal(err)
		}
		r, err := Read(tt.file, data, readSetup(t, `{"version": 1, `+tt.setup+`}`), nil)
		switch {
		case tt.says == "" && err != nil:
			t.Error(err)
		case tt.says != "" && (err == nil || !strings.Contains(err.Error(), tt.says)):
			t.Errorf("%s with %s: got %v, want %q", tt.file, tt.setup, err, tt.says)
		case tt.says == "":
			t.Logf("%s\n  %s\n  %v", tt.file, strings.Join(r.Steps, "\n  "), r.Warnings)
		}
	}
}
