package c3d

import (
	"bytes"
	"errors"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// platesOf reads a file whose FORCE_PLATFORM group has parameters replaced.
func platesOf(t testing.TB, want []string, params ...Parameter) *File {
	t.Helper()
	f := decode(t, with(t, "FORCE_PLATFORM", params...), Options{})
	warned(t, f, want...)
	rewrite(t, f)
	return f
}

const physics = "the physics of plates: see the plates and captures of this module; here the parameters come out as stored"

var plateTraps = []trap{
	{53, "USED against the arrays", func(t *testing.T) {
		for _, n := range []int{0, -1} {
			if f := platesOf(t, nil, NewInts("USED", nil, n)); len(f.Plates) != 0 {
				t.Errorf("USED %d: %d plates", n, len(f.Plates))
			}
		}
		if f := platesOf(t, []string{CodePlateCount}, NewInts("TYPE", []int{1}, 2)); len(f.Plates) != 1 || f.Plates[0].Channels[5] != 5 {
			t.Errorf("one type for two plates: %+v", f.Plates)
		}
		if f := platesOf(t, []string{CodePlateCount}, NewInts("USED", nil, 3)); len(f.Plates) != 2 {
			t.Errorf("USED 3: %d plates", len(f.Plates))
		}
		f := platesOf(t, []string{CodePlateMissing}, NewFloats("CORNERS", []int{3, 4, 1}, make([]float64, 12)...))
		if len(f.Plates) != 2 || !math.IsNaN(f.Plates[1].Corners[2].Y) || f.Plates[0].Corners[2].Y != 0 {
			t.Errorf("one set of corners for two plates: %+v", f.Plates)
		}
	}, ""},
	{54, "CHANNEL", func(t *testing.T) {
		// Rows of 8 because another plate has 8 channels; any order; gaps.
		f := platesOf(t, nil, NewInts("TYPE", []int{2}, 4, 3),
			NewInts("CHANNEL", []int{8, 2}, 3, 4, 5, 1, 2, 6, 0, 0, 12, 11, 10, 9, 8, 7, 6, 5))
		if a, b := f.Plates[0].Channels, f.Plates[1].Channels; !slices.Equal(a, []int{2, 3, 4, 0, 1, 5}) || !slices.Equal(b, []int{11, 10, 9, 8, 7, 6, 5, 4}) {
			t.Errorf("channels %v and %v", a, b)
		}
		v, err := f.PlateValues(0)
		if err != nil || len(v) != 6 || &v[0][0] != &f.Channels[2].Values[0] {
			t.Errorf("values of plate 1: %d, %v", len(v), err)
		}
		// Channels that are not stored: that plate fails, the other does not.
		for _, n := range []int{0, 13, 200} {
			f = platesOf(t, []string{CodePlateChannel}, NewInts("CHANNEL", []int{6, 2}, 1, 2, 3, 4, 5, 6, 7, 8, n, 10, 11, 12))
			if _, err := f.PlateValues(0); err != nil {
				t.Errorf("plate 1: %v", err)
			}
			_, err := f.PlateValues(1)
			checkError(t, err, ErrPlateChannel)
		}
		f = platesOf(t, []string{CodePlateChannelTwin}, NewInts("CHANNEL", []int{6, 2}, 1, 2, 3, 4, 5, 5, 7, 8, 9, 10, 11, 12))
		if _, err := f.PlateValues(0); err != nil {
			t.Error(err)
		}
		_, err = f.PlateValues(2)
		checkError(t, err, ErrPlateChannel)
		// A single plate without its second dimension.
		f = platesOf(t, nil, NewInts("USED", nil, 1), NewInts("CHANNEL", []int{6}, 6, 5, 4, 3, 2, 1))
		if !slices.Equal(f.Plates[0].Channels, []int{5, 4, 3, 2, 1, 0}) {
			t.Errorf("channels %v", f.Plates[0].Channels)
		}
	}, ""},
	{55, "types", func(t *testing.T) {
		for _, c := range []struct{ typ, channels int }{{1, 6}, {2, 6}, {3, 8}, {4, 6}, {5, 8}, {6, 12}, {7, 8}, {9, 5}, {21, 7}} {
			// Numbers of channels, and zeros to fill the row.
			numbers := make([]int, 14)
			for k := range min(12, max(c.channels, 8)) {
				numbers[k] = k + 1
			}
			if c.typ > 7 {
				clear(numbers[c.channels:])
			}
			f := platesOf(t, nil, NewInts("USED", nil, 1), NewInts("TYPE", []int{1}, c.typ), NewInts("CHANNEL", []int{14, 1}, numbers...))
			if n := len(f.Plates[0].Channels); n != c.channels {
				t.Errorf("type %d: %d channels, want %d", c.typ, n, c.channels)
			}
		}
		// A type that nobody knows does not cost the other plate.
		f := platesOf(t, nil, NewInts("TYPE", []int{2}, 21, 2))
		if len(f.Plates) != 2 || f.Plates[0].Type != 21 || len(f.Plates[0].Channels) != 6 || f.Plates[1].Type != 2 {
			t.Errorf("%+v", f.Plates)
		}
	}, ""},
	{56, "CAL_MATRIX is stored by columns", func(t *testing.T) {
		m := make([]float64, 72)
		for i := range m {
			m[i] = float64(i + 1)
		}
		f := platesOf(t, nil, NewInts("TYPE", []int{2}, 4, 4), NewFloats("CAL_MATRIX", []int{6, 6, 2}, m...))
		for p := range 2 {
			for out := range 6 {
				for in := range 6 {
					if got, want := f.Plates[p].Calibration[out][in], float64(36*p+6*in+out+1); got != want {
						t.Errorf("plate %d, output %d, channel %d: %g, want %g", p, out, in, got, want)
					}
				}
			}
		}
		// Empty, zero, too short: none.
		for _, q := range []Parameter{NewFloats("CAL_MATRIX", []int{6, 6, 0}), NewFloats("CAL_MATRIX", []int{6, 6, 2}, make([]float64, 72)...), NewFloats("CAL_MATRIX", nil, 1, 2, 3)} {
			f = platesOf(t, nil, NewInts("TYPE", []int{2}, 4, 4), q)
			if f.Plates[0].Calibration != nil || f.Plates[1].Calibration != nil {
				t.Errorf("dims %v: %v", q.Dims, f.Plates[0].Calibration)
			}
		}
		// A matrix that is wider than the plate, and not with zeros, stays whole.
		f = platesOf(t, nil, NewInts("TYPE", []int{2}, 4, 4), NewFloats("CAL_MATRIX", []int{6, 8, 2}, filled(96, 1)...))
		if c := f.Plates[0].Calibration; len(c) != 6 || len(c[0]) != 8 {
			t.Errorf("cut to %d × %d", len(c), len(c[0]))
		}
		// Plates of different size share one array: 6 × 8 with a 6 × 6 in it.
		g := small()
		g.Plates[0].Type, g.Plates[0].Channels = 5, []int{0, 1, 2, 3, 4, 5, 6, 7}
		g.Plates[1].Type = 4
		for r := range 6 {
			g.Plates[0].Calibration = append(g.Plates[0].Calibration, []float64{1, 2, 3, 4, 5, 6, 7, float64(r)})
			g.Plates[1].Calibration = append(g.Plates[1].Calibration, []float64{1, 2, 3, 4, 5, float64(r)})
		}
		h := decode(t, encode(t, g), Options{Strict: true})
		if !samePlates(g.Plates, h.Plates) {
			t.Errorf("got %+v", h.Plates)
		}
	}, ""},
	{57, "corners", func(t *testing.T) {
		var v []float64
		for i := range 24 {
			v = append(v, float64(i))
		}
		f := platesOf(t, nil, NewFloats("CORNERS", []int{3, 4, 2}, v...))
		if c := f.Plates[1].Corners; c[0] != (r3.Vec{X: 12, Y: 13, Z: 14}) || c[3] != (r3.Vec{X: 21, Y: 22, Z: 23}) {
			t.Errorf("corners %v", c)
		}
	}, ""},
	{58, "the sign of ORIGIN", func(t *testing.T) {
		f := platesOf(t, nil, NewFloats("ORIGIN", []int{3, 2}, 1, 2, 40, 3, 4, -40))
		if a, b := f.Plates[0].Origin, f.Plates[1].Origin; a != (r3.Vec{X: 1, Y: 2, Z: 40}) || b != (r3.Vec{X: 3, Y: 4, Z: -40}) {
			t.Errorf("origins %v and %v: not as stored", a, b)
		}
	}, ""},
	{59, "ORIGIN of type 3, corrections", func(t *testing.T) {
		poly := []float64{1, 2, 3, 4, 5, 6, 7, 8}
		f := platesOf(t, nil, NewFloats("FPCOPPOLY", []int{4, 2}, poly...))
		for p := range 2 {
			e := f.Plates[p].Extras
			if len(e) != 1 || e[0].Name != "FPCOPPOLY" || !slices.Equal(e[0].Values, poly[4*p:4*p+4]) || !slices.Equal(e[0].Dims, []int{4}) {
				t.Errorf("plate %d: %+v", p+1, e)
			}
		}
	}, ""},
	{60, "ORIGIN of 0", nil, physics},
	{61, "type 1", nil, physics},
	{62, "the zero range", func(t *testing.T) {
		for _, c := range []struct{ first, last, from, to int }{
			{1, 10, 0, 9}, {0, 10, 0, 9}, {3, 12, 2, 11}, {5, 5, 4, 4},
			{0, 0, -1, 0}, {1, 0, -1, 0}, {7, 3, -1, 0}, {1, 13, -1, 0}, {65535, 10, -1, 0},
		} {
			f := platesOf(t, nil, NewInts("ZERO", []int{2}, c.first, c.last))
			from, to, err := f.ZeroFrames()
			if c.from < 0 {
				checkError(t, err, ErrZero)
				continue
			}
			if err != nil || from != c.from || to != c.to {
				t.Errorf("%d to %d: frames %d to %d, %v", c.first, c.last, from, to, err)
			}
		}
	}, ""},
	{63, "the sign of forces", nil, physics},
	{64, "moments in N·m or N·mm", func(t *testing.T) {
		f := decode(t, encode(t, small()), Options{})
		if a, b := f.Channels[f.Plates[0].Channels[0]].Unit, f.Channels[f.Plates[0].Channels[5]].Unit; a != "N" || b != "Nmm" {
			t.Errorf("units %q and %q", a, b)
		}
	}, ""},
	{65, "TRANSLATION and ROTATION", func(t *testing.T) {
		f := platesOf(t, nil, NewFloats("TRANSLATION", []int{3, 2}, 1, 2, 3, 4, 5, 6), NewFloats("ROTATION", []int{3, 3, 2}, make([]float64, 18)...), NewText("NAMES", "a", "b"))
		e := f.Plates[1].Extras
		if len(e) != 2 || e[0].Name != "TRANSLATION" || !slices.Equal(e[0].Values, []float64{4, 5, 6}) || !slices.Equal(e[1].Dims, []int{3, 3}) {
			t.Errorf("%+v", e)
		}
	}, ""},
	{66, "plates that are not level", nil, physics},
	{67, "one analog rate", func(t *testing.T) {
		f := decode(t, encode(t, small()), Options{})
		if f.AnalogRate() != 400 || f.SampleTime(4) != f.FrameTime(1) {
			t.Errorf("rate %g, sample 4 at %g s, frame 1 at %g s", f.AnalogRate(), f.SampleTime(4), f.FrameTime(1))
		}
	}, ""},
	{68, "editing what is static", func(t *testing.T) {
		// Plates edited after reading are written, and everything else stays.
		f := decode(t, encode(t, small()), Options{})
		before := encode(t, f)
		for i := range f.Plates[0].Corners {
			f.Plates[0].Corners[i] = r3.Add(f.Plates[0].Corners[i], r3.Vec{X: 8})
		}
		b := encode(t, f)
		if n := differences(before, b); n == 0 || n > 16 {
			t.Errorf("%d bytes differ", n)
		}
		if g := decode(t, b, Options{Strict: true}); !samePlates(f.Plates, g.Plates) {
			t.Errorf("%+v", g.Plates)
		}
	}, ""},
	{69, "quirks together", func(t *testing.T) {
		// Several of the above in one file: leading zeros, code 1, a count of 0
		// blocks, USED as byte, FRAMES as float, an empty CAL_MATRIX, GEN_SCALE
		// −1, ZERO (1, 0), a locked group and a swapped sign in the header.
		b := assemble(t, small(), func(w *writer) {
			w.groups.Set("POINT", Parameter{Name: "USED", Type: Byte, Data: []byte{3}})
			w.groups.Set("POINT", NewFloats("FRAMES", nil, 12))
			w.groups.Set("FORCE_PLATFORM", NewFloats("CAL_MATRIX", []int{6, 6, 0}))
			w.groups.Set("ANALOG", NewFloats("GEN_SCALE", nil, -1))
			w.groups.Set("FORCE_PLATFORM", NewInts("ZERO", []int{2}, 1, 0))
			w.groups[1].Locked = true
		})
		b = append(make([]byte, 64), float(edit(b, 514, 0, 1), 7, 1)...)
		f := decode(t, b, Options{})
		warned(t, f, CodeLeadingZeros, CodeProcessor, CodeBlockCount, CodeScaleSign, CodeScaleMismatch)
		if _, _, err := f.ZeroFrames(); !errors.Is(err, ErrZero) || f.GenScale != -1 || f.Frames != 12 {
			t.Errorf("%v, general scale %g, %d frames", err, f.GenScale, f.Frames)
		}
		for i := range f.Channels {
			for k, v := range f.Channels[i].Values {
				if v != -small().Channels[i].Values[k] {
					t.Fatalf("channel %d sample %d: %g", i, k, v)
				}
			}
		}
		rewrite(t, f)
		if bytes.Equal(b, encode(t, f)) {
			t.Error("nothing was repaired")
		}
	}, ""},
}

// filled returns n numbers v.
func filled(n int, v float64) []float64 {
	list := make([]float64, n)
	for i := range list {
		list[i] = v
	}
	return list
}
