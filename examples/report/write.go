package main

import (
	"fmt"
	"io"

	"example.com/momentarm/examples/internal/safe"
)

// output is one file to write, or standard output.
type output struct {
	name string
	data []byte
}

// write puts the data into its file as a whole, so that an old one survives a
// failure.
func (o output) write(stdout io.Writer) error {
	if o.name != dash {
		return safe.WriteFile(o.name, o.data)
	}
	if _, err := stdout.Write(o.data); err != nil {
		return fmt.Errorf("standard output: can not be written: %w", err)
	}
	return nil
}
