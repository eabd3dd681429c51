package page

import (
	"fmt"
	"html/template"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/phase/swing"
)

// instant is the picture of one moment: the golfer's forces seen face-on above,
// the feet seen from above below, both with one scale and the target line in
// common, as in a drawing of two views. What moves is drawn from parts, so that
// the still picture and the one that the slider moves are the same.
type instant struct {
	faceOn
	plan
	flat float64 // drawing units per newton in the view from above
	g    *stage
}

// flatScale is how much longer forces are drawn from above than face-on: they are
// an order of magnitude smaller there.
const flatScale = 3

func newInstant(g *stage) *instant {
	p := &instant{faceOn: newFaceOn(g, 400), g: g}
	p.flat = flatScale * p.faceOn.perNewton
	p.plan = plan{width: p.faceOn.width, perMetre: p.faceOn.perMetre, y0: p.faceOn.y0}
	x := p.depth()
	p.plan.x0 = p.faceOn.height + 24 - p.plan.perMetre*x.lo
	p.plan.height = p.plan.x0 + p.plan.perMetre*x.hi + 30
	return p
}

// depth is what the view from above shows along X: the feet and their arrows.
func (p *instant) depth() extent {
	x, _ := p.g.surface()
	s := p.g.s.Series
	k := p.flat / p.plan.perMetre
	for i, t := range s.Time {
		if !p.g.shown.holds(t) {
			continue
		}
		x.add(s.NetCOP[i].X + k*s.Net[i].Force.X)
		if s.Lead != nil {
			x.add(s.LeadCOP[i].X+k*s.Lead[i].Force.X, s.TrailCOP[i].X+k*s.Trail[i].Force.X)
		}
	}
	// A wild arrow is cut rather than the picture stretched.
	return extent{math.Max(x.lo, -0.6) - 0.02, math.Min(x.hi, 0.6) + 0.02}
}

// part is one thing that moves: an attribute of an element and its value.
type part struct {
	element, class string
	set            string // the attribute
	value          string
	fixed          []any
}

// centre of mass: a disc in quarters, as in drawings of vehicles and crash tests.
func (s *svg) massSign(r float64) {
	s.el("circle", "class", "massrim", "r", r)
	s.el("path", "class", "massfill", "d", fmt.Sprintf("M0 0V%sA%s %s 0 0 1 %s 0ZM0 0V%sA%s %s 0 0 1 %s 0Z",
		coord(-r), coord(r), coord(r), coord(r), coord(r), coord(r), coord(r), coord(-r)))
}

// spot returns a point for a transform, far outside for what is not there.
func spot(p point) string {
	if !p.defined() {
		return "-999 -999"
	}
	return coord(p.x) + " " + coord(p.y)
}

// reach returns a line between defined points, else nothing. Its head is a marker
// of the style sheet, which a line that is shorter than the head does without.
func reach(a, b point) string {
	if !a.defined() || !b.defined() || math.Hypot(b.x-a.x, b.y-a.y) < 6 {
		return ""
	}
	return segment(a.x, a.y, b.x, b.y)
}

// parts returns what moves, in the order of drawing.
func (p *instant) parts(i swing.Instant) []part {
	face := func(at r3.Vec, f r3.Vec) string { return reach(p.faceOn.at(at), p.faceOn.tip(at, f)) }
	above := func(at r3.Vec, f r3.Vec) string {
		q := p.plan.at(at)
		return reach(q, point{q.x + p.flat*f.Y, q.y + p.flat*f.X})
	}
	line, arm, arc := p.leverage(i)
	var out []part
	add := func(class, value string) { out = append(out, part{"path", class, "d", value, nil}) }
	front, top := p.doubts(i)
	add("doubt", front)
	add("doubt", top)
	add("forceline", line)
	add("armline", arm)
	add("turning", arc)
	if len(p.g.feet) > 0 {
		add("force lead", face(i.LeadCOP, i.Lead.Force))
		add("force trail", face(i.TrailCOP, i.Trail.Force))
		add("force lead", above(i.LeadCOP, i.Lead.Force))
		add("force trail", above(i.TrailCOP, i.Trail.Force))
	}
	add("force both", face(i.NetCOP, i.Net.Force))
	add("force both", above(i.NetCOP, i.Net.Force))
	return out
}

// spots returns where the signs of the centre of mass and of the pressures are.
func (p *instant) spots(i swing.Instant) []point {
	return []point{
		p.faceOn.at(i.COM), p.plan.at(i.COM),
		p.plan.at(i.LeadCOP), p.plan.at(i.TrailCOP), p.plan.at(i.NetCOP),
	}
}

// doubts draws one standard deviation of the centre of mass in both views.
func (p *instant) doubts(i swing.Instant) (front, top string) {
	k := p.faceOn.perMetre
	return ellipse(p.faceOn.at(i.COM), k*i.COMSD.Y, k*i.COMSD.Z), ellipse(p.plan.at(i.COM), k*i.COMSD.Y, k*i.COMSD.X)
}

// ellipse returns its path, nothing where the centre or a half axis is unknown.
func ellipse(c point, rx, ry float64) string {
	if !c.defined() || !(rx > 0) || !(ry > 0) {
		return ""
	}
	return fmt.Sprintf("M%s %sa%s %s 0 1 0 %s 0a%s %s 0 1 0 %s 0Z", coord(c.x-rx), coord(c.y),
		coord(rx), coord(ry), coord(2*rx), coord(rx), coord(ry), coord(-2*rx))
}

