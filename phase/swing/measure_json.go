package swing

import (
	"encoding/json"

	"example.com/momentarm/phase/internal/null"
)

// measureJSON is the JSON form of a [Measure].
type measureJSON struct {
	Name  string   `json:"name"`
	Label string   `json:"label"`
	Value *float64 `json:"value"`
	SD    *float64 `json:"sd"`
	Unit  string   `json:"unit"`
	Time  *float64 `json:"time_s"`
	Note  string   `json:"note"`
}

// MarshalJSON writes an object with name, label, value, sd, unit, time_s and note.
// JSON has no NaN: what is undefined or not known is null.
func (m Measure) MarshalJSON() ([]byte, error) {
	return json.Marshal(measureJSON{m.Name, m.Label, null.Of(m.Value), null.Of(m.SD), m.Unit, null.Of(m.Time), m.Note})
}

// UnmarshalJSON reads what MarshalJSON writes. A number that is null or left out is
// NaN.
func (m *Measure) UnmarshalJSON(data []byte) error {
	var j measureJSON
	if err := json.Unmarshal(data, &j); err != nil {
		return err
	}
	*m = Measure{j.Name, j.Label, null.NaN(j.Value), null.NaN(j.SD), j.Unit, null.NaN(j.Time), j.Note}
	return nil
}
