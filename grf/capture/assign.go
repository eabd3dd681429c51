package capture

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"example.com/momentarm/grf"
)

// assign says which sources carry which foot, and settles which way is up.
func (r *reader) assign() (lead, trail, both []*source, err error) {
	roles := r.setup.Plates
	stated := len(roles.Lead)+len(roles.Trail)+len(roles.Both) > 0
	if stated {
		if lead, err = r.pick("lead", roles.Lead); err != nil {
			return nil, nil, nil, err
		}
		if trail, err = r.pick("trail", roles.Trail); err != nil {
			return nil, nil, nil, err
		}
		if both, err = r.pick("both", roles.Both); err != nil {
			return nil, nil, nil, err
		}
		if err := r.settleUp(append(append(append([]*source{}, lead...), trail...), both...)); err != nil {
			return nil, nil, nil, err
		}
		r.step("lead foot: %s; trail foot: %s; both feet: %s, as stated", names(lead), names(trail), names(both))
		return lead, trail, both, nil
	}
	var usable []*source
	var why []error
	for _, s := range r.sources {
		switch {
		case s.err != nil:
			why = append(why, s.err)
		case s.noMoments:
			why = append(why, withoutMoments(s))
		default:
			usable = append(usable, s)
		}
	}
	if len(usable) == 0 {
		return nil, nil, nil, fmt.Errorf("%w: %w", ErrNoPlates, errors.Join(why...))
	}
	if lead, trail = byName(usable); lead != nil {
		if err := r.settleUp(usable); err != nil {
			return nil, nil, nil, err
		}
		r.step("lead foot: %s; trail foot: %s, by the names of the columns", names(lead), names(trail))
		r.warn("feet-automatic", "", "%s was taken for the lead foot and %s for the trail foot, by the names of the columns; state plates to be sure", names(lead), names(trail))
		return lead, trail, nil, nil
	}
	if len(r.sources) == 1 {
		return nil, nil, usable, r.settleUp(usable)
	}
	lead, trail, err = r.byPlace(usable)
	return lead, trail, nil, err
}

// withoutMoments says what a plate that gives forces only needs.
func withoutMoments(s *source) error {
	return fmt.Errorf("%w: %s; state the distances of its sensors as origin in plates.change", ErrMoments, s.name)
}

// pick returns the sources with these numbers, which must be usable.
func (r *reader) pick(role string, numbers []int) ([]*source, error) {
	var picked []*source
	for i, n := range numbers {
		if n > len(r.sources) {
			return nil, setupErrorf(index("plates."+role, i), "plate %d; the capture has %d, counted from 1: write the number of one of them", n, len(r.sources))
		}
		s := r.sources[n-1]
		if s.err != nil {
			return nil, s.err
		}
		if s.noMoments {
			return nil, withoutMoments(s)
		}
		picked = append(picked, s)
	}
	return picked, nil
}

func names(sources []*source) string {
	if len(sources) == 0 {
		return "none"
	}
	var s []string
	for _, src := range sources {
		s = append(s, src.name)
	}
	return strings.Join(s, ", ")
}

// byName returns the two feet when the names of the columns tell them.
func byName(sources []*source) (lead, trail []*source) {
	for _, s := range sources {
		switch s.foot {
		case "lead":
			lead = append(lead, s)
		case "trail":
			trail = append(trail, s)
		}
	}
	if len(lead) != 1 || len(trail) != 1 {
		return nil, nil
	}
	return lead, trail
}

// leastApart is how far apart along the target direction the centres of two
// plates must be to tell lead from trail, m. Common practice (no published source).
const leastApart = 0.1

// byPlace takes the two plates that carry load: the one nearer the target is the
// lead foot's.
func (r *reader) byPlace(usable []*source) (lead, trail []*source, err error) {
	remedy := `say which is whose, as in "plates": {"lead": [1], "trail": [2]} or {"both": [1]}`
	for _, s := range usable {
		if !s.flat {
			return nil, nil, setupErrorf("plates", "the capture has %d groups of columns without corners; %s", len(r.sources), remedy)
		}
	}
	if err := r.settleUp(usable); err != nil {
		return nil, nil, err
	}
	var two []*source
	var loads []string
	for _, s := range usable {
		is := "empty"
		if loaded(s.wrenches, r.up) {
			two = append(two, s)
			is = "loaded"
		}
		loads = append(loads, s.name+" "+is)
	}
	if len(two) != 2 {
		return nil, nil, setupErrorf("plates", "%d of %d plates carry load (%s), so that the feet can not be told; %s", len(two), len(usable), strings.Join(loads, ", "), remedy)
	}
	target := r3.Vec(r.setup.Lab.Target)
	if target == (r3.Vec{}) {
		return nil, nil, targetMissing()
	}
	target = r3.Unit(target)
	a, b := two[0], two[1]
	apart := r3.Dot(target, r3.Sub(a.plate.Frame().Origin, b.plate.Frame().Origin))
	if math.Abs(apart) < leastApart {
		return nil, nil, setupErrorf("plates", "%s and %s lie only %.0f mm apart along the target direction; is lab.target right? Otherwise %s", a.name, b.name, 1000*math.Abs(apart), remedy)
	}
	if apart < 0 {
		a, b = b, a
	}
	r.step("lead foot: %s; trail foot: %s, as %s lies %.0f mm nearer the target", a.name, b.name, a.name, 1000*math.Abs(apart))
	r.warn("feet-automatic", "", "%s was taken for the lead foot and %s for the trail foot, by where they lie; state plates to be sure", a.name, b.name)
	return []*source{a}, []*source{b}, nil
}

