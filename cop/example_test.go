package cop_test

import (
	"errors"
	"fmt"
	"log"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
)

func ExampleOf() {
	// 800 N up and 50 N forward at (0.12, −0.05) m with a free moment of 6 N·m.
	w := grf.At(r3.Vec{X: 50, Y: -30, Z: 800}, r3.Vec{X: 0.12, Y: -0.05}, r3.Vec{Z: 6})
	p, free := cop.Of(w, 0, cop.DefaultMinVertical)
	fmt.Printf("x %.3f m, y %.3f m, free moment %.1f N·m\n", p.X, p.Y, free)

	p, free = cop.Of(w.Scale(0.01), 0, cop.DefaultMinVertical) // 8 N: too little to say where
	fmt.Printf("x %.3f m, y %.3f m, free moment %.1f N·m\n", p.X, p.Y, free)
	// Output:
	// x 0.120 m, y -0.050 m, free moment 6.0 N·m
	// x NaN m, y NaN m, free moment NaN N·m
}

func ExampleOnPlane() {
	// A force square on a slope of 10° that rises toward the target.
	sin, cos := math.Sincos(10 * math.Pi / 180)
	normal := r3.Vec{Y: -sin, Z: cos}
	at := r3.Vec{X: 0.1, Y: 0.2 * cos, Z: 0.2 * sin} // 0.2 m up the slope
	w := grf.At(r3.Scale(700, normal), at, r3.Scale(5, normal))
	p, free := cop.OnPlane(w, r3.Vec{}, normal, cop.DefaultMinVertical)
	fmt.Printf("x %.3f m, y %.3f m, z %.3f m, free moment %.1f N·m\n", p.X, p.Y, p.Z, free)
	// Output: x 0.100 m, y 0.197 m, z 0.035 m, free moment 5.0 N·m
}

func ExampleNet() {
	// Both feet push along the ball line, in opposite directions.
	lead := grf.At(r3.Vec{X: -100, Z: 500}, r3.Vec{Y: 0.25}, r3.Vec{Z: 8})
	trail := grf.At(r3.Vec{X: 100, Z: 300}, r3.Vec{Y: -0.25}, r3.Vec{Z: 4})
	p, free := cop.Net(lead, trail, 0, cop.DefaultMinVertical)
	fmt.Printf("net y %.4f m, lead share %.3f\n", p.Y, cop.Share(lead, trail))
	fmt.Printf("net free moment %.0f N·m, of which 12 N·m are the feet's own\n", free)
	// Output:
	// net y 0.0625 m, lead share 0.625
	// net free moment 62 N·m, of which 12 N·m are the feet's own
}

func ExampleWrenchAxisPoint() {
	w := grf.At(r3.Vec{X: 100, Z: 800}, r3.Vec{}, r3.Vec{Z: 20})
	p, _ := cop.Of(w, 0, cop.DefaultMinVertical)
	axis, _ := cop.WrenchAxisPoint(w, 0, cop.DefaultMinVertical)
	fmt.Printf("centre of pressure y %.1f mm, wrench axis y %.1f mm\n", 1000*p.Y, 1000*axis.Y)
	// Output: centre of pressure y 0.0 mm, wrench axis y -3.1 mm
}

func ExampleFoot_Place() {
	foot, err := cop.NewFoot(cop.Lead, r3.Vec{X: -0.10, Y: 0.25}, r3.Vec{X: 0.16, Y: 0.40}, 0.10)
	if err != nil {
		log.Fatal(err)
	}
	at := foot.Place(r3.Vec{X: 0.02, Y: 0.35})
	fmt.Printf("toes out by %.0f°\n", foot.ToeOut()*180/math.Pi)
	fmt.Printf("%.0f %% from heel to toe, %.0f %% of the half width to the outside, inside %v\n",
		100*at.Along, 100*at.Across, at.Inside)
	// Output:
	// toes out by 30°
	// 51 % from heel to toe, 53 % of the half width to the outside, inside true
}

