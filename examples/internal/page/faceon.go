package page

import (
	"fmt"
	"html/template"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/units"
)

// faceOn maps the frontal plane to a picture: somebody faces the golfer, so the
// target is to the right. Lengths have one scale in both directions, and so have
// forces.
type faceOn struct {
	width, height float64
	perMetre      float64
	perNewton     float64
	y0, z0        float64 // where Y = 0 and Z = 0 are
}

func (m faceOn) at(p r3.Vec) point { return point{m.y0 + m.perMetre*p.Y, m.z0 - m.perMetre*p.Z} }

// tip returns where the arrow of a force at p ends.
func (m faceOn) tip(p, f r3.Vec) point {
	q := m.at(p)
	return point{q.x + m.perNewton*f.Y, q.y - m.perNewton*f.Z}
}

// lift is the height of a foot in the picture, m.
const lift = 0.07

// newFaceOn chooses the scales: all feet, pressures and arrows of the stretch fit.
func newFaceOn(g *stage, width float64) faceOn {
	y, z := emptyExtent(), extent{0, 1}
	greatest := 0.0
	for i, t := range g.s.Series.Time {
		if !g.shown.holds(t) {
			continue
		}
		if f := seen(g.s.Series.Net[i].Force); !math.IsNaN(f.Z) {
			greatest = math.Max(greatest, math.Hypot(f.Y, f.Z))
		}
		y.add(g.s.Series.COM[i].Y)
		z.add(g.s.Series.COM[i].Z)
	}
	metres := 0.8 * z.hi / math.Max(greatest, 1)  // per newton: the longest arrow nearly reaches the centre of mass
	newtons := 100 * math.Ceil(1/metres/100-1e-9) // newtons that one metre of the picture stands for
	for _, f := range g.feet {
		_, fy := f.extents()
		y.add(fy.lo, fy.hi)
	}
	for i, t := range g.s.Series.Time {
		if !g.shown.holds(t) {
			continue
		}
		p, f := g.s.Series.NetCOP[i], seen(g.s.Series.Net[i].Force)
		y.add(p.Y, p.Y+f.Y/newtons)
		z.add(f.Z / newtons)
	}
	if y.empty() {
		y = extent{-0.5, 0.5}
	}
	m := faceOn{width: width}
	span := math.Max(y.hi-y.lo, 0.8) + 0.16
	m.perMetre = width / span
	m.perNewton = m.perMetre / newtons
	m.y0 = width/2 - m.perMetre*(y.lo+y.hi)/2
	m.z0 = 30 + m.perMetre*(z.hi+0.04)
	m.height = m.z0 + 98
	return m
}

// seen is what of a force decides the scale: the vertical part alone where the
// horizontal one was not measured. No arrow is drawn then.
func seen(f r3.Vec) r3.Vec {
	if math.IsNaN(f.X) || math.IsNaN(f.Y) {
		f.X, f.Y = 0, 0
	}
	return f
}

// ground draws the standing surface, the feet on it with their names at a height,
// and which way the target is; shades are opacities of the feet, nil for none.
func (m faceOn) ground(s *svg, g *stage, names float64, shades map[cop.Side]string) {
	s.line("ground", 8, m.z0, m.width-8, m.z0)
	for _, f := range g.feet {
		_, y := f.extents()
		a, b, top := m.y0+m.perMetre*y.lo, m.y0+m.perMetre*y.hi, m.z0-m.perMetre*lift
		r := (b - a) / 4
		s.el("path", "class", "foot "+f.class()+guess(f.known), "d",
			fmt.Sprintf("M%s %sV%sQ%s %s %s %sH%sQ%s %s %s %sV%sZ", coord(a), coord(m.z0), coord(top+r), coord(a), coord(top), coord(a+r), coord(top),
				coord(b-r), coord(b), coord(top), coord(b), coord(top+r), coord(m.z0)), "style", opacity(shades, f.side))
		s.text((a+b)/2, names, f.class(), "class", "sidename "+f.class(), "text-anchor", "middle")
	}
	s.el("path", "class", "pointer", "d", arrow(m.width-70, 14, m.width-10, 14))
	s.text(m.width-76, 18, "target", "class", "unit", "text-anchor", "end")
}

func guess(known bool) string {
	if known {
		return ""
	}
	return " guess"
}

