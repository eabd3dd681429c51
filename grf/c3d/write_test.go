package c3d

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// TestRewriteIsIdentical decodes and encodes every public file: all but those
// whose defects are repaired must come back byte by byte.
func TestRewriteIsIdentical(t *testing.T) {
	// These differ, by the given number of bytes.
	repaired := map[string]struct {
		bytes int
		why   string
	}{
		"sample08/TESTBPI.c3d":                     {4608, "nine blocks between header and parameters that nothing refers to become zeros"},
		"sample08/TESTDPI.c3d":                     {4608, "the same, behind the parameters"},
		"sample15/FP1.C3D":                         {1, "3 parameter blocks announced, 5 used"},
		"sample18/bad_parameter_section.c3d":       {59, "the record that runs into the data becomes empty and ends the section"},
		"sample24/MotionMonitorC3D.c3d":            {1, "header word 3 is 112, not 16"},
		"others/ADemo1_rewrite_c3d_pc_integer.c3d": {1, "33 parameter blocks announced, which reach into the data"},
		"others/parameterOverflow.c3d":             {1, "46 parameter blocks announced, 49 used"},
		"synthetic/syn_type2_truncated.c3d":        {-1, "198 frames, not 300"},
		"synthetic/syn_cut_in_parameters.c3d":      {-1, "no frames"},
	}
	same := 0
	for _, o := range oracle(t) {
		if o.Expect == "error" {
			continue
		}
		data := dataset(t, o.File)
		f, err := Decode(data, Options{})
		if err != nil {
			t.Fatal(o.File, err)
		}
		var b bytes.Buffer
		if err := Encode(&b, f); err != nil {
			t.Errorf("%s: %v", o.File, err)
			continue
		}
		if bytes.Equal(b.Bytes(), data) {
			same++
			continue
		}
		diff := 0
		first := -1
		for i := range min(len(data), b.Len()) {
			if data[i] != b.Bytes()[i] {
				diff++
				if first < 0 {
					first = i
				}
			}
		}
		if r := repaired[o.File]; r.why == "" || r.bytes >= 0 && (r.bytes != diff || b.Len() != len(data)) {
			t.Errorf("%s: %d bytes, want %d; %d differ, the first at %d (data at %d)", o.File, b.Len(), len(data), diff, first, f.Layout.DataStart)
		}
	}
	if same < 19 {
		t.Errorf("only %d files came back byte by byte", same)
	}
}

// TestRoundTrip writes files in every format and reads them back: the numbers
// of small survive each of them.
func TestRoundTrip(t *testing.T) {
	for _, p := range []Processor{Intel, DEC, MIPS} {
		for _, s := range []Storage{Real, Integer} {
			for _, unsigned := range []bool{false, true} {
				f := small()
				f.Processor, f.Storage, f.Unsigned = p, s, unsigned
				f.GenScale = 0.5
				for i := range f.Channels {
					f.Channels[i].Offset = 512
				}
				g := decode(t, encode(t, f), Options{})
				f.Frames = 12 // what the series say
				if d := differ(f, g); d != "" {
					t.Errorf("%v %v unsigned %v:\n%s", p, s, unsigned, d)
				}
				warned(t, g)
				// And from there to every other format.
				for _, to := range []Processor{Intel, DEC, MIPS} {
					h := decode(t, encode(t, g), Options{})
					h.Processor = to
					h = decode(t, encode(t, h), Options{})
					h.Processor = p
					if d := differ(g, h); d != "" {
						t.Errorf("%v to %v %v:\n%s", p, to, s, d)
					}
				}
				rewrite(t, g)
			}
		}
	}
}

