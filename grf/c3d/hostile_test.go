package c3d

import (
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"runtime"
	"slices"
	"testing"
	"time"
)

// TestCutAnywhere cuts the seeds at every byte: what is left reads as a file
// with fewer frames, says so, or fails with a place.
func TestCutAnywhere(t *testing.T) {
	for i, seed := range seeds(t) {
		whole := decode(t, seed, Options{})
		for n := 0; n < len(seed); n += 1 + 6*min(i, 1) { // the first seed at every byte
			f, err := Decode(seed[:n], Options{})
			if (f == nil) == (err == nil) {
				t.Fatalf("cut at %d: file %v and error %v", n, f, err)
			}
			if err != nil {
				var place *FormatError
				if !errors.As(err, &place) {
					t.Fatalf("cut at %d: error without a place: %v", n, err)
				}
				continue
			}
			if n < whole.Layout.DataEnd && len(f.Warnings) == 0 {
				t.Fatalf("cut at %d: no warning", n)
			}
			if f.Frames > whole.Frames || f.Frames*whole.Layout.FrameBytes > max(0, n-whole.Layout.DataStart) {
				t.Fatalf("cut at %d: %d frames", n, f.Frames)
			}
			// What is there is right.
			for c := range f.Channels {
				if n > whole.Layout.DataStart && !slices.Equal(f.Channels[c].Values, whole.Channels[c].Values[:4*f.Frames]) {
					t.Fatalf("cut at %d: channel %d differs", n, c)
				}
			}
		}
	}
}

// TestCutInParameters: a file that ends among its parameters tells what it
// knows, has no frames and says so.
func TestCutInParameters(t *testing.T) {
	b := encode(t, small())
	f := decode(t, b[:param(t, b, "FORCE_PLATFORM", "CORNERS")+30], Options{})
	if c := codes(f); !slices.Contains(c, CodeTruncatedSection) || !slices.Contains(c, CodeTruncated) {
		t.Errorf("warned of %v", c)
	}
	if f.Frames != 0 || len(f.Points) != 3 || len(f.Channels) != 12 || f.Units != "mm" || f.Points[0].Label != "HIP" || f.Layout.DeclaredFrames != 12 {
		t.Errorf("%d frames, %d points, %d channels in %q", f.Frames, len(f.Points), len(f.Channels), f.Units)
	}
}

// TestFlipAnyByte changes every byte of a seed in several ways.
func TestFlipAnyByte(t *testing.T) {
	all := seeds(t)
	if testing.Short() {
		all = all[:1]
	}
	for n, seed := range all {
		for i := range seed {
			for _, v := range []byte{0, 0xff, seed[i] ^ 1, seed[i] ^ 0x80} {
				if n > 0 && (i+n)%len(all) != 0 || v == seed[i] {
					continue // the first seed in full, of the others a share each
				}
				b := bytes.Clone(seed)
				b[i] = v
				f, err := Decode(b, Options{})
				if (f == nil) == (err == nil) {
					t.Fatalf("byte %d set to %d: file %v and error %v", i, v, f, err)
				}
				if err == nil && (i+int(v))%16 == 0 {
					rewrite(t, f)
				}
			}
		}
	}
}

// TestMemoryIsBounded measures what the worst announcements make Decode
// allocate.
func TestMemoryIsBounded(t *testing.T) {
	b := encode(t, small())
	huge := word(word(word(word(b, 2, 65535), 3, 65535), 5, 65535), 10, 1)
	points := &File{Rate: 1, Units: "m", Storage: Integer, PointScale: 1, Points: make([]Point, 5000)}
	for i := range points.Points {
		points.Points[i].Position = make([]vec, 1)
	}
	dims := with(t, "SUBJECTS", Parameter{Name: "BIG", Type: Char, Dims: []int{0, 255, 255, 255, 255, 255, 255}})
	for name, data := range map[string][]byte{
		"ordinary": b, "huge counts": huge, "one frame of 5000 points": encode(t, points), "empty cells": dims,
		"huge counts and a cut": huge[:2000], "long": encode(t, long(70000)),
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		start := time.Now()
		f, err := Decode(data, Options{})
		took := time.Since(start)
		runtime.ReadMemStats(&after)
		runtime.KeepAlive(f)
		// 40 bytes for a point and 8 for a sample, where a file has 8 and 2;
		// about 150 for the rest of a point; and what a header alone may claim.
		if got, limit := after.TotalAlloc-before.TotalAlloc, uint64(1<<20+40*len(data)); got > limit {
			t.Errorf("%s: %d bytes allocated for %d (%v)", name, got, len(data), err)
		}
		if took > 5*time.Second {
			t.Errorf("%s took %v", name, took)
		}
	}
}

