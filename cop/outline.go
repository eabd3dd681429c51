package cop

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// roundEnded returns the outline of a foot with parallel sides and half circles
// for ends.
func roundEnded(heel, along r3.Vec, length, width float64) []r3.Vec {
	r := width / 2
	left := r3.Vec{X: -along.Y, Y: along.X}
	pts := make([]r3.Vec, 0, 2*endPoints)
	arc := func(centre r3.Vec, from float64) {
		for i := range endPoints {
			sin, cos := math.Sincos(from + math.Pi*float64(i)/(endPoints-1))
			pts = append(pts, r3.Add(centre, r3.Add(r3.Scale(r*cos, along), r3.Scale(r*sin, left))))
		}
	}
	arc(r3.Add(heel, r3.Scale(length-r, along)), -math.Pi/2)
	arc(r3.Add(heel, r3.Scale(r, along)), math.Pi/2)
	return pts
}

// cleanOutline returns a copy of the outline without heights and repeated
// points, or an error when it is no simple polygon.
func cleanOutline(outline []r3.Vec) ([]r3.Vec, error) {
	if len(outline) > maxOutline {
		return nil, fmt.Errorf("%w: %d points, at most %d are of use", ErrFoot, len(outline), maxOutline)
	}
	pts := make([]r3.Vec, 0, len(outline))
	for i, p := range outline {
		p.Z = 0
		if !defined(p) {
			return nil, fmt.Errorf("%w: point %d (%g, %g) is not finite", ErrFoot, i, p.X, p.Y)
		}
		if len(pts) == 0 || pts[len(pts)-1] != p {
			pts = append(pts, p)
		}
	}
	if n := len(pts); n > 1 && pts[0] == pts[n-1] {
		pts = pts[:n-1]
	}
	n := len(pts)
	if n < 3 {
		return nil, fmt.Errorf("%w: %d different points, at least 3 are needed", ErrFoot, n)
	}
	for i := range n {
		// Neighbouring sides share a point; all others must stay apart.
		for j := i + 2; j < n; j++ {
			if i == 0 && j == n-1 {
				continue
			}
			if touch(pts[i], pts[i+1], pts[j], pts[(j+1)%n]) {
				return nil, fmt.Errorf("%w: the sides from points %d and %d cross or touch", ErrFoot, i, j)
			}
		}
	}
	if a, _, _ := areaMoments(pts); math.Abs(a) < minFootLength*minFootWidth/10 {
		return nil, fmt.Errorf("%w: it encloses %.3g m²", ErrFoot, math.Abs(a))
	}
	return pts, nil
}

// longAxis returns the unit vector of the long principal axis of the area
// inside the outline, pointing to greater X.
func longAxis(pts []r3.Vec) (r3.Vec, error) {
	area, _, m := areaMoments(pts)
	if area < 0 {
		m.xx, m.yy, m.xy = -m.xx, -m.yy, -m.xy
	}
	e := eigen2(m.xx, m.yy, m.xy)
	// The principal spreads of a rectangle go as the squares of its sides: a
	// foot less than 1.25 times as long as wide has no evident direction.
	if !(e.large > 1.25*1.25*e.small) {
		return r3.Vec{}, fmt.Errorf("%w: nearly as wide as long; state the direction from heel to toe", ErrFoot)
	}
	sin, cos := math.Sincos(e.angle)
	if math.Abs(cos) < math.Sin(10*math.Pi/180) {
		return r3.Vec{}, fmt.Errorf("%w: it lies within 10° of the target line; state the direction from heel to toe", ErrFoot)
	}
	if cos < 0 {
		sin, cos = -sin, -cos
	}
	return r3.Vec{X: cos, Y: sin}, nil
}

type spread struct{ xx, yy, xy float64 }

// areaMoments returns the signed area of a polygon, its centroid and the second
// moments of its area about the centroid, which carry the sign of the area
// (Green's theorem).
func areaMoments(pts []r3.Vec) (area float64, centre r3.Vec, m spread) {
	base := pts[0] // keeps the sums small
	var sx, sy float64
	for i, p := range pts {
		p, q := r3.Sub(p, base), r3.Sub(pts[(i+1)%len(pts)], base)
		c := p.X*q.Y - q.X*p.Y
		area += c / 2
		sx += c * (p.X + q.X) / 6
		sy += c * (p.Y + q.Y) / 6
		m.xx += c * (p.X*p.X + p.X*q.X + q.X*q.X) / 12
		m.yy += c * (p.Y*p.Y + p.Y*q.Y + q.Y*q.Y) / 12
		m.xy += c * (2*p.X*p.Y + p.X*q.Y + q.X*p.Y + 2*q.X*q.Y) / 24
	}
	if area == 0 {
		return 0, base, m
	}
	cx, cy := sx/area, sy/area
	m.xx -= area * cx * cx
	m.yy -= area * cy * cy
	m.xy -= area * cx * cy
	return area, r3.Vec{X: base.X + cx, Y: base.Y + cy}, m
}

// touch reports whether the segments ab and cd have a point in common.
func touch(a, b, c, d r3.Vec) bool {
	d1, d2 := turn(a, b, c), turn(a, b, d)
	d3, d4 := turn(c, d, a), turn(c, d, b)
	if d1*d2 < 0 && d3*d4 < 0 {
		return true
	}
	return d1 == 0 && between(a, b, c) || d2 == 0 && between(a, b, d) ||
		d3 == 0 && between(c, d, a) || d4 == 0 && between(c, d, b)
}

// turn is positive when c lies to the left of the way from a to b.
func turn(a, b, c r3.Vec) float64 {
	return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X)
}

// between reports whether c, on the line through a and b, lies within them.
func between(a, b, c r3.Vec) bool {
	return math.Min(a.X, b.X) <= c.X && c.X <= math.Max(a.X, b.X) &&
		math.Min(a.Y, b.Y) <= c.Y && c.Y <= math.Max(a.Y, b.Y)
}

// inside reports whether p is within the polygon: a ray from p crosses its
// sides an odd number of times.
func inside(pts []r3.Vec, p r3.Vec) bool {
	in := false
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		if (a.Y > p.Y) != (b.Y > p.Y) &&
			p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

// principal holds the eigenvalues of a symmetric 2×2 matrix and the angle of
// the eigenvector of the larger one, rad from X toward Y, in (−π/2, π/2]; NaN
// when the two are equal.
type principal struct{ large, small, angle float64 }

func eigen2(xx, yy, xy float64) principal {
	mean, half := (xx+yy)/2, math.Hypot((xx-yy)/2, xy)
	p := principal{mean + half, mean - half, math.Atan2(2*xy, xx-yy) / 2}
	if half == 0 {
		p.angle = math.NaN()
	}
	return p
}
