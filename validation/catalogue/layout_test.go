package catalogue

import (
	"errors"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
)

// Rows 40 to 88: layout, frames, rates, points and events of C3D files.

// long is a file of one channel and no points with as many frames.
func long(n int) *c3d.File {
	c := c3d.Channel{Label: "Fz", Scale: 1, Values: make([]float64, n)}
	for i := range c.Values {
		c.Values[i] = float64(i % 1000)
	}
	return &c3d.File{Rate: 1000, SamplesPerFrame: 1, Storage: c3d.Integer, Channels: []c3d.Channel{c}}
}

func has(n int) func(t *testing.T, f *c3d.File) {
	return func(t *testing.T, f *c3d.File) {
		if f.Frames != n || len(f.Channels[0].Values) != n || f.Channels[0].Values[n-1] != float64((n-1)%1000) {
			t.Errorf("%d frames, %d samples; want %d", f.Frames, len(f.Channels[0].Values), n)
		}
	}
}

func integer(change func(f *c3d.File)) func(t *testing.T) []byte {
	return of(func(f *c3d.File) {
		f.Storage = c3d.Integer
		if change != nil {
			change(f)
		}
	})
}

// frame0 is small with the stored numbers of the first point in the first frame
// replaced.
func frame0(v ...float64) func(t *testing.T) []byte {
	return bytesOf(func(t *testing.T, b []byte) []byte { return put(b, decode(t, b).Layout.DataStart, reals(v...)...) })
}

func gone(t *testing.T, f *c3d.File) {
	if p := f.Points[0]; !math.IsNaN(p.Position[0].X) || !math.IsNaN(p.Position[0].Z) || !math.IsNaN(p.Residual[0]) || p.Position[1] != small().Points[0].Position[1] {
		t.Errorf("the point is at %v, then at %v", p.Position[0], p.Position[1])
	}
}

func is(err, want error, what string) func(t *testing.T) {
	return func(t *testing.T) {
		if !errors.Is(err, want) {
			t.Errorf("%s: %v, want %v", what, err, want)
		}
	}
}

