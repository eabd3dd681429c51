package page

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"math"
	"strings"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/swing"
	"example.com/momentarm/torque"
)

var (
	//go:embed page.html
	pageText string
	//go:embed page.css
	styleText string
	//go:embed page.js
	scriptText string
)

var pageTemplate = template.Must(template.New("page").Parse(pageText))

// page is what the template shows.
type page struct {
	Title, Subtitle string
	Policy          string
	Style           template.CSS
	Script, Data    template.JS

	Facts    []fact
	Words    []string
	Equation []instantCell

	Instant     template.HTML
	InstantSaid string
	Rows        []instantRow
	Split       bool
	Last, Open  int

	Findings, Undecided []findingRow
	FindingCautions     []string
	Against             *Comparison

	Keys         []eventRow
	Outside      string
	Missing      []missingRow
	Phases       []phaseRow
	PhasesWide   template.HTML
	PhasesNarrow template.HTML
	Charts       []*chart
	Fan          template.HTML
	FanStages    []fanRow
	PlanWide     template.HTML
	PlanNarrow   template.HTML
	FootNote     string
	PlanEvents   string
	Main         []measureRow
	Groups       []group
	AtEvents     bool
	Warnings     []grf.Warning
	Steps        []string
	Settings     []fact
	Handed       string
	LeftHanded   bool
	Plane        string
	NewtonsPerCm string
	FlatScale    int
	Demo         bool
	HasImpact    bool
	ImpactNote   string
	SomeSD       bool
	COMSD        bool
}

type fact struct{ Name, Text string }

type eventRow struct {
	N                            int
	Name, Time, When, Source, SD string
	Against                      string // time against impact, or on the clock
	T                            string
	Shown                        bool
	At                           atEvent
}

type missingRow struct{ Name, Reason string }

type phaseRow struct{ Name, From, To, Duration string }

type fanRow struct{ Class, Name string }

// instantRow is a line of the table of an instant's values.
type instantRow struct {
	Name  string
	Cells []instantCell
}

type instantCell struct {
	Key        string
	SI, SD, US string
}

