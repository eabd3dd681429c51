package page

import (
	"example.com/momentarm/phase/swing"
)

// instantRow is a line of the table of an instant's values.
type instantRow struct {
	Name  string
	Cells []instantCell
}

type instantCell struct {
	Key        string
	SI, SD, US string
	Spread     bool // has a place for SD
}

// instantValue is the value of a quantity at an instant; empty for no quantity.
func instantValue(i swing.Instant, key string) instantCell {
	for _, q := range quantities {
		if q.key == key {
			v := q.of(i)
			return instantCell{Key: key, SI: si(v, q.unit), US: us(v, q.unit), SD: q.spread(i), Spread: q.sd != nil}
		}
	}
	return instantCell{}
}

func instantRows(i swing.Instant, split bool) []instantRow {
	row := func(name string, keys ...string) instantRow {
		r := instantRow{Name: name}
		if !split {
			keys = keys[2:]
		}
		for _, k := range keys {
			r.Cells = append(r.Cells, instantValue(i, k))
		}
		return r
	}
	rows := []instantRow{
		row("Vertical force", "lead-fz", "trail-fz", "net-fz"),
		row("Lateral, + toward the target", "lead-fy", "trail-fy", "net-fy"),
		row("Forward, + toward the ball", "lead-fx", "trail-fx", "net-fx"),
	}
	if split {
		rows = append(rows, row("Share of the load", "lead-share", "trail-share", ""))
	}
	return append(rows,
		row("Vertical-axis torque", "", "", "vertical-torque"),
		row("Horizontal moment arm", "", "", "vertical-arm"),
		row("Swing-plane torque", "", "", "plane-torque"),
		row("Height of the centre of mass", "", "", "com-z"),
	)
}