// TestManyRecords: reading does not take time that grows with the square of the
// number of records.
func TestManyRecords(t *testing.T) {
	b := encode(t, small())[:516:516]
	for i := range maxRecords {
		b = append(b, 3, 1, 'A'+byte(i%26), 'A'+byte(i/26%26), 'A'+byte(i/676), 6, 0, 9, 0, 0, 0)
	}
	b = append(word(b, 9, len(b)/blockSize+2), make([]byte, 4*blockSize)...)
	start := time.Now()
	f := decode(t, b, Options{})
	if took := time.Since(start); took > 5*time.Second {
		t.Errorf("took %v", took)
	}
	if len(f.Warnings) != maxWarnings+1 || f.Warnings[maxWarnings].Code != CodeMoreWarnings {
		t.Errorf("%d warnings", len(f.Warnings))
	}
}

// TestRead reads through an io.ReaderAt: all of it, or only what comes before
// the data.
func TestRead(t *testing.T) {
	f := long(300_000)
	for i := range 30 { // parameters that do not fit the first piece
		f.Groups.Set("FILL", Parameter{Name: string(rune('A' + i)), Type: Byte, Dims: []int{100}, Data: make([]byte, 100)})
	}
	b := encode(t, f)
	r := &counting{r: bytes.NewReader(b)}
	g, err := Read(r, int64(len(b)), Options{WithoutSamples: true})
	if err != nil {
		t.Fatal(err)
	}
	if r.n >= int64(len(b)) {
		t.Errorf("%d of %d bytes fetched for the parameters", r.n, len(b))
	}
	if g.Frames != 300_000 || len(g.Channels) != 1 || g.Channels[0].Values != nil || g.Channels[0].Label != "Fz" || len(g.Warnings) != 0 {
		t.Errorf("%d frames, %+v, %v", g.Frames, g.Channels, g.Warnings)
	}
	if _, err := Append(nil, g); err == nil {
		t.Error("a file without its samples can be written")
	}
	// More parameters than any block count can announce.
	c := encode(t, small())
	end := decode(t, c, Options{}).Layout.ParameterEnd
	large := slices.Clone(c[:end])
	for i := range 8 {
		large = append(large, 1, 1, 'A'+byte(i), 0, 0, 1, 2, 255, 200)
		binary.LittleEndian.PutUint16(large[len(large)-6:], 2+4+255*200+1)
		large = append(large, make([]byte, 255*200+1)...)
	}
	large = append(large, byte(0), 0)
	large = pad(large, (len(large)+blockSize)/blockSize*blockSize)
	at := valueAt(t, c, "POINT", "DATA_START")
	start := len(large)/blockSize + 1
	large = append(word(edit(large, at, byte(start), byte(start>>8)), 9, start), c[decode(t, c, Options{}).Layout.DataStart:]...)
	if g, err = Read(bytes.NewReader(large), int64(len(large)), Options{WithoutSamples: true}); err != nil || g.Groups.Find("POINT", "H") == nil && g.Groups.Find("SUBJECTS", "H") == nil {
		t.Errorf("large parameters: %v", err)
	}
	sameData(t, decode(t, large, Options{}))
	if g, err = Read(bytes.NewReader(b), int64(len(b)), Options{}); err != nil {
		t.Fatal(err)
	}
	lengthOf(t, g, 300_000)
	if _, err = Read(bytes.NewReader(b), int64(len(b))+1, Options{}); !errors.Is(err, io.EOF) {
		t.Errorf("a size beyond the end: %v", err)
	}
}

type counting struct {
	r io.ReaderAt
	n int64
}

func (c *counting) ReadAt(b []byte, off int64) (int, error) {
	c.n += int64(len(b))
	return c.r.ReadAt(b, off)
}

