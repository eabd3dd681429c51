package torque

import (
	"math/bits"

	"gonum.org/v1/gonum/spatial/r3"
)

// Change is the change of the moment about the centre of mass from one state to
// another, N·m, by cause. The five causes add up to To − From, to rounding.
type Change struct {
	From, To Planes

	ForceSize        Planes // how hard: the length of the force
	ForceDirection   Planes // where to
	PressurePosition Planes // where the centre of pressure is
	MassPosition     Planes // where the centre of mass is
	FreeMoment       Planes // what the free moment changed by
}

// Total returns the sum of the five causes.
func (c Change) Total() Planes {
	return c.ForceSize.Add(c.ForceDirection).Add(c.PressurePosition).Add(c.MassPosition).Add(c.FreeMoment)
}

// Relative returns the change as a part of From, plane by plane: 0.1 is 10 %
// more. NaN where From is 0.
func (c Change) Relative() Planes { return c.To.Sub(c.From).over(c.From) }

// The causes that Difference shares the change among, as bits.
const (
	forceSize = 1 << iota
	forceDirection
	pressurePosition
	massPosition
	causes = 4
)

// Difference says why the moment of b differs from that of a. The states may be
// two instants of a swing or the same event of two swings.
//
// The moment is a product, size · (pressure − mass) × direction, so what one
// cause does depends on the others. Each gets its Shapley value (L.S. Shapley
// 1953): what changing it from a to b adds, averaged over all orders in which
// the four could be changed. The parts therefore add up exactly, do not depend
// on an order, change sign when a and b are exchanged, and are zero for a cause
// that did not change. The free moment is a plain sum and is its own part.
//
// Only the way from mass to pressure turns anything: when the golfer stands
// elsewhere in b, both positions changed and their parts cancel. Count both
// swings from a common place, such as the middle of the stance, to tell the two
// apart. A force of zero has no direction and is given that of the other state.
// For the feet apart take the difference of each foot: their totals add up to
// that of both. NaN in a state makes NaN what depends on it.
func Difference(a, b State) Change {
	sa, sb := r3.Norm(a.Force), r3.Norm(b.Force)
	ua, ub := directions(a.Force, b.Force, sa, sb)

	var value [1 << causes]r3.Vec // with the causes in the index as in b, the rest as in a
	for set := range value {
		size, direction, pressure, mass := sa, ua, a.Pressure, a.Mass
		if set&forceSize != 0 {
			size = sb
		}
		if set&forceDirection != 0 {
			direction = ub
		}
		if set&pressurePosition != 0 {
			pressure = b.Pressure
		}
		if set&massPosition != 0 {
			mass = b.Mass
		}
		value[set] = r3.Scale(size, r3.Cross(r3.Sub(pressure, mass), direction))
	}
	// |S|!·(4−1−|S|)!/4! for |S| causes changed before.
	weight := [causes]float64{1. / 4, 1. / 12, 1. / 12, 1. / 4}
	share := func(cause int) Planes {
		var sum r3.Vec
		for set := range value {
			if set&cause == 0 {
				added := r3.Sub(value[set|cause], value[set])
				sum = r3.Add(sum, r3.Scale(weight[bits.OnesCount(uint(set))], added))
			}
		}
		return FromVec(sum)
	}
	return Change{
		From:             a.Moment(),
		To:               b.Moment(),
		ForceSize:        share(forceSize),
		ForceDirection:   share(forceDirection),
		PressurePosition: share(pressurePosition),
		MassPosition:     share(massPosition),
		FreeMoment:       Planes{Horizontal: b.Free - a.Free},
	}
}

// directions returns the unit vectors of two forces of these sizes. Equal forces
// get equal ones.
func directions(a, b r3.Vec, sa, sb float64) (ua, ub r3.Vec) {
	switch {
	case sa == 0 && sb == 0:
		return r3.Vec{}, r3.Vec{}
	case sa == 0:
		ub = r3.Scale(1/sb, b)
		return ub, ub
	case sb == 0:
		ua = r3.Scale(1/sa, a)
		return ua, ua
	}
	return r3.Scale(1/sa, a), r3.Scale(1/sb, b)
}
