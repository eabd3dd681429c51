package validation

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
)

func pathMeasures(in Values) (Values, error) {
	x, y := in["x"].Numbers, in["y"].Numbers
	path := make([]r3.Vec, len(x))
	for i := range path {
		path[i] = r3.Vec{X: x[i], Y: y[i]}
	}
	m, err := cop.MeasurePath(path, in["rate"].Float(), cop.PathOptions{})
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

func ellipseFactor(in Values) (Values, error) {
	k := cop.PredictionFactor(int(in["n"].Float()))
	chi := -2 * math.Log(0.05)
	return Values{
		"factor":                   Number("1", k),
		"chi_squared_radius_error": Number("1", math.Sqrt(chi/k)-1),
	}, nil
}
