package validation

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"example.com/momentarm/grf/propagate"
	"example.com/momentarm/validation/agreement"
)

func analysisOfVariance(in Values) (Values, error) {
	a, err := agreement.Analyse(in["ratings"].Rows())
	if err != nil {
		return nil, err
	}
	return Values{
		"between": Number("1", a.Between),
		"within":  Number("1", a.Within),
		"judges":  Number("1", a.Judges),
		"error":   Number("1", a.Error),
	}, nil
}

var iccForms = map[string]agreement.Form{
	"(1,1)": agreement.OneWaySingle, "(2,1)": agreement.TwoWayRandomSingle, "(3,1)": agreement.TwoWayMixedSingle,
	"(1,k)": agreement.OneWayAverage, "(2,k)": agreement.TwoWayRandomAverage, "(3,k)": agreement.TwoWayMixedAverage,
}

func icc(in Values) (Values, error) {
	form, ok := iccForms[in["form"].Word]
	if !ok {
		return nil, fmt.Errorf("no form %q", in["form"].Word)
	}
	c, err := agreement.ICC(in["ratings"].Rows(), form, 0)
	if err != nil {
		return nil, err
	}
	return Values{
		"value": Number("1", c.Value),
		"low":   Number("1", c.CI.Low),
		"high":  Number("1", c.CI.High),
	}, nil
}

func standardError(in Values) (Values, error) {
	p, err := agreement.StandardError(in["ratings"].Rows(), agreement.TwoWayRandomSingle)
	if err != nil {
		return nil, err
	}
	mdc, err := agreement.DetectableChange(p.FromError, 0)
	if err != nil {
		return nil, err
	}
	return Values{
		"standard_error":    Number("1", p.FromError),
		"detectable_change": Number("1", mdc),
	}, nil
}

func limitsOfAgreement(in Values) (Values, error) {
	c, err := agreement.Compare(in["a"].Numbers, in["b"].Numbers, agreement.CompareOptions{Multiplier: in.or("multiplier", 0)})
	if err != nil {
		return nil, err
	}
	return Values{
		"bias":      Number("1", c.Bias),
		"sd":        Number("1", c.SD),
		"lower":     Number("1", c.Lower),
		"upper":     Number("1", c.Upper),
		"bias_low":  Number("1", c.BiasCI.Low),
		"bias_high": Number("1", c.BiasCI.High),
	}, nil
}

// uncertainties returns the square roots of the diagonal and the correlations.
func uncertainties(c *mat.SymDense) (sd, correlations Value) {
	n := c.SymmetricDim()
	r := propagate.Correlation(c)
	u := make([]float64, n)
	rows := make([][]float64, n)
	for i := range n {
		u[i] = math.Sqrt(c.At(i, i))
		for j := range n {
			rows[i] = append(rows[i], r.At(i, j))
		}
	}
	return List("1", u...), Table("1", rows...)
}

func covarianceOfMeans(in Values) (Values, error) {
	means, c, err := propagate.OfMeans(in["observations"].Rows())
	if err != nil {
		return nil, err
	}
	sd, r := uncertainties(c)
	return Values{"means": List("1", means...), "uncertainties": sd, "correlations": r}, nil
}

func propagateCovariance(in Values) (Values, error) {
	j, c := in["jacobian"], in["covariance"]
	if len(j.Shape) != 2 || len(c.Shape) != 2 || c.Shape[0] != c.Shape[1] || len(j.Numbers) == 0 || len(c.Numbers) == 0 {
		return nil, fmt.Errorf("the Jacobian and the covariance are tables, the covariance a square one, neither empty")
	}
	out, err := propagate.Covariance(nil,
		mat.NewDense(j.Shape[0], j.Shape[1], j.Numbers), mat.NewSymDense(c.Shape[0], c.Numbers))
	if err != nil {
		return nil, err
	}
	sd, r := uncertainties(out)
	return Values{"uncertainties": sd, "correlations": r}, nil
}
