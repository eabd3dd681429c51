package cop

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// Side says which foot: the one nearer the target or the other.
type Side int

const (
	// Lead is the foot nearer the target, at the greater Y.
	Lead Side = iota
	// Trail is the other foot.
	Trail
)

// String returns "lead" or "trail".
func (s Side) String() string {
	switch s {
	case Lead:
		return "lead"
	case Trail:
		return "trail"
	}
	return fmt.Sprintf("Side(%d)", int(s))
}

// Foot is the outline of one foot on the standing surface, seen from above in
// swing axes: heights are left out. Places within it are counted along its own
// long axis, so a foot may be turned out. The zero Foot is not usable; see
// [NewFoot], [NewFootOutline] and [ApproximateFoot]. A Foot is not changed after
// it was made and may be shared by goroutines.
type Foot struct {
	side           Side
	outline        []r3.Vec
	rear           r3.Vec // middle of the rear edge of the box around the outline
	along, lateral r3.Vec // unit vectors
	length, width  float64
	approximate    bool
}

// Placement is a place relative to a foot.
type Placement struct {
	// Along is 0 at the rear end of the heel and 1 at the tip of the toes.
	Along float64
	// Across is −1 at the medial (inner) extreme of the foot, 0 in the middle of
	// its width and +1 at the lateral (outer) extreme.
	Across float64
	// Inside says whether the place is within the outline. Places outside keep
	// their numbers, which then may lie outside 0…1 and −1…+1. On the outline
	// itself it may be either.
	Inside bool
}

const (
	// A foot or shoe outside these sizes is taken for a mistake of unit, m.
	minFootLength, maxFootLength = 0.05, 0.6
	minFootWidth, maxFootWidth   = 0.02, 0.3
	// maxOutline bounds the work of checking an outline for crossing sides.
	maxOutline = 1000
	// endPoints is the number of points of each round end of the plain shape:
	// the polygon stays within 0.3 mm of the arcs of a 0.1 m wide foot.
	endPoints = 17
)

// NewFoot returns a foot of which the rear end of the heel, the tip of the toes
// and the greatest width, in m, are known. Its outline is a plain shape with
// parallel sides and round ends, as long as from heel to toe. The result wraps
// [ErrFoot] when a value is not finite, heel and toe coincide, the size is not
// that of a foot (0.05 to 0.6 m by 0.02 to 0.3 m), or the foot is wider than
// long.
func NewFoot(side Side, heel, toe r3.Vec, width float64) (Foot, error) {
	heel.Z, toe.Z = 0, 0
	if !defined(heel) || !defined(toe) || !isFinite(width) {
		return Foot{}, fmt.Errorf("%w: heel %v, toe %v and width %g must be finite", ErrFoot, heel, toe, width)
	}
	length := r3.Norm(r3.Sub(toe, heel))
	if length == 0 {
		return Foot{}, fmt.Errorf("%w: heel and toe coincide at (%g, %g) m", ErrFoot, heel.X, heel.Y)
	}
	if !(width > 0) || width > length {
		return Foot{}, fmt.Errorf("%w: %g m wide but only %g m long", ErrFoot, width, length)
	}
	along := r3.Unit(r3.Sub(toe, heel))
	return newFoot(side, roundEnded(heel, along, length, width), along, false)
}

// NewFootOutline returns a foot whose outline is a polygon of points, in order
// either way round, the last one joined to the first. forward is the direction
// from heel to toe, of any length; the zero vector takes the long principal axis
// of the outline's area, toes at the greater X. The result wraps [ErrFoot] when
// there are fewer than 3 or more than 1000 points, a coordinate is not finite,
// sides cross or touch, the outline encloses no area, the size is not that of a
// foot (see [NewFoot]), or the direction can not be told from the outline.
func NewFootOutline(side Side, outline []r3.Vec, forward r3.Vec) (Foot, error) {
	pts, err := cleanOutline(outline)
	if err != nil {
		return Foot{}, err
	}
	forward.Z = 0
	if !defined(forward) {
		return Foot{}, fmt.Errorf("%w: direction %v must be finite", ErrFoot, forward)
	}
	if forward == (r3.Vec{}) {
		if forward, err = longAxis(pts); err != nil {
			return Foot{}, err
		}
	}
	return newFoot(side, pts, r3.Unit(forward), false)
}

