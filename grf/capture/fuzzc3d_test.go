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

// fuzzFile is a small C3D file: two plates of a type, three points, an event.
func fuzzFile(typ int) []byte {
	f := &c3d.File{Rate: 50, SamplesPerFrame: 2, Units: "mm", Zero: [2]int{1, 6},
		Events: []c3d.Event{{Label: "impact", Context: "General", Time: 0.2}}}
	for i, label := range []string{"HEEL", "TOE", "HIP"} {
		p := c3d.Point{Label: label}
		for k := range 20 {
			p.Position = append(p.Position, r3.Vec{X: 100 * float64(i), Y: float64(k), Z: 900})
		}
		f.Points = append(f.Points, p)
	}
	n := grf.PlateType(typ).Channels()
	for p := range 2 {
		y := 600 * float64(p)
		info := c3d.PlateInfo{Type: typ, Origin: r3.Vec{X: 120, Y: 200, Z: -40},
			Corners: [4]r3.Vec{{X: 400, Y: 600 + y}, {X: 400, Y: y}, {Y: y}, {Y: 600 + y}}}
		for k := range n {
			info.Channels = append(info.Channels, len(f.Channels))
			c := c3d.Channel{Label: fmt.Sprintf("C%d.%d", p, k), Unit: "N", Scale: 1}
			if k > 2 && n == 6 {
				c.Unit = "Nmm"
			}
			for i := range 40 {
				v := 0.0
				if i > 14 {
					v = -300 - float64(k)
				}
				c.Values = append(c.Values, v)
			}
			f.Channels = append(f.Channels, c)
		}
		if typ == 4 {
			for i := range 6 {
				row := make([]float64, 6)
				row[i] = 2
				info.Calibration = append(info.Calibration, row)
			}
		}
		f.Plates = append(f.Plates, info)
	}
	b, err := c3d.Append(nil, f)
	if err != nil {
		panic(err)
	}
	return b
}

// FuzzReadC3D checks that no C3D file and no setup for it make Read panic, and that it
// returns a recording that can be worked on or an error that begins with the name;
// and the same of the plates of the file by themselves.
func FuzzReadC3D(f *testing.F) {
	two, three, four := fuzzFile(2), fuzzFile(3), fuzzFile(4)
	f.Add(two, `{"version": 1, "lab": {"up": "+z", "target": "+y"}}`)
	f.Add(three, `{"version": 1, "lab": {"target": "+y"}, "zero": "file", "plates": {"both": [1, 2]}}`)
	f.Add(four, `{"version": 1, "lab": {"target": "-x"}, "plates": {"lead": [1], "trail": [2], "change": [{"plate": 1, "top_cover": "1 cm", "origin_sign": "as_stated", "moment_unit": "N·m"}]}}`)
	f.Add(two, `{"version": 1, "lab": {"target": "+y"}, "golfer": {"handed": "left"}, "points": {"landmarks": {"pelvis": "HIP"}}, "com": {"model": "pelvis"}, "feet": {"lead": {"heel": "HEEL", "toe": "TOE", "width": "9 cm"}}}`)
	f.Add(two[:1600], `{"version": 1, "c3d": {"frame_rate": "3 Hz", "samples": "unsigned"}}`)
	f.Fuzz(func(t *testing.T, data []byte, setup string) {
		if len(data) > 1<<16 {
			return
		}
		s, err := ReadSetup(strings.NewReader(setup))
		if err != nil {
			s = &Setup{Version: Version}
		}
		r, err := Read("a.c3d", data, s, nil)
		if (r == nil) == (err == nil) {
			t.Fatalf("result %v and error %v", r != nil, err)
		}
		if err != nil && !strings.HasPrefix(err.Error(), "a.c3d: ") {
			t.Fatalf("%q", err)
		}
		if r != nil {
			if err := r.Recording.Check(); err != nil {
				t.Fatal(err)
			}
			if len(r.Steps) == 0 || len(r.Plates) == 0 {
				t.Fatal("no steps or plates")
			}
			for _, w := range r.Warnings {
				if w.Code == "" || w.Text == "" {
					t.Fatalf("%+v", w)
				}
			}
		}
		file, err := c3d.Decode(data, c3d.Options{})
		if err != nil {
			return
		}
		plates, _ := Plates(file, s.Plates.Change)
		for i, p := range plates {
			ws, err := p.Wrenches(nil)
			if (p.Err == nil) != (p.Plate != nil) || (err == nil) != (p.Err == nil) || p.Number != i+1 {
				t.Fatalf("plate %d: %v, %v", i+1, p.Err, err)
			}
			var place *PlateError
			if p.Err != nil && (!errors.As(p.Err, &place) || place.Number != i+1) {
				t.Fatalf("plate %d: an error without its number: %v", i+1, p.Err)
			}
			for _, w := range ws {
				if p.ForceOnly && !math.IsNaN(w.Moment.X) {
					t.Fatalf("plate %d: a moment out of nothing", i+1)
				}
			}
		}
	})
}