// leverage draws why the force turns the golfer in the frontal plane: its line,
// the distance of the centre of mass from it, and the sense of turning.
func (p *instant) leverage(i swing.Instant) (line, arm, arc string) {
	fy, fz := i.Net.Force.Y, i.Net.Force.Z
	f := math.Hypot(fy, fz)
	c, a := p.faceOn.at(i.COM), p.faceOn.at(i.NetCOP)
	if !(f > 0) || !c.defined() || !a.defined() || math.IsNaN(i.Arm.Frontal) {
		return "", "", ""
	}
	uy, uz := fy/f, fz/f
	// The arm ends where the perpendicular from the centre of mass meets the line.
	// The line of the net force at the net centre of pressure has this distance
	// when the free moment, which has no part about X, is left out.
	along := (i.COM.Y-i.NetCOP.Y)*uy + (i.COM.Z-i.NetCOP.Z)*uz
	foot := p.faceOn.at(r3.Vec{Y: i.NetCOP.Y + along*uy, Z: i.NetCOP.Z + along*uz})
	far := along + 0.12
	end := p.faceOn.at(r3.Vec{Y: i.NetCOP.Y + far*uy, Z: i.NetCOP.Z + far*uz})
	line = segment(a.x, a.y, end.x, end.y)
	arm = segment(c.x, c.y, foot.x, foot.y)
	if length := math.Hypot(foot.x-c.x, foot.y-c.y); length > 12 {
		// The sign of a right angle.
		bx, by := 7*(c.x-foot.x)/length, 7*(c.y-foot.y)/length
		dx, dy := -7*uy, 7*uz
		arm += fmt.Sprintf("M%s %sL%s %sL%s %s", coord(foot.x+bx), coord(foot.y+by), coord(foot.x+bx+dx), coord(foot.y+by+dy), coord(foot.x+dx), coord(foot.y+dy))
	}
	const r = 24
	sense := 1.0 // counter-clockwise as seen
	if i.Moment.Frontal < 0 {
		sense = -1
	}
	if math.Abs(i.Moment.Frontal) < 1 {
		return line, arm, ""
	}
	sweep := 0
	if sense < 0 {
		sweep = 1
	}
	x0, x1 := c.x+sense*r*math.Cos(0.5), c.x-sense*r*math.Cos(0.5)
	y := c.y - r*math.Sin(0.5)
	arc = fmt.Sprintf("M%s %sA%d %d 0 0 %d %s %s", coord(x0), coord(y), r, r, sweep, coord(x1), coord(y))
	// The head follows the circle's tangent at its end, down and outward.
	hx, hy := -sense*math.Sin(0.5), math.Cos(0.5)
	head := func(turn float64) string {
		sin, cos := math.Sincos(turn)
		return coord(x1-7*(hx*cos-hy*sin)) + " " + coord(y-7*(hx*sin+hy*cos))
	}
	arc += "M" + head(0.5) + "L" + coord(x1) + " " + coord(y) + "L" + head(-0.5)
	return line, arm, arc
}

// shade is how dark a foot is drawn for its share of the load.
func shade(share float64) string {
	if math.IsNaN(share) {
		return "0.1"
	}
	return fmt.Sprintf("%.2f", 0.04+0.4*math.Max(0, math.Min(1, share)))
}

// opacity is the style of a foot that is shaded, "" without shades.
func opacity(shades map[cop.Side]string, side cop.Side) string {
	if shades == nil {
		return ""
	}
	return "fill-opacity:" + shades[side]
}

// picture draws the instant with which the page opens.
func (p *instant) picture() template.HTML {
	g, i := p.g, p.g.s.At(p.g.best)
	s := newSVG("drawing instant", "Forces on the golfer at one instant, face-on and from above", p.plan.width, p.plan.height)
	s.b.WriteString("<defs>")
	for _, c := range []string{"lead", "trail", "both"} {
		s.b.WriteString(`<marker id="head-` + c + `" orient="auto" markerUnits="userSpaceOnUse" markerWidth="14" markerHeight="14" viewBox="-10 -7 14 14">` +
			`<path class="head ` + c + `" d="M-6.5 -3.5L0 0L-6.5 3.5"/></marker>`)
	}
	s.b.WriteString("</defs>")
	shades := map[cop.Side]string{cop.Lead: shade(i.LeadShare), cop.Trail: shade(1 - i.LeadShare)}
	p.faceOn.ground(s, g, p.z0+15, shades)
	p.faceOn.bars(s, g.s.BodyWeight)
	top := p.faceOn.height
	s.line("rule", 0, top, p.plan.width, top)
	s.text(10, top+18, "from above", "class", "unit")
	s.text(10, 18, "face-on", "class", "unit")
	for _, f := range g.feet {
		s.el("path", "class", "foot "+f.class()+guess(f.known), "d", p.plan.outline(f), "style", opacity(shades, f.side))
	}
	foot := p.plan.height - 12
	s.el("path", "class", "pointer", "d", arrow(14, foot-26, 14, foot))
	s.text(22, foot, "ball", "class", "unit")
	s.bar(70, foot, 100*p.flat, both(100, "N"))
	for k, q := range p.parts(i) {
		s.el(q.element, "class", q.class, q.set, q.value, "data-part", k)
	}
	spots := p.spots(i)
	for k, draw := range []func(){
		func() { s.massSign(9) },
		func() { s.massSign(6) },
		func() { s.el("circle", "class", "press lead", "r", 4) },
		func() { s.el("path", "class", "press trail", "d", "M-4 -4H4V4H-4Z") },
		func() { s.el("path", "class", "press both", "d", "M0 -5.5L5.5 0L0 5.5L-5.5 0Z") },
	} {
		s.group(draw, "transform", "translate("+spot(spots[k])+")", "data-spot", k)
	}
	return s.html()
}
