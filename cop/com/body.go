package com

import (
	"fmt"
	"slices"
	"strings"

	"example.com/momentarm/grf"
)

// MinMass is the least part of the body's mass that [NewModel] accepts. Head or
// both hands and feet may be missing, an arm and a leg may not. Common practice
// (no published source).
const MinMass = 0.9

// substitutes stand in for landmarks that were not given, a few millimetres to
// two centimetres away. Common practice (no published source).
var substitutes = map[string]string{
	"trochanter":        "hip",
	"hip":               "trochanter",
	"medial_malleolus":  "ankle",
	"lateral_malleolus": "ankle",
	"ankle":             "lateral_malleolus",
	"stylion":           "wrist",
	"wrist":             "stylion",
	"knuckle2":          "knuckle3",
	"knuckle3":          "knuckle2",
	"c7_t1":             "cervicale",
	"cervicale":         "c7_t1",
}

// NewModel puts a body together from the rows of a table for which landmarks
// are given. The names of landmarks are those of the table rows, in lower case
// with underscores; paired ones end in _left or _right:
//
//	vertex           top of the head           mid_gonion   between the angles of the jaw
//	cervicale, c7_t1 lowest neck vertebra      ear          ear canal (mean of both)
//	suprasternale    notch of the breastbone   xiphion      lower end of the breastbone
//	omphalion        navel                     t12_l1 l4_l5 between these vertebrae
//	shoulder_ elbow_ wrist_ hip_ knee_ ankle_  joint centres
//	stylion_         end of the radius         trochanter_  greater trochanter
//	knuckle2_ knuckle3_ fingertip3_            of the second and third finger
//	lateral_malleolus_ medial_malleolus_ sphyrion_ heel_ toe_tip_ metatarsal2_
//
// mid_hip, mid_shoulder and mid_trochanter follow from both sides unless they
// are given. Each part of the body is counted once: rows are tried in the
// table's order ([Table.Rows]). A close landmark stands in for a missing one
// (hip for trochanter and the like), with a warning. Parts of the body for
// which there is no row are left out with a warning, and the rest is scaled up;
// under [MinMass] of the body the error wraps [ErrSegment]. An unknown name of
// a landmark is such an error, too.
//
// All tables describe an average body. The segment masses of a person differ
// from them by some 10 % (common practice, no published source), which moves
// the centre of mass by a centimetre or two, the same way for long: let the
// [Source] have a SlowSD.
func NewModel(table Table, landmarks map[string]Landmark) (Model, []grf.Warning, error) {
	rows := table.Rows()
	if rows == nil {
		return Model{}, nil, fmt.Errorf("%w: %v", ErrSegment, table)
	}
	if err := checkNames(landmarks); err != nil {
		return Model{}, nil, err
	}
	b := builder{landmarks: landmarks, covered: map[string]string{}}
	m := Model{Name: table.String()}
	for _, r := range rows {
		sides := []string{""}
		if r.Paired {
			sides = []string{"_left", "_right"}
		}
		for _, side := range sides {
			if s, ok := b.segment(r, side); ok {
				m.Segments = append(m.Segments, s)
			}
		}
	}
	if missing := b.missing(rows); len(missing) > 0 {
		b.warn("segments-missing", "no landmarks for %s: the other segments, %.1f %% of the body, are taken for all of it", strings.Join(missing, ", "), 100*m.Fraction())
	}
	if f := m.Fraction(); f < MinMass {
		return Model{}, nil, fmt.Errorf("%w: the landmarks given span %.1f %% of the body's mass, less than %g %%; missing: %s",
			ErrSegment, 100*f, 100*MinMass, strings.Join(b.missing(rows), ", "))
	}
	return m, b.warnings, nil
}

// builder collects segments without counting a part of the body twice.
type builder struct {
	landmarks map[string]Landmark
	covered   map[string]string // part of the body → segment
	replaced  []string
	warnings  []grf.Warning
}

