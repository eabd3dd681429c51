package capture

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// unmeasured stands in lists of columns for a component that no instrument
// measured: both horizontal ones of the force of a pressure mat, with the moment
// about the vertical.
//
// Such a plate is worked out with zeros in their place, which change neither the
// vertical force nor its place on the surface, and what needs them is made NaN
// when the recording is put together.
const unmeasured = "none"

// vertical returns which component of the force was measured when the other two
// were not.
func (p *TablePlate) vertical() (axis int, ok bool) {
	if len(p.Force) != 3 {
		return 0, false
	}
	axis = slices.IndexFunc(p.Force, func(s string) bool { return s != unmeasured })
	count := 0
	for _, s := range p.Force {
		if s == unmeasured {
			count++
		}
	}
	return axis, count == 2
}

// vertical checks where "none" stands.
func (c *checker) vertical(path string, p TablePlate) {
	axis, ok := p.vertical()
	if !ok {
		for _, field := range []struct {
			name  string
			specs []string
		}{{"force", p.Force}, {"moment", p.Moment}, {"cop", p.COP}, {"free", []string{p.Free}}} {
			if slices.Contains(field.specs, unmeasured) {
				c.bad(join(path, field.name), `"none" stands for both horizontal components of force, and then for the moment about the vertical, or for free`)
			}
		}
		return
	}
	for i, s := range p.Moment {
		if (s == unmeasured) != (i == axis) {
			c.bad(index(join(path, "moment"), i), `%q; without horizontal forces the moment about the vertical is "none", and the other two are needed`, s)
		}
	}
	if slices.Contains(p.COP, unmeasured) {
		c.bad(join(path, "cop"), `"none"; without horizontal forces the place is all that is known beside the load`)
	}
	if p.Free != "" && p.Free != unmeasured {
		c.bad(join(path, "free"), `%q; it can not be told without horizontal forces: leave it out`, p.Free)
	}
}

// flatten notes a plate without horizontal forces.
func (b *tableBuilder) flatten(p TablePlate) error {
	axis, ok := p.vertical()
	if !ok {
		return nil
	}
	if p.Axes != "lab" && axis != 2 {
		return setupErrorf(join(b.path, "force"), "only %s was measured; in %s axes the vertical is the third", p.Force[axis], p.Axes)
	}
	b.src.vertical = [3]r3.Vec{{X: 1}, {Y: 1}, {Z: 1}}[axis]
	if p.Axes == "plate" && p.Moment != nil {
		depth := float64(p.TopCover)
		if p.Origin != nil {
			depth += math.Abs(p.Origin.vec().Z)
		}
		if depth > 0 {
			b.r.warn("vertical-depth", b.src.name, "the moments are about a point %.0f mm below the surface; without horizontal forces they can not be moved up to it, and the centre of pressure is off by that depth times horizontal over vertical force", 1000*depth)
		}
	}
	return nil
}

// verticalGroup returns the plate of a group with one component of force, if it
// says where that acts.
func (g *group) verticalGroup() (TablePlate, bool) {
	axis := slices.IndexFunc(g.force[:], func(s string) bool { return s != "" })
	p := TablePlate{Force: []string{unmeasured, unmeasured, unmeasured}}
	if axis < 0 || len(nonEmpty(g.force)) != 1 {
		return p, false
	}
	p.Force[axis] = g.force[axis]
	a, b := (axis+1)%3, (axis+2)%3
	switch {
	case g.moment[a] != "" && g.moment[b] != "":
		p.Moment = append([]string(nil), g.moment[:]...)
		p.Moment[axis] = unmeasured
	case g.point[a] != "" && g.point[b] != "":
		p.COP = append([]string(nil), g.point[:]...)
		if p.COP[axis] == "" {
			p.COP[axis] = "0 m"
		}
	default:
		return p, false
	}
	return p, true
}

// lookAtVertical refuses a plate whose only force is not the vertical one.
func (r *reader) lookAtVertical(used []*source) error {
	for _, s := range used {
		if s.vertical == (r3.Vec{}) || r.swing {
			continue
		}
		axis := s.vertical
		if s.flat {
			axis = s.plate.Frame().Z
		}
		if math.Abs(r3.Dot(axis, r.up)) < 0.97 { // 14°
			return setupErrorf("lab.up", "%s is up, but %s has a force along %s only; a force without the vertical part says nothing about load", axisName(r.up), s.name, axisName(axis))
		}
	}
	return nil
}

// withoutHorizontal makes NaN what the sources of a foot did not measure, and says
// so.
func (r *reader) withoutHorizontal(ws []grf.Wrench, sources []*source) {
	for _, s := range sources {
		if s.vertical == (r3.Vec{}) {
			continue
		}
		for i, w := range ws {
			ws[i] = w.WithoutHorizontal()
		}
		r.step("%s: %s", s.name, grf.NoHorizontal)
		r.warn("vertical-only", s.name, "%s: only load and centre of pressure are known; lateral force, centre of mass, torques and arms are not", grf.NoHorizontal)
	}
}
