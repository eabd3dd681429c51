package capture

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
)

const plain = `{"version": 1, "lab": {"target": "+y"}}`

// The same swing must come out whatever the laboratory, the hand, the order and
// the signs of the plates are.
func TestReadC3D(t *testing.T) {
	skew := r3.Unit(r3.Vec{X: 0.3, Y: 0.8, Z: 0.1})
	tests := []struct {
		name  string
		trial trial
		setup string
		warn  string
	}{
		{"plain", trial{}, plain, "feet-automatic"},
		{"stated feet", trial{}, `{"version": 1, "lab": {"target": "+y"}, "plates": {"lead": [1], "trail": [2]}}`, ""},
		{"left-handed", trial{hand: grf.LeftHanded}, `{"version": 1, "golfer": {"handed": "left"}, "lab": {"target": "+y"}}`, "feet-automatic"},
		{"target along -x", trial{target: r3.Vec{X: -1}}, `{"version": 1, "lab": {"target": "-x"}}`, "feet-automatic"},
		{"left-handed, target along -x", trial{hand: grf.LeftHanded, target: r3.Vec{X: -1}}, `{"version": 1, "golfer": {"handed": "left"}, "lab": {"target": "-x"}}`, "feet-automatic"},
		{"y up", trial{up: r3.Vec{Y: 1}, target: r3.Vec{Z: -1}}, `{"version": 1, "lab": {"target": "-z"}}`, "feet-automatic"},
		{"x up, stated", trial{up: r3.Vec{X: 1}, target: r3.Vec{Y: -1}}, `{"version": 1, "lab": {"up": "+x", "target": "-y"}}`, "feet-automatic"},
		{"sloping target", trial{target: skew}, fmt.Sprintf(`{"version": 1, "lab": {"up": "+z", "target": [%g, %g, %g]}}`, skew.X, skew.Y, skew.Z), "feet-automatic"},
		{"a leaning laboratory", trial{up: r3.Vec{X: 0.1, Z: 1}}, plain, "up-automatic feet-automatic"},
		{"far from the origin", trial{origin: r3.Vec{X: 3, Y: -2, Z: 0.4}}, plain, "feet-automatic"},
		{"stated origin", trial{origin: r3.Vec{X: 3, Y: -2}}, `{"version": 1, "lab": {"target": "+y", "origin": ["3 m", "-2 m", "0 m"]}}`, "feet-automatic"},
		{"trail plate first", trial{order: []int{1, 0}}, plain, "feet-automatic"},
		{"action", trial{sign: -1}, plain, "feet-automatic action-forces action-forces"},
		{"action, stated", trial{sign: -1}, `{"version": 1, "lab": {"target": "+y"}, "sense": "action"}`, "feet-automatic"},
		{"zeroed", trial{offset: [6]float64{3, -4, 20, 1, -2, 0.5}}, `{"version": 1, "lab": {"target": "+y"}, "zero": {"from": "0.02 s", "to": "0.38 s"}}`, "feet-automatic"},
		{"zeroed by the file", trial{offset: [6]float64{3, -4, 20, 1, -2, 0.5}, edit: func(f *c3d.File) { f.Zero = [2]int{1, 10} }}, `{"version": 1, "lab": {"target": "+y"}, "zero": "file"}`, "feet-automatic"},
		{"ORIGIN with the other sign", trial{originSign: -1}, plain, "origin-sign origin-sign feet-automatic"},
		{"two plates a foot", trial{halves: true}, `{"version": 1, "lab": {"target": "+y"}, "plates": {"lead": [1, 3], "trail": [2, 4]}}`, ""},
		{"one plate for both feet", trial{}, `{"version": 1, "lab": {"target": "+y"}, "plates": {"both": [1, 2]}}`, ""},
		{"metres", trial{metres: true}, plain, "feet-automatic"},
		{"a cover", trial{cover: 0.02}, `{"version": 1, "lab": {"target": "+y"}, "plates": {"change": [{"plate": 1, "top_cover": "20 mm"}, {"plate": 2, "top_cover": "2 cm"}]}}`, "feet-automatic"},
		{"channels in another order", trial{edit: func(f *c3d.File) {
			f.Channels[0], f.Channels[8] = f.Channels[8], f.Channels[0]
			f.Plates[0].Channels[0], f.Plates[1].Channels[2] = 8, 0
		}}, plain, "feet-automatic"},
		{"channels stated", trial{edit: func(f *c3d.File) { f.Plates[0].Channels = []int{6, 6, 6, 6, 6, 6} }},
			`{"version": 1, "lab": {"target": "+y"}, "plates": {"change": [{"plate": 1, "channels": ["Fx1", "fy1", 3, "Mx1", "5", "Mz1"]}]}}`, strings.Repeat("plate-channel-duplicate ", 5) + "feet-automatic"},
		{"length unit stated", trial{edit: func(f *c3d.File) { f.Units = "furlong" }}, `{"version": 1, "lab": {"target": "+y"}, "c3d": {"length_unit": "mm"}}`, "unit-unknown feet-automatic"},
		{"moment unit stated", trial{edit: func(f *c3d.File) {
			for i := range f.Channels {
				if i%6 >= 3 {
					f.Channels[i].Unit = "Nm" // a lie
				}
			}
		}}, `{"version": 1, "lab": {"target": "+y"}, "plates": {"change": [{"plate": 1, "moment_unit": "N·mm"}, {"plate": 2, "moment_unit": "N.mm"}]}}`, "feet-automatic"},
		{"another plate that can not be used", trial{edit: func(f *c3d.File) {
			p := f.Plates[0]
			p.Type = 21
			f.Plates = append(f.Plates, p)
		}}, plain, "plate-unusable feet-automatic"},
		{"another plate that is empty", trial{edit: func(f *c3d.File) {
			p := f.Plates[0]
			f.Channels = append(f.Channels, c3d.Channel{Label: "none", Unit: "N", Scale: 1, Values: make([]float64, trialSamples)})
			p.Channels = []int{12, 12, 12, 12, 12, 12}
			f.Plates = append(f.Plates, p)
		}}, plain, strings.Repeat("plate-channel-duplicate ", 5) + "channel-unit feet-automatic"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := read(t, "swing.c3d", tt.trial.c3d(t), tt.setup)
			tt.trial.check(t, r.Recording, 1e-3)
			if s := codes(r.Warnings); s != tt.warn {
				t.Errorf("warnings %q, want %q\n%v", s, tt.warn, r.Warnings)
			}
			if r.Recording.Handed != tt.trial.hand {
				t.Errorf("handed %v", r.Recording.Handed)
			}
			// The plates lie where they should, the lead foot's nearer the target.
			if p := r.Plates[0]; math.Abs(p.Corners[0].Y+p.Corners[2].Y-0.5) > 1e-6 || math.Abs(p.Corners[0].Z) > 1e-6 {
				t.Errorf("lead plate at %v", p.Corners)
			}
		})
	}
}

