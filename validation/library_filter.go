package validation

import (
	"math"

	"example.com/momentarm/grf/filter"
)

func lowPassSections(in Values) (Values, error) {
	s, err := filter.Butterworth(int(in["order"].Float()), in["cutoff"].Float(), in["rate"].Float())
	if err != nil {
		return nil, err
	}
	return sectionValues(s), nil
}

// sectionValues also multiplies the sections out, because other designs pair
// poles and zeros in another order.
func sectionValues(sections []filter.Section) Values {
	rows := make([][]float64, len(sections))
	b, a := []float64{1}, []float64{1}
	for i, s := range sections {
		rows[i] = []float64{s.B0, s.B1, s.B2, s.A1, s.A2}
		b = convolve(b, []float64{s.B0, s.B1, s.B2})
		a = convolve(a, []float64{1, s.A1, s.A2})
	}
	return Values{
		"sections": Table("1", rows...),
		"cascade":  List("1", append(b, a[1:]...)...),
	}
}

func convolve(p, q []float64) []float64 {
	r := make([]float64, len(p)+len(q)-1)
	for i, x := range p {
		for j, y := range q {
			r[i+j] += x * y
		}
	}
	return r
}

func lowPassBothWays(in Values) (Values, error) {
	z, err := filter.NewZeroPhase(filter.ZeroPhaseOptions{
		Order:  int(in["order"].Float()),
		Cutoff: in["cutoff"].Float(),
		Rate:   in["rate"].Float(),
		Pad:    int(in.or("padding", 0)),
	})
	if err != nil {
		return nil, err
	}
	signal, err := z.Apply(nil, in["signal"].Numbers)
	if err != nil {
		return nil, err
	}
	var amplitude float64
	for _, x := range signal[len(signal)/3 : 2*len(signal)/3] {
		amplitude = math.Max(amplitude, math.Abs(x))
	}
	out := sectionValues(z.Sections())
	out["signal"] = List("1", signal...)
	warped := func(f float64) float64 { return math.Tan(math.Pi * f / in["rate"].Float()) }
	out["correction"] = Number("1", warped(in["cutoff"].Float())/warped(z.PassCutoff()))
	out["amplitude"] = Number("1", amplitude)
	return out, nil
}

func lowPassForward(in Values) (Values, error) {
	c, err := filter.NewCausal(filter.CausalOptions{
		Order:  int(in["order"].Float()),
		Cutoff: in["cutoff"].Float(),
		Rate:   in["rate"].Float(),
	})
	if err != nil {
		return nil, err
	}
	if err := c.Prime([]float64{0}); err != nil {
		return nil, err
	}
	src := in["signal"].Numbers
	out := make([]float64, len(src))
	for i := range src {
		c.Push(out[i:i+1], src[i:i+1])
	}
	return Values{"signal": List("1", out...)}, nil
}
