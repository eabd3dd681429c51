package page

import (
	"html/template"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/phase"
	"example.com/momentarm/units"
)

// plan maps the standing surface to a picture: seen from above with the target to
// the right, so the ball is below, where the one who faces the golfer stands.
type plan struct {
	width, height float64
	perMetre      float64
	x0, y0        float64 // where X = 0 and Y = 0 are
}

func (m plan) at(p r3.Vec) point { return point{m.y0 + m.perMetre*p.Y, m.x0 + m.perMetre*p.X} }

// newPlan chooses the scale: the feet and all pressures of the stretch fit.
func newPlan(g *stage, width, room float64) plan {
	x, y := g.surface()
	m := plan{width: width}
	m.perMetre = width / (y.hi - y.lo + 0.08)
	m.y0 = width/2 - m.perMetre*(y.lo+y.hi)/2
	m.x0 = 34 - m.perMetre*(x.lo-0.02)
	m.height = m.x0 + m.perMetre*(x.hi+0.02) + room
	return m
}

// surface returns what of the standing surface the pictures show.
func (g *stage) surface() (x, y extent) {
	x, y = emptyExtent(), emptyExtent()
	for _, f := range g.feet {
		fx, fy := f.extents()
		x.add(fx.lo, fx.hi)
		y.add(fy.lo, fy.hi)
	}
	for i, t := range g.s.Series.Time {
		if !g.shown.holds(t) {
			continue
		}
		for _, v := range [][]r3.Vec{g.s.Series.LeadCOP, g.s.Series.TrailCOP, g.s.Series.NetCOP} {
			if v != nil {
				x.add(v[i].X)
				y.add(v[i].Y)
			}
		}
	}
	if x.empty() || y.empty() {
		x, y = extent{-0.3, 0.3}, extent{-0.5, 0.5}
	}
	return x, y
}

// outline returns the closed path of a foot.
func (m plan) outline(f footprint) string {
	var ps []point
	for _, p := range f.outline {
		ps = append(ps, m.at(p))
	}
	return trace(ps) + "Z"
}

// directions draws where the target and the ball are.
func (m plan) directions(s *svg) {
	s.el("path", "class", "pointer", "d", arrow(m.width-70, 14, m.width-10, 14))
	s.text(m.width-76, 18, "target", "class", "unit", "text-anchor", "end")
	s.el("path", "class", "pointer", "d", arrow(14, 8, 14, 40))
	s.text(24, 18, "ball", "class", "unit")
}

// pressures draws both centre-of-pressure paths in the feet, and the net one.
func pressures(g *stage) (wide, narrow template.HTML) {
	return pressurePicture(g, 800, wideSize), pressurePicture(g, 344, narrowSize)
}

func pressurePicture(g *stage, width float64, z size) template.HTML {
	m := newPlan(g, width, 34)
	s := newSVG("drawing plan "+z.name, "Paths of the centres of pressure seen from above", m.width, m.height)
	m.directions(s)
	for _, f := range g.feet {
		s.el("path", "class", "foot "+f.class()+guess(f.known), "d", m.outline(f))
		x, y := f.extents()
		s.text(m.y0+m.perMetre*(y.lo+y.hi)/2, m.x0+m.perMetre*x.lo-6, f.class(), "class", "sidename "+f.class(), "text-anchor", "middle")
	}
	x := g.s.Series
	if x.Lead != nil {
		s.el("path", "class", "curve both", "d", trace(path(g, x.NetCOP, m.at)))
		s.el("path", "class", "curve trail", "d", trace(path(g, x.TrailCOP, m.at)))
		s.el("path", "class", "curve lead", "d", trace(path(g, x.LeadCOP, m.at)))
	} else {
		s.el("path", "class", "curve both", "d", trace(path(g, x.NetCOP, m.at)))
	}
	m.tags(s, g, z)
	s.bar(10, m.height-12, 0.1*m.perMetre, "0.1 m ("+number(units.Length(0.1).In(units.Inch), 1)+" in)")
	return s.html()
}

// mainEvents are those that the pictures of the whole swing number; all would
// crowd.
var mainEvents = []phase.Name{
	phase.Address, phase.TrailLoadPeak, phase.LowestVertical, phase.FrontalTorquePeak, phase.LeadVerticalPeak, phase.Impact,
}

// tags number the places at the main events on each path, where there is room.
func (m plan) tags(s *svg, g *stage, z size) {
	r := z.disc
	var taken []point // discs and dots
	type label struct {
		at point
		m  mark
	}
	var labels []label
	for _, name := range mainEvents {
		for _, e := range g.marks {
			if e.Name != name {
				continue
			}
			i := g.s.At(e.Time)
			for _, p := range []r3.Vec{i.LeadCOP, i.TrailCOP, i.NetCOP} {
				if q := m.at(p); q.defined() {
					labels = append(labels, label{q, e})
					taken = append(taken, q)
				}
			}
		}
	}
	for _, l := range labels {
		s.el("circle", "class", "dot", "cx", l.at.x, "cy", l.at.y, "r", 2.6)
	}
	for _, l := range labels {
		c := m.room(l.at, r, taken)
		taken = append(taken, c)
		s.line("leader", l.at.x, l.at.y, c.x, c.y)
		disc(s, c.x, c.y, r, z.font-1, l.m)
	}
}

// room returns where a disc next to p covers least of what is there already.
func (m plan) room(p point, r float64, taken []point) point {
	best, least := point{}, math.Inf(1)
	for _, d := range []float64{1.8, 2.6, 3.6, 4.8} {
		for k := range 16 {
			sin, cos := math.Sincos(math.Pi / 8 * float64(k))
			c := point{p.x + d*r*cos, p.y + d*r*sin}
			cost := 0.3 * d
			for _, t := range taken {
				if gap := math.Hypot(c.x-t.x, c.y-t.y) - 2*r - 2; gap < 0 {
					cost -= gap
				}
			}
			if c.x < r || c.x > m.width-r || c.y < r+20 || c.y > m.height-r-20 {
				cost += 100
			}
			if cost < least {
				best, least = c, cost
			}
		}
	}
	return best
}

func footNote(g *stage) string {
	switch {
	case len(g.feet) == 0:
		return "Both feet stood on one plate, so only their common centre of pressure is known."
	case g.known():
		return ""
	default:
		return "The feet's outlines are not known: each broken box, " + both(boxLength, "m") + " by " + both(boxWidth, "m") + ", stands around the pressure at address and only gives the scale."
	}
}
