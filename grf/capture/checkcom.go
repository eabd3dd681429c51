package capture

import (
	"slices"
	"strings"
)

// landmarkNames are the places on the body that a setup can name. Those of the
// segment tables are the names of package com, which this package does not know.
var landmarkNames = func() []string {
	names := strings.Fields(`vertex mid_gonion cervicale c7_t1 ear suprasternale xiphion omphalion
		t12_l1 l4_l5 mid_shoulder mid_hip mid_trochanter pelvis club_grip club_head`)
	for _, n := range strings.Fields(`shoulder elbow wrist stylion knuckle2 knuckle3 fingertip3
		hip trochanter knee ankle lateral_malleolus medial_malleolus sphyrion heel toe_tip metatarsal2`) {
		names = append(names, n+"_left", n+"_right")
	}
	return names
}()

// LandmarkNames returns the names that landmarks can have.
func LandmarkNames() []string { return slices.Clone(landmarkNames) }

// pelvisModel takes the mean of some markers for the centre of mass.
const pelvisModel = "pelvis"

// modelNames are the segment tables and the proxy.
var modelNames = []string{"de_leva_men", "de_leva_women", "dempster", pelvisModel}

// ModelNames returns the names that com.model can have.
func ModelNames() []string { return slices.Clone(modelNames) }

func (c *checker) points(p Points) {
	c.within("points.sd", float64(p.SD), 1e-6, 1, p.SD.String(), "m")
	for _, name := range sortedKeys(p.Landmarks) {
		path := clipPath(join("points.landmarks", name))
		if !slices.Contains(landmarkNames, name) {
			c.bad(path, "no such landmark; %s", near(name, landmarkNames))
		}
		labels := p.Landmarks[name]
		if len(labels) == 0 {
			c.bad(path, "no label; name the point, or the points whose mean it is")
		}
		for i, l := range labels {
			switch {
			case strings.TrimSpace(l) == "":
				c.bad(labelPath(path, labels, i), "an empty label")
			case slices.Contains(labels[:i], l):
				c.bad(labelPath(path, labels, i), "%s is there already", describe(l))
			}
		}
	}
	if p.SD != 0 && len(p.Landmarks) == 0 {
		c.bad("points.landmarks", "missing; points.sd is theirs")
	}
}

// labelPath is the place of a label: a single one may be no list.
func labelPath(path string, labels Labels, i int) string {
	if len(labels) == 1 {
		return path
	}
	return index(path, i)
}

func (c *checker) com(s *Setup) {
	m := s.COM
	c.choice("com.axes", m.Axes, "lab", "swing")
	c.choice("com.model", m.Model, modelNames...)
	c.within("com.height", float64(m.Height), 0.2, 2.5, m.Height.String(), "m")
	c.within("com.height_sd", float64(m.HeightSD), 1e-6, 1, m.HeightSD.String(), "m")
	c.within("com.sd", float64(m.SD), 1e-6, 1, m.SD.String(), "m")
	c.within("com.slow_sd", float64(m.SlowSD), 1e-6, 1, m.SlowSD.String(), "m")
	c.within("com.slow_time", float64(m.SlowTime), 1e-3, 1000, m.SlowTime.String(), "s")
	c.within("com.delay", float64(m.Delay), -100, 100, m.Delay.String(), "s")
	// The search is made for delays of up to a second.
	c.within("com.seek_delay", float64(m.SeekDelay), 1e-3, 1, m.SeekDelay.String(), "s")
	c.sheet("com", m.Sheet)
	table := m.Columns != nil || m.Axes != "" || m.Sheet.stated()
	switch {
	case m.File != "" && m.Model != "":
		c.bad("com.model", "com.file is given as well; give one source of the centre of mass")
	case m.File == "" && m.Model != "" && table:
		c.bad("com.file", "missing; columns, axes and the fields of a table do not go with com.model")
	case m.File == "" && table:
		c.bad("com.file", "missing; the other fields of com describe a table")
	case m.File != "" && m.Axes == "":
		c.bad("com.axes", `missing; say whether the file is in "lab" or "swing" axes`)
	}
	if m.File == "" && m.Model == "" {
		for _, f := range [4]struct {
			name   string
			stated bool
		}{{"sd", m.SD != 0}, {"slow_sd", m.SlowSD != 0}, {"delay", m.Delay != 0}, {"seek_delay", m.SeekDelay != 0}} {
			if f.stated {
				c.bad(join("com", f.name), "goes with com.file or com.model; of com.height write height_sd")
			}
		}
	}
	if m.SlowTime != 0 && m.SlowSD == 0 {
		c.bad("com.slow_sd", "missing; com.slow_time says how long that error lasts")
	}
	if m.HeightSD != 0 && m.Height == 0 {
		c.bad("com.height", "missing; com.height_sd is its standard deviation")
	}
	if m.Columns != nil && len(m.Columns) != 3 {
		c.bad("com.columns", "%d names; want those of x, y and z", len(m.Columns))
	}
	c.model(s)
}

// model checks that a model has what it needs.
func (c *checker) model(s *Setup) {
	m, have := s.COM, s.Points.Landmarks
	need := func(name, why string) {
		if len(have[name]) == 0 {
			c.bad(join("points.landmarks", name), "missing; %s", why)
		}
	}
	switch {
	case m.Model == pelvisModel:
		need("pelvis", `the model "pelvis" is the mean of its points`)
	case m.Model != "" && len(have) == 0:
		c.bad("points.landmarks", "missing; com.model puts the body together from them")
	}
	if m.Club == nil {
		return
	}
	if m.Model == "" || m.Model == pelvisModel {
		c.bad("com.club", "goes with a table of body segments in com.model")
	}
	if kg := float64(m.Club.Mass); !(kg >= 0.05 && kg <= 2) {
		c.bad("com.club.mass", "%v; want 0.05 to 2 kg", m.Club.Mass)
	}
	if !(m.Club.Balance > 0 && m.Club.Balance <= 1.2) {
		c.bad("com.club.balance", "%g; want 0 to 1, the part of the way from grip to head", m.Club.Balance)
	}
	need("club_grip", "com.club lies between it and club_head")
	need("club_head", "com.club lies between club_grip and it")
}