func TestReadSteps(t *testing.T) {
	tr := trial{sign: -1, offset: [6]float64{3, -4, 20, 1, -2, 0.5}}
	r := read(t, "swing.c3d", tr.c3d(t), `{"version": 1, "lab": {"target": "+y"}, "zero": {"to": "0.38 s"}}`)
	hasStep(t, r,
		"C3D file, intel real: 200 frames at 100 Hz, 12 channels at 500 Hz, 2 plates",
		"plate 2: type 2, 600 × 400 mm",
		"up is +z, from the plates, which lie level within 0.0°",
		"lead foot: plate 1; trail foot: plate 2, as plate 1 lies 500 mm nearer the target",
		"plate 1: zeroed over 0.000 to 0.380 s (191 samples); subtracted force (3.00, 4.00, -20.00) N",
		"plate 1: action by the sign under load (mean vertical -4",
		"golfer: right-handed, as nothing else is stated",
		"origin at (0.0000, 0.0000, 0.0000) m in the laboratory, the centre of the plates",
		"target along +y of the laboratory, as stated",
	)
	if r.Plates[0].Sense != grf.Action || r.Plates[0].Foot != "lead" || r.Plates[1].Foot != "trail" || math.Abs(r.Plates[0].Baseline.Mean[2]-20) > 1e-4 {
		t.Errorf("plates %+v", r.Plates)
	}
}

