package validation

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
)

func pathMeasures(in Values) (Values, error) {
	x, y := in["x"].Numbers, in["y"].Numbers
	if len(x) != len(y) {
		return nil, fmt.Errorf("%d numbers x, %d numbers y", len(x), len(y))
	}
	path := make([]r3.Vec, len(x))
	for i := range path {
		path[i] = r3.Vec{X: x[i], Y: y[i]}
	}
	return measured(path, in["rate"].Float())
}

// measured returns the measures of a path as values.
func measured(path []r3.Vec, rate float64) (Values, error) {
	m, err := cop.MeasurePath(path, rate, cop.PathOptions{})
	if err != nil {
		return nil, err
	}
	return Values{
		"mean_distance":      Number("m", m.MeanDistance),
		"rms_distance":       Number("m", m.RMSDistance),
		"rms_x":              Number("m", m.X.RMSDistance),
		"rms_y":              Number("m", m.Y.RMSDistance),
		"range_x":            Number("m", m.X.Range),
		"range_y":            Number("m", m.Y.Range),
		"length":             Number("m", m.Length),
		"mean_velocity":      Number("m/s", m.MeanVelocity),
		"mean_frequency":     Number("Hz", m.MeanFrequency),
		"spectral_frequency": Number("Hz", m.SpectralFrequency),
		"ellipse_area":       Number("m²", m.Ellipse.Area),
	}, nil
}

func wrenchPath(in Values) (Values, error) {
	forces, moments := in["forces"].Vecs(), in["moments"].Vecs()
	if len(forces) != len(moments) {
		return nil, fmt.Errorf("%d forces, %d moments", len(forces), len(moments))
	}
	ws := make([]grf.Wrench, len(forces))
	for i, f := range forces {
		ws[i] = grf.Wrench{Force: f, Moment: moments[i]}
	}
	path, _ := cop.Series(nil, nil, ws, 0, cop.DefaultMinVertical)
	return measured(path, in["rate"].Float())
}

func twoPlatePath(in Values) (Values, error) {
	series := func(side string) ([]grf.Wrench, error) {
		forces, points := in[side+"_forces"].Vecs(), in[side+"_points"].Vecs()
		if len(forces) != len(points) {
			return nil, fmt.Errorf("%s: %d forces, %d points", side, len(forces), len(points))
		}
		ws := make([]grf.Wrench, len(forces))
		for i, f := range forces {
			ws[i] = grf.At(f, points[i], r3.Vec{})
		}
		return ws, nil
	}
	right, err := series("right")
	if err != nil {
		return nil, err
	}
	left, err := series("left")
	if err != nil {
		return nil, err
	}
	points, _, err := cop.NetSeries(nil, nil, right, left, 0, cop.DefaultMinVertical)
	if err != nil {
		return nil, err
	}
	return Values{"points": Vectors("m", points...)}, nil
}

func ellipseFactor(in Values) (Values, error) {
	k := cop.PredictionFactor(int(in["n"].Float()))
	chi := -2 * math.Log(0.05)
	return Values{
		"factor":                   Number("1", k),
		"chi_squared_radius_error": Number("1", math.Sqrt(chi/k)-1),
	}, nil
}