var layoutRows = []row{
	{40, "header and POINT:USED differ", warns(c3d.CodeCountMismatch), decoded(plainEdit(func(b []byte) []byte { return word(b, 2, 9) }), isSmall), ""},
	{41, "POINT:USED stored as −35", warns(c3d.CodeCountMismatch), decoded(value("POINT:USED", ints(-35)...), isSmall), "it is 65501, which does not fit the file, so the header's count is taken"},
	{42, "POINT:FRAMES as a real number", defined(), decoded(func(t *testing.T) []byte {
		f := small()
		f.Groups.Set("POINT", c3d.NewFloats("FRAMES", nil, frames))
		f.Groups.Set("POINT", c3d.Parameter{Name: "USED", Type: c3d.Byte, Data: []byte{3}})
		return encode(t, f)
	}, isSmall), ""},
	{43, "FRAMES 65535 with LONG_FRAMES 73285", defined(), decoded(func(t *testing.T) []byte { return encode(t, long(73285)) }, has(73285)), ""},
	{44, "FRAMES 65535, of which the file holds all", defined(), decoded(func(t *testing.T) []byte { return encode(t, long(65535)) }, has(65535)), ""},
	{45, "the same, and the file holds more", warns(c3d.CodeMoreFrames), decoded(func(t *testing.T) []byte { return append(encode(t, long(65535)), make([]byte, 14336)...) }, has(65535)), ""},
	{46, "FRAMES one too many", warns(c3d.CodeFrameCount), decoded(func(t *testing.T) []byte {
		b := cutAt(0)(t)
		_, _, at := record(t, b, "POINT:FRAMES")
		return word(put(b, at, ints(frames+1)...), 5, frames+1)
	}, isSmall), ""},
	{47, "1149 frames declared, 12 there", warns(c3d.CodeTruncated), decoded(func(t *testing.T) []byte {
		b := cutAt(0)(t)
		_, _, at := record(t, b, "POINT:FRAMES")
		return word(put(b, at, ints(1149)...), 5, 1149)
	}, isSmall), ""},
	{48, "cut in the middle of a frame", warns(c3d.CodeTruncated), decoded(cutAt(100), func(t *testing.T, f *c3d.File) {
		if f.Frames != frames-1 || len(f.Points[0].Position) != frames-1 {
			t.Errorf("%d frames", f.Frames)
		}
	}), ""},
	{49, "FRAMES 0", defined(), decoded(func(t *testing.T) []byte {
		f := small()
		f.Events, f.Zero = nil, [2]int{}
		for i := range f.Points {
			f.Points[i] = c3d.Point{Label: f.Points[i].Label}
		}
		for i := range f.Channels {
			f.Channels[i].Values = nil
		}
		return encode(t, f)
	}, func(t *testing.T, f *c3d.File) {
		if f.Frames != 0 || len(f.Points) != 3 || len(f.Points[0].Position) != 0 {
			t.Errorf("%d frames, %d points", f.Frames, len(f.Points))
		}
		_, err := readCapture(t, encode(t, f), laboratory)
		is(err, grf.ErrNoData, "a capture")(t)
	}), ""},
	{50, "first frame 0", defined(), decoded(plainEdit(func(b []byte) []byte { return word(word(b, 4, 0), 5, frames-1) }), func(t *testing.T, f *c3d.File) {
		if f.FirstFrame != 0 || f.FrameTime(0) != 0 {
			t.Errorf("first frame %d at %g s", f.FirstFrame, f.FrameTime(0))
		}
	}), ""},
	{51, "last frame before the first in the header", warns(c3d.CodeFrameRange), decoded(plainEdit(func(b []byte) []byte { return word(word(b, 4, 12), 5, 1) }), nil), ""},
	{52, "TRIAL:ACTUAL_* as 2 × 1, as 2 and as a single number", defined(), decoded(with("TRIAL", c3d.NewInts("ACTUAL_START_FIELD", []int{2, 1}, 1, 0), c3d.NewInts("ACTUAL_END_FIELD", nil, frames)), isSmall), ""},
	{53, "a frame rate of 0", warns(c3d.CodeNoRate), decoded(func(t *testing.T) []byte {
		b := encode(t, small())
		_, _, at := record(t, b, "POINT:RATE")
		return put(put(b, at, reals(0)...), 20, reals(0)...)
	}, func(t *testing.T, f *c3d.File) {
		is(f.CheckRate(), c3d.ErrRate, "CheckRate")(t)
		_, err := readCapture(t, encode(t, f), laboratory)
		is(err, c3d.ErrRate, "a capture")(t)
	}), "reading gives a warning, what uses time the error"},
	{54, "ANALOG:RATE 0 without channels", defined(), decoded(func(t *testing.T) []byte {
		f := small()
		f.Channels, f.Plates = nil, nil
		f.Groups.Set("ANALOG", c3d.NewFloats("RATE", nil, 0))
		return encode(t, f)
	}, nil), ""},
	{55, "16.67 samples per frame by the rates", warns(c3d.CodeRateRatio), decoded(value("ANALOG:RATE", reals(1667)...), isSmall), ""},
	{56, "word 3 no multiple of word 10", warns(c3d.CodeAnalog), decoded(func(t *testing.T) []byte {
		b := encode(t, small())
		_, _, at := record(t, b, "ANALOG:USED")
		return put(word(b, 10, 5), at, 0, 0)
	}, func(t *testing.T, f *c3d.File) {
		is(f.AnalogErr, c3d.ErrAnalogLayout, "AnalogErr")(t)
		if len(f.Channels) != 0 || f.Points[0].Position[3] != small().Points[0].Position[3] {
			t.Error("points are lost, or channels made up")
		}
	}), "the error is that of the channels alone, File.AnalogErr; the points are read"},
	{57, "word 10 is 0", warns(c3d.CodeRateRatio), decoded(plainEdit(func(b []byte) []byte { return word(b, 10, 0) }), isSmall), ""},
	{58, "DATA_START 0", warns(c3d.CodeDataStart), decoded(value("POINT:DATA_START", 0, 0), isSmall), ""},
	{59, "a start of the data inside the parameters", warns(c3d.CodeDataStart), decoded(plainEdit(func(b []byte) []byte { return word(b, 9, 3) }), isSmall), ""},
	{60, "data at block 33000", defined(), decoded(bytesOf(func(t *testing.T, b []byte) []byte {
		start := decode(t, b).Layout.DataStart
		_, _, at := record(t, b, "POINT:DATA_START")
		b = word(put(b, at, ints(33000)...), 9, 33000)
		return slices.Concat(b[:start], make([]byte, 32999*512-start), b[start:])
	}), isSmall), ""},
	{61, "no POINT group", defined(), decoded(func(t *testing.T) []byte {
		f := small()
		f.Points, f.Plates, f.Units, f.Groups = nil, nil, "", nil
		b := encode(t, f)
		at, _, _ := record(t, b, "POINT")
		return put(b, at+2, 'Q')
	}, func(t *testing.T, f *c3d.File) {
		if len(f.Points) != 0 || len(f.Channels) != 12 {
			t.Errorf("%d points, %d channels", len(f.Points), len(f.Channels))
		}
	}), ""},
	{62, "no ANALOG group", defined(), decoded(func(t *testing.T) []byte {
		return encode(t, &c3d.File{Rate: 50, Units: "mm", Points: small().Points})
	}, func(t *testing.T, f *c3d.File) {
		if len(f.Channels) != 0 || f.AnalogRate() != 0 {
			t.Errorf("%d channels", len(f.Channels))
		}
	}), ""},
	{63, "a scale of 0 in a file of integers", warns(c3d.CodeScale, c3d.CodePoints), decoded(func(t *testing.T) []byte {
		b := integer(nil)(t)
		_, _, at := record(t, b, "POINT:SCALE")
		return put(put(b, at, reals(0)...), 12, reals(0)...)
	}, func(t *testing.T, f *c3d.File) {
		is(f.PointsErr, c3d.ErrScale, "PointsErr")(t)
		if len(f.Points) != 0 || len(f.Channels) != 12 {
			t.Error("channels are lost, or points made up")
		}
	}), "the error is that of the points alone, File.PointsErr; the channels are read"},
	{64, "scales of different sign", warns(c3d.CodeScaleSign), decoded(plainEdit(func(b []byte) []byte { return put(b, 12, reals(1)...) }), isSmall), ""},
	{65, "sizes that fit neither integers nor reals", fails(c3d.ErrLayout), decoded(func(t *testing.T) []byte { return put(cutAt(300)(t), 12, reals(1)...) }, nil), ""},
	{66, "far more declared than there is", warns(c3d.CodeTruncated), decoded(func(t *testing.T) []byte {
		b := with("POINT", c3d.NewFloats("LONG_FRAMES", nil, 1e9))(t)
		_, _, at := record(t, b, "POINT:FRAMES")
		return word(put(b, at, 0xff, 0xff), 5, 65535)
	}, nil), "not an error: nothing is allocated for frames that are not there, and real files that were cut look the same"},
}

