package validation

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/grf"
	"example.com/momentarm/units"
)

// Library returns this library as an [Implementation]: every operation goes
// through the exported functions that users call.
func Library() Implementation { return library{} }

type library struct{}

// Answer implements [Implementation].
func (library) Answer(operation string, in Values) (Values, error) {
	f, ok := libraryOperations[operation]
	if !ok {
		return nil, fmt.Errorf("%w: %s", ErrUnsupported, operation)
	}
	return f(in)
}

var libraryOperations = map[string]func(Values) (Values, error){
	"convert":              convert,
	"weight":               weight,
	"moment":               moment,
	"moment_of_momentum":   momentOfMomentum,
	"moment_arms":          momentArms,
	"torque_in_plane":      planeTorque,
	"two_feet":             twoFeet,
	"impulse":              impulse,
	"power":                power,
	"low_pass_sections":    lowPassSections,
	"low_pass_both_ways":   lowPassBothWays,
	"low_pass_forward":     lowPassForward,
	"line_of_action":       lineOfAction,
	"load_share":           loadShare,
	"plate":                plate,
	"plate_series":         plateSeries,
	"two_plate_path":       twoPlatePath,
	"wrench_path":          wrenchPath,
	"segment_masses":       segmentMasses,
	"leg_centres":          legCentres,
	"steady_gains":         steadyGains,
	"flight":               flight,
	"motion":               motion,
	"path_measures":        pathMeasures,
	"ellipse_factor":       ellipseFactor,
	"analysis_of_variance": analysisOfVariance,
	"icc":                  icc,
	"standard_error":       standardError,
	"limits_of_agreement":  limitsOfAgreement,
	"covariance_of_means":  covarianceOfMeans,
	"propagate":            propagateCovariance,
	"two_plate_moments":    twoPlateMoments,
	"fused_path":           fusedPath,
	"flight_error":         flightError,
	"c3d_points":           c3dPoints,
	"c3d_channels":         c3dChannels,
	"c3d_plate":            c3dPlate,
}

// or returns the optional number name, or otherwise.
func (vs Values) or(name string, otherwise float64) float64 {
	if vs.Has(name) {
		return vs[name].Float()
	}
	return otherwise
}

func convert(in Values) (Values, error) {
	unit := func(name string) (units.Unit, error) {
		u, ok := units.LookUp(in[name].Word)
		if !ok {
			return u, fmt.Errorf("unit %q is not known", in[name].Word)
		}
		return u, nil
	}
	from, err := unit("from")
	if err != nil {
		return nil, err
	}
	to, err := unit("to")
	if err != nil {
		return nil, err
	}
	if from.Quantity != to.Quantity {
		return nil, fmt.Errorf("%s is %v, %s is %v", from.Symbol, from.Quantity, to.Symbol, to.Quantity)
	}
	return Values{"value": Number("1", in["value"].Float()*from.SI/to.SI)}, nil
}

func weight(in Values) (Values, error) {
	return Values{"force": Number("N", float64(units.BodyWeight(units.Mass(in["mass"].Float()))))}, nil
}

// resultant sums the forces, points and couples of an operation.
func resultant(in Values) (grf.Wrench, error) {
	forces, points, couples := in["forces"].Vecs(), in["points"].Vecs(), in["couples"].Vecs()
	if len(points) != len(forces) || (couples != nil && len(couples) != len(forces)) {
		return grf.Wrench{}, fmt.Errorf("%d forces, %d points, %d couples", len(forces), len(points), len(couples))
	}
	ws := make([]grf.Wrench, len(forces))
	for i, f := range forces {
		var c r3.Vec
		if couples != nil {
			c = couples[i]
		}
		ws[i] = grf.At(f, points[i], c)
	}
	return grf.Sum(ws...), nil
}

// point returns a centre of pressure and free moment as values.
func pointAndFree(p r3.Vec, free float64) Values {
	v, f := Vector("m", p), Number("N·m", free)
	if math.IsNaN(free) {
		v.Reason = "under the load threshold"
		f.Reason = v.Reason
	}
	return Values{"point": v, "free_moment": f}
}

func lineOfAction(in Values) (Values, error) {
	w, err := resultant(in)
	if err != nil {
		return nil, err
	}
	p, free := cop.Of(w, in.or("height", 0), in.or("min_vertical", cop.DefaultMinVertical))
	return pointAndFree(p, free), nil
}

func loadShare(in Values) (Values, error) {
	s := cop.Share(grf.Wrench{Force: in["lead"].Vec()}, grf.Wrench{Force: in["trail"].Vec()})
	v := Number("1", s)
	if math.IsNaN(s) {
		v.Reason = "under the load threshold"
	}
	return Values{"share": v}, nil
}

func newPlate(in Values) (*grf.Plate, error) {
	c := grf.PlateConfig{
		Type:        grf.PlateType(in["type"].Float()),
		Origin:      in["origin"].Vec(),
		TopCover:    in.or("top_cover", 0),
		Calibration: in["calibration"].Rows(),
	}
	if copy(c.Corners[:], in["corners"].Vecs()) != 4 {
		return nil, fmt.Errorf("a plate has four corners")
	}
	if in.Has("scale") {
		c.ChannelScale = in["scale"].Numbers
	}
	if in.Has("correction") {
		c.PointCorrection = new([12]float64)
		if copy(c.PointCorrection[:], in["correction"].Numbers) != 12 {
			return nil, fmt.Errorf("a position correction has twelve coefficients")
		}
	}
	return grf.NewPlate(c)
}

func plateSeries(in Values) (Values, error) {
	p, err := newPlate(in)
	if err != nil {
		return nil, err
	}
	rows := in["channels"].Rows()
	channels := make([][]float64, p.Channels())
	if w := in["channels"].Shape; len(w) != 2 || w[1] != len(channels) {
		return nil, fmt.Errorf("channels of shape %v, the plate has %d", w, len(channels))
	}
	for i := range channels {
		channels[i] = make([]float64, len(rows))
		for j, row := range rows {
			channels[i][j] = row[i]
		}
	}
	ws, err := p.Wrenches(nil, channels)
	if err != nil {
		return nil, err
	}
	forces, moments := make([]r3.Vec, len(ws)), make([]r3.Vec, len(ws))
	for i, w := range ws {
		forces[i], moments[i] = w.Force, w.About(p.Frame().Origin)
	}
	return Values{"forces": Vectors("N", forces...), "moments": Vectors("N·m", moments...)}, nil
}

func plate(in Values) (Values, error) {
	p, err := newPlate(in)
	if err != nil {
		return nil, err
	}
	channels := in["channels"].Numbers
	minVertical := in.or("min_vertical", 0)
	s := p.Surface(channels)
	w := p.Wrench(channels)
	frame := p.Frame()
	// In plate axes and in the laboratory the same function finds the point;
	// the plane is that of the plate's surface.
	ps, free := cop.OnPlane(s, r3.Vec{}, r3.Vec{Z: 1}, minVertical)
	pl, _ := cop.OnPlane(w, frame.Origin, frame.Z, minVertical)
	out := Values{
		"surface_force":       Vector("N", s.Force),
		"surface_moment":      Vector("N·m", s.Moment),
		"surface_point":       List("m", ps.X, ps.Y),
		"surface_free_moment": Number("N·m", free),
		"force":               Vector("N", w.Force),
		"moment":              Vector("N·m", w.Moment),
		"moment_at_centre":    Vector("N·m", w.About(frame.Origin)),
		"point":               Vector("m", pl),
	}
	return out, nil
}
