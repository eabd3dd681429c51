package c3d

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"testing"
)

// long returns a file of one integer channel with one sample per frame, the
// cheapest way to many frames: sample i is i modulo 1000.
func long(frames int) *File {
	f := &File{Rate: 1000, Storage: Integer, SamplesPerFrame: 1, PointScale: 1,
		Channels: []Channel{{Label: "Fz", Unit: "N", Scale: 1, Values: make([]float64, frames)}}}
	for i := range f.Channels[0].Values {
		f.Channels[0].Values[i] = float64(i % 1000)
	}
	return f
}

// lengthOf checks that a file made by long has this many frames, in order.
func lengthOf(t testing.TB, f *File, want int) {
	t.Helper()
	v := f.Channels[0].Values
	if f.Frames != want || len(v) != want {
		t.Fatalf("%d frames and %d samples, want %d", f.Frames, len(v), want)
	}
	for i := range v {
		if v[i] != float64(i%1000) {
			t.Fatalf("sample %d is %g", i, v[i])
		}
	}
}

var frameTraps = []trap{
	{20, "the header's range is a capture range", func(t *testing.T) {
		for _, first := range []int{1, 2, 91, 1166, 65535, 70000} {
			f := small()
			f.FirstFrame = first
			f.Events = f.Events[:2] // see trap 43 for the others
			g := decode(t, encode(t, f), Options{Strict: true})
			if g.Frames != 12 || g.FirstFrame != first {
				t.Errorf("first frame %d: got %d frames from %d", first, g.Frames, g.FirstFrame)
			}
			g.FirstFrame = 1
			g.Events = small().Events
			sameData(t, g)
		}
		// First frame 0: kept, and time counts from it.
		b := word(word(stripped(t, "TRIAL"), 4, 0), 5, 11)
		g := decode(t, b, Options{Strict: true})
		if g.FirstFrame != 0 || g.Frames != 12 || g.FrameTime(0) != 0 {
			t.Errorf("got %d frames from %d", g.Frames, g.FirstFrame)
		}
		rewrite(t, g)
		// A range that runs backwards: the parameters know.
		g = decode(t, word(word(encode(t, small()), 4, 12), 5, 1), Options{})
		warned(t, g, CodeFrameRange, CodeEventRange) // counted from frame 12, an event is early
		fails(t, word(word(stripped(t, "POINT:FRAMES"), 4, 12), 5, 1), Options{}, ErrFrameRange)
	}, ""},
	{21, "more than 65535 frames", func(t *testing.T) {
		for _, n := range []int{65534, 65535, 65536, 72610} {
			f := long(n)
			b := encode(t, f)
			lengthOf(t, decode(t, b, Options{Strict: true}), n)
			g := decode(t, b, Options{})
			c := encode(t, g)
			if !bytes.Equal(b, c) {
				t.Errorf("%d frames are not written as they were", n)
			}
			if n <= saturated {
				continue
			}
			// LONG_FRAMES alone, TRIAL alone.
			bare := assemble(t, decode(t, b, Options{}), func(w *writer) { w.remove("POINT", "LONG_FRAMES") })
			lengthOf(t, decode(t, bare, Options{Strict: true}), n)
			trial := func(g Group) bool { return g.Name == "TRIAL" }
			bare = assemble(t, decode(t, b, Options{}), func(w *writer) { w.groups = slices.DeleteFunc(w.groups, trial) })
			if decode(t, bare, Options{}).Groups.Has("TRIAL") {
				t.Fatal("the test did not take TRIAL away")
			}
			lengthOf(t, decode(t, bare, Options{Strict: true}), n)
			// Neither: 65535 is what is said, though more could be there.
			bare = assemble(t, decode(t, b, Options{}), func(w *writer) {
				w.groups = slices.DeleteFunc(w.groups, trial)
				w.remove("POINT", "LONG_FRAMES")
			})
			if n-saturated > blockSize/2 {
				h := decode(t, bare, Options{})
				warned(t, h, CodeMoreFrames)
				lengthOf(t, h, saturated)
				h = decode(t, bare, Options{BeyondFrames: true})
				warned(t, h, CodeMoreFrames)
				if h.Frames < n || h.Frames > n+blockSize/2 {
					t.Errorf("%d frames, want %d and what fits the padding", h.Frames, n)
				}
			}
			// What says less than 65535 is not believed when FRAMES is at its limit.
			low := assemble(t, g, func(w *writer) {
				w.groups.Set("POINT", NewFloats("LONG_FRAMES", nil, 5))
			})
			lengthOf(t, decode(t, low, Options{Strict: true}), n)
			low = assemble(t, g, func(w *writer) {
				w.groups.Set("TRIAL", NewInts("ACTUAL_END_FIELD", []int{2}, 5, 0))
			})
			lengthOf(t, decode(t, low, Options{Strict: true}), n)
			// A count of −1 stands for 65535 as well.
			minus := assemble(t, g, func(w *writer) { w.groups.Set("POINT", NewFloats("FRAMES", nil, -1)) })
			lengthOf(t, decode(t, minus, Options{Strict: true}), n)
		}
	}, ""},
	{22, "a count that is one too high", func(t *testing.T) {
		b := encode(t, small())
		f := decode(t, b, Options{})
		b = b[:f.Layout.DataEnd]
		at := valueAt(t, b, "POINT", "FRAMES")
		g := decode(t, word(edit(b, at, 13, 0), 5, 13), Options{})
		warned(t, g, CodeFrameCount)
		sameData(t, g)
		g = decode(t, edit(b, at, 13, 0), Options{}) // the header knows better
		warned(t, g, CodeFrameCount)
		sameData(t, g)
	}, ""},
	{23, "truncated data", func(t *testing.T) {
		b := encode(t, small())
		l := decode(t, b, Options{}).Layout
		for cut := 1; cut < 12*l.FrameBytes; cut += 37 {
			f := decode(t, b[:l.DataEnd-cut], Options{})
			want := 12 - (cut+l.FrameBytes-1)/l.FrameBytes
			if f.Frames != want || len(f.Points[0].Position) != want || len(f.Channels[0].Values) != 4*want || f.Layout.DeclaredFrames != 12 {
				t.Fatalf("%d bytes cut: %d frames, want %d", cut, f.Frames, want)
			}
			if c := codes(f); !slices.Contains(c, CodeTruncated) && !slices.Contains(c, CodeFrameCount) {
				t.Errorf("%d bytes cut: warned of %v only", cut, c)
			}
			fails(t, b[:l.DataEnd-cut], Options{Strict: true}, ErrStrict)
		}
		f := decode(t, word(edit(b, valueAt(t, b, "POINT", "FRAMES"), 0x7d, 0x04), 5, 1149), Options{})
		warned(t, f, CodeTruncated)
		if f.Frames != 12+(blockSize-1)/l.FrameBytes && f.Frames != 12 {
			t.Logf("%d frames", f.Frames)
		}
	}, ""},
	{24, "padding is no data", func(t *testing.T) {
		f := &File{Rate: 10, Units: "m", Storage: Integer, PointScale: 1, Points: []Point{{Label: "A", Position: make([]vec, 5)}}}
		b := encode(t, f) // 40 bytes of data in a block that has room for 64 frames
		g := decode(t, b, Options{Strict: true})
		if g.Frames != 5 {
			t.Errorf("%d frames, want 5", g.Frames)
		}
		for i := g.Layout.DataEnd; i < len(b); i++ {
			b[i] = 0x5a
		}
		if g = decode(t, b, Options{Strict: true}); g.Frames != 5 || len(g.Trailing) != 0 {
			t.Errorf("garbage in the padding: %d frames, %d bytes behind", g.Frames, len(g.Trailing))
		}
	}, ""},
	{25, "rates that disagree", func(t *testing.T) {
		f := small()
		f.Rate = 59.94 // not an integer, and exact only to single precision
		g := decode(t, encode(t, f), Options{Strict: true})
		if g.Rate != single(59.94) || math.Abs(g.AnalogRate()-4*59.94) > 1e-5 {
			t.Errorf("rates %g and %g", g.Rate, g.AnalogRate())
		}
		g = decode(t, with(t, "ANALOG", NewFloats("RATE", nil, 1667)), Options{}) // ratio 16.67
		warned(t, g, CodeRateRatio)
		sameData(t, g)
		if g.AnalogRate() != 400 {
			t.Errorf("analog rate %g, want 400", g.AnalogRate())
		}
		g = decode(t, with(t, "POINT", NewFloats("RATE", nil, 60)), Options{})
		warned(t, g, CodeRate, CodeRateRatio)
		if g.Rate != 60 {
			t.Errorf("rate %g, want 60", g.Rate)
		}
		// A file can be plainly wrong: the caller may know.
		if g = decode(t, encode(t, small()), Options{Rate: 200}); g.Rate != 200 || g.AnalogRate() != 800 || g.SampleTime(8) != 0.01 {
			t.Errorf("rates %g and %g", g.Rate, g.AnalogRate())
		}
	}, ""},
	{26, "rates of 0", func(t *testing.T) {
		f := &File{Rate: 50, Units: "mm", Points: small().Points}
		g := decode(t, word(encode(t, f), 10, 0), Options{Strict: true})
		if g.AnalogRate() != 0 || len(g.Channels) != 0 || g.Frames != 12 {
			t.Errorf("analog rate %g, %d channels", g.AnalogRate(), len(g.Channels))
		}
		for _, r := range []float64{0, -5, math.NaN(), math.Inf(1)} {
			g := decode(t, float(with(t, "POINT", NewFloats("RATE", nil, r)), 11, r), Options{})
			warned(t, g, CodeNoRate)
			checkError(t, g.CheckRate(), ErrRate)
			if !math.IsNaN(g.FrameTime(3)) || !math.IsNaN(g.SampleTime(3)) || !math.IsNaN(g.Duration()) || g.AnalogRate() != 0 || g.Points[0].Position[3].X != 3 {
				t.Errorf("rate %g: time %g", r, g.FrameTime(3))
			}
			if g.Events[0].OutOfRange || g.Events[0].Time != 0.0625 {
				t.Errorf("rate %g: %+v", r, g.Events[0])
			}
			if _, ok := g.FrameAt(1); ok {
				t.Errorf("rate %g: an instant has a frame", r)
			}
			rewrite(t, g)
		}
	}, ""},
	{27, "analog only, points only", func(t *testing.T) {
		f := small()
		f.Points, f.Plates, f.Units = nil, nil, ""
		b := encode(t, f)
		g := decode(t, b, Options{Strict: true})
		if len(g.Points) != 0 || len(g.Channels) != 12 || g.Channels[2].Values[4] != f.Channels[2].Values[4] {
			t.Errorf("%d points, %d channels", len(g.Points), len(g.Channels))
		}
		g = decode(t, assemble(t, g, func(w *writer) {
			w.groups = slices.DeleteFunc(w.groups, func(g Group) bool { return g.Name == "POINT" })
		}), Options{Strict: true})
		if g.Groups.Has("POINT") || len(g.Channels) != 12 || g.Frames != 12 || g.Rate != 100 {
			t.Errorf("without POINT: %d channels, %d frames at %g", len(g.Channels), g.Frames, g.Rate)
		}
		rewrite(t, g)
		f = small()
		f.Channels, f.Plates = nil, nil
		f.Groups = f.Groups[4:] // no ANALOG group
		g = decode(t, encode(t, f), Options{Strict: true})
		if g.Groups.Has("ANALOG") || len(g.Channels) != 0 || len(g.Points) != 3 {
			t.Errorf("without ANALOG: %d channels, %d points", len(g.Channels), len(g.Points))
		}
		g = decode(t, stripped(t, "ANALOG:RATE"), Options{Strict: true})
		sameData(t, g)
	}, ""},
	{28, "missing parameters", func(t *testing.T) {
		f := decode(t, stripped(t, "POINT:DATA_START", "POINT:SCALE", "POINT:FRAMES", "POINT:USED", "POINT:RATE"), Options{Strict: true})
		sameData(t, f)
		rewrite(t, f)
		f = decode(t, stripped(t, "POINT:UNITS"), Options{})
		warned(t, f, CodeUnitUnknown)
		if _, err := f.UnitMetres(); f.Units != "" {
			t.Error("a unit out of nowhere")
		} else {
			checkError(t, err, ErrUnit)
		}
	}, ""},
	{29, "start of the data over 127 and over 32767", func(t *testing.T) {
		for _, start := range []int{130, 250, 33000} {
			b := encode(t, small())
			l := decode(t, b, Options{}).Layout
			c := pad(slices.Clone(b[:l.DataStart]), (start-1)*blockSize)
			c = word(append(c, b[l.DataStart:]...), 9, start)
			c = edit(c, valueAt(t, b, "POINT", "DATA_START"), byte(start), byte(start>>8))
			f := decode(t, c, Options{Strict: true})
			sameData(t, f)
			if start > 300 {
				continue
			}
			if d := encode(t, f); !bytes.Equal(c, d) {
				t.Error("the room between parameters and data is not kept")
			}
		}
		b := encode(t, small())
		at := valueAt(t, b, "POINT", "DATA_START")
		for n, c := range [][]byte{word(b, 9, 0), word(b, 9, 3), edit(b, at, 0, 0), edit(b, at, 200, 0), word(edit(b, at, 0, 0), 9, 0), word(edit(b, at, 3, 0), 9, 1)} {
			f := decode(t, c, Options{})
			if !slices.Contains(codes(f), CodeDataStart) {
				t.Errorf("case %d: warned of %v", n, codes(f))
			}
			sameData(t, f)
		}
		l := decode(t, b, Options{}).Layout
		for block := 1; block < l.DataBlock; block++ { // anywhere before the end of the parameters
			f := decode(t, word(b, 9, block), Options{})
			warned(t, f, CodeDataStart)
			sameData(t, f)
		}
		fails(t, word(edit(b, at, 0, 0), 9, 0)[:l.DataStart], Options{}, ErrDataStart)
	}, ""},
	{30, "data behind the frames", func(t *testing.T) {
		b := append(encode(t, small()), bytes.Repeat([]byte("rotation"), 200)...)
		f := decode(t, b, Options{Strict: true})
		sameData(t, &File{Rate: f.Rate, SamplesPerFrame: 4, FirstFrame: 1, Frames: 12, Units: f.Units, Zero: f.Zero, PointScale: f.PointScale,
			GenScale: 1, Points: f.Points, Channels: f.Channels, Plates: f.Plates, Events: f.Events})
		if len(f.Trailing) != 1600 || string(f.Trailing[:8]) != "rotation" {
			t.Errorf("%d bytes behind the frames", len(f.Trailing))
		}
		if c := encode(t, f); !bytes.Equal(b, c) {
			t.Error("they are not written again")
		}
		// A ROTATION group explains why there is more than 65535 frames need.
		g := long(saturated)
		g.Groups.Set("ROTATION", NewInts("USED", nil, 1))
		c := append(encode(t, g), make([]byte, 1<<14)...)
		h := decode(t, c, Options{Strict: true})
		lengthOf(t, h, saturated)
		if fmt.Sprint(len(h.Trailing)) != fmt.Sprint(1<<14) {
			t.Errorf("%d bytes behind the frames", len(h.Trailing))
		}
	}, ""},
}