func (b *builder) warn(code, format string, args ...any) {
	b.warnings = append(b.warnings, grf.Warning{Code: code, Where: "segment model", Text: fmt.Sprintf(format, args...)})
}

// parts returns the parts of the body in a row with their side.
func parts(r TableRow, side string) []string {
	out := slices.Clone(r.covers)
	if side != "" {
		for i := range out {
			out[i] += strings.Replace(side, "_", " ", 1)
		}
	}
	return out
}

// segment makes a segment of a row unless part of it is there already or an
// end is unknown.
func (b *builder) segment(r TableRow, side string) (Segment, bool) {
	covers := parts(r, side)
	for _, p := range covers {
		if b.covered[p] != "" {
			return Segment{}, false
		}
	}
	proximal, distal := b.find(r.Proximal, side), b.find(r.Distal, side)
	if proximal.at == nil || distal.at == nil {
		return Segment{}, false
	}
	s := Segment{Name: r.Name + strings.Replace(side, "_", " ", 1), Proximal: proximal.at, Distal: distal.at, Mass: r.Mass, Centre: r.Centre}
	for _, p := range covers {
		b.covered[p] = s.Name
	}
	for _, e := range []found{proximal, distal} {
		if e.instead != "" && !slices.Contains(b.replaced, e.instead) {
			b.replaced = append(b.replaced, e.instead)
			b.warn("landmark-substituted", "%s", e.instead)
		}
	}
	return s, true
}

// found is a landmark and, when it stands in for another, the words for it.
type found struct {
	at      Landmark
	instead string
}

// find looks for a landmark by name, then for its two sides, then for a
// substitute.
func (b *builder) find(name, side string) found {
	if l := b.landmarks[name+side]; len(l) > 0 {
		return found{at: l}
	}
	if l := b.landmarks[name]; len(l) > 0 && side == "" {
		return found{at: l}
	}
	if joint, ok := strings.CutPrefix(name, "mid_"); ok && side == "" {
		left, right := b.find(joint, "_left"), b.find(joint, "_right")
		if left.at != nil && right.at != nil {
			// As many labels on each side, so that the mean is that of both.
			var both Landmark
			for range len(right.at) {
				both = append(both, left.at...)
			}
			for range len(left.at) {
				both = append(both, right.at...)
			}
			return found{both, left.instead}
		}
		return found{}
	}
	if other := substitutes[name]; other != "" {
		if l := b.landmarks[other+side]; len(l) > 0 {
			return found{l, fmt.Sprintf("%s stands in for %s", other, name)}
		}
	}
	return found{}
}

// missing returns the parts of the body that no segment covers.
func (b *builder) missing(rows []TableRow) []string {
	var out []string
	for _, r := range rows {
		sides := []string{""}
		if r.Paired {
			sides = []string{"_left", "_right"}
		}
		for _, side := range sides {
			for _, p := range parts(r, side) {
				if b.covered[p] == "" && !slices.Contains(out, p) {
					out = append(out, p)
				}
			}
		}
	}
	return out
}

// checkNames returns an error for a landmark that no table knows.
func checkNames(landmarks map[string]Landmark) error {
	var names []string
	for _, t := range []Table{DeLevaMen, Dempster} {
		for _, r := range t.Rows() {
			for _, end := range []string{r.Proximal, r.Distal} {
				if r.Paired {
					names = append(names, end+"_left", end+"_right")
				} else {
					names = append(names, end)
				}
			}
		}
	}
	slices.Sort(names)
	names = slices.Compact(names)
	given := make([]string, 0, len(landmarks))
	for name := range landmarks {
		given = append(given, name)
	}
	slices.Sort(given) // the same error every time
	for _, name := range given {
		if !slices.Contains(names, name) {
			return fmt.Errorf("%w: unknown landmark %q; known are %s", ErrSegment, name, strings.Join(names, " "))
		}
	}
	return nil
}
