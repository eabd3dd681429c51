package page

import (
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/momentarm/phase"
)

// chart is a picture of a few series over time. It is drawn twice: wide for a
// screen or a sheet of paper, narrow for a phone, so that its text is never
// scaled to where it can not be read.
type chart struct {
	ID      string
	Title   string
	Caption string
	Unit    string // of the values, as of a measure
	Along   clock  // what runs along it
	Scrub   bool   // the slider moves along it
	Lines   []curve
	Level   *level
	Wide    template.HTML
	Narrow  template.HTML
	Why     string // why it is empty, written in its place; else ""
}

// empty reports whether no curve has a value.
func (c *chart) empty() bool {
	for _, l := range c.Lines {
		if slices.ContainsFunc(l.Values, func(v float64) bool { return !math.IsNaN(v) }) {
			return false
		}
	}
	return true
}

// Banded reports whether a curve has a band of uncertainty.
func (c *chart) Banded() bool {
	for _, l := range c.Lines {
		if l.SD != nil {
			return true
		}
	}
	return false
}

// curve is one series of a chart.
type curve struct {
	Key    string // of the value at an instant, see frames
	Name   string
	Class  string // of its stroke
	Values []float64
	SD     []float64 // drawn as a band when known
}

// level is a horizontal line with a name.
type level struct {
	Value float64
	Name  string
}

// stretch is the time that the charts show.
type stretch struct{ From, To float64 }

func (w stretch) holds(t float64) bool { return t >= w.From && t <= w.To }

// size of a drawing and the room around its plot.
type size struct {
	name                           string
	width, height                  float64
	left, right, top, bottom, font float64
	disc                           float64 // radius of an event's disc
	ticks                          int
}

var (
	wideSize   = size{"wide", 800, 330, 62, 62, 42, 40, 14, 10, 6}
	narrowSize = size{"narrow", 344, 290, 44, 40, 44, 36, 12, 8, 4}
)

// mark is an event with the number that stands for it all over the page.
type mark struct {
	N int
	phase.Event
}

// draw fills in both pictures. A chart without a value has none: an axis from 0 to 1
// would look like one.
func (c *chart) draw(time []float64, w stretch, marks []mark) {
	if c.empty() {
		if c.Why == "" {
			c.Why = "undefined throughout"
		}
		return
	}
	c.Why = ""
	c.Wide = c.picture(time, w, marks, wideSize)
	c.Narrow = c.picture(time, w, marks, narrowSize)
}

// picture draws the chart at one size.
func (c *chart) picture(time []float64, w stretch, marks []mark, z size) template.HTML {
	first, last := 0, len(time)-1
	for first < last && time[first] < w.From-1e-9 {
		first++
	}
	for last > first && time[last] > w.To+1e-9 {
		last--
	}
	within := func(v []float64) []float64 { return v[first : last+1] }

	x := scale{w.From, w.To, z.left, z.width - z.right}
	y := scale{0, 1, z.height - z.bottom, z.top}
	if len(marks) == 0 { // no room for their discs
		y.p1 = z.font + 6
	}
	y.v0, y.v1 = c.bounds(within)
	form := formOf(c.Unit)

	s := newSVG("chart "+z.name, c.Title+" over time. "+c.Caption, z.width, z.height,
		"data-t0", exact(w.From), "data-t1", exact(w.To), "data-x0", x.p0, "data-x1", x.p1,
		"data-v0", exact(y.v0), "data-v1", exact(y.v1), "data-y0", y.p0, "data-y1", y.p1)
	clip := "clip-" + c.ID + "-" + z.name
	s.b.WriteString(`<clipPath id="` + clip + `">`)
	s.el("rect", "x", x.p0, "y", y.p1, "width", x.p1-x.p0, "height", y.p0-y.p1)
	s.b.WriteString(`</clipPath>`)

	// Axes: SI to the left, pounds and inches to the right.
	step := 0.0
	if t := y.ticks(z.ticks); len(t) > 1 {
		step = t[1] - t[0]
	}
	for _, v := range y.ticks(z.ticks) {
		class := "grid"
		if v == 0 {
			class = "zero"
		}
		s.line(class, x.p0, y.at(v), x.p1, y.at(v))
		s.text(x.p0-6, y.at(v)+z.font*0.35, number(v, decimals(step)), "class", "tick", "text-anchor", "end")
	}
	s.text(x.p0-6, y.p1-8, form.SI, "class", "unit", "text-anchor", "end")
	if form.US != "" {
		other := scale{y.v0 * form.PerSI, y.v1 * form.PerSI, y.p0, y.p1}
		ts := other.ticks(z.ticks)
		for _, v := range ts {
			s.line("ticking", x.p1, other.at(v), x.p1+4, other.at(v))
			s.text(x.p1+7, other.at(v)+z.font*0.35, number(v, decimals(ts[min(1, len(ts)-1)]-ts[0])), "class", "tick")
		}
		s.text(x.p1+7, y.p1-8, form.US, "class", "unit")
	}
	along := scale{w.From - c.Along.zero, w.To - c.Along.zero, x.p0, x.p1}
	ts := along.ticks(2 * z.ticks)
	if z.name == "narrow" {
		ts = along.ticks(5)
	}
	for _, v := range ts {
		s.line("ticking", along.at(v), y.p0, along.at(v), y.p0+4)
		s.text(along.at(v), y.p0+z.font+6, number(v, decimals(ts[min(1, len(ts)-1)]-ts[0])), "class", "tick", "text-anchor", "middle")
	}
	s.text((x.p0+x.p1)/2, z.height-4, c.Along.name, "class", "unit", "text-anchor", "middle")

	drawMarks(s, x, y, marks, w, z)
	if c.Level != nil {
		v := y.at(c.Level.Value)
		s.line("level", x.p0, v, x.p1, v)
	}
	s.group(func() {
		for _, l := range c.Lines {
			if l.SD != nil {
				s.el("path", "class", "band "+l.Class, "d", ribbon(within(time), within(l.Values), within(l.SD), x, y))
			}
		}
		for _, l := range c.Lines {
			ps := make([]point, 0, last-first+1)
			for i, v := range within(l.Values) {
				ps = append(ps, point{x.at(time[first+i]), clamp(y.at(v), y.p1-1000, y.p0+1000)})
			}
			s.el("path", "class", "curve "+l.Class, "d", trace(ps))
		}
	}, "clip-path", "url(#"+clip+")")
	s.el("rect", "class", "frame", "x", x.p0, "y", y.p1, "width", x.p1-x.p0, "height", y.p0-y.p1)
	if c.Scrub {
		s.el("path", "class", "cursor", "d", segment(0, y.p1, 0, y.p0))
		for _, l := range c.Lines { // where the line at the instant meets the curves
			s.el("circle", "class", "meet "+l.Class, "r", z.font*0.3, "data-at", l.Key)
		}
	}
	return s.html()
}