func targetMissing() error {
	return setupErrorf("lab.target", `missing; say where the target is in laboratory axes, as in "lab": {"target": "+y"}`)
}

func upMissing() error {
	return setupErrorf("lab.up", `missing; say which way is up in laboratory axes, as in "lab": {"up": "+z"}`)
}

// settleUp sets up: as stated, or against the z of the plates, which points into
// the floor. Which way along the plates' normals is up is told by the laboratory's
// axes: up is along a positive one in every laboratory that was seen.
func (r *reader) settleUp(used []*source) error {
	if r.swing {
		r.up = r3.Vec{Z: 1}
		return nil
	}
	var normals []r3.Vec
	var named []string
	for _, s := range used {
		if s.err == nil && s.flat {
			normals = append(normals, r3.Scale(-1, s.plate.Frame().Z))
			named = append(named, s.name)
		}
	}
	if up := r3.Vec(r.setup.Lab.Up); up != (r3.Vec{}) {
		r.up = r3.Unit(up)
		r.step("up is %s, as stated", axisName(r.up))
		for i, n := range normals {
			angle := degrees(n, r.up)
			switch fold := math.Min(angle, 180-angle); {
			case fold > 45:
				return setupErrorf("lab.up", "%s is %.0f° off the upright of %s, which is along %s or %s; write the one that points up", axisName(r.up), fold, named[i], axisName(n), axisName(r3.Scale(-1, n)))
			case fold > 10:
				r.warn("up-doubtful", named[i], "the plate leans %.0f° against the stated up", fold)
			}
			if angle > 90 {
				r.warn("plate-z-up", named[i], "its z axis points up: its corners run the other way round, or lab.up points down; computed as listed; correct whichever it is")
			}
		}
		return nil
	}
	if len(normals) == 0 {
		return upMissing()
	}
	for i, n := range normals[1:] {
		if a := degrees(n, normals[0]); math.Min(a, 180-a) > 5 {
			return setupErrorf("lab.up", "missing; %s and %s are not parallel, so that up can not be told from them", named[0], named[i+1])
		}
	}
	up := normals[0]
	for _, n := range normals[1:] {
		if r3.Dot(n, up) < 0 {
			n = r3.Scale(-1, n)
		}
		up = r3.Add(up, n)
	}
	up = r3.Unit(up)
	axis := nearestAxis(up)
	if axis.X+axis.Y+axis.Z < 0 {
		up, axis = r3.Scale(-1, up), r3.Scale(-1, axis)
	}
	lean := degrees(up, axis)
	if lean <= 2 {
		r.step("up is %s, from the plates, which lie level within %.1f°", axisName(axis), lean)
		up = axis
	} else {
		r.step("up is %s, from the plates", axisName(up))
		r.warn("up-automatic", "", "the plates lean %.1f° against %s of the laboratory; up was taken upright to them; state lab.up if they are sloped", lean, axisName(axis))
	}
	for i, n := range normals {
		if r3.Dot(n, up) < 0 {
			r.warn("plate-z-up", named[i], "its z axis points along %s: its corners run the other way round, or that is not up; computed as listed; state lab.up to be sure", axisName(axis))
		}
	}
	r.up = up
	return nil
}

// nearestAxis returns the axis of the laboratory nearest to a direction.
func nearestAxis(v r3.Vec) r3.Vec {
	best, most := r3.Vec{}, -1.0
	for _, name := range []string{"+x", "-x", "+y", "-y", "+z", "-z"} {
		if d := r3.Dot(v, axisNames[name]); d > most {
			best, most = axisNames[name], d
		}
	}
	return best
}