// TestReuse reads different files into one File: nothing of an earlier one
// shows, and reading the same again allocates no series.
func TestReuse(t *testing.T) {
	var f File
	big, little := long(5000), small()
	a, b := encode(t, big), encode(t, little)
	for range 3 {
		if err := f.Decode(a, Options{}); err != nil {
			t.Fatal(err)
		}
		lengthOf(t, &f, 5000)
		if len(f.Points)+len(f.Plates)+len(f.Events) != 0 {
			t.Fatal("the other file shows")
		}
		if err := f.Decode(b, Options{}); err != nil {
			t.Fatal(err)
		}
		sameData(t, &f)
		sameGroups(t, f.Groups, decode(t, b, Options{}).Groups)
		if err := f.Decode(b[:100], Options{}); err == nil || f.Frames != 0 || f.Points != nil || f.Groups != nil {
			t.Fatal("after an error the File is not empty")
		}
	}
	f.Decode(a, Options{})
	bytesPerRun := testing.Benchmark(func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			f.Decode(a, Options{})
		}
	}).AllocedBytesPerOp()
	if bytesPerRun > 20000 { // the series alone have 40000
		t.Errorf("%d bytes allocated in reused memory", bytesPerRun)
	}
}

// sameGroups wants the same parameters, word for word.
func sameGroups(t *testing.T, got, want Groups) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%d groups, want %d", len(got), len(want))
	}
	for i := range want {
		g, w := &got[i], &want[i]
		if g.Name != w.Name || g.Description != w.Description || g.ID != w.ID || len(g.Parameters) != len(w.Parameters) {
			t.Fatalf("group %q %q with %d parameters, want %q %q with %d", g.Name, g.Description, len(g.Parameters), w.Name, w.Description, len(w.Parameters))
		}
		for k := range w.Parameters {
			p, q := &g.Parameters[k], &w.Parameters[k]
			if p.Name != q.Name || p.Description != q.Description || p.Type != q.Type || !slices.Equal(p.Dims, q.Dims) || !bytes.Equal(p.Data, q.Data) {
				t.Fatalf("parameter %s:%s is %+v, want %+v", w.Name, q.Name, *p, *q)
			}
		}
	}
}

// TestReuseOfPublicFiles: what one public file leaves behind does not show in
// the next.
func TestReuseOfPublicFiles(t *testing.T) {
	var f File
	for _, name := range []string{"bmc/Gait.c3d", "sample10/TYPE-2.C3D", "sample01/Eb015pr.c3d", "sample10/TYPE-2.C3D"} {
		data := dataset(t, name)
		if err := f.Decode(data, Options{}); err != nil {
			t.Fatal(err)
		}
		fresh := decode(t, data, Options{})
		sameGroups(t, f.Groups, fresh.Groups)
		for c := range fresh.Channels {
			if f.Channels[c].Label != fresh.Channels[c].Label || !slices.Equal(f.Channels[c].Values, fresh.Channels[c].Values) {
				t.Fatalf("%s: channel %d differs", name, c)
			}
		}
	}
}

// TestWriterFails: the error of the writer is wrapped, and nothing is written
// when the File can not be stored.
func TestWriterFails(t *testing.T) {
	cause := errors.New("disk full")
	if err := Encode(failing{cause}, small()); !errors.Is(err, cause) {
		t.Errorf("got %v", err)
	}
	f := small()
	f.Storage = Integer
	f.Channels[0].Values[3] = 1e9
	var b bytes.Buffer
	err := Encode(&b, f)
	checkError(t, err, ErrRange)
	if b.Len() != 0 {
		t.Errorf("%d bytes written before the error", b.Len())
	}
	dst := []byte("before")
	if out, err := Append(dst, f); err == nil || string(out) != "before" {
		t.Errorf("%q, %v", out, err)
	}
	if out, err := Append(dst, small()); err != nil || !bytes.HasPrefix(out, dst) {
		t.Errorf("%v", err)
	} else {
		sameData(t, decode(t, out[len(dst):], Options{Strict: true}))
	}
}

type failing struct{ err error }

func (w failing) Write([]byte) (int, error) { return 0, w.err }
