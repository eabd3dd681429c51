package capture

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"example.com/momentarm/grf/table"
	"example.com/momentarm/units"
)

// Names of columns, folded: in lower case, without blanks and punctuation, and
// with the words for force, moment and free moment as f, m and free. What stands
// before or behind tells plates apart.
var (
	forceName  = regexp.MustCompile(`^(.*?)f(\d*)([xyz])(\d*)$`)
	momentName = regexp.MustCompile(`^(.*?)m(\d*)([xyz])(\d*)$`)
	pointName  = regexp.MustCompile(`^(.*?)(?:cop|p)(\d*)([xyz])(\d*)$`)
	freeName   = regexp.MustCompile(`^(.*?)(?:free|t)(\d*)[xyz]?(\d*)$`)

	wordsFolded = strings.NewReplacer("freemoment", "free", "force", "f", "grf", "f", "moment", "m", "torque", "m")
	punctuation = strings.NewReplacer(" ", "", "_", "", "-", "", ".", "", ":", "", "/", "", "(", "", ")", "")
)

func foldName(name string) string {
	return wordsFolded.Replace(punctuation.Replace(strings.ToLower(name)))
}

// group is the columns that belong to one plate or foot.
type group struct {
	key, prefix          string
	force, moment, point [3]string
	free                 string
}

// columnGroups sorts the columns of a table into groups, in the order in which
// their forces appear.
func columnGroups(t *table.Table) []*group {
	var groups []*group
	find := func(prefix, digits string, make bool) *group {
		key := prefix + "#" + digits
		for _, g := range groups {
			if g.key == key {
				return g
			}
		}
		if !make {
			return nil
		}
		g := &group{key: key, prefix: prefix}
		groups = append(groups, g)
		return g
	}
	axis := func(s string) int { return strings.Index("xyz", s) }
	for _, c := range t.Columns {
		if hollow(c) {
			continue
		}
		if m := forceName.FindStringSubmatch(foldName(c.Name)); m != nil && c.Unit.Quantity == units.QuantityForce {
			find(m[1], m[2]+m[4], true).force[axis(m[3])] = c.Name
		}
	}
	for _, c := range t.Columns {
		name := foldName(c.Name)
		switch c.Unit.Quantity {
		case units.QuantityMoment:
			if m := momentName.FindStringSubmatch(name); m != nil {
				if g := find(m[1], m[2]+m[4], false); g != nil {
					g.moment[axis(m[3])] = c.Name
					continue
				}
			}
			if m := freeName.FindStringSubmatch(name); m != nil {
				if g := find(m[1], m[2]+m[3], false); g != nil {
					g.free = c.Name
				}
			}
		case units.QuantityLength:
			if m := pointName.FindStringSubmatch(name); m != nil {
				if g := find(m[1], m[2]+m[4], false); g != nil {
					g.point[axis(m[3])] = c.Name
				}
			}
		}
	}
	return groups
}

// hollow reports whether a column has not a single value: some programs write a
// column for what was not measured.
func hollow(c table.Column) bool {
	return !slices.ContainsFunc(c.Values, func(v float64) bool { return !math.IsNaN(v) })
}

// foot returns which foot the names of a group mean: "lead", "trail", "left",
// "right", "net" or "".
func (g *group) foot() string {
	switch g.prefix {
	case "lead", "trail", "left", "right":
		return g.prefix
	case "l", "lft":
		return "left"
	case "r", "rgt":
		return "right"
	case "net", "total", "sum", "both":
		return "net"
	}
	return ""
}

// numbered reports whether the names of a group are told apart by a number alone.
func (g *group) numbered() bool { return g.key != "#" && strings.HasPrefix(g.key, "#") }

// byColumnNames makes plates of groups of columns that have all they need. feet
// is what [group.foot] says of each. Groups that are the sum of others are skipped;
// incomplete are those with a force of which it is not known where it acts.
func byColumnNames(t *table.Table) (plates []TablePlate, feet, skipped []string, incomplete []*group) {
	for _, g := range columnGroups(t) {
		p, ok := g.plate()
		if !ok {
			incomplete = append(incomplete, g)
			continue
		}
		plates, feet = append(plates, p), append(feet, g.foot())
	}
	if len(plates) < 2 {
		return plates, feet, nil, incomplete
	}
	var keptPlates []TablePlate
	var keptFeet []string
	for i, p := range plates {
		if feet[i] == "net" {
			skipped = append(skipped, strings.Join(p.Force, ", "))
			continue
		}
		keptPlates, keptFeet = append(keptPlates, p), append(keptFeet, feet[i])
	}
	return keptPlates, keptFeet, skipped, incomplete
}

// plate returns the plate of a group, if it is complete. The height of a centre
// of pressure without a column is 0.
func (g *group) plate() (TablePlate, bool) {
	p := TablePlate{Force: g.force[:]}
	has := func(v [3]string) bool { return v[0] != "" && v[1] != "" && v[2] != "" }
	if !has(g.force) {
		return g.verticalGroup()
	}
	if has(g.moment) {
		p.Moment = g.moment[:]
		return p, true
	}
	if g.point[0] != "" && g.point[1] != "" && g.free != "" {
		p.COP, p.Free = append([]string(nil), g.point[:]...), g.free
		if p.COP[2] == "" {
			p.COP[2] = "0 m"
		}
		return p, true
	}
	return p, false
}

// noColumns says what is missing from a table whose columns make no plate.
func noColumns(t *table.Table) error {
	for _, g := range columnGroups(t) {
		return g.missing()
	}
	return setupErrorf("table.plates", "no columns called Fx, Fy and Fz or the like, in a unit of force, among %s; %s", listed(t.Names()), platesRemedy)
}

const platesRemedy = "say which columns make a plate in table.plates"

// missing says what a group lacks.
func (g *group) missing() error {
	f := g.force
	switch {
	case f[0] == "" && f[1] == "" && f[2] != "":
		return setupErrorf("table.plates", "only a vertical force (%s) was found, and not where it acts; add its centre of pressure (COPx and COPy) or its moments (Mx and My), or %s", f[2], platesRemedy)
	case f[0] == "" || f[1] == "" || f[2] == "":
		return setupErrorf("table.plates", "the force %s has not all of x, y and z; %s", strings.Join(nonEmpty(f), ", "), platesRemedy)
	case len(nonEmpty(g.moment)) > 0:
		return setupErrorf("table.plates", "the force %s has of its moments only %s; are the names and units of the others right? Otherwise %s", strings.Join(f[:], ", "), strings.Join(nonEmpty(g.moment), ", "), platesRemedy)
	case g.free != "" || g.point[0] != "":
		return setupErrorf("table.plates", `the force %s has no complete moment, nor a centre of pressure (x and y) with a free moment; %s, with "free": "0 N·m" if there is none`, strings.Join(f[:], ", "), platesRemedy)
	}
	return setupErrorf("table.plates", "the force %s has neither moments nor a centre of pressure, so that it is not known where it acts; %s", strings.Join(f[:], ", "), platesRemedy)
}

func nonEmpty(v [3]string) []string {
	var out []string
	for _, s := range v {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

func listed(names []string) string {
	if len(names) > 20 {
		return fmt.Sprintf("%s, … (%d columns)", strings.Join(names[:20], ", "), len(names))
	}
	return strings.Join(names, ", ")
}
