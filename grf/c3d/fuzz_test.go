package c3d

import (
	"bytes"
	"errors"
	"testing"
)

// FuzzDecode reads anything. What can be read has series of the announced
// lengths, memory that is bounded by the input, and survives being written and
// read again; what was written is written the same a second time.
func FuzzDecode(f *testing.F) {
	for _, seed := range seeds(f) {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<20 {
			return
		}
		checkDecode(t, data)
	})
}

// seeds are small files of every format, and some of their defects.
func seeds(t testing.TB) [][]byte {
	var list [][]byte
	for _, p := range []Processor{Intel, DEC, MIPS} {
		for _, s := range []Storage{Real, Integer} {
			f := small()
			f.Processor, f.Storage = p, s
			list = append(list, encode(t, f))
		}
	}
	f := small()
	f.Storage, f.Unsigned = Integer, true
	for i := range f.Channels {
		f.Channels[i].Scale, f.Channels[i].Offset = 0, 0
	}
	list = append(list, encode(t, f))
	return list
}

// checkDecode holds the properties of FuzzDecode.
func checkDecode(t testing.TB, data []byte) {
	DecodeHeader(data)
	f, err := Decode(data, Options{})
	if (f == nil) == (err == nil) {
		t.Fatalf("file %v and error %v", f, err)
	}
	if s, err2 := Decode(data, Options{Strict: true}); (s == nil) == (err2 == nil) || s != nil && len(s.Warnings) > 0 {
		t.Fatal("strict reading let a warning pass")
	} else if err == nil && len(f.Warnings) == 0 && f.PointsErr == nil && f.AnalogErr == nil && s == nil {
		t.Fatalf("strict reading failed without a warning: %v", err2)
	}
	head, err2 := Read(bytes.NewReader(data), int64(len(data)), Options{WithoutSamples: true})
	if (err == nil) != (err2 == nil) {
		t.Fatalf("with samples: %v, without: %v", err, err2)
	}
	if err != nil {
		var format *FormatError
		if !errors.As(err, &format) {
			t.Fatalf("error without a place: %v", err)
		}
		return
	}
	if len(head.Points) != len(f.Points) || len(head.Channels) != len(f.Channels) || head.Frames != f.Frames {
		t.Fatal("reading without samples tells another layout")
	}
	size := 0
	for _, p := range f.Points {
		if len(p.Position) != len(p.Residual) || len(p.Position) != len(p.Cameras) || f.Layout.FrameBytes > 0 && len(p.Position) != f.Frames {
			t.Fatalf("%d frames, series of %d, %d, %d", f.Frames, len(p.Position), len(p.Residual), len(p.Cameras))
		}
		size += 40 * len(p.Position)
	}
	for _, c := range f.Channels {
		if f.Layout.FrameBytes > 0 && len(c.Values) != f.Frames*f.SamplesPerFrame {
			t.Fatalf("%d frames of %d samples, series of %d", f.Frames, f.SamplesPerFrame, len(c.Values))
		}
		size += 8 * len(c.Values)
	}
	if size > 6*len(data) {
		t.Fatalf("series of %d bytes from %d", size, len(data))
	}
	rewrite(t, f)
}

// rewrite writes a file and reads it back.
func rewrite(t testing.TB, f *File) {
	b, err := Append(nil, f)
	if err != nil {
		var w *WriteError
		if !errors.As(err, &w) {
			t.Fatalf("error without a place: %v", err)
		}
		return
	}
	g, err := Decode(b, Options{})
	if errors.Is(err, ErrByteOrder) {
		return // absurd rates and scales that happen to make sense in another byte order
	}
	if err != nil {
		t.Fatalf("can not read what was written: %v", err)
	}
	if d := differ(f, g); d != "" {
		t.Fatalf("reads back differently:\n%s\nfirst %v\nsecond %v", d, f.Warnings, g.Warnings)
	}
	b2, err := Append(nil, g)
	if err != nil {
		t.Fatalf("can not write it a second time: %v", err)
	}
	if !bytes.Equal(b, b2) {
		t.Fatal("writes differently a second time")
	}
}
