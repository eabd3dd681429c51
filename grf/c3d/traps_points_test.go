package c3d

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// reals returns the bytes of Intel floats.
func reals(v ...float64) []byte {
	var b []byte
	for _, x := range v {
		b = binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(x)))
	}
	return b
}

// withPoint is small with the four stored numbers of its first point in frame 0
// replaced.
func withPoint(t testing.TB, x, y, z, w float64) []byte {
	b := encode(t, small())
	return edit(b, decode(t, b, Options{}).Layout.DataStart, reals(x, y, z, w)...)
}

// onePoint reads such a file and returns its first point in frame 0.
func onePoint(t testing.TB, b []byte, opt Options, want ...string) (r3.Vec, float64, uint8) {
	t.Helper()
	f := decode(t, b, opt)
	warned(t, f, want...)
	p := f.Points[0]
	if p.Position[1] != small().Points[0].Position[1] {
		t.Error("the next frame is not what it was")
	}
	rewrite(t, f)
	return p.Position[0], p.Residual[0], p.Cameras[0]
}

func missing(v r3.Vec) bool { return math.IsNaN(v.X) && math.IsNaN(v.Y) && math.IsNaN(v.Z) }

var pointTraps = []trap{
	{31, "the sign of the scale", func(t *testing.T) {
		for _, s := range []Storage{Real, Integer} {
			f := small()
			f.Storage = s
			b := encode(t, f)
			sign := map[Storage]float64{Real: -1, Integer: 1}[s]
			other := float(b, 7, -sign*0.0625) // the header's sign is wrong
			g := decode(t, other, Options{})
			warned(t, g, CodeScaleSign)
			g.Storage = Real
			sameData(t, g)
			at := valueAt(t, b, "POINT", "SCALE")
			g = decode(t, edit(b, at, reals(-sign*0.0625)...), Options{}) // the parameter's is
			warned(t, g, CodeScaleSign)
			g.Storage = Real
			sameData(t, g)
			g = decode(t, float(b, 7, sign*0.5), Options{}) // magnitudes differ
			warned(t, g, CodeScaleMismatch)
			g.Storage = Real
			sameData(t, g)
			// Neither sign fits a file that was cut.
			l := g.Layout
			fails(t, other[:l.DataStart+3*l.FrameBytes], Options{}, ErrLayout)
		}
		// Scale 0 or NaN: no positions from integers, the channels stay.
		f := small()
		f.Storage = Integer
		b := encode(t, f)
		for _, v := range []float64{0, math.NaN()} {
			c := float(edit(b, valueAt(t, b, "POINT", "SCALE"), reals(v)...), 7, v)
			g := decode(t, c, Options{})
			warned(t, g, CodeScale, CodePoints)
			checkError(t, g.PointsErr, ErrScale)
			if len(g.Points) != 0 || g.Layout.DeclaredPoints != 3 || !slices.Equal(g.Channels[1].Values, small().Channels[1].Values) {
				t.Errorf("scale %g: %d points", v, len(g.Points))
			}
			if _, err := Append(nil, g); err == nil {
				t.Error("points that could not be read are dropped by writing")
			}
			b := encode(t, small())
			c = float(edit(b, valueAt(t, b, "POINT", "SCALE"), reals(v)...), 7, v)
			g = decode(t, c, Options{})
			warned(t, g, CodeScale)
			if g.Points[0].Position[3] != small().Points[0].Position[3] {
				t.Error("real positions depend on the scale")
			}
		}
	}, ""},
	{32, "the fourth number", func(t *testing.T) {
		v, r, c := onePoint(t, withPoint(t, 1, 2, 3, 0x5a03), Options{})
		if v != (r3.Vec{X: 1, Y: 2, Z: 3}) || r != 3*0.0625 || c != 0x5a {
			t.Errorf("got %v, residual %g, cameras %b", v, r, c)
		}
		if _, r, c = onePoint(t, withPoint(t, 1, 2, 3, 259.7), Options{}, CodeResidualFraction); r != 4*0.0625 || c != 1 {
			t.Errorf("259.7: residual %g, cameras %b", r, c)
		}
		if _, r, c = onePoint(t, withPoint(t, 1, 2, 3, 0x8102), Options{}, CodeResidualRange); r != 2*0.0625 || c != 1 {
			t.Errorf("0x8102: residual %g, cameras %b", r, c)
		}
		f := small()
		f.Storage = Integer
		b := encode(t, f)
		at := decode(t, b, Options{}).Layout.DataStart + 6
		g := decode(t, edit(b, at, 0x03, 0x5a), Options{Strict: true})
		if g.Points[0].Residual[0] != 3*0.0625 || g.Points[0].Cameras[0] != 0x5a {
			t.Errorf("integer: residual %g, cameras %b", g.Points[0].Residual[0], g.Points[0].Cameras[0])
		}
	}, ""},
	{33, "invalid points", func(t *testing.T) {
		for _, w := range []float64{-1, -16512, -0.5, math.Inf(-1)} {
			v, r, c := onePoint(t, withPoint(t, 1, 2, 3, w), Options{})
			if !missing(v) || !math.IsNaN(r) || c != 0 {
				t.Errorf("%g: got %v, residual %g, cameras %b", w, v, r, c)
			}
		}
		nan, inf := math.NaN(), math.Inf(1)
		for _, c := range []struct {
			x, y, z, w float64
			code       string
		}{
			{nan, 2, 3, 0, CodeNaNPoint}, {1, nan, 3, 5, CodeNaNPoint}, {1, 2, 3, nan, CodeNaNPoint},
			{inf, 2, 3, 0, CodeInfPoint}, {1, 2, -inf, 0, CodeInfPoint},
			{9999999, 9999999, 9999999, 0, CodeSentinel},
		} {
			if v, r, _ := onePoint(t, withPoint(t, c.x, c.y, c.z, c.w), Options{}, c.code); !missing(v) || !math.IsNaN(r) {
				t.Errorf("%v: got %v, residual %g", c, v, r)
			}
		}
		if v, _, _ := onePoint(t, withPoint(t, 9999999, 2, 3, 0), Options{}); v.X != 9999999 {
			t.Errorf("a single large coordinate: %v", v)
		}
		b := withPoint(t, 0, 0, 0, 0)
		if v, _, _ := onePoint(t, b, Options{}); v != (r3.Vec{}) {
			t.Errorf("the origin is a place: %v", v)
		}
		if v, _, _ := onePoint(t, b, Options{ZeroIsMissing: true}); !missing(v) {
			t.Errorf("the origin, not wanted: %v", v)
		}
		// Gaps survive, and are written as 0, 0, 0, −1.
		f := small()
		f.Points[0].Position[0].Y = inf
		c := encode(t, f)
		start := decode(t, c, Options{}).Layout.DataStart
		if !bytes.Equal(c[start:start+16], reals(0, 0, 0, -1)) {
			t.Errorf("a missing point is written as % x", c[start:start+16])
		}
		// A gap that was read is written as it was.
		c = encode(t, decode(t, withPoint(t, 1, 2, 3, -16512), Options{}))
		if !bytes.Equal(c[start:start+16], reals(1, 2, 3, -16512)) {
			t.Errorf("a missing point became % x", c[start:start+16])
		}
	}, ""},
	{34, "integer steps", func(t *testing.T) {
		f := small()
		f.Storage, f.PointScale = Integer, 0
		for i := range f.Points {
			f.Points[i].Residual = nil
		}
		f.Points[0].Position[0] = r3.Vec{X: 1234.5678, Y: -1600, Z: 0.07}
		g := decode(t, encode(t, f), Options{Strict: true})
		if s := g.PointScale; math.Abs(s-0.05) > 1e-8 { // 1600/32000
			t.Errorf("scale %g, want 0.05", s)
		}
		for i := range f.Points {
			for k, v := range f.Points[i].Position {
				if w := g.Points[i].Position[k]; !missing(v) && r3.Norm(r3.Sub(v, w)) > 0.05*math.Sqrt(3)/2*1.0001 {
					t.Errorf("%v became %v: more than half a step off", v, w)
				}
			}
		}
		f.PointScale = 0.01 // 1600 mm do not fit
		_, err := Append(nil, f)
		checkError(t, err, ErrRange)
	}, ""},
	{35, "length units", func(t *testing.T) {
		for _, c := range []struct {
			unit   string
			metres float64
			code   string
		}{
			{"mm", 1e-3, ""}, {"cm", 1e-2, ""}, {"m", 1, ""}, {"in", 0.0254, ""}, {"ft", 0.3048, ""},
			{"mete", 1, CodeUnitSpelling}, {"'mm'", 1e-3, CodeUnitSpelling}, {"M", 1, CodeUnitSpelling}, {"Millimeters", 1e-3, CodeUnitSpelling},
			{"MM", 1e-3, CodeUnitSpelling}, {"Metres", 1, CodeUnitSpelling}, {"INCH", 0.0254, CodeUnitSpelling}, {"centimetre", 1e-2, CodeUnitSpelling},
			{"", 0, CodeUnitUnknown}, {"deg", 0, CodeUnitUnknown}, {"furlong", 0, CodeUnitUnknown},
		} {
			f := small()
			f.Units = c.unit
			g := decode(t, encode(t, f), Options{})
			if c.code == "" {
				warned(t, g)
			} else {
				warned(t, g, c.code)
			}
			m, err := g.UnitMetres()
			if m != c.metres || (err == nil) != (c.metres > 0) || g.Units != c.unit {
				t.Errorf("%q: %g m, %v", c.unit, m, err)
			}
		}
		// One unit per point.
		f := small()
		g := decode(t, with(t, "POINT", NewText("UNITS", "mm", "mm", "MM")), Options{Strict: true})
		if m, err := g.UnitMetres(); m != 1e-3 || err != nil || g.Units != "mm" {
			t.Errorf("equal units: %g m, %v", m, err)
		}
		f.Points[0].Unit, f.Points[1].Unit, f.Points[2].Unit, f.Units = "mm", "mm", "deg", ""
		g = decode(t, encode(t, f), Options{Strict: true})
		if m, err := g.UnitMetres(); m != 1e-3 || err != nil || g.Points[2].Unit != "deg" {
			t.Errorf("units of positions agree: %g m, %v", m, err)
		}
		rewrite(t, g)
		f.Points[1].Unit = "m"
		g = decode(t, encode(t, f), Options{})
		warned(t, g, CodeMixedUnits)
		_, err := g.UnitMetres()
		checkError(t, err, ErrMixedUnits)
	}, ""},
	{36, "angles and forces among the points", func(t *testing.T) {
		f := small()
		f.Points[1].Kind = Moment
		g := decode(t, encode(t, f), Options{Strict: true})
		for i, k := range []Kind{Position, Moment, Angle} {
			if g.Points[i].Kind != k {
				t.Errorf("point %d is %v, want %v", i, g.Points[i].Kind, k)
			}
		}
		g.Points[1].Kind = Position
		h := decode(t, encode(t, g), Options{Strict: true})
		sameData(t, h)
	}, ""},
	{37, "which way is up", func(t *testing.T) {
		f := small()
		f.Groups.Set("POINT", NewText("X_SCREEN", "+X"))
		f.Groups.Set("POINT", NewText("Y_SCREEN", "+Z"))
		g := decode(t, encode(t, f), Options{Strict: true})
		if y := g.Groups.Strings("POINT", "Y_SCREEN"); len(y) != 1 || y[0] != "+Z" {
			t.Errorf("Y_SCREEN %v", y)
		}
	}, ""},
	{38, "labels", func(t *testing.T) {
		f := small()
		f.Points = append(f.Points, f.Points[0], f.Points[0], f.Points[1], f.Points[1])
		for i, l := range []string{"Ada:HIP", "Bo:HIP", "", "KNEE", "KNEE", "Ada:TOE", "  TOE2 "} {
			f.Points[i].Label, f.Points[i].Kind = l, Position
		}
		g := decode(t, encode(t, f), Options{})
		warned(t, g, CodeMissingLabels, CodeDuplicateLabel)
		for label, want := range map[string]int{"Ada:HIP": 0, "bo:hip": 1, "HIP": -1, "M003": 2, "KNEE": 3, "TOE": 5, "toe2": 6, "": -1, "X": -1} {
			if i := g.PointIndex(label); i != want {
				t.Errorf("%q is point %d, want %d", label, i, want)
			}
		}
		g = decode(t, with(t, "ANALOG", NewText("LABELS", "Fx1", "")), Options{})
		warned(t, g, CodeMissingLabels)
		if g.Channels[1].Label != "A002" || g.Channels[11].Label != "A012" || g.ChannelIndex("fx1") != 0 {
			t.Errorf("labels %q, %q", g.Channels[1].Label, g.Channels[11].Label)
		}
	}, ""},
	{39, "text that is not ASCII", func(t *testing.T) {
		b := encode(t, small())
		unit := valueAt(t, b, "ANALOG", "UNITS") // "N  ", 3 bytes each
		for _, c := range []struct {
			bytes, want, code string
		}{
			{"\xb0/s", "°/s", CodeTextEncoding}, // Latin-1
			{"\xc2\xb0s", "°s", ""},             // UTF-8
			{"N\xc2\xb0", "N°", ""},
			{"\xc2\xb0\xc2", "°", CodeTextCut}, // cut inside a character
			{"N\xe2\x82", "N", CodeTextCut},
			{"kn\xe9", "kné", CodeTextEncoding},
		} {
			e := edit(b, unit, []byte(c.bytes)...)
			f := decode(t, e, Options{})
			if c.code == "" {
				warned(t, f)
			} else {
				warned(t, f, c.code)
			}
			if f.Channels[0].Unit != c.want {
				t.Errorf("% x: got %q, want %q", c.bytes, f.Channels[0].Unit, c.want)
			}
			if !bytes.Equal(encode(t, f), e) {
				t.Errorf("% x is not written as it was", c.bytes)
			}
		}
		// A name in UTF-8: kept; only ASCII letters fold.
		f := small()
		f.Groups.Set("SUBJECTS", NewFloats("größe", nil, 1.8))
		g := decode(t, encode(t, f), Options{})
		warned(t, g, CodeNonASCIIName)
		if g.Groups.Find("subjects", "GRößE") == nil || g.Groups.Find("subjects", "GRÖßE") != nil {
			t.Error("names fold beyond ASCII")
		}
		// Writing pads by bytes.
		f.Points[0].Label = strings.Repeat("ü", 127)
		if g = decode(t, encode(t, f), Options{}); g.Points[0].Label != f.Points[0].Label {
			t.Errorf("label %q", g.Points[0].Label)
		}
		f.Points[0].Label = strings.Repeat("ü", 128)
		_, err := Append(nil, f)
		checkError(t, err, ErrLabelLength)
	}, ""},
	{40, "empty values", func(t *testing.T) {
		for i, dims := range [][]int{{0}, {2, 0}, {0, 3}, {6, 6, 0}, {32, 0}} {
			for _, typ := range []Type{Char, Int, Float} {
				if typ == Char && i == 0 {
					continue
				}
				p := Parameter{Name: fmt.Sprint("E", i), Type: typ, Dims: dims}
				f := small()
				f.Groups.Set("SUBJECTS", p)
				g := decode(t, encode(t, f), Options{Strict: true})
				sameData(t, g)
				q := g.Groups.Find("SUBJECTS", p.Name)
				s, _ := q.Strings()
				v, _ := q.Floats()
				if !slices.Equal(q.Dims, dims) || len(s)+len(v)+q.Len() != 0 {
					t.Errorf("%v of type %d: %v, %v, %v", dims, typ, q.Dims, s, v)
				}
			}
		}
		// In the place of parameters that matter.
		for _, c := range []struct{ group, name string }{
			{"POINT", "LABELS"}, {"ANALOG", "LABELS"}, {"ANALOG", "SCALE"}, {"ANALOG", "OFFSET"}, {"POINT", "UNITS"},
			{"FORCE_PLATFORM", "TYPE"}, {"FORCE_PLATFORM", "CORNERS"}, {"FORCE_PLATFORM", "CHANNEL"}, {"FORCE_PLATFORM", "ORIGIN"},
			{"FORCE_PLATFORM", "ZERO"}, {"FORCE_PLATFORM", "USED"}, {"EVENT", "TIMES"}, {"EVENT", "LABELS"}, {"POINT", "USED"},
			{"POINT", "FRAMES"}, {"POINT", "SCALE"}, {"POINT", "RATE"}, {"ANALOG", "USED"}, {"ANALOG", "RATE"}, {"ANALOG", "GEN_SCALE"},
		} {
			for _, typ := range []Type{Char, Int, Float} {
				b := with(t, c.group, Parameter{Name: c.name, Type: typ, Dims: []int{0}})
				f := decode(t, b, Options{})
				if f.Frames != 12 || len(f.Points) != 3 || len(f.Channels) != 12 {
					t.Errorf("%s:%s empty: %d frames, %d points, %d channels", c.group, c.name, f.Frames, len(f.Points), len(f.Channels))
				}
				rewrite(t, f)
			}
		}
	}, ""},
}