func ExampleMeasurePath() {
	// A second of a 20 mm sway at 2 Hz toward the target and back.
	var path []r3.Vec
	for i := range 101 {
		path = append(path, r3.Vec{Y: 0.010 * math.Sin(2*math.Pi*2*float64(i)/100)})
	}
	m, err := cop.MeasurePath(path, 100, cop.PathOptions{})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("range %.1f mm, length %.1f mm in %.2f s, %.1f mm/s\n",
		1000*m.Y.Range, 1000*m.Length, m.Duration, 1000*m.MeanVelocity)
	// Output: range 20.0 mm, length 79.8 mm in 1.00 s, 79.8 mm/s
}

// One frame of a mat of 4 × 3 cells of 10 cm: what lies toward the target of the
// middle is under the lead foot.
func ExampleGrid() {
	grid, err := cop.NewGrid(cop.GridConfig{
		Rows: 4, Columns: 3,
		First:  r3.Vec{X: -0.1, Y: 0.15}, // nearest the target, on the heels' side
		Across: r3.Vec{X: 0.1},           // toward the ball
		Down:   r3.Vec{Y: -0.1},          // away from the target
		Unit:   cop.NewtonPerCell,
	})
	if err != nil {
		log.Fatal(err)
	}
	feet, err := cop.DivideByLine(grid, r3.Vec{}, r3.Vec{X: 1})
	if err != nil {
		log.Fatal(err)
	}
	frame := []float64{
		0, 0, 0,
		100, 0, 100,
		300, 0, 100,
		0, 0, 0,
	}
	lead, trail := grid.Feet(frame, feet)
	p, free := cop.Of(trail, 0, cop.DefaultMinVertical)
	fmt.Printf("lead %.0f N, trail %.0f N, share %.2f\n", lead.Force.Z, trail.Force.Z, cop.Share(lead, trail))
	fmt.Printf("trail foot pressed at (%.3f, %.3f) m\n", p.X, p.Y)
	fmt.Printf("lateral force %v N, free moment %v N·m\n", trail.Force.Y, free)
	// Output:
	// lead 200 N, trail 400 N, share 0.33
	// trail foot pressed at (-0.050, -0.050) m
	// lateral force NaN N, free moment NaN N·m
}

// The same mat with smaller cells parts the feet by itself: heel and ball of each
// are regions of pressed cells, and what is pressed later belongs to the nearest.
func ExampleDivideByRegions() {
	grid, err := cop.NewGrid(cop.GridConfig{
		Rows: 8, Columns: 6,
		First:  r3.Vec{X: -0.125, Y: 0.175},
		Across: r3.Vec{X: 0.05},
		Down:   r3.Vec{Y: -0.05},
		Unit:   cop.NewtonPerCell,
	})
	if err != nil {
		log.Fatal(err)
	}
	stance := []float64{
		0, 0, 0, 0, 0, 0,
		90, 0, 0, 0, 60, 60, // lead heel and ball
		90, 0, 0, 0, 60, 0,
		0, 0, 0, 0, 0, 0,
		0, 0, 0, 0, 0, 0,
		0, 0, 0, 0, 0, 0,
		110, 0, 0, 0, 80, 80, // trail
		110, 0, 0, 0, 80, 0,
	}
	feet, err := cop.DivideByRegions(grid, [][]float64{stance}, cop.RegionOptions{})
	if err != nil {
		log.Fatal(err)
	}
	lead, trail := grid.Feet(stance, feet)
	fmt.Printf("lead %.0f N, trail %.0f N, share %.2f\n", lead.Force.Z, trail.Force.Z, cop.Share(lead, trail))
	fmt.Println("the outer border belongs to the lead foot:", feet.Side(0, 3) == cop.Lead)

	_, err = cop.DivideByRegions(grid, [][]float64{make([]float64, grid.Cells())}, cop.RegionOptions{})
	fmt.Println("nobody there:", errors.Is(err, cop.ErrNotTwoFeet))
	// Output:
	// lead 360 N, trail 460 N, share 0.44
	// the outer border belongs to the lead foot: true
	// nobody there: true
}
