package synth

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"
)

// What feet on plates can do. The friction of a shoe on turf or mat is higher
// than this: common practice (no published source).
const (
	maxFriction = 0.9
	minVertical = 0.2 // body weights, both feet together
	lightFoot   = 0.05
)

// check refuses a swing that feet could not make.
func (s *Swing) check() error {
	weight := s.cfg.Mass * Gravity
	for t := s.from; t < s.to; t += s.grid.step / 2 {
		st := s.At(t)
		fail := func(format string, args ...any) error {
			return &ConfigError{"Style", s.cfg.Style, fmt.Sprintf(
				"a combination with Strength, Tempo and StanceWidth that feet can make: at %.3f s ", t) +
				fmt.Sprintf(format, args...)}
		}
		if z := st.Net.Force.Z / weight; z < minVertical {
			return fail("the vertical force is %.2f body weights", z)
		}
		for i, foot := range []struct {
			name  string
			force r3.Vec
			place r3.Vec
		}{
			{"lead", st.Lead.Force, st.LeadPressure}, {"trail", st.Trail.Force, st.TrailPressure},
		} {
			if foot.force.Z < lightFoot*weight {
				continue
			}
			if f := math.Hypot(foot.force.X, foot.force.Y) / foot.force.Z; f > maxFriction {
				return fail("the %s foot pushes along the ground with %.2f of its load", foot.name, f)
			}
			long, wide := s.feet[i].place(foot.place)
			if long < 0 || long > 1 || math.Abs(wide) > 1 {
				return fail("the pressure leaves the %s foot (%.2f along, %.2f across)", foot.name, long, wide)
			}
		}
	}
	return nil
}
