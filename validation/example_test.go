package validation_test

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/validation"
)

// firmware is somebody's own computation of the centre of pressure, with the
// mistake that is made most often: the sign of x.
type firmware struct{}

func (firmware) Answer(operation string, in validation.Values) (validation.Values, error) {
	if operation != "line_of_action" {
		return nil, validation.ErrUnsupported
	}
	var force, moment r3.Vec
	forces, points, couples := in["forces"].Vecs(), in["points"].Vecs(), in["couples"].Vecs()
	for i, f := range forces {
		force = r3.Add(force, f)
		moment = r3.Add(moment, r3.Cross(points[i], f))
		if couples != nil {
			moment = r3.Add(moment, couples[i])
		}
	}
	h := 0.0
	if in.Has("height") {
		h = in["height"].Float()
	}
	x := (moment.Y - h*force.X) / force.Z // should be negative
	y := (moment.X + h*force.Y) / force.Z
	return validation.Values{"point": validation.Vector("m", r3.Vec{X: x, Y: y, Z: h})}, nil
}

// A wrong implementation is caught by values that others published.
func ExampleCheck() {
	report := validation.Check(firmware{})
	fmt.Println(errors.Is(report.Err(), validation.ErrMissed))
	for _, r := range report.Results {
		if r.Status == validation.Missed {
			fmt.Println(r.ID, "-", r.Case.Source.Short())
			fmt.Println("given:", r.Case.Given)
			fmt.Println(r.Output, r.Message)
			break
		}
	}
	// Output:
	// true
	// statics/seesaw-seat - Urone, Hinrichs 2022
	// given: 26.0 kg at 1.60 m left of the pivot; where must 32.0 kg sit
	// point[0] number 0 is off by 2.6, allowed are 0.005
}

// The library itself passes.
func ExampleLibrary() {
	report := validation.Check(validation.Library())
	fmt.Println(report.Err())
	// Output: <nil>
}

// careless is an implementation that is right but for one mistake.
type careless struct {
	operation     string
	before, after func(in, out validation.Values) // what is done to inputs or outputs; out is nil before
}

func (c careless) Answer(operation string, in validation.Values) (validation.Values, error) {
	if operation == c.operation && c.before != nil {
		c.before(in, nil)
	}
	out, err := validation.Library().Answer(operation, in)
	if operation == c.operation && c.after != nil && err == nil {
		c.after(in, out)
	}
	return out, err
}

// Four mistakes that are made again and again. Each is caught by values that
// others published.
func ExampleCheckCases() {
	for _, m := range []struct {
		name string
		impl careless
	}{
		{"the sign of the centre of pressure", careless{operation: "plate", after: func(_, out validation.Values) {
			out["surface_point"].Numbers[0] *= -1
		}}},
		{"a forgotten origin depth", careless{operation: "plate", before: func(in, _ validation.Values) {
			in["origin"].Numbers[2] = 0
		}}},
		{"free moments of the feet added up", careless{operation: "line_of_action", after: func(in, out validation.Values) {
			sum := 0.0
			for _, couple := range in["couples"].Vecs() {
				sum += couple.Z
			}
			out["free_moment"] = validation.Number("N·m", sum)
		}}},
		{"a cut-off not corrected for two passes", careless{operation: "low_pass_both_ways", before: func(in, _ validation.Values) {
			// What the corrected filter does at this cut-off, the uncorrected one
			// does at the one that was asked for.
			rate, n := in["rate"].Float(), in["order"].Float()
			factor := math.Pow(math.Sqrt2-1, 1/(2*n))
			in["cutoff"].Numbers[0] = rate / math.Pi * math.Atan(factor*math.Tan(math.Pi*in["cutoff"].Float()/rate))
		}}},
	} {
		for _, r := range validation.CheckCases(m.impl, validation.Cases()).Results {
			if r.Status == validation.Missed && r.Case.Level.External() {
				fmt.Printf("%s: %s misses %s (%s)\n", m.name, r.Output, r.ID, r.Case.Source.Short())
				break
			}
		}
	}
	// Output:
	// the sign of the centre of pressure: surface_point misses scipy/plate-type-2 (Virtanen et al. 2020)
	// a forgotten origin depth: moment_at_centre[0] misses plate/ezc3d-type-2 (Michaud, Begon 2021)
	// free moments of the feet added up: free_moment misses scipy/net-point-surface (Virtanen et al. 2020)
	// a cut-off not corrected for two passes: signal misses scipy/sosfiltfilt-2-10-9 (Virtanen et al. 2020)
}
