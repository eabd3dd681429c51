package main

import (
	"encoding/json"
	"math"

	"example.com/momentarm/grf"
	"example.com/momentarm/phase"
)

// schema counts up when a reader of the JSON would have to change.
const schema = 1

// results is the JSON form of an analysis. JSON has no NaN: what is undefined is
// null, with the reason in a note beside it.
type results struct {
	Schema     int           `json:"schema"`
	Capture    string        `json:"capture"`
	Player     string        `json:"player,omitempty"`
	Session    string        `json:"session,omitempty"`
	Axes       string        `json:"axes"`
	Handed     string        `json:"handed"`
	BodyWeight value         `json:"body_weight_N"`
	Mass       value         `json:"mass_kg"`
	Rate       value         `json:"rate_Hz"`
	Events     []event       `json:"events"`
	Missing    []missing     `json:"missing"`
	Phases     []span        `json:"phases"`
	Measures   []measure     `json:"measures"`
	Settings   settings      `json:"settings"`
	Steps      []string      `json:"steps"`
	Warnings   []grf.Warning `json:"warnings"`
}

const axesWords = "x toward the ball, y toward the target, z up; forces are the ground's push on the golfer; a left-handed golfer is mirrored"

type event struct {
	Name   string `json:"name"`
	Time   value  `json:"time_s"`
	Source string `json:"source"`
	SD     value  `json:"sd_s"`
}

type missing struct {
	Name   string `json:"name"`
	Reason string `json:"reason"`
}

type span struct {
	Name     string `json:"name"`
	From     string `json:"from"`
	To       string `json:"to"`
	Start    value  `json:"start_s"`
	Duration value  `json:"duration_s"`
}

type measure struct {
	Name  string `json:"name"`
	Label string `json:"label"`
	Value value  `json:"value"`
	Unit  string `json:"unit"`
	Time  value  `json:"time_s"`
	SD    value  `json:"sd"`
	Note  string `json:"note"`
}

type settings struct {
	Version     string `json:"version"`
	Cutoff      value  `json:"cutoff_Hz"` // 0 when not filtered
	Order       int    `json:"order"`
	MinVertical value  `json:"min_vertical_N"`
	MinPlane    value  `json:"min_plane_N"`
	Plane       value  `json:"swing_plane_deg"`
	Gravity     value  `json:"gravity_m_s2"`
	COM         string `json:"centre_of_mass"`
}

// value is a number, null when it is not finite.
type value float64

// MarshalJSON writes the shortest text that reads back as the same number.
func (v value) MarshalJSON() ([]byte, error) {
	f := float64(v)
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return []byte("null"), nil
	}
	return json.Marshal(f + 0) // no -0
}

// resultsJSON returns the results as JSON.
func resultsJSON(s *subject) ([]byte, error) {
	set := s.Settings
	r := results{
		Schema: schema, Capture: s.Capture, Player: s.Player, Session: s.Session,
		Axes: axesWords, Handed: s.handed(),
		BodyWeight: value(s.BodyWeight), Mass: value(s.Mass), Rate: value(s.Recording.Rate),
		Events: []event{}, Missing: []missing{}, Phases: []span{}, Measures: []measure{},
		Settings: settings{
			Version: set.Version, Cutoff: value(set.Cutoff), Order: set.Order,
			MinVertical: value(set.MinVertical), MinPlane: value(set.MinPlane),
			Plane: value(degrees(set.Plane)), Gravity: value(set.Gravity), COM: set.COM,
		},
		Steps:    append([]string{}, s.Steps...),
		Warnings: append([]grf.Warning{}, s.Warnings...),
	}
	for _, e := range s.Events.Found {
		r.Events = append(r.Events, event{string(e.Name), value(e.Time), e.Source.String(), value(e.SD)})
	}
	for _, m := range s.Events.Missing {
		r.Missing = append(r.Missing, missing{string(m.Name), m.Reason})
	}
	for _, p := range s.Phases {
		r.Phases = append(r.Phases, spanOf(p))
	}
	for _, m := range s.Measures {
		note := m.Note
		if math.IsNaN(m.Value) && note == "" {
			note = "not defined here"
		}
		r.Measures = append(r.Measures, measure{m.Name, m.Label, value(m.Value), m.Unit, value(m.Time), value(m.SD), note})
	}
	data, err := json.MarshalIndent(r, "", "  ")
	return append(data, '\n'), err
}

func spanOf(p phase.Phase) span {
	return span{p.Name, string(p.From.Name), string(p.To.Name), value(p.From.Time), value(p.Duration())}
}

func degrees(radians float64) float64 { return radians * 180 / math.Pi }
