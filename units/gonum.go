package units

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/unit"
)

// dimensional returns the bridge to gonum's run-time dimensions.
func dimensional(q Quantity, si float64) *unit.Unit {
	d := q.kind().dim
	return unit.New(si, unit.Dimensions{
		unit.LengthDim: d.length,
		unit.MassDim:   d.mass,
		unit.TimeDim:   d.time,
		unit.AngleDim:  d.angle,
	})
}

func from[Q ~float64](x *Q, q Quantity, u unit.Uniter) error {
	v := u.Unit()
	if !unit.DimensionsMatch(v, dimensional(q, 1)) {
		*x = Q(math.NaN())
		return fmt.Errorf("%w: the dimensions of a %s are %q, got %q", ErrDimension, q,
			dimensional(q, 1).Dimensions(), v.Dimensions())
	}
	*x = Q(v.Value())
	return nil
}
