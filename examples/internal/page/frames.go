package page

import (
	"encoding/json"
	"math"
	"sort"
	"strconv"

	"example.com/momentarm/phase/swing"
)

// frames are the instants that the slider can stop at: an even grid and every
// event. The script only puts their values and paths into the page, so all
// arithmetic is here.
type frames struct {
	Forms  map[string]form `json:"forms"`
	Keys   []key           `json:"keys"`
	Frames []frame         `json:"frames"`
	Open   int             `json:"open"` // the frame that the page opens with
	Minus  string          `json:"minus"`
	Absent string          `json:"absent"`
	Unfold string          `json:"unfold"`
	Fold   string          `json:"fold"`
}

type key struct {
	Name string `json:"name"`
	Unit string `json:"unit"`
	SD   bool   `json:"sd"`
}

type frame struct {
	Time   float64  `json:"t"`
	Said   string   `json:"said"` // the instant in words
	Event  bool     `json:"event"`
	Values []jsonf  `json:"v"`
	SDs    []string `json:"e"` // of the quantities that show one, in their order
	Parts  []string `json:"d"`
	Spots  []string `json:"m"`
	Shares []string `json:"s"`
}

// jsonf is a number to six digits, null when undefined.
type jsonf float64

// MarshalJSON writes null for what JSON has no number for.
func (v jsonf) MarshalJSON() ([]byte, error) {
	f := float64(v)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return []byte("null"), nil
	}
	return strconv.AppendFloat(nil, f+0, 'g', 6, 64), nil
}

// unfoldAll is the name of the button that unfolds all tables.
const unfoldAll = "Unfold all tables"

// frameStep is the time between the frames, s; longer for a long recording.
const (
	frameStep = 0.005
	maxFrames = 500
)

// quantity is a value that the page shows for an instant.
type quantity struct {
	key  string
	unit string
	of   func(swing.Instant) float64
	sd   func(swing.Instant) float64 // nil when none is shown
}

// spread writes the standard deviation at an instant, "" when none is shown, when
// it is unknown, and where the value is undefined.
func (q quantity) spread(i swing.Instant) string {
	if q.sd == nil || math.IsNaN(q.of(i)) {
		return ""
	}
	return spread(q.sd(i), q.unit)
}

var quantities = []quantity{
	{"lead-fz", "N", func(i swing.Instant) float64 { return i.Lead.Force.Z }, nil},
	{"trail-fz", "N", func(i swing.Instant) float64 { return i.Trail.Force.Z }, nil},
	{"net-fz", "N", func(i swing.Instant) float64 { return i.Net.Force.Z }, nil},
	{"lead-fy", "N", func(i swing.Instant) float64 { return i.Lead.Force.Y }, nil},
	{"trail-fy", "N", func(i swing.Instant) float64 { return i.Trail.Force.Y }, nil},
	{"net-fy", "N", func(i swing.Instant) float64 { return i.Net.Force.Y }, nil},
	{"lead-fx", "N", func(i swing.Instant) float64 { return i.Lead.Force.X }, nil},
	{"trail-fx", "N", func(i swing.Instant) float64 { return i.Trail.Force.X }, nil},
	{"net-fx", "N", func(i swing.Instant) float64 { return i.Net.Force.X }, nil},
	{"lead-share", "%", func(i swing.Instant) float64 { return 100 * i.LeadShare }, shareSD},
	{"trail-share", "%", func(i swing.Instant) float64 { return 100 * (1 - i.LeadShare) }, shareSD},
	{"frontal-force", "N", func(i swing.Instant) float64 { return math.Hypot(i.Net.Force.Y, i.Net.Force.Z) }, nil},
	{"frontal-arm", "m", func(i swing.Instant) float64 { return i.Arm.Frontal }, func(i swing.Instant) float64 { return i.ArmSD.Frontal }},
	{"frontal-torque", "N·m", func(i swing.Instant) float64 { return i.Moment.Frontal }, func(i swing.Instant) float64 { return i.MomentSD.Frontal }},
	{"vertical-arm", "m", func(i swing.Instant) float64 { return i.Arm.Horizontal }, func(i swing.Instant) float64 { return i.ArmSD.Horizontal }},
	{"vertical-torque", "N·m", func(i swing.Instant) float64 { return i.Moment.Horizontal }, func(i swing.Instant) float64 { return i.MomentSD.Horizontal }},
	{"plane-torque", "N·m", func(i swing.Instant) float64 { return i.InPlane }, func(i swing.Instant) float64 { return i.InPlaneSD }},
	{"com-z", "m", func(i swing.Instant) float64 { return i.COM.Z }, func(i swing.Instant) float64 { return i.COMSD.Z }},
}

func shareSD(i swing.Instant) float64 { return 100 * i.LeadShareSD }

// newFrames works out every frame.
func newFrames(g *stage, p *instant) frames {
	f := frames{Forms: forms, Minus: minus, Absent: notAvailable, Unfold: unfoldAll, Fold: "Fold all tables"}
	for _, q := range quantities {
		f.Keys = append(f.Keys, key{q.key, q.unit, q.sd != nil})
	}
	step := math.Max(frameStep, (g.shown.To-g.shown.From)/maxFrames)
	events := map[float64]string{}
	var times []float64
	for t := g.shown.From; t <= g.shown.To+1e-9; t += step {
		times = append(times, t)
	}
	for _, m := range g.marks {
		if !g.shown.holds(m.Time) {
			continue
		}
		if events[m.Time] == "" {
			times = append(times, m.Time)
		} else {
			events[m.Time] += ", "
		}
		events[m.Time] += strconv.Itoa(m.N) + " " + eventWords(m.Name)
	}
	if events[g.best] == "" {
		times = append(times, g.best)
	}
	sort.Float64s(times)
	for _, t := range times {
		i := g.s.At(t)
		fr := frame{Time: t, Said: g.said(t), Event: events[t] != ""}
		if fr.Event {
			fr.Said += ": " + events[t]
		}
		for _, q := range quantities {
			fr.Values = append(fr.Values, jsonf(q.of(i)))
			if q.sd != nil {
				fr.SDs = append(fr.SDs, q.spread(i))
			}
		}
		for _, q := range p.parts(i) {
			fr.Parts = append(fr.Parts, q.value)
		}
		for _, q := range p.spots(i) {
			fr.Spots = append(fr.Spots, spot(q))
		}
		fr.Shares = []string{shade(i.LeadShare), shade(1 - i.LeadShare)}
		if t == g.best {
			f.Open = len(f.Frames)
		}
		f.Frames = append(f.Frames, fr)
	}
	return f
}

// said tells an instant in words.
func (g *stage) said(t float64) string {
	text := si(t, "s")
	if rel := g.s.whenAt(t); rel != "" && g.s.hasImpact() {
		text += ", " + rel
	}
	return text
}

func (f frames) json() (string, error) {
	data, err := json.Marshal(f)
	return string(data), err
}
