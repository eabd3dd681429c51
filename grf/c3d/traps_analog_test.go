package c3d

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"testing"
)

// counts returns the raw numbers of the first samples of a channel.
func counts(t testing.TB, f *File, channel, n int) []float64 {
	t.Helper()
	raw, err := f.RawAnalog(nil, channel)
	if err != nil {
		t.Fatal(err)
	}
	return raw[:n]
}

var analogTraps = []trap{
	{46, "(raw − OFFSET) · SCALE · GEN_SCALE", func(t *testing.T) {
		for _, s := range []Storage{Real, Integer} {
			for _, gen := range []float64{1, 2, -1, 0.00488} {
				f := small()
				f.Storage = s
				b := encode(t, f)
				raw := counts(t, decode(t, b, Options{}), 3, 48)
				b = edit(b, valueAt(t, b, "ANALOG", "GEN_SCALE"), reals(gen)...)
				g := decode(t, b, Options{Strict: true})
				for k, r := range raw {
					if got, want := g.Channels[3].Values[k], (r-2)*-0.5*single(gen); got != want {
						t.Fatalf("%v, general scale %g: %g, want %g", s, gen, got, want)
					}
				}
				rewrite(t, g)
			}
		}
		b := encode(t, small())
		for _, v := range []float64{0, math.NaN(), math.Inf(1)} {
			f := decode(t, edit(b, valueAt(t, b, "ANALOG", "GEN_SCALE"), reals(v)...), Options{})
			warned(t, f, CodeGenScale)
			sameData(t, f)
		}
		f := decode(t, stripped(t, "ANALOG:GEN_SCALE"), Options{Strict: true})
		sameData(t, f)
		// Samples that are no numbers, in files that can hold them.
		g := small()
		g.Channels[8].Values[7], g.Channels[8].Values[9] = math.NaN(), math.Inf(1)
		f = decode(t, encode(t, g), Options{})
		warned(t, f, CodeNotFinite)
		if w := f.Warnings[0]; w.Where != "channel 9 Fz2" || w.Text != "2 samples are no finite numbers, the first is sample 7" {
			t.Errorf("%v", w)
		}
		if v := f.Channels[8].Values; !math.IsNaN(v[7]) || !math.IsInf(v[9], 1) || v[8] != g.Channels[8].Values[8] {
			t.Errorf("values %v", v[7:10])
		}
		rewrite(t, f)
		// Scale and offset missing, or unusable for one channel.
		f = decode(t, stripped(t, "ANALOG:SCALE", "ANALOG:OFFSET"), Options{})
		warned(t, f, CodeDefaultScale, CodeDefaultOffset)
		if raw := counts(t, f, 3, 48); !slices.Equal(raw, f.Channels[3].Values) {
			t.Error("without scale and offset the values are not the raw numbers")
		}
		for _, v := range []float64{0, math.NaN(), math.Inf(-1)} {
			f = decode(t, edit(b, valueAt(t, b, "ANALOG", "SCALE")+4*5, reals(v)...), Options{})
			warned(t, f, CodeBadScale)
			for k, x := range f.Channels[5].Values {
				if !math.IsNaN(x) || f.Channels[4].Values[k] != small().Channels[4].Values[k] {
					t.Fatalf("scale %g: %g", v, x)
				}
			}
			rewrite(t, f)
		}
	}, ""},
	{47, "signed or unsigned", func(t *testing.T) {
		f := small()
		f.Storage, f.Unsigned = Integer, true
		for i := range f.Channels {
			f.Channels[i].Offset = 32784
		}
		b := encode(t, f)
		g := decode(t, b, Options{Strict: true})
		if v, _ := g.Groups.Find("ANALOG", "OFFSET").Ints(); v[0] != 32784-65536 || g.Channels[0].Offset != 32784 {
			t.Errorf("stored offset %d, read %g", v[0], g.Channels[0].Offset)
		}
		if !slices.Equal(g.Channels[7].Values, f.Channels[7].Values) {
			t.Error("values differ")
		}
		// FORMAT says SIGNED though every offset is far below 0.
		at := valueAt(t, b, "ANALOG", "FORMAT")
		c := edit(b, at, []byte("  SIGNED")...)
		h := decode(t, c, Options{})
		warned(t, h, CodeSuspectUnsigned)
		if h.Unsigned || h.Channels[0].Offset != -32752 {
			t.Errorf("unsigned %v, offset %g", h.Unsigned, h.Channels[0].Offset)
		}
		h = decode(t, c, Options{Analog: UnsignedSamples, Strict: true})
		if !h.Unsigned || !slices.Equal(h.Channels[7].Values, f.Channels[7].Values) {
			t.Error("the caller's choice does not hold")
		}
		if h = decode(t, b, Options{Analog: SignedSamples}); h.Unsigned || h.Channels[0].Offset != -32752 {
			t.Error("the caller's choice does not hold")
		}
		// Case and blanks do not matter; anything else is signed.
		if h = decode(t, edit(b, at, []byte("unsigned")...), Options{Strict: true}); !h.Unsigned {
			t.Error("lower case")
		}
		h = decode(t, edit(b, at, []byte("UNSIGNEX")...), Options{})
		warned(t, h, CodeAnalogFormat, CodeSuspectUnsigned)
		if h.Unsigned {
			t.Error("unknown text taken for UNSIGNED")
		}
	}, ""},
	{48, "BITS is documentation", func(t *testing.T) {
		for _, bits := range []int{12, 13, 14, 16, 0, 99} {
			sameData(t, decode(t, with(t, "ANALOG", NewInts("BITS", nil, bits)), Options{Strict: true}))
		}
	}, ""},
	{49, "arrays of another length", func(t *testing.T) {
		long, short := make([]float64, 32), make([]float64, 5)
		for i := range long {
			long[i] = -0.5
		}
		copy(short, long)
		offsets := make([]int, 32)
		for i := range offsets {
			offsets[i] = 2
		}
		b := with(t, "ANALOG", NewFloats("SCALE", nil, long...), NewInts("OFFSET", nil, offsets...))
		f := decode(t, b, Options{Strict: true})
		sameData(t, f)
		if !bytes.Equal(encode(t, f), b) {
			t.Error("longer arrays are not kept")
		}
		f = decode(t, with(t, "ANALOG", NewFloats("SCALE", nil, short...), NewInts("OFFSET", nil, offsets[:7]...)), Options{})
		warned(t, f, CodeDefaultScale, CodeDefaultOffset)
		if c := f.Channels; c[4].Scale != -0.5 || c[5].Scale != 1 || c[6].Offset != 2 || c[7].Offset != 0 {
			t.Errorf("channels %+v", c[4:8])
		}
		rewrite(t, f)
	}, ""},
	{50, "order of the samples", func(t *testing.T) {
		// One channel of 3 samples and 3 channels of one differ only in order.
		f := &File{Rate: 1, SamplesPerFrame: 3}
		for c := range 2 {
			ch := Channel{Label: fmt.Sprint(c)}
			for k := range 6 {
				ch.Values = append(ch.Values, float64(10*c+k))
			}
			f.Channels = append(f.Channels, ch)
		}
		b := encode(t, f)
		start := decode(t, b, Options{}).Layout.DataStart
		if !bytes.Equal(b[start:start+48], reals(0, 10, 1, 11, 2, 12, 3, 13, 4, 14, 5, 15)) {
			t.Errorf("written % x", b[start:start+48])
		}
		g := decode(t, b, Options{Strict: true})
		if !slices.Equal(g.Channels[1].Values, f.Channels[1].Values) {
			t.Errorf("read %v", g.Channels[1].Values)
		}
		// 48 values can not be shared out to 5 samples: points stay.
		c := word(encode(t, small()), 10, 5)
		c = edit(c, valueAt(t, encode(t, small()), "ANALOG", "USED"), 0, 0)
		h := decode(t, c, Options{})
		checkError(t, h.AnalogErr, ErrAnalogLayout)
		if len(h.Channels) != 0 || h.Points[0].Position[7] != small().Points[0].Position[7] || !slices.Contains(codes(h), CodeAnalog) {
			t.Errorf("%d channels, %d points, warned of %v", len(h.Channels), len(h.Points), codes(h))
		}
		if _, err := Append(nil, h); err == nil {
			t.Error("channels that could not be read are dropped by writing")
		}
		fails(t, c, Options{Strict: true}, ErrAnalogLayout)
	}, ""},
	{51, "zeroed by editing OFFSET", func(t *testing.T) {
		// Nothing is subtracted behind the caller's back, and the zero range is
		// only told.
		f := decode(t, encode(t, small()), Options{})
		if first, last, err := f.ZeroFrames(); first != 0 || last != 1 || err != nil {
			t.Errorf("zero range %d to %d, %v", first, last, err)
		}
		sameData(t, f)
	}, ""},
	{52, "rewriting keeps the stored numbers", func(t *testing.T) {
		// Raw numbers that can not be had back from the values: single-precision
		// counts with an awkward scale.
		f := small()
		for i := range f.Channels {
			f.Channels[i].Scale, f.Channels[i].Offset = 0.1, 1.0/3
			for k := range f.Channels[i].Values {
				f.Channels[i].Values[k] = math.Sin(float64(k + i))
			}
		}
		b := encode(t, f)
		g := decode(t, b, Options{Strict: true})
		if !bytes.Equal(encode(t, g), b) {
			t.Error("rewriting changes bytes")
		}
		for _, x := range []struct {
			f       *File
			channel int
		}{{f, 0}, {g, -1}, {g, 12}, {decode(t, b, Options{WithoutSamples: true}), 0}} {
			raw, err := x.f.RawAnalog([]float64{1}, x.channel)
			checkError(t, err, ErrNoRaw)
			if len(raw) != 1 {
				t.Errorf("%d stored numbers", len(raw))
			}
		}
		// One sample changed: one number changed.
		g.Channels[2].Values[5] = 7
		c := encode(t, g)
		if n := differences(b, c); n < 1 || n > 4 {
			t.Errorf("one sample changed, %d bytes differ", n)
		}
		// The caller's bytes changed meanwhile: the values are what counts.
		d := bytes.Clone(b)
		g = decode(t, d, Options{})
		clear(d)
		h := decode(t, encode(t, g), Options{Strict: true})
		for i := range g.Channels {
			for k, v := range g.Channels[i].Values {
				if math.Abs(h.Channels[i].Values[k]-v) > 1e-6 {
					t.Fatalf("%g became %g", v, h.Channels[i].Values[k])
				}
			}
		}
	}, ""},
}

// differences counts the bytes in which two files of one length differ.
func differences(a, b []byte) int {
	n := max(len(a), len(b)) - min(len(a), len(b))
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			n++
		}
	}
	return n
}