var pointRows = []row{
	{67, "fourth number −1 beside coordinates", defined(), decoded(frame0(1, 2, 3, -1), gone), ""},
	{68, "a coordinate of NaN", warns(c3d.CodeNaNPoint), decoded(frame0(1, math.NaN(), 3, 0), gone), ""},
	{69, "an infinite coordinate", warns(c3d.CodeInfPoint), decoded(frame0(math.Inf(1), 2, 3, 0), gone), ""},
	{70, "coordinates 9999999", warns(c3d.CodeSentinel), decoded(frame0(9999999, 9999999, 9999999, 0), gone), ""},
	{71, "the origin with residual 0", defined(), decoded(frame0(0, 0, 0, 0), func(t *testing.T, f *c3d.File) {
		if f.Points[0].Position[0] != (r3.Vec{}) {
			t.Error("taken as missing")
		}
		g, err := c3d.Decode(frame0(0, 0, 0, 0)(t), c3d.Options{ZeroIsMissing: true})
		if err != nil {
			t.Fatal(err)
		}
		gone(t, g)
	}), ""},
	{72, "a fourth number of 300.7", warns(c3d.CodeResidualFraction), decoded(frame0(1, 2, 3, 300.7), func(t *testing.T, f *c3d.File) {
		if p := f.Points[0]; p.Residual[0] != 45*0.0625 || p.Cameras[0] != 1 { // 301 = 256 + 45
			t.Errorf("residual %g, cameras %b", p.Residual[0], p.Cameras[0])
		}
	}), ""},
	{73, "the unit mete", warns(c3d.CodeUnitSpelling), decoded(of(func(f *c3d.File) { f.Units = "mete" }), func(t *testing.T, f *c3d.File) {
		if m, err := f.UnitMetres(); m != 1 || err != nil {
			t.Errorf("%g m, %v", m, err)
		}
	}), ""},
	{74, "no unit of length", warns(c3d.CodeUnitUnknown), decoded(of(func(f *c3d.File) { f.Units = "" }), func(t *testing.T, f *c3d.File) {
		_, err := f.UnitMetres()
		is(err, c3d.ErrUnit, "UnitMetres")(t)
	}), ""},
	{75, "a different unit for each point", warns(c3d.CodeMixedUnits), decoded(of(func(f *c3d.File) {
		f.Points[0].Unit, f.Points[1].Unit, f.Points[2].Unit, f.Units = "mm", "m", "mm", ""
	}), func(t *testing.T, f *c3d.File) {
		_, err := f.UnitMetres()
		is(err, c3d.ErrMixedUnits, "UnitMetres")(t)
	}), "equal units are taken without a word"},
	{76, "fewer labels than points", warns(c3d.CodeMissingLabels), decoded(of(func(f *c3d.File) { f.Points[2].Label = "" }), func(t *testing.T, f *c3d.File) {
		if f.Points[2].Label != "M003" {
			t.Errorf("label %q", f.Points[2].Label)
		}
	}), ""},
	{77, "a label twice", warns(c3d.CodeDuplicateLabel), decoded(of(func(f *c3d.File) { f.Points[1].Label = "HIP" }), func(t *testing.T, f *c3d.File) {
		if f.PointIndex("HIP") != 0 {
			t.Error("a look-up does not find the first")
		}
	}), ""},
	{78, "LABELS2 behind LABELS that are not full", warns(c3d.CodeLabelsSplit), decoded(func(t *testing.T) []byte {
		f := small()
		f.Points[2].Label = ""
		f.Groups.Set("POINT", c3d.Parameter{Name: "LABELSX", Type: c3d.Char, Dims: []int{5, 1}, Data: []byte("ANKLE")})
		b := encode(t, f)
		_, p, _ := record(t, b, "POINT:LABELSX")
		b = put(b, p-1, '2')
		_, p, _ = record(t, b, "POINT:LABELS")
		return put(b, p+5, 2)
	}, func(t *testing.T, f *c3d.File) {
		if f.Points[2].Label != "ANKLE" {
			t.Errorf("label %q", f.Points[2].Label)
		}
	}), ""},
	{79, "labels of width 0", warns(c3d.CodeMissingLabels), decoded(func(t *testing.T) []byte {
		b := encode(t, small())
		_, p, _ := record(t, b, "POINT:LABELS")
		return put(b, p+4, 0)
	}, func(t *testing.T, f *c3d.File) {
		if f.Points[0].Label != "M001" {
			t.Errorf("label %q", f.Points[0].Label)
		}
	}), ""},
	{80, "25 events in the header", warns(c3d.CodeEventCount), decoded(plainEdit(func(b []byte) []byte { return word(b, 151, 25) }), func(t *testing.T, f *c3d.File) {
		if len(f.Header.Events) != 18 {
			t.Errorf("%d events", len(f.Header.Events))
		}
	}), ""},
	{81, "an event outside of the recording", warns(c3d.CodeEventRange), decoded(plainEdit(func(b []byte) []byte { return put(b, 304, reals(8)...) }), func(t *testing.T, f *c3d.File) {
		if !f.Events[0].OutOfRange {
			t.Errorf("%+v", f.Events[0])
		}
	}), ""},
	{82, "an event at NaN", warns(c3d.CodeEventTime), decoded(value("EVENT:TIMES", reals(0, math.NaN())...), func(t *testing.T, f *c3d.File) {
		if e := f.Events[1]; !math.IsNaN(e.Time) || !e.OutOfRange {
			t.Errorf("%+v", e)
		}
	}), ""},
	{83, "EVENT:TIMES in one dimension", defined(), decoded(func(t *testing.T) []byte {
		b := encode(t, small())
		_, p, _ := record(t, b, "EVENT:TIMES")
		// [2, 1] becomes [2]; the byte that is free goes into the description.
		c := slices.Concat(b[:p+3], []byte{1, 2}, b[p+6:])
		end := p + int(b[p]) + 256*int(b[p+1]) - 1
		c = slices.Insert(c, end, 'x')
		c[end-1] = 1
		return c
	}, isSmall), ""},
	{84, "EVENT:USED 12 with one time", warns(c3d.CodeEventCount), decoded(value("EVENT:USED", ints(12)...), isSmall), ""},
	{85, "events without label and context", warns(c3d.CodeEventText), decoded(renamed("EVENT:LABELS", "EVENT:CONTEXTS"), func(t *testing.T, f *c3d.File) {
		if e := f.Events[1]; e.Label != "" || e.Context != "General" {
			t.Errorf("%+v", e)
		}
	}), ""},
	{86, "event times that fit only from the first stored frame", warns(c3d.CodeEventClock), decoded(func(t *testing.T) []byte {
		b := encode(t, small())
		return word(word(b, 4, 200), 5, 200+frames-1)
	}, func(t *testing.T, f *c3d.File) {
		if e := f.Events[1]; e.Time != 0.03125 || e.OutOfRange {
			t.Errorf("%+v", e)
		}
	}), ""},
	{87, "word 150 is 57", warns(c3d.CodeEventKey), decoded(plainEdit(func(b []byte) []byte { return word(b, 150, 57) }), isSmall), ""},
	{88, "events out of order", defined(), decoded(of(func(f *c3d.File) {
		f.Events = []c3d.Event{{Label: "b", Context: "Left", Time: 0.0625}, {Label: "a", Context: "Left", Time: 0.03125}}
	}), func(t *testing.T, f *c3d.File) {
		if f.Events[0].Label != "b" || f.EventsByTime()[0].Label != "a" {
			t.Errorf("stored %+v, sorted %+v", f.Events, f.EventsByTime())
		}
	}), ""},
}
