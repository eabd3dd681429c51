package validation

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf/c3d"
	"example.com/momentarm/grf/capture"
)

func decode(in Values) (*c3d.File, error) {
	v := in["file"]
	if v.Content == nil {
		return nil, fmt.Errorf("the content of %q was not loaded", v.File)
	}
	return c3d.Decode(v.Content, c3d.Options{})
}

func c3dPoints(in Values) (Values, error) {
	f, err := decode(in)
	if err != nil {
		return nil, err
	}
	metre, err := f.UnitMetres()
	if err != nil {
		return nil, err
	}
	n := len(f.Points)
	valid, firstFrame, lastFrame := make([]float64, n), make([]float64, n), make([]float64, n)
	first, last, mean := make([]r3.Vec, n), make([]r3.Vec, n), make([]r3.Vec, n)
	none := math.NaN()
	for i, p := range f.Points {
		firstFrame[i], lastFrame[i] = none, none
		first[i] = r3.Vec{X: none, Y: none, Z: none}
		last[i] = first[i]
		var sum r3.Vec
		for k, v := range p.Position {
			if math.IsNaN(v.X) {
				continue
			}
			v = r3.Scale(metre, v)
			if valid[i] == 0 {
				firstFrame[i], first[i] = float64(k), v
			}
			lastFrame[i], last[i] = float64(k), v
			sum = r3.Add(sum, v)
			valid[i]++
		}
		mean[i] = r3.Scale(1/valid[i], sum)
		if valid[i] == 0 {
			mean[i] = first[i]
		}
	}
	const never = "the point is never valid"
	return Values{
		"valid":       List("1", valid...),
		"first_frame": List("1", firstFrame...).undefinedIn(never), "last_frame": List("1", lastFrame...).undefinedIn(never),
		"first": Vectors("m", first...).undefinedIn(never), "last": Vectors("m", last...).undefinedIn(never), "mean": Vectors("m", mean...).undefinedIn(never),
	}, nil
}

func c3dChannels(in Values) (Values, error) {
	f, err := decode(in)
	if err != nil {
		return nil, err
	}
	rows := map[string][]float64{}
	for i, c := range f.Channels {
		stored, err := f.RawAnalog(nil, i)
		if err != nil {
			return nil, err
		}
		v := c.Values
		if len(v) == 0 || len(stored) != len(v) {
			return nil, fmt.Errorf("channel %d: %d samples, %d stored", i+1, len(v), len(stored))
		}
		var sum float64
		for _, x := range v {
			sum += x
		}
		for name, x := range map[string]float64{
			"stored_first": stored[0], "stored_last": stored[len(v)-1],
			"first": v[0], "second": v[min(1, len(v)-1)], "last": v[len(v)-1],
			"mean": sum / float64(len(v)), "lowest": slices.Min(v), "highest": slices.Max(v),
		} {
			rows[name] = append(rows[name], x)
		}
	}
	out := Values{}
	for name, xs := range rows {
		out[name] = List("1", xs...).undefinedIn("the scale of the channel is unusable")
	}
	return out, nil
}

func c3dPlate(in Values) (Values, error) {
	f, err := decode(in)
	if err != nil {
		return nil, err
	}
	plates, _ := capture.Plates(f, nil)
	number := int(in["plate"].Float())
	if number < 1 || number > len(plates) {
		return nil, fmt.Errorf("plate %d of %d", number, len(plates))
	}
	p := plates[number-1]
	ws, err := p.Wrenches(nil)
	if err != nil {
		return nil, err
	}
	frame := p.Plate.Frame()
	minVertical := in.or("min_vertical", cop.DefaultMinVertical)
	var forces, points []r3.Vec
	var frees []float64
	for _, x := range in["samples"].Numbers {
		i := int(x)
		if i < 0 || i >= len(ws) {
			return nil, fmt.Errorf("sample %d of %d", i, len(ws))
		}
		at, free := cop.OnPlane(ws[i], frame.Origin, frame.Z, minVertical)
		forces, points, frees = append(forces, ws[i].Force), append(points, at), append(frees, free)
	}
	const reason = "under the load threshold, or the file lacks the distances of the sensors"
	return Values{
		"forces": Vectors("N", forces...), "points": Vectors("m", points...).undefinedIn(reason),
		"free_moments": List("N·m", frees...).undefinedIn(reason),
	}, nil
}
