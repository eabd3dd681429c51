package page

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/cop"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
)

// stage is where the swing takes place, as every picture of it needs it.
type stage struct {
	s     *Subject
	shown stretch
	marks []mark
	feet  []footprint // lead and trail; none when they were not measured apart
	addr  swing.Instant
	best  float64 // the instant that the page opens with
	clock clock
}

// clock is what the charts count time from.
type clock struct {
	zero float64 // on the recording's clock, s
	name string  // of the axis
}

// clockOf counts from impact where it is known.
func clockOf(s *Subject) clock {
	impact, ok := s.Events.Get(phase.Impact)
	switch {
	case !ok:
		return clock{0, "time on the recording's clock, s"}
	case impact.Source == phase.Estimated:
		return clock{impact.Time, "time from the estimated impact, s"}
	}
	return clock{impact.Time, "time from impact, s"}
}

// footprint is the outline of a foot seen from above.
type footprint struct {
	side    cop.Side
	outline []r3.Vec
	known   bool // false: a box around the pressure at address
}

// Size of the box that stands for a foot of which nothing is known, m.
const boxLength, boxWidth = 0.28, 0.10

func newStage(s *Subject) *stage {
	g := &stage{s: s, addr: s.At(s.Quiet.To), clock: clockOf(s)}
	g.shown = shownOf(s)
	for i, e := range s.Events.Found {
		g.marks = append(g.marks, mark{i + 1, e})
	}
	g.best = (g.shown.From + g.shown.To) / 2
	for _, n := range []phase.Name{phase.Impact, phase.FrontalTorquePeak} {
		if t := s.Events.Time(n); g.shown.holds(t) {
			g.best = t
		}
	}
	if s.Recording.Split() {
		g.feet = []footprint{
			printOf(cop.Lead, s.Feet.Lead, g.addr.LeadCOP),
			printOf(cop.Trail, s.Feet.Trail, g.addr.TrailCOP),
		}
	}
	return g
}

func printOf(side cop.Side, foot *cop.Foot, p r3.Vec) footprint {
	if foot != nil {
		return footprint{side, foot.Outline(nil), true}
	}
	var box []r3.Vec
	for _, c := range [][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		box = append(box, r3.Vec{X: p.X + c[0]*boxLength/2, Y: p.Y + c[1]*boxWidth/2})
	}
	return footprint{side, box, false}
}

// shownOf chooses the time that pictures show: from just before the swing begins
// until its force is spent, not the long finish.
func shownOf(s *Subject) stretch {
	w := stretch{s.Recording.Time(s.From), s.Recording.Time(s.To)}
	first := func(names ...phase.Name) float64 {
		for _, n := range names {
			if t := s.Events.Time(n); !math.IsNaN(t) {
				return t
			}
		}
		return math.NaN()
	}
	if t := first(phase.Onset, phase.TrailLoadPeak); t-0.25 > w.From {
		w.From = t - 0.25
	}
	if t := first(phase.Impact, phase.LeadVerticalPeak); t+0.6 < w.To {
		w.To = t + 0.6
	}
	return w
}

func (f footprint) class() string { return f.side.String() }

// extents of the outline along X and Y.
func (f footprint) extents() (x, y extent) {
	x, y = emptyExtent(), emptyExtent()
	for _, p := range f.outline {
		x.add(p.X)
		y.add(p.Y)
	}
	return x, y
}

// samples returns the samples that the pictures show, step seconds apart.
func (g *stage) instants(from, to, step float64) []swing.Instant {
	var out []swing.Instant
	for k := 0; ; k++ {
		t := from + float64(k)*step
		if t > to+1e-9 {
			return out
		}
		out = append(out, g.s.At(t))
	}
}

// path returns a place per sample shown, in a picture.
func path(g *stage, v []r3.Vec, place func(r3.Vec) point) []point {
	var out []point
	for i, t := range g.s.Series.Time {
		if g.shown.holds(t) {
			out = append(out, place(v[i]))
		}
	}
	return out
}

// known reports whether both outlines are.
func (g *stage) known() bool {
	for _, f := range g.feet {
		if !f.known {
			return false
		}
	}
	return len(g.feet) > 0
}