// TestWhatCanNotBeStored holds the writer to typed errors with a place.
func TestWhatCanNotBeStored(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	whole := func(f *File) { f.Storage = Integer }
	for _, c := range []struct {
		name   string
		change func(f *File)
		want   error
	}{
		{"NaN analog as integer", func(f *File) { whole(f); f.Channels[1].Values[2] = nan }, ErrRange},
		{"infinite analog as integer", func(f *File) { whole(f); f.Channels[1].Values[2] = inf }, ErrRange},
		{"NaN analog as VAX float", func(f *File) { f.Processor = DEC; f.Channels[1].Values[2] = nan }, ErrRange},
		{"analog beyond integers", func(f *File) { whole(f); f.Channels[1].Values[2] = 1e6 }, ErrRange},
		{"negative raw number, unsigned", func(f *File) { whole(f); f.Unsigned = true; f.Channels[1].Values[2] = 500 }, ErrRange},
		{"analog beyond single precision", func(f *File) { f.Channels[1].Values[2] = 1e39 }, ErrRange},
		{"position beyond integers", func(f *File) { whole(f); f.Points[0].Position[0].Z = 1e6 }, ErrRange},
		{"position beyond single precision", func(f *File) { f.Points[0].Position[0].Z = 1e39 }, ErrRange},
		{"residual beyond 255 steps", func(f *File) { f.Points[0].Residual[0] = 16 }, ErrRange},
		{"negative residual", func(f *File) { f.Points[0].Residual[0] = -1 }, ErrRange},
		{"eighth camera", func(f *File) { f.Points[0].Cameras[0] = 128 }, ErrRange},
		{"scale that is no number", func(f *File) { f.Channels[0].Scale = nan }, ErrRange},
		{"general scale that is no number", func(f *File) { f.GenScale = inf }, ErrRange},
		{"negative point scale", func(f *File) { f.PointScale = -1 }, ErrRange},
		{"infinite point scale", func(f *File) { f.PointScale = inf }, ErrRange},
		{"point scale below the normal numbers", func(f *File) { f.PointScale = 4.3851838275764654e-39 }, ErrRange},
		{"point scale that would be 0", func(f *File) { f.PointScale = 1e-50 }, ErrRange},
		{"general scale below the normal numbers", func(f *File) { f.GenScale = -1e-39 }, ErrRange},
		{"rate 0", func(f *File) { f.Rate = 0 }, ErrRate},
		{"rate NaN", func(f *File) { f.Rate = nan }, ErrRate},
		{"unknown processor", func(f *File) { f.Processor = 3 }, ErrRange},
		{"negative first frame", func(f *File) { f.FirstFrame = -1 }, ErrRange},
		{"series of different length", func(f *File) { f.Points[1].Position = f.Points[1].Position[1:] }, grf.ErrLength},
		{"residuals of different length", func(f *File) { f.Points[1].Residual = f.Points[1].Residual[1:] }, grf.ErrLength},
		{"samples that do not fill the frames", func(f *File) { f.Channels[1].Values = f.Channels[1].Values[1:] }, grf.ErrLength},
		{"frames that are not there", func(f *File) { f.Frames = 13 }, grf.ErrLength},
		{"label of 300 bytes", func(f *File) { f.Points[0].Label = strings.Repeat("x", 300) }, ErrLabelLength},
		{"unit of 300 bytes", func(f *File) { f.Channels[0].Unit = strings.Repeat("x", 300) }, ErrLabelLength},
		{"zero byte in a label", func(f *File) { f.Points[0].Label = "a\x00b" }, ErrParameter},
		{"header label of 5 characters", func(f *File) { f.Events[0].Label = "IMPAC" }, ErrLabelLength},
		{"header event with a context", func(f *File) { f.Events[0].Context = "Left" }, ErrParameter},
		{"19 header events", func(f *File) {
			for range 17 {
				f.Events = append(f.Events, Event{InHeader: true})
			}
		}, ErrTooLarge},
		{"infinite event", func(f *File) { f.Events[2].Time = inf }, ErrRange},
		{"plate channel that is not there", func(f *File) { f.Plates[1].Channels[0] = 12 }, ErrPlateChannel},
		{"plate without corners", func(f *File) { f.Plates[1].Corners[2].X = nan }, ErrRange},
		{"65536 analog values in a frame", func(f *File) { f.SamplesPerFrame = 6000 }, grf.ErrLength},
		{"65536 points", func(f *File) {
			f.Points = make([]Point, 65536)
			for i := range f.Points {
				f.Points[i].Position = make([]r3.Vec, 12)
			}
		}, ErrTooLarge},
		{"parameter with a name of 128 bytes", func(f *File) { f.Groups.Set("A", NewInts(strings.Repeat("x", 128), nil, 1)) }, ErrParameter},
		{"parameter without a name", func(f *File) { f.Groups.Set("A", NewInts("", nil, 1)) }, ErrParameter},
		{"description of 256 bytes", func(f *File) { f.Groups[4].Description = strings.Repeat("x", 256) }, ErrLabelLength},
		{"parameter of no type", func(f *File) { f.Groups.Set("A", Parameter{Name: "X", Data: []byte{1}}) }, ErrParameter},
		{"sizes that do not fit the data", func(f *File) { f.Groups.Set("A", Parameter{Name: "X", Type: Int, Dims: []int{3}, Data: []byte{1}}) }, ErrParameter},
		{"dimension of 256", func(f *File) { f.Groups.Set("A", NewInts("X", nil, make([]int, 256)...)) }, ErrParameter},
		{"group number 200", func(f *File) { f.Groups[4].ID = 200 }, ErrParameter},
		{"group number used twice", func(f *File) { f.Groups[3].ID, f.Groups[4].ID = 9, 9 }, ErrParameter},
		{"128 groups", func(f *File) {
			for i := range 128 {
				f.Groups.Set(fmt.Sprint("G", i), NewInts("X", nil, 1))
			}
		}, ErrTooLarge},
	} {
		f := small()
		c.change(f)
		b, err := Append(nil, f)
		if b != nil || !errors.Is(err, c.want) {
			t.Errorf("%s: %d bytes, error %v, want %v", c.name, len(b), err, c.want)
			continue
		}
		var place *WriteError
		var length *grf.LengthError
		if !errors.As(err, &place) && !errors.As(err, &length) {
			t.Errorf("%s: error without a place: %v", c.name, err)
		}
	}
}

