package grf

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// setFrame builds the plate's axes from its corners.
func (p *Plate) setFrame(c [4]r3.Vec) error {
	for i, v := range c {
		if !finite(v) {
			return fmt.Errorf("%w: corner %d is %v", ErrCorners, i+1, v)
		}
	}
	x := r3.Sub(c[0], c[1])
	y := r3.Sub(c[0], c[3])
	p.length, p.width = r3.Norm(x), r3.Norm(y)
	const least = 0.01 // m
	if p.length < least || p.width < least {
		return fmt.Errorf("%w: sides of %.4g and %.4g m; corners %v", ErrCorners, p.length, p.width, c)
	}
	if angle := angleBetween(x, y); angle < math.Pi/6 || angle > 5*math.Pi/6 {
		return fmt.Errorf("%w: the angle at corner 1 is %.1f°; corners %v", ErrCorners, angle*180/math.Pi, c)
	}
	f := Frame{Origin: r3.Scale(0.25, r3.Add(r3.Add(c[0], c[1]), r3.Add(c[2], c[3])))}
	f.X = r3.Unit(x)
	f.Z = r3.Unit(r3.Cross(x, y))
	f.Y = r3.Cross(f.Z, f.X)
	p.frame = f
	p.checkCorners(c)
	return nil
}

// checkCorners warns of corners that are not a rectangle of a plate's size.
func (p *Plate) checkCorners(c [4]r3.Vec) {
	warn := func(code, format string, a ...any) {
		p.warnings = append(p.warnings, Warning{Code: code, Where: "corners", Text: fmt.Sprintf(format, a...)})
	}
	x2, y2 := r3.Norm(r3.Sub(c[3], c[2])), r3.Norm(r3.Sub(c[1], c[2]))
	angle := angleBetween(r3.Sub(c[0], c[1]), r3.Sub(c[0], c[3])) * 180 / math.Pi
	lift := 0.0
	for _, v := range c {
		lift = math.Max(lift, math.Abs(p.frame.PointIn(v).Z))
	}
	if differ(p.length, x2) || differ(p.width, y2) || math.Abs(angle-90) > 2 || lift > 0.02*p.length {
		warn("corners-skewed", "no rectangle: sides %.4g and %.4g against %.4g and %.4g m, angle %.1f°, %.1f mm out of plane; the axes follow corners 1, 2 and 4; list the corners in order round the plate",
			p.length, x2, p.width, y2, angle, 1000*lift)
	}
	if long := math.Max(p.length, p.width); long > 5 || long < 0.1 {
		warn("plate-size", "sides of %.4g and %.4g m: is the unit of length right?", p.length, p.width)
	}
}

// differ reports whether opposite sides are more than 2 % apart.
func differ(a, b float64) bool { return math.Abs(a-b) > 0.02*math.Max(a, b) }