// axisName writes a direction, as an axis if it is one.
func axisName(v r3.Vec) string {
	for _, name := range []string{"+x", "-x", "+y", "-y", "+z", "-z"} {
		if r3.Norm(r3.Sub(v, axisNames[name])) < 1e-9 {
			return name
		}
	}
	return fmt.Sprintf("(%.3f, %.3f, %.3f)", v.X, v.Y, v.Z)
}

func degrees(a, b r3.Vec) float64 {
	return math.Atan2(r3.Norm(r3.Cross(a, b)), r3.Dot(a, b)) * 180 / math.Pi
}

// axes lays the swing axes into the laboratory.
func (r *reader) axes(used []*source) (grf.Axes, error) {
	lab := r.setup.Lab
	hand := handed(r.setup.Golfer)
	if r.setup.Golfer.Handed == "" {
		r.step("golfer: right-handed, as nothing else is stated")
	} else {
		r.step("golfer: %s-handed, as stated", r.setup.Golfer.Handed)
	}
	if r.swing {
		if lab.Target.stated() || lab.Up.stated() || lab.Origin != nil {
			return grf.Axes{}, setupErrorf("lab", "the columns are in swing axes already; leave lab out")
		}
		r.tell("The columns of the table were in swing axes already.")
		// Mirrored on entry already, if at all.
		return grf.NewAxes(r3.Vec{Z: 1}, r3.Vec{Y: 1}, r3.Vec{}, grf.RightHanded)
	}
	if !lab.Target.stated() {
		return grf.Axes{}, targetMissing()
	}
	var middle r3.Vec
	var n float64
	lowest, highest := math.Inf(1), math.Inf(-1)
	for _, s := range used {
		if !s.flat {
			continue
		}
		at := s.plate.Frame().Origin
		middle = r3.Add(middle, at)
		n++
		h := r3.Dot(at, r.up)
		lowest, highest = math.Min(lowest, h), math.Max(highest, h)
	}
	var origin r3.Vec
	switch {
	case lab.Origin != nil:
		origin = lab.Origin.vec()
		r.step("origin at %s in the laboratory, as stated", metres(origin))
		if n > 0 {
			d := r3.Sub(origin, r3.Scale(1/n, middle))
			if h := math.Abs(r3.Dot(d, r.up)); h > 0.1 || r3.Norm(d) > 5 {
				r.warn("origin-far", "", "the origin lies %.2f m from the plates and %.2f m above or below them; is the unit right?", r3.Norm(d), h)
			}
		}
	case n > 0:
		origin = r3.Scale(1/n, middle)
		r.step("origin at %s in the laboratory, the centre of the plates", metres(origin))
		if highest-lowest > 0.005 {
			r.warn("plates-uneven", "", "the plates differ in height by %.0f mm; the standing surface was laid between them", 1000*(highest-lowest))
		}
	default:
		r.step("origin at that of the laboratory, as nothing else is stated")
		r.warn("origin-automatic", "", "the standing surface was taken to be at height 0 of the laboratory; state lab.origin if it is not")
	}
	axes, err := grf.NewAxes(r.up, r3.Vec(lab.Target), origin, hand)
	if err != nil {
		return grf.Axes{}, &SetupError{Path: "lab.target", Text: err.Error() + "; write the level direction toward the target, as in \"+y\"", Err: err}
	}
	r.step("target along %s of the laboratory, as stated", axisName(r3.Unit(r3.Vec(lab.Target))))
	r.tell("Laboratory axes were turned into swing axes with the target along %s, up along %s and the origin at %s of the laboratory.",
		axisName(r3.Unit(r3.Vec(lab.Target))), axisName(r.up), metres(origin))
	return axes, nil
}

func metres(v r3.Vec) string { return fmt.Sprintf("(%.4f, %.4f, %.4f) m", v.X, v.Y, v.Z) }

// lookAtPlaces warns when the stated feet look swapped.
func (r *reader) lookAtPlaces(lead, trail []*source, axes grf.Axes) {
	mean := func(sources []*source) (y float64, ok bool) {
		for _, s := range sources {
			if !s.flat {
				return 0, false
			}
			y += axes.Point(s.plate.Frame().Origin).Y / float64(len(sources))
		}
		return y, len(sources) > 0
	}
	a, okA := mean(lead)
	b, okB := mean(trail)
	switch {
	case !okA || !okB:
	case math.Abs(a-b) < leastApart:
		r.warn("target-doubtful", "", "the plates of the lead and of the trail foot lie only %.0f mm apart along the target direction; is lab.target right? It points from the trail foot to the lead foot and on to the target", 1000*math.Abs(a-b))
	case a < b:
		r.warn("feet-swapped", "", "the lead foot's plates lie %.0f mm farther from the target than the trail foot's; are lead and trail, or the target, the wrong way round? Exchange plates.lead and plates.trail, or turn lab.target", 1000*(b-a))
	}
}
