package page

import (
	"example.com/momentarm/grf"
	"example.com/momentarm/torque"
)

func chartsOf(g *stage) []*chart {
	s, x := g.s, g.s.Series
	component := func(w []grf.Wrench, of func(grf.Wrench) float64) []float64 {
		out := make([]float64, len(w))
		for i := range w {
			out[i] = of(w[i])
		}
		return out
	}
	vertical := func(w grf.Wrench) float64 { return w.Force.Z }
	lateral := func(w grf.Wrench) float64 { return w.Force.Y }
	plane := func(p []torque.Planes, of func(torque.Planes) float64) []float64 {
		if p == nil {
			return nil
		}
		out := make([]float64, len(p))
		for i := range p {
			out[i] = of(p[i])
		}
		return out
	}
	frontal := func(p torque.Planes) float64 { return p.Frontal }
	horizontal := func(p torque.Planes) float64 { return p.Horizontal }
	feet := func(of func(grf.Wrench) float64, suffix string) []curve {
		var c []curve
		if x.Lead != nil {
			c = append(c,
				curve{"lead-" + suffix, "lead foot", "lead", component(x.Lead, of), nil},
				curve{"trail-" + suffix, "trail foot", "trail", component(x.Trail, of), nil})
		}
		return append(c, curve{"net-" + suffix, "both feet", "both", component(x.Net, of), nil})
	}
	charts := []*chart{
		{ID: "vertical", Title: "Vertical force", Unit: "N",
			Caption: "How hard each foot presses on the ground.",
			Lines:   feet(vertical, "fz"),
			Level:   &level{s.BodyWeight, "body weight " + both(s.BodyWeight, "N")}},
		{ID: "lateral", Title: "Lateral force", Unit: "N",
			Caption: "The ground's sideways push, along the target line. Up is toward the target.",
			Lines:   feet(lateral, "fy")},
		{ID: "torque", Title: "Torque about the centre of mass", Unit: "N·m",
			Caption: "Frontal: turning seen face-on; up is the way of the downswing. Vertical axis: turning seen from above; up is toward the target.",
			Lines: []curve{
				{"frontal-torque", "frontal", "frontal", plane(x.Moment, frontal), plane(x.MomentSD, frontal)},
				{"vertical-torque", "vertical axis", "axial", plane(x.Moment, horizontal), plane(x.MomentSD, horizontal)},
				{"plane-torque", "in the swing plane (" + number(degrees(s.Settings.Plane), 0) + "°)", "inplane", x.InPlane, x.InPlaneSD},
			}},
		{ID: "arm", Title: "Moment arm", Unit: "m",
			Caption: "How far the line of the force passes from the centre of mass; the sign is that of the torque it makes. Gaps: too little force in that plane for an arm.",
			Lines: []curve{
				{"frontal-arm", "frontal", "frontal", plane(x.Arm, frontal), plane(x.ArmSD, frontal)},
				{"vertical-arm", "horizontal", "axial", plane(x.Arm, horizontal), plane(x.ArmSD, horizontal)},
			}},
	}
	for _, c := range charts {
		if s.Recording.VerticalOnly() {
			c.Why = grf.NoHorizontal
		}
		c.Along, c.Scrub = g.clock, true
		c.draw(x.Time, g.shown, g.marks)
	}
	return charts
}