// bars draws the scales of the picture: lengths, forces, and body weight.
func (m faceOn) bars(s *svg, weight float64) {
	base := m.height - 12
	s.bar(10, base-40, 0.2*m.perMetre, "0.2 m ("+number(units.Length(0.2).In(units.Inch), 1)+" in)")
	const newtons = 500
	s.bar(10, base-20, newtons*m.perNewton, both(newtons, "N"))
	s.bar(10, base, weight*m.perNewton, "body weight")
}

// bar draws the bar of a scale with its name to the right.
func (s *svg) bar(x, y, length float64, name string) {
	s.el("path", "class", "bar", "d", fmt.Sprintf("M%s %sV%sH%sV%s", coord(x), coord(y-4), coord(y), coord(x+length), coord(y-4)))
	s.text(x+length+6, y+3, name, "class", "unit")
}

// newtonsPerCentimetre is the scale of forces in words.
func (m faceOn) newtonsPerCentimetre() float64 { return m.perMetre / m.perNewton / 100 }

// fanStep is the time between the arrows of the fan, s.
const fanStep = 0.02

// fanFrom returns the stretch that the fan covers.
func (g *stage) fanFrom() stretch {
	w := g.shown
	if t := g.s.Events.Time(phase.Onset); !math.IsNaN(t) {
		w.From = math.Max(w.From, t)
	}
	if t := g.s.Events.Time(phase.Impact); !math.IsNaN(t) {
		w.To = math.Min(w.To, t+0.1)
	}
	return w
}

// stages of the fan by the event that ends each, as classes of their arrows.
var fanStages = []struct {
	until phase.Name
	class string
	name  string
}{
	{phase.TrailLoadPeak, "fan1", "until the trail load peak"},
	{phase.LowestVertical, "fan2", "until the lowest vertical force"},
	{phase.Impact, "fan3", "until impact"},
	{"", "fan4", "after impact"},
}

// fan draws the net force at the net centre of pressure at equal time steps, a
// diagram after Pedotti (1977) in the frontal plane, with the path of the centre
// of mass.
func fan(g *stage) template.HTML {
	m := newFaceOn(g, 400)
	s := newSVG("drawing fan", "Net force arrows every 20 ms seen face-on, with the path of the centre of mass", m.width, m.height)
	m.ground(s, g, m.z0-m.perMetre*lift-6, nil)
	w := g.fanFrom()
	for _, i := range g.instants(w.From, w.To, fanStep) {
		if a, b := m.at(i.NetCOP), m.tip(i.NetCOP, i.Net.Force); a.defined() {
			s.el("path", "class", "vector "+fanClass(g, i), "d", segment(a.x, a.y, b.x, b.y))
		}
	}
	s.el("path", "class", "compath", "d", trace(path(g, g.s.Series.COM, m.at)))
	m.tags(s, g)
	m.bars(s, g.s.BodyWeight)
	return s.html()
}

func fanClass(g *stage, i swing.Instant) string {
	for _, f := range fanStages {
		if t := g.s.Events.Time(f.until); i.Time <= t+1e-9 {
			return f.class
		}
	}
	return "fan4"
}

// tags number the arrows at the events, where they start.
func (m faceOn) tags(s *svg, g *stage) {
	w := g.fanFrom()
	var in []mark
	var starts []float64
	for _, e := range g.marks {
		p := m.at(g.s.At(e.Time).NetCOP)
		if !slices.Contains(mainEvents, e.Name) || !w.holds(e.Time) || !p.defined() {
			continue
		}
		k := len(starts) // keep them in the order of their places
		for k > 0 && starts[k-1] > p.x {
			k--
		}
		in, starts = slices.Insert(in, k, e), slices.Insert(starts, k, p.x)
	}
	const r = 9.5
	cy := m.z0 + 8 + r
	for k, x := range apart(starts, 2*r+2, r+4, m.width-r-4) {
		i := g.s.At(in[k].Time)
		a, b := m.at(i.NetCOP), m.tip(i.NetCOP, i.Net.Force)
		s.el("path", "class", "vector tagged", "d", segment(a.x, a.y, b.x, b.y))
		s.line("leader", starts[k], m.z0, x, cy-r)
		disc(s, x, cy, r, 13, in[k])
		if c := m.at(i.COM); c.defined() {
			s.el("circle", "class", "dot frontal", "cx", c.x, "cy", c.y, "r", 2.6)
		}
	}
}
