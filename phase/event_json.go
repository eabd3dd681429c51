package phase

import (
	"encoding/json"
	"fmt"

	"example.com/momentarm/phase/internal/null"
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
	return json.Marshal(eventJSON{e.Name, null.Of(e.Time), null.Of(e.SD), e.Source})
}

// UnmarshalJSON reads what MarshalJSON writes. A number that is null or left out is
// NaN.
func (e *Event) UnmarshalJSON(data []byte) error {
	var j eventJSON
	if err := json.Unmarshal(data, &j); err != nil {
		return err
	}
	*e = Event{j.Name, null.NaN(j.Time), null.NaN(j.SD), j.Source}
	return nil
}
