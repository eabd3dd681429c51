package synth

import (
	"math"

	"example.com/momentarm/grf"
	"gonum.org/v1/gonum/spatial/r3"
)

// State is everything that is true at one instant, in swing axes and SI units.
type State struct {
	Time float64 // s

	// Lead and Trail are the ground's push on each foot, Net is that of both:
	// wrenches about the origin of the swing axes.
	Lead, Trail, Net grf.Wrench

	// Position, Velocity and Acceleration are those of the centre of mass.
	Position, Velocity, Acceleration r3.Vec
	// Momentum is the angular momentum about the centre of mass, kg·m²/s, and
	// Moment its rate of change: the moment of the ground about the centre of
	// mass, free moments included, N·m.
	Momentum, Moment r3.Vec

	// Centres of pressure on the surface. That of a foot without load is NaN.
	LeadPressure, TrailPressure, NetPressure r3.Vec
	// Free moments about each foot's own centre of pressure, NaN without load,
	// and about the net one, N·m.
	LeadFree, TrailFree, NetFree float64

	// Share is the lead foot's part of the vertical load, 0 to 1.
	Share float64
}

// At returns the truth at instant t. Before the recording starts and after it
// ends the golfer stands still. While the golfer steps on, see
// [Swing.Aboard], the wrenches are those parts that the plates carry and the
// rest describes the whole golfer.
func (s *Swing) At(t float64) State {
	w := s.grid.at(t)
	return s.state(t, &w)
}

func (s *Swing) state(t float64, w *weights) State {
	weight := s.cfg.Mass * Gravity
	st := State{
		Time:         t,
		Position:     s.position.value(w, forceDegree+2),
		Velocity:     s.velocity.value(w, forceDegree+1),
		Acceleration: s.acceleration.value(w, forceDegree),
		Momentum:     s.momentum.value(w, forceDegree+1),
		Moment:       s.moment.value(w, forceDegree),
		Share:        s.share.value(w, forceDegree),
	}
	r, m := st.Position, st.Moment
	f := r3.Scale(s.cfg.Mass, st.Acceleration)
	f.Z += weight

	// The net centre of pressure from M = (p − r) × F + T ẑ on Z = 0.
	dx := (-r.Z*f.X - m.Y) / f.Z
	dy := (m.X - r.Z*f.Y) / f.Z
	p := r3.Vec{X: r.X + dx, Y: r.Y + dy}
	free := m.Z - (dx*f.Y - dy*f.X)

	// The feet: wanted places, both moved by what is left over.
	lead := r3.Vec{X: s.leadX.value(w, forceDegree), Y: s.leadY.value(w, forceDegree)}
	trail := r3.Vec{X: s.trailX.value(w, forceDegree), Y: s.trailY.value(w, forceDegree)}
	apart := r3.Sub(lead, trail)
	slack := r3.Sub(p, r3.Add(trail, r3.Scale(st.Share, apart)))
	lead, trail = r3.Add(lead, slack), r3.Add(trail, slack)

	// The opposing pair: a push of the feet against each other along Y, and
	// along X what part of the free moment the feet do not make by twisting.
	both := 4 * st.Share * (1 - st.Share) // 0 when one foot is unloaded
	h := r3.Vec{Y: -both * weight * s.oppose.value(w, forceDegree)}
	twist := free - apart.X*h.Y // wanted from h.X and the feet's free moments
	pair := both * pairPart
	h.X = -pair * twist / apart.Y
	rest := (1 - pair) * twist
	st.LeadFree, st.TrailFree = st.Share*rest, (1-st.Share)*rest

	leadForce := r3.Add(r3.Scale(st.Share, f), h)
	trailForce := r3.Sub(r3.Scale(1-st.Share, f), h)
	st.Lead = grf.At(leadForce, lead, r3.Vec{Z: st.LeadFree})
	st.Trail = grf.At(trailForce, trail, r3.Vec{Z: st.TrailFree})
	st.Net = grf.At(f, r, m)
	st.LeadPressure, st.TrailPressure, st.NetPressure, st.NetFree = lead, trail, p, free
	nan := math.NaN()
	if st.Share == 0 {
		st.LeadPressure, st.LeadFree = r3.Vec{X: nan, Y: nan, Z: nan}, nan
	}
	if st.Share == 1 {
		st.TrailPressure, st.TrailFree = r3.Vec{X: nan, Y: nan, Z: nan}, nan
	}
	if a, b := s.aboard(t); a < 1 || b < 1 {
		st.Trail, st.Lead = st.Trail.Scale(a), st.Lead.Scale(b)
		st.Net = st.Lead.Add(st.Trail)
	}
	return st
}

// pairPart is the largest part of the net free moment that the feet make by
// pushing against each other rather than by twisting.
const pairPart = 0.9

// aboard returns which parts of their loads the trail and the lead plate carry
// while the golfer steps on.
func (s *Swing) aboard(t float64) (trail, lead float64) {
	if s.cfg.Unloaded == 0 {
		return 1, 1
	}
	x := t - s.cfg.Start - s.cfg.Unloaded
	return smoothStep(x / 0.6), smoothStep((x - 0.7) / 0.6)
}
