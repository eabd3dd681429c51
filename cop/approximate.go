package cop

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// ApproximateOptions are the choices of [ApproximateFoot].
type ApproximateOptions struct {
	// ToeOut is the angle from forward (X) to the foot's axis, rad, positive
	// when the toes point away from the other foot; 0 is straight ahead. It is
	// not taken from the path: in a swing the pressure often moves more across
	// the foot than along it.
	ToeOut float64
	// Length and Width of the foot, m. 0 takes the extent of the path in that
	// direction; then 0…1 and −1…+1 are the extremes that the path reached, not
	// those of the foot.
	Length, Width float64
	// Trim is the fraction of samples at either extreme that may lie outside
	// the extent of the path, against the scatter at light load. 0 is 2 %
	// (common practice, no published source); NaN trims nothing.
	Trim float64
}

// minSpotSamples is the fewest defined samples from which a foot is guessed.
const minSpotSamples = 10

// ApproximateFoot guesses a foot from its centre-of-pressure path alone, when
// neither markers nor an outline are at hand: a rectangle along the stated
// direction, centred between the extremes of the path. It is an approximation
// and says so ([Foot.Approximate]): a path that stays in the forefoot makes a
// foot that is too far forward, or too short when no length is given. Samples
// that are NaN are left out.
//
// The result wraps [ErrTooShort] when fewer than 10 samples are defined and
// [ErrFoot] when the options are out of range or the resulting size is not that
// of a foot (see [NewFoot]), as for a path that hardly moves.
func ApproximateFoot(side Side, path []r3.Vec, opt ApproximateOptions) (Foot, error) {
	trim := opt.Trim
	switch {
	case trim == 0:
		trim = 0.02
	case math.IsNaN(trim):
		trim = 0
	}
	if !isFinite(opt.ToeOut) || !(opt.Length >= 0) || !(opt.Width >= 0) || !(trim >= 0 && trim < 0.5) {
		return Foot{}, fmt.Errorf("%w: toe-out %g rad, length %g m, width %g m and trim %g must be finite, sizes not negative, trim under 0.5",
			ErrFoot, opt.ToeOut, opt.Length, opt.Width, trim)
	}
	angle := opt.ToeOut
	if side == Trail {
		angle = -angle
	}
	sin, cos := math.Sincos(angle)
	along, left := r3.Vec{X: cos, Y: sin}, r3.Vec{X: -sin, Y: cos}
	as, ls := make([]float64, 0, len(path)), make([]float64, 0, len(path))
	for _, p := range path {
		p.Z = 0
		if defined(p) {
			as, ls = append(as, r3.Dot(p, along)), append(ls, r3.Dot(p, left))
		}
	}
	if len(as) < minSpotSamples {
		return Foot{}, &ShortError{Need: minSpotSamples, Got: len(as)}
	}
	a0, a1 := extremes(as, trim, opt.Length)
	l0, l1 := extremes(ls, trim, opt.Width)
	corner := func(a, l float64) r3.Vec { return r3.Add(r3.Scale(a, along), r3.Scale(l, left)) }
	return newFoot(side, []r3.Vec{corner(a0, l0), corner(a1, l0), corner(a1, l1), corner(a0, l1)}, along, true)
}

// extremes returns the ends of xs after trimming, or those of a stretch of the
// given size with the same middle. It sorts xs.
func extremes(xs []float64, trim, size float64) (low, high float64) {
	slices.Sort(xs)
	k := int(trim * float64(len(xs)))
	low, high = xs[k], xs[len(xs)-1-k]
	if size > 0 {
		mid := (low + high) / 2
		low, high = mid-size/2, mid+size/2
	}
	return low, high
}
