package torque

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Tilt is the lean of a vector from the vertical, rad, and its length. Of a
// force in N it says where the push points; of the way in m from the centre of
// pressure to the centre of mass it says where the mass is. With both, the
// frontal arm is
//
//	distance in the frontal plane · sin(force tilt − way tilt)
//
// and likewise, with the opposite sign, in the sagittal plane: the force turns
// the golfer as far as it does not point at the mass.
type Tilt struct {
	Frontal  float64 // positive toward the target, in (−π, π]
	Sagittal float64 // positive forward, in (−π, π]
	Length   float64 // in the unit of the vector
}

// TiltOf returns the tilt of v. An angle is NaN when the part of v in its plane
// is shorter than min or zero, or NaN.
func TiltOf(v r3.Vec, min float64) Tilt {
	return Tilt{
		Frontal:  lean(v.Y, v.Z, min),
		Sagittal: lean(v.X, v.Z, min),
		Length:   r3.Norm(v),
	}
}

func lean(across, up, min float64) float64 {
	if l := math.Hypot(across, up); !(l >= min) || !(l > 0) {
		return math.NaN()
	}
	return math.Atan2(across, up)
}
