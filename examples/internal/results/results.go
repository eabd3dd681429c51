// Package results is the JSON form of an analysed swing, as the programs in this
// folder write and read it.
package results

import (
	"encoding/json"
	"math"

	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
	"example.com/momentarm/phase/screen"
	"example.com/momentarm/phase/swing"
)

// Schema counts up when a reader of the JSON would have to change, and when results
// that are kept lack what they now have: 2 came with the methods.
const Schema = 2

// Results is the JSON form of an analysis. JSON has no NaN: what is undefined is
// null, with the reason in a note beside it.
type Results struct {
	Schema     int           `json:"schema"`
	Capture    string        `json:"capture"`
	Player     string        `json:"player,omitempty"`
	Session    string        `json:"session,omitempty"`
	Axes       string        `json:"axes"`
	Handed     string        `json:"handed"`
	BodyWeight Value         `json:"body_weight_N"`
	Mass       Value         `json:"mass_kg"`
	Rate       Value         `json:"rate_Hz"`
	Events     []Event       `json:"events"`
	Missing    []Missing     `json:"missing"`
	Phases     []Span        `json:"phases"`
	Measures   []Measure     `json:"measures"`
	Findings   []Finding     `json:"findings,omitzero"`
	Against    *Against      `json:"against,omitempty"`
	Settings   Settings      `json:"settings"`
	Quality    *Quality      `json:"quality,omitempty"`
	Steps      []string      `json:"steps"`
	Methods    []string      `json:"methods"` // paragraphs of a methods section
	Warnings   []grf.Warning `json:"warnings"`
}

// Axes says in which axes results are.
const Axes = "x toward the ball, y toward the target, z up; forces are the ground's push on the golfer; a left-handed golfer is mirrored"

// Event is the JSON form of [phase.Event].
type Event struct {
	Name   string `json:"name"`
	Time   Value  `json:"time_s"`
	Source string `json:"source"`
	SD     Value  `json:"sd_s"`
}

// Missing is the JSON form of [phase.Missing].
type Missing struct {
	Name   string `json:"name"`
	Reason string `json:"reason"`
}

// Span is the JSON form of [phase.Phase].
type Span struct {
	Name     string `json:"name"`
	From     string `json:"from"`
	To       string `json:"to"`
	Start    Value  `json:"start_s"`
	Duration Value  `json:"duration_s"`
}

// Measure is the JSON form of [swing.Measure].
type Measure struct {
	Name  string `json:"name"`
	Label string `json:"label"`
	Value Value  `json:"value"`
	Unit  string `json:"unit"`
	Time  Value  `json:"time_s"`
	SD    Value  `json:"sd"`
	Note  string `json:"note"`
}

// Finding is the JSON form of [screen.Finding].
type Finding struct {
	Measure  string `json:"measure"`
	Verdict  string `json:"verdict"`
	Value    Value  `json:"value"`
	SD       Value  `json:"sd"`
	Unit     string `json:"unit"`
	Distance Value  `json:"distance"`
	Time     Value  `json:"time_s"`
	Sentence string `json:"sentence"`
	Source   string `json:"source"`
}

// FindingsOf returns those of a report that lie outside of their bands or can not
// be decided.
func FindingsOf(r *screen.Report) []Finding {
	out := []Finding{}
	for _, fs := range [][]screen.Finding{r.Findings, r.Undecided} {
		for _, f := range fs {
			out = append(out, Finding{f.Band.Measure, f.Verdict.String(), Value(f.Value), Value(f.SD), f.Band.Unit,
				Value(f.Distance), Value(f.Measure.Time), f.Sentence, f.Band.Cite()})
		}
	}
	return out
}

// Against is another swing that this one is held against.
type Against struct {
	Capture string   `json:"capture"`
	Splits  []Split  `json:"torque_splits"`
	Changes []Change `json:"changes"`
	// Remarks are what may make the two unlike, Warnings those of the other swing.
	Remarks  []string      `json:"remarks,omitempty"`
	Warnings []grf.Warning `json:"warnings,omitempty"`
}

