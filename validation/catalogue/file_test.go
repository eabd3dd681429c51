package catalogue

import (
	"bytes"
	"encoding/binary"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/grf/capture"
)

const frames, perFrame = 12, 4

// small is a file with a bit of everything, whose numbers survive single precision:
// three points, two plates that report forces and moments, events in both places.
func small() *c3d.File {
	f := &c3d.File{Rate: 100, SamplesPerFrame: perFrame, FirstFrame: 1, Units: "mm", PointScale: 0.0625, Zero: [2]int{1, 2},
		Events: []c3d.Event{{Label: "TOP", Time: 0.0625, InHeader: true}, {Label: "Foot Strike", Context: "Right", Time: 0.03125}}}
	for i, label := range []string{"HIP", "KNEE", "ANKLE"} {
		p := c3d.Point{Label: label}
		for k := range frames {
			p.Position = append(p.Position, r3.Vec{X: 100*float64(i) + float64(k), Y: -0.5 * float64(k), Z: 900})
			p.Residual = append(p.Residual, 0.0625*float64(k))
			p.Cameras = append(p.Cameras, uint8(k))
		}
		f.Points = append(f.Points, p)
	}
	for p := range 2 {
		y := 600 * float64(p)
		info := c3d.PlateInfo{Type: 2, Origin: r3.Vec{X: 1, Y: -2, Z: -40},
			Corners: [4]r3.Vec{{X: 400, Y: 600 + y}, {X: 400, Y: y}, {Y: y}, {Y: 600 + y}}}
		for k, name := range []string{"Fx", "Fy", "Fz", "Mx", "My", "Mz"} {
			info.Channels = append(info.Channels, len(f.Channels))
			c := c3d.Channel{Label: name + string(rune('1'+p)), Unit: "N", Scale: -0.5, Offset: 2}
			if k >= 3 {
				c.Unit = "Nmm"
			}
			for i := range frames * perFrame {
				c.Values = append(c.Values, -0.5*float64(i-20*k-5*p))
			}
			f.Channels = append(f.Channels, c)
		}
		f.Plates = append(f.Plates, info)
	}
	f.Groups = c3d.Groups{{Name: "POINT"}, {Name: "ANALOG"}, {Name: "FORCE_PLATFORM"}, {Name: "EVENT"}} // SUBJECTS is the last
	f.Groups.Set("SUBJECTS", c3d.NewText("NAMES", "Ada", "Bo"))
	f.Groups.Set("SUBJECTS", c3d.NewFloats("MASS", nil, 71.5))
	return f
}