// bounds returns the lowest and highest value of the axis, zero among them. A few
// wild quotients are left out: an arm jumps where its force is near nothing.
func (c *chart) bounds(within func([]float64) []float64) (lo, hi float64) {
	e := extent{0, 0}
	for _, l := range c.Lines {
		x := quantiles(within(l.Values), 0)
		if c.Unit == "m" {
			x = quantiles(within(l.Values), 0.02)
		}
		e.add(x.lo, x.hi)
	}
	if c.Level != nil {
		e.add(c.Level.Value)
	}
	if e.lo == e.hi {
		e.hi = e.lo + 1
	}
	room := 0.06 * (e.hi - e.lo)
	if e.lo < 0 {
		e.lo -= room
	}
	return e.lo, e.hi + room
}

// drawMarks draws a faint line at each event and its number above the plot, the
// numbers moved apart where the events crowd.
func drawMarks(s *svg, x, y scale, marks []mark, w stretch, z size) {
	var in []mark
	var at []float64
	for _, m := range marks {
		if w.holds(m.Time) {
			in, at = append(in, m), append(at, x.at(m.Time))
		}
	}
	if len(in) == 0 {
		return
	}
	gap := 2*z.disc + 2
	if room := (x.p1 - x.p0) / float64(len(in)); room < gap {
		gap = room
	}
	cy := z.disc + 1
	for i, cx := range apart(at, gap, x.p0, x.p1) {
		m := in[i]
		class := "event"
		if m.Source == phase.Estimated {
			class += " estimated"
		}
		s.el("path", "class", class, "d", "M"+coord(cx)+" "+coord(cy+z.disc)+"L"+coord(at[i])+" "+coord(y.p1)+"V"+coord(y.p0))
		disc(s, cx, cy, z.disc, z.font-1, m)
	}
}

// disc draws the number of an event; an estimated one has a broken rim.
func disc(s *svg, cx, cy, r, font float64, m mark) {
	class := "disc"
	if m.Source == phase.Estimated {
		class += " estimated"
	}
	if m.Name == phase.Impact {
		class += " impact"
	}
	s.el("circle", "class", class, "cx", cx, "cy", cy, "r", r)
	s.text(cx, cy+font*0.36, strconv.Itoa(m.N), "class", class+" number", "text-anchor", "middle", "style", "font-size:"+coord(font)+"px")
}

// ribbon returns the outline of values ± their standard deviations.
func ribbon(time, v, sd []float64, x, y scale) string {
	var d strings.Builder
	for i := 0; i < len(v); i++ {
		var over, under []point
		for ; i < len(v) && !math.IsNaN(v[i]+sd[i]); i++ {
			over = append(over, point{x.at(time[i]), y.at(v[i] + sd[i])})
			under = append(under, point{x.at(time[i]), y.at(v[i] - sd[i])})
		}
		if len(over) == 0 {
			continue
		}
		over, under = thin(over, 0.3), thin(under, 0.3)
		d.WriteString(trace(over))
		for k := len(under) - 1; k >= 0; k-- {
			d.WriteString("L" + coord(under[k].x) + " " + coord(under[k].y))
		}
		d.WriteString("Z")
	}
	return d.String()
}

func clamp(v, lo, hi float64) float64 {
	if math.IsNaN(v) {
		return v
	}
	return math.Max(lo, math.Min(hi, v))
}

// exact writes a number so that it reads back as it was.
func exact(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
