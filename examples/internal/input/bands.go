package input

import (
	"bytes"
	"fmt"

	"example.com/momentarm/grf/capture"
	"example.com/momentarm/phase/screen"
)

// Bands reads the bands of a file. Errors begin with its name. A setup that was taken
// for bands is told as what it is.
func Bands(name string, data []byte) (*screen.Bands, error) {
	bands, err := screen.ReadBands(bytes.NewReader(data))
	if err == nil {
		return bands, nil
	}
	if _, wrong := capture.ReadSetup(bytes.NewReader(data)); wrong == nil {
		return nil, named(err, "%s: is the setup of a capture, not bands: name it with -setup; bands look like phase/screen/starter.json", name)
	}
	return nil, fmt.Errorf("%s: %w", name, err)
}
