package synth

import (
	"math"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// Swing is one made-up swing. It does not change once made and may be shared
// by goroutines. See [New].
type Swing struct {
	cfg   Config // with its defaults
	marks marks
	grid  grid
	motion

	from, to float64 // bounds of the swing's motion, NaN when Still
	end      float64
	feet     [2]Foot
	events   []Event
	lab      grf.Axes
}

// motion is what moves, as splines on one grid.
type motion struct {
	position, velocity, acceleration vectorSpline
	momentum, moment                 vectorSpline

	share, oppose                spline
	leadX, leadY, trailX, trailY spline // wanted pressure in the feet
}

// splines lists the parts of a motion.
func (m *motion) splines() []*spline {
	list := []*spline{&m.share, &m.oppose, &m.leadX, &m.leadY, &m.trailX, &m.trailY}
	for _, v := range []*vectorSpline{&m.position, &m.velocity, &m.acceleration, &m.momentum, &m.moment} {
		list = append(list, &v[0], &v[1], &v[2])
	}
	return list
}

// then appends a motion that starts at coefficient first; m is still until
// then.
func (m *motion) then(next *motion, first int) {
	from := next.splines()
	for i, c := range m.splines() {
		still := (*from[i])[0]
		if len(*c) > 0 {
			still = (*c)[len(*c)-1]
		}
		for len(*c) < first {
			*c = append(*c, still)
		}
		*c = append(*c, *from[i]...)
	}
}

// marks are the instants between which the phases count.
type marks struct{ takeaway, top, impact, still float64 }

// phase returns the phase of instant t: see curve.
func (m marks) phase(t float64) float64 {
	switch {
	case t < m.top:
		return (t - m.takeaway) / (m.top - m.takeaway)
	case t < m.impact:
		return 1 + (t-m.top)/(m.impact-m.top)
	}
	return 2 + (t-m.impact)/(m.still-m.impact)
}

// time is the inverse of phase.
func (m marks) time(phase float64) float64 {
	switch {
	case phase < 1:
		return m.takeaway + phase*(m.top-m.takeaway)
	case phase < 2:
		return m.top + (phase-1)*(m.impact-m.top)
	}
	return m.impact + (phase-2)*(m.still-m.impact)
}

// Config returns the configuration with its defaults filled in.
func (s *Swing) Config() Config { return s.cfg }

// Aboard returns the instant from which both feet carry the whole golfer, so
// that Newton's and Euler's laws hold for the plates: the start of the
// recording when there is no unloaded time.
func (s *Swing) Aboard() float64 {
	if s.cfg.Unloaded == 0 {
		return s.cfg.Start
	}
	return s.cfg.Start + s.cfg.Unloaded + stepOn
}

// Start is the first instant of the recording, s.
func (s *Swing) Start() float64 { return s.cfg.Start }

// End is the last instant of the recording, s.
func (s *Swing) End() float64 { return s.end }

// Len is the number of samples of a recording of the whole swing.
func (s *Swing) Len() int {
	return int(math.Floor((s.end-s.cfg.Start)*s.cfg.Rate+1e-6)) + 1
}

// Recording returns the swing as two plates without any fault would have
// measured it, with the instant of impact as its only mark. See
// [Disturbance.Apply] for plates with faults.
func (s *Swing) Recording() *grf.Recording {
	n := s.Len()
	rec := &grf.Recording{
		Start: s.cfg.Start, Rate: s.cfg.Rate,
		Lead: make([]grf.Wrench, n), Trail: make([]grf.Wrench, n),
		Mass: s.cfg.Mass, Stature: s.cfg.Stature, Handed: s.cfg.Handed,
	}
	for i := range n {
		st := s.At(rec.Time(i))
		rec.Lead[i], rec.Trail[i] = st.Lead, st.Trail
	}
	if s.swings() {
		rec.Marks = map[string]float64{"impact": s.marks.impact}
	}
	return rec
}

// Foot is the outline of a foot on the surface: a rectangle around it.
type Foot struct {
	Heel, Toe r3.Vec // the middles of the rear and front edge, swing axes, m
	Width     float64
	// Outer is the unit vector across the foot toward its lateral border.
	Outer r3.Vec
}

// point returns the place at a fraction of the length and of the half width.
func (f Foot) point(long, wide float64) r3.Vec {
	p := r3.Add(f.Heel, r3.Scale(long, r3.Sub(f.Toe, f.Heel)))
	return r3.Add(p, r3.Scale(wide*f.Width/2, f.Outer))
}

// place is the inverse of point.
func (f Foot) place(p r3.Vec) (long, wide float64) {
	along := r3.Sub(f.Toe, f.Heel)
	d := r3.Sub(p, f.Heel)
	return r3.Dot(d, along) / r3.Norm2(along), r3.Dot(d, f.Outer) / (f.Width / 2)
}

// Feet returns the outlines of the lead and the trail foot. Length and width
// are 0.152 and 0.055 of the stature (Winter, Biomechanics and Motor Control
// of Human Movement, 4th ed. 2009, figure 4.1, from memory); the toes point
// outward by 20° and 5°.
func (s *Swing) Feet() (lead, trail Foot) { return s.feet[0], s.feet[1] }

func newFoot(middle r3.Vec, length, width, toeOut, side float64) Foot {
	sin, cos := math.Sincos(toeOut)
	along := r3.Vec{X: cos, Y: side * sin}
	return Foot{
		Heel:  r3.Sub(middle, r3.Scale(length/2, along)),
		Toe:   r3.Add(middle, r3.Scale(length/2, along)),
		Width: width,
		Outer: r3.Vec{X: -sin, Y: side * cos},
	}
}
