package page

import (
	"fmt"
	"html"
	"html/template"
	"math"
	"strconv"
	"strings"
)

// svg writes one inline drawing. Attributes are given as name, value pairs;
// numbers are written to a tenth of a unit, text is escaped.
type svg struct{ b strings.Builder }

// newSVG begins a drawing of a size in its own units. label is what a screen
// reader says about it.
func newSVG(class, label string, width, height float64, attrs ...any) *svg {
	s := new(svg)
	s.b.WriteString("<svg")
	s.attrs("class", class, "viewBox", "0 0 "+coord(width)+" "+coord(height), "role", "img", "aria-label", label)
	s.attrs(attrs...)
	s.b.WriteString(">")
	return s
}

func (s *svg) html() template.HTML {
	return template.HTML(s.b.String() + "</svg>")
}

func (s *svg) attrs(attrs ...any) {
	for i := 0; i+1 < len(attrs); i += 2 {
		v := ""
		switch a := attrs[i+1].(type) {
		case float64:
			v = coord(a)
		default:
			v = fmt.Sprint(a)
		}
		fmt.Fprintf(&s.b, ` %s="%s"`, attrs[i], html.EscapeString(v))
	}
}

// el writes an element without content.
func (s *svg) el(name string, attrs ...any) {
	s.b.WriteString("<" + name)
	s.attrs(attrs...)
	s.b.WriteString("/>")
}

// group writes a group around what draw writes.
func (s *svg) group(draw func(), attrs ...any) {
	s.b.WriteString("<g")
	s.attrs(attrs...)
	s.b.WriteString(">")
	draw()
	s.b.WriteString("</g>")
}

func (s *svg) text(x, y float64, content string, attrs ...any) {
	s.b.WriteString("<text")
	s.attrs(append([]any{"x", x, "y", y}, attrs...)...)
	s.b.WriteString(">" + html.EscapeString(content) + "</text>")
}

func (s *svg) line(class string, x1, y1, x2, y2 float64, attrs ...any) {
	s.el("path", append([]any{"class", class, "d", segment(x1, y1, x2, y2)}, attrs...)...)
}

func segment(x1, y1, x2, y2 float64) string {
	return "M" + coord(x1) + " " + coord(y1) + "L" + coord(x2) + " " + coord(y2)
}

// arrow returns the path of an arrow with an open head; one too short for a head
// is a plain line.
func arrow(x1, y1, x2, y2 float64) string {
	const head, half = 7.0, 0.42 // length, and half the angle in rad
	d := segment(x1, y1, x2, y2)
	if math.Hypot(x2-x1, y2-y1) < head {
		return d
	}
	back := math.Atan2(y1-y2, x1-x2)
	barb := func(a float64) string {
		return coord(x2+head*math.Cos(a)) + " " + coord(y2+head*math.Sin(a))
	}
	return d + "M" + barb(back+half) + "L" + coord(x2) + " " + coord(y2) + "L" + barb(back-half)
}

// coord writes a number to a tenth.
func coord(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "0"
	}
	return strconv.FormatFloat(math.Round(10*v)/10+0, 'f', -1, 64)
}

type point struct{ x, y float64 }

func (p point) defined() bool { return !math.IsNaN(p.x + p.y) }

// trace returns the path through points, broken where they are undefined, with
// points left out that lie within a tenth of a unit of the line without them.
func trace(ps []point) string {
	var d strings.Builder
	for len(ps) > 0 {
		n := 0
		for n < len(ps) && ps[n].defined() {
			n++
		}
		for i, p := range thin(ps[:n], 0.1) {
			c := "L"
			if i == 0 {
				c = "M"
			}
			d.WriteString(c + coord(p.x) + " " + coord(p.y))
		}
		ps = ps[n:]
		for len(ps) > 0 && !ps[0].defined() {
			ps = ps[1:]
		}
	}
	return d.String()
}

// thin drops the points that a line drawing does not need (Ramer 1972, Douglas
// and Peucker 1973).
func thin(ps []point, tolerance float64) []point {
	if len(ps) < 3 {
		return ps
	}
	keep := make([]bool, len(ps))
	keep[0], keep[len(ps)-1] = true, true
	for stack := [][2]int{{0, len(ps) - 1}}; len(stack) > 0; {
		a, b := stack[len(stack)-1][0], stack[len(stack)-1][1]
		stack = stack[:len(stack)-1]
		far, at := tolerance, -1
		for i := a + 1; i < b; i++ {
			if d := distance(ps[i], ps[a], ps[b]); d > far {
				far, at = d, i
			}
		}
		if at > 0 {
			keep[at] = true
			stack = append(stack, [2]int{a, at}, [2]int{at, b})
		}
	}
	var out []point
	for i, k := range keep {
		if k {
			out = append(out, ps[i])
		}
	}
	return out
}

// distance of p from the segment ab.
func distance(p, a, b point) float64 {
	dx, dy := b.x-a.x, b.y-a.y
	u := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		u = math.Max(0, math.Min(1, ((p.x-a.x)*dx+(p.y-a.y)*dy)/l))
	}
	return math.Hypot(p.x-a.x-u*dx, p.y-a.y-u*dy)
}