func encode(t testing.TB, f *c3d.File) []byte {
	t.Helper()
	b, err := c3d.Append(nil, f)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func decode(t testing.TB, b []byte) *c3d.File {
	t.Helper()
	f, err := c3d.Decode(b, c3d.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// of makes the bytes of small after a change of what it means.
func of(change func(f *c3d.File)) func(t *testing.T) []byte {
	return func(t *testing.T) []byte {
		f := small()
		change(f)
		return encode(t, f)
	}
}

// with makes the bytes of small with parameters that the writer leaves alone.
func with(group string, params ...c3d.Parameter) func(t *testing.T) []byte {
	return of(func(f *c3d.File) {
		for _, p := range params {
			f.Groups.Set(group, p)
		}
	})
}

// bytesOf makes the bytes of small and edits them.
func bytesOf(edit func(t *testing.T, b []byte) []byte) func(t *testing.T) []byte {
	return func(t *testing.T) []byte { return edit(t, encode(t, small())) }
}

// put returns b with bytes replaced.
func put(b []byte, at int, with ...byte) []byte {
	b = bytes.Clone(b)
	copy(b[at:], with)
	return b
}

// word sets a 16-bit word of the header, counted from 1, of an Intel file.
func word(b []byte, n, v int) []byte {
	return put(b, 2*(n-1), byte(v), byte(v>>8))
}

// reals are the bytes of Intel floats, ints of words.
func reals(v ...float64) (b []byte) {
	for _, x := range v {
		b = binary.LittleEndian.AppendUint32(b, math.Float32bits(float32(x)))
	}
	return b
}

func ints(v ...int) (b []byte) {
	for _, x := range v {
		b = append(b, byte(x), byte(x>>8))
	}
	return b
}

// record returns where the record of a parameter ("POINT:USED") or group ("POINT") is
// and where its pointer and its value are.
func record(t *testing.T, b []byte, name string) (at, pointer, value int) {
	t.Helper()
	big := b[512*(int(b[0])-1)+3] == 86
	u16 := func(i int) int {
		if big {
			return int(binary.BigEndian.Uint16(b[i:]))
		}
		return int(binary.LittleEndian.Uint16(b[i:]))
	}
	group, param, isParam := strings.Cut(name, ":")
	ids := map[string]int{}
	for pass := range 2 {
		for i := 512*(int(b[0])-1) + 4; ; {
			n, id := int(int8(b[i])), int(int8(b[i+1]))
			if n < 0 {
				n = -n
			}
			if n == 0 || id == 0 {
				break
			}
			called := string(b[i+2 : i+2+n])
			pointer = i + 2 + n
			if id < 0 {
				ids[called] = -id
			}
			if pass == 1 && (!isParam && id < 0 && called == group || isParam && id > 0 && id == ids[group] && called == param) {
				return i, pointer, pointer + 4 + int(b[min(pointer+3, len(b)-1)])
			}
			step := u16(pointer)
			if step == 0 {
				break
			}
			i = pointer + step
		}
	}
	t.Fatalf("no %s", name)
	return 0, 0, 0
}

// value makes the bytes of small with the value of a parameter replaced in place.
func value(name string, with ...byte) func(t *testing.T) []byte {
	return bytesOf(func(t *testing.T, b []byte) []byte {
		_, _, at := record(t, b, name)
		return put(b, at, with...)
	})
}

// renamed makes the bytes of small with parameters called otherwise, which takes them
// away.
func renamed(names ...string) func(t *testing.T) []byte {
	return bytesOf(func(t *testing.T, b []byte) []byte {
		for _, name := range names {
			at, _, _ := record(t, b, name)
			b = put(b, at+2, 'Q')
		}
		return b
	})
}

// moved puts blocks of filler between header and parameters.
func moved(t *testing.T, b []byte, blocks int) []byte {
	start := decode(t, b).Layout.DataBlock + blocks
	_, _, at := record(t, b, "POINT:DATA_START")
	b = word(put(b, at, ints(start)...), 9, start)
	b[0] += byte(blocks)
	return slices.Concat(b[:512], bytes.Repeat([]byte{0xaa}, 512*blocks), b[512:])
}

// isSmall checks that the defect changed nothing of what the file means.
func isSmall(t *testing.T, f *c3d.File) {
	t.Helper()
	want := small()
	if f.Frames != frames || len(f.Points) != 3 || len(f.Channels) != 12 || len(f.Plates) != 2 || f.Rate != 100 || f.Units != "mm" {
		t.Fatalf("%d frames at %g Hz, %d points in %q, %d channels, %d plates", f.Frames, f.Rate, len(f.Points), f.Units, len(f.Channels), len(f.Plates))
	}
	for i, p := range f.Points {
		if p.Label != want.Points[i].Label || !slices.Equal(p.Position, want.Points[i].Position) {
			t.Errorf("point %d, %s, differs", i, p.Label)
		}
	}
	for i, c := range f.Channels {
		if c.Label != want.Channels[i].Label || !slices.Equal(c.Values, want.Channels[i].Values) {
			t.Errorf("channel %d, %s, differs", i, c.Label)
		}
	}
}

// cutAt is small without what comes behind the last frame, less n bytes.
func cutAt(n int) func(t *testing.T) []byte {
	return bytesOf(func(t *testing.T, b []byte) []byte { return b[:decode(t, b).Layout.DataEnd-n] })
}

// platesRow makes a row's run of the plates of small after a change: the warnings and
// the error of plate 1; plate 2 stays usable.
func platesRow(change func(f *c3d.File), check func(t *testing.T, p capture.FilePlate)) func(t *testing.T) ([]grf.Warning, error) {
	return func(t *testing.T) ([]grf.Warning, error) {
		f := standing()
		if change != nil {
			change(f)
		}
		plates, warnings := capture.Plates(f, nil)
		if len(plates) != 2 || plates[1].Err != nil {
			t.Fatalf("plate 2: %+v", plates)
		}
		if check != nil {
			check(t, plates[0])
		}
		return warnings, plates[0].Err
	}
}

// standing is small with a golfer on both plates after the first three frames: 350 N
// each, 80 and 120 mm from the centres, reported as the plates in circulation mostly
// do, so that the force points up once it is in the laboratory.
func standing() *c3d.File {
	f := small()
	for p := range 2 {
		for i := range frames * perFrame {
			load := 0.0
			if i >= 3*perFrame {
				load = -350
			}
			// Plate z points down. The point (80, 120) mm of the surface lies 40 mm
			// above the measuring origin.
			w := grf.At(r3.Vec{X: 10, Y: -5, Z: load}, r3.Vec{X: 81, Y: 118, Z: -40}, r3.Vec{})
			for k, v := range []float64{w.Force.X, w.Force.Y, w.Force.Z, w.Moment.X, w.Moment.Y, w.Moment.Z} {
				if load == 0 {
					v = 0
				}
				f.Channels[6*p+k].Values[i] = v
			}
		}
	}
	return f
}
