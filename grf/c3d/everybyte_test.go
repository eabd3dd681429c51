package c3d

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"maps"
	"runtime"
	"runtime/metrics"
	"slices"
	"testing"
	"time"
)

// damaged holds what must be true of reading a damaged file: a File or an error with
// a place, never both; strict reading lets no warning pass; memory and time are
// bounded by the size of the file.
type damaged struct {
	allocated [1]metrics.Sample
	most      float64 // bytes allocated per byte of a file, beyond what any file takes
	slowest   time.Duration
}

func newDamaged() *damaged {
	d := &damaged{}
	d.allocated[0].Name = "/gc/heap/allocs:bytes"
	return d
}

func (d *damaged) bytes() uint64 {
	metrics.Read(d.allocated[:])
	return d.allocated[0].Value.Uint64()
}

// anyFile is what reading takes whatever the file: a header alone may claim points
// and channels that have no frames, for which labels are made up.
const anyFile = 1 << 20

func (d *damaged) read(t *testing.T, what string, data []byte) {
	t.Helper()
	before, start := d.bytes(), time.Now()
	f, err := Decode(data, Options{})
	took, got := time.Since(start), d.bytes()-before
	d.slowest = max(d.slowest, took)
	if got > anyFile {
		d.most = max(d.most, float64(got-anyFile)/float64(len(data)+1))
	}
	if limit := uint64(anyFile + 40*len(data)); got > limit || took > 5*time.Second {
		t.Fatalf("%s: %d bytes allocated for a file of %d, in %v", what, got, len(data), took)
	}
	if (f == nil) == (err == nil) {
		t.Fatalf("%s: file %v and error %v", what, f != nil, err)
	}
	strict, strictErr := Decode(data, Options{Strict: true})
	if (strict == nil) == (strictErr == nil) || strict != nil && (len(f.Warnings) > 0 || f.PointsErr != nil || f.AnalogErr != nil) {
		t.Fatalf("%s: strict reading gave %v and %v", what, strict != nil, strictErr)
	}
	if err != nil {
		var place *FormatError
		if !errors.As(err, &place) || place.Place == "" {
			t.Fatalf("%s: an error without a place: %v", what, err)
		}
		return
	}
	// What is not whole says so.
	whole := f.Layout.DeclaredFrames == f.Frames && f.PointsErr == nil && f.AnalogErr == nil
	if !whole && len(f.Warnings) == 0 {
		t.Fatalf("%s: %d of %d frames, points %v, channels %v, and no warning", what, f.Frames, f.Layout.DeclaredFrames, f.PointsErr, f.AnalogErr)
	}
	for _, w := range f.Warnings {
		if w.Code == "" || w.Where == "" || w.Text == "" {
			t.Fatalf("%s: a warning without code, place or text: %+v", what, w)
		}
	}
}

var every = flag.Bool("every", false, "TestEveryByte: larger seeds, too, which takes a minute")

// TestEveryByte cuts every seed at every byte and changes every byte of it in four
// ways; with -short every ninth byte in two.
func TestEveryByte(t *testing.T) {
	all := seedFiles(t)
	if *every {
		for i, b := range seeds(t) {
			all[fmt.Sprint("seed ", i)] = b
		}
	}
	d, files := newDamaged(), 0
	for _, name := range slices.Sorted(maps.Keys(all)) {
		seed := all[name]
		stride := 1
		if testing.Short() {
			stride = 9
		}
		for n := 0; n < len(seed); n += stride {
			d.read(t, fmt.Sprintf("%s cut at byte %d", name, n), seed[:n])
			files++
		}
		b := bytes.Clone(seed)
		for i := 0; i < len(seed); i += stride {
			v := seed[i]
			changes := []byte{0, 0xff, v ^ 1, v ^ 0x80}
			if testing.Short() {
				changes = []byte{v ^ 0x80, ^v}
			}
			for _, c := range changes {
				if c == v {
					continue
				}
				b[i] = c
				d.read(t, fmt.Sprintf("%s with byte %d set to %#02x", name, i, c), b)
				files++
			}
			b[i] = v
		}
	}
	t.Logf("%d damaged files; at most %.1f bytes allocated for a byte of a file, beyond %d bytes; the slowest took %v", files, d.most, anyFile, d.slowest)
}

// TestClaimsAreNotBelieved: headers and parameters that claim all the points, channels
// and frames that the format can write down cost no memory.
func TestClaimsAreNotBelieved(t *testing.T) {
	claim := func(params ...Parameter) []byte {
		b := with(t, "POINT", params...)
		return word(word(word(word(b, 2, 65535), 3, 65535), 5, 65535), 10, 1)
	}
	trial := func() []byte {
		f := decode(t, encode(t, small()), Options{})
		f.Groups.Set("TRIAL", NewInts("ACTUAL_START_FIELD", []int{2}, 1, 0))
		f.Groups.Set("TRIAL", NewInts("ACTUAL_END_FIELD", []int{2}, 65535, 65535))
		b := encode(t, f)
		return word(word(word(edit(b, valueAt(t, b, "POINT", "FRAMES"), 0xff, 0xff), 2, 65535), 3, 65535), 5, 65535)
	}
	for name, data := range map[string][]byte{
		"65535 points, 4·10⁹ frames":              claim(NewInts("USED", nil, 65535), NewInts("FRAMES", nil, 65535), NewFloats("LONG_FRAMES", nil, 4294967040)),
		"65535 points, 10³⁸ frames":               claim(NewInts("USED", nil, 65535), NewInts("FRAMES", nil, 65535), NewFloats("LONG_FRAMES", nil, 3e38)),
		"4·10⁹ frames as a float":                 claim(NewInts("USED", nil, 65535), NewFloats("FRAMES", nil, 4e9)),
		"the TRIAL group says 4·10⁹":              trial(),
		"no points and no channels, 4·10⁹ frames": word(word(with(t, "POINT", NewInts("USED", nil, 0), NewInts("FRAMES", nil, 65535), NewFloats("LONG_FRAMES", nil, 4e9)), 2, 0), 3, 0),
		"255 plates":                                 with(t, "FORCE_PLATFORM", NewInts("USED", nil, 65535)),
		"65535 events":                               with(t, "EVENT", NewInts("USED", nil, 65535)),
		"a cut file that claims everything":          claim(NewFloats("LONG_FRAMES", nil, 4e9))[:1400],
		"a block count and a start beyond every end": word(edit(encode(t, small()), 514, 255), 9, 65535),
	} {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		f, err := Decode(data, Options{})
		runtime.ReadMemStats(&after)
		// 65535 points and channels without frames have a label each.
		if got := after.TotalAlloc - before.TotalAlloc; got > 2<<20 {
			t.Errorf("%s: %d bytes allocated for %d (%v)", name, got, len(data), err)
		} else {
			t.Logf("%s: %d bytes allocated for %d (%v)", name, got, len(data), err)
		}
		if f != nil && f.Layout.FrameBytes > 0 && f.Frames*f.Layout.FrameBytes > len(data) {
			t.Errorf("%s: %d frames of %d bytes out of %d", name, f.Frames, f.Layout.FrameBytes, len(data))
		}
		newDamaged().read(t, name, data)
	}
}