// The shapes that a C3D file gives to one and the same thing.
func TestReadEvents(t *testing.T) {
	tr := trial{edit: func(f *c3d.File) {
		f.Events = []c3d.Event{
			{Time: 1.25, Label: "Impact", Context: "General"},
			{Time: 1.25, Label: "IMPA", InHeader: true},
			{Time: 0.75, Label: "Strike", Context: "Left"},
			{Time: 0.8, Label: "Strike", Context: "Right"},
		}
	}}
	data := tr.c3d(t)
	tests := []struct{ name, fields, want string }{
		{"called like a mark", ``, "map[impact:1.25]"},
		{"none", `, "events": {}`, "map[]"},
		{"by a table", `, "events": {"impact": "top", "impa": "top", "left strike": "onset"}`, "map[onset:0.75 top:1.25]"},
		{"given marks win", `, "marks": {"impact": "1.3 s"}`, "map[impact:1.3]"},
		{"given marks win by number", `, "marks": {"P7": "1.3 s", "p4": "1.1 s"}`, "map[impact:1.3 top:1.1]"},
		{"by a table of numbers", `, "events": {"impact": "P4"}`, "map[top:1.25]"},
		{"given marks beside", `, "marks": {"top": "1100 ms"}`, "map[impact:1.25 top:1.1]"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := read(t, "swing.c3d", data, `{"version": 1, "lab": {"target": "+y"}`+tt.fields+`}`)
			for k, v := range r.Recording.Marks { // single precision in the file
				r.Recording.Marks[k] = math.Round(v*1e4) / 1e4
			}
			if s := fmt.Sprint(r.Recording.Marks); s != tt.want {
				t.Errorf("got %s, want %s", s, tt.want)
			}
		})
	}
}

func TestReadProcessing(t *testing.T) {
	data := trial{}.c3d(t)
	r := read(t, "swing.c3d", data, plain)
	if r.Processing != (Processing{}) {
		t.Errorf("nothing is asked, but %+v", r.Processing)
	}
	r = read(t, "swing.c3d", data, `{"version": 1, "lab": {"target": "+y"}, "golfer": {"mass": "80 kg", "stature": "1.8 m"},
		"filter": {"cutoff": "60 Hz", "order": 4}, "load_threshold": "30 N", "arm_threshold": "40 N", "gravity": "9.81 m/s²",
		"swing_plane": "45 deg", "quiet_stance": {"from": "0.5 s", "to": "1 s"}, "com": {"height": "1 m", "height_sd": "3 cm"}}`)
	want := Processing{Cutoff: 60, Order: 4, MinVertical: 30, MinArmForce: 40, Gravity: 9.81, SwingPlane: math.Pi / 4, QuietFrom: 0.5, QuietTo: 1, COMHeight: 1, COMHeightSD: 0.03}
	if r.Processing != want || r.Recording.Mass != 80 || r.Recording.Stature != 1.8 {
		t.Errorf("got %+v, %+v", r.Processing, r.Recording.Mass)
	}
	r = read(t, "swing.c3d", data, `{"version": 1, "lab": {"target": "+y"}, "filter": "none"}`)
	if r.Processing.Cutoff != -1 {
		t.Errorf("no filter gives a cut-off of %g", r.Processing.Cutoff)
	}
}

