package page

import (
	"math"
	"strings"

	"example.com/momentarm/phase/swing"
)

// group is a table of measures.
type group struct {
	Name string
	table
}

// table is the rows of measures and which columns hold anything.
type table struct {
	Rows               []measureRow
	US, Relative, When bool
}

func tableOf(rows []measureRow) table {
	t := table{Rows: rows}
	for _, r := range rows {
		t.US = t.US || r.US != ""
		t.Relative = t.Relative || r.Relative != ""
		t.When = t.When || r.When != ""
	}
	return t
}

// measureRow is one measure, with its form relative to the golfer's body where
// there is one.
type measureRow struct {
	Label, SI, SD, US, Relative, When, Note string
	Undefined                               bool
}

// mainMeasures are those that a first look needs.
var mainMeasures = []string{
	"body_weight", "trail_load_peak", "lowest_vertical_bw", "lateral_peak", "lead_vertical_peak",
	"frontal_torque_peak", "frontal_force_at_peak", "frontal_arm_at_peak", "vertical_torque_peak", "plane_torque_peak",
}

// relatives are the endings of the names of measures that repeat another one
// relative to body weight, mass or stance width.
var relatives = []string{"_bw", "_kg", "_stance"}

// Measures at each event have a table of their own.
const shareAt, shiftAt = "lead_share_at_", "com_shift_at_"

// measureGroups are the tables of all measures: one goes to the first that has a
// matching part of its name, so none is lost.
var measureGroups = []struct {
	name  string
	parts []string
}{
	{"Place in the feet, and lean of the shins", []string{"_pressure_", "_outer_third", "_shin_"}},
	{"Timing", []string{"_before_", "_peak_to_", "_time", "tempo", "_in_backswing"}},
	{"Centre of mass", []string{"com_"}},
	{"Vertical-axis torque: turning seen from above", []string{"vertical_torque", "vertical_angular", "horizontal_arm"}},
	{"Swing-plane torque", []string{"plane_"}},
	{"Frontal torque: turning seen face-on", []string{"frontal_", "arm_3d"}},
	{"Lateral force", []string{"lateral_"}},
	{"Load", []string{""}},
}

// groupOrder is how they follow each other on the page.
var groupOrder = []int{7, 6, 5, 3, 4, 2, 0, 1}

func groupOf(name string) int {
	for i, g := range measureGroups {
		for _, part := range g.parts {
			if strings.Contains(name, part) {
				return i
			}
		}
	}
	return len(measureGroups) - 1
}

// base returns the name of the measure that this one repeats in relative form, ""
// if it stands for itself.
func (s *Subject) base(name string) string {
	for _, end := range relatives {
		if b, ok := strings.CutSuffix(name, end); ok {
			if _, ok := s.Measure(b); ok {
				return b
			}
		}
	}
	return ""
}

func (s *Subject) row(m swing.Measure) measureRow {
	v := measuredOf(m.Value, m.SD, m.Unit)
	r := measureRow{
		Label: capital(m.Label), SI: v.String(), SD: v.Spread, US: us(m.Value, m.Unit),
		Note: m.Note, Undefined: math.IsNaN(m.Value),
	}
	if r.Undefined && r.Note == "" {
		r.Note = "not defined here"
	}
	if !math.IsNaN(m.Time) {
		r.When = number(m.Time, 3) + nbsp + "s"
	}
	for _, end := range relatives {
		if rel, ok := s.Measure(m.Name + end); ok && !math.IsNaN(rel.Value) {
			r.Relative = si(rel.Value, rel.Unit)
		}
	}
	return r
}

// mainTable is the first table.
func (s *Subject) mainTable() table {
	var rows []measureRow
	for _, name := range mainMeasures {
		if m, ok := s.Measure(name); ok {
			rows = append(rows, s.row(m))
		}
	}
	return tableOf(rows)
}

// groups are the tables of all measures but those at each event.
func (s *Subject) groups() []group {
	rows := make([][]measureRow, len(measureGroups))
	for _, m := range s.Measures {
		if strings.HasPrefix(m.Name, shareAt) || strings.HasPrefix(m.Name, shiftAt) || s.base(m.Name) != "" {
			continue
		}
		k := groupOf(m.Name)
		rows[k] = append(rows[k], s.row(m))
	}
	var out []group
	for _, k := range groupOrder {
		if len(rows[k]) > 0 {
			out = append(out, group{measureGroups[k].name, tableOf(rows[k])})
		}
	}
	return out
}