// Split is the JSON form of [swing.TorqueSplit], N·m.
type Split struct {
	Name           string `json:"name"`
	Before         Value  `json:"before_Nm"`
	Now            Value  `json:"now_Nm"`
	Change         Value  `json:"change_Nm"`
	ForceSize      Value  `json:"force_size_Nm"`
	ForceDirection Value  `json:"force_direction_Nm"`
	PressurePlace  Value  `json:"pressure_place_Nm"`
	MassPlace      Value  `json:"mass_place_Nm"`
	FreeMoment     Value  `json:"free_moment_Nm"`
	ChangeSD       Value  `json:"change_sd_Nm"`
	Note           string `json:"note"`
}

// SplitOf returns the JSON form of a split.
func SplitOf(t swing.TorqueSplit) Split {
	v := t.Value
	return Split{t.Name, Value(v.From), Value(v.To), Value(v.Change), Value(v.ForceSize), Value(v.ForceDirection),
		Value(v.PressurePlace), Value(v.MassPlace), Value(v.FreeMoment), Value(t.SD.Change), t.Note}
}

// Change is a measure in both swings.
type Change struct {
	Name       string `json:"name"`
	Before     Value  `json:"before"`
	Now        Value  `json:"now"`
	Difference Value  `json:"difference"`
	SD         Value  `json:"sd"`
	Unit       string `json:"unit"`
}

// Settings is the JSON form of [swing.Settings].
type Settings struct {
	Version     string `json:"version"`
	Cutoff      Value  `json:"cutoff_Hz"` // 0 when not filtered
	Order       int    `json:"order"`
	MinVertical Value  `json:"min_vertical_N"`
	MinPlane    Value  `json:"min_plane_N"`
	Plane       Value  `json:"swing_plane_deg"`
	Gravity     Value  `json:"gravity_m_s2"`
	COM         string `json:"centre_of_mass"`
}

// Of returns the JSON form of s, of nobody in particular.
func Of(s *input.Swing) Results {
	set := s.Settings
	r := Results{
		Schema: Schema, Capture: s.Capture, Player: s.Player, Session: s.Session,
		Axes: Axes, Handed: Handed(s.Recording.Handed),
		BodyWeight: Value(s.BodyWeight), Mass: Value(s.Mass), Rate: Value(s.Recording.Rate),
		Events: []Event{}, Missing: []Missing{}, Phases: []Span{}, Measures: []Measure{},
		Settings: Settings{
			Version: set.Version, Cutoff: Value(set.Cutoff), Order: set.Order,
			MinVertical: Value(set.MinVertical), MinPlane: Value(set.MinPlane),
			Plane: Value(set.Plane * 180 / math.Pi), Gravity: Value(set.Gravity), COM: set.COM,
		},
		Steps:    append([]string{}, s.Steps...),
		Methods:  append([]string{}, s.Methods...),
		Warnings: append([]grf.Warning{}, s.Warnings...),
	}
	r.Quality = qualityOf(s.Quality)
	for _, e := range s.Events.Found {
		r.Events = append(r.Events, Event{string(e.Name), Value(e.Time), e.Source.String(), Value(e.SD)})
	}
	for _, m := range s.Events.Missing {
		r.Missing = append(r.Missing, Missing{string(m.Name), m.Reason})
	}
	for _, p := range s.Phases {
		r.Phases = append(r.Phases, spanOf(p))
	}
	for _, m := range s.Measures {
		r.Measures = append(r.Measures, measureOf(m))
	}
	return r
}

func spanOf(p phase.Phase) Span {
	return Span{p.Name, string(p.From.Name), string(p.To.Name), Value(p.From.Time), Value(p.Duration())}
}

func measureOf(m swing.Measure) Measure {
	note := m.Note
	if math.IsNaN(m.Value) && note == "" {
		note = "not defined here"
	}
	return Measure{m.Name, m.Label, Value(m.Value), m.Unit, Value(m.Time), Value(m.SD), note}
}

// Handed says for which golfer the axes were made: "right" or "left".
func Handed(h grf.Handedness) string {
	if h == grf.LeftHanded {
		return "left"
	}
	return "right"
}

// Value is a number, null when it is not finite.
type Value float64

// MarshalJSON writes the shortest text that reads back as the same number.
func (v Value) MarshalJSON() ([]byte, error) {
	f := float64(v)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return []byte("null"), nil
	}
	return json.Marshal(f + 0) // no -0
}

// UnmarshalJSON reads a number, and null as NaN.
func (v *Value) UnmarshalJSON(text []byte) error {
	if string(text) == "null" {
		*v = Value(math.NaN())
		return nil
	}
	return json.Unmarshal(text, (*float64)(v))
}
