package c3d

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// datasets returns the folder with the public data sets.
func datasets(t testing.TB) string {
	t.Helper()
	dir := os.Getenv("GRF_DATASETS")
	if dir == "" {
		t.Skip("set GRF_DATASETS to a folder with the public data sets; see validation/doc.go")
	}
	return filepath.Join(dir, "c3d")
}

func dataset(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(datasets(t), filepath.FromSlash(name)))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// oracleFile is what two other readers found in a public file: one written for
// the purpose from the format description, and py-c3d (EmbodiedCognition/py-c3d,
// MIT licence).
type oracleFile struct {
	File            string
	Bytes           int
	Expect          string
	Processor       string
	Storage         string
	Points          int
	Frames          int
	FramesDeclared  int     `json:"frames_declared"`
	FirstFrame      int     `json:"first_frame"`
	PointRate       float64 `json:"point_rate_hz"`
	PointUnits      string  `json:"point_units"`
	PointScale      float64 `json:"point_scale_header"`
	Channels        int     `json:"analog_channels"`
	SamplesPerFrame int     `json:"analog_samples_per_frame"`
	AnalogRate      float64 `json:"analog_rate_hz"`
	Unsigned        bool    `json:"analog_unsigned"`
	GenScale        float64 `json:"analog_gen_scale"`
	DataBlock       int     `json:"data_start_block"`
	ParameterBlock  int     `json:"parameter_block"`
	Groups          map[string]int
	PointLabels     []string `json:"point_labels"`
	AnalogLabels    []string `json:"analog_labels"`
	HeaderEvents    []struct {
		Label string
		Time  float64
		Flag  int
	} `json:"header_events"`
	Events []struct {
		Label, Context string
		Time           *float64
	}
	Plates []struct {
		Type     int
		Corners  [4][3]float64
		Origin   [3]float64
		Channels []int
	} `json:"force_plates"`
	Zero  []int
	Valid int `json:"valid_point_samples"`
}

func oracle(t testing.TB) []oracleFile {
	t.Helper()
	var files []oracleFile
	if err := json.Unmarshal(dataset(t, "oracle/files.json"), &files); err != nil {
		t.Fatal(err)
	}
	if len(files) < 25 {
		t.Fatalf("only %d files in the oracle", len(files))
	}
	return files
}

