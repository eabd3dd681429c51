package validation

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop/com"
)

func tableOf(in Values) ([]com.TableRow, error) {
	for _, t := range []com.Table{com.DeLevaMen, com.DeLevaWomen, com.Dempster} {
		if t.String() == in["table"].Word {
			return t.Rows(), nil
		}
	}
	return nil, fmt.Errorf("no table %q", in["table"].Word)
}

// row returns the first row of a name, the preferred one.
func row(rows []com.TableRow, name string) (com.TableRow, error) {
	for _, r := range rows {
		if r.Name == name {
			return r, nil
		}
	}
	return com.TableRow{}, fmt.Errorf("no segment %q", name)
}

func segmentMasses(in Values) (Values, error) {
	rows, err := tableOf(in)
	if err != nil {
		return nil, err
	}
	mass := map[string]float64{}
	for _, r := range rows {
		if _, ok := mass[r.Name]; !ok {
			mass[r.Name] = r.Mass
		}
	}
	head := mass["head"] + mass["head and neck"] // one table has either
	whole := head + mass["trunk"] + 2*(mass["upper arm"]+mass["forearm"]+mass["hand"]+mass["thigh"]+mass["shank"]+mass["foot"])
	out := Values{
		"foot":  Number("1", mass["foot"]),
		"trunk": Number("1", mass["trunk"]),
		"whole": Number("1", whole),
	}
	if parts := mass["upper trunk"] + mass["middle trunk"] + mass["lower trunk"]; parts > 0 {
		out["trunk_parts"] = Number("1", parts)
	}
	return out, nil
}

func legCentres(in Values) (Values, error) {
	rows, err := tableOf(in)
	if err != nil {
		return nil, err
	}
	labels := []string{"hip", "knee", "ankle", "forefoot"}
	points := make([]r3.Vec, len(labels))
	for i, l := range labels {
		points[i] = in[l].Vec()
	}
	out := Values{}
	var limb com.Model
	for _, s := range []struct{ name, proximal, distal string }{
		{"thigh", "hip", "knee"}, {"shank", "knee", "ankle"}, {"foot", "ankle", "forefoot"},
	} {
		r, err := row(rows, s.name)
		if err != nil {
			return nil, err
		}
		segment := com.Segment{Name: s.name, Proximal: com.Landmark{s.proximal}, Distal: com.Landmark{s.distal}, Mass: r.Mass, Centre: r.Centre}
		limb.Segments = append(limb.Segments, segment)
		if out[s.name], err = centreOf(com.Model{Segments: []com.Segment{segment}}, labels, points); err != nil {
			return nil, err
		}
	}
	out["limb"], err = centreOf(limb, labels, points)
	return out, err
}

func centreOf(m com.Model, labels []string, points []r3.Vec) (Value, error) {
	b, err := m.Bind(labels)
	if err != nil {
		return Value{}, err
	}
	return Vector("m", b.At(points)), nil
}

func steadyGains(in Values) (Values, error) {
	l1, l2 := com.SteadyGains(in["force_sd"].Float(), in["position_sd"].Float(), in["mass"].Float(), in["rate"].Float())
	return Values{"position_gain": Number("1", l1), "velocity_gain": Number("1", l2)}, nil
}