// Outlines of the feet from points of the file and from lengths.
func TestReadFeet(t *testing.T) {
	tr := trial{target: r3.Vec{X: -1}, origin: r3.Vec{X: 1, Y: 2}}
	axes := tr.axes(t)
	heel, toe := r3.Vec{X: -0.12, Y: 0.24}, r3.Vec{X: 0.15, Y: 0.3}
	tr.edit = func(f *c3d.File) {
		for _, p := range []struct {
			label string
			at    r3.Vec
		}{{"LHEE", heel}, {"LTOE", toe}} {
			path := make([]r3.Vec, f.Frames)
			for i := range path {
				v := r3.Scale(1000, axes.LabPoint(p.at))
				if i >= 50 {
					v.Z += 100 // the foot leaves its place
				}
				if i < 3 {
					v.X = math.NaN()
				}
				path[i] = v
			}
			f.Points = append(f.Points, c3d.Point{Label: p.label, Position: path})
		}
	}
	r := read(t, "swing.c3d", tr.c3d(t), `{"version": 1, "lab": {"target": "-x"}, "feet": {
		"lead": {"heel": "LHEE", "toe": "ltoe", "width": "95 mm"},
		"trail": {"heel": ["1.25 m", "2.13 m", "0 m"], "toe": ["1.28 m", "1.85 m", "0 m"], "width": "9 cm"}}}`)
	lead, trail := r.Processing.Lead, r.Processing.Trail
	if r3.Norm(r3.Sub(lead.Heel, heel)) > 1e-6 || r3.Norm(r3.Sub(lead.Toe, toe)) > 1e-6 || lead.Width != 0.095 {
		t.Errorf("lead %+v", lead)
	}
	if want := axes.Point(r3.Vec{X: 1.25, Y: 2.13}); r3.Norm(r3.Sub(trail.Heel, want)) > 1e-12 {
		t.Errorf("trail %+v, want heel %v", trail, want)
	}
	r = read(t, "swing.c3d", tr.c3d(t), `{"version": 1, "lab": {"target": "-x"}, "feet": {"at": "1 s", "axes": "swing", "lead": {"heel": "LHEE", "toe": "LTOE", "width": "9 cm"}, "trail": {"heel": ["0 m", "0 m", "0 m"], "toe": ["0.3 m", "0 m", "0 m"], "width": "9 cm"}}}`)
	if math.Abs(r.Processing.Lead.Heel.Z-0.1) > 1e-6 || r.Processing.Trail.Toe != (r3.Vec{X: 0.3}) {
		t.Errorf("at 1 s %+v %+v", r.Processing.Lead, r.Processing.Trail)
	}
}