// TestChosenScales: integer files choose scales that keep every value within
// half a step of 1/32000 of the largest.
func TestChosenScales(t *testing.T) {
	for _, unsigned := range []bool{false, true} {
		f := small()
		f.Storage, f.PointScale, f.Unsigned, f.GenScale = Integer, 0, unsigned, 2
		for i := range f.Points {
			f.Points[i].Residual = nil
		}
		for i := range f.Channels {
			f.Channels[i].Scale, f.Channels[i].Offset = 0, 0
			for k := range f.Channels[i].Values {
				f.Channels[i].Values[k] = 900 * math.Sin(float64(i+k))
			}
		}
		clear(f.Channels[4].Values) // nothing to choose from
		g := decode(t, encode(t, f), Options{Strict: true})
		for i := range f.Channels {
			for k, v := range f.Channels[i].Values {
				if d := math.Abs(g.Channels[i].Values[k] - v); d > 900.0/32000/2*1.0001 {
					t.Fatalf("unsigned %v, channel %d sample %d: %g became %g", unsigned, i, k, v, g.Channels[i].Values[k])
				}
			}
		}
		rewrite(t, g)
	}
}

// TestEdits changes one thing at a time in a file that was read: it is written,
// and nothing else changes.
func TestEdits(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(f *File)
	}{
		{"rate", func(f *File) { f.Rate = 50 }},
		{"first frame", func(f *File) { f.FirstFrame = 7 }},
		{"units", func(f *File) { f.Units = "m" }},
		{"point scale", func(f *File) { f.PointScale = 0.03125 }},
		{"general scale", func(f *File) { f.GenScale = 0.5 }},
		{"zero range", func(f *File) { f.Zero = [2]int{3, 4} }},
		{"unsigned", func(f *File) {
			f.Unsigned = true
			offsets(f, 1024)
		}},
		{"storage", func(f *File) { f.Storage = Integer }},
		{"processor", func(f *File) { f.Processor = MIPS }},
		{"label of a point", func(f *File) { f.Points[1].Label = "a longer label" }},
		{"description of a point", func(f *File) { f.Points[1].Description = "lateral" }},
		{"kind of a point", func(f *File) { f.Points[0].Kind, f.Points[2].Kind = Force, Position }},
		{"unit of a point", func(f *File) { f.Points[0].Unit, f.Points[1].Unit, f.Points[2].Unit, f.Units = "mm", "mm", "deg", "" }},
		{"position", func(f *File) { f.Points[2].Position[3].Y = 9 }},
		{"residual", func(f *File) { f.Points[2].Residual[3] = 0.75 }},
		{"cameras", func(f *File) { f.Points[2].Cameras[3] = 0x7f }},
		{"gap", func(f *File) {
			f.Points[0].Position[1].X = math.NaN()
			f.Points[0].Position[1].Y, f.Points[0].Position[1].Z, f.Points[0].Residual[1], f.Points[0].Cameras[1] = math.NaN(), math.NaN(), math.NaN(), 0
		}},
		{"gap filled", func(f *File) { f.Points[1].Position[5], f.Points[1].Residual[5] = r3.Vec{X: 1, Y: 2, Z: 3}, 0 }},
		{"point less", func(f *File) { f.Points = f.Points[:2] }},
		{"point more", func(f *File) {
			f.Points = append(f.Points, Point{Label: "NEW", Position: make([]r3.Vec, 12), Residual: make([]float64, 12), Cameras: make([]uint8, 12)})
		}},
		{"points swapped", func(f *File) { f.Points[0], f.Points[1] = f.Points[1], f.Points[0] }},
		{"label of a channel", func(f *File) { f.Channels[1].Label = "X" }},
		{"description of a channel", func(f *File) { f.Channels[1].Description = "Y" }},
		{"unit of a channel", func(f *File) { f.Channels[1].Unit = "kN" }},
		{"scale of a channel", func(f *File) { f.Channels[1].Scale = 0.25 }},
		{"offset of a channel", func(f *File) { f.Channels[1].Offset = -3 }},
		{"fractional offset", func(f *File) { f.Channels[1].Offset = -3.5 }},
		{"large offset", func(f *File) { f.Channels[1].Offset = 40000 }},
		{"value", func(f *File) { f.Channels[4].Values[40] = 8 }},
		{"channels swapped", func(f *File) { f.Channels[0], f.Channels[11] = f.Channels[11], f.Channels[0] }},
		{"channel more", func(f *File) {
			f.Channels = append(f.Channels, Channel{Label: "N", Scale: 1, Values: make([]float64, 48)})
		}},
		{"frames less", func(f *File) {
			f.Frames = 10
			for i := range f.Points {
				p := &f.Points[i]
				p.Position, p.Residual, p.Cameras = p.Position[2:], p.Residual[2:], p.Cameras[2:]
			}
			for i := range f.Channels {
				f.Channels[i].Values = f.Channels[i].Values[8:]
			}
		}},
		{"samples per frame", func(f *File) {
			f.SamplesPerFrame = 2
			for i := range f.Channels {
				f.Channels[i].Values = f.Channels[i].Values[:24]
			}
		}},
		{"type of a plate", func(f *File) { f.Plates[1].Type = 4 }},
		{"corner", func(f *File) { f.Plates[1].Corners[3].Z = 5 }},
		{"origin", func(f *File) { f.Plates[1].Origin.Y = 5 }},
		{"plate channel", func(f *File) { f.Plates[1].Channels[5] = 0 }},
		{"matrix", func(f *File) {
			f.Plates[0].Type = 4
			f.Plates[0].Calibration = [][]float64{{1, 2, 3, 4, 5, 6}, {7, 8, 9, 10, 11, 12}}
		}},
		{"plate less", func(f *File) { f.Plates = f.Plates[1:] }},
		{"no plates", func(f *File) { f.Plates = nil }},
		{"plate of 8 channels", func(f *File) { f.Plates[0].Type, f.Plates[0].Channels = 3, []int{7, 6, 5, 4, 3, 2, 1, 0} }},
		{"time of a header event", func(f *File) { f.Events[0].Time = 0.03125 }},
		{"label of a header event", func(f *File) { f.Events[0].Label = "Q" }},
		{"status of a header event", func(f *File) { f.Events[0].Off = true }},
		{"time of an event", func(f *File) { f.Events[3].Time = 0.0625 }},
		{"label of an event", func(f *File) { f.Events[3].Label = "Heel" }},
		{"context of an event", func(f *File) { f.Events[3].Context = "Up" }},
		{"description of an event", func(f *File) { f.Events[3].Description = "D" }},
		{"subject of an event", func(f *File) { f.Events[3].Subject = "S" }},
		{"icon of an event", func(f *File) { f.Events[3].Icon = 3 }},
		{"flags of an event", func(f *File) { f.Events[3].Flags = 1 }},
		{"no events", func(f *File) { f.Events = nil }},
		{"event more", func(f *File) { f.Events = append(f.Events, Event{Label: "E", Context: "C", Time: 0.0625}) }},
		{"what comes behind", func(f *File) { f.Trailing = []byte("more") }},
	} {
		f := decode(t, encode(t, small()), Options{})
		c.change(f)
		b, err := Append(nil, f)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		g := decode(t, b, Options{})
		for _, code := range []string{CodeScaleMismatch, CodeScaleSign, CodeRate, CodeCountMismatch, CodeFrameCount, CodeFirstFrame, CodeRateRatio, CodeDataStart, CodeBlockCount} {
			if slices.Contains(codes(g), code) {
				t.Errorf("%s: the file contradicts itself: %v", c.name, g.Warnings)
			}
		}
		for i := range g.Events { // times that went through another clock
			if i < len(f.Events) && math.Abs(g.Events[i].Time-f.Events[i].Time) < 1e-8 {
				g.Events[i].Time = f.Events[i].Time
			}
		}
		if d := differ(f, g); d != "" {
			t.Errorf("%s:\n%s", c.name, d)
		}
		if v := g.Groups.Floats("SUBJECTS", "MASS"); len(v) != 1 || v[0] != 71.5 {
			t.Errorf("%s: another group was lost", c.name)
		}
	}
	// Number types stay as long as they can hold the numbers.
	for n, want := range map[int]Type{2: Byte, 255: Byte, 256: Int} {
		f := decode(t, with(t, "POINT", Parameter{Name: "USED", Type: Byte, Data: []byte{3}}), Options{})
		for len(f.Points) < n {
			f.Points = append(f.Points, Point{Label: fmt.Sprint(len(f.Points)), Position: make([]r3.Vec, 12)})
		}
		f.Points = f.Points[:n]
		g := decode(t, encode(t, f), Options{Strict: true})
		if p := g.Groups.Find("POINT", "USED"); p.Type != want || len(g.Points) != n {
			t.Errorf("%d points: type %d, want %d", n, p.Type, want)
		}
		if two := g.Groups.Find("POINT", "LABELS2"); (two != nil) != (n > 255) {
			t.Errorf("%d points: LABELS2 is %v", n, two)
		}
	}
	// A single value keeps its dimensions.
	f := decode(t, with(t, "POINT", NewInts("USED", []int{1, 1}, 3)), Options{})
	f.Points = f.Points[:2]
	if p := decode(t, encode(t, f), Options{Strict: true}).Groups.Find("POINT", "USED"); len(p.Dims) != 2 || p.Data[0] != 2 {
		t.Errorf("dimensions %v, value %d", p.Dims, p.Data[0])
	}
}
