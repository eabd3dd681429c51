package c3d

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

var update = flag.Bool("update", false, "write the seeds of FuzzDecode")

// tiny is the smallest File with a bit of everything.
func tiny() *File {
	f := &File{
		Rate: 50, SamplesPerFrame: 2, Units: "mm", PointScale: 0.5, Zero: [2]int{1, 1},
		Points: []Point{{Label: "A", Position: []r3.Vec{{X: 1}, {Y: 2}}}, {Label: "B", Position: []r3.Vec{{Z: 1}, {X: 3}}}},
		Events: []Event{{Label: "IMP", InHeader: true, Time: 0.02}, {Label: "Off", Context: "Left", Time: 0.04}},
		Plates: []PlateInfo{{Type: 4, Origin: r3.Vec{Z: -40}, Channels: []int{0, 1, 2, 3, 4, 5},
			Corners:     [4]r3.Vec{{X: 4, Y: 6}, {X: 4}, {}, {Y: 6}},
			Calibration: [][]float64{{1}, {0, 1}, {0, 0, 1}}}},
	}
	for i := range f.Plates[0].Calibration {
		f.Plates[0].Calibration[i] = append(f.Plates[0].Calibration[i], make([]float64, 6-len(f.Plates[0].Calibration[i]))...)
	}
	for i := range 6 {
		f.Channels = append(f.Channels, Channel{Label: fmt.Sprint("F", i), Unit: "N", Scale: 0.25, Offset: 4, Values: []float64{0, 1, -1, float64(i)}})
	}
	return f
}

// seedFiles are the files of the stored corpus.
func seedFiles(t testing.TB) map[string][]byte {
	list := map[string][]byte{}
	for p, s := range map[Processor]Storage{Intel: Real, DEC: Integer, MIPS: Real} {
		f := tiny()
		f.Processor, f.Storage = p, s
		list[fmt.Sprintf("%v-%v", p, s)] = encode(t, f)
	}
	f := tiny()
	f.Storage, f.Unsigned, f.FirstFrame = Integer, true, 30
	offsets(f, 32768)
	list["unsigned-later-frame"] = encode(t, f)
	b := list["intel-real"]
	at := param(t, b, "ANALOG", "SCALE")
	list["pointer-lies"] = edit(b, pointer(b, at), 0xff, 0x01)
	list["scale-sign"] = float(b, 7, 1)
	for name, b := range list {
		l := decode(t, b, Options{}).Layout
		list[name] = b[:l.DataEnd] // without padding
	}
	return list
}

// TestSeedCorpus keeps the stored seeds of FuzzDecode what seedFiles says, and
// small. Run with -update to write them.
func TestSeedCorpus(t *testing.T) {
	dir := filepath.Join("testdata", "fuzz", "FuzzDecode")
	total := 0
	for name, data := range seedFiles(t) {
		path := filepath.Join(dir, name)
		want := "go test fuzz v1\n[]byte(" + strconv.Quote(string(data)) + ")\n"
		if *update {
			if err := os.MkdirAll(dir, 0o777); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, []byte(want), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		got, err := os.ReadFile(path)
		if err != nil {
			t.Errorf("%v; run go test -run TestSeedCorpus -update", err)
			continue
		}
		if strings.TrimSpace(string(got)) != strings.TrimSpace(want) {
			t.Errorf("%s is not what the writer makes now; run go test -run TestSeedCorpus -update", name)
		}
		total += len(got)
	}
	if total > 50<<10 {
		t.Errorf("the seeds have %d bytes", total)
	}
}