// HTML returns the whole report as one file.
func (s *Subject) HTML() ([]byte, error) {
	g := newStage(s)
	pic := newInstant(g)
	fr := newFrames(g, pic)
	data, err := fr.json()
	if err != nil {
		return nil, err
	}
	p := &page{
		Title: s.title(), Subtitle: s.subtitle(),
		Style: template.CSS(styleText), Script: template.JS(scriptText), Data: template.JS(data),
		Policy: policy(),
		Facts:  factsOf(s), Words: inWords(s),
		Instant: pic.picture(), InstantSaid: fr.Frames[fr.Open].Said,
		Split:  s.Recording.Split(),
		Handed: s.handed(), LeftHanded: s.handed() == "left",
		Plane:        number(degrees(s.Settings.Plane), 0) + "°",
		NewtonsPerCm: number(pic.faceOn.newtonsPerCentimetre(), 0),
		FlatScale:    flatScale,
		Warnings:     s.Warnings, Steps: s.Steps, Settings: settingsOf(s),
		Demo: s.Demo, HasImpact: s.hasImpact(), ImpactNote: s.doubtfulImpact(),
	}
	if s.Findings != nil {
		p.Findings, p.Undecided = findingRows(s.Findings.Findings), findingRows(s.Findings.Undecided)
		p.FindingCautions = s.Findings.Cautions
	}
	p.Against = s.Against
	at := s.At(g.best)
	p.Equation = []instantCell{instantValue(at, "frontal-force"), instantValue(at, "frontal-arm"), instantValue(at, "frontal-torque")}
	p.Rows = instantRows(at, p.Split)
	p.eventsOf(g)
	p.Charts = chartsOf(g)
	p.PhasesWide, p.PhasesNarrow = phaseStrip(g, wideSize), phaseStrip(g, narrowSize)
	p.Fan = fan(g)
	for _, f := range fanStages {
		if f.until == "" || !math.IsNaN(s.Events.Time(f.until)) {
			p.FanStages = append(p.FanStages, fanRow{f.class, f.name})
		}
	}
	p.PlanWide, p.PlanNarrow = pressures(g)
	p.FootNote = footNote(g)
	p.Main, p.Groups = s.mainRows(), s.groups()
	for _, m := range s.Measures {
		p.SomeSD = p.SomeSD || !math.IsNaN(m.SD)
	}
	p.COMSD = !math.IsNaN(at.COMSD.Y + at.COMSD.Z)
	p.Last, p.Open = len(fr.Frames)-1, fr.Open

	var b bytes.Buffer
	if err := pageTemplate.Execute(&b, p); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// policy forbids the page to load anything or to run any script but its own: what
// a capture or a setup says stays text, even if escaping failed.
func policy() string {
	sum := sha256.Sum256([]byte(scriptText))
	return "default-src 'none'; style-src 'unsafe-inline'; img-src data:; script-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

func (s *Subject) hasImpact() bool {
	_, ok := s.Events.Get(phase.Impact)
	return ok
}

func (s *Subject) title() string {
	if s.Player != "" {
		return s.Player
	}
	return s.Capture
}

func (s *Subject) subtitle() string { return s.Session }

// eventWords is an event's name for people.
func eventWords(n phase.Name) string { return swing.Words(n) }

func factsOf(s *Subject) []fact {
	rec := s.Recording
	plates := "both feet on one plate"
	if rec.Split() {
		plates = "each foot measured apart"
	}
	f := []fact{
		{"Capture", s.Capture},
		{"Body weight", both(s.BodyWeight, "N")},
		{"Mass, all carried", both(s.Mass, "kg")},
		{"Swings", s.handed() + "-handed"},
		{"Measured", fmt.Sprintf("%s, %s, %s", plates, join(fmt.Sprintf("%g", rec.Rate), "Hz"), join(number(rec.End()-rec.Start, 1), "s"))},
	}
	if rec.Stature > 0 {
		f = append(f, fact{"Stature", both(rec.Stature, "m")})
	}
	return f
}

func settingsOf(s *Subject) []fact {
	set := s.Settings
	filter := "none"
	if set.Cutoff > 0 {
		filter = fmt.Sprintf("Butterworth, order %d run forward and backward, −3 dB of the whole at %g Hz", set.Order, set.Cutoff)
	}
	return []fact{
		{"Low-pass filter", filter},
		{"A foot is loaded from", both(set.MinVertical, "N") + " of vertical force"},
		{"A moment arm needs", both(set.MinPlane, "N") + " of force in its plane"},
		{"Swing plane", number(degrees(set.Plane), 0) + "° to the ground"},
		{"Gravity", number(set.Gravity, 5) + nbsp + "m/s²"},
		{"Centre of mass", set.COM},
		{"Algorithms", "version " + set.Version},
	}
}

func (p *page) eventsOf(g *stage) {
	s := g.s
	var outside []string
	for _, m := range g.marks {
		r := eventRow{
			N: m.N, Name: eventWords(m.Name), Time: number(m.Time, 3), Source: m.Source.String(),
			SD: milliSD(m.SD), T: exact(m.Time), Shown: g.shown.holds(m.Time), At: s.atEvent(m.Name),
			Against: si(m.Time, "s"),
		}
		p.AtEvents = p.AtEvents || r.At != (atEvent{})
		if s.hasImpact() {
			r.When = s.whenAt(m.Time)
			if m.Name != phase.Impact {
				r.Against = si(m.Time-s.Events.Time(phase.Impact), "s")
			}
		}
		if !r.Shown {
			outside = append(outside, fmt.Sprintf("%d %s", m.N, r.Name))
		}
		p.Keys = append(p.Keys, r)
	}
	p.Outside = strings.Join(outside, ", ")
	for _, m := range s.Events.Missing {
		p.Missing = append(p.Missing, missingRow{eventWords(m.Name), m.Reason})
	}
	for _, ph := range s.Phases {
		p.Phases = append(p.Phases, phaseRow{phaseWords(ph.Name), eventWords(ph.From.Name), eventWords(ph.To.Name), si(ph.Duration(), "s")})
	}
}

func phaseWords(name string) string {
	if numbered(name) {
		return strings.ReplaceAll(strings.ToUpper(name), "_", "–")
	}
	return strings.ReplaceAll(name, "_", "-")
}

func milliSD(sd float64) string {
	if t := measuredOf(1000*sd, 1000*sd, "ms").Spread; t != "" {
		return join(t, "ms")
	}
	return ""
}

// instantValue is the value of a quantity at an instant; empty for no quantity.
func instantValue(i swing.Instant, key string) instantCell {
	for _, q := range quantities {
		if q.key == key {
			v := q.of(i)
			return instantCell{Key: key, SI: si(v, q.unit), US: us(v, q.unit), SD: q.spread(i)}
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
		{ID: "vertical", Title: "Vertical force", Unit: "N", Up: "up",
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
				{"plane-torque", "in the swing plane (" + number(degrees(s.Settings.Plane), 0) + "°)", "inplane", x.InPlane, nil},
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
		c.draw(x.Time, g.shown, g.marks)
	}
	return charts
}

func footNote(g *stage) string {
	switch {
	case len(g.feet) == 0:
		return "Both feet stood on one plate, so only their common centre of pressure is known."
	case g.known():
		return ""
	default:
		return "The feet's outlines are not known: each broken box, " + both(boxLength, "m") + " by " + both(boxWidth, "m") + ", stands around the pressure at address and only gives the scale."
	}
}
