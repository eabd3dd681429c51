package phase

import (
	"encoding/json"
	"fmt"
	"math"
)

// UnmarshalText takes a name that String returns; the error wraps [ErrInput].
func (s *Source) UnmarshalText(text []byte) error {
	for _, known := range []Source{Given, Detected, Estimated} {
		if string(text) == known.String() {
			*s = known
			return nil
		}
	}
	return fmt.Errorf("%w: source %q; given, detected and estimated are known", ErrInput, text)
}

// eventJSON is the JSON form of an [Event].
type eventJSON struct {
	Name   Name     `json:"name"`
	Time   *float64 `json:"time_s"`
	SD     *float64 `json:"sd_s"`
	Source Source   `json:"source"`
}

// MarshalJSON writes an object with name, time_s, sd_s and source. JSON has no NaN:
// what is not known is null.
func (e Event) MarshalJSON() ([]byte, error) {
	return json.Marshal(eventJSON{e.Name, orNull(e.Time), orNull(e.SD), e.Source})
}

// UnmarshalJSON reads what MarshalJSON writes. A number that is null or left out is
// NaN.
func (e *Event) UnmarshalJSON(data []byte) error {
	var j eventJSON
	if err := json.Unmarshal(data, &j); err != nil {
		return err
	}
	*e = Event{j.Name, orNaN(j.Time), orNaN(j.SD), j.Source}
	return nil
}

func orNull(v float64) *float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return &v
}

func orNaN(v *float64) float64 {
	if v == nil {
		return math.NaN()
	}
	return *v
}
