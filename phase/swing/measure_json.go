package swing

import (
	"encoding/json"
	"math"
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
	return json.Marshal(measureJSON{m.Name, m.Label, orNull(m.Value), orNull(m.SD), m.Unit, orNull(m.Time), m.Note})
}

// UnmarshalJSON reads what MarshalJSON writes. A number that is null or left out is
// NaN.
func (m *Measure) UnmarshalJSON(data []byte) error {
	var j measureJSON
	if err := json.Unmarshal(data, &j); err != nil {
		return err
	}
	*m = Measure{j.Name, j.Label, numberOrNaN(j.Value), numberOrNaN(j.SD), j.Unit, numberOrNaN(j.Time), j.Note}
	return nil
}

func orNull(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

func numberOrNaN(v *float64) float64 {
	if v == nil {
		return math.NaN()
	}
	return *v
}
