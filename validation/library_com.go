package validation

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/cop/com"
	"example.com/momentarm/grf"
)

func motion(in Values) (Values, error) {
	forces, rate, gravity := in["forces"].Vecs(), in["rate"].Float(), in["gravity"].Float()
	net := make([]grf.Wrench, len(forces))
	for i, f := range forces {
		net[i] = grf.At(f, r3.Vec{}, r3.Vec{})
	}
	none := math.NaN()
	path, err := com.FromForces(net, 0, rate, com.ForceOptions{
		Gravity: gravity,
		Height:  in["height"].Float(),
		Quiet:   com.Window{From: 0, To: in["quiet"].Float()},
		Still:   com.Window{From: none, To: none},
	})
	if err != nil {
		return nil, err
	}
	start, _ := path.At(0)
	p, v := path.At(in["instant"].Float())
	rise := r3.Sub(p, start)
	return Values{
		"mass":     Number("kg", path.Mass),
		"velocity": Vector("m/s", v),
		"rise":     Vector("m", rise),
		"highest":  Number("m", rise.Z+v.Z*v.Z/(2*gravity)),
	}, nil
}

// flight tells when the plate is left by the rule that the library has for an
// unloaded plate: the centre of pressure is undefined.
func flight(in Values) (Values, error) {
	vertical, rate, gravity := in["vertical"].Numbers, in["rate"].Float(), in["gravity"].Float()
	first, last := -1, -1
	for i, f := range vertical {
		_, free := cop.Of(grf.At(r3.Vec{Z: f}, r3.Vec{}, r3.Vec{}), 0, in["min_vertical"].Float())
		if math.IsNaN(free) {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if first < 0 {
		return nil, fmt.Errorf("the plate is never left")
	}
	t := float64(last-first) / rate
	return Values{
		"take_off": Number("s", float64(first)/rate),
		"landing":  Number("s", float64(last)/rate),
		"rise":     Number("m", gravity*t*t/8),
	}, nil
}