// What a newcomer gets wrong: each mistake has one clear answer.
func TestReadErrors(t *testing.T) {
	good := trial{}
	tests := []struct {
		name  string
		trial trial
		setup string
		is    error
		path  string // of a SetupError
		says  string
	}{
		{"no target", good, `{"version": 1}`, ErrSetup, "lab.target", "missing"},
		{"target along up", good, `{"version": 1, "lab": {"target": "+z"}}`, grf.ErrAxes, "plates", "apart along the target"},
		{"target along up, feet stated", good, `{"version": 1, "lab": {"target": "+z"}, "plates": {"lead": [1], "trail": [2]}}`, grf.ErrAxes, "lab.target", "along up"},
		{"target across the feet", good, `{"version": 1, "lab": {"target": "+x"}}`, ErrSetup, "plates", "lab.target"},
		{"plates in millimetres said to be metres", trial{edit: func(f *c3d.File) { f.Units = "m" }}, plain, ErrSetup, "c3d.length_unit", "plate 1 would be 600 × 400 m large"},
		{"up along the plates", good, `{"version": 1, "lab": {"up": "+x", "target": "+y"}}`, ErrSetup, "lab.up", "90°"},
		{"plate that is not there", good, `{"version": 1, "lab": {"target": "+y"}, "plates": {"lead": [1], "trail": [3]}}`, ErrSetup, "plates.trail[0]", "has 2"},
		{"change of a plate that is not there", good, `{"version": 1, "lab": {"target": "+y"}, "plates": {"change": [{"plate": 3}]}}`, ErrSetup, "plates.change[0].plate", "has 2"},
		{"four loaded plates", trial{halves: true}, plain, ErrSetup, "plates", "4 of 4 plates carry load"},
		{"zero while loaded", good, `{"version": 1, "lab": {"target": "+y"}, "zero": {"from": "1 s", "to": "1.5 s"}}`, grf.ErrLoaded, "zero", "plate 1"},
		{"zero over the step onto the plate", good, `{"version": 1, "lab": {"target": "+y"}, "zero": {"to": "0.41 s"}}`, grf.ErrUnquiet, "zero", "standard deviation"},
		{"zero outside", good, `{"version": 1, "lab": {"target": "+y"}, "zero": {"to": "20 s"}}`, ErrSetup, "zero", "outside"},
		{"zero by a file that starts loaded", trial{loaded: true, edit: func(f *c3d.File) { f.Zero = [2]int{1, 10} }}, `{"version": 1, "lab": {"target": "+y"}, "zero": "file"}`, grf.ErrLoaded, "zero", "plate 1"},
		{"zero by a file that does not say when", good, `{"version": 1, "lab": {"target": "+y"}, "zero": "file"}`, c3d.ErrZero, "zero.method", "ZERO"},
		{"too few samples to zero", good, `{"version": 1, "lab": {"target": "+y"}, "zero": {"to": "0.01 s"}}`, grf.ErrWindow, "zero", "ten"},
		{"cut-off above half the rate", good, `{"version": 1, "lab": {"target": "+y"}, "filter": {"cutoff": "250 Hz"}}`, ErrSetup, "filter.cutoff", "half"},
		{"mark outside", good, `{"version": 1, "lab": {"target": "+y"}, "marks": {"impact": "2.5 s"}}`, ErrSetup, "marks.impact", "outside"},
		{"event that is not there", good, `{"version": 1, "lab": {"target": "+y"}, "events": {"Ball": "impact"}}`, ErrSetup, "events.Ball", "no such event"},
		{"event twice", trial{edit: func(f *c3d.File) {
			f.Events = []c3d.Event{{Time: 1, Label: "impact"}, {Time: 1.5, Label: "impact"}}
		}}, plain, ErrSetup, "marks", `"impact": "1.000 s"`},
		{"quiet stance outside", good, `{"version": 1, "lab": {"target": "+y"}, "quiet_stance": {"to": "3 s"}}`, ErrSetup, "quiet_stance", "outside"},
		{"foot from a point that is not there", good, `{"version": 1, "lab": {"target": "+y"}, "feet": {"lead": {"heel": "LHEE", "toe": "LTOE", "width": "9 cm"}}}`, ErrSetup, "feet.lead.heel", "LHEE"},
		{"foot in millimetres", good, `{"version": 1, "lab": {"target": "+y"}, "feet": {"lead": {"heel": ["0 m", "0 m", "0 m"], "toe": ["300 m", "0 m", "0 m"], "width": "9 cm"}}}`, ErrSetup, "feet.lead", "300.000 m long"},
		{"table settings for a C3D file", good, `{"version": 1, "lab": {"target": "+y"}, "table": {"axes": "lab"}}`, ErrSetup, "table", "C3D"},
		{"no other files", good, `{"version": 1, "lab": {"target": "+y"}, "com": {"file": "com.csv", "axes": "lab"}}`, ErrSetup, "com.file", "opened"},
		{"no plates", trial{edit: func(f *c3d.File) { f.Plates = nil }}, plain, ErrNoPlates, "", "none"},
		{"no plate that can be used", trial{edit: func(f *c3d.File) {
			for i := range f.Plates {
				f.Plates[i].Corners = [4]r3.Vec{}
			}
		}}, plain, grf.ErrCorners, "", "plate 2"},
		{"a stated plate that can not be used", trial{edit: func(f *c3d.File) { f.Plates[1].Corners = [4]r3.Vec{} }},
			`{"version": 1, "lab": {"target": "+y"}, "plates": {"lead": [1], "trail": [2]}}`, grf.ErrCorners, "", "plate 2: "},
		{"a plate without moments", trial{edit: func(f *c3d.File) {
			f.Plates = f.Plates[:1]
			f.Plates[0].Type, f.Plates[0].Channels, f.Plates[0].Origin = 3, []int{0, 1, 2, 3, 4, 5, 6, 7}, r3.Vec{}
		}}, plain, ErrMoments, "", "plate 1"},
		{"an empty plate, feet stated", trial{edit: func(f *c3d.File) {
			for i := range f.Channels {
				clear(f.Channels[i].Values)
			}
		}}, `{"version": 1, "lab": {"target": "+y"}, "plates": {"lead": [1], "trail": [2]}}`, grf.ErrNoData, "", "right plate"},
		{"unknown length unit", trial{edit: func(f *c3d.File) { f.Units = "furlong" }}, plain, c3d.ErrUnit, "c3d.length_unit", "mm"},
		{"plates that are not parallel", trial{edit: func(f *c3d.File) {
			c := &f.Plates[1].Corners
			for i := range c {
				c[i].X, c[i].Z = c[i].Z, c[i].X
			}
		}}, plain, ErrSetup, "lab.up", "not parallel"},
		{"unknown channel", good, `{"version": 1, "lab": {"target": "+y"}, "plates": {"lead": [1], "trail": [2], "change": [{"plate": 1, "channels": ["Fx1", "Fy1", "Fz11", "Mx1", "My1", "Mz1"]}]}}`, c3d.ErrPlateChannel, "", "Fz1"},
		{"too few channels", good, `{"version": 1, "lab": {"target": "+y"}, "plates": {"lead": [1], "trail": [2], "change": [{"plate": 1, "channels": ["Fx1"]}]}}`, grf.ErrChannels, "", "6"},
		{"a plate type with a matrix that is not there", good, `{"version": 1, "lab": {"target": "+y"}, "plates": {"lead": [1], "trail": [2], "change": [{"plate": 1, "type": 4}]}}`, grf.ErrCalibration, "", "plate 1"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r, err := Read("swing.c3d", tt.trial.c3d(t), readSetup(t, tt.setup), nil)
			if r != nil {
				t.Error("a result beside an error")
			}
			if err == nil {
				t.Fatal("no error")
			}
			var e *SetupError
			path := ""
			if errors.As(err, &e) {
				path = e.Path
			}
			if tt.is != grf.ErrAxes && !errors.Is(err, tt.is) || path != tt.path || !strings.Contains(err.Error(), tt.says) || !strings.HasPrefix(err.Error(), "swing.c3d: ") {
				t.Errorf("got %q at %q; want %q at %q", err, path, tt.says, tt.path)
			}
		})
	}
}

