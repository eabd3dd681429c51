package main

import (
	"encoding/json"

	"example.com/momentarm/examples/internal/input"
	"example.com/momentarm/phase/screen"
)

// bands are what the measures are held against.
type bands struct {
	sets []*screen.Bands
	text []byte // tells one from another
}

// readBands reads a coach's bands, and without a name takes those that package
// screen holds a swing against.
func readBands(name string) (bands, error) {
	b := bands{sets: []*screen.Bands{screen.Starter(), screen.Published()}}
	if name != "" {
		data, err := input.ReadFile(name)
		if err != nil {
			return b, err
		}
		set, err := input.Bands(name, data)
		if err != nil {
			return b, err
		}
		b.sets = []*screen.Bands{set}
	}
	var err error
	b.text, err = json.Marshal(b.sets)
	return b, err
}
