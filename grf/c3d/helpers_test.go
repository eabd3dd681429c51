package c3d

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// small returns a File with a bit of everything: points with a gap, two type-2
// plates, events in both places and parameters of a group of its own. Its
// numbers survive single precision.
func small() *File {
	f := &File{
		Rate: 100, SamplesPerFrame: 4, FirstFrame: 1, Units: "mm", PointScale: 0.0625, Zero: [2]int{1, 2},
		Points: []Point{
			{Label: "HIP", Description: "greater trochanter"},
			{Label: "KNEE"},
			{Label: "HIPANGLE", Kind: Angle},
		},
		Events: []Event{
			{Label: "TOP", Time: 0.0625, InHeader: true},
			{Label: "IMP", Time: 0.09375, InHeader: true, Off: true},
			{Label: "Foot Strike", Context: "Right", Time: 0.03125, Icon: 1},
			{Label: "Foot Off", Context: "Left", Description: "toe", Subject: "A", Time: 0.109375},
		},
	}
	const frames = 12
	nan := math.NaN()
	for i := range f.Points {
		p := &f.Points[i]
		for k := range frames {
			p.Position = append(p.Position, r3.Vec{X: 100*float64(i) + float64(k), Y: -0.5 * float64(k), Z: 900})
			p.Residual = append(p.Residual, 0.0625*float64(k))
			p.Cameras = append(p.Cameras, uint8(k))
		}
	}
	f.Points[1].Position[5] = r3.Vec{X: nan, Y: nan, Z: nan}
	f.Points[1].Residual[5], f.Points[1].Cameras[5] = nan, 0
	for p := range 2 {
		y := 600 * float64(p)
		plate := PlateInfo{Type: 2, Origin: r3.Vec{X: 1, Y: -2, Z: -40},
			Corners: [4]r3.Vec{{X: 400, Y: 600 + y}, {X: 400, Y: y}, {X: 0, Y: y}, {X: 0, Y: 600 + y}}}
		for k, name := range []string{"Fx", "Fy", "Fz", "Mx", "My", "Mz"} {
			plate.Channels = append(plate.Channels, len(f.Channels))
			c := Channel{Label: fmt.Sprintf("%s%d", name, p+1), Unit: "N", Scale: -0.5, Offset: 2}
			if k >= 3 {
				c.Unit, c.Description = "Nmm", "about the sensor"
			}
			for i := range frames * 4 {
				c.Values = append(c.Values, -0.5*float64(i-20*k-5*p))
			}
			f.Channels = append(f.Channels, c)
		}
		f.Plates = append(f.Plates, plate)
	}
	f.Groups = Groups{{Name: "POINT"}, {Name: "ANALOG"}, {Name: "FORCE_PLATFORM"}, {Name: "EVENT"}}
	f.Groups.Set("SUBJECTS", NewText("NAMES", "Ada", "Bo"))
	f.Groups.Set("SUBJECTS", NewFloats("MASS", nil, 71.5))
	return f
}

func encode(t testing.TB, f *File) []byte {
	t.Helper()
	b, err := Append(nil, f)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func decode(t testing.TB, b []byte, opt Options) *File {
	t.Helper()
	f, err := Decode(b, opt)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// codes returns the codes of the warnings, each once, in their order.
func codes(f *File) []string {
	var list []string
	for _, w := range f.Warnings {
		if !slices.Contains(list, w.Code) {
			list = append(list, w.Code)
		}
	}
	return list
}

// warned checks that reading warned of these things and of nothing else, each
// at a place.
func warned(t testing.TB, f *File, want ...string) {
	t.Helper()
	got := codes(f)
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("warned of %v, want %v; all: %v", got, want, f.Warnings)
	}
	for _, w := range f.Warnings {
		if w.Where == "" || w.Text == "" {
			t.Errorf("warning without a place or a text: %+v", w)
		}
	}
}

// differ tells where two files differ in what they mean, "" when they do not.
func differ(a, b *File) string {
	var d strings.Builder
	say := func(format string, args ...any) {
		if d.Len() < 1000 {
			fmt.Fprintf(&d, format+"\n", args...)
		}
	}
	eq := func(what string, x, y any) {
		if x != y {
			say("%s: %v and %v", what, x, y)
		}
	}
	eq("processor", a.Processor, b.Processor)
	eq("storage", a.Storage, b.Storage)
	eq("unsigned", a.Unsigned, b.Unsigned)
	eq("rate", a.Rate, b.Rate)
	eq("frames", a.Frames, b.Frames)
	eq("samples per frame", a.SamplesPerFrame, b.SamplesPerFrame)
	if a.Frames > 0 {
		eq("first frame", a.FirstFrame, b.FirstFrame)
	}
	eq("units", a.Units, b.Units)
	eq("zero", a.Zero, b.Zero)
	if a.PointScale != 0 {
		eq("point scale", a.PointScale, b.PointScale)
	}
	eq("general scale", a.GenScale, b.GenScale)
	eq("points", len(a.Points), len(b.Points))
	eq("channels", len(a.Channels), len(b.Channels))
	eq("trailing", string(a.Trailing), string(b.Trailing))
	if !samePlates(a.Plates, b.Plates) {
		say("plates: %+v and %+v", a.Plates, b.Plates)
	}
	if !sameEvents(a.Events, b.Events) {
		say("events: %+v and %+v", a.Events, b.Events)
	}
	if d.Len() > 0 {
		return d.String()
	}
	for i := range a.Points {
		p, q := &a.Points[i], &b.Points[i]
		eq("label", p.Label, q.Label)
		eq("description", p.Description, q.Description)
		eq("unit", p.Unit, q.Unit)
		eq("kind", p.Kind, q.Kind)
		for k := range p.Position {
			if !sameVec(p.Position[k], q.Position[k]) || !sameFloat(p.Residual[k], q.Residual[k]) || p.Cameras[k] != q.Cameras[k] {
				say("point %d frame %d: %v %g %b and %v %g %b", i, k, p.Position[k], p.Residual[k], p.Cameras[k], q.Position[k], q.Residual[k], q.Cameras[k])
			}
		}
	}
	for i := range a.Channels {
		c, e := &a.Channels[i], &b.Channels[i]
		eq("channel", c.Label+"|"+c.Unit+"|"+c.Description, e.Label+"|"+e.Unit+"|"+e.Description)
		if !sameFloat(c.Scale, e.Scale) || !sameFloat(c.Offset, e.Offset) {
			say("channel %d: scale %g offset %g and %g %g", i, c.Scale, c.Offset, e.Scale, e.Offset)
		}
		for k := range c.Values {
			if !sameFloat(c.Values[k], e.Values[k]) {
				say("channel %d sample %d: %g and %g", i, k, c.Values[k], e.Values[k])
			}
		}
	}
	return d.String()
}

// param returns the offset of the record of a parameter in a file.
func param(t testing.TB, b []byte, group, name string) int {
	t.Helper()
	f := decode(t, b, Options{WithoutSamples: true})
	p := f.Groups.Find(group, name)
	if p == nil {
		t.Fatalf("no %s:%s", group, name)
	}
	return p.offset
}

// valueAt returns the offset of the value of a parameter in a file.
func valueAt(t testing.TB, b []byte, group, name string) int {
	t.Helper()
	at := param(t, b, group, name)
	pointer := at + 2 + int(max(int8(b[at]), -int8(b[at])))
	return pointer + 4 + int(b[pointer+3])
}

// edit returns a copy of b with bytes at an offset replaced.
func edit(b []byte, at int, with ...byte) []byte {
	b = bytes.Clone(b)
	copy(b[at:], with)
	return b
}