// oracleCSV returns the rows of an oracle table as maps.
func oracleCSV(t testing.TB, name string) []map[string]string {
	t.Helper()
	r := csv.NewReader(strings.NewReader(string(dataset(t, "oracle/"+name))))
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(name, err)
	}
	var list []map[string]string
	for _, row := range rows[1:] {
		m := make(map[string]string)
		for i, h := range rows[0] {
			m[h] = row[i]
		}
		list = append(list, m)
	}
	return list
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// TestPublicFiles reads every public file and compares facts, points, channels,
// plates and events with the oracle.
func TestPublicFiles(t *testing.T) {
	compared := 0
	for _, o := range oracle(t) {
		t.Run(o.File, func(t *testing.T) {
			f, err := Decode(dataset(t, o.File), Options{})
			if o.Expect == "error" {
				var place *FormatError
				if err == nil || !errors.As(err, &place) {
					t.Fatalf("got %v, want a located error", err)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			for _, w := range f.Warnings {
				t.Log(w)
			}
			compareFacts(t, f, o)
			compareEvents(t, f, o)
			comparePlates(t, f, o)
			if o.Frames > 0 {
				base := strings.ReplaceAll(o.File, "/", "__")
				if o.Points > 0 {
					compareValues(t, f, o, base)
				}
				if o.Channels > 0 {
					compareAnalog(t, f, o, base)
				}
			}
			compared++
		})
	}
	if compared < 20 {
		t.Errorf("only %d files were compared", compared)
	}
}

func compareFacts(t *testing.T, f *File, o oracleFile) {
	eq := func(what string, got, want any) {
		t.Helper()
		if got != want {
			t.Errorf("%s: got %v, want %v", what, got, want)
		}
	}
	eq("processor", f.Processor.String(), o.Processor)
	storage := "real"
	if f.Storage == Integer {
		storage = "int16"
	}
	eq("storage", storage, o.Storage)
	eq("points", len(f.Points), o.Points)
	eq("frames", f.Frames, o.Frames)
	eq("declared frames", f.Layout.DeclaredFrames, o.FramesDeclared)
	eq("first frame", f.FirstFrame, o.FirstFrame)
	eq("rate", f.Rate, o.PointRate)
	eq("units", f.Units, strings.Trim(o.PointUnits, " \x00"))
	eq("header scale", f.Header.Scale, o.PointScale)
	eq("channels", len(f.Channels), o.Channels)
	if o.Channels > 0 {
		eq("samples per frame", f.SamplesPerFrame, o.SamplesPerFrame)
		eq("general scale", f.GenScale, o.GenScale)
	}
	eq("analog rate", f.AnalogRate(), o.AnalogRate)
	eq("unsigned", f.Unsigned, o.Unsigned)
	eq("data block", f.Layout.DataBlock, o.DataBlock)
	eq("parameter block", f.Layout.ParameterBlock, o.ParameterBlock)
	for name, n := range o.Groups {
		got := 0
		for _, g := range f.Groups {
			if g.Name == name {
				got += len(g.Parameters)
			}
		}
		eq("parameters of "+name, got, n)
	}
	for i, l := range o.PointLabels {
		if l = strings.TrimSpace(l); l != "" {
			eq(fmt.Sprint("point label ", i), f.Points[i].Label, l)
		}
	}
	for i, l := range o.AnalogLabels {
		if l = strings.TrimSpace(l); l != "" {
			eq(fmt.Sprint("channel label ", i), f.Channels[i].Label, l)
		}
	}
	valid := 0
	for _, p := range f.Points {
		for _, v := range p.Position {
			if v.X == v.X {
				valid++
			}
		}
	}
	eq("valid point samples", valid, o.Valid)
}

func compareEvents(t *testing.T, f *File, o oracleFile) {
	var header, group []Event
	for _, e := range f.Events {
		if e.InHeader {
			header = append(header, e)
		} else {
			group = append(group, e)
		}
	}
	if len(header) != len(o.HeaderEvents) {
		t.Errorf("%d header events, want %d", len(header), len(o.HeaderEvents))
		return
	}
	for i, want := range o.HeaderEvents {
		if got := header[i]; got.Label != strings.TrimSpace(want.Label) || got.Time != want.Time || got.Off != (want.Flag != 1) {
			t.Errorf("header event %d: got %+v, want %+v", i, got, want)
		}
	}
	n := 0
	for _, want := range o.Events {
		if want.Time == nil {
			continue // bad_parameter_section.c3d: the labels lie in the data and there are no times
		}
		if n >= len(group) {
			t.Errorf("event %d is missing", n)
			return
		}
		// All of these files start at frame 1, so both clocks agree.
		if got := group[n]; got.Label != want.Label || got.Context != want.Context || got.Time != *want.Time {
			t.Errorf("event %d: got %+v, want %+v", n, got, want)
		}
		n++
	}
	if n != len(group) {
		t.Errorf("%d events, want %d", len(group), n)
	}
}

func comparePlates(t *testing.T, f *File, o oracleFile) {
	if len(f.Plates) != len(o.Plates) {
		t.Errorf("%d plates, want %d", len(f.Plates), len(o.Plates))
		return
	}
	for i, want := range o.Plates {
		got := f.Plates[i]
		if w := want.Origin; got.Type != want.Type || got.Origin != (r3.Vec{X: w[0], Y: w[1], Z: w[2]}) {
			t.Errorf("plate %d: type %d, origin %v; want %d, %v", i+1, got.Type, got.Origin, want.Type, w)
		}
		for k, c := range want.Corners {
			if got.Corners[k] != (r3.Vec{X: c[0], Y: c[1], Z: c[2]}) {
				t.Errorf("plate %d corner %d: got %v, want %v", i+1, k+1, got.Corners[k], c)
			}
		}
		for k, c := range got.Channels {
			if c+1 != want.Channels[k] {
				t.Errorf("plate %d: channel %d is %d, want %d", i+1, k+1, c+1, want.Channels[k])
			}
		}
	}
	if len(o.Zero) == 2 && f.Zero != [2]int{o.Zero[0], o.Zero[1]} {
		t.Errorf("zero range %v, want %v", f.Zero, o.Zero)
	}
}

// compareValues compares the points. The oracle multiplies in double precision
// as we do, so first and last coordinates must agree to the last bit; means
// differ by the order of summation.
func compareValues(t *testing.T, f *File, o oracleFile, base string) {
	rows := oracleCSV(t, base+".points.csv")
	if len(rows) != len(f.Points) {
		t.Errorf("%d points in the oracle, %d here", len(rows), len(f.Points))
		return
	}
	for i, row := range rows {
		p := f.Points[i]
		n, first, last := 0, -1, -1
		var sum r3.Vec
		for k, v := range p.Position {
			if math.IsNaN(v.X) {
				continue
			}
			if first < 0 {
				first = k
			}
			last = k
			sum = r3.Add(sum, v)
			n++
		}
		if want := int(number(t, row["n_valid"])); n != want {
			t.Errorf("point %s: %d valid, want %d", p.Label, n, want)
			continue
		}
		if n == 0 {
			continue
		}
		if k := int(number(t, row["first_valid_frame0"])); k != first {
			t.Errorf("point %s: first valid frame %d, want %d", p.Label, first, k)
		}
		if k := int(number(t, row["last_valid_frame0"])); k != last {
			t.Errorf("point %s: last valid frame %d, want %d", p.Label, last, k)
		}
		want := r3.Vec{X: number(t, row["x"]), Y: number(t, row["y"]), Z: number(t, row["z"])}
		wantLast := r3.Vec{X: number(t, row["x_last"]), Y: number(t, row["y_last"]), Z: number(t, row["z_last"])}
		mean := r3.Vec{X: number(t, row["mean_x"]), Y: number(t, row["mean_y"]), Z: number(t, row["mean_z"])}
		if p.Position[first] != want || p.Position[last] != wantLast {
			t.Errorf("point %s: first %v, want %v; last %v, want %v", p.Label, p.Position[first], want, p.Position[last], wantLast)
		}
		got := r3.Scale(1/float64(n), sum)
		if d := r3.Norm(r3.Sub(got, mean)); d > 1e-10*(1+r3.Norm(mean)) {
			t.Errorf("point %s: mean %v, want %v", p.Label, got, mean)
		}
	}
}

// compareAnalog compares the channels, as compareValues does.
func compareAnalog(t *testing.T, f *File, o oracleFile, base string) {
	rows := oracleCSV(t, base+".analog.csv")
	if len(rows) != len(f.Channels) {
		t.Errorf("%d channels in the oracle, %d here", len(rows), len(f.Channels))
		return
	}
	for i, row := range rows {
		c := f.Channels[i]
		raw, err := f.RawAnalog(nil, i)
		if err != nil {
			t.Fatal(err)
		}
		n := len(c.Values)
		if n != f.Frames*f.SamplesPerFrame || len(raw) != n {
			t.Fatalf("channel %s: %d values, %d stored", c.Label, n, len(raw))
		}
		if c.Unit != strings.TrimSpace(row["unit"]) || c.Scale != number(t, row["scale"]) || c.Offset != number(t, row["offset"]) {
			t.Errorf("channel %s: unit %q scale %g offset %g, want %q %s %s", c.Label, c.Unit, c.Scale, c.Offset, row["unit"], row["scale"], row["offset"])
		}
		same := func(what string, got float64, tol float64) {
			want := number(t, row[what])
			if math.Abs(got-want) > tol {
				t.Errorf("channel %s %s: got %v, want %v", c.Label, what, got, want)
			}
		}
		same("raw_first", raw[0], 0)
		same("raw_last", raw[n-1], 0)
		low, high, sum := math.Inf(1), math.Inf(-1), 0.0
		for _, v := range c.Values {
			low, high, sum = min(low, v), max(high, v), sum+v
		}
		// One rounding of the product, in whichever order it was formed.
		ulp := 4e-16 * max(math.Abs(low), math.Abs(high))
		same("first", c.Values[0], ulp)
		if n > 1 {
			same("second", c.Values[1], ulp)
		}
		same("last", c.Values[n-1], ulp)
		same("min", low, ulp)
		same("max", high, ulp)
		same("mean", sum/float64(n), 1e-10*max(1, math.Abs(low), math.Abs(high)))
	}
}

// TestSixEncodings reads one trial in six encodings: the channels agree to the
// last bit, the points within the rounding of a float (coordinates to 2.5 m in
// millimetres: half of 2⁻¹² mm) (Source: the sample files of c3d.org).
func TestSixEncodings(t *testing.T) {
	var files []*File
	for _, name := range []string{"pi", "pr", "vi", "vr", "si", "sr"} {
		f, err := Decode(dataset(t, "sample01/Eb015"+name+".c3d"), Options{})
		if err != nil {
			t.Fatal(name, err)
		}
		files = append(files, f)
	}
	a := files[0]
	for _, b := range files[1:] {
		name := fmt.Sprintf("%v %v", b.Processor, b.Storage)
		if len(a.Points) != len(b.Points) || len(a.Channels) != len(b.Channels) || a.Frames != b.Frames {
			t.Fatal(name, "differs in size")
		}
		for i := range a.Points {
			p, q := a.Points[i], b.Points[i]
			if p.Label != q.Label {
				t.Errorf("%s: label %q and %q", name, p.Label, q.Label)
			}
			for k := range p.Position {
				v, w := p.Position[k], q.Position[k]
				if math.IsNaN(v.X) != math.IsNaN(w.X) || r3.Norm(r3.Sub(v, w)) > 2.2e-4 {
					t.Fatalf("%s: point %s frame %d: %v and %v", name, p.Label, k, v, w)
				}
				if math.Abs(p.Residual[k]-q.Residual[k]) > 0 || p.Cameras[k] != q.Cameras[k] {
					t.Fatalf("%s: point %s frame %d: residual %g and %g, cameras %b and %b", name, p.Label, k,
						p.Residual[k], q.Residual[k], p.Cameras[k], q.Cameras[k])
				}
			}
		}
		for i := range a.Channels {
			for k := range a.Channels[i].Values {
				if a.Channels[i].Values[k] != b.Channels[i].Values[k] {
					t.Fatalf("%s: channel %d sample %d: %g and %g", name, i, k, a.Channels[i].Values[k], b.Channels[i].Values[k])
				}
			}
		}
	}
}