func TestReadWarnings(t *testing.T) {
	turned := func(f *c3d.File) { // corners the other way round
		for k := range f.Plates {
			c := &f.Plates[k].Corners
			c[0], c[1], c[2], c[3] = c[1], c[0], c[3], c[2]
		}
	}
	tests := []struct {
		name  string
		trial trial
		setup string
		want  string
	}{
		{"swapped feet", trial{}, `{"version": 1, "lab": {"target": "+y"}, "plates": {"lead": [2], "trail": [1]}}`, "feet-swapped"},
		{"target the wrong way round", trial{}, `{"version": 1, "lab": {"target": "-y"}, "plates": {"lead": [1], "trail": [2]}}`, "feet-swapped"},
		{"the wrong sense", trial{}, `{"version": 1, "lab": {"target": "+y"}, "sense": "action"}`, "feet-automatic sense-doubtful sense-doubtful"},
		{"origin in the wrong unit", trial{}, `{"version": 1, "lab": {"target": "+y", "origin": ["0 m", "0 m", "10 m"]}}`, "feet-automatic origin-far"},
		{"corners the other way round", trial{edit: turned}, `{"version": 1, "lab": {"target": "+y"}, "plates": {"lead": [1], "trail": [2]}}`, "plate-z-up plate-z-up action-forces action-forces"},
		{"moments in the wrong unit", trial{edit: func(f *c3d.File) { f.Channels[3].Unit, f.Channels[4].Unit = "Nm", "Nm" }}, plain, "moment-unit feet-automatic"},
		{"moments in the other wrong unit", trial{metres: true, edit: func(f *c3d.File) {
			for i := range f.Channels {
				if i%6 >= 3 {
					f.Channels[i].Unit = "Nmm"
				}
			}
			f.Plates[0].Origin.X, f.Plates[0].Origin.Z = 0, -1e-6
		}}, plain, "moment-unit feet-automatic"},
		{"plates in millimetres said to be centimetres", trial{edit: func(f *c3d.File) {
			f.Units = "cm"
			for i := range f.Channels {
				if i%6 >= 3 {
					f.Channels[i].Unit = ""
				}
			}
		}}, `{"version": 1, "lab": {"target": "+y"}, "plates": {"lead": [1], "trail": [2]}}`, "origin-large plate-size origin-large plate-size"},
		{"ORIGIN not stated", trial{edit: func(f *c3d.File) { f.Plates[0].Origin = r3.Vec{} }}, plain, "origin-zero feet-automatic"},
		{"one plate never loaded", trial{edit: func(f *c3d.File) { clear(f.Channels[8].Values) }}, `{"version": 1, "lab": {"target": "+y"}, "plates": {"lead": [1], "trail": [2]}}`, "unloaded"},
		{"plates of different sense", trial{edit: func(f *c3d.File) {
			for c := range 6 {
				for i := range f.Channels[c].Values {
					f.Channels[c].Values[i] *= -1
				}
			}
		}}, plain, "feet-automatic action-forces sense-mixed"},
		{"uneven plates", trial{edit: func(f *c3d.File) {
			for i := range f.Plates[0].Corners {
				f.Plates[0].Corners[i].Z += 30
			}
		}}, plain, "feet-automatic plates-uneven"},
		{"unit of force unknown", trial{edit: func(f *c3d.File) { f.Channels[0].Unit = "V" }}, plain, "channel-unit feet-automatic"},
		{"saturated", trial{edit: func(f *c3d.File) {
			f.Storage = c3d.Integer
			for i := range f.Channels {
				f.Channels[i].Scale = 20
			}
			f.Channels[2].Scale = 0.01
			for i := range f.Channels[2].Values {
				f.Channels[2].Values[i] = math.Max(f.Channels[2].Values[i], -327.67)
			}
		}}, plain, "saturated feet-automatic"},
		{"event outside", trial{edit: func(f *c3d.File) { f.Events = []c3d.Event{{Time: 5, Label: "impact"}} }}, plain, "event-range feet-automatic event-outside"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			r := read(t, "swing.c3d", tt.trial.c3d(t), tt.setup)
			if s := codes(r.Warnings); s != tt.want {
				t.Errorf("got %q, want %q\n%v", s, tt.want, r.Warnings)
			}
		})
	}
}

func TestReadFormats(t *testing.T) {
	tests := []struct {
		name string
		data []byte
		is   error
		says string
	}{
		{"empty.csv", nil, grf.ErrNoData, "empty.csv: "},
		{"empty.c3d", nil, grf.ErrNoData, "empty"},
		{"noise.dat", []byte("\x01\x02\x00\x04 and so on"), ErrFormat, "noise.dat: "},
		{"text.c3d", []byte("time[s],Fx[N]\n0,1\n"), c3d.ErrTooShort, "text.c3d: "},
		{"half.c3d", trial{}.c3d(t)[:700], nil, "half.c3d: "},
	}
	for _, tt := range tests {
		r, err := Read(tt.name, tt.data, nil, nil)
		if r != nil || err == nil || tt.is != nil && !errors.Is(err, tt.is) || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: got %v", tt.name, err)
		}
	}
	// Without its ending a C3D file is known by its content.
	if r := read(t, "capture", trial{}.c3d(t), plain); r.Recording.Len() != trialSamples {
		t.Error("not read")
	}
}
