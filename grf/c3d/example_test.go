package c3d_test

import (
	"bytes"
	"fmt"
	"log"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf/c3d"
)

// capture makes a small capture: one marker at 100 frames per second, and two
// plates whose twelve channels are sampled ten times as often.
func capture() *c3d.File {
	f := &c3d.File{
		Rate:            100,
		SamplesPerFrame: 10,
		Units:           "mm",
		Points:          []c3d.Point{{Label: "HIP", Position: make([]r3.Vec, 50)}},
		Events:          []c3d.Event{{Label: "impact", Context: "General", Time: 0.25}},
	}
	for i := range f.Points[0].Position {
		f.Points[0].Position[i] = r3.Vec{X: float64(i), Y: 10, Z: 1000}
	}
	names := []string{"Fx", "Fy", "Fz", "Mx", "My", "Mz"}
	units := []string{"N", "N", "N", "Nmm", "Nmm", "Nmm"}
	for p := range 2 {
		y := -600 * float64(p)
		plate := c3d.PlateInfo{
			Type: 2,
			// x toward +Y of the laboratory, y toward +X, so that z points down.
			Corners: [4]r3.Vec{{X: 400, Y: y + 600}, {X: 400, Y: y}, {X: 0, Y: y}, {X: 0, Y: y + 600}},
			Origin:  r3.Vec{Z: -40},
		}
		for k := range names {
			plate.Channels = append(plate.Channels, len(f.Channels))
			values := make([]float64, 500)
			if names[k] == "Fz" {
				for i := range values {
					values[i] = -400
				}
			}
			f.Channels = append(f.Channels, c3d.Channel{
				Label: fmt.Sprintf("%s%d", names[k], p+1), Unit: units[k], Values: values,
			})
		}
		f.Plates = append(f.Plates, plate)
	}
	return f
}

func ExampleEncode() {
	var file bytes.Buffer
	if err := c3d.Encode(&file, capture()); err != nil {
		log.Fatal(err)
	}
	fmt.Println(file.Len()/c3d.HeaderBytes, "blocks")
	// Output: 52 blocks
}

func ExampleDecode() {
	var file bytes.Buffer
	if err := c3d.Encode(&file, capture()); err != nil {
		log.Fatal(err)
	}

	f, err := c3d.Decode(file.Bytes(), c3d.Options{})
	if err != nil {
		log.Fatal(err)
	}
	metres, err := f.UnitMetres()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%v %v, %d frames at %g Hz, %d channels at %g Hz\n",
		f.Processor, f.Storage, f.Frames, f.Rate, len(f.Channels), f.AnalogRate())
	hip := f.Points[f.PointIndex("HIP")]
	fmt.Printf("%s in frame 10: %.3f m forward\n", hip.Label, hip.Position[10].X*metres)
	plate, err := f.PlateValues(1)
	if err != nil {
		log.Fatal(err)
	}
	fz := f.Channels[f.Plates[1].Channels[2]]
	fmt.Printf("plate 2, type %d: %s = %g %s\n", f.Plates[1].Type, fz.Label, plate[2][0], fz.Unit)
	for _, e := range f.EventsByTime() {
		fmt.Printf("%s at %g s\n", e.Label, e.Time)
	}
	fmt.Println(len(f.Warnings), "warnings")
	// Output:
	// intel real, 50 frames at 100 Hz, 12 channels at 1000 Hz
	// HIP in frame 10: 0.010 m forward
	// plate 2, type 2: Fz2 = -400 N
	// impact at 0.25 s
	// 0 warnings
}

// A file says more than any program needs: everything else is in its
// parameters.
func ExampleGroups_Find() {
	f := capture()
	f.Groups.Set("SUBJECTS", c3d.NewText("NAMES", "Ada"))
	f.Groups.Set("SUBJECTS", c3d.NewFloats("MASS", nil, 71.5))
	b, err := c3d.Append(nil, f)
	if err != nil {
		log.Fatal(err)
	}
	f, err = c3d.Decode(b, c3d.Options{WithoutSamples: true})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(f.Groups.Strings("Subjects", "names"), f.Groups.Floats("SUBJECTS", "MASS"))
	p := f.Groups.Find("POINT", "LABELS")
	fmt.Println(p.Type, p.Dims)
	// Output:
	// [Ada] [71.5]
	// -1 [3 1]
}

func ExampleDecodeHeader() {
	b, err := c3d.Append(nil, capture())
	if err != nil {
		log.Fatal(err)
	}
	h, err := c3d.DecodeHeader(b)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(h.Points, h.AnalogPerFrame/h.SamplesPerFrame, h.LastFrame-h.FirstFrame+1, h.Rate)
	// Output: 1 12 50 100
}
