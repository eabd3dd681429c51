package page

import (
	"example.com/momentarm/grf"
	"example.com/momentarm/phase/swing"
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
	feet := func(of func(grf.Wrench) float64, suffix string) []curve {
		var c []curve
		if x.Lead != nil {
			c = append(c,
				curve{"lead-" + suffix, "lead foot", "lead", component(x.Lead, of), nil},
				curve{"trail-" + suffix, "trail foot", "trail", component(x.Trail, of), nil})
		}
		return append(c, curve{"net-" + suffix, "both feet", "both", component(x.Net, of), nil})
	}
	turning := perSample(s,
		func(i swing.Instant) float64 { return i.Moment.Frontal }, func(i swing.Instant) float64 { return i.MomentSD.Frontal },
		func(i swing.Instant) float64 { return i.Moment.Horizontal }, func(i swing.Instant) float64 { return i.MomentSD.Horizontal },
		func(i swing.Instant) float64 { return i.InPlane }, func(i swing.Instant) float64 { return i.InPlaneSD },
		func(i swing.Instant) float64 { return i.Arm.Frontal }, func(i swing.Instant) float64 { return i.ArmSD.Frontal },
		func(i swing.Instant) float64 { return i.Arm.Horizontal }, func(i swing.Instant) float64 { return i.ArmSD.Horizontal })
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
				{"frontal-torque", "frontal", "frontal", turning[0], turning[1]},
				{"vertical-torque", "vertical axis", "axial", turning[2], turning[3]},
				{"plane-torque", "in the swing plane (" + number(degrees(s.Settings.Plane), 0) + "°)", "inplane", turning[4], turning[5]},
			}},
		{ID: "arm", Title: "Moment arm", Unit: "m",
			Caption: "How far the line of the force passes from the centre of mass; the sign is that of the torque it makes. Gaps: too little force in that plane for an arm.",
			Lines: []curve{
				{"frontal-arm", "frontal", "frontal", turning[6], turning[7]},
				{"vertical-arm", "horizontal", "axial", turning[8], turning[9]},
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

// perSample returns for each function its value at every sample.
func perSample(s *Subject, of ...func(swing.Instant) float64) [][]float64 {
	out := make([][]float64, len(of))
	for k := range out {
		out[k] = make([]float64, len(s.Series.Time))
	}
	for i := range s.Series.Time {
		at := s.Sample(i)
		for k, f := range of {
			out[k][i] = f(at)
		}
	}
	return out
}
