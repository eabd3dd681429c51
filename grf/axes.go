package grf

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Handedness of a golfer.
type Handedness int

const (
	// RightHanded golfers stand with the left side toward the target.
	RightHanded Handedness = iota
	// LeftHanded golfers stand with the right side toward the target; their
	// data are mirrored in Y on entry, so that signs mean the same for all.
	LeftHanded
)

// String returns "right" or "left".
func (h Handedness) String() string {
	switch h {
	case RightHanded:
		return "right"
	case LeftHanded:
		return "left"
	}
	return fmt.Sprintf("Handedness(%d)", int(h))
}

// Axes turns laboratory coordinates into swing axes: X forward, from the
// golfer toward the ball, Y toward the target, Z up. The zero Axes is not
// usable; see [NewAxes]. Axes are a value that does not change, and may be shared
// by goroutines.
type Axes struct {
	frame  Frame // right-handed: X forward, Z up, Y left of X
	mirror bool  // left-handed golfer: Y changes sign
}

// NewAxes returns the swing axes of a laboratory in which up and target are
// these directions (of any length; the part of target along up is ignored) and
// origin is the point of the standing surface to count from. The result wraps
// [ErrAxes] when a direction is zero, not finite or along the other.
func NewAxes(up, target, origin r3.Vec, hand Handedness) (Axes, error) {
	if hand != RightHanded && hand != LeftHanded {
		return Axes{}, fmt.Errorf("%w: %v is no handedness", ErrAxes, hand)
	}
	if !finite(up) || !finite(target) || !finite(origin) {
		return Axes{}, fmt.Errorf("%w: up %v, target %v, origin %v must be finite", ErrAxes, up, target, origin)
	}
	if r3.Norm(up) == 0 || r3.Norm(target) == 0 {
		return Axes{}, fmt.Errorf("%w: up %v and target %v must not be zero", ErrAxes, up, target)
	}
	z := r3.Unit(up)
	t := r3.Unit(target)
	t = r3.Sub(t, r3.Scale(r3.Dot(t, z), z))
	if r3.Norm(t) < 0.1 { // within some 6° of the vertical: surely a mistake
		return Axes{}, fmt.Errorf("%w: target %v is (nearly) along up %v", ErrAxes, target, up)
	}
	y := r3.Unit(t)
	if hand == LeftHanded {
		y = r3.Scale(-1, y)
	}
	return Axes{Frame{Origin: origin, X: r3.Cross(y, z), Y: y, Z: z}, hand == LeftHanded}, nil
}

// Handed returns the handedness that a was made for.
func (a Axes) Handed() Handedness {
	if a.mirror {
		return LeftHanded
	}
	return RightHanded
}

// Vector returns a polar vector (force, velocity, direction) of the laboratory
// in swing axes.
func (a Axes) Vector(v r3.Vec) r3.Vec { return a.polar(a.frame.VectorIn(v)) }

// Axial returns an axial vector (moment, angular velocity) of the laboratory in
// swing axes. A moment also depends on its point: see [Axes.Wrench].
func (a Axes) Axial(v r3.Vec) r3.Vec { return a.axial(a.frame.VectorIn(v)) }

// Point returns a point of the laboratory in swing axes, m.
func (a Axes) Point(p r3.Vec) r3.Vec { return a.polar(a.frame.PointIn(p)) }

// Wrench returns a wrench about the laboratory's origin as one about the
// origin of the swing axes, in swing axes.
func (a Axes) Wrench(w Wrench) Wrench {
	w = a.frame.WrenchIn(w)
	return Wrench{a.polar(w.Force), a.axial(w.Moment)}
}

// Wrenches sets dst[i] to Wrench(src[i]) and returns dst, grown if it was too
// short. dst may be src.
func (a Axes) Wrenches(dst, src []Wrench) []Wrench {
	dst = grow(dst, len(src))
	for i, w := range src {
		dst[i] = a.Wrench(w)
	}
	return dst
}

// LabPoint is the inverse of [Axes.Point].
func (a Axes) LabPoint(p r3.Vec) r3.Vec { return a.frame.PointOut(a.polar(p)) }

// LabVector is the inverse of [Axes.Vector].
func (a Axes) LabVector(v r3.Vec) r3.Vec { return a.frame.VectorOut(a.polar(v)) }

// LabWrench is the inverse of [Axes.Wrench].
func (a Axes) LabWrench(w Wrench) Wrench {
	return a.frame.WrenchOut(Wrench{a.polar(w.Force), a.axial(w.Moment)})
}

func (a Axes) polar(v r3.Vec) r3.Vec {
	if a.mirror {
		v.Y = -v.Y
	}
	return v
}

// axial mirrors an axial vector in Y: the components along the mirror plane
// change sign.
func (a Axes) axial(v r3.Vec) r3.Vec {
	if a.mirror {
		v.X, v.Z = -v.X, -v.Z
	}
	return v
}

// angleBetween returns the angle between two directions, rad.
func angleBetween(a, b r3.Vec) float64 {
	return math.Atan2(r3.Norm(r3.Cross(a, b)), r3.Dot(a, b))
}
