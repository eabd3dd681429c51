package com

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// considerDelays adds the effect of uncertain clocks: the path is computed once
// more with each such clock late by one standard deviation, and the difference
// joins the standard deviation of the path. This is first-order propagation,
// and exact for a path that is linear in time.
func (s *smoother) considerDelays() {
	p := s.path
	for _, i := range s.delay {
		c := s.opt.Sources[i].Clock
		c.Delay += c.SD((s.times[i][0] + s.times[i][len(s.times[i])-1]) / 2)
		fixes := slices.DeleteFunc(slices.Clone(s.known), func(f sourced) bool { return f.source == i })
		fixes = append(fixes, s.fixes(i, c)...)
		slices.SortStableFunc(fixes, byTime)
		s.run(fixes)
		late := make([]r3.Vec, len(s.force)) // what becomes of the positions
		s.backward(func(j int, ax *[3]axis) {
			late[j] = r3.Sub(s.d.estimate(p.Time(j), ax).Position, p.Position[j])
			for k := range ax {
				sp, sv := component(&p.PositionSD[j], k), component(&p.VelocitySD[j], k)
				*sp = math.Hypot(*sp, ax[k].x[0]-*component(&p.Position[j], k))
				*sv = math.Hypot(*sv, ax[k].x[1]-*component(&p.Velocity[j], k))
			}
		})
		for j := range p.ShiftSD {
			d := r3.Sub(late[j], late[p.ShiftFrom])
			for k := range 3 {
				sd := component(&p.ShiftSD[j], k)
				*sd = math.Hypot(*sd, *component(&d, k))
			}
		}
	}
	if len(s.delay) > 0 {
		s.run(s.known)
	}
}
