package validation_test

import (
	"errors"
	"fmt"

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