// newFoot fits the box with its length along the given unit vector round the
// outline.
func newFoot(side Side, outline []r3.Vec, along r3.Vec, approximate bool) (Foot, error) {
	f := Foot{side: side, outline: outline, along: along, approximate: approximate}
	// A quarter turn counter-clockwise from the toes of a foot that points
	// forward is toward the target: lateral of the lead foot.
	f.lateral = r3.Vec{X: -along.Y, Y: along.X}
	switch side {
	case Lead:
	case Trail:
		f.lateral = r3.Scale(-1, f.lateral)
	default:
		return Foot{}, fmt.Errorf("%w: %v is neither the lead nor the trail foot", ErrFoot, side)
	}
	a0, a1 := math.Inf(1), math.Inf(-1)
	l0, l1 := a0, a1
	for _, p := range outline {
		a, l := r3.Dot(p, f.along), r3.Dot(p, f.lateral)
		a0, a1 = math.Min(a0, a), math.Max(a1, a)
		l0, l1 = math.Min(l0, l), math.Max(l1, l)
	}
	f.length, f.width = a1-a0, l1-l0
	if !(f.length >= minFootLength && f.length <= maxFootLength) ||
		!(f.width >= minFootWidth && f.width <= maxFootWidth) {
		return Foot{}, fmt.Errorf("%w: %.4g m long and %.4g m wide, expected %g to %g m by %g to %g m (are the points in metres?)",
			ErrFoot, f.length, f.width, minFootLength, maxFootLength, minFootWidth, maxFootWidth)
	}
	f.rear = r3.Add(r3.Scale(a0, f.along), r3.Scale((l0+l1)/2, f.lateral))
	return f, nil
}

// Place returns where p is relative to the foot; its height does not count. A p
// with an undefined X or Y is nowhere: Along and Across are NaN and Inside is
// false; so it is for the zero Foot.
func (f Foot) Place(p r3.Vec) Placement {
	d := r3.Vec{X: p.X - f.rear.X, Y: p.Y - f.rear.Y}
	if !isFinite(d.X) || !isFinite(d.Y) || f.length == 0 {
		return Placement{Along: math.NaN(), Across: math.NaN()}
	}
	return Placement{
		Along:  r3.Dot(d, f.along) / f.length,
		Across: r3.Dot(d, f.lateral) / (f.width / 2),
		Inside: inside(f.outline, p),
	}
}

// Places sets dst[i] to Place(ps[i]) and returns dst, grown if it was too short.
func (f Foot) Places(dst []Placement, ps []r3.Vec) []Placement {
	dst = grow(dst, len(ps))
	for i, p := range ps {
		dst[i] = f.Place(p)
	}
	return dst
}

// Point returns the point of the surface at a place of the foot, in swing axes
// with Z = 0: the inverse of [Foot.Place].
func (f Foot) Point(along, across float64) r3.Vec {
	return r3.Add(f.rear, r3.Add(
		r3.Scale(along*f.length, f.along),
		r3.Scale(across*f.width/2, f.lateral)))
}

// Outline sets dst to the corners of the outline, m in swing axes with Z = 0,
// and returns it, grown if it was too short.
func (f Foot) Outline(dst []r3.Vec) []r3.Vec {
	dst = grow(dst, len(f.outline))
	copy(dst, f.outline)
	return dst
}

// Side returns which foot it is.
func (f Foot) Side() Side { return f.side }

// Length returns the extent of the outline along the foot's axis, m.
func (f Foot) Length() float64 { return f.length }

// Width returns the extent of the outline across the foot's axis, m.
func (f Foot) Width() float64 { return f.width }

// ToeOut returns the angle in rad from forward (X) to the foot's axis, positive
// when the toes point away from the other foot.
func (f Foot) ToeOut() float64 {
	a := math.Atan2(f.along.Y, f.along.X)
	if f.side == Trail {
		return -a
	}
	return a
}

// Approximate reports whether the foot was guessed from its centre-of-pressure
// path (see [ApproximateFoot]) rather than measured.
func (f Foot) Approximate() bool { return f.approximate }
